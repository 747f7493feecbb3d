//! Weighings and sweeps as CSV: plain numbers, one row an option or a point.

use csv::{QuoteStyle, Terminator, Writer, WriterBuilder};

use crate::build::{Axis, Value};
use crate::catalogue::Catalogue;
use crate::commands::Failure;
use crate::explore::reading::{Measure, Reading};
use crate::explore::sweep::Sweep;
use crate::explore::weigh::Weighing;
use crate::rules::{Finding, Severity};
use crate::units;
use crate::words::Words as _;

/// The columns that every row has: those of [`cells`].
pub(in crate::commands) const COLUMNS: [&str; 16] = [
    "cost_low",
    "cost_likely",
    "cost_high",
    "currency",
    "rapid_x_m_per_min",
    "rapid_y_m_per_min",
    "rapid_z_m_per_min",
    "tip_worst_x_n_per_um",
    "tip_worst_y_n_per_um",
    "tip_worst_z_n_per_um",
    "removal_cm3_per_min",
    "mains_a",
    "dangers",
    "faults",
    "cautions",
    "hints",
];

/// The figures of a build, column by column.
pub(in crate::commands) fn cells(reading: &Reading) -> Vec<String> {
    let mut cells = vec![
        reading.cost.low.to_string(),
        reading.cost.likely.to_string(),
        reading.cost.high.to_string(),
        reading.cost.currency.code().to_owned(),
    ];
    let number = |value: f64| crate::assessment::json::n(value).to_string();
    cells.extend(Axis::EACH.map(|axis| number(units::m_per_min::from(reading.rapids[axis].0))));
    cells.extend(Axis::EACH.map(|axis| number(units::n_per_um::from(reading.tip[axis]))));
    let removal = reading.removal.map(units::cm3_per_min::from);
    cells.push(removal.map_or_else(String::new, number));
    cells.push(number(units::a::from(reading.current)));
    cells.extend(reading.warnings.iter().map(usize::to_string));
    cells
}

/// What rows are written to.
pub(in crate::commands) fn writer() -> Writer<Vec<u8>> {
    WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .quote_style(QuoteStyle::Necessary)
        .from_writer(Vec::new())
}

/// Writes a row; what does not show is made visible, and nothing is a formula.
///
/// # Errors
/// Where the row cannot be written.
pub(in crate::commands) fn write(
    writer: &mut Writer<Vec<u8>>,
    row: &[String],
) -> Result<(), Failure> {
    let safe = row
        .iter()
        .map(|cell| crate::store::visible_cell(cell).into_owned());
    writer
        .write_record(safe.collect::<Vec<_>>())
        .map_err(|error| Failure::new(error.to_string()))
}

/// All that was written.
///
/// # Errors
/// Where the last of it cannot be written.
pub(in crate::commands) fn done(writer: Writer<Vec<u8>>) -> Result<Vec<u8>, Failure> {
    writer
        .into_inner()
        .map_err(|error| Failure::new(error.to_string()))
}

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
    for row in super::as_json::order(weighing, by) {
        let (less, more) = row.neighbours(catalogue);
        for one in &row.outcomes {
            let is = |other: Option<&crate::explore::weigh::Outcome>| {
                other.is_some_and(|other| std::ptr::eq(other, one))
            };
            let place = match (is(less), is(more)) {
                (true, _) => "next-less",
                (_, true) => "next-more",
                _ => "",
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
    debug_assert_eq!(COLUMNS.len(), 12 + Severity::ALL.len());
    done(out)
}
