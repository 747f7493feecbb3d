//! Text fields: which one is being typed in, and what typing does to it.

use tui_input::{Input, InputRequest};

use super::number_field;
use crate::screen::action::TextMove;
use crate::screen::form::{Content, Field, Form};
use crate::screen::keymap::Place;
use crate::screen::own_part::OwnPart;
use crate::screen::seek::Wanting;
use crate::screen::state::{Focus, Layer, List, State};

/// The longest text that a field takes, in characters: more than any path or note needs.
const LONGEST: usize = 4096;

/// The field that is being typed in.
fn open(state: &mut State) -> Option<&mut Input> {
    match state.place() {
        Place::Saying => match state.layers.last_mut() {
            Some(Layer::Saying(_, input, _)) => Some(input),
            _ => None,
        },
        Place::Range => match state.layers.last_mut() {
            Some(Layer::Range(_, input)) => Some(input),
            _ => None,
        },
        Place::Note | Place::Name => match state.layers.last_mut() {
            Some(Layer::Note(_, input) | Layer::Name(input, _)) => Some(input),
            _ => None,
        },
        Place::Naming => match state.layers.last_mut() {
            Some(Layer::Naming(naming)) => Some(naming.field()),
            _ => None,
        },
        Place::OwnPart => own_part(state)?.input(),
        Place::Target => wanting(state)?.field(),
        Place::BillFind => Some(&mut state.ledger.word),
        Place::WordFind => Some(&mut state.glossary.field),
        Place::FigureFind => Some(&mut state.figures.field),
        Place::Form => match &mut form(state)?.field()?.content {
            Content::Text(input) => Some(input),
            Content::Pick(..) => None,
        },
        Place::Find => state.find.as_mut(),
        Place::Number => state.number_field.as_mut().map(|entry| &mut entry.input),
        _ => None,
    }
}

/// The form that is open.
fn form(state: &mut State) -> Option<&mut Form> {
    match state.layers.last_mut() {
        Some(Layer::Form(form)) => Some(form),
        _ => None,
    }
}

/// The form of an own part that is open.
fn own_part(state: &mut State) -> Option<&mut OwnPart> {
    match state.layers.last_mut() {
        Some(Layer::OwnPart(form)) => Some(form),
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
    clear_fresh(state);
    if let Some(input) = open(state)
        && input.value().chars().count() < LONGEST
    {
        input.handle(InputRequest::InsertChar(c));
    }
    changed(state);
}

/// Types a pasted text; false where nothing is being typed.
pub(super) fn paste(state: &mut State, text: &str) -> bool {
    if open(state).is_none() {
        return false;
    }
    clear_fresh(state);
    let text = match state.place() {
        Place::Number => in_a_line(text.trim_start().lines().next().unwrap_or("")),
        _ => in_a_line(text),
    };
    for c in text.chars().take(LONGEST) {
        if let Some(input) = open(state)
            && input.value().chars().count() < LONGEST
        {
            input.handle(InputRequest::InsertChar(c));
        }
    }
    changed(state);
    true
}

/// A text as one line: what commands a terminal is left out, line ends and tabs become one
/// space.
fn in_a_line(text: &str) -> String {
    let mut line = String::new();
    let mut gap = false;
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            // A whole sequence (ECMA-48, 5.4): parameters up to the letter that ends it.
            '\u{1b}' if chars.next_if_eq(&'[').is_some() => {
                chars.by_ref().find(|c| ('@'..='~').contains(c));
            }
            '\n' | '\r' | '\t' => gap = !line.is_empty(),
            c if c.is_control() => {}
            c => {
                if gap && c != ' ' && !line.ends_with(' ') {
                    line.push(' ');
                }
                gap = false;
                line.push(c);
            }
        }
    }
    line
}

/// Moves or deletes.
pub(super) fn act(state: &mut State, by: TextMove) {
    if matches!(by, TextMove::Left | TextMove::Right) && change(state, by == TextMove::Right) {
        return;
    }
    // Whoever moves in a text means to change it, not to replace it.
    if let Some(field) = form(state).and_then(Form::field) {
        field.fresh = false;
    }
    if let Some(row) = own_part(state).and_then(OwnPart::row) {
        row.fresh = false;
    }
    if let Some(wanting) = wanting(state) {
        wanting.fresh = false;
    }
    if let (Place::Number, Some(entry)) = (state.place(), &mut state.number_field) {
        entry.fresh = false;
    }
    if let Some(Layer::Saying(_, _, fresh)) = state.layers.last_mut() {
        *fresh = false;
    }
    let request = match by {
        TextMove::Left => InputRequest::GoToPrevChar,
        TextMove::Right => InputRequest::GoToNextChar,
        TextMove::Start => InputRequest::GoToStart,
        TextMove::End => InputRequest::GoToEnd,
        TextMove::DeleteBefore => InputRequest::DeletePrevChar,
        TextMove::DeleteAfter => InputRequest::DeleteNextChar,
        TextMove::Clear => InputRequest::DeleteLine,
    };
    let before = open(state).map(|input| input.value().to_owned());
    if let Some(input) = open(state) {
        input.handle(request);
    }
    if before != open(state).map(|input| input.value().to_owned()) {
        changed(state);
    }
}

/// The first character typed into a fresh field replaces what stood there.
fn clear_fresh(state: &mut State) {
    if let Some(Layer::Saying(_, input, fresh)) = state.layers.last_mut()
        && std::mem::take(fresh)
    {
        input.reset();
    }
    if let Some(Field { content, fresh, .. }) = form(state).and_then(Form::field)
        && std::mem::take(fresh)
        && let Content::Text(input) = content
    {
        input.reset();
    }
    if let Some(form) = own_part(state)
        && let Some(row) = form.row()
        && std::mem::take(&mut row.fresh)
        && let Some(input) = form.input()
    {
        input.reset();
    }
    if let Some(wanting) = wanting(state)
        && wanting.field().is_some()
        && std::mem::take(&mut wanting.fresh)
    {
        wanting.text.reset();
    }
    if state.place() == Place::Number
        && let Some(entry) = &mut state.number_field
        && entry.fresh
    {
        entry.input.reset();
        entry.fresh = false;
    }
}

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
