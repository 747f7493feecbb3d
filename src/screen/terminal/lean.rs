//! Frames in few bytes: over a slow line they are what somebody waits for.
//!
//! What the terminal shows is kept here as well. So what would look the same is left out, short
//! stretches between two changes are written again instead of being jumped over, long blanks are
//! told by their length, and everything in one colour is written before the next, since to change
//! the colour costs more than to move the cursor. What the sequences mean: ECMA-48 (8.3.38 ECH,
//! 8.3.41 EL; the numbers are from memory), all of it older than any terminal in use but for ECH,
//! which the oldest are not sent.

use std::collections::BTreeSet;
use std::io::{self, Write};
use std::ops::Range;

use ratatui::buffer::{Buffer, Cell};
use ratatui::layout::{Position, Rect, Size};

use super::ink::{Dialect, Ink};
use cells::{HALF, alike, is_plain_blank, is_simple, width};

mod cells;
mod moves;

/// The marks around a frame that is to be shown at once (private mode 2026, which terminals
/// that do not know it pass over).
const BEGIN: &[u8] = b"\x1b[?2026h";
const END: &[u8] = b"\x1b[?2026l";

/// As many bytes as a move within a row takes, at least: a gap that takes no more is written.
const MOVE: usize = 4;

/// More runs than most frames have.
const RUNS: usize = 64;

/// Writes frames to a terminal.
pub(super) struct Lean<W> {
    to: W,
    dialect: Dialect,
    /// Whether frames are marked to be shown at once.
    marked: bool,
    /// What is to be sent.
    frame: Vec<u8>,
    /// What the terminal shows once that is sent.
    shown: Buffer,
    /// The places that look different from what the terminal shows, row by row.
    changed: Vec<(u16, u16)>,
    /// Where its cursor is; none where that is not sure.
    at: Option<Position>,
    ink: Ink,
    /// Whether the cursor is to be seen; none where that is not known.
    visible: Option<bool>,
    /// Rows in which wide letters come or go. Half of one written over takes the other half
    /// along, not everywhere alike: such a row is written from left to right.
    delicate: BTreeSet<u16>,
}

/// Cells in a row and one ink that are written in one go.
#[derive(Clone, Copy)]
struct Run {
    y: u16,
    start: u16,
    /// Behind the last one.
    end: u16,
    /// None where all is blank: any ink that leaves blanks plain will do.
    ink: Option<Ink>,
}

impl Run {
    /// Whether a cell can be written in its ink.
    fn suits(&self, cell: &Cell) -> bool {
        let ink = Ink::of(cell);
        match self.ink {
            Some(own) => own == ink || (is_plain_blank(cell) && own.leaves_blanks_plain()),
            None => ink.leaves_blanks_plain(),
        }
    }
}

impl<W: Write> Lean<W> {
    /// In front of a writer.
    pub(super) fn new(to: W, dialect: Dialect, marked: bool) -> Self {
        Self {
            to,
            dialect,
            marked,
            frame: Vec::new(),
            shown: Buffer::default(),
            changed: Vec::new(),
            at: None,
            ink: Ink::default(),
            visible: None,
            delicate: BTreeSet::new(),
        }
    }

    /// Sends something that moves nothing and writes nothing along with the next frame.
    pub(super) fn tell(&mut self, sequence: &str) {
        self.frame.extend_from_slice(sequence.as_bytes());
    }

    /// After something else wrote to the terminal: nothing is sure.
    pub(super) fn forget(&mut self) {
        self.frame.extend_from_slice(b"\x1b[m");
        self.ink = Ink::default();
        self.at = None;
        self.visible = None;
    }

    /// The size of the screen that is drawn on.
    pub(super) fn size(&self) -> Size {
        self.shown.area.as_size()
    }

    /// Clears a screen of some size.
    pub(super) fn start_anew(&mut self, size: Size) {
        self.dip(Ink::default());
        self.tell("\x1b[2J");
        self.shown = Buffer::empty(Rect::from((Position::ORIGIN, size)));
    }

    /// Takes in columns of rows of a frame, at their place; those that are not told of stay as
    /// they are.
    pub(super) fn take(&mut self, rows: &Buffer, columns: Range<u16>) {
        let end = columns.end.min(rows.area.right());
        let across = usize::from(self.shown.area.width);
        for (y, row) in (rows.area.y..).zip(rows.content.chunks(rows.area.width.max(1).into())) {
            let begin = usize::from(y) * across;
            let Some(shown) = self.shown.content.get_mut(begin..begin + across) else {
                return;
            };
            let mut x = columns.start.max(rows.area.x);
            while x < end {
                let cell = row.get(usize::from(x - rows.area.x));
                let (Some(cell), Some(there)) = (cell, shown.get_mut(usize::from(x))) else {
                    break;
                };
                let now = width(cell);
                if there != cell {
                    if !alike(there, cell) {
                        self.changed.push((x, y));
                    }
                    if there.symbol() == HALF || width(there) > 1 || now > 1 {
                        self.delicate.insert(y);
                    }
                    there.clone_from(cell);
                    // The other half of a wide letter is no place of its own until something is
                    // written there.
                    for half in x + 1..x + now {
                        if let Some(half) = shown.get_mut(usize::from(half)) {
                            half.set_symbol(HALF);
                        }
                    }
                }
                x += now;
            }
        }
    }

    /// How many places look different from what the terminal shows.
    #[cfg(test)]
    pub(super) fn changes(&self) -> usize {
        self.changed.len()
    }

    /// Writes what looks different from what is there, of all that was taken in.
    pub(super) fn write(&mut self) {
        let runs = self.runs();
        let mut inks = vec![None, Some(self.ink)];
        for run in &runs {
            if !inks.contains(&run.ink) {
                inks.push(run.ink);
            }
        }
        let delicate = std::mem::take(&mut self.delicate);
        let (by_place, by_ink): (Vec<Run>, Vec<Run>) =
            runs.into_iter().partition(|run| delicate.contains(&run.y));
        for run in by_place {
            self.write_run(run, false);
        }
        for ink in inks {
            for run in by_ink.iter().filter(|run| run.ink == ink) {
                self.write_run(*run, self.dialect == Dialect::Named);
            }
        }
    }

    /// Shows the cursor at a place, or hides it.
    pub(super) fn point(&mut self, at: Option<Position>) {
        self.show(at.is_some());
        if let Some(at) = at {
            self.travel(at.x, at.y);
        }
    }

    /// Sends the frame in one piece, if there is anything in it.
    pub(super) fn flush(&mut self) -> io::Result<()> {
        if self.frame.is_empty() {
            return Ok(());
        }
        let parts: &[&[u8]] = match self.marked {
            true => &[BEGIN, &self.frame, END],
            false => &[&self.frame],
        };
        let sent = self.to.write_all(&parts.concat());
        self.frame.clear();
        sent?;
        self.to.flush()
    }

    /// The changed cells as runs, each as long as writing on costs less than moving.
    fn runs(&mut self) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::with_capacity(RUNS);
        let across = usize::from(self.shown.area.width);
        for &(x, y) in &self.changed {
            let place = usize::from(y) * across + usize::from(x);
            let Some(cell) = self.shown.content.get(place) else {
                continue;
            };
            let ink = (!is_plain_blank(cell)).then_some(Ink::of(cell));
            // Most go on where the last one ended, in its ink.
            if let Some(last) = runs.last_mut()
                && (last.y, last.end, last.ink) == (y, x, ink)
            {
                last.end = x + width(cell);
                continue;
            }
            let joins = |run: &Run| {
                (run.y == y && run.end <= x)
                    && run.suits(cell)
                    && self.can_write(*run, ink.or(run.ink), x)
            };
            let end = x + width(cell);
            // A few back in this row: what lies between may be in another ink, and blank.
            match runs.iter_mut().rev().take(4).find(|run| joins(run)) {
                Some(run) => {
                    run.end = end;
                    run.ink = run.ink.or(ink);
                }
                None => runs.push(Run {
                    y,
                    start: x,
                    end,
                    ink,
                }),
            }
        }
        self.changed.clear();
        runs
    }

    /// Whether what lies between a run and a place can be written again in an ink, in no more
    /// bytes than a move takes.
    fn can_write(&self, run: Run, ink: Option<Ink>, x: u16) -> bool {
        let mut bytes = 0;
        (run.end..x).all(|between| {
            self.shown.cell((between, run.y)).is_some_and(|cell| {
                bytes += cell.symbol().len();
                Run { ink, ..run }.suits(cell) && is_simple(cell) && bytes <= MOVE
            })
        })
    }

    /// Writes a run; long blanks by their length where the terminal can.
    fn write_run(&mut self, run: Run, erases: bool) {
        let ink = match run.ink {
            Some(ink) => ink,
            None if self.ink.leaves_blanks_plain() => self.ink,
            None => Ink::default(),
        };
        self.dip(ink);
        let row = usize::from(run.y) * usize::from(self.shown.area.width);
        let mut x = run.start;
        while x < run.end {
            let begin = row + usize::from(x);
            let cells = self.shown.content.get(begin..row + usize::from(run.end));
            let cells = cells.unwrap_or_default().iter();
            let blanks = cells.take_while(|cell| cell.symbol() == " ").count() as u16;
            if blanks > 0 && ink.leaves_blanks_plain() {
                let after = x + blanks;
                // Nothing but blanks up to the edge, be they new or old.
                if after == run.end && self.is_blank_from(after, run.y) && blanks > 3 {
                    self.travel(x, run.y);
                    self.frame.extend_from_slice(b"\x1b[K");
                    return;
                }
                let erased = "\x1b[X".len() + blanks.ilog10() as usize + 1;
                let moved = if after == run.end { 0 } else { MOVE + 1 };
                if erases && usize::from(blanks) > erased + moved {
                    self.travel(x, run.y);
                    self.frame.extend_from_slice(b"\x1b[");
                    moves::number(&mut self.frame, blanks);
                    self.frame.push(b'X');
                    x = after;
                    continue;
                }
            }
            self.travel(x, run.y);
            let Some(cell) = self.shown.content.get(begin) else {
                return;
            };
            self.frame.extend_from_slice(cell.symbol().as_bytes());
            x += width(cell);
            self.at = is_simple(cell)
                .then_some(Position::new(x, run.y))
                // Behind the last column terminals do not agree where the cursor is.
                .filter(|at| at.x < self.shown.area.width);
        }
    }

    fn is_blank_from(&self, x: u16, y: u16) -> bool {
        (x..self.shown.area.width).all(|x| self.shown.cell((x, y)).is_none_or(is_plain_blank))
    }

    /// Changes to an ink.
    fn dip(&mut self, ink: Ink) {
        let sequence = ink.instead_of(self.ink, self.dialect);
        self.frame.extend_from_slice(sequence.as_bytes());
        self.ink = ink;
    }

    /// Moves the cursor, the shortest way.
    fn travel(&mut self, x: u16, y: u16) {
        let to = Position::new(x, y);
        if self.at != Some(to) {
            moves::shortest(&mut self.frame, self.at, to);
            self.at = Some(to);
        }
    }

    fn show(&mut self, visible: bool) {
        if self.visible.replace(visible) != Some(visible) {
            self.tell(if visible { "\x1b[?25h" } else { "\x1b[?25l" });
        }
    }
}

#[cfg(test)]
pub(super) mod tests;
