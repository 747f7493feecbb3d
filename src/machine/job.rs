//! How many minutes a named job takes on this machine, and what holds it back.

use crate::build::{PerAxis, Picked};
use crate::catalogue::Id;
use crate::explain::Recorder;
use crate::units::Time;

use super::axis::AxisFigures;
use super::cutting::Cutting;

/// The time of the named job.
#[derive(Clone, Debug)]
pub struct JobTime {
    /// The tool that roughs it.
    pub tool: Id,
    /// Minutes of roughing: the volume to remove.
    pub roughing: Time,
    /// Minutes of finishing: the length of finishing cuts.
    pub finishing: Time,
    /// Minutes of changing tools and finding their lengths.
    pub changes: Time,
    /// Moves between cuts.
    pub moves: Time,
    /// All of it.
    pub total: Time,
    /// What would shorten it most, in words.
    pub held_by: String,
}

impl JobTime {
    /// Works the time of the named job out.
    pub(super) fn of(
        _picked: &Picked,
        _axes: &PerAxis<AxisFigures>,
        _cutting: &Cutting,
        _notes: &mut impl Recorder,
    ) -> Option<Self> {
        None
    }
}
