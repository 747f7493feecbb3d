//! What gets cut: the materials that a builder may wish for.

use super::part::part;
use crate::units::{self, Length, MassDensity, Pressure, Ratio, Velocity};

crate::words! {
    /// The family of a material: what it does to dust, coolant and fire.
    Family {
        Wood = "wood", "wood", "Solid wood and boards made of it: fine dust that harms lungs and burns.";
        Plastic = "plastic", "plastic", "Melts when the tool rubs.";
        Metal = "metal", "metal", "Wants stiffness, slow speeds and lubrication.";
        Foam = "foam", "foam", "Cuts without force.";
    }
}

part! {
    /// A material to be cut.
    Material by Piece {
        /// Its family.
        family: Family,
        /// Density.
        #[serde(rename = "density_kg_per_m3", with = "units::kg_per_m3")]
        density: MassDensity,
        /// Specific cutting force: for metals kc1.1 at one square millimetre of chip
        /// (Kienzle), for others the specific energy at chips of about 0.1 mm.
        #[serde(rename = "specific_force_n_per_mm2", with = "units::n_per_mm2")]
        specific_force: Pressure,
        /// Kienzle's exponent mc; for wood and plastics the exponent of thin chips.
        #[serde(rename = "chip_exponent", with = "units::share::or_zero")]
        chip_exponent: Ratio,
        /// Slowest usual cutting speed.
        #[serde(rename = "least_speed_m_per_min", with = "units::m_per_min")]
        least_speed: Velocity,
        /// Fastest usual cutting speed.
        #[serde(rename = "greatest_speed_m_per_min", with = "units::m_per_min")]
        greatest_speed: Velocity,
        /// Least feed a tooth for a 6 mm tool: below it the edge rubs.
        #[serde(rename = "least_chip_mm", with = "units::mm")]
        least_chip: Length,
        /// Greatest feed a tooth for a 6 mm tool.
        #[serde(rename = "greatest_chip_mm", with = "units::mm")]
        greatest_chip: Length,
        /// Whether its dust counts as hardwood dust.
        #[serde(default)]
        hardwood_dust: bool,
    }
}
