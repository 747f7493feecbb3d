//! What a terminal makes of one cell.

use ratatui::buffer::Cell;
use unicode_width::UnicodeWidthStr as _;

use crate::screen::terminal::ink::Ink;

/// Stands in the copy of what is shown for the other half of a wide letter.
pub(super) const HALF: &str = "\0";

/// Whether two cells cannot be told from each other.
pub(super) fn alike(one: &Cell, other: &Cell) -> bool {
    let (ink, others) = (Ink::of(one), Ink::of(other));
    one.symbol() == other.symbol()
        && (ink == others
            || (one.symbol() == " " && ink.leaves_blanks_plain() && others.leaves_blanks_plain()))
}

/// Whether nothing is seen in a cell, not even a ground.
pub(super) fn is_plain_blank(cell: &Cell) -> bool {
    cell.symbol() == " " && Ink::of(cell).leaves_blanks_plain()
}

/// How many columns a cell takes.
pub(super) fn width(cell: &Cell) -> u16 {
    cell.symbol().width().max(1) as u16
}

/// Whether a cell takes one column on every terminal.
pub(super) fn is_simple(cell: &Cell) -> bool {
    cell.symbol() != HALF && (cell.symbol().is_ascii() || is_surely_one(cell.symbol()))
}

/// Lines, blocks and braille take one column everywhere; of other letters terminals may hold
/// another opinion than the tables of Unicode.
pub(super) fn is_surely_one(symbol: &str) -> bool {
    let mut letters = symbol.chars();
    let first = letters.next();
    letters.next().is_none() && first.is_some_and(|letter| {
        matches!(letter, '\u{a0}'..='\u{ff}' | '\u{2500}'..='\u{259f}' | '\u{2800}'..='\u{28ff}')
            || matches!(letter, '\u{3bc}' | '\u{b2}' | '\u{b3}')
    })
}
