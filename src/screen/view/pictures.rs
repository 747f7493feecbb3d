//! The page of pictures: the machine to scale, and the figures that are seen faster than read.
//! Each picture has a table of the same numbers, for whoever would rather read or hear them.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::paint::Pen;
use crate::screen::pictures::PictureKind;
use crate::screen::state::State;
use crate::screen::text;
use crate::words::Words as _;

mod bars;
mod cost;
mod legend;
pub(super) mod live;
mod machine;
mod power;
mod removal;
mod room;
mod stiffness;
mod table;
mod torque;

/// Columns and rows of a drawing.
type Size = (usize, usize);

/// Rows of a page at least: on a low screen it scrolls.
const LEAST_ROWS: usize = 12;
/// Columns and rows that a drawing takes at most: on a wide page it would only stretch.
const MOST: Size = (110, 44);

/// Title and lines of a picture, or of its table.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    (kind, table): (PictureKind, bool),
) -> (String, Vec<Line<'static>>) {
    // Short enough for what is scrolled away to stand behind it on the narrowest screen.
    let title = format!("Picture: {}", kind.title());
    let mut lines = tabs(pen, width, kind);
    let height = state
        .drawn()
        .map_or(0, |layout| usize::from(layout.left.height));
    // Heading and foot take a row each.
    let rows = height.saturating_sub(2 + lines.len()).max(LEAST_ROWS);
    let told = pen.paragraph(kind.word().plain, width, pen.theme.muted);
    if table {
        lines.extend(told);
        lines.extend(as_table(state, pen, width, kind));
        return (title, lines);
    }
    lines.extend(match (kind, kind.axis()) {
        (_, Some(axis)) => torque::picture(state, pen, (width, rows), axis),
        (PictureKind::Plan | PictureKind::Front, _) => {
            machine::picture(state, pen, (width, rows), kind)
        }
        (PictureKind::Room, _) => room::picture(state, pen, (width, rows)),
        (PictureKind::Power, _) => [told, power::picture(state, pen, width)].concat(),
        (PictureKind::Stiffness, _) => [told, stiffness::picture(state, pen, width)].concat(),
        (PictureKind::Removal, _) => [told, removal::picture(state, pen, width)].concat(),
        _ => [told, cost::picture(state, pen, width)].concat(),
    });
    (title, lines)
}

fn as_table(state: &State, pen: &Pen, width: usize, kind: PictureKind) -> Vec<Line<'static>> {
    match (kind, kind.axis()) {
        (_, Some(axis)) => torque::table(state, pen, width, axis),
        (PictureKind::Plan | PictureKind::Front, _) => machine::table(state, pen, width, kind),
        (PictureKind::Room, _) => room::table(state, pen, width),
        (PictureKind::Power, _) => power::table(state, pen, width),
        (PictureKind::Stiffness, _) => stiffness::table(state, pen, width),
        (PictureKind::Removal, _) => removal::table(state, pen, width),
        _ => cost::table(state, pen, width),
    }
}

/// The names of all pictures, the one in view in brackets.
fn tabs(pen: &Pen, width: usize, kind: PictureKind) -> Vec<Line<'static>> {
    let mut lines: Vec<Vec<Span<'static>>> = vec![Vec::new()];
    let mut used = 0;
    for &one in PictureKind::ALL {
        let (name, style) = match one == kind {
            true => (format!("[{}]", one.short()), pen.theme.marked),
            false => (format!(" {} ", one.short()), Style::new()),
        };
        if used + text::width(&name) > width {
            lines.push(Vec::new());
            used = 0;
        }
        used += text::width(&name);
        if let Some(line) = lines.last_mut() {
            line.push(Span::styled(name, style));
        }
    }
    lines.into_iter().map(Line::from).collect()
}
