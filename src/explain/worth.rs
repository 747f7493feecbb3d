//! How much something is: a computed amount, or an exact decimal such as a price, which never
//! passes through binary floating point.

use std::fmt;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use crate::money::Money;
use crate::units::{Amount, show};

/// The value of a figure or of an input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Worth {
    /// A computed number with its unit.
    Amount(Amount),
    /// An exact decimal with its unit; an empty unit for counts and shares.
    Exact(Decimal, &'static str),
    /// An exact amount of money.
    Money(Money),
}

impl Worth {
    /// A count.
    pub fn count(count: u32) -> Self {
        Self::Exact(Decimal::from(count), "")
    }

    /// The number, for those who compare; money and other decimals to the nearest that
    /// binary floating point has.
    pub fn number(&self) -> f64 {
        match self {
            Self::Amount(amount) => amount.number,
            Self::Exact(number, _) => number.to_f64().unwrap_or(f64::NAN),
            Self::Money(money) => money.amount.to_f64().unwrap_or(f64::NAN),
        }
    }

    /// The exact decimal; none for computed numbers.
    pub fn exact(&self) -> Option<Decimal> {
        match self {
            Self::Amount(_) => None,
            Self::Exact(number, _) => Some(*number),
            Self::Money(money) => Some(money.amount),
        }
    }

    /// The unit's symbol, or the currency's code.
    pub fn unit(&self) -> &str {
        match self {
            Self::Amount(amount) => amount.unit,
            Self::Exact(_, unit) => unit,
            Self::Money(money) => money.currency.code(),
        }
    }
}

impl From<Amount> for Worth {
    fn from(amount: Amount) -> Self {
        Self::Amount(amount)
    }
}

impl From<Money> for Worth {
    fn from(money: Money) -> Self {
        Self::Money(money)
    }
}

impl fmt::Display for Worth {
    /// Computed numbers to four digits; decimals to their last one, money at least to the
    /// smallest coin.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (number, unit) = match self {
            Self::Amount(amount) => return amount.fmt(f),
            Self::Exact(number, unit) => (number.normalize().to_string(), *unit),
            Self::Money(money) => (coins(money), money.currency.code()),
        };
        f.write_str(&show::grouped(&number))?;
        if unit.is_empty() {
            return Ok(());
        }
        write!(f, " {unit}")
    }
}

/// All digits of an amount of money that say something, those of the smallest coin at least.
fn coins(money: &Money) -> String {
    let plain = money.amount.normalize();
    let digits = plain.scale().max(money.currency.decimals());
    format!("{plain:.places$}", places = digits as usize)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::money::Currency;

    #[test]
    fn money_keeps_every_digit() {
        let said = |text: &str| {
            let amount = Decimal::from_str_exact(text).expect("an amount");
            Worth::from(Money::new(amount, Currency::EUR)).to_string()
        };
        assert_eq!(said("1234.5"), "1 234.50 EUR");
        assert_eq!(said("0.0275"), "0.0275 EUR");
        assert_eq!(said("0.0"), "0.00 EUR");
        assert_eq!(Worth::Exact(Decimal::new(350, 2), "m").to_string(), "3.5 m");
        assert_eq!(Worth::count(12).to_string(), "12");
        assert_eq!(Worth::from(Amount::of(1.0, "N")).to_string(), "1 N");
    }
}
