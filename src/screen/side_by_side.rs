//! A comparison as lines of text in columns, for the screen and for the command. A cell that is
//! wider than its column goes on below: nothing is cut off.

use std::collections::BTreeSet;

use super::text::{left, width, wrap};
use crate::explain::Worth;
use crate::explore::compare::{Cell, Comparison, Row};
use crate::rules::topics::topics;
use crate::rules::{Finding, Severity};
use crate::units::respell::Speller;
use crate::words::Words as _;

/// Columns between two cells.
const GAP: usize = 2;
/// The widest that a cell becomes: what belongs together should not stand far apart.
const WIDEST: usize = 34;
/// Columns of a row's title, at least and at most.
const TITLE: [usize; 2] = [14, 26];
/// Columns before the title of a row.
const INDENT: usize = 2;

/// What a line is, which decides how it is painted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineKind {
    /// The names of the columns.
    Names,
    /// The title of a group.
    Group,
    /// A row whose columns say different things.
    Differs,
    /// A row whose columns all say the same.
    Same,
    /// A warning that is there, and was not in the column that it is compared with.
    Gained(Severity),
    /// A warning that is gone.
    Lost,
    /// Anything else.
    Words,
}

/// One line.
#[derive(Clone, Debug)]
pub struct Line {
    /// What it is.
    pub kind: LineKind,
    /// What it says.
    pub text: String,
}

/// All lines of a comparison, of rows that say the same only where all are asked for, in
/// somebody's units and marks: marked for [`Speller::finish`].
pub fn lines(comparison: &Comparison, columns: usize, all: bool, speller: &Speller) -> Vec<Line> {
    let grid = Grid::of(comparison, columns);
    let mut lines = Vec::new();
    let names: Vec<&str> = comparison.names.iter().map(String::as_str).collect();
    lines.extend(grid.row(LineKind::Names, "", &names));
    let mut groups = 0;
    for (group, rows) in comparison.shown(all) {
        let rows: Vec<&Row> = rows.into_iter().filter(|row| !row.told).collect();
        if rows.is_empty() {
            continue;
        }
        groups += 1;
        lines.push(line(LineKind::Words, String::new()));
        lines.push(line(LineKind::Group, headed(group.title, &rows, speller)));
        for row in rows {
            let title = headed(&row.title, &[row], speller);
            let cells: Vec<String> = row.cells.iter().map(|one| cell(one, speller)).collect();
            let cells: Vec<&str> = cells.iter().map(String::as_str).collect();
            lines.extend(grid.row(kind(row), &title, &cells));
        }
    }
    if groups == 0 {
        lines.push(line(LineKind::Words, String::new()));
        let text = "They do not differ in anything that is compared.";
        lines.extend(paragraph(text, columns));
    }
    lines.extend(turns(comparison, columns));
    lines
}

/// The unit of a figure that its row or group names, instead of the cell.
fn unit_above(cell: &Cell) -> Option<&'static str> {
    match cell {
        Cell::Figure(Worth::Amount(amount), shown) if !shown.contains(amount.unit) => {
            Some(amount.unit)
        }
        _ => None,
    }
}

/// A title with the units of what stands below it.
fn headed(title: &str, rows: &[&Row], speller: &Speller) -> String {
    let below = rows.iter().flat_map(|row| &row.cells);
    let units = below.filter_map(unit_above).collect::<BTreeSet<_>>();
    let words = title.split(' ').map(|word| {
        let unit = word.trim_end_matches(',');
        let rest = &word[unit.len()..];
        match units.contains(unit) {
            true => format!("{}{rest}", speller.unit(unit)),
            false => word.to_owned(),
        }
    });
    words.collect::<Vec<_>>().join(" ")
}

/// A cell; where its unit stands above, its number is the first word.
fn cell(cell: &Cell, speller: &Speller) -> String {
    let shown = cell.shown();
    match unit_above(cell) {
        Some(unit) => {
            let (number, rest) = shown.split_at(shown.find(',').unwrap_or(shown.len()));
            format!("{}{rest}", speller.bare(number, unit))
        }
        None => speller.spell(shown).into_owned(),
    }
}

fn kind(row: &Row) -> LineKind {
    match row.differs() {
        true => LineKind::Differs,
        false => LineKind::Same,
    }
}

fn line(kind: LineKind, text: String) -> Line {
    Line { kind, text }
}

fn paragraph(text: &str, columns: usize) -> impl Iterator<Item = Line> {
    let room = columns.saturating_sub(INDENT).max(1);
    let lines = wrap(text, room).into_iter();
    lines.map(|text| line(LineKind::Words, format!("{}{text}", " ".repeat(INDENT))))
}

/// Where columns begin and how wide they are.
struct Grid {
    title: usize,
    cell: usize,
}

impl Grid {
    fn of(comparison: &Comparison, columns: usize) -> Self {
        let count = comparison.names.len().max(1);
        let [least, most] = TITLE;
        let share = columns.saturating_sub(INDENT) / (count + 1);
        let title = share.clamp(least, most);
        let rest = columns.saturating_sub(INDENT + title) / count;
        let cell = rest.saturating_sub(GAP).clamp(1, WIDEST);
        Self { title, cell }
    }

    /// A cell's lines; a word that is too long for the column goes on below after a hyphen.
    fn wrapped(&self, cell: &str) -> Vec<String> {
        let words = cell.split(' ').map(|word| match width(word) > self.cell {
            true => word.replace('-', "- "),
            false => word.to_owned(),
        });
        wrap(&words.collect::<Vec<_>>().join(" "), self.cell)
    }

    /// A row, on as many lines as its longest cell takes.
    fn row(&self, kind: LineKind, title: &str, cells: &[&str]) -> Vec<Line> {
        let title = wrap(title, self.title);
        let cells: Vec<Vec<String>> = cells.iter().map(|cell| self.wrapped(cell)).collect();
        let longest = cells.iter().map(Vec::len).chain([title.len()]).max();
        let at = |lines: &[String], place: usize| lines.get(place).cloned().unwrap_or_default();
        let each = (0..longest.unwrap_or(0)).map(|place| {
            let mut text = " ".repeat(INDENT) + &left(&at(&title, place), self.title, "");
            for cell in &cells {
                text.push_str(&" ".repeat(GAP));
                text.push_str(&left(&at(cell, place), self.cell, ""));
            }
            line(kind, text.trim_end().to_owned())
        });
        each.collect()
    }
}

/// The warnings that each column gains and loses against one of them.
fn turns(comparison: &Comparison, columns: usize) -> Vec<Line> {
    let against = comparison.against;
    let Some(before) = comparison.names.get(against) else {
        return Vec::new();
    };
    let mut lines = vec![line(LineKind::Words, String::new())];
    let title = format!("New and gone warnings, against {before}");
    let titles = wrap(&title, columns).into_iter();
    lines.extend(titles.map(|text| line(LineKind::Group, text)));
    for (place, name) in comparison.names.iter().enumerate() {
        if place == against {
            continue;
        }
        let of = |all: &[Vec<Finding>]| all.get(place).cloned().unwrap_or_default();
        let (gained, lost) = (of(&comparison.gained), of(&comparison.lost));
        let says = match gained.is_empty() && lost.is_empty() {
            true => format!("{name}: none new, none gone"),
            false => format!("{name}:"),
        };
        lines.extend(paragraph(&says, columns));
        for (mark, findings) in [("new", &gained), ("gone", &lost)] {
            for topic in topics(findings) {
                let Some(first) = findings.get(topic.first()) else {
                    continue;
                };
                let severity = first.severity;
                let kind = match mark {
                    "new" => LineKind::Gained(severity),
                    _ => LineKind::Lost,
                };
                let label = format!("{mark:<5}{:<9}", severity.title());
                let hang = INDENT + 2 + width(&label);
                let words = wrap(&topic.title(findings), columns.saturating_sub(hang).max(1));
                for (row, text) in words.iter().enumerate() {
                    let head = match row {
                        0 => format!("{}{label}", " ".repeat(INDENT + 2)),
                        _ => " ".repeat(hang),
                    };
                    lines.push(line(kind, format!("{head}{text}")));
                }
            }
        }
    }
    lines
}
