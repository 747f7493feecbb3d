//! Days in files: when a price or a standard was true. A day that no calendar has is told
//! with one that is spelled right.

use jiff::civil::Date;
use serde::{Deserialize, Deserializer, de::Error as _};

/// Reads a day in quotes, the year first.
///
/// # Errors
/// Says what the text is instead, and how a day is written.
pub(super) fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Date, D::Error> {
    const EXPECTED: &str = "expected a date such as \"2026-11-30\"";
    let text = String::deserialize(d)
        .map_err(|_| D::Error::custom(format!("this is not in quotes: {EXPECTED}")))?;
    text.parse()
        .map_err(|_| D::Error::custom(format!("{text:?} is not a day: {EXPECTED}")))
}
