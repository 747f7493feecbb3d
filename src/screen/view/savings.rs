//! The page of ways to spend less.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::Pen;
use super::split::{Split, row, words};
use crate::money::show as amounts;
use crate::screen::savings::WAYS;
use crate::screen::state::State;

/// The page.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let bill = &state.now.bill;
    let text = format!(
        "Now everything costs {}. None of these changes anything until you take it, and undo takes it back.",
        amounts::money(bill.total.likely, bill.currency)
    );
    let mut head = words(pen, width, &text, pen.theme.muted);
    head.push(Line::default());
    let told = |at: usize| {
        let why = WAYS.get(at).map_or("", |way| way.why());
        words(pen, width, why, Style::new())
    };
    let lengths = (0..WAYS.len()).map(|at| told(at).len());
    let rows = WAYS.iter().enumerate();
    let split = Split {
        head,
        rows: rows
            .map(|(place, way)| row(pen, way.title(), place == at))
            .collect(),
        at,
        told: told(at),
        most: lengths.max().unwrap_or_default(),
        ..Split::default()
    };
    ("Spend less".to_owned(), split.lines(pen, width, height))
}
