//! Builds as rows of CSV: the columns that every such answer has, and how rows are written.

use ::csv::{QuoteStyle, Terminator, Writer, WriterBuilder};

use super::Failure;
use crate::build::Axis;
use crate::explore::reading::Reading;
use crate::rules::Severity;
use crate::units;
use crate::words::Words as _;

/// The columns that every row has: those of [`cells`].
pub(super) const COLUMNS: [&str; 16] = [
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

/// The last of them count the warnings, severity by severity.
const _: () = assert!(COLUMNS.len() == 12 + Severity::ALL.len());

/// The figures of a build, column by column.
pub(super) fn cells(reading: &Reading) -> Vec<String> {
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
pub(super) fn writer() -> Writer<Vec<u8>> {
    WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .quote_style(QuoteStyle::Necessary)
        .from_writer(Vec::new())
}

/// Writes a row; what does not show is made visible, and nothing is a formula.
///
/// # Errors
/// Where the row cannot be written.
pub(super) fn write(writer: &mut Writer<Vec<u8>>, row: &[String]) -> Result<(), Failure> {
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
pub(super) fn done(writer: Writer<Vec<u8>>) -> Result<Vec<u8>, Failure> {
    writer
        .into_inner()
        .map_err(|error| Failure::new(error.to_string()))
}
