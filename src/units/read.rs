//! Readers of bare numbers in files. Each refuses what no machine has, at the number's place
//! in the file: a typing slip of three noughts is found where it was made, and no formula
//! divides by nothing or runs off to infinity.

use std::ops::RangeInclusive;

use serde::{Deserialize, Deserializer, de::Error};

/// A number of a unit within a range; the least one tells a slip from a small part.
pub(super) fn within<'de, D: Deserializer<'de>>(
    d: D,
    range: &RangeInclusive<f64>,
    unit: &str,
) -> Result<f64, D::Error> {
    let value = finite(d)?;
    if range.contains(&value) {
        return Ok(value);
    }
    Err(D::Error::custom(if value <= 0.0 && *range.start() > 0.0 {
        format!("expected more than 0, found {}", plain(value, unit))
    } else {
        refusal(*range.start(), *range.end(), value, unit)
    }))
}

/// The same for what a part may well have none of: friction, leakage, play.
pub(super) fn within_or_zero<'de, D: Deserializer<'de>>(
    d: D,
    range: &RangeInclusive<f64>,
    unit: &str,
) -> Result<f64, D::Error> {
    let value = finite(d)?;
    if (0.0..=*range.end()).contains(&value) {
        Ok(value)
    } else {
        Err(D::Error::custom(refusal(0.0, *range.end(), value, unit)))
    }
}

/// A number read from a file that is neither NaN nor infinite.
fn finite<'de, D: Deserializer<'de>>(d: D) -> Result<f64, D::Error> {
    let value = f64::deserialize(d)?;
    if value.is_finite() {
        Ok(value)
    } else {
        Err(D::Error::custom(
            "expected an ordinary number, not NaN or infinity",
        ))
    }
}

/// Reads a whole number from `LEAST` to `MOST`: how many there are of something.
///
/// # Errors
/// Refuses numbers outside, and those with a fraction.
pub fn count<'de, const LEAST: u32, const MOST: u32, D: Deserializer<'de>>(
    d: D,
) -> Result<u32, D::Error> {
    let value = i64::deserialize(d)?;
    u32::try_from(value)
        .ok()
        .filter(|count| (LEAST..=MOST).contains(count))
        .ok_or_else(|| {
            D::Error::custom(format!(
                "expected a whole number from {LEAST} to {MOST}, found {value}"
            ))
        })
}

fn refusal(least: f64, most: f64, value: f64, unit: &str) -> String {
    let (least, most) = (plain(least, ""), plain(most, unit));
    format!("expected {least} to {most}, found {}", plain(value, unit))
}

/// A number as people write it, with its unit; huge and tiny ones by their power of ten.
fn plain(value: f64, unit: &str) -> String {
    let space = if unit.is_empty() { "" } else { " " };
    if value == 0.0 || (1e-6..1e12).contains(&value.abs()) {
        format!("{value}{space}{unit}")
    } else {
        format!("{value:e}{space}{unit}")
    }
}

#[cfg(test)]
mod tests {
    use serde::Deserialize;

    use crate::units::{self, Length, Ratio};

    #[derive(Debug, Deserialize)]
    struct Entry {
        #[serde(default, rename = "wall_mm", with = "units::mm::opt")]
        wall: Option<Length>,
        #[serde(default, rename = "play_um", with = "units::um::or_zero::opt")]
        play: Option<Length>,
        #[serde(default, with = "units::share::opt")]
        efficiency: Option<Ratio>,
        #[serde(default, rename = "bores_mm", with = "units::mm::list")]
        bores: Vec<Length>,
        #[serde(default, deserialize_with = "units::count::<1, 4, _>")]
        rails: u32,
    }

    fn refused(text: &str) -> String {
        let error = toml::from_str::<Entry>(text).expect_err(text);
        error.message().to_owned()
    }

    #[test]
    fn absurd_numbers_are_refused_with_what_is_expected() {
        for (text, message) in [
            ("wall_mm = 0", "expected more than 0, found 0 mm"),
            ("wall_mm = -2.5", "expected more than 0, found -2.5 mm"),
            (
                "wall_mm = 1e300",
                "expected 0.001 to 10000 mm, found 1e300 mm",
            ),
            (
                "wall_mm = 1e-300",
                "expected 0.001 to 10000 mm, found 1e-300 mm",
            ),
            ("play_um = -1", "expected 0 to 100000 µm, found -1 µm"),
            ("efficiency = 5", "expected 0.001 to 1, found 5"),
            ("bores_mm = [8, 0]", "expected more than 0, found 0 mm"),
            ("rails = 0", "expected a whole number from 1 to 4, found 0"),
            (
                "rails = -1",
                "expected a whole number from 1 to 4, found -1",
            ),
        ] {
            assert_eq!(refused(text), message);
        }
        assert!(refused("wall_mm = nan").contains("not NaN"));
    }

    #[test]
    fn ordinary_numbers_and_a_fitting_nothing_are_read() {
        let text = "wall_mm = 4\nplay_um = 0\nefficiency = 1\nbores_mm = [8, 10]\nrails = 2";
        let entry: Entry = toml::from_str(text).expect("fine");
        assert_eq!(entry.wall, Some(units::mm::of(4.0)));
        assert_eq!(entry.play, Some(units::um::of(0.0)));
        assert_eq!(entry.efficiency, Some(units::share::of(1.0)));
        assert_eq!((entry.bores.len(), entry.rails), (2, 2));
    }
}
