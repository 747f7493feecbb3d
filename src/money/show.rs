//! How amounts are written for people. Files and JSON have their own, exact spelling.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::{Currency, PriceRange};
use crate::units::show::{self, grouped, rounded};

/// An amount in whole units of its currency, for sums that are estimates anyway.
pub fn whole(amount: Decimal) -> String {
    let rounded = rounded(amount, 0);
    let usual = rounded.to_i64().map(show::whole);
    usual.unwrap_or_else(|| grouped(&rounded.to_string()))
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

#[cfg(test)]
mod tests {
    use super::*;

    fn amount(text: &str) -> Decimal {
        Decimal::from_str_exact(text).expect("an amount")
    }

    #[test]
    fn money_is_rounded_to_whole_units_and_bills_to_the_coin() {
        assert_eq!(money(amount("6056.50"), Currency::EUR), "6 057 EUR");
        assert_eq!(exact(amount("6056.5"), Currency::EUR), "6 056.50");
        for (told, shown) in [("-0.4", "0"), ("0.5", "1"), ("-1210.5", "-1 211")] {
            assert_eq!(whole(amount(told)), shown);
        }
        let beyond = "79228162514264337593543950335";
        assert_eq!(whole(amount(beyond)), grouped(beyond));
    }

    #[test]
    fn a_change_has_its_sign_and_nothing_is_called_so() {
        assert_eq!(change(amount("38.2")), "+38");
        assert_eq!(change(amount("-1210")), "-1 210");
        assert_eq!(change(amount("-0.3")), "same");
    }
}
