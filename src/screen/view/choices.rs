//! The choices of a step: name, what is chosen, and the worst warning about it.

use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use crate::build::choices::Choice;
use crate::screen::options::{named, named_short};
use crate::screen::state::{Focus, State};
use crate::screen::text;
use crate::screen::theme::mark;

/// Most columns of a choice's name.
const NAME: usize = 20;

/// The choices in view.
pub(super) fn choices(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    if state.choices.rows.is_empty() {
        return vec![Line::styled("  no choice has such a name", pen.theme.muted)];
    }
    let list = &state.choices;
    let widest = list
        .rows
        .iter()
        .map(|choice| text::width(choice.title))
        .max()
        .unwrap_or(0);
    let name = (widest + 2).min(NAME);
    let rows = list.rows.iter().enumerate().skip(list.top).take(height);
    rows.map(|(place, choice)| row(state, pen, width, name, choice, place == list.cursor))
        .collect()
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
    let room = width.saturating_sub(2 + name + 3);
    let now = (choice.get)(state.build());
    let full = named(choice, &now, &state.catalogue);
    let value = if text::width(&full) < room {
        full
    } else {
        named_short(choice, &now, &state.catalogue)
    };
    let (text, style) = match state.choice_marks.get(choice.id) {
        Some(worst) => (mark(*worst), pen.theme.severity(*worst)),
        None => ("", pen.theme.muted),
    };
    let line = Line::from(vec![
        Span::raw(format!("{arrow}{}", pen.left(choice.title, name))),
        Span::raw(pen.left(&value, room)),
        Span::styled(format!(" {text:<2}"), style),
    ]);
    match (here, state.focus) {
        (true, Focus::Choices) => under_cursor(line, pen.theme.selected),
        (true, _) => under_cursor(line, pen.theme.marked),
        _ => line,
    }
}
