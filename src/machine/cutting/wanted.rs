//! The cut that the builder means to take: the usual tool at its usual speed, the wanted feed,
//! the trade's usual slot.

use super::Engagement;
use super::chip::Bite;
use super::force::Resistance;
use crate::build::Picked;
use crate::catalogue::material::Material;
use crate::units::{self, AngularVelocity, Frequency, Length, Power, Velocity};

/// The wanted cut in one material.
#[derive(Clone, Copy, Debug)]
pub struct Wanted {
    /// Depth of the slot.
    pub depth: Length,
    /// Feed: the wanted one, or less where a tooth would take more than it bears.
    pub feed: Velocity,
    /// Mean thickness of its chip.
    pub chip: Length,
    /// Power that it asks at the shaft.
    pub power: Power,
}

impl Wanted {
    /// The wanted cut in a material.
    pub fn of(picked: &Picked, material: &Material) -> Self {
        let tool = picked.tool;
        let teeth = teeth_a_minute(picked);
        let tooth_feed = tooth_takes(picked).min(material.greatest_chip.at(tool.diameter));
        let feed = units::m_per_min::of(units::m::from(tooth_feed) * teeth);
        let depth = tool.diameter * material.usual_slot;
        let chip = Bite::of(Engagement::Slot.share()).mean_chip(tooth_feed);
        Self {
            depth,
            feed,
            chip,
            power: Resistance::of(material).at(chip) * (depth * tool.diameter * feed),
        }
    }

    /// Feed at which the cut would ask for so much less power. A thinner chip resists more, so
    /// the power goes with f^(1-m); where chips are so thick that a thinner one resists no more,
    /// as in wood and plastics, it goes with the feed until they are not.
    pub fn feed_for(&self, material: &Material, power: Power) -> Velocity {
        let exponent = 1.0 - units::share::from(material.chip_exponent);
        let less = units::times::from(power / self.power);
        let level = Resistance::of(material).level_from();
        // The share of feed and power alike down to which resistance stays as it is.
        let even = level.map_or(1.0, |level| units::times::from(level / self.chip).min(1.0));
        if less >= even {
            return self.feed * less;
        }
        self.feed * even * (less / even).powf(1.0 / exponent.max(0.05))
    }
}

/// Power that the spindle gives at its usual speed, within the user's cap.
pub fn power_at_hand(picked: &Picked) -> Power {
    let chosen = &picked.build.spindle;
    let cap = picked.spindle.power * chosen.power_cap;
    picked.spindle.power_at(chosen.speed).min(cap)
}

/// What a tooth of the usual tool takes at its usual speed and the wanted feed.
pub fn tooth_takes(picked: &Picked) -> Length {
    let feed = units::m_per_min::from(picked.build.area.cutting_feed);
    units::m::of(feed / teeth_a_minute(picked))
}

/// How many teeth of the usual tool strike in a minute at its usual speed.
fn teeth_a_minute(picked: &Picked) -> f64 {
    f64::from(picked.tool.flutes) * units::rpm::from(picked.build.spindle.speed)
}

/// How often a tooth of the usual tool strikes at the usual speed.
pub fn tooth_passing(picked: &Picked) -> Frequency {
    let turns = units::rpm::from(picked.build.spindle.speed) / 60.0;
    units::hz::of(turns * f64::from(picked.tool.flutes))
}

/// Speed at which a tooth of the usual tool strikes so often.
pub fn turns_for_passing(picked: &Picked, often: Frequency) -> AngularVelocity {
    units::rpm::of(units::hz::from(often) * 60.0 / f64::from(picked.tool.flutes))
}
