//! Groups of carriages: how they give along the force, and how they turn.

use crate::build::{Axis, Picked};
use crate::machine::geometry::{Geometry, plan_of};

/// Share of a block's length over which its balls bear: end caps, seals and the balls' turn
/// take the rest (common practice, from memory).
const BEARING_SHARE: f64 = 0.65;

/// The carriages of one axis, in SI units.
#[derive(Clone, Copy, Debug)]
pub(super) struct Guide {
    /// How many.
    pub(super) blocks: f64,
    /// Installed stiffness of one, radial and sideways alike, in N/m.
    pub(super) each: f64,
    /// Sum of their squared distances from the group's centre along the travel.
    along: f64,
    /// The same across the travel.
    across: f64,
    /// What one block alone holds against pitch and yaw, in N·m/rad.
    tilt: f64,
    /// What one block alone holds against roll, in N·m/rad.
    pub(super) roll: f64,
    /// Distance of the outer carriages' centres along the travel.
    pub(super) span: f64,
    /// Distance of the rails.
    pub(super) gap: f64,
}

/// Sum of the squared distances of `n` evenly spread points from their middle, for one of
/// them: span² (n + 1)/(12 (n - 1)).
fn spread(n: f64, span: f64) -> f64 {
    if n > 1.0 {
        span * span * (n + 1.0) / (12.0 * (n - 1.0))
    } else {
        0.0
    }
}

impl Guide {
    /// The carriages of an axis. Balls run in grooves at 45°, so that a block resists sideways
    /// as it does radially. Its own tilting stiffness is that of a bed of springs over its
    /// bearing length, k l²/12; against roll its two sides stand half a rail apart, k (b/2)².
    pub(super) fn of(picked: &Picked, geometry: &Geometry, axis: Axis) -> Self {
        let plan = plan_of(picked, axis);
        let (carriage, rail) = (picked.axes[axis].carriage, picked.axes[axis].rail);
        let each = carriage.rigidity.value * picked.build.drive.joint_factor.value;
        let on_a_rail = f64::from(picked.build.drive.carriages[axis]);
        let rails = f64::from(plan.rails);
        let span = geometry.rails[axis].span.value;
        let gap = if axis == Axis::Y {
            geometry.span.value
        } else {
            plan.rail_gap.value
        };
        let bearing = carriage.length.value * BEARING_SHARE;
        let half = rail.foot_width.value / 2.0;
        let blocks = on_a_rail * rails;
        Self {
            blocks,
            each,
            along: blocks * spread(on_a_rail, span),
            across: blocks * spread(rails, gap),
            tilt: each * bearing * bearing / 12.0,
            roll: each * half * half,
            span,
            gap,
        }
    }

    /// What the group gives for each newton across the travel: 1/(n k).
    pub(super) fn gives(&self) -> f64 {
        1.0 / (self.blocks * self.each)
    }

    /// What it pitches or yaws for each newton metre.
    pub(super) fn pitches(&self) -> f64 {
        1.0 / self.against_pitch()
    }

    /// What it holds against pitch and yaw, in N·m/rad.
    pub(super) fn against_pitch(&self) -> f64 {
        self.each * self.along + self.blocks * self.tilt
    }

    /// The carriages' squared distances from their centre, added up: along the travel, and
    /// across it.
    pub(super) fn spreads(&self) -> (f64, f64) {
        (self.along, self.across)
    }

    /// What it rolls for each newton metre.
    pub(super) fn rolls(&self) -> f64 {
        1.0 / (self.each * self.across + self.blocks * self.roll)
    }

    /// The half of the group on one side of a gantry.
    pub(super) fn side(&self) -> Self {
        Self {
            blocks: self.blocks / 2.0,
            along: self.along / 2.0,
            across: 0.0,
            ..*self
        }
    }
}
