//! Amounts in whole coins, the smallest of a currency, as floors are counted in.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use crate::money::Currency;

/// So many of the smallest coins of the money of the bill: cents, yen.
pub type Coins = i64;

/// Parts in a million.
pub(super) type Millionths = i64;

/// All of it.
pub(super) const MILLION: i64 = 1_000_000;

/// An amount in the smallest coins of its currency, rounded down.
pub(super) fn down(amount: Decimal, currency: Currency) -> Coins {
    let coins = in_coins(amount, currency);
    coins
        .and_then(|coins| coins.floor().to_i64())
        .unwrap_or_default()
}

/// An amount in the smallest coins of its currency, rounded up.
pub fn up(amount: Decimal, currency: Currency) -> Coins {
    let coins = in_coins(amount, currency);
    coins
        .and_then(|coins| coins.ceil().to_i64())
        .unwrap_or(Coins::MAX)
}

fn in_coins(amount: Decimal, currency: Currency) -> Option<Decimal> {
    amount.checked_mul(Decimal::from(10_u32.pow(currency.decimals())))
}

/// A percentage in millionths, rounded down.
pub(super) fn millionths(percent: Decimal) -> Millionths {
    let scaled = percent * Decimal::from(10_000);
    scaled.floor().to_i64().unwrap_or_default()
}
