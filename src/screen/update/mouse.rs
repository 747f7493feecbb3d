//! The mouse: each gesture becomes what keys would have done there.

use ratatui::layout::Position;

use super::{Message, Reaction, Task, act, browse, refresh, update};
use crate::screen::action::Action;
use crate::screen::key::Key;
use crate::screen::keymap::{Place, TEXT};
use crate::screen::mouse::{Gesture, Mouse};
use crate::screen::state::{Focus, State};
use crate::screen::view::{Pointed, Rows, pointed, rows};

/// Steps after which a row is looked for no longer: longer than any list.
const FAR: usize = 2000;

/// Carries a gesture out; nothing where nothing stands there.
pub(super) fn hear(state: &mut State, mouse: Mouse) -> Reaction {
    let at = Position {
        x: mouse.column,
        y: mouse.row,
    };
    let task = match (pointed(state, at), mouse.gesture) {
        (Pointed::Key(key), Gesture::Click) => return update(state, Message::Key(key)),
        (Pointed::Step(step), Gesture::Click) if state.layers.is_empty() => {
            let place = state.place();
            act(state, place, Action::Step(step))
        }
        (Pointed::Row(of, row), Gesture::Click) => click(state, of, row),
        (Pointed::Row(of, _), Gesture::WheelUp) => wheel(state, of, Action::Up),
        (Pointed::Row(of, _), Gesture::WheelDown) => wheel(state, of, Action::Down),
        _ => return Reaction::default(),
    };
    refresh(state);
    Reaction { task, redraw: true }
}

/// Keys go to where the pointer is.
fn enter(state: &mut State, of: Rows) {
    let focus = match of {
        Rows::Choices => Focus::Choices,
        Rows::Options => Focus::Options,
        Rows::Pane => Focus::Pane,
        Rows::Layer => return,
    };
    if focus == state.focus {
        return;
    }
    browse::focus_on(state, focus);
    refresh(state);
}

/// Whether the keys of a place move its cursor so.
fn moves(state: &State, action: Action) -> bool {
    state.keymap.key_of(state.place(), action).is_some()
}

fn wheel(state: &mut State, of: Rows, action: Action) -> Option<Task> {
    state.notice = None;
    enter(state, of);
    match moves(state, action) {
        true => act(state, state.place(), action),
        false => None,
    }
}

/// Puts the cursor on a row; where it is there already, does what Enter does.
fn click(state: &mut State, of: Rows, row: usize) -> Option<Task> {
    state.notice = None;
    let was = state.focus;
    let (texts, here) = rows(state, of);
    let wanted = texts.get(row).filter(|text| !text.trim().is_empty());
    let wanted = wanted.cloned()?;
    enter(state, of);
    if here == Some(row) && was == state.focus {
        return open(state);
    }
    let (_, here) = rows(state, of);
    let here = here?;
    if here == row {
        return None;
    }
    let (on, back) = match here < row {
        true => (Action::Down, Action::Up),
        false => (Action::Up, Action::Down),
    };
    if moves(state, on) && moves(state, back) {
        walk(state, of, &wanted, (on, back));
    }
    None
}

/// Does what Enter does there. In a form that would be all of it, which nobody means who
/// clicks into a field.
fn open(state: &mut State) -> Option<Task> {
    let place = state.place();
    let typed = TEXT.contains(&place) && place != Place::Number;
    match state.keymap.action(place, Key::Enter) {
        Some(action) if !typed => act(state, place, action),
        _ => None,
    }
}

/// Goes from row to row, as with the arrows, until the cursor is on the one with this text;
/// goes back where there is no such row, as where a heading was clicked.
fn walk(state: &mut State, of: Rows, wanted: &str, (on, back): (Action, Action)) {
    let mut steps = 0;
    let mut before = under_cursor(state, of);
    while steps < FAR {
        step(state, on);
        steps += 1;
        let now = under_cursor(state, of);
        if now.as_ref().is_some_and(|(_, text)| text == wanted) {
            return;
        }
        if now == before {
            // This step went nowhere.
            steps -= 1;
            break;
        }
        if now.is_none() {
            break;
        }
        before = now;
    }
    for _ in 0..steps {
        step(state, back);
    }
}

fn step(state: &mut State, action: Action) {
    let place = state.place();
    act(state, place, action);
    refresh(state);
}

/// The row under the cursor, and what it says.
fn under_cursor(state: &State, of: Rows) -> Option<(usize, String)> {
    let (mut texts, here) = rows(state, of);
    let here = here?;
    (here < texts.len()).then(|| (here, texts.swap_remove(here)))
}
