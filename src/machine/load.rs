//! What one motor of an axis has to move: mass, friction, weight and what turns with it, and
//! the torque and force that follow.

use std::f64::consts::PI;

use super::axis::turns;
use super::drive::DriveFigures;
use super::geometry::Geometry;
use super::mass::Masses;
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::catalogue::frame::Layout;
use crate::units::{self, Acceleration, Force, Mass, MomentOfInertia, Ratio, Torque, Velocity};
use uom::si::ratio::ratio;

/// Friction of profile rails: 0.004 for balls (published rail catalogue).
pub(super) const RAIL_FRICTION: f64 = 0.004;

/// What one motor has to move.
pub(super) struct Load {
    pub(super) mass: Mass,
    pub(super) friction: Force,
    pub(super) weight: Force,
    pub(super) rotating: MomentOfInertia,
}

impl Load {
    pub(super) fn of(
        picked: &Picked,
        geometry: &Geometry,
        masses: &Masses,
        axis: Axis,
        drive: &DriveFigures,
    ) -> Self {
        let chosen = &picked.axes[axis];
        let motors = picked.motors(axis);
        let mass = carried(picked, geometry, masses, axis, motors);
        let carriages = f64::from(geometry.rails[axis].carriages) / f64::from(motors);
        let pressed = if axis == Axis::Z {
            units::kg::of(0.0)
        } else {
            mass
        };
        let weight = if axis == Axis::Z {
            mass * units::gravity()
        } else {
            units::n::of(0.0)
        };
        let coupling = if chosen.drive.is_screw() {
            chosen.coupling.inertia
        } else {
            units::kg_m2::of(0.0)
        };
        Self {
            mass,
            friction: pressed * units::gravity() * RAIL_FRICTION + chosen.carriage.drag * carriages,
            weight,
            rotating: drive.inertia + chosen.motor.rotor_inertia() + coupling,
        }
    }

    /// Travel for one radian of the motor, in metres.
    fn per_radian(drive: &DriveFigures) -> f64 {
        units::m::from(drive.travel_a_turn) / (2.0 * PI)
    }

    /// Torque against friction, weight and drag, at a steady speed.
    fn steady(&self, drive: &DriveFigures) -> f64 {
        let force = units::n::from(self.friction) + units::n::from(self.weight);
        force * Self::per_radian(drive) / drive.efficiency.get::<ratio>()
            + units::nm::from(drive.drag)
    }

    /// Torque for one m/s² of acceleration.
    fn torque_per_acceleration(&self, drive: &DriveFigures) -> f64 {
        let r = Self::per_radian(drive);
        units::kg::from(self.mass) * r / drive.efficiency.get::<ratio>()
            + units::kg_m2::from(self.rotating) / r
    }

    pub(super) fn needed(&self, drive: &DriveFigures, acceleration: Acceleration) -> Torque {
        let a = units::m_per_s2::from(acceleration);
        units::nm::of(self.steady(drive) + a * self.torque_per_acceleration(drive))
    }

    pub(super) fn acceleration_left(
        &self,
        drive: &DriveFigures,
        curve: &TorqueCurve,
        rapid: Velocity,
    ) -> Acceleration {
        let usable = units::nm::from(curve.usable(turns(rapid, drive.travel_a_turn)));
        let left = (usable - self.steady(drive)) / self.torque_per_acceleration(drive);
        units::m_per_s2::of(left.max(0.0))
    }

    /// Force left for the cut at a speed, a motor.
    pub(super) fn thrust(
        &self,
        drive: &DriveFigures,
        curve: &TorqueCurve,
        feed: Velocity,
        margin: bool,
    ) -> Force {
        let turning = turns(feed, drive.travel_a_turn);
        let torque = if margin {
            curve.lasting(turning)
        } else {
            curve.pull_out(turning)
        };
        let left = units::nm::from(torque) - self.steady(drive);
        let force = left.max(0.0) * drive.efficiency.get::<ratio>() / Self::per_radian(drive);
        units::n::of(force)
    }

    pub(super) fn inertia_ratio(&self, drive: &DriveFigures, rotor: MomentOfInertia) -> Ratio {
        let r = Self::per_radian(drive);
        let linear = units::kg::from(self.mass) * r * r;
        let load = linear + units::kg_m2::from(self.rotating) - units::kg_m2::from(rotor);
        Ratio::new::<ratio>(load / units::kg_m2::from(rotor))
    }

    pub(super) fn back_torque(&self, drive: &DriveFigures) -> Torque {
        let back = drive.back_efficiency.get::<ratio>().max(0.0);
        units::nm::of(units::n::from(self.weight) * Self::per_radian(drive) * back)
    }
}

/// The mass on the most burdened motor. With a pair of drives under a gantry, the X assembly
/// stands at the end of its travel and weighs on the nearer side; the rest is halved.
fn carried(picked: &Picked, geometry: &Geometry, masses: &Masses, axis: Axis, motors: u32) -> Mass {
    let whole = masses.moving[axis];
    if motors < 2 {
        return whole;
    }
    if picked.frame.layout == Layout::MovingTable {
        return whole / 2.0;
    }
    let assembly = masses.moving.x;
    let beside = (geometry.span - picked.build.area.travel.x) / 2.0 / geometry.span;
    let near = 1.0 - beside.get::<ratio>().clamp(0.0, 0.5);
    assembly * near + (whole - assembly) / 2.0
}
