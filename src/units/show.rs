//! How quantities are written for people: rounded to what is worth reading, thousands in
//! groups. Files and JSON have their own, exact spelling.

use rust_decimal::{Decimal, RoundingStrategy};

/// Digits in threes, parted by a space (ISO 80000-1, 7.3.1): `10000` becomes `10 000`.
pub fn grouped(digits: &str) -> String {
    let (sign, digits) = match digits.strip_prefix('-') {
        Some(rest) => ("-", rest),
        None => ("", digits),
    };
    let (whole, rest) = match digits.find('.') {
        Some(point) => digits.split_at(point),
        None => (digits, ""),
    };
    let mut text = String::from(sign);
    for (place, digit) in whole.chars().enumerate() {
        if place > 0 && (whole.len() - place).is_multiple_of(3) {
            text.push(' ');
        }
        text.push(digit);
    }
    text + rest
}

/// A number with so many digits after the point.
pub fn number(value: f64, digits: usize) -> String {
    let text = format!("{value:.digits$}");
    let nothing = text
        .trim_start_matches('-')
        .chars()
        .all(|c| c == '0' || c == '.');
    grouped(if nothing {
        text.trim_start_matches('-')
    } else {
        &text
    })
}

/// The most digits that are added so that two numbers read differently.
const FINER: usize = 4;

/// With how many digits two numbers are shown beside each other, such as what is reached and
/// what is wanted: so many, or as many more as it takes that they read differently. Two that
/// differ by less than that, or not at all, keep the digits.
pub fn apart(one: f64, other: f64, digits: usize) -> usize {
    let differ = |digits: &usize| number(one, *digits) != number(other, *digits);
    (digits..=digits + FINER).find(differ).unwrap_or(digits)
}

/// A number as somebody typed it: no digits that were not there.
pub fn typed(value: f64) -> String {
    grouped(&value.to_string())
}

/// A count or length on the bill: at most two digits after the point, none that are zero.
pub fn quantity(amount: Decimal) -> String {
    grouped(&rounded(amount, 2).normalize().to_string())
}

/// Rounded to so many digits after the point, halves away from zero.
pub fn rounded(amount: Decimal, digits: u32) -> Decimal {
    amount.round_dp_with_strategy(digits, RoundingStrategy::MidpointAwayFromZero)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(text: &str) -> Decimal {
        Decimal::from_str_exact(text).expect("an amount")
    }

    #[test]
    fn thousands_stand_in_groups() {
        assert_eq!(grouped("999"), "999");
        assert_eq!(grouped("1000"), "1 000");
        assert_eq!(grouped("-1234567.891"), "-1 234 567.891");
    }

    #[test]
    fn a_number_that_rounds_to_nothing_has_no_sign() {
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(15.66, 1), "15.7");
        assert_eq!(typed(0.005), "0.005");
    }

    #[test]
    fn a_miss_is_never_rounded_away() {
        // One tick more where one is enough, and as many as it takes where it is not.
        assert_eq!(apart(5.97, 6.0, 1), 2);
        assert_eq!(apart(0.10004, 0.1, 3), 5);
        assert_eq!(apart(5.2, 6.0, 1), 1);
        assert_eq!(apart(6.0, 6.0, 1), 1);
        assert_eq!(apart(6.0, 6.0 + 1e-12, 1), 1);
        assert_eq!(apart(f64::NAN, 1.0, 0), 0);
    }

    #[test]
    fn quantities_drop_empty_digits() {
        assert_eq!(quantity(amount("3.500")), "3.5");
        assert_eq!(quantity(amount("12.00")), "12");
    }
}
