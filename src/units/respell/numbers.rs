//! Finds the numbers of a text, as the program writes them, with their units.

use std::ops::Range;

use super::{BREAK, KEPT, is_mark};
use crate::units::entry;

/// Words between two numbers that share the unit behind the second.
const JOINTS: [&str; 6] = [" to ", " x ", " → ", " -> ", " × ", ".."];

/// Words between two sizes of a list whose unit stands behind the last.
const LISTS: [&str; 5] = [" and ", " or ", ", ", " or of ", " or a "];

/// Words before a number that is the place of something in a standard.
const STANDARDS: [&str; 8] = [
    "ISO ", "IEC ", "EN ", "DIN ", "NFPA ", "VDI ", "NIST ", "version ",
];

/// A number in a text.
#[derive(Clone, Debug)]
pub(super) struct Number<'t> {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) digits: &'t str,
    pub(super) unit: &'t str,
    /// Where the unit ends; where the number does, if it has none.
    pub(super) unit_end: usize,
}

impl Number<'_> {
    /// The same in a line that stands there in the whole, and begins with an indent.
    pub(super) fn within(&self, line: Range<usize>, indent: usize) -> Self {
        let moved = |place: usize| place.min(line.end) + indent - line.start;
        Self {
            start: moved(self.start),
            end: moved(self.end),
            unit_end: moved(self.unit_end),
            ..self.clone()
        }
    }
}

/// The unit of the first of some numbers: its own, or that of the one that it is joined with.
pub(super) fn shared<'t>(text: &'t str, numbers: &[Number<'t>]) -> &'t str {
    for (place, number) in numbers.iter().enumerate() {
        if !number.unit.is_empty() {
            return number.unit;
        }
        let next = numbers.get(place + 1);
        let between = next.and_then(|next| text.get(number.end..next.start));
        let between = between.map(|between| between.replace(BREAK, " "));
        if !between.is_some_and(|between| JOINTS.contains(&between.as_str())) {
            return "";
        }
    }
    ""
}

/// Whether a number ends a list of sizes, as in `15 or 20 mm rails`. Its unit stands for all of
/// them, so it stays: half a list in inches would be worse than none.
pub(super) fn is_listed(text: &str, numbers: &[Number], place: usize) -> bool {
    let Some(before) = place.checked_sub(1).and_then(|before| numbers.get(before)) else {
        return false;
    };
    let between = numbers
        .get(place)
        .and_then(|number| text.get(before.end..number.start));
    let between = between.map(|between| between.replace(BREAK, " "));
    before.unit.is_empty() && between.is_some_and(|between| LISTS.contains(&between.as_str()))
}

/// Whether a text ends within the name of a standard.
pub(super) fn is_in_standard(before: &str) -> bool {
    let sentence = before.rsplit(". ").next().unwrap_or(before);
    // A name ends at a colon: `plate, EN AW-5083: 12.89 kg`.
    let name = sentence.rsplit(": ").next().unwrap_or(sentence);
    STANDARDS.iter().any(|standard| name.contains(standard))
}

/// The numbers of a text, as the program writes them: no part of a word, a date or a version.
pub(super) fn numbers(text: &str) -> Vec<Number<'_>> {
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(next) = text[at..].find(|c: char| c.is_ascii_digit()) {
        let start = at + next;
        let end = number_end(text, start);
        if !begins(&text[..start]) || !ends(&text[end..]) {
            at = word_end(text, start);
            continue;
        }
        let (unit, unit_end) = unit_behind(text, end);
        found.push(Number {
            start,
            end,
            digits: &text[start..end],
            unit,
            unit_end,
        });
        at = unit_end;
    }
    found
}

/// Digits in groups of three, then those behind a point.
fn number_end(text: &str, start: usize) -> usize {
    let digits = |from: usize| text[from..].bytes().take_while(u8::is_ascii_digit).count();
    let first = digits(start);
    let mut end = start + first;
    let mut grouped = first <= 3 && !text[start..].starts_with('0');
    while grouped {
        grouped = text[end..].starts_with(' ') && digits(end + 1) == 3;
        end += if grouped { 4 } else { 0 };
    }
    let fraction = match text[end..].starts_with('.') {
        true => digits(end + 1),
        false => 0,
    };
    end + if fraction > 0 { 1 + fraction } else { 0 }
}

/// Whether a number may begin behind this.
fn begins(before: &str) -> bool {
    let mut back = before.chars().rev();
    match back.next() {
        Some('-' | '/') => !back.next().is_some_and(char::is_alphanumeric),
        Some('.') => before.ends_with(".."),
        Some(c) => !(c.is_alphanumeric() || is_mark(c) || "_,'".contains(c)),
        None => true,
    }
}

/// Whether a number may end before this.
fn ends(behind: &str) -> bool {
    let mut chars = behind.chars();
    match chars.next() {
        Some('.') if behind.starts_with("..") => true,
        Some('.' | ',' | ':' | '/' | '\'') => !chars.next().is_some_and(|c| c.is_ascii_digit()),
        Some('-') => !chars.next().is_some_and(char::is_alphanumeric),
        Some(c) => !(c.is_alphanumeric() || c == '_' || (is_mark(c) && c != KEPT)),
        None => true,
    }
}

/// Where what holds a digit and is no number ends.
fn word_end(text: &str, start: usize) -> usize {
    let inside = |c: char| c.is_alphanumeric() || is_mark(c) || "_.,:/'-".contains(c);
    let end = text[start..].find(|c: char| !inside(c));
    end.map_or(text.len(), |end| start + end)
}

/// The word behind a number, where it is the name of a unit, and where that ends.
fn unit_behind(text: &str, end: usize) -> (&str, usize) {
    let rest = &text[end..];
    let space = usize::from(rest.starts_with([' ', BREAK]));
    let inside = |c: char| c.is_alphabetic() || "·/²³%°µμ".contains(c);
    let from = end + space;
    let length = text[from..].find(|c: char| !inside(c) && !c.is_ascii_digit());
    let unit_end = length.map_or(text.len(), |length| from + length);
    let unit = &text[from..unit_end];
    // A unit that stays as it is was left alone once and is again.
    match entry::is_unit(unit) {
        true => (unit, unit_end),
        false => ("", end),
    }
}
