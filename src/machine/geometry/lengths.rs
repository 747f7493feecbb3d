//! The lengths that pieces and cables of a frame plan follow, and the cable chains.

use super::along::RailCut;
use crate::build::{Axis, PerAxis, Picked};
use crate::catalogue::frame::{Follows, Rides};
use crate::units::{self, Length};

/// A cable chain.
#[derive(Clone, Copy, Debug)]
pub struct ChainCut {
    /// The axis whose travel it follows.
    pub axis: Axis,
    /// Its length.
    pub length: Length,
}

/// The lengths that pieces and cables of the plan may follow.
pub(in crate::machine) struct Lengths<'a, 'c> {
    pub(in crate::machine) picked: &'a Picked<'c>,
    pub(in crate::machine) rails: &'a PerAxis<RailCut>,
}

impl Lengths<'_, '_> {
    pub(in crate::machine) fn of(&self, follows: Follows) -> Length {
        let area = &self.picked.build.area;
        match follows {
            Follows::TravelX => area.travel.x,
            Follows::TravelY => area.travel.y,
            Follows::TravelZ => area.travel.z,
            Follows::RailX => self.rails.x.length,
            Follows::RailY => self.rails.y.length,
            Follows::RailZ => self.rails.z.length,
            Follows::Clearance => area.clearance,
            Follows::Nothing => units::mm::of(0.0),
        }
    }
}

/// A chain is half the travel, half a turn of its bend, and two links to hold it.
pub(super) fn chains(picked: &Picked) -> Vec<ChainCut> {
    let chain = picked.chain;
    let used = |axis: Axis, rides: Rides| {
        let carried = picked
            .frame
            .route
            .iter()
            .any(|route| route.chains.contains(&rides));
        carried.then(|| ChainCut {
            axis,
            length: picked.build.area.travel[axis] / 2.0
                + chain.bend_radius * std::f64::consts::PI
                + chain.pitch * 2.0,
        })
    };
    [
        (Axis::X, Rides::X),
        (Axis::Y, Rides::Y),
        (Axis::Z, Rides::Z),
    ]
    .into_iter()
    .filter_map(|(axis, rides)| used(axis, rides))
    .collect()
}
