//! What one motor of an axis has to move: mass, friction, weight and what turns with it, and
//! the torque and force that follow.

use std::f64::consts::PI;

use super::drive::DriveFigures;
use super::geometry::Geometry;
use super::mass::Masses;
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::catalogue::frame::Layout;
use crate::units::{self, Acceleration, Force, Mass, MomentOfInertia, Ratio, Torque, Velocity};

/// Friction of profile rails: 0.004 for balls (published rail catalogue).
pub(super) const RAIL_FRICTION: f64 = 0.004;

/// What one motor has to move.
#[derive(Clone, Copy, Debug)]
pub(super) struct Load {
    /// Share of a force on the tool that this motor bears, with the tool where it bears most.
    pub(super) share: f64,
    /// Mass that the most burdened motor carries.
    pub(super) mass: Mass,
    /// Friction of rails and seals against it.
    pub(super) friction: Force,
    /// Weight against it; zero on X and Y.
    pub(super) weight: Force,
    /// What turns with it: drive, rotor, coupling.
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
        let share = near_share(picked, geometry, axis, motors);
        let mass = carried(picked, masses, axis, motors, share);
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
            share,
            mass,
            friction: pressed * units::gravity() * RAIL_FRICTION + chosen.carriage.drag * carriages,
            weight,
            rotating: drive.inertia + chosen.motor.rotor_inertia() + coupling,
        }
    }

    /// Travel for one radian of the motor, in metres.
    pub(super) fn per_radian(drive: &DriveFigures) -> f64 {
        units::m::from(drive.travel_a_turn) / (2.0 * PI)
    }

    /// Torque for one m/s² of acceleration.
    fn torque_per_acceleration(&self, drive: &DriveFigures) -> f64 {
        let r = Self::per_radian(drive);
        units::kg::from(self.mass) * r / units::share::from(drive.efficiency)
            + units::kg_m2::from(self.rotating) / r
    }

    /// Torque that speeds up, upwards on Z: (m a + F + W) r/η + J a/r + M, with the mass m, the
    /// friction F, the weight W, what turns J, the drag M and r the travel for one radian.
    pub(super) fn needed(&self, drive: &DriveFigures, acceleration: Acceleration) -> Torque {
        let a = units::m_per_s2::from(acceleration);
        self.steady_torque(drive) + units::nm::of(a * self.torque_per_acceleration(drive))
    }

    /// Torque against friction, weight and drag, at a steady speed, upwards on Z.
    pub(super) fn steady_torque(&self, drive: &DriveFigures) -> Torque {
        torque_against(drive, self.friction + self.weight)
    }

    /// Force with which the moving mass pushes the drive on while it brakes, downwards on Z;
    /// below zero where friction alone brakes harder.
    pub(super) fn braking_push(&self, acceleration: Acceleration) -> Force {
        self.mass * acceleration - self.friction + self.weight
    }

    /// Torque that brakes: what turns, and what comes back through the drive with its
    /// efficiency of back-driving. Friction and drag help; below zero they brake harder than
    /// asked, and the motor must push on.
    pub(super) fn braking(&self, drive: &DriveFigures, acceleration: Acceleration) -> Torque {
        let r = Self::per_radian(drive);
        let a = units::m_per_s2::from(acceleration);
        let push = units::n::from(self.braking_push(acceleration));
        let through = match push > 0.0 {
            true => units::share::from(drive.back_efficiency),
            false => 1.0 / units::share::from(drive.efficiency),
        };
        let turning = units::kg_m2::from(self.rotating) * a / r;
        units::nm::of(turning + push * r * through - units::nm::from(drive.drag))
    }

    /// Torque while cutting at a steady feed, with the tool where this motor bears most.
    pub(super) fn cutting(&self, drive: &DriveFigures, force: Force) -> Torque {
        let along = units::n::from(force) * self.share * Self::per_radian(drive);
        self.steady_torque(drive) + units::nm::of(along / units::share::from(drive.efficiency))
    }

    /// Everything that the motor moves and turns, seen by the motor: J + m r².
    pub(super) fn whole_inertia(&self, drive: &DriveFigures) -> MomentOfInertia {
        let r = Self::per_radian(drive);
        units::kg_m2::of(units::kg_m2::from(self.rotating) + units::kg::from(self.mass) * r * r)
    }

    /// Acceleration that the torque which may be used at a speed leaves; none where even
    /// friction, weight and drag take all of it.
    pub(super) fn acceleration_left(
        &self,
        drive: &DriveFigures,
        curve: &TorqueCurve,
        speed: Velocity,
    ) -> Acceleration {
        let usable = curve.usable(drive.turns_at(speed));
        let left = units::nm::from(usable - self.steady_torque(drive));
        units::m_per_s2::of((left / self.torque_per_acceleration(drive)).max(0.0))
    }

    /// The mass that would resist acceleration as much as everything that this motor moves
    /// and turns: m + J η/r².
    pub(super) fn inert_mass(&self, drive: &DriveFigures) -> Mass {
        let r = Self::per_radian(drive);
        let force = self.torque_per_acceleration(drive) * units::share::from(drive.efficiency) / r;
        units::kg::of(force)
    }

    /// Force that the axis can put on the tool at a speed, with the tool where the most
    /// burdened motor bears most of it.
    pub(super) fn thrust(
        &self,
        drive: &DriveFigures,
        curve: &TorqueCurve,
        feed: Velocity,
        margin: bool,
    ) -> Force {
        let turning = drive.turns_at(feed);
        let torque = if margin {
            curve.lasting(turning)
        } else {
            curve.pull_out(turning)
        };
        left_to_push(drive, torque, self.friction + self.weight, self.share)
    }

    /// Everything that the rotor moves, against the rotor's own inertia.
    pub(super) fn inertia_ratio(&self, drive: &DriveFigures, rotor: MomentOfInertia) -> Ratio {
        (self.whole_inertia(drive) - rotor) / rotor
    }

    /// Torque with which the weight turns the unpowered motor back; none where the drive holds by
    /// itself.
    pub(super) fn back_torque(&self, drive: &DriveFigures) -> Torque {
        let back = units::share::from(drive.back_efficiency).max(0.0);
        units::nm::of(units::n::from(self.weight) * Self::per_radian(drive) * back)
    }
}

/// Torque against a force on the axis and the drag of its drive.
fn torque_against(drive: &DriveFigures, force: Force) -> Torque {
    let along = units::n::from(force) * Load::per_radian(drive);
    units::nm::of(along / units::share::from(drive.efficiency)) + drive.drag
}

/// Force on the tool that a motor's torque leaves beside what it moves anyway; `share` of the
/// force on the tool is this motor's.
pub(super) fn left_to_push(
    drive: &DriveFigures,
    torque: Torque,
    against: Force,
    share: f64,
) -> Force {
    let left = units::nm::from(torque - torque_against(drive, against));
    let force = left.max(0.0) * units::share::from(drive.efficiency) / Load::per_radian(drive);
    units::n::of(force / share)
}

/// The share of a force on the tool that the nearer of two drives bears with the tool at the
/// end of the X travel; all of it where there is one drive, half where the table moves.
fn near_share(picked: &Picked, geometry: &Geometry, axis: Axis, motors: u32) -> f64 {
    if motors < 2 || axis != Axis::Y {
        return 1.0;
    }
    if picked.frame.layout == Layout::MovingTable {
        return 0.5;
    }
    let beside = (geometry.span - geometry.travel.x) / 2.0 / geometry.span;
    1.0 - units::share::from(beside).clamp(0.0, 0.5)
}

/// The mass on the most burdened motor. With a pair of drives under a gantry, the X assembly
/// stands at the end of its travel and weighs on the nearer side; the rest is halved.
fn carried(picked: &Picked, masses: &Masses, axis: Axis, motors: u32, share: f64) -> Mass {
    let whole = masses.moving[axis];
    if motors < 2 {
        return whole;
    }
    if picked.frame.layout == Layout::MovingTable {
        return whole / 2.0;
    }
    let assembly = masses.moving.x;
    assembly * share + (whole - assembly) / 2.0
}
