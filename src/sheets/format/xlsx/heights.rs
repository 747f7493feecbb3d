//! How wide the columns of a worksheet are, and how high its rows: a program that opens a
//! workbook doesn't measure wrapped words by itself, and writes the rest of a row over the next.

use crate::sheets::{Row, RowKind, Table};

/// The widest column, in characters.
const WIDEST: usize = 36;

/// The narrowest column, in characters.
const LEAST: usize = 8;

/// The height of a line in points, of letters of 11 points.
const LINE: f64 = 15.0;

/// The most that a worksheet's row may measure, in points (ISO/IEC 29500-1 leaves it to the
/// program; 409 is what they take, from memory).
const HIGHEST: f64 = 409.0;

/// The width of a column, in characters.
pub(super) fn width(table: &Table, column: usize) -> f64 {
    (characters(table, column) + 2) as f64
}

fn characters(table: &Table, column: usize) -> usize {
    let rows = table.rows.iter().filter(|row| row.kind != RowKind::Heading);
    let cells = rows.filter_map(|row| row.cells.get(column));
    let longest = cells.map(|cell| cell.shown().chars().count()).max();
    let word = table.columns.get(column).and_then(|column| {
        let words = column.title.split_whitespace();
        words.map(|word| word.chars().count()).max()
    });
    let least = word.unwrap_or_default().clamp(LEAST, WIDEST);
    longest.unwrap_or_default().clamp(least, WIDEST)
}

/// The height of a text in a column of so many characters.
pub(super) fn of(text: &str, width: usize) -> f64 {
    (lines(text, width) as f64 * LINE).min(HIGHEST)
}

/// The height of a text as wide as the table.
pub(super) fn across(table: &Table, text: &str) -> f64 {
    let columns = 0..table.columns.len();
    let all: usize = columns.map(|column| characters(table, column) + 2).sum();
    of(text, all)
}

/// The height of a row; none where one line does.
pub(super) fn row(table: &Table, row: &Row) -> Option<f64> {
    // Headings of groups run on over the empty cells beside them.
    if row.kind == RowKind::Heading {
        return None;
    }
    let texts = row.cells.iter().map(|cell| cell.shown());
    highest(table, texts)
}

/// The height of the row of headings; none where one line does.
pub(super) fn headings(table: &Table) -> Option<f64> {
    let titles = table.columns.iter().map(|column| column.title.to_owned());
    highest(table, titles)
}

fn highest(table: &Table, texts: impl Iterator<Item = String>) -> Option<f64> {
    let lines = texts
        .enumerate()
        .map(|(column, text)| lines(&text, characters(table, column)));
    let most = lines.max().filter(|most| *most > 1)?;
    Some((most as f64 * LINE).min(HIGHEST))
}

/// The lines that words take where a line holds so many characters; a longer word is broken.
fn lines(text: &str, width: usize) -> usize {
    let width = width.max(1);
    let mut lines = 1;
    let mut taken = 0;
    for word in text.split_whitespace() {
        let long = word.chars().count();
        let with_gap = if taken == 0 { long } else { taken + 1 + long };
        if with_gap <= width {
            taken = with_gap;
            continue;
        }
        if taken > 0 {
            lines += 1;
        }
        lines += (long.saturating_sub(1)) / width;
        taken = (long.saturating_sub(1)) % width + 1;
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::lines;

    #[test]
    fn words_wrap_where_the_next_does_not_fit() {
        assert_eq!(lines("", 10), 1);
        assert_eq!(lines("one two", 7), 1);
        assert_eq!(lines("one two", 6), 2);
        assert_eq!(lines("one two six", 7), 2);
        // A word of 25 letters takes three lines of ten.
        assert_eq!(lines(&"x".repeat(25), 10), 3);
        assert_eq!(lines(&format!("a {}", "x".repeat(25)), 10), 4);
    }
}
