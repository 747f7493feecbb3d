//! How a person reads and types numbers: the mark before the fraction, the mark between
//! thousands, and whether lengths and forces are metric or in inches. A value that is handed
//! on, never a state of the program: build files, JSON and CSV always keep [`Shown::PLAIN`].

use crate::words::Words as _;

/// The mark between thousands that does not let a line break (no-break space).
const TIED: char = '\u{a0}';

crate::words! {
    /// The units in which figures are shown and typed.
    System {
        Metric = "metric", "metric", "Millimetres, metres a minute, newtons, kilograms.";
        Inch = "inch", "inches", "Inches, inches a minute, pounds of force, pounds. What is sold by a metric size keeps its name.";
    }
}

/// The marks inside a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Marks {
    decimal: char,
    thousands: Option<char>,
}

impl Marks {
    /// A point and a space: ISO 80000-1, 7.3, and what files and formulas of this program use.
    pub const PLAIN: Self = Self {
        decimal: '.',
        thousands: Some(' '),
    };

    /// Marks that can be told apart; none where both are the same, or no marks at all.
    pub fn new(decimal: char, thousands: Option<char>) -> Option<Self> {
        let known = matches!(decimal, '.' | ',');
        let apart = match thousands {
            Some(' ' | '\'') | None => true,
            Some(mark @ ('.' | ',')) => mark != decimal,
            Some(_) => false,
        };
        (known && apart).then_some(Self { decimal, thousands })
    }

    /// The mark before the fraction.
    pub const fn decimal(self) -> char {
        self.decimal
    }

    /// The mark between thousands; none where digits stand together.
    pub const fn thousands(self) -> Option<char> {
        self.thousands
    }
}

/// How somebody reads and types numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shown {
    /// Metric or inches.
    pub system: System,
    /// The marks.
    pub marks: Marks,
}

impl Shown {
    /// Metric, with point and space: what files and formulas keep whatever is set.
    pub const PLAIN: Self = Self {
        system: System::Metric,
        marks: Marks::PLAIN,
    };

    /// The same marks, in metric units: for formulas, which stay in SI.
    pub const fn metric(self) -> Self {
        Self {
            system: System::Metric,
            ..self
        }
    }

    /// Whether nothing is changed by it.
    pub fn is_plain(self) -> bool {
        self == Self::PLAIN
    }

    /// In a word or two: `inches, 1,234.5`.
    pub fn told(self) -> String {
        let thousands = self.marks.thousands.map(String::from).unwrap_or_default();
        let decimal = self.marks.decimal;
        format!("{}, 1{thousands}234{decimal}5", self.system.title())
    }
}

impl Default for Shown {
    fn default() -> Self {
        Self::PLAIN
    }
}

/// A number as it is typed, its groups of thousands taken out and with a point before the
/// fraction.
///
/// # Errors
/// Both ways to read it, where a mark before three digits may part thousands or a fraction.
pub fn pointed(digits: &str, marks: Marks) -> Result<String, (String, String)> {
    let digits = ungrouped(digits);
    let count = |mark: char| digits.matches(mark).count();
    let (points, commas) = (count('.'), count(','));
    match (points, commas) {
        (0, 0) => Ok(digits),
        // Both: the last one stands before the fraction.
        (1.., 1..) => {
            let comma_last = digits.rfind(',') > digits.rfind('.');
            let (group, decimal) = if comma_last { ('.', ',') } else { (',', '.') };
            if count(decimal) > 1 || !is_grouped(&digits, group, decimal) {
                return Ok(digits);
            }
            let bare: String = digits.chars().filter(|c| *c != group).collect();
            Ok(bare.replace(decimal, "."))
        }
        // One mark, several times: groups.
        (2.., 0) | (0, 2..) => {
            let group = if points > 0 { '.' } else { ',' };
            let other = if points > 0 { ',' } else { '.' };
            match is_grouped(&digits, group, other) {
                true => Ok(digits.chars().filter(|c| *c != group).collect()),
                false => Ok(digits),
            }
        }
        _ => once(&digits, if points > 0 { '.' } else { ',' }, marks),
    }
}

/// A number with one mark, once: a fraction or a group.
fn once(digits: &str, mark: char, marks: Marks) -> Result<String, (String, String)> {
    let fraction = digits.replace(mark, ".");
    let other = if mark == '.' { ',' } else { '.' };
    let could_group = is_grouped(digits, mark, other);
    if !could_group || marks.decimal == mark {
        return Ok(fraction);
    }
    let whole: String = digits.chars().filter(|c| *c != mark).collect();
    if marks.thousands == Some(mark) {
        return Ok(whole);
    }
    // A point is what files and commands use: it is never a group unless somebody says so.
    if mark == '.' {
        return Ok(fraction);
    }
    Err((whole, fraction))
}

/// Whether a mark parts the whole of a number in threes.
fn is_grouped(digits: &str, group: char, decimal: char) -> bool {
    let whole = digits.split(decimal).next().unwrap_or_default();
    let mut groups = whole.trim_start_matches(['-', '+']).split(group);
    let is_digits = |text: &str| text.bytes().all(|byte| byte.is_ascii_digit());
    let first = groups.next().unwrap_or_default();
    let fits = (1..=3).contains(&first.len()) && is_digits(first) && !first.starts_with('0');
    let mut rest = groups.peekable();
    fits && rest.peek().is_some() && rest.all(|one| one.len() == 3 && is_digits(one))
}

/// The spaces and apostrophes that part thousands, besides point and comma.
pub(super) const PARTING: [char; 6] = [' ', TIED, '\u{202f}', '\u{2009}', '\'', '\u{2019}'];

/// Takes spaces and apostrophes out from between digits, before three of them and no other
/// number: `10 000 mm` becomes `10000 mm`, and `12 50` stays as it is, for it may be anything.
pub(crate) fn ungrouped(text: &str) -> String {
    let chars: Vec<char> = text.trim().chars().collect();
    let is_mark = |c: char| PARTING.contains(&c);
    let digits_behind = |place: usize| {
        let behind = chars[place + 1..].iter();
        behind.take_while(|c| c.is_ascii_digit()).count()
    };
    let parts = |place: usize| {
        place > 0
            && is_mark(chars[place])
            && chars[place - 1].is_ascii_digit()
            && digits_behind(place) == 3
    };
    let kept = chars.iter().enumerate().filter(|(place, _)| !parts(*place));
    kept.map(|(_, c)| *c).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn marks(decimal: char, thousands: char) -> Marks {
        Marks::new(decimal, Some(thousands)).expect("marks")
    }

    #[test]
    fn marks_that_cannot_be_told_apart_are_no_marks() {
        assert_eq!(Marks::new('.', Some('.')), None);
        assert_eq!(Marks::new(',', Some(',')), None);
        assert_eq!(Marks::new(';', None), None);
        assert_eq!(Marks::new('.', Some('x')), None);
        assert!(Marks::new(',', Some('\'')).is_some());
    }

    #[test]
    fn every_spelling_of_a_number_is_read() {
        for (typed, read) in [
            ("600", "600"),
            ("0,6", "0.6"),
            ("1 200,5", "1200.5"),
            ("1'200.5", "1200.5"),
            ("1.200,5", "1200.5"),
            ("1,200.5", "1200.5"),
            ("1.000.000", "1000000"),
            ("1.250", "1.250"),
            ("0,125", "0.125"),
        ] {
            assert_eq!(pointed(typed, Marks::PLAIN).as_deref(), Ok(read), "{typed}");
        }
    }

    #[test]
    fn two_meanings_are_asked_about_unless_the_marks_say_which() {
        let both = ("1250".to_owned(), "1.250".to_owned());
        assert_eq!(pointed("1,250", Marks::PLAIN), Err(both));
        let (english, german) = (marks('.', ','), marks(',', '.'));
        assert_eq!(pointed("1,250", english).as_deref(), Ok("1250"));
        assert_eq!(pointed("1,250", german).as_deref(), Ok("1.250"));
        assert_eq!(pointed("1.250", german).as_deref(), Ok("1250"));
        assert_eq!(pointed("1,25", english).as_deref(), Ok("1.25"));
    }

    #[test]
    fn nonsense_stays_nonsense() {
        for text in ["1,2,3", "1..5", "1,00.000", "12 34"] {
            let read = pointed(text, Marks::PLAIN).expect("one meaning");
            assert!(read.parse::<f64>().is_err(), "{text} is read as {read}");
        }
    }
}
