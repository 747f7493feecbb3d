//! Text fields: what keys do in them, and what follows from what was typed.

use super::number_field;
use crate::screen::action::TextMove;
use crate::screen::form::Form;
use crate::screen::keymap::Place;
use crate::screen::seek::Wanting;
use crate::screen::state::{Focus, Layer, List, State};

/// The form that is open.
fn form(state: &mut State) -> Option<&mut Form> {
    match state.layers.last_mut() {
        Some(Layer::Form(form)) => Some(form),
        _ => None,
    }
}

/// The fields of a target that are open.
fn wanting(state: &mut State) -> Option<&mut Wanting> {
    match state.layers.last_mut() {
        Some(Layer::Target(wanting)) => Some(wanting),
        _ => None,
    }
}

/// Goes to the next answer of a field that has some; false where none is open.
fn change(state: &mut State, on: bool) -> bool {
    if wanting(state).is_some() {
        return super::seek::change(state, on);
    }
    if state.place() == Place::OwnPart {
        return super::own_part::pick(state, on);
    }
    form(state).is_some_and(|form| form.change(on))
}

/// Types a character.
pub(super) fn insert(state: &mut State, c: char) {
    if c == ' ' && change(state, true) {
        return;
    }
    if let Some(typed) = state.typed_mut() {
        typed.insert(c);
    }
    changed(state);
}

/// Types a pasted text; false where nothing is being typed.
pub(super) fn paste(state: &mut State, text: &str) -> bool {
    let text = match state.place() {
        Place::Number => text.trim_start().lines().next().unwrap_or(""),
        _ => text,
    };
    let Some(typed) = state.typed_mut() else {
        return false;
    };
    typed.paste(text);
    changed(state);
    true
}

/// Moves or deletes.
pub(super) fn act(state: &mut State, by: TextMove) {
    if matches!(by, TextMove::Left | TextMove::Right) && change(state, by == TextMove::Right) {
        return;
    }
    // The amount of a target is kept by such a key also where that is pressed in the field before
    // it, which takes no text.
    if let Some(wanting) = wanting(state) {
        wanting.text.keep();
    }
    if state.typed_mut().is_some_and(|typed| typed.edit(by)) {
        changed(state);
    }
}

/// Brings up to date what hangs on the text.
fn changed(state: &mut State) {
    match state.place() {
        Place::Number => number_field::read(state),
        Place::OwnPart => super::own_part::typed(state),
        // What fits best stands first: another text begins at the top again.
        Place::Find if state.focus == Focus::Choices => state.choices = List::default(),
        Place::Find => state.options.cursor = 0,
        Place::BillFind => state.ledger.to_top(),
        Place::WordFind => state.glossary.list(&state.catalogue.glossary),
        Place::FigureFind => state.figures.look(),
        _ => {}
    }
}
