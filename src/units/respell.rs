//! The one place where figures turn from how the program writes them (metric, a point, a space
//! between thousands) into how somebody reads them. Texts are respelled as a whole, on their way
//! to the screen or to standard output: so a warning, a row of a list and a figure in the side
//! pane never disagree. Files, JSON and CSV do not come through here.
//!
//! A number with a unit is turned into inches from what is written, to digits no coarser than
//! those: it is never further off than half the last digit of the metric figure. What is sold by
//! a metric size keeps its name: a 20 mm rail has no size in inches.
//!
//! A respelled number is marked inside, so that respelling it again changes nothing: a view
//! respells a text before it measures it, and everything once more as it is drawn.
//! [`Speller::finish`] then puts the signs in that people see.

use std::borrow::Cow;
use std::rc::Rc;

use super::marks::{Shown, System};
use super::{entry, show};

/// Stands for the mark between thousands, until the end. Code points of the private use area.
const THOUSANDS: char = '\u{e000}';
/// Stands for the mark before the fraction.
const DECIMAL: char = '\u{e001}';
/// Stands for the space before a unit that stays as it is.
const KEPT: char = '\u{e002}';

/// The units of the row of figures by which builds are compared, [`told::row`]: cost, rapids
/// of three axes, stiffness, removal, mains current.
///
/// [`told::row`]: crate::explore::told::row
pub const COMPARED: [&str; 7] = ["", "m/min", "m/min", "m/min", "N/µm", "cm³/min", "A"];

/// Spaces before the first words of a paragraph, at most.
const MARGIN: usize = 4;

/// Words between two numbers that share the unit behind the second.
const JOINTS: [&str; 6] = [" to ", " x ", " → ", " -> ", " × ", ".."];

/// Words before a number that is the place of something in a standard.
const STANDARDS: [&str; 8] = [
    "ISO ", "IEC ", "EN ", "DIN ", "NFPA ", "VDI ", "NIST ", "version ",
];

/// Turns texts into how somebody reads them.
#[derive(Clone, Debug, Default)]
pub struct Speller {
    shown: Shown,
    /// Names in which a size is no length but what something is called.
    names: Rc<[String]>,
    /// Whether units stay as they are, now and wherever the text goes from here.
    keeps: bool,
}

/// A number in a text.
#[derive(Clone, Debug)]
struct Number<'t> {
    start: usize,
    end: usize,
    digits: &'t str,
    unit: &'t str,
    /// Where the unit ends; where the number does, if it has none.
    unit_end: usize,
}

impl Speller {
    /// For somebody's marks and units; `names` are those of what is sold.
    pub fn new<'n>(shown: Shown, names: impl Iterator<Item = &'n str>) -> Self {
        let sized = |name: &&str| name.bytes().any(|byte| byte.is_ascii_digit());
        let names = match shown.system {
            System::Metric => Rc::default(),
            System::Inch => names.filter(sized).map(str::to_owned).collect(),
        };
        Self {
            shown,
            names,
            keeps: false,
        }
    }

    /// The same marks in metric units: for formulas.
    pub fn metric(&self) -> Self {
        Self {
            shown: self.shown,
            names: Rc::default(),
            keeps: self.shown.system == System::Inch,
        }
    }

    /// How numbers are shown by it.
    pub fn shown(&self) -> Shown {
        self.shown
    }

    /// A text with its numbers respelled, marked inside.
    pub fn spell<'t>(&self, text: &'t str) -> Cow<'t, str> {
        if self.shown.is_plain() || !text.bytes().any(|byte| byte.is_ascii_digit()) {
            return Cow::Borrowed(text);
        }
        let numbers = numbers(text);
        let kept = self.kept(text);
        let mut line = Line::new(text);
        for (place, number) in numbers.iter().enumerate() {
            let named = kept
                .iter()
                .any(|(from, to)| (*from..*to).contains(&number.start));
            let is_kept = named || self.keeps;
            let unit = shared(text, &numbers[place..]);
            let target = entry::unit_of_name(unit, self.shown);
            match target.filter(|_| !is_kept) {
                Some((name, factor)) => {
                    let shows_unit = !number.unit.is_empty();
                    let behind = if shows_unit { name } else { "" };
                    line.put(number, &self.turned(number.digits, factor), behind);
                }
                None => {
                    let is_place = number.unit.is_empty() && is_in_standard(&text[..number.start]);
                    let digits = match is_place {
                        true => number.digits.to_owned(),
                        false => self.marked(number.digits),
                    };
                    line.keep(number, &digits, is_kept);
                }
            }
        }
        Cow::Owned(line.finish())
    }

    /// A respelled text with the signs that people see.
    pub fn finish<'t>(&self, text: &'t str) -> Cow<'t, str> {
        if !text.contains([THOUSANDS, DECIMAL, KEPT]) {
            return Cow::Borrowed(text);
        }
        let marks = self.shown.marks;
        let each = text.chars().filter_map(|c| match c {
            THOUSANDS => marks.thousands(),
            DECIMAL => Some(marks.decimal()),
            KEPT => Some(' '),
            other => Some(other),
        });
        Cow::Owned(each.collect())
    }

    /// A number whose unit stands above its column or before it.
    pub fn bare(&self, number: &str, unit: &str) -> String {
        if self.shown.is_plain() {
            return number.to_owned();
        }
        let whole = format!("{number} {unit}");
        let spelled = self.spell(&whole);
        let behind = [self.unit(unit), unit].map(|unit| format!(" {unit}"));
        let bare = behind.iter().find_map(|unit| spelled.strip_suffix(unit));
        bare.unwrap_or(number).to_owned()
    }

    /// Numbers of a row, each with its unit above.
    pub fn cells<const N: usize>(&self, cells: [String; N], units: [&str; N]) -> [String; N] {
        let mut units = units.into_iter();
        cells.map(|cell| self.bare(&cell, units.next().unwrap_or_default()))
    }

    /// Rows of a table with their units above: the numbers below them, and the units themselves.
    pub fn table(&self, rows: &mut [Vec<String>], units: &[&str]) {
        if self.shown.is_plain() {
            return;
        }
        let cells = rows.iter_mut().flat_map(|row| row.iter_mut().zip(units));
        for (cell, unit) in cells.filter(|(_, unit)| !unit.is_empty()) {
            *cell = match cell == unit {
                true => self.unit(unit).to_owned(),
                false => self.bare(cell, unit),
            };
        }
    }

    /// A unit as it stands alone above a column.
    pub fn unit<'u>(&self, unit: &'u str) -> &'u str {
        match self.keeps {
            true => unit,
            false => entry::unit_of_any(unit, self.shown),
        }
    }

    /// Both at once, for a text that nobody measures any more.
    pub fn text(&self, text: &str) -> String {
        let lines = text.split('\n').map(|line| {
            let line = self.spell(line);
            self.finish(&line).into_owned()
        });
        lines.collect::<Vec<_>>().join("\n")
    }

    /// Where names stand in a text.
    fn kept(&self, text: &str) -> Vec<(usize, usize)> {
        let each = self.names.iter().flat_map(|name| {
            let found = text.match_indices(name.as_str());
            found.map(|(at, name)| (at, at + name.len()))
        });
        each.collect()
    }

    /// A number in another unit, to digits no coarser than it was written with.
    fn turned(&self, digits: &str, factor: f64) -> String {
        let plain: String = digits.chars().filter(|c| *c != ' ').collect();
        let after = plain.split_once('.').map_or(0, |(_, rest)| rest.len());
        let number: f64 = plain.parse().unwrap_or_default();
        let finest = factor * 10_f64.powi(-i32::try_from(after).unwrap_or(0));
        let digits = (-finest.log10()).ceil().clamp(0.0, 9.0) as usize;
        self.marked(&show::number(number * factor, digits))
    }

    fn marked(&self, digits: &str) -> String {
        let thousands = self.shown.marks.thousands();
        let each = digits.chars().filter_map(|c| match c {
            ' ' => thousands.map(|_| THOUSANDS),
            '.' => Some(DECIMAL),
            other => Some(other),
        });
        each.collect()
    }
}

/// Whether a mark of this module: such a character is no other one's to spell.
pub const fn is_mark(c: char) -> bool {
    matches!(c, THOUSANDS | DECIMAL | KEPT)
}

/// The unit of the first of some numbers: its own, or that of the one that it is joined with.
fn shared<'t>(text: &'t str, numbers: &[Number<'t>]) -> &'t str {
    for (place, number) in numbers.iter().enumerate() {
        if !number.unit.is_empty() {
            return number.unit;
        }
        let next = numbers.get(place + 1);
        let between = next.and_then(|next| text.get(number.end..next.start));
        if !between.is_some_and(|between| JOINTS.contains(&between)) {
            return "";
        }
    }
    ""
}

/// Whether a text ends within the name of a standard.
fn is_in_standard(before: &str) -> bool {
    let sentence = before.rsplit(". ").next().unwrap_or(before);
    STANDARDS.iter().any(|name| sentence.contains(name))
}

/// The numbers of a text, as the program writes them: no part of a word, a date or a version.
fn numbers(text: &str) -> Vec<Number<'_>> {
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
    let space = usize::from(rest.starts_with(' '));
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

/// A line while its numbers are respelled. Columns stay where they are: what a number grows by
/// is taken from the spaces before it, or from those behind it, where there are several.
struct Line<'t> {
    text: &'t str,
    at: usize,
    done: String,
}

impl<'t> Line<'t> {
    fn new(text: &'t str) -> Self {
        Self {
            text,
            at: 0,
            done: String::with_capacity(text.len() + 8),
        }
    }

    /// Puts a number in another unit in.
    fn put(&mut self, number: &Number, digits: &str, unit: &str) {
        let space = if unit.is_empty() { "" } else { " " };
        let new = format!("{digits}{space}{unit}");
        let old = self.text[number.start..number.unit_end].chars().count();
        self.replace(number.start, number.unit_end, &new, old);
    }

    /// Puts a number in that keeps its unit.
    fn keep(&mut self, number: &Number, digits: &str, is_kept: bool) {
        let behind = &self.text[number.end..number.unit_end];
        let behind = match is_kept {
            true => behind.replace(' ', &KEPT.to_string()),
            false => behind.to_owned(),
        };
        let old = self.text[number.start..number.unit_end].chars().count();
        self.replace(
            number.start,
            number.unit_end,
            &format!("{digits}{behind}"),
            old,
        );
    }

    fn replace(&mut self, start: usize, end: usize, new: &str, old: usize) {
        self.done.push_str(&self.text[self.at..start]);
        self.at = end;
        let before = self.done.len() - self.done.trim_end_matches(' ').len();
        let rest = &self.text[end..];
        let behind = rest.len() - rest.trim_start_matches(' ').len();
        let length = new.chars().count();
        let grown = length.saturating_sub(old);
        let shrunk = old.saturating_sub(length);
        let is_line_end = behind == rest.len();
        // The first words of a paragraph are in no column.
        let before = match before == self.done.len() && before <= MARGIN {
            true => 0,
            false => before,
        };
        if before > 2 + grown || (before > 1 && (is_line_end || behind < 2)) {
            // It stands right in its column.
            let gone = grown.min(before.saturating_sub(2));
            self.done.truncate(self.done.len() - gone);
            self.done.extend(std::iter::repeat_n(' ', shrunk));
            self.done.push_str(new);
        } else {
            self.done.push_str(new);
            if behind > 1 {
                self.at += grown.min(behind - 1);
                self.done.extend(std::iter::repeat_n(' ', shrunk));
            }
        }
    }

    fn finish(mut self) -> String {
        self.done.push_str(&self.text[self.at..]);
        self.done
    }
}

#[cfg(test)]
mod tests;
