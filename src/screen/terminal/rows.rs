//! Which stretches of a frame are to be put on the grid: the strips that differ from the last
//! frame's. To compare the texts of a row is much less work than to put it on a grid and to compare
//! that.

use std::io::Write;
use std::ops::Range;

use ratatui::buffer::Buffer;
use ratatui::layout::{Rect, Size};

use super::lean::Lean;
use crate::order::Order as _;
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

    /// Hands the stretches of a frame that are new to a terminal.
    pub(super) fn draw<W: Write>(&mut self, composed: Composed, to: &mut Lean<W>) {
        let Size { width, height } = composed.size();
        let (pen, rows) = composed.into_rows();
        if self.pen.as_ref() != Some(&pen) {
            self.forget();
        }
        let metric = pen.metric();
        let mut grid = Buffer::empty(Rect::new(0, 0, width, 1));
        for ((y, strips), place) in (0..height).zip(&rows).zip(0..) {
            let new = match self.strips.get(place) {
                Some(before) if stand_alike(before, strips) => changed(before, strips),
                _ => std::iter::once(0..width).collect(),
            };
            if new.is_empty() {
                continue;
            }
            grid.area.y = y;
            grid.reset();
            // What one strip leaves free another one may show.
            let touched = |strip: &&Strip| {
                let own = strip.columns();
                new.iter()
                    .any(|new| own.start < new.end && new.start < own.end)
            };
            for strip in strips.iter().filter(touched) {
                strip.paint_on(&mut grid, &pen, &metric);
            }
            for columns in new {
                to.take(&grid, columns);
            }
        }
        (self.strips, self.pen) = (rows, Some(pen));
    }
}

/// Whether the strips of a row stand where others did.
fn stand_alike(before: &[Strip], now: &[Strip]) -> bool {
    before.len() == now.len()
        && before
            .iter()
            .zip(now)
            .all(|(before, now)| before.columns() == now.columns())
}

/// The columns of those that are not what they were, from left to right, as a row is written:
/// strips are put there in any order.
fn changed(before: &[Strip], now: &[Strip]) -> Vec<Range<u16>> {
    let both = before.iter().zip(now);
    let changed = both.filter(|(before, now)| before != now);
    let mut changed: Vec<Range<u16>> = changed.map(|(_, now)| now.columns()).collect();
    changed.order_by_key(|columns| columns.start);
    changed
}

#[cfg(test)]
mod tests {
    use ratatui::text::Line;

    use super::*;
    use crate::screen::glyphs::Glyphs;
    use crate::screen::terminal::ink::Dialect;
    use crate::screen::terminal::lean::tests::Sent;
    use crate::screen::theme::Colours;
    use crate::units::marks::{Shown, System};
    use crate::units::respell::Speller;

    const SIZE: Size = Size::new(20, 3);

    /// A terminal, the rows that were drawn on it, and what it shows.
    struct Drawn {
        lean: Lean<Sent>,
        rows: Rows,
        sent: Sent,
        terminal: vt100::Parser,
    }

    impl Drawn {
        fn new() -> Self {
            let sent = Sent::default();
            let mut lean = Lean::new(sent.clone(), Dialect::Named, false);
            lean.start_anew(SIZE);
            Self {
                lean,
                rows: Rows::default(),
                sent,
                terminal: vt100::Parser::new(
                    SIZE.height.try_into().expect("rows"),
                    SIZE.width.try_into().expect("columns"),
                    0,
                ),
            }
        }

        /// Draws texts below each other; gives how many bytes that took.
        fn draw(&mut self, pen: &Pen, texts: [&str; 3]) -> usize {
            let mut composed = Composed::new(pen.clone(), SIZE);
            let lines = texts.map(|text| Line::raw(text.to_owned())).to_vec();
            composed.put(Rect::new(0, 0, SIZE.width, SIZE.height), lines);
            self.rows.draw(composed, &mut self.lean);
            self.lean.write();
            self.lean.flush().expect("sent");
            let bytes = self.sent.take();
            self.terminal.process(&bytes);
            bytes.len()
        }

        fn shows(&self) -> String {
            self.terminal.screen().contents()
        }
    }

    fn pen() -> Pen {
        Pen::new(Colours::None, Glyphs::Unicode)
    }

    #[test]
    fn rows_that_stay_are_not_written_and_others_are() {
        let mut drawn = Drawn::new();
        assert!(drawn.draw(&pen(), ["cost 1 200", "rapids", "socket"]) > 0);
        assert_eq!(drawn.draw(&pen(), ["cost 1 200", "rapids", "socket"]), 0);
        assert!(drawn.draw(&pen(), ["cost 1 200", "", "socket no"]) > 0);
        assert_eq!(drawn.shows(), "cost 1 200\n\nsocket no");
    }

    #[test]
    fn of_a_row_only_the_strips_that_changed_are_put_on_the_grid() {
        let mut drawn = Drawn::new();
        let mut draw = |below: &str, over: &str, beside: &str| {
            let mut composed = Composed::new(pen(), SIZE);
            for (x, width, text) in [(0, 10, below), (4, 3, over), (10, 10, beside)] {
                let line = Line::raw(text.to_owned());
                composed.put(Rect::new(x, 1, width, 1), vec![line]);
            }
            drawn.rows.draw(composed, &mut drawn.lean);
            let put = drawn.lean.changes();
            drawn.lean.write();
            drawn.lean.flush().expect("sent");
            drawn.terminal.process(&drawn.sent.take());
            (put, drawn.terminal.screen().contents())
        };
        assert_eq!(draw("one", "x", "two").1, "\none x     two");
        // What lies over a strip stays over it, and what was longer is gone.
        assert_eq!(draw("seven in", "x", "two").1, "\nsevex in  two");
        assert_eq!(draw("one", "x", "two").1, "\none x     two");
        let (put, shows) = draw("one", "x", "2");
        assert_eq!(shows.trim_end(), "\none x     2");
        assert!(put <= 3, "{put} cells");
    }

    #[test]
    fn strips_that_are_put_there_from_right_to_left_are_all_written() {
        let mut drawn = Drawn::new();
        let mut draw = |right: &str, left: &str| {
            let mut composed = Composed::new(pen(), SIZE);
            for (x, text) in [(10, right), (0, left)] {
                let line = Line::raw(text.to_owned());
                composed.put(Rect::new(x, 0, 10, 1), vec![line]);
            }
            drawn.rows.draw(composed, &mut drawn.lean);
            drawn.lean.write();
            drawn.lean.flush().expect("sent");
            drawn.terminal.process(&drawn.sent.take());
            drawn.terminal.screen().contents()
        };
        assert_eq!(draw("right", "left"), "left      right");
        assert_eq!(draw("other", "same"), "same      other");
        assert_eq!(draw("third", "more"), "more      third");
    }

    #[test]
    fn another_way_to_read_numbers_changes_rows_whose_text_is_the_same() {
        let mut drawn = Drawn::new();
        let texts = ["travel 25.4 mm", "", ""];
        drawn.draw(&pen(), texts);
        let inch = Shown {
            system: System::Inch,
            ..Shown::PLAIN
        };
        let other = Pen {
            speller: Speller::new(inch, std::iter::empty()),
            ..pen()
        };
        drawn.draw(&other, texts);
        assert!(drawn.shows().ends_with(" in"), "{}", drawn.shows());
    }
}
