//! What a terminal makes of one cell.

use ratatui::buffer::Cell;

use crate::screen::terminal::ink::Ink;
use crate::screen::text::{self, is_surely_one};

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
    let symbol = cell.symbol();
    match symbol.len() {
        0 | 1 => 1,
        _ => text::width(symbol).max(1) as u16,
    }
}

/// Whether a cell takes one column on every terminal.
pub(super) fn is_simple(cell: &Cell) -> bool {
    let mut letters = cell.symbol().chars();
    letters.next().is_some_and(is_surely_one) && letters.next().is_none()
}
