//! One axis: what it moves, how fast it goes and what holds it back, how hard it pushes, how
//! fine it steps, and whether it stays put without power.

use std::f64::consts::PI;

use super::drive::DriveFigures;
use super::geometry::Geometry;
use super::mass::Masses;
use super::servo::ServoCurve;
use super::stepper::{STEPS_A_TURN, StepperCurve};
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::catalogue::frame::Layout;
use crate::catalogue::{LinearDrive, Motor};
use crate::units::{
    self, Acceleration, AngularVelocity, Force, Frequency, Length, Mass, MomentOfInertia, Ratio,
    Time, Torque, Velocity,
};
use uom::si::ratio::ratio;

crate::words! {
    /// What may hold an axis back.
    LimitName {
        Whirl = "screw-whirl", "screw whirl", "Turned faster, the screw whips like a skipping rope.";
        Nut = "nut-speed", "nut speed", "Turned faster, the balls in the nut or the plain nut wear out.";
        Motor = "motor-torque", "motor torque", "The motor has no torque left to accelerate the axis.";
        MotorSpeed = "motor-speed", "motor speed", "The servo's greatest speed.";
        ControllerPulses = "controller-pulses", "controller pulses", "The controller sends step pulses no faster.";
        DriverPulses = "driver-pulses", "driver pulses", "The driver takes step pulses no faster.";
        Track = "track-speed", "rack or belt speed", "Rack and belt bear no more speed.";
    }
}

/// Share of a pulse rate that is planned with (common practice).
pub const PULSE_SHARE: f64 = 0.8;

/// Friction of profile rails: 0.004 for balls (published rail catalogue).
pub const RAIL_FRICTION: f64 = 0.004;

/// One limit of an axis's speed.
#[derive(Clone, Copy, Debug)]
pub struct SpeedLimit {
    /// What limits.
    pub name: LimitName,
    /// At which speed.
    pub speed: Velocity,
}

/// What one axis is and does.
#[derive(Clone, Debug)]
pub struct AxisFigures {
    /// Travel that there will be: the wish, or less where the rail in hand is too short.
    pub travel: Length,
    /// Motors.
    pub motors: u32,
    /// Its drive; of two that differ, the weaker.
    pub drive: DriveFigures,
    /// Travel of the other side's drive a turn, where there are two.
    pub second_travel_a_turn: Option<Length>,
    /// Mass that the axis moves.
    pub moving_mass: Mass,
    /// Share of that mass that the most burdened motor carries.
    pub carried_mass: Mass,
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
    /// Pushing force of the axis at the wanted cutting feed, margin kept.
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
    pub fn of(picked: &Picked, geometry: &Geometry, masses: &Masses, axis: Axis) -> Self {
        let chosen = &picked.axes[axis];
        let figures = |drive| DriveFigures::of(picked, axis, drive);
        let drives = picked.drives(axis);
        let first = figures(chosen.drive);
        let second = drives.get(1).map(|drive| figures(*drive));
        let load = Load::of(picked, geometry, masses, axis, &first);
        let curve = torque_curve(picked, axis);
        let step = step_length(picked, axis, &first);
        let mut limits = limits(picked, axis, &load, &first, &curve, step);
        if let Some(other) = &second {
            keep_least(
                &mut limits,
                &self::limits(picked, axis, &load, other, &curve, step),
            );
        }
        let (rapid, limited_by) = least(&limits);
        let acceleration = load.acceleration_left(&first, &curve, rapid);
        let feed = picked.build.area.cutting_feed;
        let motors = picked.motors(axis);
        let wished = picked.build.area.travel[axis];
        let allowed = geometry.rails[axis].allows;
        let travel = if allowed < wished { allowed } else { wished };
        let back_torque = load.back_torque(&first);
        let holding_torque = chosen.motor.holds_unpowered();
        Self {
            travel,
            motors,
            second_travel_a_turn: second.map(|other| other.travel_a_turn),
            moving_mass: masses.moving[axis],
            carried_mass: load.mass,
            friction: load.friction,
            weight: load.weight,
            rotating_inertia: load.rotating,
            inertia_ratio: load.inertia_ratio(&first, chosen.motor.rotor_inertia()),
            needed_torque: load.needed(&first, picked.build.area.acceleration),
            full_travel: traverse(travel, rapid, acceleration),
            pulses: units::hz::of(units::m_per_min::from(rapid) / 60.0 / units::m::from(step)),
            thrust: load.thrust(&first, &curve, feed, true) * f64::from(motors),
            pull_out_thrust: load.thrust(&first, &curve, feed, false) * f64::from(motors),
            // Detent torque is planned with at 0.8 (common practice); a brake likewise.
            drops: axis == Axis::Z && back_torque > holding_torque * 0.8,
            back_torque,
            holding_torque,
            slenderness: slenderness(picked, geometry, axis),
            drive: first,
            curve,
            limits,
            rapid,
            limited_by,
            acceleration,
            step,
        }
    }

    /// The motor's speed at a speed of the axis.
    pub fn turns_at(&self, speed: Velocity) -> AngularVelocity {
        turns(speed, self.drive.travel_a_turn)
    }
}

fn turns(speed: Velocity, travel_a_turn: Length) -> AngularVelocity {
    units::rpm::of(units::m_per_min::from(speed) / units::m::from(travel_a_turn))
}

fn speed(turns: AngularVelocity, travel_a_turn: Length) -> Velocity {
    units::m_per_min::of(units::rpm::from(turns) * units::m::from(travel_a_turn))
}

/// What one motor has to move.
struct Load {
    mass: Mass,
    friction: Force,
    weight: Force,
    rotating: MomentOfInertia,
}

impl Load {
    fn of(
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

    fn needed(&self, drive: &DriveFigures, acceleration: Acceleration) -> Torque {
        let a = units::m_per_s2::from(acceleration);
        units::nm::of(self.steady(drive) + a * self.torque_per_acceleration(drive))
    }

    fn acceleration_left(
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
    fn thrust(
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

    fn inertia_ratio(&self, drive: &DriveFigures, rotor: MomentOfInertia) -> Ratio {
        let r = Self::per_radian(drive);
        let linear = units::kg::from(self.mass) * r * r;
        let load = linear + units::kg_m2::from(self.rotating) - units::kg_m2::from(rotor);
        Ratio::new::<ratio>(load / units::kg_m2::from(rotor))
    }

    fn back_torque(&self, drive: &DriveFigures) -> Torque {
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

fn torque_curve(picked: &Picked, axis: Axis) -> TorqueCurve {
    let chosen = &picked.axes[axis];
    match chosen.motor {
        Motor::Stepper(motor) => {
            let set = motor.current * picked.build.drive.current_share;
            let greatest = chosen.driver.greatest_current;
            let amplitude = if set < greatest { set } else { greatest };
            TorqueCurve::Stepper(StepperCurve::new(
                motor,
                picked.supply.volts,
                amplitude,
                picked.build.drive.working_share,
            ))
        }
        Motor::Servo(motor) => TorqueCurve::Servo(ServoCurve::new(motor)),
    }
}

/// Pulses for one turn of the motor.
pub fn pulses_a_turn(picked: &Picked, axis: Axis) -> f64 {
    match picked.axes[axis].motor {
        Motor::Stepper(_) => STEPS_A_TURN * f64::from(picked.build.drive.microsteps),
        Motor::Servo(motor) => f64::from(motor.counts),
    }
}

fn step_length(picked: &Picked, axis: Axis, drive: &DriveFigures) -> Length {
    drive.travel_a_turn / pulses_a_turn(picked, axis)
}

fn limits(
    picked: &Picked,
    axis: Axis,
    load: &Load,
    drive: &DriveFigures,
    curve: &TorqueCurve,
    step: Length,
) -> Vec<SpeedLimit> {
    let travel = drive.travel_a_turn;
    let pulses = |rate: Frequency| {
        units::m_per_min::of(units::hz::from(rate) * PULSE_SHARE * units::m::from(step) * 60.0)
    };
    let needed = load.needed(drive, picked.build.area.acceleration);
    let named = |name, speed| SpeedLimit { name, speed };
    let mut found = Vec::with_capacity(6);
    found.extend(
        drive
            .whirl
            .map(|turning| named(LimitName::Whirl, speed(turning, travel))),
    );
    found.extend(
        drive
            .nut
            .map(|turning| named(LimitName::Nut, speed(turning, travel))),
    );
    found.push(named(
        LimitName::Motor,
        speed(fastest(curve, needed), travel),
    ));
    found.extend(
        curve
            .greatest_speed()
            .map(|turning| named(LimitName::MotorSpeed, speed(turning, travel))),
    );
    found.push(named(
        LimitName::ControllerPulses,
        pulses(picked.controller.pulses),
    ));
    found.push(named(
        LimitName::DriverPulses,
        pulses(picked.axes[axis].driver.pulses),
    ));
    found.extend(drive.track.map(|speed| named(LimitName::Track, speed)));
    found
}

/// The greatest speed at which the motor may still give a torque, by bracketing: the curves
/// fall with speed. Zero where it cannot give it at rest.
fn fastest(curve: &TorqueCurve, needed: Torque) -> AngularVelocity {
    const CEILING_RPM: f64 = 20_000.0;
    let gives = |rpm: f64| curve.usable(units::rpm::of(rpm)) >= needed;
    if !gives(0.0) {
        return units::rpm::of(0.0);
    }
    let (mut slow, mut fast) = (0.0, CEILING_RPM);
    for _ in 0..40 {
        let middle = (slow + fast) / 2.0;
        if gives(middle) {
            slow = middle;
        } else {
            fast = middle;
        }
    }
    units::rpm::of(slow)
}

fn keep_least(limits: &mut [SpeedLimit], others: &[SpeedLimit]) {
    for limit in limits {
        for other in others.iter().filter(|other| other.name == limit.name) {
            if other.speed < limit.speed {
                limit.speed = other.speed;
            }
        }
    }
}

fn least(limits: &[SpeedLimit]) -> (Velocity, LimitName) {
    let mut binding = (units::m_per_min::of(0.0), LimitName::Motor);
    for (place, limit) in limits.iter().enumerate() {
        if place == 0 || limit.speed < binding.0 {
            binding = (limit.speed, limit.name);
        }
    }
    binding
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
