//! No format lets a text act, and each is read back by what reads such files.

use rust_decimal::Decimal;

use super::*;
use crate::catalogue::Unit;
use crate::money::{Currency, Money};
use crate::sheets::{Cell, Column, Formula, Row, Shape, SheetKind, Table};

/// Texts that act where they are not tamed.
const HOSTILE: [&str; 8] = [
    "=1+2",
    "+cmd",
    "-2+3",
    "@sum(a1)",
    "\tx",
    "<script>alert(1)</script>",
    "a|b \"c\", d",
    "\u{1b}[31mred\u{202e}",
];

fn euros(amount: &str) -> Cell {
    let amount = Decimal::from_str_exact(amount).expect("an amount");
    Cell::Money(Money::new(amount, Currency::EUR))
}

fn sheet() -> Sheet {
    let rows = HOSTILE.iter().enumerate().map(|(place, text)| {
        let cells = vec![
            Cell::text(*text),
            Cell::Number(-1.5, 2),
            euros("0.333"),
            Cell::Tick(true),
            Cell::ByHand,
        ];
        Row::entry(format!("r{place}"), cells)
    });
    let mut rows: Vec<Row> = rows.collect();
    let sum = Cell::Worked(Box::new(euros("2.67")), Formula::Total("all", "price"));
    let sum = vec![
        Cell::text("Sum"),
        Cell::Empty,
        sum,
        Cell::Empty,
        Cell::Empty,
    ];
    rows.push(Row::sum("sum", sum));
    Sheet {
        kind: SheetKind::Parts,
        machine: HOSTILE[5].to_owned(),
        date: jiff::civil::date(2026, 11, 26),
        about: HOSTILE[7].to_owned(),
        tables: vec![Table {
            id: "all",
            title: HOSTILE[6].to_owned(),
            columns: vec![
                Column::new("text", "A text of some length", Shape::Text),
                Column::new("number", "Number", Shape::Number),
                Column::new("price", "Price", Shape::Money),
                Column::new("done", "Done", Shape::Tick),
                Column::new("hand", "Measured", Shape::ByHand),
            ],
            rows,
        }],
        remarks: vec![HOSTILE[0].to_owned()],
        safety: Vec::new(),
    }
}

fn written(format: Format) -> String {
    let bytes = render(format, &[sheet()]).expect("written");
    String::from_utf8(bytes).expect("text")
}

#[test]
fn no_text_steers_a_terminal() {
    for format in [
        Format::Text,
        Format::Csv,
        Format::Markdown,
        Format::Json,
        Format::Html,
    ] {
        let text = written(format);
        assert!(
            !text.contains(['\u{1b}', '\u{202e}', '\t']),
            "{format:?}: {text}"
        );
    }
}

#[test]
fn no_cell_of_csv_is_a_formula() {
    let text = written(Format::Csv);
    let mut reader = ::csv::Reader::from_reader(text.as_bytes());
    let records: Vec<::csv::StringRecord> = reader.records().map(|one| one.expect("CSV")).collect();
    assert_eq!(records.len(), HOSTILE.len() + 1);
    for record in &records {
        let text = record.get(0).expect("a cell");
        assert!(
            !text.starts_with(['=', '+', '-', '@', '\t', '\r']),
            "{text}"
        );
    }
    // Numbers below nothing stay numbers, and nothing is lost between the marks.
    assert_eq!(records[0].get(1), Some("-1.50"));
    assert_eq!(records[6].get(0), Some("a|b \"c\", d"));
    assert!(text.lines().all(|line| !line.is_empty()) && text.contains("\r\n"));
}

/// People read of one piece; a column for programs keeps its word.
#[test]
fn a_lone_piece_is_no_pieces_for_people() {
    let mut one = sheet();
    for row in &mut one.tables[0].rows {
        row.cells[0] = Cell::Unit(Unit::Piece, Decimal::ONE);
    }
    for (format, want) in [
        (Format::Text, "piece"),
        (Format::Markdown, "piece"),
        (Format::Csv, "pieces"),
        (Format::Json, "pieces"),
    ] {
        let text = render(format, &[one.clone()]).expect("written");
        let text = String::from_utf8(text).expect("text");
        assert!(text.contains(want), "{format:?}: {text}");
        assert_eq!(want == "pieces", text.contains("pieces"), "{format:?}");
    }
}

/// Without the headings between its rows a record must say itself where it belongs.
#[test]
fn records_of_csv_name_their_group() {
    let mut grouped = sheet();
    let table = &mut grouped.tables[0];
    let row = table.rows[0].clone();
    let columns = table.columns.len();
    let sum = Row::sum("all", row.cells.clone());
    let heading = |text: &str| Row::heading(text, columns);
    table.rows = vec![heading("X"), row.clone(), heading("=Y"), row, sum];
    let text = render(Format::Csv, &[grouped]).expect("written");
    let mut reader = ::csv::Reader::from_reader(text.as_slice());
    let headers = reader.headers().expect("headings").clone();
    assert_eq!(headers.get(columns), Some("group"));
    let groups: Vec<String> = reader
        .records()
        .map(|one| one.expect("CSV").get(columns).expect("a group").to_owned())
        .collect();
    assert_eq!(groups, ["X", "'=Y", ""]);
}

#[test]
fn no_text_is_markup() {
    for format in [Format::Html, Format::Markdown] {
        let text = written(format);
        assert!(!text.contains("<script"), "{format:?}: {text}");
    }
    assert!(
        written(Format::Html).contains("default-src &#39;none&#39;")
            || written(Format::Html).contains("default-src 'none'")
    );
    assert!(written(Format::Markdown).contains("a\\|b"));
}

#[test]
fn text_keeps_to_its_columns_and_pages() {
    let mut long = sheet();
    let row = long.tables[0].rows[0].clone();
    long.tables[0].rows = vec![row; 200];
    let text = String::from_utf8(render(Format::Text, &[long]).expect("written")).expect("text");
    for page in text.split('\u{c}') {
        assert!(page.lines().count() <= 60, "{page}");
        assert!(page.contains("Measured"), "headings are repeated");
    }
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{line}");
    }
}

/// A page that fell out of the folder says where it belongs: to which sheet, machine and group.
#[test]
fn every_further_page_says_where_it_belongs() {
    let mut long = sheet();
    let row = long.tables[0].rows[0].clone();
    let columns = long.tables[0].columns.len();
    let mut rows = Vec::new();
    for group in 0..40 {
        rows.push(Row::heading(format!("group {group}"), columns));
        rows.extend(vec![row.clone(); 9]);
    }
    long.tables[0].rows = rows;
    let title = long.kind.title();
    let text = String::from_utf8(render(Format::Text, &[long]).expect("written")).expect("text");
    let pages: Vec<&str> = text.split('\u{c}').collect();
    assert!(pages.len() > 6);
    for (number, page) in pages.iter().enumerate() {
        let lines: Vec<&str> = page.lines().collect();
        assert!(lines.len() <= 60, "{page}");
        assert!(lines[0].starts_with(title), "{page}");
        let last = lines.last().expect("a line");
        assert!(!last.starts_with("* "), "a heading at the foot: {page}");
        if number > 0 {
            assert!(page.contains(&format!(", page {}\n", number + 1)), "{page}");
            assert!(lines.iter().any(|line| line.starts_with("* group ")));
        }
    }
    assert!(text.contains(", continued"));
}

#[test]
fn json_gives_exact_amounts() {
    let value: serde_json::Value = serde_json::from_str(&written(Format::Json)).expect("JSON");
    assert_eq!(value["tables"][0]["rows"][0]["price"], "0.333");
    assert_eq!(value["tables"][0]["rows"][8]["sum"], true);
    let mut counted = sheet();
    counted.tables[0].rows[0].cells[1] = Cell::count(2_u32);
    let text = render(Format::Json, &[counted]).expect("written");
    let value: serde_json::Value = serde_json::from_slice(&text).expect("JSON");
    assert_eq!(value["tables"][0]["rows"][0]["number"].as_u64(), Some(2));
}

#[test]
fn the_same_sheet_gives_the_same_workbook() {
    let one = render(Format::Xlsx, &[sheet()]).expect("written");
    assert_eq!(one, render(Format::Xlsx, &[sheet()]).expect("written"));
    assert!(one.starts_with(b"PK"));
}

#[test]
fn endings_mean_formats() {
    assert_eq!(Format::of_ending("XLSX"), Some(Format::Xlsx));
    assert_eq!(Format::of_ending("md"), Some(Format::Markdown));
    assert_eq!(Format::of_ending("pdf"), None);
    assert_eq!(Format::of_path(Path::new("a.b/c.HTM")), Some(Format::Html));
    assert_eq!(Format::of_path(Path::new("csv")), None);
}
