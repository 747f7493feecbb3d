//! How the exact amounts of several kinds of record are read, and what a mark says where it is
//! left out.

use rust_decimal::Decimal;
use serde::Deserializer;

use crate::money;

/// A share in percent, 0 to 100.
pub(super) fn percent<'de, D: Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
    money::amount_within(d, Decimal::ZERO, Decimal::ONE_HUNDRED)
}

/// How many for each that is counted: up to a million.
pub(super) fn how_many<'de, D: Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
    money::amount_within(d, Decimal::ZERO, Decimal::new(1_000_000, 0))
}

/// An amount of money that may be left out.
pub(super) fn some_amount<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Decimal>, D::Error> {
    money::amount::deserialize(d).map(Some)
}

/// What a mark says that is left out, where that is no "no".
pub(super) fn yes() -> bool {
    true
}
