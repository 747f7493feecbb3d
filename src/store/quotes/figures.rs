//! Numbers and days as spreadsheet programs of different countries write them.

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::money::typed::{Unclear, digits};
use crate::money::{self, MoneyError};

/// A number of zero or more as [`digits`] reads it.
///
/// # Errors
/// Says what is wrong with it.
pub fn decimal(text: &str) -> Result<Decimal, String> {
    let plain = digits(text).map_err(|unclear| match unclear {
        Unclear::NotANumber => format!("{text:?} is not a number, such as 12.90"),
        Unclear::TwoMeanings(whole, rest) => {
            format!("{text:?} may be a thousand or a few: write {whole}{rest} or {whole}.{rest}0")
        }
    })?;
    money::parse_amount(&plain).map_err(|error| match error {
        MoneyError::NotAnAmount(_) => format!("{text:?} is not a number, such as 12.90"),
        _ => format!("{text:?} is more than a machine can cost"),
    })
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
    use super::day;

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
}
