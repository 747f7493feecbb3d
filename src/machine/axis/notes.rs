//! How the figures of an axis come about, for those who ask: speed, step, torque and thrust.
//! What concerns its moves and stops is told beside those.

use super::AxisFigures;
use crate::build::{Axis, Picked};
use crate::catalogue::{LinearDrive, Motor};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::drive::DriveFigures;
use crate::machine::feed::pulses_a_turn;
use crate::machine::load::{Load, RAIL_FRICTION};
use crate::machine::motion::notes as motion;
use crate::units::{self, Amount};
use crate::words::Words;

mod thrust;
mod torque;

pub(super) use thrust::note_thrust;

/// One axis and what its figures were worked out from.
pub(in crate::machine) struct Told<'a, 'c> {
    pub(in crate::machine) picked: &'a Picked<'c>,
    pub(in crate::machine) axis: Axis,
    /// The drive that stands for both of a pair.
    pub(in crate::machine) part: LinearDrive<'c>,
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
        let part = || Origin::part(self.part.part());
        let carried = "mass on the most burdened motor, of what the axis moves";
        let friction = "friction: 0.004 of the weight on the rails, and the drag of the seals";
        let mut found = vec![
            input(
                "m",
                carried,
                units::kg::amount(load.mass).into(),
                self.figure("moving_mass_kg"),
            ),
            input(
                "F",
                friction,
                units::n::amount(load.friction).into(),
                Origin::part(self.picked.axes[self.axis].carriage),
            ),
            input(
                "r",
                "travel for one radian of the motor",
                Amount::of(arm, "mm").into(),
                part(),
            ),
            input(
                "η",
                "efficiency from torque to thrust",
                units::times::amount(drive.efficiency).into(),
                part(),
            ),
            input(
                "J",
                "inertia that turns: rotor, screw or pulleys, coupling",
                units::kg_m2::amount(load.rotating).into(),
                Origin::part(self.picked.axes[self.axis].motor.part()),
            ),
            input(
                "M",
                "drag of nut and bearings",
                units::nm::amount(drive.drag).into(),
                part(),
            ),
            input(
                "µ",
                "friction of balls in the rails, within F",
                Amount::plain(RAIL_FRICTION).into(),
                Origin::Constant("published rail catalogue"),
            ),
        ];
        if self.axis == Axis::Z {
            found.push(input(
                "W",
                "weight",
                units::n::amount(load.weight).into(),
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
    part: LinearDrive,
    figures: &AxisFigures,
    (load, drive): (&Load, &DriveFigures),
    notes: &mut impl Recorder,
) {
    let told = Told {
        picked,
        axis,
        part,
        figures,
        load,
        drive,
    };
    notes.note(|| rapid(&told));
    notes.note(|| step(&told));
    notes.note(|| torque::needed(&told));
    notes.note(|| torque::braking(&told));
    let half = figures.rapid / 2.0;
    notes.note(|| {
        torque::left(
            &told,
            "acceleration_m_per_s2",
            figures.rapid,
            figures.acceleration,
        )
    });
    notes.note(|| {
        torque::left(
            &told,
            "acceleration_half_rapids_m_per_s2",
            half,
            figures.half_acceleration,
        )
    });
    notes.note(|| torque::inertia_ratio(&told));
    if axis == Axis::Z {
        notes.note(|| torque::back(&told));
        notes.note(|| torque::holding(&told));
    }
    motion::note(&told, notes);
}

fn rapid(told: &Told) -> Derivation {
    let limits = told.figures.limits.iter().map(|limit| Input {
        symbol: "v",
        title: limit.name.title().to_owned(),
        value: units::m_per_min::amount(limit.speed).into(),
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
    let part = Origin::part(told.part.part());
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
