//! Sheets of a build, and their cells by row and column.

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Picked};
use gantrywright::catalogue::Catalogue;
use gantrywright::sheets::{Cell, Paper, Row, RowKind, Sheet, SheetKind, Table, sheet};

use crate::common;

pub(crate) fn with_build<T>(
    catalogue: &Catalogue,
    build: &Build,
    look: impl FnOnce(&Paper, &Assessment) -> T,
) -> T {
    let picked = Picked::new(catalogue, build).expect("known parts");
    let assessment = assess(catalogue, build, common::today()).expect("assessed");
    let paper = Paper {
        catalogue,
        build,
        picked: &picked,
        assessment: &assessment,
        today: common::today(),
    };
    look(&paper, &assessment)
}

pub(crate) fn made(kind: SheetKind, edits: &[(&str, &str)]) -> Sheet {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, edits);
    with_build(&catalogue, &build, |paper, _| sheet(kind, paper))
}

pub(crate) fn table<'a>(sheet: &'a Sheet, id: &str) -> &'a Table {
    let found = sheet.tables.iter().find(|table| table.id == id);
    found.unwrap_or_else(|| panic!("no table {id}"))
}

pub(crate) fn row<'a>(table: &'a Table, id: &str) -> &'a Row {
    let found = table.rows.iter().find(|row| row.id == id);
    found.unwrap_or_else(|| panic!("no row {id}"))
}

pub(crate) fn cell<'a>(table: &'a Table, row_id: &str, column: &str) -> &'a Cell {
    let place = table.columns.iter().position(|one| one.id == column);
    &row(table, row_id).cells[place.expect("a column")]
}

pub(crate) fn number(cell: &Cell) -> f64 {
    match cell.value() {
        Cell::Number(value, _) => *value,
        Cell::Count(value) => *value as f64,
        Cell::Exact(value) => value.to_string().parse().expect("a number"),
        other => panic!("{other:?} is no number"),
    }
}

pub(crate) fn text(cell: &Cell) -> &str {
    match cell.value() {
        Cell::Text(text) => text,
        other => panic!("{other:?} is no text"),
    }
}

pub(crate) fn entries(table: &Table) -> impl Iterator<Item = &Row> {
    table.rows.iter().filter(|row| row.kind == RowKind::Entry)
}
