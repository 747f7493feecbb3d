//! What the drives of one axis bear and allow: the weaker of a pair counts.

use super::notes;
use crate::build::choices::control::RampShape;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::explain::Recorder;
use crate::machine::drive::DriveFigures;
use crate::machine::geometry::Geometry;
use crate::machine::limits::{Limited, SpeedLimit};
use crate::machine::load::Load;
use crate::machine::mass::Masses;
use crate::machine::motion::ramp::Ramp;
use crate::machine::torque::TorqueCurve;
use crate::units::{self, Acceleration, AngularVelocity, Force, Velocity};

/// The drives of an axis: the one that is harder to move, and the lesser of both in what they
/// bear and allow.
pub(super) struct Sides<'c> {
    /// The drive that asks more torque of its motor; it stands for both.
    pub(super) harder: DriveFigures,
    /// Its part.
    pub(super) part: LinearDrive<'c>,
    /// The lesser of both in everything that they bear.
    pub(super) both: DriveFigures,
    other_whirl: Option<AngularVelocity>,
    /// What the harder one's motor has to move.
    pub(super) load: Load,
    /// The lesser of each limit, in the order of their names.
    pub(super) limits: Vec<SpeedLimit>,
    /// The lesser thrust, with the margin.
    pub(super) thrust: Force,
    /// The same without.
    pub(super) pull_out_thrust: Force,
}

/// Where the drives of one axis stand, and what turns them.
#[derive(Clone, Copy)]
pub(super) struct Place<'a, 'c> {
    pub(super) picked: &'a Picked<'c>,
    pub(super) geometry: &'a Geometry,
    pub(super) masses: &'a Masses,
    pub(super) axis: Axis,
    pub(super) curve: &'a TorqueCurve,
}

impl<'c> Sides<'c> {
    pub(super) fn of(place: Place<'_, 'c>, notes: &mut impl Recorder) -> Self {
        let (picked, axis) = (place.picked, place.axis);
        let part = picked.axes[axis].drive;
        let first = DriveFigures::of(picked, axis, part);
        let mut sides = Self {
            harder: first,
            part,
            both: first,
            other_whirl: None,
            load: place.load(&first),
            limits: Vec::with_capacity(6),
            thrust: units::n::of(f64::INFINITY),
            pull_out_thrust: units::n::of(f64::INFINITY),
        };
        let load = sides.load;
        sides.take_up(place, part, &first, &load, notes);
        if let Some(second) = picked.other_drive(axis) {
            let other = DriveFigures::of(picked, axis, second);
            let load = place.load(&other);
            sides.take_up(place, second, &other, &load, notes);
            sides.stand_for_both(place, second, (first, other), load);
        }
        sides
    }

    /// Lets the second drive stand for both where it is the harder one to move: neither side
    /// may move faster than the other.
    fn stand_for_both(
        &mut self,
        place: Place<'_, 'c>,
        second: LinearDrive<'c>,
        (first, other): (DriveFigures, DriveFigures),
        load: Load,
    ) {
        let wanted = place.picked.build.area.acceleration;
        if load.needed(&other, wanted) > self.load.needed(&first, wanted) {
            (self.harder, self.load) = (other, load);
            self.part = second;
            self.both = other.weaker(first);
        } else {
            self.both = first.weaker(other);
        }
    }

    /// Takes up one drive: of every limit, and of the thrust, the lesser counts.
    fn take_up(
        &mut self,
        place: Place<'_, 'c>,
        part: LinearDrive<'c>,
        drive: &DriveFigures,
        load: &Load,
        notes: &mut impl Recorder,
    ) {
        let limited = Limited {
            picked: place.picked,
            axis: place.axis,
            part,
            load,
            drive,
            curve: place.curve,
            other_whirl: self.other_whirl,
        };
        self.other_whirl = drive.whirl;
        limited.keep_least(&mut self.limits, notes);
        let feed = place.picked.build.area.wanted_feed(place.axis);
        let thrust = load.thrust(drive, place.curve, feed, true);
        let pull_out = load.thrust(drive, place.curve, feed, false);
        // Where neither has any thrust left with the margin, the one that stalls sooner counts.
        if (thrust, pull_out) < (self.thrust, self.pull_out_thrust) {
            (self.thrust, self.pull_out_thrust) = (thrust, pull_out);
            notes::note_thrust(&limited, (self.thrust, self.pull_out_thrust), notes);
        }
    }
}

impl Place<'_, '_> {
    fn load(&self, drive: &DriveFigures) -> Load {
        Load::of(self.picked, self.geometry, self.masses, self.axis, drive)
    }
}

/// What acceleration the motor leaves, and the ramps that follow.
pub(super) struct Ramps {
    /// Acceleration left at rapids.
    pub(super) at_rapids: Acceleration,
    /// Acceleration left at half of them.
    pub(super) at_half: Acceleration,
    /// Trapezoid and S-ramp, with the lesser of the two: constant acceleration must not ask
    /// more than there is on the way. None where the axis never moves.
    pub(super) both: Option<(Ramp, Ramp)>,
}

impl Ramps {
    pub(super) fn of(place: Place, sides: &Sides, rapid: Velocity) -> Self {
        let (load, drive) = (&sides.load, &sides.harder);
        let left = |speed| load.acceleration_left(drive, place.curve, speed);
        let (mut at_rapids, mut at_half) = (left(rapid), left(rapid / 2.0));
        let wanted = place.picked.build.area.acceleration;
        if place.picked.build.measured.stall[place.axis].is_some() {
            // It was measured with this acceleration: there is as much, whatever the model says.
            at_rapids = at_rapids.max(wanted);
            at_half = at_half.max(wanted);
        }
        let build_up = place.picked.build.control.build_up;
        let trapezoid = Ramp::trapezoid(rapid, at_rapids.min(at_half));
        Self {
            at_rapids,
            at_half,
            both: trapezoid.map(|trapezoid| (trapezoid, trapezoid.building_up(build_up))),
        }
    }

    /// The one that the controller makes.
    pub(super) fn chosen(&self, picked: &Picked) -> Option<Ramp> {
        let (trapezoid, s_ramp) = self.both?;
        Some(match picked.build.control.ramp {
            RampShape::Trapezoid => trapezoid,
            RampShape::SRamp => s_ramp,
        })
    }
}
