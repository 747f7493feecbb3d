//! One axis: what it moves, how fast it goes and what holds it back, how hard it pushes, how
//! fine it steps, and whether it stays put without power.

use super::drive::DriveFigures;
use super::feed::{pulses_a_turn, torque_curve};
use super::geometry::{Geometry, travel};
use super::limits::{LimitName, SpeedLimit, keep_least, least, limits};
use super::load::Load;
use super::mass::Masses;
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::explain::Recorder;
use crate::units::{
    self, Acceleration, AngularVelocity, Force, Frequency, Length, Mass, MomentOfInertia, Ratio,
    Time, Torque, Velocity,
};

/// What one axis is and does.
#[derive(Clone, Debug)]
pub struct AxisFigures {
    /// Travel that there will be: the wish, or less where a rail or screw in hand is too short.
    pub travel: Length,
    /// Motors.
    pub motors: u32,
    /// Its drive; of two that differ, the lesser in what they bear.
    pub drive: DriveFigures,
    /// Mass that the axis moves.
    pub moving_mass: Mass,
    /// Share of that mass that the most burdened motor carries.
    pub carried_mass: Mass,
    /// Mass that would resist acceleration as much as all that this motor moves and turns.
    pub inert_mass: Mass,
    /// Share of a force on the tool that this motor bears.
    pub tool_share: Ratio,
    /// Friction of rails and seals against that motor.
    pub friction: Force,
    /// Weight against that motor; zero on X and Y.
    pub weight: Force,
    /// Inertia that turns: screw, rotor, coupling; a motor.
    pub rotating_inertia: MomentOfInertia,
    /// Everything that the rotor moves, against the rotor's own inertia.
    pub inertia_ratio: Ratio,
    /// Torque against speed.
    pub curve: TorqueCurve,
    /// Torque needed to accelerate as wanted.
    pub needed_torque: Torque,
    /// Every limit of the speed, in the order of their list.
    pub limits: Vec<SpeedLimit>,
    /// Greatest speed without cutting.
    pub rapid: Velocity,
    /// What limits it.
    pub limited_by: LimitName,
    /// Acceleration left at that speed.
    pub acceleration: Acceleration,
    /// Time for the whole travel, from rest to rest.
    pub full_travel: Time,
    /// Travel for one pulse.
    pub step: Length,
    /// Pulses at that speed.
    pub pulses: Frequency,
    /// Pushing force of the axis on the tool at the wanted cutting feed, margin kept, with the
    /// tool at its worst place.
    pub thrust: Force,
    /// The same without the margin, where steppers stall.
    pub pull_out_thrust: Force,
    /// Torque with which the weight turns the motor back when the power is off.
    pub back_torque: Torque,
    /// Torque that holds the motor without power: detent or brake.
    pub holding_torque: Torque,
    /// Whether the axis sinks without power.
    pub drops: bool,
    /// Length of screw between bearings against its diameter; none without a screw.
    pub slenderness: Option<Ratio>,
}

impl AxisFigures {
    /// Works one axis out.
    pub fn of(
        picked: &Picked,
        geometry: &Geometry,
        masses: &Masses,
        axis: Axis,
        notes: &mut impl Recorder,
    ) -> Self {
        let chosen = &picked.axes[axis];
        let curve = torque_curve(picked, axis);
        let drives: Vec<DriveFigures> = picked
            .drives(axis)
            .into_iter()
            .map(|drive| DriveFigures::of(picked, axis, drive))
            .collect();
        let step = drives[0].travel_a_turn / pulses_a_turn(picked, axis);
        let sides = drives
            .iter()
            .map(|drive| Side::of(picked, geometry, masses, axis, drive, &curve, step));
        // Of a pair whose drives differ, the weaker side holds the axis back.
        let side = sides
            .reduce(Side::weaker)
            .unwrap_or_else(|| unreachable!("every axis has a drive"));
        let (rapid, limited_by) = least(&side.limits);
        let (first, load) = (drives[0], side.load);
        let acceleration = load.acceleration_left(&first, &curve, rapid);
        let travel = travel(picked, &geometry.rails, axis, notes);
        let back_torque = load.back_torque(&first);
        let holding_torque = chosen.motor.holds_unpowered();
        Self {
            travel,
            motors: picked.motors(axis),
            moving_mass: masses.moving[axis],
            carried_mass: load.mass,
            inert_mass: load.inert_mass(&first),
            tool_share: units::share::of(load.share),
            friction: load.friction,
            weight: load.weight,
            rotating_inertia: load.rotating,
            inertia_ratio: load.inertia_ratio(&first, chosen.motor.rotor_inertia()),
            needed_torque: load.needed(&first, picked.build.area.acceleration),
            full_travel: traverse(travel, rapid, acceleration),
            pulses: units::hz::of(units::m_per_min::from(rapid) / 60.0 / units::m::from(step)),
            thrust: side.thrust,
            pull_out_thrust: side.pull_out_thrust,
            // Detent torque is planned with at 0.8 (common practice); a brake likewise. The
            // drag of nut and bearings, which wears off, is not counted on.
            drops: axis == Axis::Z && back_torque > holding_torque * 0.8,
            back_torque,
            holding_torque,
            slenderness: slenderness(picked, geometry, axis),
            drive: drives
                .iter()
                .copied()
                .reduce(DriveFigures::weaker)
                .unwrap_or(first),
            curve,
            limits: side.limits,
            rapid,
            limited_by,
            acceleration,
            step,
        }
    }

    /// The motor's speed at a speed of the axis.
    pub fn turns_at(&self, speed: Velocity) -> AngularVelocity {
        self.drive.turns_at(speed)
    }
}

/// One of the drives of an axis, with what it bears and allows.
struct Side {
    load: Load,
    limits: Vec<SpeedLimit>,
    thrust: Force,
    pull_out_thrust: Force,
}

impl Side {
    fn of(
        picked: &Picked,
        geometry: &Geometry,
        masses: &Masses,
        axis: Axis,
        drive: &DriveFigures,
        curve: &TorqueCurve,
        step: Length,
    ) -> Self {
        let load = Load::of(picked, geometry, masses, axis, drive);
        let feed = picked.build.area.wanted_feed(axis);
        Self {
            limits: limits(picked, axis, &load, drive, curve, step),
            thrust: load.thrust(drive, curve, feed, true),
            pull_out_thrust: load.thrust(drive, curve, feed, false),
            load,
        }
    }

    /// The lesser of two sides in everything; the first one's load stands for both.
    fn weaker(mut self, other: Self) -> Self {
        keep_least(&mut self.limits, &other.limits);
        if other.thrust < self.thrust {
            self.thrust = other.thrust;
            self.pull_out_thrust = other.pull_out_thrust;
        }
        self
    }
}

/// Time from rest to rest with constant acceleration: a trapezoid, or a triangle where the
/// speed is not reached.
pub fn traverse(travel: Length, rapid: Velocity, acceleration: Acceleration) -> Time {
    let (s, v, a) = (
        units::m::from(travel),
        units::m_per_min::from(rapid) / 60.0,
        units::m_per_s2::from(acceleration),
    );
    if v <= 0.0 || a <= 0.0 {
        return units::s::of(f64::INFINITY);
    }
    let ramp = v * v / a;
    units::s::of(if s >= ramp {
        s / v + v / a
    } else {
        2.0 * (s / a).sqrt()
    })
}

fn slenderness(picked: &Picked, geometry: &Geometry, axis: Axis) -> Option<Ratio> {
    let diameter = match picked.axes[axis].drive {
        LinearDrive::Ball(screw) => screw.diameter,
        LinearDrive::Lead(screw) => screw.diameter,
        LinearDrive::Rack(_) | LinearDrive::Belt(_) => return None,
    };
    geometry.screws[axis].map(|cut| cut.between_bearings / diameter)
}
