//! What gets cut: the materials that a builder may wish for.

use serde::{Deserialize, Deserializer};

use super::part::part;
use crate::units::{self, Length, MassDensity, Pressure, Ratio, Stiffness, Velocity};

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
        /// Least feed per tooth, for tools of 3, 6 and 8 mm: below it the edge rubs.
        #[serde(rename = "least_chip_mm")]
        least_chip: ToothFeeds,
        /// Greatest feed per tooth, for tools of 3, 6 and 8 mm.
        #[serde(rename = "greatest_chip_mm")]
        greatest_chip: ToothFeeds,
        /// Force across the cut against the force along it, with a sharp edge.
        #[serde(rename = "radial_force_share", with = "units::share")]
        radial_force: Ratio,
        /// Deepest cut that is usual where half the tool or more is in the material, in
        /// diameters of the tool.
        #[serde(rename = "deepest_cut_diameters", with = "units::times")]
        deepest_cut: Ratio,
        /// Depth of the slot that the trade takes as usual, in diameters of the tool.
        #[serde(rename = "usual_slot_diameters", with = "units::times")]
        usual_slot: Ratio,
        /// How far the tip may be pushed aside in roughing.
        #[serde(rename = "roughing_give_um", with = "units::um")]
        roughing_give: Length,
        /// How far the tip may be pushed aside in finishing.
        #[serde(rename = "finishing_give_um", with = "units::um")]
        finishing_give: Length,
        /// Stiffness at the collet below which it is cut with care at best.
        #[serde(rename = "easily_from_n_per_um", with = "units::n_per_um::or_zero")]
        easily_from: Stiffness,
        /// Stiffness at the collet below which it is hardly cut at best.
        #[serde(default, rename = "with_care_from_n_per_um", with = "units::n_per_um::or_zero")]
        with_care_from: Stiffness,
        /// Stiffness at the collet below which it is not cut at all.
        #[serde(default, rename = "hardly_from_n_per_um", with = "units::n_per_um::or_zero")]
        hardly_from: Stiffness,
        /// Whether its dust counts as hardwood dust.
        #[serde(default)]
        hardwood_dust: bool,
    }
}

/// Diameters for which feeds a tooth are stated, in millimetres: those of cutter makers'
/// tables that hold for small end mills.
pub const STATED_MM: [f64; 3] = [3.0, 6.0, 8.0];

/// A feed per tooth for each of the stated diameters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothFeeds([Length; 3]);

impl ToothFeeds {
    /// The feed per tooth of a tool: between two stated diameters on the line that joins them,
    /// outside in proportion to the diameter, as cutter makers scale it.
    pub fn at(&self, diameter: Length) -> Length {
        let [small, middle, large] = STATED_MM;
        let [at_small, at_middle, at_large] = self.0;
        let d = units::mm::from(diameter);
        let between = |(from, low): (f64, Length), (to, high): (f64, Length)| {
            low + (high - low) * ((d - from) / (to - from))
        };
        if d <= small {
            at_small * (d / small)
        } else if d <= middle {
            between((small, at_small), (middle, at_middle))
        } else if d <= large {
            between((middle, at_middle), (large, at_large))
        } else {
            at_large * (d / large)
        }
    }

    /// Whether thicker tools bear as much as thinner ones, or more.
    pub fn rises(&self) -> bool {
        let [small, middle, large] = self.0;
        small <= middle && middle <= large
    }

    /// Whether another table states as much at every diameter, or more.
    pub fn is_within(&self, greatest: &Self) -> bool {
        self.0
            .iter()
            .zip(&greatest.0)
            .all(|(low, high)| low <= high)
    }
}

impl<'de> Deserialize<'de> for ToothFeeds {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        struct One(#[serde(with = "units::mm")] Length);
        <[One; 3]>::deserialize(d).map(|each| Self(each.map(|one| one.0)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> ToothFeeds {
        ToothFeeds([0.05, 0.12, 0.20].map(units::mm::of))
    }

    #[test]
    fn stated_diameters_have_their_stated_feed() {
        for (d, feed) in [(3.0, 0.05), (6.0, 0.12), (8.0, 0.20)] {
            let at = units::mm::from(table().at(units::mm::of(d)));
            assert!((at - feed).abs() < 1e-12, "{d}: {at}");
        }
    }

    #[test]
    fn others_lie_between_and_scale_beyond() {
        for (d, feed) in [
            (1.5, 0.025),
            (4.0, 0.05 + 0.07 / 3.0),
            (7.0, 0.16),
            (16.0, 0.40),
        ] {
            let at = units::mm::from(table().at(units::mm::of(d)));
            assert!((at - feed).abs() < 1e-12, "{d}: {at}");
        }
        assert!(table().rises());
        assert!(!ToothFeeds([0.2, 0.1, 0.3].map(units::mm::of)).rises());
    }
}
