//! A form: its fields, what the one under the cursor takes, and as what its text is read.

use ratatui::text::{Line, Span};

use super::entry::priced;
use super::ledger::quantity;
use super::paint::{Pen, under_cursor};
use crate::catalogue::Unit;
use crate::rules::Severity;
use crate::screen::form::{Content, Form, What, each};
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
    // What is sold by the metre is priced by it too.
    let metric = pen.metric();
    for (place, field) in form.fields.iter().enumerate() {
        let here = place == form.at;
        let arrow = if here { ">" } else { " " };
        let title = match (field.what, form.entry.line(&state.now)) {
            (What::Price, Some(line)) => priced(line.unit),
            (what, _) => what.title(),
        };
        let name = format!("{arrow} {} ", metric.left(title, COLUMN - 3));
        let name = Span::styled(name, pen.theme.title);
        let line = match &field.content {
            Content::Text(typed) => {
                let field = match here {
                    true => pen.field(typed, room),
                    false => Span::styled(pen.as_typed(typed.value(), room), pen.theme.field),
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
    text(&field.what.about(state.now.bill.currency), plain);
    if let Some(unit) = unit_told(state, form) {
        text(&unit, plain);
    }
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

/// Of how much the price is that is typed, or in what a quantity is; none for other fields.
fn unit_told(state: &State, form: &Form) -> Option<String> {
    let line = form.entry.line(&state.now)?;
    let needed = quantity(&state.speller, line.needed, line.unit);
    match form.fields.get(form.at)?.what {
        What::Price if line.unit == Unit::Metre => Some(format!(
            "It is sold by length: type the price of a metre; {needed} are needed. Of one piece, divide its price by its length in metres."
        )),
        What::Price if line.unit == Unit::Piece => None,
        What::Price => Some(format!("It is the price of {}.", each(line.unit))),
        What::Have | What::Arrived if line.unit != Unit::Piece => Some(format!(
            "Type it in {}; {needed} are needed.",
            line.unit.title()
        )),
        What::Have | What::Arrived => Some(format!("{needed} are needed.")),
        _ => None,
    }
}
