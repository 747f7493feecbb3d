//! Numbers and days as spreadsheet programs of different countries write them.

use jiff::civil::Date;
use rust_decimal::Decimal;

/// A number of zero or more with a decimal point or comma, with or without marks between
/// thousands (point, comma, space, apostrophe). Of `1,234` and `1.234` nobody can tell which
/// is meant: both are refused rather than guessed.
///
/// # Errors
/// Says what is wrong with it.
pub fn decimal(text: &str) -> Result<Decimal, String> {
    let plain: String = text
        .chars()
        .filter(|c| !matches!(c, ' ' | '\u{a0}' | '\u{202f}' | '\'' | '\u{2019}'))
        .collect();
    let wrong = || format!("{text:?} is not a number, such as 12.90");
    let points = plain.matches('.').count();
    let commas = plain.matches(',').count();
    let digits = match (points, commas) {
        (0, 0) => plain,
        (1, 0) | (0, 1) => {
            let mark = if points == 1 { '.' } else { ',' };
            let (whole, rest) = plain.split_once(mark).ok_or_else(wrong)?;
            let thousands = rest.len() == 3 && (1..=3).contains(&whole.len()) && whole != "0";
            if thousands {
                return Err(format!(
                    "{text:?} may be a thousand or a few: write {whole}{rest} or {whole}.{rest}0"
                ));
            }
            format!("{whole}.{rest}")
        }
        _ => {
            // The last mark is the decimal one where it comes once; the others part thousands.
            let last = plain.rfind(['.', ',']).ok_or_else(wrong)?;
            let mark = plain.as_bytes()[last];
            let (whole, rest) = plain.split_at(last);
            let once = plain.bytes().filter(|byte| *byte == mark).count() == 1;
            let parted = |text: &str| {
                let mut groups = text.split(['.', ',']);
                let first = groups
                    .next()
                    .is_some_and(|first| (1..=3).contains(&first.len()));
                first && groups.all(|group| group.len() == 3)
            };
            if once && parted(whole) {
                format!("{}.{}", whole.replace(['.', ','], ""), &rest[1..])
            } else if !once && parted(&plain) && (points == 0 || commas == 0) {
                plain.replace(['.', ','], "")
            } else {
                return Err(wrong());
            }
        }
    };
    if digits.is_empty()
        || !digits
            .bytes()
            .all(|byte| byte.is_ascii_digit() || byte == b'.')
    {
        return Err(wrong());
    }
    let value = Decimal::from_str_exact(&digits).map_err(|_| wrong())?;
    if value > crate::money::MOST {
        return Err(format!("{text:?} is more than a machine can cost"));
    }
    Ok(value)
}

/// Reads a day as `2026-11-30` or `30.11.2026`. With slashes nobody can tell the day from the
/// month: that is refused rather than guessed.
pub fn day(text: &str) -> Option<Date> {
    let text = text.trim();
    if let Ok(date) = text.parse() {
        return Some(date);
    }
    let mut parts = text.split('.').map(str::trim);
    let (day, month, year) = (parts.next()?, parts.next()?, parts.next()?);
    if parts.next().is_some() || year.len() != 4 {
        return None;
    }
    Date::new(year.parse().ok()?, month.parse().ok()?, day.parse().ok()?).ok()
}

#[cfg(test)]
mod tests {
    use super::{day, decimal};

    #[test]
    fn a_day_is_read_in_either_order() {
        let wanted = Some(jiff::civil::date(2026, 12, 1));
        for text in ["2026-12-01", " 1.12.2026 ", "01. 12. 2026"] {
            assert_eq!(day(text), wanted, "{text}");
        }
        for text in [
            "",
            "soon",
            "1.13.2026",
            "31.2.2026",
            "1.12.26",
            "1.2.3.2026",
            "1/12/2026",
        ] {
            assert_eq!(day(text), None, "{text}");
        }
    }

    #[test]
    fn numbers_are_read_as_they_are_meant() {
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
            let want = rust_decimal::Decimal::from_str_exact(want).expect("a number");
            assert_eq!(decimal(text), Ok(want), "{text}");
        }
    }

    #[test]
    fn what_cannot_be_told_is_refused() {
        for text in [
            "1,234",
            "1.234",
            "",
            "-3",
            "=2+3",
            "12 EUR",
            "1.2.3",
            "1,23.45,6",
            "1e3",
        ] {
            assert!(decimal(text).is_err(), "{text}");
        }
    }
}
