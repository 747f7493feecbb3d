//! Plain text for a terminal of 80 columns: wrapped paragraphs, hanging indents and tables.
//! Widths are those of the screen, not of the bytes, and text from files is made visible.

use std::borrow::Cow;

use unicode_width::UnicodeWidthStr as _;

use crate::explore::reading::Reading;
use crate::explore::told;
use crate::money::Currency;
use crate::screen::text::wrap;
use crate::store::visible;
use crate::units::respell::{COMPARED, Speller};

/// The width that every printed text keeps.
pub(super) const WIDTH: usize = 80;

/// A paragraph that starts with a label and goes on under its own first word, `indent`
/// columns from the left; nothing for an empty text.
pub(super) fn hanging(label: &str, indent: usize, text: &str) -> String {
    hanging_within(WIDTH, label, indent, text)
}

/// The same within a width of its own.
pub(super) fn hanging_within(width: usize, label: &str, indent: usize, text: &str) -> String {
    let mut shown = String::new();
    let label = visible(label);
    for (number, line) in wrap(text, width.saturating_sub(indent)).iter().enumerate() {
        if number == 0 && label.width() < indent {
            shown.push_str(&pad(&label, indent));
        } else {
            if number == 0 && !label.is_empty() {
                shown.push_str(&label);
                shown.push('\n');
            }
            shown.push_str(&" ".repeat(indent));
        }
        shown.push_str(line);
        shown.push('\n');
    }
    shown
}

/// The same with a label that is already painted, and how wide it looks.
pub(super) fn painted(label: &str, looks: usize, indent: usize, text: &str) -> String {
    let plain = hanging(&"x".repeat(looks), indent, text);
    match plain.get(looks..) {
        Some(rest) => format!("{label}{rest}"),
        None => plain,
    }
}

/// A text filled up with spaces.
pub(super) fn pad(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(text.width())))
}

/// A table: columns marked `<` stand left, those marked `>` right. Two spaces between columns,
/// each as wide as its widest cell.
pub(super) fn table(sides: &str, rows: &[Vec<String>]) -> String {
    let rows: Vec<Vec<Cow<str>>> = (rows.iter())
        .map(|row| row.iter().map(|cell| visible(cell)).collect())
        .collect();
    let sides: Vec<char> = sides.chars().collect();
    let widths: Vec<usize> = (0..sides.len())
        .map(|column| {
            rows.iter()
                .map(|row| row.get(column).map_or(0, |cell| cell.width()))
                .max()
        })
        .map(Option::unwrap_or_default)
        .collect();
    let mut shown = String::new();
    for row in &rows {
        let cells = row
            .iter()
            .zip(&sides)
            .zip(&widths)
            .map(|((cell, side), width)| match side {
                '>' => format!("{}{cell}", " ".repeat(width.saturating_sub(cell.width()))),
                _ => pad(cell, *width),
            });
        shown.push_str(cells.collect::<Vec<_>>().join("  ").trim_end());
        shown.push('\n');
    }
    shown
}

/// A row of a table whose cell in one column may be wider than its column: what is too much goes
/// on below.
pub(super) fn spread(row: Vec<String>, column: usize, width: usize) -> Vec<Vec<String>> {
    let long = row.get(column).filter(|cell| cell.width() > width);
    let Some(lines) = long.map(|cell| wrap(cell, width)) else {
        return vec![row];
    };
    let empty = vec![String::new(); row.len()];
    let mut rows = vec![row];
    rows.resize(lines.len().max(1), empty);
    for (row, line) in rows.iter_mut().zip(lines) {
        row[column] = line;
    }
    rows
}

/// A page whose lines grew: what no longer fits goes on in the next line of its paragraph, or in
/// one of its own. Rows of tables stay as they are.
pub(super) fn fitted(page: &str) -> String {
    let lines: Vec<&str> = page.lines().collect();
    let mut shown = String::new();
    let mut carried = String::new();
    for (place, line) in lines.iter().enumerate() {
        let indent = line.len() - line.trim_start().len();
        let mut line = match carried.is_empty() {
            true => (*line).to_owned(),
            false => format!("{}{carried} {}", " ".repeat(indent), line.trim_start()),
        };
        carried.clear();
        let next = lines.get(place + 1).copied().unwrap_or_default();
        let next_indent = next.len() - next.trim_start().len();
        // A line that begins further left, or with a label of its own, is another paragraph.
        let goes_on = next_indent > 0 && next_indent >= indent && !next.trim().contains("  ");
        let indent = text_column(&line).unwrap_or(indent.max(2));
        while line.width() > WIDTH && !line.get(indent..).is_none_or(|text| text.contains("   ")) {
            let Some(cut) = cut_at(&line) else { break };
            let rest = line.split_off(cut).trim_start().to_owned();
            if goes_on {
                carried = rest;
                break;
            }
            shown.push_str(line.trim_end());
            shown.push('\n');
            line = format!("{}{rest}", " ".repeat(indent));
        }
        shown.push_str(line.trim_end());
        shown.push('\n');
    }
    shown
}

/// Where the text begins behind a label of one word, such as `danger`; none where no label stands
/// at the left edge.
fn text_column(line: &str) -> Option<usize> {
    let (label, rest) = line.split_once("  ")?;
    let is_label = !label.is_empty() && !label.contains(' ') && label.is_ascii();
    is_label.then(|| line.len() - rest.trim_start().len())
}

/// Where the last word that fits ends.
fn cut_at(line: &str) -> Option<usize> {
    let start = line.len() - line.trim_start().len();
    let spaces = line.match_indices(' ').map(|(at, _)| at);
    let mut fits = spaces.filter(|at| *at > start && line[..*at].width() <= WIDTH);
    fits.next_back()
}

/// The two rows above figures of builds that stand one below the other: what they are, and in
/// which units.
pub(super) fn compared_heads(numbers: &Speller, currency: Currency) -> Vec<Vec<String>> {
    let heads = told::row_heads(&currency).into_iter().map(|row| {
        let cells = row.into_iter().map(|cell| numbers.unit(cell).to_owned());
        std::iter::once(String::new()).chain(cells).collect()
    });
    heads.collect()
}

/// The row of one build below these.
pub(super) fn compared_row(name: String, reading: &Reading, numbers: &Speller) -> Vec<String> {
    let mut row = vec![name];
    row.extend(numbers.cells(told::row(reading), COMPARED));
    row
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_keep_their_width_and_hang_under_their_first_word() {
        let text = "wide ".repeat(40);
        let shown = hanging("label", 10, &text);
        assert!(shown.lines().all(|line| line.width() <= WIDTH), "{shown}");
        assert!(
            shown.starts_with("label     wide")
                && shown
                    .lines()
                    .nth(1)
                    .is_some_and(|line| line.starts_with("          wide"))
        );
        assert_eq!(
            hanging("a long label", 4, "text"),
            "a long label\n    text\n"
        );
        assert_eq!(hanging("label", 10, ""), "");
        assert_eq!(wrap("宽宽 宽宽", 5), ["宽宽", "宽宽"]);
        assert_eq!(wrap("a\u{1b}[2Jb", 80), ["a\\u{1b}[2Jb"]);
    }

    #[test]
    fn what_grew_goes_on_in_the_next_line() {
        let long = format!("  {}", "wide ".repeat(17).trim_end());
        let page = format!("{long}\n  and on.\n\nnext\n");
        let wanted = format!(
            "  {}\n  wide wide and on.\n\nnext\n",
            "wide ".repeat(15).trim_end()
        );
        assert_eq!(fitted(&page), wanted);
        let alone = fitted(&format!("{long}\n\nnext\n"));
        assert!(alone.lines().all(|line| line.width() <= WIDTH), "{alone}");
        let row = format!("  {}   {}\n", "a".repeat(50), "b".repeat(50));
        assert_eq!(fitted(&row), row);
    }

    #[test]
    fn tables_line_up() {
        let row = |cells: [&str; 3]| cells.map(str::to_owned).to_vec();
        let rows = [row(["a", "1.5", "x"]), row(["longer", "10.0", ""])];
        assert_eq!(table("<><", &rows), "a        1.5  x\nlonger  10.0\n");
    }
}
