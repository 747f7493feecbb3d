//! How the figures of an axis come about, for those who ask: speed, step, torque and thrust.
//! What concerns its moves and stops is told beside those.

use super::AxisFigures;
use crate::build::{Axis, Picked};
use crate::catalogue::Motor;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::drive::DriveFigures;
use crate::machine::feed::pulses_a_turn;
use crate::machine::load::{Load, RAIL_FRICTION};
use crate::machine::motion::notes as motion;
use crate::machine::torque::TorqueCurve;
use crate::units::{self, Acceleration, Amount, Force, Velocity};
use crate::words::Words;

/// One axis and what its figures were worked out from.
pub(in crate::machine) struct Told<'a, 'c> {
    pub(in crate::machine) picked: &'a Picked<'c>,
    pub(in crate::machine) axis: Axis,
    pub(in crate::machine) figures: &'a AxisFigures,
    pub(in crate::machine) load: &'a Load,
    pub(in crate::machine) drive: &'a DriveFigures,
}

impl Told<'_, '_> {
    /// Begins the derivation of a figure.
    pub(in crate::machine) fn of(&self, figure: &str, title: &str, amount: Amount) -> Derivation {
        let title = format!("{}: {title}", self.axis.title());
        Derivation::of(self.path(figure), title, amount)
    }

    /// The path of a figure of this axis.
    pub(in crate::machine) fn path(&self, figure: &str) -> String {
        format!("axes.{}.{figure}", self.axis.id())
    }

    /// Another figure of this axis as an origin.
    pub(in crate::machine) fn figure(&self, figure: &str) -> Origin {
        Origin::figure(self.path(figure))
    }

    /// What the motor has to move, as inputs.
    pub(in crate::machine) fn burden(&self) -> Vec<Input> {
        let (load, drive) = (self.load, self.drive);
        let input = |symbol, title: &str, value, origin| Input {
            symbol,
            title: title.to_owned(),
            value,
            origin,
        };
        let arm = units::mm::from(drive.travel_a_turn) / std::f64::consts::TAU;
        let part = || Origin::part(self.picked.axes[self.axis].drive.part());
        let carried = "mass on the most burdened motor, of what the axis moves";
        let friction = "friction: 0.004 of the weight on the rails, and the drag of the seals";
        let mut found = vec![
            input(
                "m",
                carried,
                units::kg::amount(load.mass),
                self.figure("moving_mass_kg"),
            ),
            input(
                "F",
                friction,
                units::n::amount(load.friction),
                Origin::part(self.picked.axes[self.axis].carriage),
            ),
            input(
                "r",
                "travel for one radian of the motor",
                Amount::of(arm, "mm"),
                part(),
            ),
            input(
                "η",
                "efficiency from torque to thrust",
                units::times::amount(drive.efficiency),
                part(),
            ),
            input(
                "J",
                "inertia that turns: rotor, screw or pulleys, coupling",
                units::kg_m2::amount(load.rotating),
                Origin::part(self.picked.axes[self.axis].motor.part()),
            ),
            input(
                "M",
                "drag of nut and bearings",
                units::nm::amount(drive.drag),
                part(),
            ),
            input(
                "µ",
                "friction of balls in the rails, within F",
                Amount::plain(RAIL_FRICTION),
                Origin::Constant("published rail catalogue"),
            ),
        ];
        if self.axis == Axis::Z {
            found.push(input(
                "W",
                "weight",
                units::n::amount(load.weight),
                Origin::Here,
            ));
        }
        found
    }

    /// The wanted acceleration, as an origin with its amount.
    pub(in crate::machine) fn wanted(&self) -> (Amount, Origin) {
        let wanted = self.picked.build.area.acceleration;
        (
            units::m_per_s2::amount(wanted),
            Origin::choice("acceleration_m_per_s2"),
        )
    }
}

/// Tells of every figure of an axis, limits and thrust excepted, which are told of where the
/// weaker of two drives is found.
pub(super) fn note(
    picked: &Picked,
    axis: Axis,
    figures: &AxisFigures,
    load: &Load,
    drive: &DriveFigures,
    notes: &mut impl Recorder,
) {
    let told = Told {
        picked,
        axis,
        figures,
        load,
        drive,
    };
    notes.note(|| rapid(&told));
    notes.note(|| step(&told));
    notes.note(|| needed(&told));
    notes.note(|| braking(&told));
    let half = figures.rapid / 2.0;
    notes.note(|| {
        left(
            &told,
            "acceleration_m_per_s2",
            figures.rapid,
            figures.acceleration,
        )
    });
    notes.note(|| {
        left(
            &told,
            "acceleration_half_rapids_m_per_s2",
            half,
            figures.half_acceleration,
        )
    });
    notes.note(|| inertia_ratio(&told));
    if axis == Axis::Z {
        notes.note(|| back(&told));
        notes.note(|| holding(&told));
    }
    motion::note(&told, notes);
}

fn rapid(told: &Told) -> Derivation {
    let limits = told.figures.limits.iter().map(|limit| Input {
        symbol: "v",
        title: limit.name.title().to_owned(),
        value: units::m_per_min::amount(limit.speed),
        origin: told.figure(&format!("limits_m_per_min.{}", limit.name.id())),
    });
    told.of(
        "rapid_m_per_min",
        "rapids",
        units::m_per_min::amount(told.figures.rapid),
    )
    .by("the least of all limits of the speed", "v = min(v₁, v₂, …)")
    .with_each(limits)
    .from(
        "calculation",
        "What the axis can do, not what the controller is set to. Of two drives the weaker counts.",
    )
}

fn step(told: &Told) -> Derivation {
    let picked = told.picked;
    let part = Origin::part(picked.axes[told.axis].drive.part());
    let travel = units::mm::amount(told.drive.travel_a_turn);
    let pulses = Amount::plain(pulses_a_turn(picked, told.axis));
    let (title, origin) = match picked.axes[told.axis].motor {
        Motor::Stepper(_) => (
            "pulses a turn: 200 full steps, each in microsteps",
            Origin::choice("microsteps"),
        ),
        Motor::Servo(motor) => ("pulses a turn, as the driver is set", Origin::part(motor)),
    };
    told.of("step_um", "travel for one pulse", units::um::amount(told.figures.step))
        .by("travel for one turn of the motor over pulses a turn", "step = P/N")
        .with("P", "travel for one turn of the motor, any reduction counted", travel, part)
        .with("N", title, pulses, origin)
        .from(
            "calculation",
            "A step is not an accuracy: a stepper stands within 3 to 5 % of a full step, and play and screw error come on top.",
        )
}

fn needed(told: &Told) -> Derivation {
    let (a, origin) = told.wanted();
    told.of(
        "needed_torque_nm",
        "torque to speed up as wanted",
        units::nm::amount(told.figures.needed_torque),
    )
    .by(
        "force of mass, friction and weight through the drive, what turns, and drag",
        "T = (m a + F + W) r/η + J a/r + M",
    )
    .with("a", "wanted acceleration", a, origin)
    .with_each(told.burden())
    .from(
        "ISO 3408-5 and screw catalogues for the drive; mechanics",
        "Upwards on Z; no cut at the same time.",
    )
}

fn braking(told: &Told) -> Derivation {
    let (a, origin) = told.wanted();
    let back = units::times::amount(told.drive.back_efficiency);
    let push = told.load.braking_push(told.picked.build.area.acceleration);
    told.of("brake_torque_nm", "torque to brake as hard as wanted", units::nm::amount(told.figures.brake_torque))
        .by(
            "what turns, and the push of mass and weight less friction back through the drive, less drag; a push below zero goes forth through the drive",
            "T = J a/r + Q r η' - M, Q = m a - F + W; where Q < 0: Q r/η",
        )
        .with("a", "wanted acceleration", a, origin)
        .with("Q", "push of what is braked", units::n::amount(push), Origin::Here)
        .with("η'", "efficiency of back-driving", back, Origin::Constant("2 - 1/η for ball screws, ISO 3408-5"))
        .with_each(told.burden())
        .from(
            "ISO 3408-5 and screw catalogues for the drive; mechanics",
            "Downwards on Z. Below zero friction alone brakes harder, and the motor still pushes. A stepper brakes with a little more than its pull-out torque, which is not counted.",
        )
}

fn left(told: &Told, figure: &str, speed: Velocity, amount: Acceleration) -> Derivation {
    let at = if figure.contains("half") {
        "half rapids"
    } else {
        "rapids"
    };
    let usable = told.figures.curve.usable(told.drive.turns_at(speed));
    let turning = units::rpm::amount(told.drive.turns_at(speed));
    let title = format!("acceleration left at {at}");
    told.of(figure, &title, units::m_per_s2::amount(amount))
        .by(
            "torque that may be used at that speed, less what friction, weight and drag take, over what an acceleration takes",
            "a = (T - (F + W) r/η - M)/(m r/η + J/r)",
        )
        .with("T", "torque that may be used", units::nm::amount(usable), Origin::Here)
        .with("n", "speed of the motor", turning, told.figure("rapid_m_per_min"))
        .with_each(told.burden())
        .from("mechanics; torque as for the limit by motor torque", "The frame may bear less than the motor gives.")
}

fn inertia_ratio(told: &Told) -> Derivation {
    let rotor = told.picked.axes[told.axis].motor.rotor_inertia();
    let part = Origin::part(told.picked.axes[told.axis].motor.part());
    let ratio = Amount::plain(told.figures.inertia_ratio.get::<uom::si::ratio::ratio>());
    told.of("inertia_ratio", "load against rotor", ratio)
        .by(
            "inertia of all that the motor moves and turns but its rotor, over the rotor's",
            "i = (m r² + J - J₀)/J₀",
        )
        .with(
            "J₀",
            "inertia of the rotor",
            units::kg_m2::amount(rotor),
            part,
        )
        .with_each(told.burden())
        .from("mechanics", "Belts and couplings are taken as stiff.")
}

fn back(told: &Told) -> Derivation {
    let back = units::times::amount(told.drive.back_efficiency);
    told.of(
        "back_torque_nm",
        "torque of the weight on the unpowered motor",
        units::nm::amount(told.figures.back_torque),
    )
    .by(
        "weight through the drive with its efficiency of back-driving, not below zero",
        "T = W r η'",
    )
    .with(
        "η'",
        "efficiency of back-driving",
        back,
        Origin::Constant("2 - 1/η for ball screws, ISO 3408-5; friction angle for lead screws"),
    )
    .with_each(told.burden())
    .from(
        "ISO 3408-5; handbooks of machine elements for lead screws",
        "Drag of nut and bearings would help, but wears off: it is not counted on.",
    )
}

fn holding(told: &Told) -> Derivation {
    let motor = told.picked.axes[told.axis].motor;
    let title = match motor {
        Motor::Stepper(_) => "detent torque of the motor",
        Motor::Servo(servo) if servo.brake.is_some() => "holding torque of the brake",
        Motor::Servo(_) => "no brake: nothing holds",
    };
    let amount = units::nm::amount(told.figures.holding_torque);
    told.of(
        "holding_torque_nm",
        "what holds the unpowered motor",
        amount,
    )
    .by("detent torque of a stepper, brake of a servo", "T")
    .with("T", title, amount, Origin::part(motor.part()))
    .from(
        "data of the motor",
        "Detent torque scatters from motor to motor: 0.8 of it is counted on (common practice).",
    )
}

/// Tells of the thrust of the weaker drive, with the margin and without.
#[allow(
    clippy::too_many_arguments,
    reason = "one motor, its drive and what it moves"
)]
pub(super) fn note_thrust(
    picked: &Picked,
    axis: Axis,
    (kept, pull_out): (Force, Force),
    load: &Load,
    drive: &DriveFigures,
    curve: &TorqueCurve,
    notes: &mut impl Recorder,
) {
    for (figure, force, margin) in [
        ("thrust_n", kept, true),
        ("pull_out_thrust_n", pull_out, false),
    ] {
        notes.note(|| thrust(picked, axis, (figure, force, margin), load, drive, curve));
    }
}

fn thrust(
    picked: &Picked,
    axis: Axis,
    (figure, force, margin): (&str, Force, bool),
    load: &Load,
    drive: &DriveFigures,
    curve: &TorqueCurve,
) -> Derivation {
    let feed = picked.build.area.wanted_feed(axis);
    let turning = drive.turns_at(feed);
    let (torque, which, kept) = match (margin, curve) {
        (true, TorqueCurve::Stepper(_)) => (
            curve.lasting(turning),
            "share of the pull-out torque",
            "margin kept",
        ),
        (true, TorqueCurve::Servo(_)) => (curve.lasting(turning), "torque for ever", "for ever"),
        (false, TorqueCurve::Stepper(_)) => (
            curve.pull_out(turning),
            "pull-out torque",
            "where it stalls",
        ),
        (false, TorqueCurve::Servo(_)) => (
            curve.pull_out(turning),
            "peak torque",
            "for a second or two",
        ),
    };
    let part = Origin::part(picked.axes[axis].motor.part());
    let through = Origin::part(picked.axes[axis].drive.part());
    let steady = units::nm::amount(load.steady_torque(drive));
    let arm = Amount::of(
        units::mm::from(drive.travel_a_turn) / std::f64::consts::TAU,
        "mm",
    );
    let title = format!(
        "{}: push on the tool at the cutting feed, {kept}",
        axis.title()
    );
    Derivation::of(format!("axes.{}.{figure}", axis.id()), title, units::n::amount(force))
        .by(
            "torque at the wanted cutting feed, less friction, weight and drag, through the drive; with the tool where this motor bears most of it",
            "F = (T - T₀) η/(r s), not below zero",
        )
        .with("T", which, units::nm::amount(torque), part)
        .with("n", "speed of the motor at that feed", units::rpm::amount(turning), Origin::choice("cutting_feed_m_per_min"))
        .with("T₀", "torque for friction, weight and drag", steady, Origin::Here)
        .with("η", "efficiency from torque to thrust", units::times::amount(drive.efficiency), through.clone())
        .with("r", "travel for one radian of the motor", arm, through)
        .with("s", "share of a force on the tool that this motor bears", Amount::plain(load.share), Origin::Plan(picked.frame.id.to_string()))
        .from("mechanics; torque as for the limit by motor torque", "At a steady feed; turning corners takes acceleration besides.")
}
