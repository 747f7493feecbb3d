//! The page of ways to spend less.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::Pen;
use super::split::{Split, row};
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
    let mut head = pen.paragraph(&text, width, pen.theme.muted);
    head.push(Line::default());
    let mut split = Split {
        head,
        at,
        ..Split::default()
    };
    for (place, way) in WAYS.iter().enumerate() {
        let here = place == at;
        split.rows.push(row(pen, way.title(), here));
        split.tell(pen.paragraph(way.why(), width, Style::new()), here);
    }
    ("Spend less".to_owned(), split.lines(pen, width, height))
}
