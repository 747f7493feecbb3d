//! A choice over a range as a page of text.

use crate::build::{Kind, Value};
use crate::commands::color::Paint;
use crate::commands::layout::{compared_heads, compared_row, hanging, spread, table};
use crate::explore::sweep::{Sweep, Turn};
use crate::explore::told;
use crate::explore::trial::Bench;
use crate::money::show as amounts;
use crate::store::visible;

/// The most columns of a value.
const VALUE: usize = 25;

/// Columns in front of what begins or ends.
const LABEL: usize = 14;

pub(super) fn text(sweep: &Sweep, bench: &Bench, paint: Paint) -> String {
    let choice = sweep.choice;
    let mut page = format!("{}\n", paint.heading(choice.title));
    page.push_str(&hanging("", 0, choice.why));
    page.push('\n');
    let value = |place: usize| match &sweep.points[place].value {
        Value::Amount(Some(money)) => amounts::money(money.amount, money.currency),
        value => visible(&choice.show_short(value, bench.catalogue)).into_owned(),
    };
    let numbers = &paint.numbers();
    let mut rows = compared_heads(numbers, bench.before.bill.currency);
    for (place, point) in sweep.points.iter().enumerate() {
        let turns = sweep.turns.iter().filter(|turn| turn.point == place);
        let mark = match turns.count() {
            0 => " ",
            _ => "*",
        };
        let row = compared_row(format!("{mark} {}", value(place)), &point.reading, numbers);
        rows.extend(spread(row, 0, VALUE));
    }
    let sides = match sweep.choice.kind {
        Kind::Number(_) | Kind::Amount => ">>>>>>>>",
        _ => "<>>>>>>>",
    };
    page.push_str(&table(sides, &rows));
    if sweep.turns.is_empty() {
        page.push_str("\nNo warning begins or ends on the way.\n");
        return page;
    }
    page.push_str("\n* Warnings that begin or end there:\n");
    for place in 0..sweep.points.len() {
        let mut label = format!("  {}", value(place));
        for begins in [false, true] {
            let of_it = |turn: &&Turn| turn.point == place && turn.begins == begins;
            let turns = sweep.turns.iter().filter(of_it);
            let findings: Vec<_> = turns.map(|turn| turn.finding.clone()).collect();
            let verb = if begins { "begins" } else { "ends" };
            for words in told::warned(&findings) {
                page.push_str(&hanging(&label, LABEL, &format!("{verb}: {words}")));
                label.clear();
            }
        }
    }
    page
}
