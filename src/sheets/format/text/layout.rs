//! A table in so many columns: numbers keep their width, texts share what is left and wrap, and
//! what does not fit goes on lines of its own below the row.

use std::borrow::Cow;

use unicode_width::UnicodeWidthStr as _;

use super::GROUP;
use super::wrap::{padded, right, wrapped};
use crate::sheets::{Narrow, Row, RowKind, Shape, Table};
use crate::store::visible;

/// Columns between two columns of a table.
const GAP: usize = 2;

/// The least that a column of words is given.
const LEAST: usize = 10;

/// How far what stands below a row is set in.
const INDENT: usize = 4;

/// One column in its place.
struct Placed {
    /// Its place among the cells.
    cell: usize,
    title: Cow<'static, str>,
    width: usize,
    to_the_right: bool,
}

/// How a table is laid out.
pub(super) struct Layout<'t> {
    table: &'t Table,
    placed: Vec<Placed>,
    width: usize,
}

impl<'t> Layout<'t> {
    /// Lays a table out in so many columns.
    pub(super) fn of(table: &'t Table, width: usize) -> Self {
        let filled = |cell: usize| {
            let entries = table.rows.iter().filter(|row| row.kind != RowKind::Heading);
            entries
                .filter_map(|row| row.cells.get(cell))
                .any(|cell| !cell.shown().is_empty())
        };
        let each = table.columns.iter().enumerate();
        let main = each.filter(|(place, column)| {
            column.narrow == Narrow::Beside && (filled(*place) || table.rows.is_empty())
        });
        let mut placed: Vec<Placed> = main
            .map(|(cell, column)| Placed {
                cell,
                title: column.heading(),
                width: natural(table, cell),
                to_the_right: matches!(column.shape, Shape::Number | Shape::Money),
            })
            .collect();
        // The last ones give way where even narrow columns do not fit side by side.
        while placed.len() > 1 && !squeezed(&mut placed, width) {
            placed.pop();
        }
        if let [only] = &mut placed[..] {
            only.width = only.width.min(width);
        }
        Self {
            table,
            placed,
            width,
        }
    }

    /// The titles of the columns, and a line below them.
    pub(super) fn heading(&self) -> Vec<String> {
        let titles = self
            .placed
            .iter()
            .map(|column| column.title.clone().into_owned());
        let mut lines = self.side_by_side(titles.collect());
        let rules = self.placed.iter().map(|column| "-".repeat(column.width));
        lines.push(rules.collect::<Vec<_>>().join(&" ".repeat(GAP)));
        lines
    }

    /// The lines of a row.
    pub(super) fn row(&self, row: &Row) -> Vec<String> {
        let shown = |cell: usize| {
            let cell = row.cells.get(cell).map(|cell| cell.shown());
            visible(&cell.unwrap_or_default()).into_owned()
        };
        if row.kind == RowKind::Heading {
            return wrapped(&format!("{GROUP}{}", shown(0)), self.width);
        }
        let mut lines = Vec::new();
        if row.kind == RowKind::Sum {
            let rules = self.placed.iter().map(|column| {
                let rule = if shown(column.cell).is_empty() {
                    " "
                } else {
                    "-"
                };
                rule.repeat(column.width)
            });
            lines.push(rules.collect::<Vec<_>>().join(&" ".repeat(GAP)));
        }
        let cells = self.placed.iter().map(|column| shown(column.cell));
        lines.extend(self.side_by_side(cells.collect()));
        let below = self
            .table
            .columns
            .iter()
            .enumerate()
            .filter_map(|(place, column)| {
                let here = column.narrow == Narrow::Hidden
                    || self.placed.iter().any(|placed| placed.cell == place);
                let text = shown(place);
                (!here && !text.is_empty())
                    .then(|| format!("{}: {text}", column.heading().to_lowercase()))
            });
        let below: Vec<String> = below.collect();
        if !below.is_empty() {
            let each = wrapped(&below.join("; "), self.width - INDENT);
            lines.extend(
                each.iter()
                    .map(|line| format!("{}{line}", " ".repeat(INDENT))),
            );
        }
        lines
    }

    /// Texts in their columns, as many lines as the longest takes.
    fn side_by_side(&self, texts: Vec<String>) -> Vec<String> {
        let cells: Vec<Vec<String>> = (self.placed.iter().zip(&texts))
            .map(|(column, text)| wrapped(text, column.width))
            .collect();
        let height = cells.iter().map(Vec::len).max().unwrap_or_default();
        let line = |number: usize| {
            let parts = self.placed.iter().zip(&cells).map(|(column, cell)| {
                let text = cell.get(number).map_or("", String::as_str);
                match column.to_the_right {
                    true => right(text, column.width),
                    false => padded(text, column.width),
                }
            });
            parts.collect::<Vec<_>>().join(&" ".repeat(GAP))
        };
        (0..height).map(line).collect()
    }
}

/// The width that a column would like: its longest cell, and no word of its title broken.
fn natural(table: &Table, cell: usize) -> usize {
    let rows = table.rows.iter().filter(|row| row.kind != RowKind::Heading);
    let cells = rows.filter_map(|row| row.cells.get(cell));
    let longest = cells.map(|cell| visible(&cell.shown()).width()).max();
    let title = table.columns[cell].heading();
    let word = title.split_whitespace().map(|word| word.width()).max();
    let usual = match table.columns[cell].shape {
        // A short title stands on one line; those of numbers wrap.
        Shape::Text => title.width().min(LEAST),
        Shape::Number | Shape::Money | Shape::Tick | Shape::ByHand => 0,
    };
    longest
        .unwrap_or_default()
        .max(word.unwrap_or_default())
        .max(usual)
        .max(1)
}

/// Narrows the widest columns of words until all fit; false where they cannot.
fn squeezed(placed: &mut [Placed], width: usize) -> bool {
    let gaps = GAP * (placed.len() - 1);
    loop {
        let taken: usize = placed.iter().map(|column| column.width).sum::<usize>() + gaps;
        let Some(over) = taken.checked_sub(width).filter(|over| *over > 0) else {
            return true;
        };
        let words = placed.iter_mut().filter(|column| !column.to_the_right);
        let Some(widest) = words.max_by_key(|column| column.width) else {
            return false;
        };
        if widest.width <= LEAST {
            return false;
        }
        widest.width -= over.min(widest.width - LEAST).min(1 + over / 4);
    }
}
