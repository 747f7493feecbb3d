//! The machine's floor in the room, in a corner, with the room that a person needs beside it.

use ratatui::style::Style;
use ratatui::text::Line;

use super::legend::{self, Legend};
use super::machine::{by, mm};
use super::{MOST, Size, table};
use crate::screen::state::State;
use crate::screen::view::drawing::{Canvas, DOTS, Fill, Frame, Stroke};
use crate::screen::view::paint::Pen;
use crate::sheets::pictures::seen::Floor;

/// The picture with its legend.
pub(super) fn picture(state: &State, pen: &Pen, (width, rows): Size) -> Vec<Line<'static>> {
    let Some(scene) = state.pictures.now() else {
        return Vec::new();
    };
    let floor = &scene.floor;
    let columns = legend::left_over(width, 4);
    let (columns, high) = (columns.min(MOST.0), rows.min(MOST.1));
    let (x, y) = floor.all();
    let fits = |cells: usize, dots: usize, mm: f64| (cells.max(2) * dots) as f64 / mm.max(1.0);
    let per_mm = fits(columns, DOTS.0, x).min(fits(high, DOTS.1, y));
    let drawing = draw(pen, floor, (columns, high), per_mm);
    legend::with((width, rows), drawing, |width| {
        let mut legend = Legend::new(pen, width);
        legend.scale(per_mm);
        let walls = format!("walls of the room: {}", by(floor.room_x, floor.room_y));
        legend.stroke(Stroke::Thick, Style::new(), &walls);
        let machine = format!("machine, with motors: {}", by(floor.wide, floor.deep));
        legend.fill(Fill::Rising, pen.theme.title, &machine);
        let access = format!("{} to stand on two sides", mm(floor.access));
        legend.fill(Fill::Level, pen.theme.muted, &access);
        legend.text(says(floor), Style::new());
        legend.text(
            "Cables, hoses and the door's swing are not counted.",
            pen.theme.muted,
        );
        legend.lines()
    })
}

fn says(floor: &Floor) -> &'static str {
    match floor.fits() {
        true => "Machine and a person beside it fit into the room.",
        false => {
            "Machine and a person beside it do not fit into the room: what lies beyond the walls is what is missing."
        }
    }
}

fn draw(pen: &Pen, floor: &Floor, (columns, rows): Size, per_mm: f64) -> Vec<Line<'static>> {
    let (x, y) = floor.all();
    let cells = |mm: f64, dots: usize| (mm * per_mm / dots as f64).ceil().max(1.0) as usize;
    let size = (cells(x, DOTS.0).min(columns), cells(y, DOTS.1).min(rows));
    let mut canvas = Canvas::new(pen.glyphs, size.0, size.1);
    let frame = |x: f64, y: f64| Frame {
        left: 0.0,
        top: 0.0,
        right: x * per_mm,
        bottom: y * per_mm,
    };
    let (needed_x, needed_y) = floor.needed();
    let plain = Stroke::Plain;
    canvas.rect(
        frame(needed_x, needed_y),
        Fill::Level,
        plain,
        pen.theme.muted,
    );
    canvas.rect(
        frame(floor.wide, floor.deep),
        Fill::Rising,
        plain,
        pen.theme.title,
    );
    let walls = frame(floor.room_x, floor.room_y);
    canvas.rect(walls, Fill::None, Stroke::Thick, Style::new());
    let machine = frame(floor.wide, floor.deep);
    if machine.right >= 22.0 && machine.bottom >= 12.0 {
        let row = (machine.bottom / 2.0 / DOTS.1 as f64) as usize;
        canvas.word((1, row), " machine ", pen.theme.title);
    }
    canvas.lines()
}

/// The same numbers as a table.
pub(super) fn table(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let Some(scene) = state.pictures.now() else {
        return Vec::new();
    };
    let floor = &scene.floor;
    let (needed_x, needed_y) = floor.needed();
    let rows = [
        ("Room", floor.room_x, floor.room_y),
        ("Machine, with motors", floor.wide, floor.deep),
        ("Machine and a person beside it", needed_x, needed_y),
        (
            "Left over",
            floor.room_x - needed_x,
            floor.room_y - needed_y,
        ),
    ];
    let rows = rows.map(|(name, x, y)| vec![name.to_owned(), mm(x), mm(y)]);
    let mut lines = table::table(pen, width, &["What", "along X", "along Y"], &rows);
    lines.extend(pen.paragraph(says(floor), width, Style::new()));
    lines
}
