//! Numbers as people and spreadsheet programs of different countries write them: `3500`,
//! `3 500,50`, `1.000,50`. Both marks of a fraction are common, so a text that could mean two
//! numbers is asked about, never guessed.

use super::Currency;
use crate::units::marks;

/// Why a text is not read as a number.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unclear {
    /// It is none.
    NotANumber,
    /// It may be a thousand or a few, such as `1,234`: the digits before the mark and behind it.
    TwoMeanings(String, String),
}

/// The digits of a number of zero or more with a point before its fraction and no groups, from
/// one with a decimal point or comma, with or without marks between thousands (point, comma,
/// space, apostrophe).
///
/// # Errors
/// Says what keeps it from being read.
pub fn digits(text: &str) -> Result<String, Unclear> {
    let plain = marks::ungrouped(text);
    let points = plain.matches('.').count();
    let commas = plain.matches(',').count();
    let last = plain.rfind(['.', ',']).unwrap_or(plain.len());
    let (whole, rest) = plain.split_at(last);
    let rest = rest.get(1..).unwrap_or_default();
    let found = match (points, commas) {
        (0, 0) => plain,
        (1, 0) | (0, 1) => {
            let thousands = rest.len() == 3 && (1..=3).contains(&whole.len()) && whole != "0";
            if thousands && is_digits(whole) && is_digits(rest) {
                return Err(Unclear::TwoMeanings(whole.to_owned(), rest.to_owned()));
            }
            format!("{whole}.{rest}")
        }
        // The last mark is the decimal one where it comes once; the others part thousands.
        _ => {
            let once = !whole.contains(&plain[last..=last]);
            if once && is_parted(whole) {
                format!("{}.{rest}", whole.replace(['.', ','], ""))
            } else if is_parted(&plain) && points.min(commas) == 0 {
                plain.replace(['.', ','], "")
            } else {
                return Err(Unclear::NotANumber);
            }
        }
    };
    let mut parts = found.split('.');
    match parts.clone().any(|part| !part.is_empty()) && parts.all(is_digits) {
        true => Ok(found),
        false => Err(Unclear::NotANumber),
    }
}

/// An amount without the sign of its money before or behind it, and that money: `$5500`, `20 €`.
/// A dollar is that of the usual money where that is one, else that of the United States.
pub fn without_sign(text: &str, usual: Option<Currency>) -> (&str, Option<Currency>) {
    let text = text.trim();
    let dollar = usual.filter(Currency::is_dollar).unwrap_or(Currency::USD);
    let mut signs = [('$', dollar), ('€', Currency::EUR), ('£', Currency::GBP)].into_iter();
    let found = signs.find_map(|(sign, currency)| {
        let rest = text.strip_prefix(sign).or(text.strip_suffix(sign))?;
        Some((rest.trim(), Some(currency)))
    });
    found.unwrap_or((text, None))
}

fn is_digits(text: &str) -> bool {
    text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether marks part all digits in threes.
fn is_parted(text: &str) -> bool {
    let mut groups = text.split(['.', ',']);
    let first = groups.next();
    first.is_some_and(|first| (1..=3).contains(&first.len()))
        && groups.all(|group| group.len() == 3)
}

#[cfg(test)]
mod tests {
    use super::{Unclear, digits, without_sign};
    use crate::money::Currency;

    #[test]
    fn both_marks_of_a_fraction_are_read() {
        for (text, want) in [
            ("12", "12"),
            ("12.9", "12.9"),
            ("12,90", "12.90"),
            ("1.234,56", "1234.56"),
            ("1,234.56", "1234.56"),
            ("1 234,5", "1234.5"),
            ("1'234.50", "1234.50"),
            ("1.234.567", "1234567"),
            ("0.125", "0.125"),
            ("0,125", "0.125"),
        ] {
            assert_eq!(digits(text).as_deref(), Ok(want), "{text}");
        }
    }

    #[test]
    fn what_could_mean_two_numbers_is_not_guessed() {
        for text in ["1,234", "1.234"] {
            let two = Unclear::TwoMeanings("1".to_owned(), "234".to_owned());
            assert_eq!(digits(text), Err(two), "{text}");
        }
    }

    #[test]
    fn what_is_no_number_is_refused() {
        for text in [
            "",
            ".",
            "-3",
            "=2+3",
            "12 EUR",
            "12 50",
            "1 23",
            "1.2.3",
            "1,2,3",
            "1..5",
            "1,00.000",
            "1,23.45,6",
            "1e3",
            "abc",
        ] {
            assert_eq!(digits(text), Err(Unclear::NotANumber), "{text}");
        }
    }

    #[test]
    fn a_sign_of_money_stands_for_it() {
        let canadian = "CAD".parse().ok();
        for (text, usual, want) in [
            ("$5500", None, ("5500", Some(Currency::USD))),
            ("$ 5500", canadian, ("5500", canadian)),
            ("5500 €", canadian, ("5500", Some(Currency::EUR))),
            ("£20", Some(Currency::EUR), ("20", Some(Currency::GBP))),
            ("5500", canadian, ("5500", None)),
            ("$", None, ("", Some(Currency::USD))),
        ] {
            assert_eq!(without_sign(text, usual), want, "{text}");
        }
    }
}
