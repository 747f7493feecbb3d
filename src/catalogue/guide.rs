//! Profile rails and the carriages that run on them.

use super::part::{Id, part};
use crate::units::{self, Force, Length, LinearMassDensity, Mass, Stiffness};

part! {
    /// A profile rail, bought cut to length.
    Rail by Metre {
        /// Nominal size: 15, 20 or 25 (ISO 12090-1).
        #[serde(deserialize_with = "units::count::<5, 100, _>")]
        size: u32,
        /// Width of the foot.
        #[serde(rename = "foot_width_mm", with = "units::section_mm")]
        foot_width: Length,
        /// Height of the rail alone.
        #[serde(rename = "height_mm", with = "units::section_mm")]
        height: Length,
        /// Distance between mounting holes.
        #[serde(rename = "hole_pitch_mm", with = "units::mm")]
        hole_pitch: Length,
        /// Thread diameter of the mounting screws.
        #[serde(rename = "screw_mm", with = "units::section_mm")]
        screw: Length,
        /// Mass per length.
        #[serde(rename = "kg_per_m", with = "units::kg_per_m")]
        linear_mass: LinearMassDensity,
        /// Longest piece on offer.
        #[serde(rename = "longest_mm", with = "units::mm")]
        longest: Length,
    }
}

crate::words! {
    /// The shape of a carriage.
    CarriageShape {
        Narrow = "narrow", "narrow", "Bolted from above through the moving part; fits where space is short.";
        Wide = "wide", "wide", "With flanges, bolted from either side; stiffer against tilting.";
    }
}

part! {
    /// A carriage with the rail that it runs on.
    Carriage by Piece {
        /// The rail it fits.
        rail: Id,
        /// Narrow or wide.
        shape: CarriageShape,
        /// Length along the rail, end seals included.
        #[serde(rename = "length_mm", with = "units::mm")]
        length: Length,
        /// Height of rail and carriage together.
        #[serde(rename = "assembly_height_mm", with = "units::mm")]
        assembly_height: Length,
        /// Mass of one carriage.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
        /// Dynamic load rating C at 50 km.
        #[serde(rename = "dynamic_load_n", with = "units::n")]
        dynamic_load: Force,
        /// Static load rating.
        #[serde(rename = "static_load_n", with = "units::n")]
        static_load: Force,
        /// Drag of the seals and the preload, the load not counted.
        #[serde(rename = "drag_n", with = "units::n::or_zero")]
        drag: Force,
        /// Thread diameter of its four mounting screws.
        #[serde(rename = "screw_mm", with = "units::mm")]
        screw: Length,
        /// Distance of those screws across the rail, middle to middle.
        #[serde(default, rename = "holes_across_mm", with = "units::mm::opt")]
        holes_across: Option<Length>,
        /// Distance of those screws along the rail.
        #[serde(default, rename = "holes_along_mm", with = "units::mm::opt")]
        holes_along: Option<Length>,
        /// Radial rigidity of one block at light preload, as the catalogue measures it on a
        /// bed of solid steel. How much of it is left on a self-built frame is a choice.
        #[serde(rename = "rigidity_n_per_um", with = "units::n_per_um")]
        rigidity: Stiffness,
    }
}
