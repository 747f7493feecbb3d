//! The main screen: choices, options, side pane.

use super::number_field;
use crate::build::Edit;
use crate::build::choices::{self, Choice};
use crate::catalogue::Step;
use crate::screen::action::Action;
use crate::screen::around::around;
use crate::screen::keymap::Place;
use crate::screen::state::{Focus, Layer, List, Notice, PaneRow, State};

/// Carries an action out on the main screen.
pub(super) fn act(state: &mut State, place: Place, action: Action) {
    match action {
        Action::Step(step) => go_to(state, step),
        Action::NextPlace => turn(state, true),
        Action::PreviousPlace => turn(state, false),
        Action::Find => find(state),
        Action::Back => back(state),
        Action::Enter => enter(state),
        _ if place == Place::Number => number_field::act(state, action),
        _ => walk(state, action),
    }
}

fn find(state: &mut State) {
    state.found_from = state.choice();
    state.find = Some("".into());
}

/// Looks for a choice, wherever keys went on the main screen.
pub(super) fn find_a_choice(state: &mut State) {
    focus_on(state, Focus::Choices);
    find(state);
}

/// Opens a step at its first choice.
fn go_to(state: &mut State, step: Step) {
    focus_on(state, Focus::Choices);
    state.step = step;
    state.choices = List::default();
    if let Some(first) = choices::of_step(step).next() {
        state.point_at(first);
    }
}

fn turn(state: &mut State, on: bool) {
    let order = [Focus::Choices, Focus::Options, Focus::Pane];
    let place = order
        .iter()
        .position(|focus| *focus == state.focus)
        .unwrap_or(0);
    focus_on(state, order[around(place, order.len(), on)]);
    if state.focus == Focus::Pane && state.pane_rows().is_empty() {
        state.focus = if on { Focus::Choices } else { Focus::Options };
        state.notice = Some(Notice::Done("no warnings to walk through".to_owned()));
    }
}

/// Has keys go to one of the three places.
pub(super) fn focus_on(state: &mut State, focus: Focus) {
    state.find = None;
    state.number_field = None;
    state.pane_cursor = 0;
    state.focus = focus;
}

/// Leaves the options; or the find field, back to where it was opened.
fn back(state: &mut State) {
    if state.find.take().is_none() {
        state.focus = Focus::Choices;
    } else if let (Focus::Choices, Some(choice)) = (state.focus, state.found_from.take()) {
        state.point_at(choice);
    }
    state.number_field = None;
}

/// Goes from a warning to the choice that it is about. The options stay closed, so that the
/// next Enter opens them at what the build has now, and takes nothing.
pub(super) fn go_to_finding(state: &mut State) {
    match state.choice_of_finding() {
        Some(choice) => go_to_choice(state, choice),
        None => state.notice = Some(Notice::Failed("no choice is about this".to_owned())),
    }
}

/// Puts the cursor on a choice, whatever lay over the main screen.
pub(super) fn go_to_choice(state: &mut State, choice: &'static Choice) {
    state.layers.clear();
    focus_on(state, Focus::Choices);
    state.point_at(choice);
}

fn enter(state: &mut State) {
    match state.focus {
        Focus::Choices if state.choice().is_none() => back(state),
        Focus::Choices => {
            state.find = None;
            state.focus = Focus::Options;
        }
        Focus::Options => take(state),
        Focus::Pane => match state.pane_row() {
            Some(PaneRow::Finding(place)) => {
                state.layers.push(Layer::Warnings(place));
                state.layers.push(Layer::Warning(place, 0));
            }
            Some(PaneRow::Cost) => super::ledger::open(state),
            // All that there is to say about it is how it came about.
            Some(PaneRow::Supply) => super::figures::explain(state),
            Some(row) => state.layers.push(Layer::Figure(row, 0)),
            None => {}
        },
    }
}

/// Takes the option under the cursor. A checklist stays open, so that more can be ticked.
fn take(state: &mut State) {
    let Some(choice) = state.choice() else { return };
    if state
        .number_field
        .as_ref()
        .is_some_and(|entry| entry.value.is_err())
    {
        // The reason stands in full beside the field.
        state.notice = Some(Notice::Failed("not taken: type another value".to_owned()));
        return;
    }
    let Some(row) = state.options.current().cloned() else {
        return;
    };
    if row.now {
        focus_on(state, Focus::Choices);
        return;
    }
    let edit = Edit {
        choice,
        value: row.value,
    };
    if super::take(state, &[edit]) && row.ticked.is_none() {
        state.notice = Some(Notice::Done(taken(choice, &row.full)));
        focus_on(state, Focus::Choices);
    }
}

fn taken(choice: &Choice, title: &str) -> String {
    format!("taken: {}, {title}", choice.title)
}

fn walk(state: &mut State, action: Action) {
    let layout = state.layout();
    let height = |of: fn(&crate::screen::layout::Layout) -> u16| layout.as_ref().map_or(1, of);
    match state.focus {
        Focus::Choices => {
            state.number_field = None;
            step_list(
                &mut state.choices,
                action,
                height(|layout| layout.choices.height),
            );
        }
        Focus::Options => {
            step_list(
                &mut state.options,
                action,
                height(|layout| layout.options.height),
            );
        }
        Focus::Pane => {
            let rows = state.pane_rows().len();
            state.pane_cursor = stepped(state.pane_cursor, rows, action, 5);
        }
    }
}

fn step_list<T>(list: &mut List<T>, action: Action, height: u16) {
    list.cursor = stepped(list.cursor, list.rows.len(), action, usize::from(height));
}

/// A cursor after a move over so many rows.
pub(super) fn stepped(cursor: usize, rows: usize, action: Action, page: usize) -> usize {
    let last = rows.saturating_sub(1);
    let moved = match action {
        Action::Up => cursor.saturating_sub(1),
        Action::Down => cursor + 1,
        Action::PageUp => cursor.saturating_sub(page.max(1)),
        Action::PageDown => cursor + page.max(1),
        Action::First => 0,
        Action::Last => last,
        _ => cursor,
    };
    moved.min(last)
}
