//! A frame before it stands on a grid: strips of one row each, in the order in which they are
//! put there. So that a terminal can tell by the strips of a row whether anything in it is new,
//! and leave out the others: most keys change a few rows.

use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::{Position, Rect, Size};
use ratatui::text::Line;

use super::paint::{Pen, paint};

/// A line and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    x: u16,
    y: u16,
    width: u16,
    line: Line<'static>,
    /// Whether its numbers stay metric, as on a sheet that is drawn as it is printed.
    metric: bool,
}

/// What a frame shows.
pub struct Composed {
    /// What it is drawn with.
    pen: Pen,
    area: Rect,
    strips: Vec<Strip>,
    /// Where the terminal's cursor stands; none where it is not to be seen.
    pub cursor: Option<Position>,
}

impl Composed {
    /// One that shows nothing yet, on a grid of some size.
    pub(in crate::screen) fn new(pen: Pen, size: Size) -> Self {
        Self {
            pen,
            area: Rect::from((Position::ORIGIN, size)),
            strips: Vec::new(),
            cursor: None,
        }
    }

    /// Puts lines into an area, over what stands there; what has no room in it is left out.
    pub(in crate::screen) fn put(&mut self, area: Rect, lines: Vec<Line<'static>>) {
        self.put_spelled(area, lines, false);
    }

    /// The same with numbers that stay metric.
    pub(super) fn put_metric(&mut self, area: Rect, lines: Vec<Line<'static>>) {
        self.put_spelled(area, lines, true);
    }

    fn put_spelled(&mut self, area: Rect, lines: Vec<Line<'static>>, metric: bool) {
        let area = area.intersection(self.area);
        let strips = lines.into_iter().zip(area.y..area.bottom());
        self.strips.extend(strips.map(|(line, y)| Strip {
            x: area.x,
            y,
            width: area.width,
            line,
            metric,
        }));
    }

    /// The size of its grid.
    pub fn size(&self) -> Size {
        self.area.as_size()
    }

    /// The strips of each row, from the top, in the order in which they are put there.
    pub fn into_rows(self) -> (Pen, Vec<Vec<Strip>>) {
        let mut rows = vec![Vec::new(); self.area.height.into()];
        for strip in self.strips {
            if let Some(row) = rows.get_mut(usize::from(strip.y)) {
                row.push(strip);
            }
        }
        (self.pen, rows)
    }

    /// Puts all of it on a grid of its size.
    pub fn paint_on(&self, buffer: &mut Buffer) {
        let metric = self.pen.metric();
        for strip in &self.strips {
            strip.paint_on(buffer, &self.pen, &metric);
        }
    }
}

impl Strip {
    /// The columns that it takes in its row.
    pub fn columns(&self) -> Range<u16> {
        self.x..self.x + self.width
    }

    /// Puts it on a grid that has its row.
    pub fn paint_on(&self, buffer: &mut Buffer, pen: &Pen, metric: &Pen) {
        let place = Position::new(self.x, self.y);
        let pen = if self.metric { metric } else { pen };
        paint(buffer, place, self.width, &self.line, pen);
    }
}
