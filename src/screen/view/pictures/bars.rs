//! Bars: one for each row of a list, or one that is parted into the pieces of a whole. Pieces
//! bear the numbers of the list below, so that neither colour nor shade tells them apart alone.

use ratatui::style::Style;
use ratatui::text::Line;

use crate::screen::glyphs::Glyphs;
use crate::screen::text;
use crate::screen::view::paint::Pen;

/// A bar is no longer than this.
const LONGEST: usize = 100;

/// One piece of a whole.
pub(super) struct Part {
    /// What it is.
    pub(super) name: String,
    /// Its share of the whole bar, from 0 to 1.
    pub(super) share: f64,
    /// Its value in words.
    pub(super) value: String,
}

/// Columns of a bar on a page so wide.
pub(super) fn columns(width: usize) -> usize {
    width.saturating_sub(4).clamp(1, LONGEST)
}

/// The cell at which a share of a bar ends.
pub(super) fn cell(share: f64, columns: usize) -> usize {
    let share = if share.is_finite() { share } else { 0.0 };
    (share.clamp(0.0, 1.0) * columns as f64).round() as usize
}

/// A parted bar: each piece with its number where there is room, in shades that change.
pub(super) fn parted(pen: &Pen, columns: usize, parts: &[Part]) -> String {
    let mut drawn = String::new();
    let (mut share, mut from) = (0.0, 0);
    for (place, part) in parts.iter().enumerate() {
        share += part.share;
        let to = cell(share, columns).max(from);
        let number = (place + 1).to_string();
        drawn.push_str(&piece(pen, place, &number, to - from));
        from = to;
    }
    drawn.push_str(&" ".repeat(columns.saturating_sub(from)));
    drawn
}

fn piece(pen: &Pen, place: usize, number: &str, long: usize) -> String {
    const SHADES: [&str; 4] = ["█", "▒", "▓", "░"];
    const LETTERS: [&str; 4] = ["#", "=", "+", "-"];
    let shade = match pen.glyphs {
        Glyphs::Unicode => SHADES[place % SHADES.len()],
        Glyphs::Ascii => LETTERS[place % LETTERS.len()],
    };
    let label = format!(" {number} ");
    if long < label.len() {
        return shade.repeat(long);
    }
    let before = (long - label.len()) / 2;
    let after = long - label.len() - before;
    shade.repeat(before) + &label + &shade.repeat(after)
}

/// A line of marks below a bar: `^` where a share of it ends.
pub(super) fn marks(columns: usize, shares: &[f64]) -> String {
    let mut marks = vec![' '; columns + 1];
    for share in shares {
        if let Some(mark) = marks.get_mut(cell(*share, columns)) {
            *mark = '^';
        }
    }
    marks.into_iter().collect::<String>().trim_end().to_owned()
}

/// The list below a parted bar: number, name, value.
pub(super) fn list(pen: &Pen, width: usize, parts: &[Part]) -> Vec<Line<'static>> {
    let rows = parts.iter().enumerate().map(|(place, part)| {
        let name = format!("{:>2} {}", place + 1, part.name);
        (name, part.value.clone())
    });
    let rows: Vec<(String, String)> = rows.collect();
    pairs(pen, width, &rows)
}

/// Names and values, values below each other; a name breaks into lines before it would be cut.
pub(super) fn pairs(pen: &Pen, width: usize, rows: &[(String, String)]) -> Vec<Line<'static>> {
    let spelled: Vec<(String, String)> = rows
        .iter()
        .map(|(name, value)| (pen.spell(name), pen.spell(value)))
        .collect();
    let widest = |of: fn(&(String, String)) -> &String| {
        let widths = spelled.iter().map(|row| text::width(of(row)));
        widths.max().unwrap_or(0)
    };
    let value = widest(|row| &row.1);
    let name = widest(|row| &row.0)
        .min(width.saturating_sub(value + 6))
        .max(8);
    let mut lines = Vec::new();
    for (title, number) in &spelled {
        let indent = title.len() - title.trim_start().len();
        let words = text::wrap(title, name.saturating_sub(indent));
        for (place, words) in words.iter().enumerate() {
            let number = if place == 0 { number.as_str() } else { "" };
            let name = text::left(&(" ".repeat(indent) + words), name, pen.glyphs.cut());
            let number = text::right(number, value, pen.glyphs.cut());
            lines.push(Line::from(
                format!("  {name}  {number}").trim_end().to_owned(),
            ));
        }
    }
    lines
}

/// A heading with its value at the right end of the bars.
pub(super) fn head(pen: &Pen, width: usize, name: &str, value: &str) -> Line<'static> {
    let columns = columns(width);
    let value = pen.spell(value);
    let room = columns.saturating_sub(text::width(&value) + 1);
    let name = pen.left(name, room);
    Line::styled(format!("  {name} {value}"), pen.theme.title)
}

/// A bar as a line of its own.
pub(super) fn line(bar: &str) -> Line<'static> {
    Line::styled(format!("  {bar}").trim_end().to_owned(), Style::new())
}
