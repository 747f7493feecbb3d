//! What each step costs: a bar for the likely sum, and how far it may go.

use ratatui::text::Line;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::bars;
use super::table;
use crate::money::{PriceRange, show};
use crate::screen::glyphs::Glyphs;
use crate::screen::state::State;
use crate::screen::view::paint::Pen;
use crate::sheets::pictures::cost::{rows, value};

/// The signs of a bar: likely, up to the high sum, where the low one ends.
fn signs(pen: &Pen) -> [&'static str; 3] {
    match pen.glyphs {
        Glyphs::Unicode => ["█", "░", "│"],
        Glyphs::Ascii => ["#", "-", "|"],
    }
}

/// The bars.
pub(super) fn picture(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let bill = &state.now.bill;
    let rows = rows(bill);
    let most = rows.iter().map(|(_, sum)| sum.high).max();
    let most = most.filter(|most| !most.is_zero()).unwrap_or(Decimal::ONE);
    let [likely, high, low] = signs(pen);
    let key = format!("{likely} likely   {high} up to the high sum   {low} the low sum");
    let mut lines = pen.paragraph(&key, width, pen.theme.muted);
    for (name, sum) in &rows {
        lines.push(bars::head(pen, width, name, &value(*sum)));
        lines.push(bars::line(&bar(pen, width, *sum, most)));
    }
    lines.push(Line::default());
    lines.push(bars::head(pen, width, "All of it", &value(bill.total)));
    lines
}

fn bar(pen: &Pen, width: usize, sum: PriceRange, most: Decimal) -> String {
    let columns = bars::columns(width);
    let end = |amount: Decimal| bars::cell((amount / most).to_f64().unwrap_or(0.0), columns);
    let [likely, high, low] = signs(pen);
    let (to_low, to_likely, to_high) = (end(sum.low), end(sum.likely), end(sum.high));
    let cells = (0..to_high.max(to_likely)).map(|at| match at {
        at if at + 1 == to_low && sum.low < sum.likely => low,
        at if at < to_likely => likely,
        _ => high,
    });
    cells.collect()
}

/// The same numbers as a table.
pub(super) fn table(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let bill = &state.now.bill;
    let mut sums = rows(bill);
    sums.push(("All of it", bill.total));
    let rows = sums.into_iter().map(|(name, sum)| {
        let amounts = [sum.low, sum.likely, sum.high];
        let cells = amounts.map(|amount| show::money(amount, sum.currency));
        std::iter::once(name.to_owned()).chain(cells).collect()
    });
    let rows: Vec<Vec<String>> = rows.collect();
    table::table(pen, width, &["Step", "low", "likely", "high"], &rows)
}
