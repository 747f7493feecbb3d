//! Which rows of a frame are to be put on the grid: those whose strips differ from the last frame's.
//! To compare the texts of a row is much less work than to put it on a grid and to compare that.

use std::io::Write;

use ratatui::buffer::Buffer;
use ratatui::layout::{Rect, Size};

use super::lean::Lean;
use crate::screen::view::paint::Pen;
use crate::screen::view::{Composed, Strip};

/// The rows that were drawn last.
#[derive(Default)]
pub(super) struct Rows {
    strips: Vec<Vec<Strip>>,
    /// What they were drawn with.
    pen: Option<Pen>,
}

impl Rows {
    /// Forgets them: whatever comes next is drawn.
    pub(super) fn forget(&mut self) {
        *self = Self::default();
    }

    /// Hands the rows of a frame that are new to a terminal.
    pub(super) fn draw<W: Write>(&mut self, composed: Composed, to: &mut Lean<W>) {
        let Size { width, height } = composed.size();
        let (pen, rows) = composed.into_rows();
        if self.pen.as_ref() != Some(&pen) {
            self.forget();
        }
        let metric = pen.metric();
        let mut grid = Buffer::empty(Rect::new(0, 0, width, 1));
        for ((y, strips), place) in (0..height).zip(&rows).zip(0..) {
            if self.strips.get(place) == Some(strips) {
                continue;
            }
            grid.area.y = y;
            grid.reset();
            for strip in strips {
                strip.paint_on(&mut grid, &pen, &metric);
            }
            to.take(&grid);
        }
        (self.strips, self.pen) = (rows, Some(pen));
    }
}
