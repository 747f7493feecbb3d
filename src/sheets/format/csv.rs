//! CSV as RFC 4180 has it: commas, quotes where needed, CR LF. A sheet of one table is plain
//! rows under a heading; several tables stand below each other, each under its own heading and
//! with its name in the first column, so that nothing is mistaken for something else.

use ::csv::{QuoteStyle, Terminator, WriterBuilder};

use super::FormatError;
use crate::sheets::{Cell, RowKind, Sheet};
use crate::store::visible_cell;
use crate::words::Words as _;

/// Writes sheets.
pub(super) fn csv(sheets: &[Sheet]) -> Result<Vec<u8>, FormatError> {
    let mut writer = WriterBuilder::new()
        .terminator(Terminator::CRLF)
        .quote_style(QuoteStyle::Necessary)
        .flexible(true)
        .from_writer(Vec::new());
    let bad = |error: String| FormatError::Table(error);
    let tables: usize = sheets.iter().map(|sheet| sheet.tables.len()).sum();
    for sheet in sheets {
        for table in &sheet.tables {
            let name = match sheets.len() {
                1 => table.id.to_owned(),
                _ => format!("{}/{}", sheet.kind.id(), table.id),
            };
            // A record has no heading above it: what stands there goes into the record.
            let grouped = table.rows.iter().any(|row| row.kind == RowKind::Heading);
            let sums = table.rows.iter().filter(|row| row.kind == RowKind::Sum);
            let sums = sums.count();
            let first = (tables > 1).then_some("table");
            let heading = first
                .into_iter()
                .chain(table.columns.iter().map(|column| column.id))
                .chain(grouped.then_some("group"));
            writer
                .write_record(heading)
                .map_err(|error| bad(error.to_string()))?;
            let mut group = String::new();
            for row in &table.rows {
                if row.kind == RowKind::Heading {
                    group = row.cells.first().map(shown).unwrap_or_default();
                    continue;
                }
                // A single sum is that of all groups.
                let group = match row.kind == RowKind::Sum && sums < 2 {
                    true => String::new(),
                    false => group.clone(),
                };
                let name = (tables > 1).then(|| name.clone());
                let cells = row.cells.iter().map(shown);
                let record = name.into_iter().chain(cells);
                let record = record.chain(grouped.then_some(group));
                writer
                    .write_record(record)
                    .map_err(|error| bad(error.to_string()))?;
            }
        }
    }
    writer.into_inner().map_err(|error| bad(error.to_string()))
}

fn shown(cell: &Cell) -> String {
    match cell.value() {
        Cell::Text(text) => visible_cell(text).into_owned(),
        Cell::Unit(unit, _) => unit.title().to_owned(),
        Cell::Tick(done) => if *done { "yes" } else { "no" }.to_owned(),
        Cell::ByHand => String::new(),
        number => number.shown(),
    }
}
