//! How the figures of an axis come about, for those who ask: speed, step, torque and thrust.
//! What concerns its moves and stops is told beside those.

use super::AxisFigures;
use crate::build::{Axis, Picked};
use crate::catalogue::LinearDrive;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis_path;
use crate::machine::drive::DriveFigures;
use crate::machine::load::Load;
use crate::machine::mass::Masses;
use crate::machine::motion::notes as motion;
use crate::machine::motion::ramp::Ramp;
use crate::machine::torque::notes as curve;
use crate::units::{self, Amount};
use crate::words::Words;

mod burden;
mod settings;
mod thrust;
pub(in crate::machine) mod torque;

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
    /// Carriages of the axis.
    pub(in crate::machine) carriages: u32,
}

impl Told<'_, '_> {
    /// Begins the derivation of a figure.
    pub(in crate::machine) fn of(&self, figure: &str, title: &str, amount: Amount) -> Derivation {
        let title = format!("{}: {title}", self.axis.title());
        Derivation::of(self.path(figure), title, amount)
    }

    /// The path of a figure of this axis.
    pub(in crate::machine) fn path(&self, figure: &str) -> String {
        axis_path(self.axis, figure)
    }

    /// Another figure of this axis as an origin.
    pub(in crate::machine) fn figure(&self, figure: &str) -> Origin {
        Origin::figure(self.path(figure))
    }

    /// The wanted acceleration, as an origin with its amount.
    pub(in crate::machine) fn wanted(&self) -> (Amount, Origin) {
        let wanted = self.picked.build.area.acceleration;
        (
            units::m_per_s2::amount(wanted),
            Origin::choice("acceleration_m_per_s2"),
        )
    }

    /// One turn of the motor, in travel and in pulses.
    fn turn(&self) -> [Input; 2] {
        let travel = units::mm::amount(self.drive.travel_a_turn);
        let pulses = Amount::plain(self.figures.settings.pulses_a_turn);
        let part = Origin::part(self.part.part());
        let counted = self.figure("settings.pulses_a_turn");
        [
            Input::new(
                "P",
                "travel for one turn of the motor, any reduction counted",
                travel,
                part,
            ),
            Input::new("N", "pulses a turn", pulses, counted),
        ]
    }

    /// The acceleration of a ramp as an origin: the lesser of what is left at rapids and at half
    /// of them.
    pub(in crate::machine) fn left_for(&self, ramp: &Ramp) -> Origin {
        self.figure(match ramp.acceleration() < self.figures.acceleration {
            true => "acceleration_half_rapids_m_per_s2",
            false => "acceleration_m_per_s2",
        })
    }
}

/// Tells of every figure of an axis, limits and thrust excepted, which are told of where the
/// weaker of two drives is found.
pub(super) fn note(told: &Told, masses: &Masses, notes: &mut impl Recorder) {
    let (axis, figures) = (told.axis, told.figures);
    burden::note(told, masses, notes);
    curve::note(told.picked, axis, &figures.curve, notes);
    notes.note(|| rapid(told));
    notes.note(|| step(told));
    notes.note(|| pulses(told));
    settings::note(told, notes);
    notes.note(|| torque::needed(told));
    notes.note(|| torque::braking(told));
    notes.note(|| {
        torque::left(
            told,
            "acceleration_m_per_s2",
            ("rapids", figures.rapid),
            figures.acceleration,
        )
    });
    notes.note(|| {
        torque::left(
            told,
            "acceleration_half_rapids_m_per_s2",
            ("half rapids", figures.rapid / 2.0),
            figures.half_acceleration,
        )
    });
    notes.note(|| torque::inertia_ratio(told));
    if axis == Axis::Z {
        notes.note(|| torque::back(told));
        notes.note(|| torque::holding(told));
    }
    motion::note(told, notes);
}

fn rapid(told: &Told) -> Derivation {
    let limits = told.figures.limits.iter().map(|limit| {
        Input::new(
            "v_i",
            limit.name.title(),
            units::m_per_min::amount(limit.speed),
            told.figure(&format!("limits_m_per_min.{}", limit.name.id())),
        )
    });
    told.of(
        "rapid_m_per_min",
        "rapids",
        units::m_per_min::amount(told.figures.rapid),
    )
    .by("the least of all limits of the speed", "v = min v_i")
    .with_each(limits)
    .from(
        "calculation",
        "What the axis can do, not what the controller is set to. Of two drives the weaker counts.",
    )
}

fn step(told: &Told) -> Derivation {
    told.of("step_um", "travel for one pulse", units::um::amount(told.figures.step))
        .by("travel for one turn of the motor over pulses a turn", "step = P/N")
        .with_each(told.turn())
        .from(
            "calculation",
            "A step is not an accuracy: a stepper stands within 3 to 5 % of a full step, and play and screw error come on top.",
        )
}

fn pulses(told: &Told) -> Derivation {
    let figures = told.figures;
    told.of(
        "pulses_khz",
        "pulses at the greatest speed",
        units::khz::amount(figures.pulses),
    )
    .by("the greatest speed over travel for one pulse", "f = v/step")
    .with(
        "v",
        "rapids",
        units::m_per_min::amount(figures.rapid),
        told.figure("rapid_m_per_min"),
    )
    .with(
        "step",
        "travel for one pulse",
        units::um::amount(figures.step),
        told.figure("step_um"),
    )
    .from("calculation", "")
}
