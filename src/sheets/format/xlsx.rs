//! A workbook: a worksheet for each table, printed on A4 as wide as the page, and formulas where
//! a cell follows from others, so that a changed price changes the totals. Each formula holds
//! its value as well, for programs that do not compute.

use rust_decimal::prelude::ToPrimitive as _;
use rust_xlsxwriter::{
    DocProperties, ExcelDateTime, Format, FormatAlign, FormatBorder, Formula as Live, Workbook,
    Worksheet, XlsxError,
};

use super::FormatError;
use crate::sheets::{Cell, RowKind, Shape, Sheet, Table};
use crate::store::visible;
use crate::words::Words as _;

mod formula;
mod heights;

use formula::Places;

/// A4 as the file format numbers papers (ISO/IEC 29500-1, pageSetup).
const A4: u8 = 9;

/// The row of the column headings; title and explanation stand above it.
const HEADING: u32 = 3;

/// The width of what a remark is about, in characters.
const TITLE: usize = 24;

/// The width of a remark, in characters.
const REMARK: usize = 90;

/// One table with its worksheet's name.
struct Named<'s> {
    sheet: &'s Sheet,
    table: &'s Table,
    name: String,
}

/// Writes sheets.
pub(super) fn xlsx(sheets: &[Sheet]) -> Result<Vec<u8>, FormatError> {
    let bad = |error: XlsxError| FormatError::Workbook(error.to_string());
    let named = named(sheets);
    let mut workbook = Workbook::new();
    workbook.set_properties(&properties(sheets));
    for one in &named {
        let worksheet = workbook.add_worksheet();
        write(worksheet, one, &named).map_err(bad)?;
    }
    if named.is_empty() {
        workbook.add_worksheet();
    }
    remarks(&mut workbook, sheets).map_err(bad)?;
    workbook.save_to_buffer().map_err(bad)
}

/// Every table with a worksheet's name of its own.
fn named(sheets: &[Sheet]) -> Vec<Named<'_>> {
    let several = sheets.len() > 1;
    let each = sheets.iter().flat_map(|sheet| {
        let tables = sheet.tables.iter();
        tables.map(move |table| (sheet, table))
    });
    each.map(|(sheet, table)| Named {
        sheet,
        table,
        // At most 31 characters; ids are short and hold no mark that a name must not have.
        name: match several && table.id != sheet.kind.id() {
            true => format!("{} {}", sheet.kind.id(), table.id),
            false => table.id.to_owned(),
        }
        .chars()
        .take(31)
        .collect(),
    })
    .collect()
}

fn properties(sheets: &[Sheet]) -> DocProperties {
    let mut properties = DocProperties::new();
    if let Some(first) = sheets.first() {
        properties = properties.set_title(visible(&first.machine));
        let day = first.date;
        let (year, month, day) = (day.year(), day.month(), day.day());
        let day = ExcelDateTime::from_ymd(
            year.unsigned_abs(),
            month.unsigned_abs(),
            day.unsigned_abs(),
        );
        // The same build gives the same file, whatever the clock says.
        if let Ok(day) = day {
            properties = properties.set_creation_datetime(&day);
        }
    }
    properties
}

/// How cells look.
struct Looks {
    title: Format,
    about: Format,
    heading: Format,
    /// The heading of a column of numbers, which stand to the right.
    heading_right: Format,
    text: Format,
    group: Format,
    by_hand: Format,
}

impl Looks {
    fn new() -> Self {
        let wrapped = Format::new().set_text_wrap().set_align(FormatAlign::Top);
        let heading = wrapped
            .clone()
            .set_bold()
            .set_border_bottom(FormatBorder::Thin);
        Self {
            title: Format::new().set_bold().set_font_size(14),
            about: wrapped.clone(),
            heading: heading.clone(),
            heading_right: heading.set_align(FormatAlign::Right).set_indent(1),
            group: Format::new().set_bold(),
            by_hand: Format::new().set_border_bottom(FormatBorder::Thin),
            text: wrapped,
        }
    }

    /// Numbers with so many decimals, in bold where they are sums.
    fn number(&self, decimals: usize, row: RowKind) -> Format {
        let digits = match decimals {
            0 => "#,##0".to_owned(),
            _ => format!("#,##0.{}", "0".repeat(decimals)),
        };
        let look = Format::new()
            .set_num_format(digits)
            .set_align(FormatAlign::Top)
            // Off the words of the next column.
            .set_align(FormatAlign::Right)
            .set_indent(1);
        match row {
            RowKind::Sum => look.set_bold().set_border_top(FormatBorder::Thin),
            RowKind::Entry | RowKind::Heading => look,
        }
    }
}

fn write(sheet: &mut Worksheet, one: &Named, all: &[Named]) -> Result<(), XlsxError> {
    let looks = Looks::new();
    sheet.set_name(&one.name)?;
    sheet.set_paper_size(A4).set_print_fit_to_pages(1, 0);
    let columns = u16::try_from(one.table.columns.len()).unwrap_or(u16::MAX);
    if columns > 6 {
        sheet.set_landscape();
    }
    let title = format!(
        "{}: {}",
        visible(&one.sheet.machine),
        visible(&one.table.title)
    );
    sheet.write_string_with_format(0, 0, title, &looks.title)?;
    headings(sheet, one, &looks)?;
    sheet.set_freeze_panes(HEADING + 1, 1)?;
    sheet.set_repeat_rows(HEADING, HEADING)?;
    let places = Places {
        tables: all
            .iter()
            .map(|one| (one.table, one.name.as_str()))
            .collect(),
        first: HEADING + 1,
    };
    for (row, number) in one.table.rows.iter().zip(HEADING + 1..) {
        if let Some(height) = heights::row(one.table, row) {
            sheet.set_row_height(number, height)?;
        }
        for (cell, column) in row.cells.iter().zip(0u16..) {
            let at = (number, column);
            let shape = one
                .table
                .columns
                .get(usize::from(column))
                .map(|column| column.shape);
            match cell {
                Cell::Worked(value, formula) => {
                    let live = places.formula(formula, one.table, number);
                    let look = looks.number(decimals(value), row.kind);
                    match live {
                        Some(live) => {
                            let live = Live::new(live).set_result(value.shown());
                            sheet.write_formula_with_format(at.0, at.1, live, &look)?;
                        }
                        None => self::cell(sheet, at, value, row.kind, shape, &looks)?,
                    }
                }
                plain => self::cell(sheet, at, plain, row.kind, shape, &looks)?,
            }
        }
    }
    Ok(())
}

/// What the table is about, as wide as the table, and the headings of its columns.
fn headings(sheet: &mut Worksheet, one: &Named, looks: &Looks) -> Result<(), XlsxError> {
    let about = format!("{}. {}", one.sheet.date, visible(&one.sheet.about));
    match u16::try_from(one.table.columns.len()) {
        Ok(columns @ 2..) => {
            sheet.set_row_height(1, heights::across(one.table, &about))?;
            sheet.merge_range(1, 0, 1, columns - 1, &about, &looks.about)?;
        }
        _ => {
            sheet.write_string(1, 0, about)?;
        }
    }
    for (column, place) in one.table.columns.iter().zip(0u16..) {
        let look = match column.shape {
            Shape::Number | Shape::Money => &looks.heading_right,
            Shape::Text | Shape::Tick | Shape::ByHand => &looks.heading,
        };
        sheet.write_string_with_format(HEADING, place, column.title, look)?;
        sheet.set_column_width(place, heights::width(one.table, place.into()))?;
    }
    if let Some(height) = heights::headings(one.table) {
        sheet.set_row_height(HEADING, height)?;
    }
    Ok(())
}

fn cell(
    sheet: &mut Worksheet,
    (row, column): (u32, u16),
    cell: &Cell,
    kind: RowKind,
    shape: Option<Shape>,
    looks: &Looks,
) -> Result<(), XlsxError> {
    let look = looks.number(decimals(cell), kind);
    match cell.value() {
        Cell::Empty if shape == Some(Shape::ByHand) => {
            sheet.write_blank(row, column, &looks.by_hand)?;
        }
        Cell::Empty | Cell::Worked(..) => {}
        Cell::ByHand => {
            sheet.write_blank(row, column, &looks.by_hand)?;
        }
        // A text is written as a text, whatever it begins with.
        Cell::Text(text) => {
            let look = match kind {
                RowKind::Entry => &looks.text,
                RowKind::Heading | RowKind::Sum => &looks.group,
            };
            sheet.write_string_with_format(row, column, visible(text), look)?;
        }
        Cell::Unit(unit, _) => {
            sheet.write_string_with_format(row, column, unit.title(), &looks.text)?;
        }
        Cell::Number(number, _) => {
            sheet.write_number_with_format(row, column, *number, &look)?;
        }
        Cell::Count(count) => {
            sheet.write_number_with_format(row, column, *count as f64, &look)?;
        }
        Cell::Exact(number) | Cell::Rate(number) => {
            let number = number.to_f64().unwrap_or_default();
            sheet.write_number_with_format(row, column, number, &look)?;
        }
        Cell::Money(money) => {
            let amount = money.amount.to_f64().unwrap_or_default();
            sheet.write_number_with_format(row, column, amount, &look)?;
        }
        Cell::Tick(done) => {
            let mark = if *done { "x" } else { "" };
            sheet.write_string_with_format(row, column, mark, &looks.by_hand)?;
        }
    }
    Ok(())
}

/// The decimals that a number is shown with.
fn decimals(cell: &Cell) -> usize {
    match cell.value() {
        Cell::Number(_, decimals) => *decimals,
        Cell::Exact(number) => number.normalize().scale() as usize,
        Cell::Money(_) | Cell::Rate(_) => {
            let shown = cell.shown();
            shown.split_once('.').map_or(0, |(_, rest)| rest.len())
        }
        _ => 0,
    }
}

/// What to mind, on a worksheet of its own behind the others.
fn remarks(workbook: &mut Workbook, sheets: &[Sheet]) -> Result<(), XlsxError> {
    let said = |sheet: &Sheet| !sheet.remarks.is_empty() || !sheet.safety.is_empty();
    if !sheets.iter().any(said) {
        return Ok(());
    }
    let looks = Looks::new();
    let sheet = workbook.add_worksheet();
    sheet.set_name("to mind")?;
    sheet.set_paper_size(A4).set_print_fit_to_pages(1, 0);
    sheet.set_column_width(0, TITLE as f64)?;
    sheet.set_column_width(1, REMARK as f64)?;
    let mut row = 0;
    for one in sheets {
        for remark in &one.remarks {
            sheet.set_row_height(row, heights::of(remark, REMARK))?;
            sheet.write_string_with_format(row, 0, one.kind.title(), &looks.text)?;
            sheet.write_string_with_format(row, 1, visible(remark), &looks.text)?;
            row += 1;
        }
    }
    let mut told: Vec<&str> = Vec::new();
    for note in sheets.iter().flat_map(|one| &one.safety) {
        if told.contains(&note.id) {
            continue;
        }
        told.push(note.id);
        let title = format!("Safety: {}", note.title);
        sheet.set_row_height(
            row,
            heights::of(note.text, REMARK).max(heights::of(&title, TITLE)),
        )?;
        sheet.write_string_with_format(row, 0, title, &looks.text)?;
        sheet.write_string_with_format(row, 1, note.text, &looks.text)?;
        row += 1;
    }
    Ok(())
}
