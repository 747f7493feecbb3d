//! One axis: what it moves, how fast it goes and what holds it back, how hard it pushes, how
//! fine it steps, and whether it stays put without power.

use super::drive::DriveFigures;
use super::feed::{pulses_a_turn, torque_curve};
use super::geometry::Geometry;
use super::limits::{LimitName, SpeedLimit, least};
use super::load::left_to_push;
use super::mass::Masses;
use super::motion::braking::Stop;
use super::motion::duty::Duty;
use super::motion::ramp::{Move, Ramp, SHORT_MOVES_MM};
use super::motion::resonance::Resonance;
use super::motion::torque_points::{POINTS, TorquePoint, torque_points};
use super::torque::TorqueCurve;
use crate::build::{Axis, Picked};
use crate::explain::Recorder;
use crate::units::{
    self, Acceleration, AngularVelocity, Force, Frequency, Length, Mass, MomentOfInertia, Ratio,
    Time, Torque, Velocity,
};
use crate::words::Words as _;

pub(in crate::machine) mod notes;
pub mod settings;
mod side;

use settings::Settings;
use side::{Place, Ramps, Sides};

/// Share of a motor's detent torque, or of its brake, that is counted on without power
/// (common practice: they scatter from motor to motor).
pub const HOLDING_SHARE: f64 = 0.8;

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
    /// Torque needed to accelerate as wanted, upwards on Z.
    pub needed_torque: Torque,
    /// Torque needed to brake as hard, downwards on Z; below zero where friction alone brakes
    /// harder.
    pub brake_torque: Torque,
    /// Every limit of the speed, in the order of their list.
    pub limits: Vec<SpeedLimit>,
    /// Greatest speed without cutting.
    pub rapid: Velocity,
    /// What limits it.
    pub limited_by: LimitName,
    /// Acceleration left at that speed.
    pub acceleration: Acceleration,
    /// Acceleration left at half of it.
    pub half_acceleration: Acceleration,
    /// How it speeds up and slows down, by the controller's ramp; none where it never moves.
    pub ramp: Option<Ramp>,
    /// The same by a trapezoid and by an S-ramp.
    pub ramps: Option<(Ramp, Ramp)>,
    /// Time for the whole travel, from rest to rest; none where it never arrives.
    pub full_travel: Option<Time>,
    /// Travel for one pulse.
    pub step: Length,
    /// Pulses at the greatest speed.
    pub pulses: Frequency,
    /// What its controller and driver are set to.
    pub settings: Settings,
    /// Pushing force of the axis on the tool at the wanted cutting feed, margin kept, with the
    /// tool at its worst place.
    pub thrust: Force,
    /// The same without the margin, where steppers stall.
    pub pull_out_thrust: Force,
    /// Where its stepper shakes; none for servos.
    pub resonance: Option<Resonance>,
    /// A typical duty of its servo; none for steppers, whose current never rests.
    pub duty: Option<Duty>,
    /// What a stop from rapids feeds back.
    pub stop: Stop,
    /// Torque with which the weight turns the motor back when the power is off.
    pub back_torque: Torque,
    /// Torque that holds the motor without power: detent or brake.
    pub holding_torque: Torque,
    /// Whether the axis sinks without power.
    pub drops: bool,
}

impl AxisFigures {
    /// What would hold the axis next, were the limit lifted that holds it; none where there is no
    /// other.
    pub fn held_next(&self) -> Option<&SpeedLimit> {
        let others = self.limits.iter();
        let others = others.filter(|limit| limit.name != self.limited_by);
        others.min_by(|a, b| a.speed.value.total_cmp(&b.speed.value))
    }

    /// What holds it, in words: of two drives that differ, with the second one where that holds it.
    pub fn held_by(&self) -> String {
        let mut limits = self.limits.iter();
        let holding = limits.find(|limit| limit.name == self.limited_by);
        holding.map_or_else(|| self.limited_by.title().to_owned(), SpeedLimit::told)
    }

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
        let place = Place {
            picked,
            geometry,
            masses,
            axis,
            curve: &curve,
        };
        let sides = Sides::of(place, notes);
        let (harder, load) = (sides.harder, sides.load);
        let step = harder.travel_a_turn / pulses_a_turn(picked, axis);
        let (rapid, limited_by) = least(&sides.limits);
        let travel = geometry.travel[axis];
        let ramps = Ramps::of(place, &sides, rapid);
        let ramp = ramps.chosen(picked);
        let back_torque = load.back_torque(&harder);
        let holding_torque = chosen.motor.holds_unpowered();
        let wanted = picked.build.area.acceleration;
        let (resonance, duty) = match &curve {
            TorqueCurve::Stepper(curve) => (Some(Resonance::of(curve, &load, &harder)), None),
            TorqueCurve::Servo(_) => {
                let duty = Duty::of(picked, axis, &load, &harder, rapid, travel);
                (None, duty)
            }
        };
        let figures = Self {
            travel,
            motors: picked.motors(axis),
            moving_mass: masses.moving[axis],
            carried_mass: load.mass,
            inert_mass: load.inert_mass(&harder),
            tool_share: units::share::of(load.share),
            friction: load.friction,
            weight: load.weight,
            rotating_inertia: load.rotating,
            inertia_ratio: load.inertia_ratio(&harder, chosen.motor.rotor_inertia()),
            needed_torque: load.needed(&harder, wanted),
            brake_torque: load.braking(&harder, wanted),
            full_travel: ramp.map(|ramp| ramp.over(travel).time),
            ramp,
            ramps: ramps.both,
            acceleration: ramps.at_rapids,
            half_acceleration: ramps.at_half,
            pulses: units::hz::of(units::m_per_min::from(rapid) / 60.0 / units::m::from(step)),
            settings: Settings::of(picked, axis, step, rapid, ramp),
            resonance,
            duty,
            stop: Stop::of(picked, axis, &load, &harder, masses.moving[axis], rapid),
            // The drag of nut and bearings, which wears off, is not counted on.
            drops: axis == Axis::Z && back_torque > holding_torque * HOLDING_SHARE,
            back_torque,
            holding_torque,
            thrust: sides.thrust,
            pull_out_thrust: sides.pull_out_thrust,
            drive: sides.both,
            limits: sides.limits,
            curve,
            rapid,
            limited_by,
            step,
        };
        if notes.listens() {
            let told = notes::Told {
                picked,
                axis,
                part: sides.part,
                figures: &figures,
                load: &load,
                drive: &harder,
                carriages: geometry.rails[axis].carriages,
            };
            notes::note(&told, masses, notes);
        }
        figures
    }

    /// The motor's speed at a speed of the axis.
    pub fn turns_at(&self, speed: Velocity) -> AngularVelocity {
        self.drive.turns_at(speed)
    }

    /// The speed at which the model sees the axis stall, at the wanted acceleration.
    pub fn modelled_stall(&self) -> Velocity {
        let turning = self.curve.stalls_at(self.needed_torque);
        self.drive.speed_at(turning)
    }

    /// What it pushes a tool with.
    pub(in crate::machine) fn push(&self) -> Push {
        Push {
            rapid: self.rapid,
            curve: self.curve,
            drive: self.drive,
            against: self.friction + self.weight,
            tool_share: self.tool_share,
        }
    }

    /// A move from rest to rest by the controller's ramp; none where the axis never moves.
    pub fn over(&self, length: Length) -> Option<Move> {
        self.ramp.map(|ramp| ramp.over(length))
    }

    /// The moves by which machines are compared, as far as they fit into the travel.
    pub fn short_moves(&self) -> impl Iterator<Item = (Length, Move)> + '_ {
        let lengths = SHORT_MOVES_MM.into_iter().map(units::mm::of);
        let fitting = lengths.filter(|length| *length <= self.travel);
        fitting.filter_map(|length| Some((length, self.over(length)?)))
    }

    /// Torque over the whole range of the motor's speed.
    pub fn torque_points(&self) -> [TorquePoint; POINTS] {
        torque_points(&self.curve, self.needed_torque, self.brake_torque)
    }
}

/// All of an axis that decides how hard it pushes a tool at which feed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::machine) struct Push {
    /// Greatest speed without cutting.
    pub(in crate::machine) rapid: Velocity,
    curve: TorqueCurve,
    drive: DriveFigures,
    against: Force,
    tool_share: Ratio,
}

impl Push {
    /// Force on the tool at a feed, margin kept.
    pub(in crate::machine) fn at(&self, feed: Velocity) -> Force {
        let torque = self.curve.lasting(self.drive.turns_at(feed));
        let share = units::share::from(self.tool_share);
        left_to_push(&self.drive, torque, self.against, share)
    }
}
