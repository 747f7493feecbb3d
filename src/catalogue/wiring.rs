//! Cables, the chains that carry them, the cabinet and its fan.

use super::part::part;
use crate::units::{self, Area, ElectricPotential, Length, LinearMassDensity, Mass, Power};

crate::words! {
    /// What a cable is sold for.
    CableUse {
        Power = "power", "motors and spindle", "Power cores for motors, spindles and the mains.";
        Signal = "signal", "switches", "Thin cores for switches and sensors.";
    }
}

part! {
    /// Cable by the metre, copper cores by IEC 60228.
    Cable by Metre {
        /// Power or signal.
        usage: CableUse,
        /// Number of cores, the protective conductor included.
        #[serde(deserialize_with = "units::count::<1, 50, _>")]
        cores: u32,
        /// Nominal section of a core.
        #[serde(rename = "area_mm2", with = "units::mm2")]
        area: Area,
        /// Whether it has a braid.
        shielded: bool,
        /// Whether it is made for continuous bending in a chain.
        flexible: bool,
        /// Outer diameter.
        #[serde(rename = "outer_mm", with = "units::mm")]
        outer: Length,
        /// Rated voltage between cores.
        #[serde(rename = "rated_v", with = "units::v")]
        rated_voltage: ElectricPotential,
        /// Mass per length.
        #[serde(rename = "kg_per_m", with = "units::kg_per_m")]
        linear_mass: LinearMassDensity,
    }
}

part! {
    /// A cable chain by the metre; its end pieces are lines of their own.
    Chain by Metre {
        /// Inner height.
        #[serde(rename = "inner_height_mm", with = "units::mm")]
        inner_height: Length,
        /// Inner width.
        #[serde(rename = "inner_width_mm", with = "units::mm")]
        inner_width: Length,
        /// Bend radius at the middle of the chain.
        #[serde(rename = "bend_radius_mm", with = "units::mm")]
        bend_radius: Length,
        /// Length of a link.
        #[serde(rename = "pitch_mm", with = "units::mm")]
        pitch: Length,
        /// Mass per length, empty.
        #[serde(rename = "kg_per_m", with = "units::kg_per_m")]
        linear_mass: LinearMassDensity,
    }
}

crate::words! {
    /// What the electronics sit in.
    CabinetMaterial {
        Steel = "painted-steel", "painted steel", "Closed, earthed, sheds heat through its walls.";
        Stainless = "stainless-steel", "stainless steel", "Closed and earthed; sheds less heat than painted steel.";
        Aluminium = "aluminium", "aluminium", "Closed, earthed, sheds the most heat.";
        Plastic = "plastic", "plastic", "Closed and insulating: no shield, sheds little heat.";
        Wood = "wood", "wood", "Burns, does not shield, cannot be earthed.";
        OpenBoard = "open-board", "open board", "No box at all: live parts, dust and chips meet.";
    }
}

part! {
    /// A cabinet, or what stands in for one.
    Cabinet by Piece {
        /// What it is made of.
        material: CabinetMaterial,
        /// Width.
        #[serde(rename = "width_mm", with = "units::mm")]
        width: Length,
        /// Height.
        #[serde(rename = "height_mm", with = "units::mm")]
        height: Length,
        /// Depth.
        #[serde(rename = "depth_mm", with = "units::mm")]
        depth: Length,
    }
}

part! {
    /// A filtered cabinet fan.
    Fan by Piece {
        /// Air it moves through its filter, in m³/h.
        #[serde(rename = "air_m3_per_h")]
        air: units::AirFlow,
        /// Power it draws.
        #[serde(rename = "power_w", with = "units::w")]
        power: Power,
    }
}

part! {
    /// An enclosure around the whole machine.
    Enclosure by Piece {
        /// How much quieter it is outside, dB.
        #[serde(rename = "damping_db")]
        damping: units::SoundLevel,
        /// Mass.
        #[serde(rename = "mass_kg", with = "units::kg")]
        mass: Mass,
    }
}
