//! Weighings and sweeps as CSV: plain numbers, one row an option or a point.

use crate::build::Value;
use crate::catalogue::Catalogue;
use crate::commands::Failure;
use crate::commands::csv::{COLUMNS, cells, done, write, writer};
use crate::explore::reading::Measure;
use crate::explore::sweep::Sweep;
use crate::explore::weigh::{Side, Weighing};
use crate::rules::Finding;
use crate::words::Words as _;

/// A value as files spell it; of an amount the number alone.
fn plain(value: &Value) -> String {
    match value {
        Value::Amount(Some(money)) => money.amount.to_string(),
        other => other.to_string(),
    }
}

/// What begins and ends at the points, by the names of the rules.
fn named<'a>(findings: impl Iterator<Item = &'a Finding>) -> String {
    let each = findings.map(|finding| match finding.axis {
        Some(axis) => format!("{} {}", finding.rule, axis.id()),
        None => finding.rule.to_string(),
    });
    each.collect::<Vec<_>>().join("; ")
}

/// A choice over a range.
pub(super) fn swept(sweep: &Sweep) -> Result<Vec<u8>, Failure> {
    let mut out = writer();
    let mut heading = vec![sweep.choice.id.to_owned()];
    heading.extend(COLUMNS.map(str::to_owned));
    heading.extend(["begins", "ends"].map(str::to_owned));
    write(&mut out, &heading)?;
    for (place, point) in sweep.points.iter().enumerate() {
        let mut row = vec![plain(&point.value)];
        row.extend(cells(&point.reading));
        for begins in [true, false] {
            let of_it = sweep.turns.iter();
            let of_it = of_it.filter(|turn| turn.point == place && turn.begins == begins);
            row.push(named(of_it.map(|turn| &turn.finding)));
        }
        write(&mut out, &row)?;
    }
    done(out)
}

/// Every option of every choice, those that matter most first.
pub(super) fn weighed(
    weighing: &Weighing,
    catalogue: &Catalogue,
    by: Measure,
) -> Result<Vec<u8>, Failure> {
    let mut out = writer();
    let mut heading: Vec<String> = ["choice", "option", "chosen_now", "place"]
        .map(str::to_owned)
        .to_vec();
    heading.extend(COLUMNS.map(str::to_owned));
    heading.extend(["brings", "lifts"].map(str::to_owned));
    write(&mut out, &heading)?;
    for row in super::order(weighing, by) {
        for one in &row.outcomes {
            let place = match row.side_of(one, catalogue) {
                Some(Side::Less) => "next-less",
                Some(Side::More) => "next-more",
                None => "",
            };
            let mut cells_of = vec![
                row.choice.id.to_owned(),
                plain(&one.value),
                plain(&row.now),
                place.to_owned(),
            ];
            cells_of.extend(cells(&one.reading));
            cells_of.push(named(one.added.iter()));
            cells_of.push(named(one.lifted.iter()));
            write(&mut out, &cells_of)?;
        }
    }
    done(out)
}
