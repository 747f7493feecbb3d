//! Minutes of one tool change: the tool out and another in, and its length found.

use crate::build::Picked;
use crate::catalogue::spindle::SpindleKind;
use crate::units::{self, Time};

/// Minutes to change a tool in a collet by hand, spanners in reach (common practice).
const BY_HAND: f64 = 2.0;

/// Minutes that a tool-changing spindle takes, the way to its rack counted (common practice).
const BY_SPINDLE: f64 = 0.25;

/// Minutes to find a tool's length by hand, with paper or a feeler (common practice).
const TOUCHED_OFF: f64 = 3.0;

/// Minutes until a tool-length sensor has found it (common practice).
const SENSED: f64 = 0.5;

/// The time of one tool change.
#[derive(Clone, Copy, Debug)]
pub struct ChangeTime {
    /// The tool out and another in.
    pub swap: Time,
    /// Its length found.
    pub length: Time,
}

impl ChangeTime {
    /// On a machine.
    pub fn of(picked: &Picked) -> Self {
        Self::with(
            picked.spindle.kind == SpindleKind::ToolChanger,
            picked.tool_sensor.is_some(),
        )
    }

    /// With or without a tool-changing spindle and a tool-length sensor.
    pub fn with(changer: bool, sensor: bool) -> Self {
        Self {
            swap: units::minute::of(if changer { BY_SPINDLE } else { BY_HAND }),
            length: units::minute::of(if sensor { SENSED } else { TOUCHED_OFF }),
        }
    }

    /// All of it.
    pub fn each(&self) -> Time {
        self.swap + self.length
    }

    /// What a tool-length sensor saves at each change.
    pub fn saved() -> Time {
        units::minute::of(TOUCHED_OFF - SENSED)
    }
}
