//! Markdown with tables of pipes.

use std::fmt::Write as _;

use crate::sheets::{Cell, RowKind, Shape, Sheet, Table};
use crate::store::visible;
use crate::words::Words as _;

/// Writes sheets.
pub(super) fn markdown(sheets: &[Sheet]) -> String {
    let mut out = String::new();
    for sheet in sheets {
        if !out.is_empty() {
            out.push_str("\n---\n\n");
        }
        let title = sheet.kind.title();
        let _ = writeln!(out, "# {title}: {}\n", plain(&sheet.machine));
        let _ = writeln!(out, "{}. {}", sheet.date, plain(&sheet.about));
        for table in &sheet.tables {
            self::table(&mut out, table);
        }
        for remark in &sheet.remarks {
            let _ = writeln!(out, "\n{}", plain(remark));
        }
        for note in &sheet.safety {
            let (title, text) = (plain(note.title), plain(note.text));
            let _ = writeln!(out, "\n> **Safety: {title}.** {text}");
        }
    }
    out
}

fn table(out: &mut String, table: &Table) {
    let _ = writeln!(out, "\n## {}\n", plain(&table.title));
    let titles = table.columns.iter().map(|column| plain(&column.heading()));
    let _ = writeln!(out, "| {} |", titles.collect::<Vec<_>>().join(" | "));
    let rules = table.columns.iter().map(|column| match column.shape {
        Shape::Number | Shape::Money => "---:",
        Shape::Text | Shape::Tick | Shape::ByHand => "---",
    });
    let _ = writeln!(out, "| {} |", rules.collect::<Vec<_>>().join(" | "));
    for row in &table.rows {
        let cells = row.cells.iter().map(|cell| {
            let text = match cell.value() {
                Cell::ByHand => String::new(),
                value => plain(&value.shown()),
            };
            match row.kind {
                RowKind::Entry => text,
                _ if text.is_empty() => text,
                RowKind::Heading | RowKind::Sum => format!("**{text}**"),
            }
        });
        let _ = writeln!(out, "| {} |", cells.collect::<Vec<_>>().join(" | "));
    }
}

/// A text without meaning to Markdown or to a browser that shows it.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in visible(text).chars() {
        match c {
            '|' | '\\' | '`' | '*' | '_' | '[' | ']' | '#' | '~' | '!' => {
                out.push('\\');
                out.push(c);
            }
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '\n' | '\r' => out.push(' '),
            c => out.push(c),
        }
    }
    out
}
