//! How hard a material resists.
//!
//! Metals by Kienzle, k_c = k_c1.1 · h^-m with the chip's thickness h in millimetres (VDI 3323
//! groups, published cutting-tool user guide; the values hold for a rake of zero and are
//! ± 20 % at best). Wood, plastics and foam by their specific energy at chips of 0.1 mm, which
//! grows in the same way when chips get thinner and stays as it is for thicker ones. Kienzle is
//! fitted for chips of 0.05 mm and more: below 0.04 mm, where small tools work, take every force
//! as ± 30 %.

use crate::catalogue::material::{Family, Material};
use crate::units::{self, Length, Pressure};

/// Chips at which the specific energy of what is no metal is stated, in millimetres.
const STATED_CHIP_MM: f64 = 0.1;

/// The law by which a material resists.
#[derive(Clone, Copy, Debug)]
pub struct Resistance {
    /// Specific force at chips of one millimetre, in N/mm².
    pub(super) at_one: f64,
    /// How it grows with thinner chips.
    pub(super) exponent: f64,
    /// What it never falls below, in N/mm²: wood and plastics are known at chips of 0.1 mm and
    /// below; nothing says that thicker ones are easier. Zero for metals.
    pub(super) least: f64,
}

impl Resistance {
    /// The law of a material.
    pub fn of(material: &Material) -> Self {
        let exponent = units::share::from(material.chip_exponent);
        let stated = units::n_per_mm2::from(material.specific_force);
        Self {
            at_one: match material.family {
                Family::Metal => stated,
                _ => stated * STATED_CHIP_MM.powf(exponent),
            },
            exponent,
            least: match material.family {
                Family::Metal => 0.0,
                _ => stated,
            },
        }
    }

    /// The chip from which on it is the same however thick the chip gets; none for metals, where
    /// it falls on.
    pub(super) fn level_from(&self) -> Option<Length> {
        (self.least > 0.0).then(|| units::mm::of(STATED_CHIP_MM))
    }

    /// Specific cutting force at a chip's thickness.
    pub fn at(&self, chip: Length) -> Pressure {
        let force = self.at_one * units::mm::from(chip).powf(-self.exponent);
        units::n_per_mm2::of(force.max(self.least))
    }
}

/// The force across the cut counted in: √(1 + r²).
pub(super) fn with_radial(material: &Material) -> f64 {
    units::share::from(material.radial_force).hypot(1.0)
}
