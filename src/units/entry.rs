//! What people type into a field that takes a number: `600`, `600 mm`, `23.6in`, `23 5/8"`,
//! `0,6 m`. Any unit of the same kind will do; it is turned into the unit that is wanted by
//! exact factors, in decimal arithmetic, so that `23.6 in` is 599.44 mm and not nearly so.

use std::fmt;

use rust_decimal::Decimal;

use super::marks::{self, PARTING, Shown, System};

mod known;

use known::{KNOWN, Known};

/// Why a text is no number of the unit that is wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    /// It is no number at all.
    NoNumber,
    /// It can be read as two numbers.
    TwoMeanings {
        /// What was typed.
        typed: String,
        /// The two.
        either: (String, String),
    },
    /// It is a number of something else.
    Unit(String),
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoNumber => f.write_str("this is not a number"),
            Self::TwoMeanings {
                typed,
                either: (whole, fraction),
            } => {
                write!(
                    f,
                    "{typed:?} can be read as {whole} or as {fraction}: write one of them"
                )
            }
            Self::Unit(message) => f.write_str(message),
        }
    }
}

/// Reads a number of a unit, with any unit of its kind behind it. A lone number is one of the
/// unit itself, or where inches are set, of the unit that stands for it there.
///
/// # Errors
/// Where it is none, could be two, or has a unit of something else.
pub fn read(text: &str, wanted: &str, shown: Shown) -> Result<f64, Unread> {
    let (digits, name) = parted(text.trim());
    if !digits.contains(|c: char| c.is_ascii_digit()) {
        // The words for no number and for no end are numbers to the machine: whoever asks tells
        // the range, which they never keep.
        let odd = text
            .trim()
            .parse()
            .ok()
            .filter(|odd: &f64| !odd.is_finite());
        return odd.ok_or(Unread::NoNumber);
    }
    let wanted_unit = known(wanted, kind_of(wanted));
    let typed = match (name, wanted_unit) {
        ("", _) => match shown.system {
            System::Metric => wanted_unit,
            System::Inch => wanted_unit.map(Known::in_inches),
        },
        (name, _) if name == wanted => wanted_unit,
        (name, Some(unit)) => {
            Some(known(name, Some(unit.kind)).ok_or_else(|| wrong_unit(name, unit))?)
        }
        (_, None) => return Err(Unread::NoNumber),
    };
    match (typed, wanted_unit) {
        (Some(typed), Some(unit)) if typed.names[0] != unit.names[0] => {
            let number = exact(digits, shown)?;
            converted(number, typed, unit).ok_or(Unread::NoNumber)
        }
        _ => plain(digits, shown),
    }
}

/// The number of a unit as it is typed by somebody: in inches where those are set.
pub fn typed(number: f64, unit: &str, shown: Shown) -> String {
    let wanted = known(unit, kind_of(unit));
    let other = wanted.map(Known::in_inches);
    let text = match (shown.system, wanted, other) {
        (System::Inch, Some(from), Some(to)) if from.names[0] != to.names[0] => {
            let number = Decimal::from_f64_retain(number);
            let number = number.and_then(|number| converted(number, from, to));
            // Six digits are finer than anything here is set, and can be read.
            let number = number.and_then(Decimal::from_f64_retain);
            let number = number.and_then(|number| number.round_sf(6));
            number.map(|number| number.normalize().to_string())
        }
        _ => None,
    };
    let text = text.unwrap_or_else(|| number.to_string());
    text.replace('.', &shown.marks.decimal().to_string())
}

/// The unit that stands for a unit of this name where inches are set, and how many of it one
/// is; none where it stays.
pub(super) fn unit_of_name(name: &str, shown: Shown) -> Option<(&'static str, f64)> {
    if shown.system == System::Metric {
        return None;
    }
    let from = known(name, kind_of(name))?;
    let to = from.in_inches();
    let factor = converted(Decimal::ONE, from, to)?;
    (to.names[0] != from.names[0]).then_some((to.names[0], factor))
}

/// The unit in which somebody reads and types what is in this one; the unit itself where nothing
/// stands for it.
pub fn unit_of(unit: &str, shown: Shown) -> &str {
    unit_of_name(unit, shown).map_or(unit, |(name, _)| name)
}

/// The same number as files and commands take it: with a point, and with the unit behind it.
///
/// # Errors
/// As [`read`].
pub fn as_plain(text: &str, wanted: &str, shown: Shown) -> Result<String, Unread> {
    let number = read(text, wanted, shown)?;
    Ok(format!("{number} {wanted}").trim_end().to_owned())
}

/// What one press of an arrow changes, in the unit itself: where inches are set, the round
/// number of those that is nearest.
pub fn step(step: f64, unit: &str, shown: Shown) -> f64 {
    let Some((_, factor)) = unit_of_name(unit, shown) else {
        return step;
    };
    let wanted = (step * factor).log10();
    let round = [1.0, 2.0, 5.0, 10.0].map(|round: f64| wanted.floor() + round.log10());
    let nearest = |best: f64, next: f64| match (next - wanted).abs() < (best - wanted).abs() {
        true => next,
        false => best,
    };
    10_f64.powf(round.into_iter().fold(f64::INFINITY, nearest)) / factor
}

/// Whether a unit stands behind the number, and which: what follows its last digit.
pub fn unit_in(text: &str) -> &str {
    parted(text.trim()).1
}

/// Whether a text is the name of a unit.
pub fn is_unit(name: &str) -> bool {
    kind_of(name).is_some()
}

/// The first of two numbers that share the unit behind the last: 16 of `16..48 in`.
pub fn sharing(first: &str, last: &str) -> String {
    match (unit_in(first), unit_in(last)) {
        ("", unit) if !unit.is_empty() => format!("{} {unit}", first.trim()),
        _ => first.to_owned(),
    }
}

/// A text as its number and its unit.
fn parted(text: &str) -> (&str, &str) {
    // A power of ten is part of the number: 1e3.
    let last = text.rfind(|c: char| c.is_ascii_digit());
    let units = text.char_indices().find(|(place, c)| {
        let power = matches!(c, 'e' | 'E') && text[place + 1..].starts_with(is_power);
        let number = c.is_ascii_digit() || ".,/+-".contains(*c) || PARTING.contains(c);
        !(number || power)
    });
    let feet = last.filter(|last| text[last + 1..].trim() == "'");
    match (feet, units) {
        (Some(last), _) => (&text[..=last], "'"),
        (None, Some((place, _))) => (text[..place].trim_end(), text[place..].trim()),
        (None, None) => (text, ""),
    }
}

fn is_power(c: char) -> bool {
    c.is_ascii_digit() || c == '-' || c == '+'
}

/// What a unit measures; none for a plain count.
fn kind_of(unit: &str) -> Option<known::Kind> {
    KNOWN
        .iter()
        .find(|known| known.names.contains(&unit))
        .map(|known| known.kind)
}

/// A unit by one of its names.
fn known(name: &str, kind: Option<known::Kind>) -> Option<&'static Known> {
    let mut all = KNOWN.iter().filter(|unit| Some(unit.kind) == kind);
    let same = |unit: &&Known| unit.names.contains(&name);
    let lower = name.to_lowercase();
    all.clone()
        .find(same)
        .or_else(|| all.find(|unit| unit.names.iter().any(|one| one.to_lowercase() == lower)))
}

/// The number as it stands, without a change of unit.
fn plain(digits: &str, shown: Shown) -> Result<f64, Unread> {
    if let Some(fraction) = fraction(digits) {
        return nearest(fraction?).ok_or(Unread::NoNumber);
    }
    let digits = pointed(digits, shown)?;
    digits.parse().map_err(|_| Unread::NoNumber)
}

/// The number exactly.
fn exact(digits: &str, shown: Shown) -> Result<Decimal, Unread> {
    if let Some(fraction) = fraction(digits) {
        return fraction;
    }
    let digits = pointed(digits, shown)?;
    let digits = digits.strip_prefix('+').unwrap_or(&digits);
    let number = Decimal::from_str_exact(digits).or_else(|_| Decimal::from_scientific(digits));
    number.map_err(|_| Unread::NoNumber)
}

fn pointed(digits: &str, shown: Shown) -> Result<String, Unread> {
    marks::pointed(digits, shown.marks).map_err(|either| Unread::TwoMeanings {
        typed: digits.to_owned(),
        either,
    })
}

/// `23 5/8`, `23-5/8` or `5/8`; none where there is no stroke.
fn fraction(text: &str) -> Option<Result<Decimal, Unread>> {
    let (above, below) = text.split_once('/')?;
    let whole = |text: &str| text.trim().parse::<u32>().ok().map(Decimal::from);
    let (first, above) = match above.trim().rsplit_once([' ', '-']) {
        Some((first, above)) => (whole(first), above),
        None => (Some(Decimal::ZERO), above.trim()),
    };
    let parts = first.zip(whole(above)).zip(whole(below));
    let number = parts.and_then(|((first, above), below)| {
        above
            .checked_div(below)
            .and_then(|part| first.checked_add(part))
    });
    Some(number.ok_or(Unread::NoNumber))
}

/// A number of one unit in another of its kind.
fn converted(number: Decimal, from: &Known, to: &Known) -> Option<f64> {
    let base = number.checked_mul(from.in_base()?)?;
    nearest(base.checked_div(to.in_base()?)?)
}

/// The nearest binary number, as reading its digits gives it.
fn nearest(number: Decimal) -> Option<f64> {
    number.normalize().to_string().parse().ok()
}

fn wrong_unit(name: &str, wanted: &Known) -> Unread {
    let other = KNOWN.iter().find(|unit| unit.names.contains(&name));
    let takes = format!(
        "this takes {}, in {}",
        wanted.kind.told(),
        names_of(wanted.kind)
    );
    Unread::Unit(match other {
        Some(other) => format!("{name} is a unit of {}; {takes}", other.kind.bare()),
        None => format!("{name:?} is no unit that is known here; {takes}"),
    })
}

/// The units of a kind, each by its first name.
fn names_of(kind: known::Kind) -> String {
    let all = KNOWN.iter().filter(|unit| unit.kind == kind);
    let names: Vec<&str> = all.map(|unit| unit.names[0]).collect();
    match names.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => names.concat(),
    }
}
