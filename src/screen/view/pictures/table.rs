//! Tables: a name at the left, which breaks into lines before it would be cut, and numbers at
//! the right.

use ratatui::style::Style;
use ratatui::text::Line;

use crate::screen::text;
use crate::screen::view::paint::Pen;

/// The least columns of a name.
const NAME: usize = 14;

/// A table of rows below their headings.
pub(super) fn table(
    pen: &Pen,
    width: usize,
    heads: &[&str],
    rows: &[Vec<String>],
) -> Vec<Line<'static>> {
    let spelled = rows.iter().map(|row| {
        let cells = row.iter().map(|cell| pen.spell(cell));
        cells.collect::<Vec<_>>()
    });
    let spelled: Vec<Vec<String>> = spelled.collect();
    let heads: Vec<String> = heads.iter().map(|head| pen.spell(head)).collect();
    let all = || spelled.iter().chain([&heads]);
    let columns: Vec<usize> = (1..heads.len())
        .map(|column| {
            let cells = all().filter_map(|row| row.get(column));
            cells.map(|cell| text::width(cell)).max().unwrap_or(0) + 2
        })
        .collect();
    let rest: usize = columns.iter().sum();
    let names = all().filter_map(|row| row.first());
    let longest = names.map(|name| text::width(name)).max().unwrap_or(0);
    let name = width.saturating_sub(rest + 2).max(NAME).min(longest);
    let mut lines = vec![Line::default()];
    for (place, row) in std::iter::once(&heads).chain(&spelled).enumerate() {
        let style = match place {
            0 => pen.theme.title,
            _ => Style::new(),
        };
        let words = text::wrap(row.first().map_or("", String::as_str), name);
        for at in 0..words.len().max(1) {
            let first = words.get(at).map_or("", String::as_str);
            let mut line = format!(" {}", text::left(first, name, pen.glyphs.cut()));
            for (cell, columns) in row.iter().skip(1).zip(&columns) {
                let cell = if at == 0 { cell.as_str() } else { "" };
                line.push_str(&text::right(cell, *columns, pen.glyphs.cut()));
            }
            lines.push(Line::styled(line.trim_end().to_owned(), style));
        }
    }
    lines
}
