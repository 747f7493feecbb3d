//! How long nuts and carriages last: L10, what nine of ten alike reach, under the mean load
//! of a stated use.
//!
//! On a self-built router it is seldom the limit; the figure is there to say so, and to find
//! the axis where it is: a small nut under a heavy spindle, one carriage alone on its rail.

mod carriage;
mod nut;
mod tell;
mod usage;

use crate::build::{Axis, PerAxis, Picked};
use crate::explain::Recorder;
use crate::units::{self, Force, Length, Ratio, Time, Velocity};

use super::axis::AxisFigures;
use super::geometry::Geometry;
use super::mass::Masses;
use super::stiffness::Levers;
use carriage::Stand;
use nut::NutLoads;
use usage::Usage;

pub use carriage::{carriage_travel, load_factor};
pub use nut::{nut_travel, pair_loads};

/// The life of one axis: what nine of ten bearings reach.
#[derive(Clone, Copy, Debug)]
pub struct Life {
    /// Mean load on the nut; none for racks, belts and plain nuts.
    pub nut_load: Option<Force>,
    /// Travel of the nut until then; none likewise.
    pub nut: Option<Length>,
    /// Hours of the stated use until then; none likewise.
    pub nut_hours: Option<Time>,
    /// Mean load on the most burdened carriage.
    pub carriage_load: Force,
    /// Travel of that carriage until then.
    pub carriage: Length,
    /// Hours of the stated use until then.
    pub carriage_hours: Time,
}

impl Life {
    /// Works the life of one axis out.
    pub(super) fn of(
        picked: &Picked,
        geometry: &Geometry,
        masses: &Masses,
        axes: &PerAxis<AxisFigures>,
        levers: &Levers,
        axis: Axis,
        notes: &mut impl Recorder,
    ) -> Self {
        let usage = Usage::of(picked, axes, axis);
        let speed = usage.mean_speed();
        let nut = NutLoads::weakest(picked, &axes[axis], axis, &usage);
        let stand = Stand::of(picked, geometry, masses, levers, axis);
        let carriage_load = stand.mean_load(&usage);
        let rating = picked.axes[axis].carriage.dynamic_load;
        let carriage = carriage_travel(rating, carriage_load, load_factor());
        let life = Self {
            nut_load: nut.map(|nut| nut.load()),
            nut: nut.map(|nut| nut.travel()),
            nut_hours: nut.map(|nut| hours(nut.travel(), speed)),
            carriage_load,
            carriage,
            carriage_hours: hours(carriage, speed),
        };
        if let Some(nut) = nut {
            tell::nut(picked, &axes[axis], axis, &usage, &nut, notes);
        }
        tell::carriage(picked, axis, &usage, &stand, &life, notes);
        life
    }

    /// The shorter of both lives, in hours of the stated use.
    pub fn shortest(&self) -> Time {
        match self.nut_hours {
            Some(nut) if nut < self.carriage_hours => nut,
            _ => self.carriage_hours,
        }
    }
}

/// Share of the hours of work in which the tool is in the cut (common practice).
pub fn share_in_the_cut() -> Ratio {
    units::share::of(usage::CUTTING)
}

/// Time for a way at a mean speed.
fn hours(way: Length, speed: Velocity) -> Time {
    way / speed
}

#[cfg(test)]
mod tests;
