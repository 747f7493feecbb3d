//! The pages of the sheets: which is looked at, what is ticked, what is written to a file.

use super::browse::stepped;
use super::{put, saving, say_done};
use crate::screen::action::Action;
use crate::screen::around::around;
use crate::screen::keymap::Place;
use crate::screen::papers::Source;
use crate::screen::state::{Layer, Purpose, State};
use crate::sheets::{Format, SheetKind};
use crate::words::Words as _;

/// Makes what the pages of the sheets show, while one is open.
pub(super) fn follow(state: &mut State) {
    let Some(layout) = state.layout() else { return };
    let width = usize::from(layout.whole().left.width);
    let source = Source {
        catalogue: &state.catalogue,
        build: state.history.now(),
        now: &state.now,
        today: state.today,
    };
    state
        .papers
        .follow(source, &state.layers, width, &state.speller);
    let most = state.papers.lines.len().saturating_sub(state.page_rows());
    let last = state.papers.tasks.len().saturating_sub(1);
    for layer in &mut state.layers {
        match layer {
            Layer::Sheet(_, top) => *top = (*top).min(most),
            Layer::Tasks(cursor) => *cursor = (*cursor).min(last),
            _ => {}
        }
    }
}

/// Carries an action out on the pages of the sheets.
pub(super) fn act(state: &mut State, place: Place, action: Action) {
    match (place, action) {
        (_, Action::Back) => {
            state.layers.pop();
        }
        (Place::Sheets, Action::Enter) => {
            let layer = match pointed(state) {
                Some(SheetKind::Checklist) => Layer::Tasks(0),
                Some(kind) => Layer::Sheet(kind, 0),
                None => return,
            };
            state.layers.push(layer);
        }
        (Place::Tasks, Action::Enter) => tick(state),
        (Place::Export, Action::Enter) => take_format(state),
        (Place::Sheet, Action::NextPlace) => turn(state, true),
        (Place::Sheet, Action::PreviousPlace) => turn(state, false),
        (_, Action::Export) => {
            if let Some(kind) = pointed(state) {
                state.layers.push(Layer::Export(kind, 0));
            }
        }
        _ => walk(state, action),
    }
}

/// The sheet that keys are about.
fn pointed(state: &State) -> Option<SheetKind> {
    match state.layers.last()? {
        Layer::Sheets(cursor) => SheetKind::ALL.get(*cursor).copied(),
        Layer::Sheet(kind, _) | Layer::Export(kind, _) => Some(*kind),
        Layer::Tasks(_) => Some(SheetKind::Checklist),
        _ => None,
    }
}

/// Turns to the next sheet, or to the one before; round at the end. The list below follows.
fn turn(state: &mut State, on: bool) {
    let Some(kind) = pointed(state) else { return };
    let place = around(kind.index(), SheetKind::ALL.len(), on);
    for layer in &mut state.layers {
        match layer {
            Layer::Sheets(cursor) => *cursor = place,
            Layer::Sheet(kind, top) => (*kind, *top) = (SheetKind::ALL[place], 0),
            _ => {}
        }
    }
}

/// Ticks the task under the cursor with today's day, or takes the tick back.
fn tick(state: &mut State) {
    let Some(Layer::Tasks(cursor)) = state.layers.last() else {
        return;
    };
    let cursor = *cursor;
    let Some(task) = state.papers.tasks.get(cursor) else {
        return;
    };
    let mut build = state.build().clone();
    let title = task.title;
    let text = match build.done.shift_remove(task.id.as_str()) {
        Some(_) => format!("no longer ticked: {title}"),
        None => {
            build.done.insert(task.id.as_str().to_owned(), state.today);
            format!("ticked: {title}")
        }
    };
    if put(state, build) {
        say_done(state, &text);
    }
}

fn take_format(state: &mut State) {
    let Some(Layer::Export(kind, cursor)) = state.layers.last() else {
        return;
    };
    if let Some(&format) = Format::ALL.get(*cursor) {
        saving::ask_name(state, Purpose::Export(*kind, format));
    }
}

fn walk(state: &mut State, action: Action) {
    let page = state.page_rows();
    let scroll = state.papers.lines.len().saturating_sub(page) + 1;
    let tasks = state.papers.tasks.len();
    match state.layers.last_mut() {
        Some(Layer::Sheets(cursor)) => {
            *cursor = stepped(*cursor, SheetKind::ALL.len(), action, page / 2);
        }
        Some(Layer::Sheet(_, top)) => *top = stepped(*top, scroll, action, page),
        Some(Layer::Tasks(cursor)) => *cursor = stepped(*cursor, tasks, action, page / 2),
        Some(Layer::Export(_, cursor)) => {
            *cursor = stepped(*cursor, Format::ALL.len(), action, page / 2);
        }
        _ => {}
    }
}
