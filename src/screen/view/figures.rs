//! The page of all figures: groups that open and close, each figure with its value.

use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use crate::screen::figures::Row;
use crate::screen::state::State;
use crate::screen::text;
use crate::units::show::grouped;

/// Columns before the text of a row: the arrow, and the mark of a group.
const MARGIN: usize = 2;
/// Columns by which a group's rows stand in.
const INDENT: usize = 2;
/// Columns that a title keeps beside the longest value.
const TITLE: usize = 14;

/// Title and rows; only those from the first in view on where a height is given.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    height: Option<usize>,
    finding: bool,
) -> (String, Vec<Line<'static>>) {
    if finding {
        let field = pen.find_field(&state.figures.field, width);
        let height = height.map(|height| height.saturating_sub(1));
        let (title, mut lines) = page(state, pen, width, height, false);
        lines.insert(0, field);
        return (title, lines);
    }
    let rows = state.figures.rows();
    let cursor = state.figures.cursor();
    let word = state.figures.field.value().trim();
    if rows.is_empty() {
        let text = match word.is_empty() {
            true => " No figure says how it came about.",
            false => " No figure is called so.",
        };
        return ("Figures".to_owned(), vec![Line::from(text)]);
    }
    let with = match word.is_empty() {
        true => String::new(),
        false => format!(" with \"{word}\""),
    };
    let title = format!("Figures{with}: {} of {}", cursor + 1, rows.len());
    let block = |place: usize| row(state, pen, width, &rows[place], place == cursor);
    let Some(height) = height else {
        return (title, (0..rows.len()).flat_map(block).collect());
    };
    // As many rows above the cursor as there is room for, then those below.
    let mut lines = block(cursor);
    let mut first = cursor;
    while first > 0 {
        let above = block(first - 1);
        if lines.len() + above.len() > height {
            break;
        }
        lines.splice(0..0, above);
        first -= 1;
    }
    // One line too many is enough: it is counted, not drawn. The rest count as one each.
    let mut next = cursor + 1;
    while next < rows.len() && lines.len() <= height {
        lines.extend(block(next));
        next += 1;
    }
    lines.extend(std::iter::repeat_n(Line::default(), rows.len() - next));
    (title, lines)
}

/// A group with how many figures it has, or a figure with its value; a long title takes
/// more than a line.
fn row(state: &State, pen: &Pen, width: usize, row: &Row, here: bool) -> Vec<Line<'static>> {
    let indent = MARGIN + row.depth() * INDENT;
    let (title, value, style) = match row {
        Row::Group {
            title, open, count, ..
        } => {
            let mark = if *open { "-" } else { "+" };
            let figures = if *count == 1 { "figure" } else { "figures" };
            let value = format!("{} {figures}", grouped(&count.to_string()));
            (format!("{mark} {title}"), value, pen.theme.title)
        }
        Row::Figure { path, within, .. } => match state.figures.head(path) {
            Some(figure) => {
                let value = figure.result.to_string();
                // In the group of an axis, its letter need not begin each row.
                let axis = path.strip_prefix("axes.").and_then(|rest| rest.get(..1));
                let letter = axis.map_or_else(String::new, |axis| format!("{axis}: "));
                // Among those that were found, it must.
                let in_group = row.depth() > 0;
                let title = figure.title.strip_prefix(&letter).filter(|_| in_group);
                let title = title.unwrap_or(&figure.title);
                let title = match within.is_empty() {
                    true => title.to_owned(),
                    false => format!("{title} ({within})"),
                };
                (title, value, Default::default())
            }
            None => (path.clone(), String::new(), Default::default()),
        },
    };
    let room = width.saturating_sub(indent + 1);
    let value = pen.cut(&value, room.saturating_sub(TITLE.min(room / 2)));
    let columns = room.saturating_sub(text::width(&value) + 2);
    let mut lines = Vec::new();
    for (place, part) in pen.wrap(&title, columns).into_iter().enumerate() {
        let arrow = if here && place == 0 { ">" } else { " " };
        let start = format!("{arrow}{}", " ".repeat(indent - 1));
        let value = if place == 0 { value.as_str() } else { "" };
        let line = Line::from(vec![
            Span::raw(start),
            Span::styled(pen.left(&part, columns), style),
            Span::raw(format!("  {}", pen.right(value, room - columns - 2))),
        ]);
        lines.push(match here {
            true => under_cursor(line, pen.theme.selected),
            false => line,
        });
    }
    lines
}
