//! A drawing surface for terminals: lines, filled rectangles and words on a grid of cells.
//!
//! A cell is taken as twice as high as wide, as common typefaces have it, and parted into 2 by 4
//! dots; so a dot is a square, and what is drawn to scale is so in both directions. Where the
//! terminal shows Unicode the dots are those of braille; in ASCII a cell is one letter, so
//! strokes and fills have letters of their own. Nothing is told apart by colour alone.

use ratatui::style::Style;
use ratatui::text::{Line, Span};
use unicode_segmentation::UnicodeSegmentation as _;

use crate::screen::glyphs::Glyphs;
use crate::screen::text;

#[cfg(test)]
mod tests;

/// Dots of a cell from left to right, and from top to bottom.
pub(super) const DOTS: (usize, usize) = (2, 4);

/// How an area is filled; each hides what lies below, but `None`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fill {
    /// Not at all.
    None,
    /// Blank.
    Blank,
    /// A few dots.
    Light,
    /// Lines that rise to the right.
    Rising,
    /// Upright lines.
    Upright,
    /// Level lines.
    Level,
    /// Every other dot.
    Half,
    /// All of it.
    Full,
}

impl Fill {
    fn has(self, x: usize, y: usize) -> bool {
        match self {
            Self::None | Self::Blank => false,
            Self::Light => (x + 2 * (y / 2)).is_multiple_of(4) && y.is_multiple_of(2),
            Self::Rising => (x + y).is_multiple_of(4),
            Self::Upright => x.is_multiple_of(2) && !y.is_multiple_of(4),
            Self::Level => y.is_multiple_of(4),
            Self::Half => (x + y).is_multiple_of(2),
            Self::Full => true,
        }
    }

    fn letter(self) -> char {
        match self {
            Self::None | Self::Blank => ' ',
            Self::Light => ':',
            Self::Rising => '/',
            Self::Upright => '=',
            Self::Level => '-',
            Self::Half => 'x',
            Self::Full => '#',
        }
    }
}

/// How a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stroke {
    /// No line.
    None,
    /// A plain line.
    Plain,
    /// A line twice as thick.
    Thick,
    /// Dashes.
    Dashed,
    /// Dots.
    Dotted,
    /// Dashes and dots in turn, for what would be.
    After,
}

impl Stroke {
    /// Whether the dot so far along the line is drawn.
    fn has(self, along: usize) -> bool {
        match self {
            Self::None => false,
            Self::Plain | Self::Thick => true,
            Self::Dashed => along % 4 < 2,
            Self::Dotted => along.is_multiple_of(4),
            Self::After => matches!(along % 6, 0..=2 | 4),
        }
    }

    /// Its letter for a line that goes across, down, or both.
    fn letter(self, across: bool, down: bool) -> char {
        match self {
            Self::None => ' ',
            Self::Plain if across && down => '+',
            Self::Plain if across => '-',
            Self::Plain if down => '|',
            Self::Plain => '+',
            Self::Thick => '#',
            Self::Dashed => '*',
            Self::Dotted => '.',
            Self::After => 'o',
        }
    }
}

/// An upright rectangle in dots from the upper left corner: left, top, right, bottom.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Frame {
    /// Its outermost dots: left, top, right, bottom; at least one dot.
    fn dots(self) -> (i64, i64, i64, i64) {
        let (left, top) = (whole(self.left), whole(self.top));
        let right = (whole(self.right) - 1).max(left);
        let bottom = (whole(self.bottom) - 1).max(top);
        (left, top, right, bottom)
    }
}

/// The nearest whole dot; none farther out than any screen, and none for what is no number.
fn whole(place: f64) -> i64 {
    const FAR: f64 = 4096.0;
    place.round().clamp(-FAR, FAR) as i64
}

/// One cell.
#[derive(Clone, Debug, Default)]
struct Cell {
    /// Its dots, as bits of a braille letter.
    dots: u8,
    /// Its letter in ASCII.
    letter: Option<char>,
    /// Whether that letter is a fill's: no line meets it, though it may look like one.
    filled: bool,
    /// A word's letter over it; empty right of a wide one.
    word: Option<String>,
    style: Style,
}

/// A drawing in the making.
pub(super) struct Canvas {
    glyphs: Glyphs,
    columns: usize,
    rows: usize,
    cells: Vec<Cell>,
}

impl Canvas {
    /// An empty drawing of so many cells.
    pub(super) fn new(glyphs: Glyphs, columns: usize, rows: usize) -> Self {
        Self {
            glyphs,
            columns,
            rows,
            cells: vec![Cell::default(); columns * rows],
        }
    }

    /// Draws a rectangle: its fill, then its outline.
    pub(super) fn rect(&mut self, frame: Frame, fill: Fill, stroke: Stroke, style: Style) {
        let (left, top, right, bottom) = frame.dots();
        if fill != Fill::None {
            self.fill((left, top, right, bottom), fill, style);
        }
        // In letters what is narrow is its fill alone: an outline would leave nothing of it.
        let cells = |from: i64, to: i64, dots: usize| to / dots as i64 - from / dots as i64 + 1;
        let thin = cells(left, right, DOTS.0) < 3 || cells(top, bottom, DOTS.1) < 3;
        let filled = !matches!(fill, Fill::None | Fill::Blank);
        if self.glyphs == Glyphs::Ascii && filled && thin {
            return;
        }
        let [left, top, right, bottom] = [left, top, right, bottom].map(|at| at as f64);
        for (from, to) in [
            ((left, top), (right, top)),
            ((left, bottom), (right, bottom)),
            ((left, top), (left, bottom)),
            ((right, top), (right, bottom)),
        ] {
            self.line(from, to, stroke, style);
        }
    }

    fn fill(&mut self, (left, top, right, bottom): (i64, i64, i64, i64), fill: Fill, style: Style) {
        for y in top.max(0)..=bottom.min(self.high() - 1) {
            for x in left.max(0)..=right.min(self.wide() - 1) {
                let (x, y) = (x as usize, y as usize);
                let letter = (self.glyphs == Glyphs::Ascii).then(|| fill.letter());
                let Some(cell) = self.cell(x, y) else {
                    continue;
                };
                let bit = bit(x, y);
                cell.dots &= !bit;
                if fill.has(x, y) {
                    cell.dots |= bit;
                }
                cell.letter = letter;
                cell.filled = true;
                cell.style = style;
            }
        }
    }

    /// Draws a line between two points in dots.
    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), stroke: Stroke, style: Style) {
        self.stretch(from, to, (stroke, 0.0), style);
    }

    /// Draws a stretch of a longer line, so many dots after its beginning, so that dashes go on.
    pub(super) fn stretch(
        &mut self,
        from: (f64, f64),
        to: (f64, f64),
        (stroke, before): (Stroke, f64),
        style: Style,
    ) {
        if stroke == Stroke::None {
            return;
        }
        let before = whole(before);
        let (x, y) = (whole(from.0), whole(from.1));
        let (across, down) = (whole(to.0) - x, whole(to.1) - y);
        let steps = across.abs().max(down.abs());
        for step in 0..=steps {
            let at = |length: i64| match steps {
                0 => 0,
                steps => whole(length as f64 * step as f64 / steps as f64),
            };
            let (x, y) = (x + at(across), y + at(down));
            let along = before + step;
            self.mark((x, y), stroke, (across != 0, down != 0), along, style);
            if stroke == Stroke::Thick && self.glyphs == Glyphs::Unicode {
                self.mark((x, y + 1), stroke, (across != 0, down != 0), along, style);
            }
        }
    }

    fn mark(
        &mut self,
        (x, y): (i64, i64),
        stroke: Stroke,
        (across, down): (bool, bool),
        along: i64,
        style: Style,
    ) {
        let (Ok(x), Ok(y)) = (usize::try_from(x), usize::try_from(y)) else {
            return;
        };
        let ascii = self.glyphs == Glyphs::Ascii;
        let Some(cell) = self.cell(x, y) else { return };
        if ascii {
            let other = match cell.letter.filter(|_| !cell.filled) {
                Some('-') => (true, false),
                Some('|') => (false, true),
                Some('+') => (true, true),
                _ => (false, false),
            };
            // Lines that meet become a corner; a slanted one has no letter of its own.
            let both = match across && down {
                true => (false, false),
                false => (across || other.0, down || other.1),
            };
            cell.letter = Some(stroke.letter(both.0, both.1));
            cell.filled = false;
            cell.style = style;
        } else if stroke.has(usize::try_from(along).unwrap_or(0)) {
            cell.dots |= bit(x, y);
            cell.style = style;
        }
    }

    /// Writes a word from a cell on, over what is drawn; what does not fit is left out.
    pub(super) fn word(&mut self, (column, row): (usize, usize), word: &str, style: Style) {
        let mut at = column;
        if row >= self.rows || column + text::width(word) > self.columns {
            return;
        }
        for letter in word.graphemes(true) {
            let wide = text::width(letter);
            for place in at..at + wide {
                let shown = if place == at { letter } else { "" };
                let cell = &mut self.cells[row * self.columns + place];
                cell.word = Some(shown.to_owned());
                cell.style = style;
            }
            at += wide;
        }
    }

    /// The rows of the drawing.
    pub(super) fn lines(self) -> Vec<Line<'static>> {
        let glyphs = self.glyphs;
        let rows = self.cells.chunks(self.columns.max(1)).take(self.rows);
        rows.map(|cells| {
            let mut spans: Vec<Span<'static>> = Vec::new();
            for cell in cells {
                let shown = cell.shown(glyphs);
                match spans.last_mut() {
                    Some(last) if last.style == cell.style => {
                        last.content.to_mut().push_str(&shown);
                    }
                    _ => spans.push(Span::styled(shown, cell.style)),
                }
            }
            Line::from(spans)
        })
        .collect()
    }

    fn cell(&mut self, x: usize, y: usize) -> Option<&mut Cell> {
        let (column, row) = (x / DOTS.0, y / DOTS.1);
        if column >= self.columns {
            return None;
        }
        self.cells.get_mut(row * self.columns + column)
    }

    fn wide(&self) -> i64 {
        i64::try_from(self.columns * DOTS.0).unwrap_or(i64::MAX)
    }

    fn high(&self) -> i64 {
        i64::try_from(self.rows * DOTS.1).unwrap_or(i64::MAX)
    }
}

impl Cell {
    fn shown(&self, glyphs: Glyphs) -> String {
        match (&self.word, glyphs, self.letter) {
            (Some(word), ..) => word.clone(),
            (None, Glyphs::Ascii, Some(letter)) => letter.to_string(),
            // Braille without dots is no blank in every typeface.
            (None, Glyphs::Unicode, _) if self.dots > 0 => {
                char::from_u32(0x2800 + u32::from(self.dots)).map_or_else(String::new, String::from)
            }
            _ => " ".to_owned(),
        }
    }
}

/// The bit of a dot in a braille letter (Unicode, block 2800 to 28FF).
fn bit(x: usize, y: usize) -> u8 {
    const BITS: [[u8; 4]; 2] = [[0x01, 0x02, 0x04, 0x40], [0x08, 0x10, 0x20, 0x80]];
    BITS[x % DOTS.0][y % DOTS.1]
}
