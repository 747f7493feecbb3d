//! Sheets in somebody's units and marks: the one place where a sheet turns from metric into
//! inches, and where its thousands are put in groups. It comes before the formats for people
//! (text, Markdown, HTML, the screen); formats for programs never come here, their columns name
//! their unit.
//!
//! What is made or bought to a metric size keeps it: drills, threads, tools, plates. What a
//! controller is told stays metric too, and so does a list that somebody saws by, with inches
//! beside it: a cut is never less exact than its millimetres.

use std::borrow::Cow;

use super::cell::{Cell, Column, Row, Shape, Table};
use super::pictures::Picture;
use super::{Sheet, SheetKind};
use crate::units::marks::System;
use crate::units::respell::Speller;
use crate::units::show;

/// What a column does where inches are set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Inches {
    /// Its numbers are turned, where its name ends in a unit that can be.
    Turned,
    /// It stays: what is sold or made by a metric size.
    Kept,
    /// It stays, and inches stand beside it.
    Beside,
}

/// The endings of names of columns, and the units that they mean.
const ENDINGS: [(&str, &str); 9] = [
    ("_cm3_per_min", "cm³/min"),
    ("_m_per_min", "m/min"),
    ("_n_per_um", "N/µm"),
    ("_um", "µm"),
    ("_mm", "mm"),
    ("_kg", "kg"),
    ("_m", "m"),
    ("_n", "N"),
    ("_nm", "N·m"),
];

/// The column of inches beside one of millimetres.
const BESIDE: Column = Column::new("inches", "inches", Shape::Number);

/// A sheet as somebody reads it, its numbers marked for [`Speller::finish`]. Its cells hold plain
/// digits, so the usual marks have work here too: the space between thousands.
pub fn spelled(mut sheet: Sheet, speller: &Speller) -> Sheet {
    let is_inch = speller.shown().system == System::Inch;
    let own = &match sheet.kind {
        SheetKind::Motion | SheetKind::Cuts => speller.metric(),
        _ => speller.clone(),
    };
    let text = |text: &mut String| *text = own.spell(text).into_owned();
    if is_inch {
        sheet.about = in_inches(sheet.kind, &sheet.about);
    }
    text(&mut sheet.about);
    sheet.remarks.iter_mut().for_each(text);
    for table in &mut sheet.tables {
        text(&mut table.title);
        let columns = table.columns.clone();
        for row in &mut table.rows {
            cells(row, &columns, own, is_inch);
        }
        table.columns = columns.iter().flat_map(|one| headed(*one, own)).collect();
    }
    sheet
}

/// The same with the signs that people see, for what leaves the program.
pub(super) fn finished(sheet: Sheet, speller: &Speller) -> Sheet {
    let mut sheet = spelled(sheet, speller);
    let text = |text: &mut String| *text = speller.finish(text).into_owned();
    text(&mut sheet.about);
    sheet.remarks.iter_mut().for_each(text);
    for Table { title, rows, .. } in &mut sheet.tables {
        text(title);
        for cell in rows.iter_mut().flat_map(|row| &mut row.cells) {
            if let Cell::Text(words) = cell {
                text(words);
            }
        }
    }
    sheet
}

/// A picture with the words in it as somebody reads them. One whose numbers stand along an axis
/// stays metric: half of it in inches would be worse than none.
pub(super) fn pictured(mut picture: Picture, speller: &Speller) -> Picture {
    if speller.shown().is_plain() {
        return picture;
    }
    let speller = &match picture.is_scaled {
        true => speller.metric(),
        false => speller.clone(),
    };
    picture.about = speller.text(&picture.about);
    // What stands between two tags is read; what stands within one is markup.
    let parts = picture.svg.split_inclusive('>').map(|part| {
        let (words, tag) = part.split_at(part.find('<').unwrap_or(part.len()));
        format!("{}{tag}", speller.text(words))
    });
    picture.svg = parts.collect();
    picture
}

/// How to read a sheet whose numbers are in inches, or stay metric.
fn in_inches(kind: SheetKind, about: &str) -> String {
    let more = match kind {
        SheetKind::Cuts => {
            "Inches stand beside them to the nearest 1/64, as tapes and rules have them (common \
             practice); the millimetres are what counts."
        }
        SheetKind::Parts => {
            "What is sold by the metre or the kilogram is counted and priced by it, not by feet \
             or pounds."
        }
        SheetKind::Drill => "Drills, screws and threads keep their metric sizes.",
        SheetKind::Motion => {
            "Values stay metric: most controllers are set up in millimetres, whatever units a \
             program is cut in (common practice)."
        }
        _ => return about.to_owned(),
    };
    let about = match kind {
        SheetKind::Drill => Cow::Owned(about.replace(" in mm ", " in inches ")),
        _ => Cow::Borrowed(about),
    };
    format!("{about} {more}")
}

/// The unit of a column, where its name ends in one.
fn unit(column: &Column) -> Option<&'static str> {
    let found = ENDINGS
        .iter()
        .find(|(ending, _)| column.id.ends_with(ending));
    found.map(|(_, unit)| *unit)
}

/// A column with its heading, and the one beside it where there is one.
fn headed(column: Column, speller: &Speller) -> Vec<Column> {
    let is_inch = speller.shown().system == System::Inch;
    let Some(unit) = unit(&column).filter(|_| is_inch) else {
        return vec![column];
    };
    let with = |swap| Column {
        swap: Some(swap),
        ..column
    };
    match column.inches {
        Inches::Turned => vec![with((unit, speller.unit(unit)))],
        Inches::Kept => vec![with(("", unit))],
        Inches::Beside => {
            let narrow = column.narrow;
            vec![column, Column { narrow, ..BESIDE }]
        }
    }
}

/// Turns the cells of a row.
fn cells(row: &mut Row, columns: &[Column], speller: &Speller, is_inch: bool) {
    let old = std::mem::take(&mut row.cells);
    for (cell, column) in old.into_iter().zip(columns) {
        let beside = column.inches == Inches::Beside && is_inch;
        let beside = beside.then(|| sixty_fourths(&cell));
        let turned = unit(column).filter(|_| column.inches == Inches::Turned);
        let cell = match cell {
            Cell::Text(words) if column.has_digits => Cell::Text(in_groups(&words, speller)),
            other => other,
        };
        row.cells.push(self::cell(cell, turned, speller));
        row.cells.extend(beside);
    }
}

/// Words with their plain digits in groups, marked so that no line is broken between them. Those
/// of names such as `B1` stay as they are.
fn in_groups(words: &str, speller: &Speller) -> String {
    let mut text = String::with_capacity(words.len());
    let mut rest = words;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        let (before, from) = rest.split_at(at);
        let end = from.find(|c: char| !c.is_ascii_digit() && c != '.');
        let (digits, behind) = from.split_at(end.unwrap_or(from.len()));
        text.push_str(before);
        match before.ends_with(char::is_alphabetic) {
            true => text.push_str(digits),
            false => text.push_str(&speller.marked(&show::grouped(digits))),
        }
        rest = behind;
    }
    text + rest
}

fn cell(cell: Cell, unit: Option<&str>, speller: &Speller) -> Cell {
    let digits = match cell.value() {
        Cell::Text(text) => return Cell::Text(speller.spell(text).into_owned()),
        Cell::Number(..) | Cell::Count(_) | Cell::Exact(_) | Cell::Rate(_) | Cell::Money(_) => {
            show::grouped(&cell.shown())
        }
        Cell::Empty | Cell::Unit(..) | Cell::Tick(_) | Cell::ByHand | Cell::Worked(..) => {
            return cell;
        }
    };
    Cell::Text(match unit.filter(|unit| speller.unit(unit) != *unit) {
        Some(unit) => speller.bare(&digits, unit),
        None => speller.spell(&digits).into_owned(),
    })
}

/// A length of a column of millimetres in inches and 64ths.
fn sixty_fourths(cell: &Cell) -> Cell {
    match cell.value() {
        Cell::Exact(mm) => Cell::Text(show::inches(*mm)),
        Cell::Number(mm, decimals) => {
            let text = format!("{mm:.decimals$}");
            text.parse()
                .map_or(Cell::Empty, |mm| Cell::Text(show::inches(mm)))
        }
        _ => Cell::Empty,
    }
}
