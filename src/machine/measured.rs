//! What was measured beside what the model says: how far the model was off.
//!
//! The measured value is used where it stands: in the section of a tube, the cut of a rail,
//! the limit of an axis, the stiffness at the collet, the current of a circuit. Here the two
//! are put side by side.

use super::axis::AxisFigures;
use super::electrics::Electrics;
use super::limits::LimitName;
use super::stiffness::MachineStiffness;
use crate::build::choices::control::OnCircuit;
use crate::build::choices::measured::Measured;
use crate::build::{Axis, PerAxis, Picked};
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis_path;
use crate::units::{self, Amount, Ratio};
use crate::words::Words as _;

/// Share of the speed at which an axis stalled that is planned with (common practice).
pub const STALL_SHARE: f64 = 0.7;

/// A measured value beside the model's.
#[derive(Clone, Debug, PartialEq)]
pub struct Compared {
    /// The choice that holds the measured value.
    pub choice: String,
    /// The figure in which it takes the model's place, by its path.
    pub figure: String,
    /// What was measured, in words.
    pub title: String,
    /// The measured value.
    pub measured: Amount,
    /// What the model says, or the part's name.
    pub modelled: Amount,
}

impl Compared {
    /// How far the model is off: above zero where it says too much.
    pub fn off(&self) -> Ratio {
        units::share::of(self.modelled.number / self.measured.number - 1.0)
    }
}

/// Tells where the walls come from that are used.
pub(super) fn note_walls(picked: &Picked, notes: &mut impl Recorder) {
    let tubes = [
        (
            picked.beam_wall,
            picked.beam_tube,
            "beam",
            "Wall of the beam's tube",
        ),
        (
            picked.base_wall,
            picked.base_tube,
            "base",
            "Wall of the other tubes",
        ),
    ];
    for (wall, tube, name, title) in tubes {
        notes.note(|| {
            let used = units::mm::amount(wall.used());
            let note = Derivation::of(format!("machine.{name}_wall_mm"), title, used);
            let note = match wall.measured {
                Some(_) => note
                    .by("as measured on the tube that arrived", "T")
                    .with(
                        "T",
                        "measured wall",
                        used,
                        Origin::Measured(format!("measured_{name}_wall_mm")),
                    )
                    .instead_of(units::mm::amount(wall.named)),
                None => note.by("as the tube is named", "T").with(
                    "T",
                    "nominal wall",
                    used,
                    Origin::part(tube),
                ),
            };
            note.from(
                "EN 10219-2:2006: the wall may be a tenth thinner up to 5 mm, 0.5 mm above",
                "Measure at a cut end, away from weld and corners.",
            )
        });
    }
}

/// Everything that was measured, step by step.
pub(super) fn compare(
    picked: &Picked,
    axes: &PerAxis<AxisFigures>,
    stiffness: &MachineStiffness,
    electrics: &Electrics,
    notes: &mut impl Recorder,
) -> Vec<Compared> {
    if picked.build.measured == Measured::default() {
        return Vec::new();
    }
    let mut found = walls(picked);
    for axis in Axis::EACH {
        found.extend(give(picked, stiffness, axis));
        found.extend(pitch(picked, axis));
        found.extend(stall(picked, axes, axis));
    }
    found.extend(current(picked, electrics));
    for compared in &found {
        note(compared, notes);
    }
    found
}

fn walls(picked: &Picked) -> Vec<Compared> {
    let tubes = [
        (picked.beam_wall, "beam", "wall of the beam's tube"),
        (picked.base_wall, "base", "wall of the other tubes"),
    ];
    let measured = tubes.into_iter().filter_map(|(wall, name, title)| {
        Some(Compared {
            choice: format!("measured_{name}_wall_mm"),
            figure: format!("machine.{name}_wall_mm"),
            title: title.to_owned(),
            measured: units::mm::amount(wall.measured?),
            modelled: units::mm::amount(wall.named),
        })
    });
    measured.collect()
}

fn give(picked: &Picked, stiffness: &MachineStiffness, axis: Axis) -> Option<Compared> {
    let modelled = stiffness.modelled[axis]?;
    let give = picked.build.measured.give[axis]?;
    Some(Compared {
        choice: axis.choice("measured_give") + "_um",
        figure: format!("stiffness.collet_n_per_um.{}", axis.id()),
        title: format!(
            "give of the collet in {} under the measuring pull",
            axis.title()
        ),
        measured: units::um::amount(give),
        modelled: units::um::amount(picked.build.measured.pull / modelled),
    })
}

fn pitch(picked: &Picked, axis: Axis) -> Option<Compared> {
    let measured = picked.build.measured.rail_pitch[axis]?;
    Some(Compared {
        choice: axis.choice("measured_rail_pitch") + "_mm",
        figure: axis_path(axis, "rail_pitch_mm"),
        title: format!("hole pitch of the {} rail", axis.title()),
        measured: units::mm::amount(measured),
        modelled: units::mm::amount(picked.axes[axis].rail.hole_pitch),
    })
}

fn stall(picked: &Picked, axes: &PerAxis<AxisFigures>, axis: Axis) -> Option<Compared> {
    let measured = picked.build.measured.stall[axis]?;
    Some(Compared {
        choice: axis.choice("measured_stall") + "_m_per_min",
        figure: axis_path(axis, &format!("limits_m_per_min.{}", LimitName::Motor.id())),
        title: format!("speed at which {} stalls", axis.title()),
        measured: units::m_per_min::amount(measured),
        modelled: units::m_per_min::amount(axes[axis].modelled_stall()),
    })
}

fn current(picked: &Picked, electrics: &Electrics) -> Option<Compared> {
    let measured = picked.build.measured.current?;
    let mut circuits = electrics.circuits.iter();
    let circuit = circuits.find(|circuit| circuit.which == OnCircuit::First)?;
    Some(Compared {
        choice: "measured_current_a".to_owned(),
        figure: "power.circuits.first.current_a".to_owned(),
        title: "current at the first circuit's plug, at most".to_owned(),
        measured: units::a::amount(measured),
        modelled: units::a::amount(circuit.modelled_full()),
    })
}

fn note(compared: &Compared, notes: &mut impl Recorder) {
    let path = |key: &str| format!("measured.{}.{key}", compared.choice);
    let title = &compared.title;
    notes.note(|| {
        Derivation::of(
            path("measured"),
            format!("{title}, measured"),
            compared.measured,
        )
        .by("as you measured it", "x")
        .with(
            "x",
            "measured",
            compared.measured,
            Origin::Measured(compared.choice.clone()),
        )
        .from("your own measurement", "as good as the tool and the hand")
    });
    notes.note(|| {
        Derivation::of(
            path("modelled"),
            format!("{title}, by the model"),
            compared.modelled,
        )
        .by(
            "what the model, or the part's name, says without the measured value",
            "y",
        )
        .with("y", "by the model", compared.modelled, Origin::Here)
        .from(
            "the model of the figure that it stands for",
            "see that figure without the measured value",
        )
    });
    notes.note(|| {
        Derivation::of(
            path("off_percent"),
            format!("how far the model of {title} is off"),
            units::percent::amount(compared.off()),
        )
        .by(
            "the model's value by the measured one, less one",
            "(y / x - 1) · 100 %",
        )
        .with(
            "x",
            "measured",
            compared.measured,
            Origin::figure(path("measured")),
        )
        .with(
            "y",
            "by the model",
            compared.modelled,
            Origin::figure(path("modelled")),
        )
        .from("common practice", "")
    });
}
