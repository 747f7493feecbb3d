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
    let mut text = String::with_capacity(sign.len() + whole.len() * 4 / 3 + rest.len());
    text.push_str(sign);
    let (first, threes) = whole.split_at(whole.len() % 3);
    text.push_str(first);
    for from in (0..threes.len()).step_by(3) {
        if from + first.len() > 0 {
            text.push(' ');
        }
        text.push_str(&threes[from..from + 3]);
    }
    text.push_str(rest);
    text
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

/// A number as somebody typed it: no digits that were not there.
pub fn typed(value: f64) -> String {
    grouped(&value.to_string())
}

/// A count or length on the bill: at most two digits after the point, none that are zero.
pub fn quantity(amount: Decimal) -> String {
    grouped(&rounded(amount, 2).normalize().to_string())
}

/// A length in inches to the nearest 64th, as a tape or a rule shows it: `48 1/32`. Rounding
/// moves it by 0.2 mm at most.
pub fn inches(millimetres: Decimal) -> String {
    let parts = (millimetres * Decimal::from(64)).checked_div(Decimal::new(254, 1));
    let parts = rounded(parts.unwrap_or_default(), 0);
    let sign = if parts.is_sign_negative() && !parts.is_zero() {
        "-"
    } else {
        ""
    };
    // No length of a machine comes near what this cannot hold.
    let parts = u64::try_from(parts.abs()).unwrap_or_default();
    let (whole, mut above, mut below) = (parts / 64, parts % 64, 64);
    while above > 0 && above.is_multiple_of(2) {
        (above, below) = (above / 2, below / 2);
    }
    match (whole, above) {
        (whole, 0) => format!("{sign}{whole}"),
        (0, _) => format!("{sign}{above}/{below}"),
        _ => format!("{sign}{whole} {above}/{below}"),
    }
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

    /// Decimal equivalents of fractions of an inch stand in every handbook of machine shops:
    /// 1/64 in is 0.396 875 mm.
    #[test]
    fn inches_are_told_in_sixty_fourths() {
        for (mm, inches) in [
            ("0", "0"),
            ("0.396875", "1/64"),
            ("12.7", "1/2"),
            ("25.4", "1"),
            ("1220", "48 1/32"),
            ("600", "23 5/8"),
            ("-38.1", "-1 1/2"),
        ] {
            assert_eq!(super::inches(amount(mm)), inches, "{mm}");
        }
    }

    #[test]
    fn quantities_drop_empty_digits() {
        assert_eq!(quantity(amount("3.500")), "3.5");
        assert_eq!(quantity(amount("12.00")), "12");
    }
}
