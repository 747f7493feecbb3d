//! Amounts as people type them into a field, with their money: `3500`, `3 500,50 EUR`. Files have
//! one exact spelling, and their messages are about that.

use crate::money::typed::{Unclear, digits, without_sign};
use crate::money::{self, Currency, Money};

/// Reads an amount; none for an empty text. A lone number takes the usual currency.
///
/// # Errors
/// Says what to type instead.
pub(super) fn read(text: &str, usual: Currency) -> Result<Option<Money>, String> {
    if text.is_empty() || text == crate::build::value::NONE {
        return Ok(None);
    }
    let wrong =
        || format!("{text:?} is not an amount: type a number, such as 3500 or 3500 {usual}");
    let (text, signed) = without_sign(text, Some(usual));
    let usual = signed.unwrap_or(usual);
    let start = text.find(|c: char| c.is_alphabetic()).unwrap_or(text.len());
    let (amount, code) = (text[..start].trim(), text[start..].trim());
    if amount.is_empty() {
        return Err(wrong());
    }
    let currency = match code {
        "" => usual,
        code => code.to_uppercase().parse().map_err(|_| {
            format!("{code:?} is not a currency: type its three letters, such as {usual}")
        })?,
    };
    let digits = digits(amount).map_err(|unclear| match unclear {
        Unclear::NotANumber => wrong(),
        Unclear::TwoMeanings(whole, rest) => format!(
            "{amount} could mean {whole}{rest} or {whole}.{}: leave the mark out, or write two digits after it",
            rest.get(..2).unwrap_or(&rest)
        ),
    })?;
    let amount = money::parse_amount(&digits).map_err(|error| match error {
        money::MoneyError::NotAnAmount(_) => wrong(),
        other => other.to_string(),
    })?;
    Ok(Some(Money::new(amount, currency)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn euros(text: &str) -> Result<Option<Money>, String> {
        Ok(Some(Money::new(
            money::parse_amount(text).map_err(|error| error.to_string())?,
            Currency::EUR,
        )))
    }

    #[test]
    fn both_signs_of_a_fraction_are_read() {
        for (typed, amount) in [
            ("3500", "3500"),
            ("3500 eur", "3500"),
            ("€3500", "3500"),
            ("3500,00 €", "3500"),
            ("1000.5", "1000.5"),
            ("1000,50", "1000.50"),
            ("1.000,50", "1000.50"),
            ("1,000.50 EUR", "1000.50"),
            ("1.000.000", "1000000"),
        ] {
            assert_eq!(read(typed, Currency::EUR), euros(amount), "{typed}");
        }
        assert_eq!(read("", Currency::EUR), Ok(None));
    }

    #[test]
    fn what_could_mean_two_amounts_is_not_guessed() {
        let wrong = read("1.000", Currency::EUR).expect_err("two meanings");
        assert!(wrong.contains("1000 or 1.00"), "{wrong}");
    }

    #[test]
    fn a_wrong_amount_says_what_to_type() {
        for text in ["abc", "1,2,3", "1..5", "12 34x", "1,00.000"] {
            let wrong = read(text, Currency::EUR).expect_err(text);
            assert!(
                wrong.contains("type") && !wrong.contains("in quotes"),
                "{wrong}"
            );
        }
    }
}
