//! A form: its fields, what the one under the cursor takes, and as what its text is read.

use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use crate::rules::Severity;
use crate::screen::form::{Content, Form};
use crate::screen::state::State;
use crate::words::Words as _;

/// Columns before the text of a field: arrow, name, gap.
pub(super) const COLUMN: usize = 17;

/// Title and lines.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    form: &Form,
) -> (String, Vec<Line<'static>>) {
    let room = width.saturating_sub(COLUMN + 1);
    let mut lines = Vec::new();
    for (place, field) in form.fields.iter().enumerate() {
        let here = place == form.at;
        let arrow = if here { ">" } else { " " };
        let name = format!("{arrow} {} ", pen.left(field.what.title(), COLUMN - 3));
        let name = Span::styled(name, pen.theme.title);
        let line = match &field.content {
            Content::Text(input) => {
                let field = match here {
                    true => pen.field(input, room),
                    false => Span::styled(pen.as_typed(input.value(), room), pen.theme.field),
                };
                Line::from(vec![name, field])
            }
            Content::Pick(..) => {
                let text = format!("< {} >", field.shown());
                let line = Line::from(vec![name, Span::raw(pen.left(&text, room))]);
                match here {
                    true => under_cursor(line, pen.theme.selected),
                    false => line,
                }
            }
        };
        lines.push(line);
    }
    lines.push(Line::default());
    let Some(field) = form.fields.get(form.at) else {
        return (String::new(), lines);
    };
    let mut text = |words: &str, style| {
        let mut wrapped = pen.wrap(words, width.saturating_sub(2));
        if wrapped.is_empty() {
            wrapped.push(String::new());
        }
        lines.extend(
            wrapped
                .into_iter()
                .map(|line| Line::styled(format!(" {line}"), style)),
        );
    };
    let plain = ratatui::style::Style::new();
    text(field.what.word().plain, plain);
    match form.reads(state.now.bill.currency) {
        Some(Ok(reading)) => text(&format!("Read as {reading}."), pen.theme.good),
        Some(Err(why)) => text(&why, pen.theme.severity(Severity::Fault)),
        None => {}
    }
    let about = form.asked.word();
    text(" ", plain);
    text(about.plain, pen.theme.muted);
    let title = format!("{}: {}", about.title, form.entry.title(&state.catalogue));
    (title, lines)
}
