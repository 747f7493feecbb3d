//! One self-contained page: no script, nothing from the network, readable on a phone, and
//! printing on A4 and Letter with the headings of tables on each page. Texts are escaped by the
//! template; the page forbids its own scripts besides.

use askama::Template;

use super::FormatError;
use crate::sheets::{Cell, Column, Narrow, RowKind, Shape, Sheet, Table};
use crate::store::visible;
use crate::words::Words as _;

/// What the page looks like: plain, high in contrast, and the same in grey print.
pub(in crate::sheets) const STYLE: &str = include_str!("html/style.css");

/// What a page may load: its own style and pictures within it.
pub(in crate::sheets) const POLICY: &str = "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; form-action 'none'";

/// A table as the templates write it.
pub(in crate::sheets) struct Grid {
    pub(in crate::sheets) title: String,
    pub(in crate::sheets) columns: Vec<(String, &'static str)>,
    pub(in crate::sheets) rows: Vec<(&'static str, Vec<(String, &'static str)>)>,
}

impl Grid {
    /// The texts of a table, with the class of each cell.
    pub(in crate::sheets) fn of(table: &Table) -> Self {
        let class = |place: usize| table.columns.get(place).map_or("text", class);
        let rows = table.rows.iter().map(|row| {
            let kind = match row.kind {
                RowKind::Entry => "entry",
                RowKind::Heading => "group",
                RowKind::Sum => "sum",
            };
            // A heading stands in its first cell alone, as wide as the table.
            let told = match row.kind {
                RowKind::Heading => 1,
                _ => row.cells.len(),
            };
            let cells = row.cells.iter().take(told).enumerate();
            let cells = cells.map(|(place, cell)| (shown(cell), class(place)));
            (kind, cells.collect())
        });
        Self {
            title: visible(&table.title).into_owned(),
            columns: table
                .columns
                .iter()
                .enumerate()
                .map(|(place, column)| (column.heading().into_owned(), class(place)))
                .collect(),
            rows: rows.collect(),
        }
    }
}

/// How the cells of a column are set; a column that narrow formats leave out is left out in
/// print too, where a page is no wider.
fn class(column: &Column) -> &'static str {
    let rare = column.narrow == Narrow::Hidden;
    match (column.shape, rare) {
        (Shape::Text, false) if column.narrow == Narrow::Below => "text aside",
        (Shape::Number | Shape::Money, false) => "number",
        (Shape::Number | Shape::Money, true) => "number rare",
        (Shape::ByHand, _) => "hand",
        (Shape::Tick, _) => "tick",
        (Shape::Text, false) => "text",
        (Shape::Text, true) => "text rare",
    }
}

fn shown(cell: &Cell) -> String {
    match cell.value() {
        Cell::Tick(true) => "☑".to_owned(),
        Cell::Tick(false) => "☐".to_owned(),
        Cell::ByHand => String::new(),
        value => visible(&value.shown()).into_owned(),
    }
}

/// A sheet as the templates write it.
pub(in crate::sheets) struct Part {
    pub(in crate::sheets) id: &'static str,
    pub(in crate::sheets) title: &'static str,
    pub(in crate::sheets) about: String,
    pub(in crate::sheets) grids: Vec<Grid>,
    pub(in crate::sheets) remarks: Vec<String>,
    pub(in crate::sheets) safety: Vec<(&'static str, &'static str)>,
}

impl Part {
    /// The texts of a sheet.
    pub(in crate::sheets) fn of(sheet: &Sheet) -> Self {
        let safety = sheet.safety.iter();
        Self {
            id: sheet.kind.id(),
            title: sheet.kind.title(),
            about: visible(&sheet.about).into_owned(),
            grids: sheet.tables.iter().map(Grid::of).collect(),
            remarks: (sheet.remarks.iter())
                .map(|remark| visible(remark).into_owned())
                .collect(),
            safety: safety.map(|one| (one.title, one.text)).collect(),
        }
    }
}

#[derive(Template)]
#[template(path = "page.html", config = "src/sheets/format/askama.toml")]
struct Page<'p> {
    title: String,
    date: String,
    style: &'p str,
    policy: &'p str,
    parts: Vec<Part>,
}

/// Writes sheets.
pub(super) fn html(sheets: &[Sheet]) -> Result<String, FormatError> {
    let machine = sheets
        .first()
        .map(|sheet| visible(&sheet.machine).into_owned());
    let date = sheets.first().map(|sheet| sheet.date.to_string());
    let page = Page {
        title: machine.unwrap_or_default(),
        date: date.unwrap_or_default(),
        style: STYLE,
        policy: POLICY,
        parts: sheets.iter().map(Part::of).collect(),
    };
    page.render()
        .map_err(|error| FormatError::Page(error.to_string()))
}
