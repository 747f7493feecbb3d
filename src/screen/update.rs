//! The only place where the state changes: [`update`] takes a message and gives back the task
//! that touches the world outside, where there is one. No terminal, no file, no clock in here.

use super::action::Action;
use super::differences::differences;
use super::help::HelpPage;
use super::key::Key;
use super::keymap::{self, Place};
use super::menu::MENU;
use super::state::{Layer, Notice, PaneRow, Purpose, State};
use crate::assessment::assess;
use crate::build::{Build, Edit};
use crate::store::build_file::check_money;

mod beside;
mod better;
mod browse;
mod field;
mod figures;
mod glossary;
mod interview;
mod layers;
mod ledger;
mod message;
mod mouse;
mod number_field;
mod own_part;
mod papers;
mod pictures;
mod refresh;
mod saving;
mod savings;
mod seek;
mod settings;
mod variants;
mod what_if;

pub(in crate::screen) use better::better;
pub(in crate::screen) use interview::welcome;
pub use layers::answers;
pub use message::{Message, Others, Outcome, Reaction, Task};
pub use own_part::Fresh;
pub(in crate::screen) use own_part::{can_change_own, can_copy, outcome as own_part_kept};
pub use refresh::{look_ahead, refresh};
pub(in crate::screen) use saving::{offer, offered_on};
pub(in crate::screen) use seek::can_take;
pub use settings::{ROWS as SETTINGS, Row};
pub(in crate::screen) use variants::can_go;

/// Changes the state by a message.
pub fn update(state: &mut State, message: Message) -> Reaction {
    let task = match message {
        Message::Mouse(mouse) => return mouse::hear(state, mouse),
        Message::Resize(size) => {
            state.size = size;
            None
        }
        // Nobody can see where it would go.
        Message::Paste(_) if state.layout().is_none() => return Reaction::default(),
        Message::Paste(text) => match field::paste(state, &text) {
            true => None,
            false => return Reaction::default(),
        },
        Message::Written(outcome) => saving::written(state, outcome),
        Message::Others(others) => {
            beside::learnt(state, others);
            None
        }
        Message::News => {
            seek::listen(state);
            interview::listen(state);
            None
        }
        Message::NotStarted(why) => {
            not_started(state, &why);
            None
        }
        // Nobody can see what a key would do.
        Message::Key(key) if state.layout().is_none() => match unseen(state, key) {
            None => return Reaction::default(),
            task => task,
        },
        Message::Key(key) => {
            let place = state.place();
            let action = state.keymap.action(place, key);
            what_if::hurry(state, action);
            let types = keymap::TEXT.contains(&place);
            if action.is_none() && !types {
                return unheard(state, place, key);
            }
            let cleared = state.notice.take().is_some();
            match (action, key) {
                (Some(action), _) => act(state, place, action),
                (None, Key::Char(c)) => {
                    field::insert(state, c);
                    None
                }
                _ if cleared => None,
                _ => return Reaction::default(),
            }
        }
    };
    refresh(state);
    Reaction { task, redraw: true }
}

/// Waits for no search any longer: the system had no room for it.
fn not_started(state: &mut State, why: &str) {
    state.seek.abandon();
    state.interview.abandon();
    let waits = |layer: &Layer| matches!(layer, Layer::Found(_) | Layer::Proposed(_));
    state.layers.retain(|layer| !waits(layer));
    state.notice = Some(Notice::Failed(format!("not searched: {why}")));
}

/// Says of a key that means nothing in a place that it does nothing there: once, and not over a
/// message, since such a key takes nothing away. What moves a cursor elsewhere says nothing.
fn unheard(state: &mut State, place: Place, key: Key) -> Reaction {
    if key.is_move() || !matches!(state.notice, None | Some(Notice::Idle(_))) {
        return Reaction::default();
    }
    let keys = match state.keymap.key_of(place, Action::Help) {
        Some(help) => format!("; {help} lists the keys"),
        None => String::new(),
    };
    let said = Some(Notice::Idle(format!("{key} does nothing here{keys}")));
    let redraw = state.notice != said;
    state.notice = said;
    Reaction { task: None, redraw }
}

/// On a screen too small to show anything only two keys are heard: the one that stops the
/// program for a while, and the one that ends it, unless a question would have to be asked.
fn unseen(state: &State, key: Key) -> Option<Task> {
    match state.keymap.action(Place::Choices, key)? {
        Action::Suspend => Some(Task::Suspend),
        Action::Quit if !state.is_unsaved() => Some(Task::Leave),
        _ => None,
    }
}

/// The places of the bill.
const BILL: &[Place] = &[
    Place::Bill,
    Place::BillFind,
    Place::Entry,
    Place::Pick,
    Place::Form,
];

/// The places that show figures.
const FIGURES: &[Place] = &[
    Place::Pane,
    Place::Figure,
    Place::Figures,
    Place::Derivation,
];

/// The places of the sheets.
const SHEETS: &[Place] = &[Place::Sheets, Place::Sheet, Place::Tasks, Place::Export];

/// The places of the variants.
const VARIANTS: &[Place] = &[Place::Variants, Place::Naming, Place::Compare];

/// The places of what if.
const WHAT_IF: &[Place] = &[
    Place::WhatIf,
    Place::Answer,
    Place::Weigh,
    Place::Sweep,
    Place::Range,
];

/// The places of the interview.
const INTERVIEW: &[Place] = &[
    Place::Interview,
    Place::Picking,
    Place::Saying,
    Place::Proposing,
    Place::Proposed,
];

/// The places of the words.
const WORDS: &[Place] = &[Place::Glossary, Place::WordFind, Place::Word];

/// The places of the search for the cheapest build.
const SEEK: &[Place] = &[
    Place::Seek,
    Place::Target,
    Place::Freed,
    Place::Searching,
    Place::Found,
];

fn act(state: &mut State, place: Place, action: Action) -> Option<Task> {
    // From the menu a letter does what it does on the main screen; help alone lies over it.
    if place == Place::Menu && is_listed(action) && action != Action::Help {
        state.layers.pop();
    }
    match action {
        Action::Quit => return saving::quit(state),
        Action::Save => return saving::save(state),
        Action::Suspend => return Some(Task::Suspend),
        Action::SaveAs => saving::ask_name(state, Purpose::Save { leave: false }),
        Action::Undo => history(state, true),
        Action::Redo => history(state, false),
        Action::Warnings => {
            let cursor = match state.pane_row() {
                Some(PaneRow::Finding(place)) => place,
                _ => 0,
            };
            state.layers.push(Layer::Warnings(cursor));
        }
        Action::Bill => ledger::open(state),
        Action::Variants => variants::open(state),
        Action::Pictures => pictures::open(state),
        Action::Sheets => state.layers.push(Layer::Sheets(0)),
        Action::WhatIf => {
            let first = super::what_if::first_of(state.step);
            state.layers.push(Layer::WhatIf(first));
        }
        Action::Seek if WHAT_IF.contains(&place) => seek::open_to_save(state),
        Action::Seek => seek::open(state),
        Action::Spend => savings::open(state),
        Action::Interview => return interview::open(state),
        Action::Safety => state.layers.push(Layer::Safety(0)),
        Action::Settings => state.layers.push(Layer::Settings(0)),
        Action::GoOn => return saving::go_on(state),
        Action::Menu => state.layers.push(Layer::Menu(0)),
        Action::Help => state.layers.push(Layer::Help(place, HelpPage::Here, 0)),
        Action::Text(by) => field::act(state, by),
        Action::GoTo if place == Place::Derivation => figures::go_to_input(state),
        Action::GoTo if WHAT_IF.contains(&place) => what_if::go_to(state),
        Action::GoTo => browse::go_to_finding(state),
        Action::Better => better::open(state),
        Action::Figures => figures::open_page(state),
        Action::Find if FIGURES.contains(&place) => figures::find(state),
        Action::Find if place == Place::Menu => browse::find_a_choice(state),
        Action::Words => glossary::open(state),
        Action::Explain => figures::explain(state),
        Action::OwnPart => own_part::open(state),
        Action::ChangeOwn => own_part::change(state),
        Action::Remove if state.layers.is_empty() => own_part::ask_to_remove(state),
        _ if place == Place::OwnPart => return own_part::act(state, action),
        _ if place == Place::Savings => savings::act(state, action),
        _ if BILL.contains(&place) => ledger::act(state, place, action),
        _ if VARIANTS.contains(&place) => variants::act(state, place, action),
        _ if WHAT_IF.contains(&place) => what_if::act(state, place, action),
        _ if INTERVIEW.contains(&place) => return interview::act(state, place, action),
        _ if SEEK.contains(&place) => return seek::act(state, place, action),
        _ if WORDS.contains(&place) => glossary::act(state, place, action),
        _ if place == Place::Settings => return settings::act(state, action),
        _ if place == Place::Picture => pictures::act(state, action),
        _ if SHEETS.contains(&place) => papers::act(state, place, action),
        _ if state.layers.is_empty() => browse::act(state, place, action),
        _ => return layers::act(state, action),
    }
    None
}

/// Whether the menu is a way to it.
fn is_listed(action: Action) -> bool {
    let named = MENU.iter().any(|(_, listed)| *listed == action);
    matches!(action, Action::Step(_)) || (named && action != Action::Back)
}

/// Puts a changed build in place. One that cannot be assessed, or whose file would not open again,
/// is refused with the reason.
fn put(state: &mut State, build: Build) -> bool {
    let assessed = check_money(&build, &state.catalogue).and_then(|()| {
        assess(&state.catalogue, &build, state.today).map_err(|error| error.to_string())
    });
    match assessed {
        Ok(assessment) => {
            state.history.put(build);
            state.now = std::rc::Rc::new(assessment);
            state.previews.forget();
            true
        }
        Err(error) => {
            state.notice = Some(Notice::Failed(format!("not taken: {error}")));
            false
        }
    }
}

/// How what was taken is taken back, and how many changes that is.
fn takes_back(state: &State, changes: usize) -> String {
    let key = state.undo_key();
    match changes {
        0 | 1 => format!("{key} takes it back"),
        many => format!("{key} takes all {many} changes back"),
    }
}

/// Says what was done, and how it is taken back.
fn say_done(state: &mut State, text: &str) {
    let back = takes_back(state, 1);
    state.notice = Some(Notice::Done(format!("{text}; {back}")));
}

/// Makes edits together, as one step of undo.
fn take(state: &mut State, edits: &[Edit]) -> bool {
    let mut build = state.build().clone();
    edits.iter().for_each(|edit| edit.apply(&mut build));
    put(state, build)
}

fn history(state: &mut State, back: bool) {
    let before = state.build().clone();
    let moved = if back {
        state.history.undo()
    } else {
        state.history.redo()
    };
    if !moved {
        let text = if back {
            "nothing to undo"
        } else {
            "nothing to redo"
        };
        state.notice = Some(Notice::Failed(text.to_owned()));
        return;
    }
    // Every build in the history was assessed when it was put there, with the same
    // catalogue and day, so it can be again.
    if let Ok(assessment) = assess(&state.catalogue, state.build(), state.today) {
        state.now = std::rc::Rc::new(assessment);
    }
    state.previews.forget();
    state.number_field = None;
    let verb = if back { "undone" } else { "redone" };
    // Either way it is the change as it was made that is named.
    let (from, to) = match back {
        true => (state.build(), &before),
        false => (&before, state.build()),
    };
    let names = differences(&state.catalogue, from, to);
    let count = match names.len() {
        0 | 1 => String::new(),
        many => format!(" ({many} changes)"),
    };
    let text = format!("{verb}: {}{count}", names.join(", "));
    state.notice = Some(Notice::Done(text));
}

#[cfg(test)]
mod tests;
