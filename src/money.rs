//! Money: an exact decimal amount with its currency, and price ranges.
//!
//! Amounts are [`Decimal`], never floating point, and two currencies never meet in one
//! sum without a rate. In files an amount is a quoted string, since a bare TOML number
//! passes through binary floating point.

use std::fmt;
use std::str::FromStr;

use rust_decimal::{Decimal, RoundingStrategy};
use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error as _};

use crate::words;

mod exact;
mod range;
pub mod show;
pub mod typed;

pub use range::PriceRange;

/// A currency by its three-letter code (ISO 4217).
#[derive(Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Currency([u8; 3]);

/// What can be wrong with money read from a file or put into a sum.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum MoneyError {
    /// Not three capital letters.
    #[error(
        "{0:?} is not a currency code: expected three capital letters (ISO 4217), such as \"EUR\""
    )]
    NotACurrency(String),
    /// Not a decimal number.
    #[error("{0:?} is not an amount: expected a number in quotes, such as \"129.90\"")]
    NotAnAmount(String),
    /// Below zero where that makes no sense.
    #[error("{0} is below zero")]
    Negative(Decimal),
    /// Larger than any machine could cost.
    #[error("{0} is more than a machine can cost: the limit is {MOST}")]
    TooLarge(Decimal),
    /// Two currencies in one sum.
    #[error("{0} and {1} cannot be added: state both in one currency")]
    Mixed(Currency, Currency),
    /// A price in a currency that its book cannot turn into the wanted one.
    #[error(
        "the price of {part:?} is in {from}: add a rate {into} to [price-book.rates] of price book {book:?}"
    )]
    NoRate {
        /// The price book.
        book: String,
        /// The part.
        part: String,
        /// The book's currency.
        from: Currency,
        /// The wanted one.
        into: Currency,
    },
    /// An amount in a currency that no price book can turn into the wanted one.
    #[error(
        "{what}: {from} cannot be turned into {into}: add a rate to [price-book.rates] of a price book, or name the rate of the payment"
    )]
    NoRateFor {
        /// What it was asked or paid for.
        what: String,
        /// Its currency.
        from: Currency,
        /// The wanted one.
        into: Currency,
    },
    /// More digits than a sum can hold.
    #[error("a quantity or an amount is too large to reckon with")]
    Overflow,
    /// Low, likely and high out of order.
    #[error(
        "the price range {0} / {1} / {2} is out of order: low must not exceed likely, nor likely high"
    )]
    OutOfOrder(Decimal, Decimal, Decimal),
}

/// The largest amount accepted anywhere, in any currency.
pub const MOST: Decimal = Decimal::from_parts(1_000_000_000, 0, 0, false, 0);

impl Currency {
    /// The euro.
    pub const EUR: Currency = Currency(*b"EUR");
    /// The United States dollar.
    pub const USD: Currency = Currency(*b"USD");
    /// The pound sterling.
    pub const GBP: Currency = Currency(*b"GBP");

    /// Whether people write it with the sign of the dollar.
    pub fn is_dollar(&self) -> bool {
        let dollars = [b"USD", b"CAD", b"AUD", b"NZD", b"HKD", b"SGD", b"TWD"];
        dollars.contains(&&self.0)
    }

    /// The three letters.
    pub fn code(&self) -> &str {
        std::str::from_utf8(&self.0).unwrap_or("???")
    }

    /// Digits after the point of the smallest coin (ISO 4217, minor unit).
    pub fn decimals(&self) -> u32 {
        match &self.0 {
            b"BIF" | b"CLP" | b"DJF" | b"GNF" | b"ISK" | b"JPY" | b"KMF" | b"KRW" | b"PYG"
            | b"RWF" | b"UGX" | b"VND" | b"VUV" | b"XAF" | b"XOF" | b"XPF" => 0,
            b"BHD" | b"IQD" | b"JOD" | b"KWD" | b"LYD" | b"OMR" | b"TND" => 3,
            _ => 2,
        }
    }
}

impl FromStr for Currency {
    type Err = MoneyError;
    fn from_str(text: &str) -> Result<Self, MoneyError> {
        match text.as_bytes() {
            &[a, b, c] if [a, b, c].iter().all(u8::is_ascii_uppercase) => Ok(Self([a, b, c])),
            _ => Err(MoneyError::NotACurrency(text.to_owned())),
        }
    }
}

impl fmt::Display for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl fmt::Debug for Currency {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

impl<'de> Deserialize<'de> for Currency {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        words::read(d, str::parse)?.map_err(D::Error::custom)
    }
}

impl Serialize for Currency {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(self.code())
    }
}

/// An exact amount in one currency.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Money {
    /// How much.
    pub amount: Decimal,
    /// Of what.
    pub currency: Currency,
}

impl Money {
    /// An amount in a currency.
    pub fn new(amount: Decimal, currency: Currency) -> Self {
        Self { amount, currency }
    }

    /// Nothing, in a currency.
    pub fn zero(currency: Currency) -> Self {
        Self::new(Decimal::ZERO, currency)
    }

    /// The sum of two amounts.
    ///
    /// # Errors
    /// [`MoneyError::Mixed`] for two currencies, [`MoneyError::Overflow`] past counting.
    pub fn plus(self, other: Self) -> Result<Self, MoneyError> {
        if self.currency != other.currency {
            return Err(MoneyError::Mixed(self.currency, other.currency));
        }
        let amount = self
            .amount
            .checked_add(other.amount)
            .ok_or(MoneyError::Overflow)?;
        Ok(Self::new(amount, self.currency))
    }

    /// This amount taken so many times (a count, a length in metres, a rate).
    ///
    /// # Errors
    /// [`MoneyError::Overflow`] past counting.
    pub fn times(self, factor: Decimal) -> Result<Self, MoneyError> {
        let amount = self
            .amount
            .checked_mul(factor)
            .ok_or(MoneyError::Overflow)?;
        Ok(Self::new(amount, self.currency))
    }

    /// Rounded to the smallest coin, halves away from zero as invoices do.
    pub fn rounded(self) -> Self {
        let digits = self.currency.decimals();
        let strategy = RoundingStrategy::MidpointAwayFromZero;
        let mut amount = self.amount.round_dp_with_strategy(digits, strategy);
        // Always written with its cents.
        amount.rescale(digits);
        Self::new(amount, self.currency)
    }
}

/// Reads an amount: a decimal number in quotes, zero or more, within the limit.
///
/// # Errors
/// Says what the text is instead.
pub fn parse_amount(text: &str) -> Result<Decimal, MoneyError> {
    let amount = Decimal::from_str_exact(text.trim())
        .map_err(|_| MoneyError::NotAnAmount(text.to_owned()))?;
    if amount < Decimal::ZERO {
        Err(MoneyError::Negative(amount))
    } else if amount > MOST {
        Err(MoneyError::TooLarge(amount))
    } else {
        Ok(amount)
    }
}

/// Serde reader of an amount: `#[serde(with = "money::amount")]`.
pub mod amount {
    use super::*;
    /// Reads an amount in quotes.
    ///
    /// # Errors
    /// As [`parse_amount`]; a bare number is refused, since it may have lost cents.
    pub fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
        words::read(d, parse_amount)?.map_err(D::Error::custom)
    }
}

/// Reads an amount within a range: for the serde readers of quantities and rates.
///
/// # Errors
/// As [`amount::deserialize`]; says the range where the amount lies outside.
pub fn amount_within<'de, D: Deserializer<'de>>(
    d: D,
    least: Decimal,
    most: Decimal,
) -> Result<Decimal, D::Error> {
    let value = amount::deserialize(d)?;
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(D::Error::custom(format!(
            "expected {least} to {most}, found {value}"
        )))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn eur(text: &str) -> Money {
        Money::new(parse_amount(text).expect("an amount"), Currency::EUR)
    }

    #[test]
    fn halves_round_away_from_zero_as_on_an_invoice() {
        assert_eq!(eur("109.275").rounded(), eur("109.28"));
        assert_eq!(eur("109.2728").rounded(), eur("109.27"));
    }

    #[test]
    fn yen_have_no_cents() {
        let yen: Currency = "JPY".parse().expect("a code");
        let amount = Money::new(parse_amount("1234.5").expect("an amount"), yen);
        assert_eq!(amount.rounded().amount, Decimal::from(1235));
    }

    #[test]
    fn dinars_have_three_digits() {
        let dinars: Currency = "KWD".parse().expect("a code");
        let amount = Money::new(parse_amount("1.2345").expect("an amount"), dinars);
        assert_eq!(amount.rounded().amount, Decimal::new(1235, 3));
    }

    #[test]
    fn two_currencies_never_meet_in_a_sum() {
        let dollars = Money::new(Decimal::ONE, Currency::USD);
        assert_eq!(
            eur("1").plus(dollars),
            Err(MoneyError::Mixed(Currency::EUR, Currency::USD))
        );
    }

    #[test]
    fn a_wrong_amount_says_what_would_be_right() {
        let message = parse_amount("12,90").expect_err("a comma").to_string();
        assert!(message.contains("\"129.90\""), "{message}");
        assert!(parse_amount("-1").is_err());
        assert!("eur".parse::<Currency>().is_err());
    }
}
