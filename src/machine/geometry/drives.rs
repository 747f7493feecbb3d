//! The drives of an axis as they are bought: screws, racks or belts, one for each motor.

use super::along::{ScrewCut, screw_cut};
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::units::{self, Length};

/// The end of a screw that goes into the coupling, in its own diameters: it fills half a coupling
/// (common practice).
const COUPLING_END: f64 = 1.5;

/// One drive of an axis as it is bought.
#[derive(Clone, Copy, Debug)]
pub struct DriveCut {
    /// Length of the screw over its bearings, of the rack along the rail, or of an open belt along
    /// the rail with half a metre for loop and clamps.
    pub length: Length,
    /// Length to order: of a screw over all, with its end for the coupling; else the same.
    pub to_order: Length,
    /// Its screw; none for racks and belts.
    pub screw: Option<ScrewCut>,
}

/// The drives of an axis, in the order of [`Picked::drives`], beside a rail of some length.
pub(super) fn cuts(picked: &Picked, axis: Axis, rail: Length) -> Vec<DriveCut> {
    let cut = |drive: LinearDrive| {
        let screw = screw_cut(picked, axis, drive);
        let length = match (drive, screw) {
            (_, Some(cut)) => cut.between_bearings,
            (LinearDrive::Belt(_), None) => rail + units::mm::of(500.0),
            (_, None) => rail,
        };
        let to_order = match screw {
            Some(_) => length + drive.shaft() * COUPLING_END,
            None => length,
        };
        DriveCut {
            length,
            to_order,
            screw,
        }
    };
    picked.drives(axis).into_iter().map(cut).collect()
}
