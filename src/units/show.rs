//! How quantities are written for people: rounded to what is worth reading, thousands in
//! groups. Files and JSON have their own, exact spelling.

use rust_decimal::{Decimal, RoundingStrategy};

use crate::money::{Currency, PriceRange};

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
    let nothing = text.trim_start_matches('-').chars().all(|c| c == '0' || c == '.');
    grouped(if nothing { text.trim_start_matches('-') } else { &text })
}

/// A number as somebody typed it: no digits that were not there.
pub fn typed(value: f64) -> String {
    grouped(&value.to_string())
}

/// An amount in whole units of its currency, for sums that are estimates anyway.
pub fn whole(amount: Decimal) -> String {
    grouped(&rounded(amount, 0).to_string())
}

/// A whole amount with its currency: `6 057 EUR`.
pub fn money(amount: Decimal, currency: Currency) -> String {
    format!("{} {currency}", whole(amount))
}

/// An amount to the smallest coin, without its currency: `6 057.40`.
pub fn exact(amount: Decimal, currency: Currency) -> String {
    let digits = currency.decimals();
    let amount = rounded(amount, digits);
    grouped(&format!("{amount:.places$}", places = digits as usize))
}

/// A change of an amount, always with its sign; `same` where it rounds to nothing.
pub fn change(amount: Decimal) -> String {
    let amount = rounded(amount, 0);
    match amount {
        zero if zero.is_zero() => "same".to_owned(),
        more if more.is_sign_positive() => format!("+{}", whole(more)),
        less => whole(less),
    }
}

/// A range from low to high: `5 210 to 7 300`.
pub fn range(range: PriceRange) -> String {
    format!("{} to {}", whole(range.low), whole(range.high))
}

/// A count or length on the bill: at most two digits after the point, none that are zero.
pub fn quantity(amount: Decimal) -> String {
    grouped(&rounded(amount, 2).normalize().to_string())
}

fn rounded(amount: Decimal, digits: u32) -> Decimal {
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
    fn money_is_rounded_to_whole_units_and_bills_to_the_coin() {
        assert_eq!(money(amount("6056.50"), Currency::EUR), "6 057 EUR");
        assert_eq!(exact(amount("6056.5"), Currency::EUR), "6 056.50");
    }

    #[test]
    fn a_change_has_its_sign_and_nothing_is_called_so() {
        assert_eq!(change(amount("38.2")), "+38");
        assert_eq!(change(amount("-1210")), "-1 210");
        assert_eq!(change(amount("-0.3")), "same");
    }

    #[test]
    fn a_number_that_rounds_to_nothing_has_no_sign() {
        assert_eq!(number(-0.04, 1), "0.0");
        assert_eq!(number(15.66, 1), "15.7");
        assert_eq!(typed(0.005), "0.005");
    }

    #[test]
    fn quantities_drop_empty_digits() {
        assert_eq!(quantity(amount("3.500")), "3.5");
        assert_eq!(quantity(amount("12.00")), "12");
    }
}
