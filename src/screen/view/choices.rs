//! The choices of a step: name, what is chosen, and the worst warning about it.

use ratatui::text::{Line, Span};

use super::options::shows_all;
use super::paint::{Pen, under_cursor};
use crate::build::Value;
use crate::build::choices::Choice;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::{Focus, State};
use crate::screen::text;
use crate::screen::theme::mark;

/// Most columns of a choice's name.
const NAME: usize = 19;

/// Above the choices that take the place of the model.
const MEASURED: &str = "What you measured, in place of the model";

/// The choices in view.
pub(super) fn choices(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    if state.choices.rows.is_empty() {
        let mut lines = vec![format!("  nothing found{}", shows_all(state))];
        let words = state.keymap.key_of(Place::Choices, Action::Words);
        let words = words.filter(|_| state.find.is_some());
        lines.extend(words.map(|key| format!("  then {key} says what words mean")));
        let line = |text| Line::styled(text, pen.theme.muted);
        return lines.into_iter().map(line).collect();
    }
    let list = &state.choices;
    let widest = list
        .rows
        .iter()
        .map(|choice| text::width(choice.title))
        .max()
        .unwrap_or(0);
    let name = (widest + 1).min(NAME);
    let measured = state.measured_from();
    let mut lines = Vec::new();
    for (place, choice) in list.rows.iter().enumerate().skip(list.top).take(height) {
        if measured == Some(place) {
            lines.push(pen.heading(MEASURED, width, pen.theme.muted));
        }
        lines.push(row(state, pen, width, name, choice, place == list.cursor));
    }
    lines.truncate(height);
    lines
}

/// Where the cursor is in a list that is longer than its room: `3 of 14 choices`.
pub(super) fn place(state: &State, pen: &Pen, height: usize) -> Line<'static> {
    let list = &state.choices;
    if list.rows.len() + usize::from(state.measured_from().is_some()) <= height {
        return Line::default();
    }
    let text = format!(" {} of {} choices ", list.cursor + 1, list.rows.len());
    Line::styled(text, pen.theme.muted)
}

fn row(
    state: &State,
    pen: &Pen,
    width: usize,
    name: usize,
    choice: &Choice,
    here: bool,
) -> Line<'static> {
    let arrow = if here { "> " } else { "  " };
    // The mark takes three columns; a blank one parts it from the line beside it.
    let room = width.saturating_sub(2 + name + 4);
    let now = (choice.get)(state.build());
    let full = choice.show(&now, &state.catalogue);
    let fits = |text: &String| text::width(&pen.spell(text)) <= room;
    let value = if fits(&full) {
        full
    } else {
        let short = choice.show_short(&now, &state.catalogue);
        match &now {
            // Of several entries not all have room: then how many there are says more than half
            // of their names.
            Value::Parts(ids) if !fits(&short) => format!("{} ticked", ids.len()),
            _ => short,
        }
    };
    let (text, style) = match state.about.mark(choice) {
        Some(worst) => (mark(worst), pen.theme.severity(worst)),
        None => ("", pen.theme.muted),
    };
    let line = Line::from(vec![
        Span::raw(format!("{arrow}{}", pen.left(choice.title, name))),
        Span::raw(pen.left(&value, room)),
        Span::raw(" "),
        Span::styled(text, style),
        Span::raw(" ".repeat(3 - text.len())),
    ]);
    match (here, state.focus) {
        (true, Focus::Choices) => under_cursor(line, pen.theme.selected),
        (true, _) => under_cursor(line, pen.theme.marked),
        _ => line,
    }
}
