//! What frames are made of: steel tube, aluminium plate and angle, printed polymer.

use super::part::part;
use super::text::Text;
use crate::units::{self, Length, MassDensity, Pressure, ThermodynamicTemperature};

part! {
    /// A cold-formed hollow section of EN 10219, stood on its narrow side: its area,
    /// second moments and torsion constant are computed from these three sizes.
    Tube by Metre {
        /// Outer height H, the larger side.
        #[serde(rename = "height_mm", with = "units::section_mm")]
        height: Length,
        /// Outer width B.
        #[serde(rename = "width_mm", with = "units::section_mm")]
        width: Length,
        /// Nominal wall T.
        #[serde(rename = "wall_mm", with = "units::section_mm")]
        wall: Length,
        /// The bars that dealers keep, any number of each; none where it is only cut to length.
        #[serde(default, rename = "bars_m", with = "units::m::list")]
        bars: Vec<Length>,
    }
}

part! {
    /// Aluminium plate for the Z axis and the gantry's carriage plates; sold cut to size,
    /// so counted by mass.
    Plate by Kilogram {
        /// Thickness.
        #[serde(rename = "thickness_mm", with = "units::section_mm")]
        thickness: Length,
        /// Density of the alloy.
        #[serde(rename = "density_kg_per_m3", with = "units::kg_per_m3")]
        density: MassDensity,
        /// Elastic modulus of the alloy.
        #[serde(rename = "modulus_gpa", with = "units::gpa")]
        modulus: Pressure,
    }
}

part! {
    /// Equal-leg angle for brackets, switch flags and chain trays.
    Angle by Metre {
        /// Length of each leg, outside.
        #[serde(rename = "leg_mm", with = "units::section_mm")]
        leg: Length,
        /// Thickness.
        #[serde(rename = "thickness_mm", with = "units::section_mm")]
        thickness: Length,
        /// Density of the alloy.
        #[serde(rename = "density_kg_per_m3", with = "units::kg_per_m3")]
        density: MassDensity,
    }
}

part! {
    /// Printing material for brackets and mounts, by its polymer.
    Filament by Kilogram {
        /// The polymer's short name, such as PETG.
        polymer: Text,
        /// Density.
        #[serde(rename = "density_kg_per_m3", with = "units::kg_per_m3")]
        density: MassDensity,
        /// Elastic modulus of a printed part, across its layers.
        #[serde(rename = "modulus_gpa", with = "units::gpa")]
        modulus: Pressure,
        /// Glass transition, least of the usual range: above it the polymer softens.
        #[serde(rename = "glass_transition_celsius", with = "units::celsius")]
        glass_transition: ThermodynamicTemperature,
        /// Temperature that a loaded mount may hold for years without creeping away.
        #[serde(rename = "sustained_celsius", with = "units::celsius")]
        sustained: ThermodynamicTemperature,
    }
}
