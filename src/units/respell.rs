//! The one place where figures turn from how the program writes them (metric, a point, a space
//! between thousands) into how somebody reads them. Texts are respelled as a whole, on their way
//! to the screen or to standard output: so a warning, a row of a list and a figure in the side
//! pane never disagree. Build files, JSON, CSV and workbooks do not come through here.
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
use line::Line;
use numbers::{is_in_standard, is_listed, numbers, shared};

mod line;
mod numbers;

/// Stands for the mark between thousands, until the end. Code points of the private use area.
const THOUSANDS: char = '\u{e000}';
/// Stands for the mark before the fraction.
const DECIMAL: char = '\u{e001}';
/// Stands for the space before a unit that stays as it is.
const KEPT: char = '\u{e002}';

/// Where a paragraph goes on in the next line: there it is as wide as a space.
const BREAK: char = '\n';

/// The units of the row of figures by which builds are compared: cost, rapids of three axes,
/// stiffness, removal, mains current.
pub const COMPARED: [&str; 7] = ["", "m/min", "m/min", "m/min", "N/µm", "cm³/min", "A"];

/// Turns texts into how somebody reads them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Speller {
    shown: Shown,
    /// Names in which a size is no length but what something is called.
    names: Rc<[String]>,
    /// Whether units stay as they are, now and wherever the text goes from here.
    keeps: bool,
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
        self.spell_between("", text, "")
    }

    /// The same for a line of a paragraph, between the line before it and the one behind: a name
    /// may go on from one to the other, and so may two numbers with one unit.
    fn spell_between<'t>(&self, before: &str, line: &'t str, behind: &str) -> Cow<'t, str> {
        if self.shown.is_plain() || !line.bytes().any(|byte| byte.is_ascii_digit()) {
            return Cow::Borrowed(line);
        }
        let (before, own, behind) = (before.trim(), line.trim_start(), behind.trim());
        let text = &format!("{before}{BREAK}{own}{BREAK}{behind}");
        // From a place in all of it to the same one in the line.
        let (from, indent) = (before.len() + BREAK.len_utf8(), line.len() - own.len());
        let here = from..from + own.len();
        let numbers = numbers(text);
        let kept = self.kept(text);
        let mut line = Line::new(line);
        for (place, number) in numbers.iter().enumerate() {
            if !here.contains(&number.start) {
                continue;
            }
            let named = kept
                .iter()
                .any(|(from, to)| (*from..*to).contains(&number.start));
            let is_kept = named || self.keeps || is_listed(text, &numbers, place);
            let unit = shared(text, &numbers[place..]);
            // A unit in the next line stays, and its number with it.
            let is_kept = is_kept || number.unit_end > here.end;
            let target = entry::unit_of_name(unit, self.shown);
            let is_place = number.unit.is_empty() && is_in_standard(&text[..number.start]);
            let number = &number.within(here.clone(), indent);
            match target.filter(|_| !is_kept) {
                Some((name, factor)) => {
                    let shows_unit = !number.unit.is_empty();
                    let behind = if shows_unit { name } else { "" };
                    line.put(number, &self.turned(number.digits, factor), behind);
                }
                None => {
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
            false => entry::unit_of(unit, self.shown),
        }
    }

    /// Both at once, for a text that nobody measures any more.
    pub fn text(&self, text: &str) -> String {
        let lines: Vec<&str> = text.split('\n').collect();
        let line = |place: usize| lines.get(place).copied().unwrap_or_default();
        let each = (0..lines.len()).map(|place| {
            let before = place.checked_sub(1).map(line).unwrap_or_default();
            let spelled = self.spell_between(before, line(place), line(place + 1));
            self.finish(&spelled).into_owned()
        });
        each.collect::<Vec<_>>().join("\n")
    }

    /// Where names stand in a text.
    fn kept(&self, text: &str) -> Vec<(usize, usize)> {
        let text = text.replace(BREAK, " ");
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

    /// A number as the program writes it in somebody's marks, marked inside.
    pub fn marked(&self, digits: &str) -> String {
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

#[cfg(test)]
mod tests;
