//! How long a printer is busy with the printed parts, and what it draws from the wall.
//!
//! Printers differ more than parts do: nozzle, layer and plastic decide. So both ends of what
//! is usual are told, and no figure of the machine rests on them.

use crate::units::{self, Energy, Mass, Time};

/// What usual printers lay down, in grams an hour (common practice): the slow end with fine
/// layers and a 0.4 mm nozzle, the fast end with thick ones.
pub const GRAMS_AN_HOUR: (f64, f64) = (15.0, 30.0);

/// How much more filament is bought than the parts weigh: some prints fail (common practice).
pub const FOR_FAILED: f64 = 1.2;

/// What a printer with a heated bed draws at most, averaged over a print, in watts (common
/// practice, from memory).
pub const PRINTER_W: f64 = 150.0;

/// The time of a print.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintTime {
    /// At the fast end.
    pub least: Time,
    /// At the slow end.
    pub most: Time,
    /// Energy from the wall, at the slow end.
    pub energy: Energy,
}

impl PrintTime {
    /// The time for a mass of plastic.
    pub fn of(mass: Mass) -> Self {
        let grams = units::kg::from(mass) * 1000.0;
        let (slow, fast) = GRAMS_AN_HOUR;
        let most = grams / slow;
        Self {
            least: units::hour::of(grams / fast),
            most: units::hour::of(most),
            energy: units::j::of(most * 3600.0 * PRINTER_W),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn three_hundred_grams_take_ten_to_twenty_hours_and_three_kilowatt_hours() {
        let time = PrintTime::of(units::kg::of(0.3));
        assert!((units::hour::from(time.least) - 10.0).abs() < 1e-9);
        assert!((units::hour::from(time.most) - 20.0).abs() < 1e-9);
        assert!((units::j::from(time.energy) / 3.6e6 - 3.0).abs() < 1e-9);
    }
}
