//! What the choices make: geometry, masses, axes and electrics, as typed figures.
//!
//! [`Machine::of`] is a pure function of the picked parts. Nothing in it is stored; every
//! figure on any surface comes from here.

pub mod axis;
pub mod cable_load;
pub mod conductor;
pub mod drive;
pub mod electrics;
mod feed;
pub mod geometry;
pub mod limits;
mod load;
pub mod loads;
pub mod mass;
pub mod section;
pub mod servo;
pub mod stepper;
pub mod torque;
pub mod wiring;

use crate::build::{PerAxis, Picked};
use axis::AxisFigures;
use electrics::Electrics;
use geometry::Geometry;
use mass::Masses;

/// Everything that can be said of a machine before anybody asks what it costs.
#[derive(Clone, Debug)]
pub struct Machine {
    /// Lengths, pieces, cable runs, footprint.
    pub geometry: Geometry,
    /// Moving masses and the total.
    pub masses: Masses,
    /// Speeds, forces and steps of each axis.
    pub axes: PerAxis<AxisFigures>,
    /// Mains circuits, supplies, cabinet heat.
    pub electrics: Electrics,
}

impl Machine {
    /// Works the machine out.
    pub fn of(picked: &Picked) -> Self {
        let geometry = Geometry::of(picked);
        let masses = Masses::of(picked, &geometry);
        let axes = PerAxis::from_fn(|axis| AxisFigures::of(picked, &geometry, &masses, axis));
        let electrics = Electrics::of(picked, &axes);
        Self {
            geometry,
            masses,
            axes,
            electrics,
        }
    }
}
