//! What the builder measured: it takes the place of the model, which then says how far off
//! it was. Each row stands at the end of the step that it is about.

use super::{Choice, Figure, Kind, rows};
use crate::build::PerAxis;
use crate::build::value::{NumberKind, Value};
use crate::catalogue::Step;
use crate::units::{self, ElectricCurrent, Force, Length, Velocity};

/// What the builder measured on parts that arrived and on the machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Wall of the beam's tube.
    pub beam_wall: Option<Length>,
    /// Wall of the other tubes.
    pub base_wall: Option<Length>,
    /// Hole pitch of the rails.
    pub rail_pitch: PerAxis<Option<Length>>,
    /// Speed at which an axis stalled, at the wanted acceleration.
    pub stall: PerAxis<Option<Velocity>>,
    /// The pull at the collet with which it was seen how far it gives.
    pub pull: Force,
    /// How far the collet gave under that pull, at mid-span.
    pub give: PerAxis<Option<Length>>,
    /// Current at the first circuit's plug with everything on, in the hardest cut.
    pub current: Option<ElectricCurrent>,
}

impl Default for Measured {
    fn default() -> Self {
        Self {
            beam_wall: None,
            base_wall: None,
            rail_pitch: PerAxis::default(),
            stall: PerAxis::default(),
            pull: units::n::of(100.0),
            give: PerAxis::default(),
            current: None,
        }
    }
}

/// The rows of one axis.
macro_rules! axis_rows {
    ($letter:literal $name:literal $axis:ident $rapid:ident $stiffness:ident) => {{
        let mut found: Vec<Choice> = rows! { WorkingArea;
            maybe (concat!("measured_give_", $letter, "_um")) (concat!("Measured give ", $name)) (measured.give.$axis) {um 0.1 20000.0 5.0 "not measured"} [$stiffness Removal Warnings]
                (concat!("How far the collet moves in ", $name, " under the measured pull, with the carriage at mid-span: a luggage scale and a dial gauge tell, and it replaces the computed stiffness."))
                "Measured at the motor instead of the collet, it leaves out most of what gives.";
        };
        let drive: Vec<Choice> = rows! { Drive;
            maybe (concat!("measured_rail_pitch_", $letter, "_mm")) (concat!("Measured holes ", $name)) (measured.rail_pitch.$axis) {mm 10.0 200.0 1.0 "not measured"} [Cost Warnings]
                (concat!("The distance of the mounting holes of the ", $name, " rail that arrived, since rails of the same size differ."))
                "Holes drilled before you measured may miss the rail's: drill nothing until then.";
            maybe (concat!("measured_stall_", $letter, "_m_per_min")) (concat!("Measured stall ", $name)) (measured.stall.$axis) {m_per_min 0.1 300.0 0.5 "not measured"} [$rapid Warnings]
                (concat!("The speed at which ", $name, " stalled when you raised it step by step, at the wanted acceleration: seven tenths of it are planned with."))
                "Measured without the spindle on, or with a cold supply, it promises more than you will have.";
        };
        found.extend(drive);
        found
    }};
}

/// The rows of all steps.
pub(super) fn rows() -> Vec<Choice> {
    let mut found: Vec<Choice> = rows! { WorkingArea;
        maybe "measured_beam_wall_mm" "Measured beam wall" (measured.beam_wall) {mm 0.5 20.0 0.1 "not measured"} [StiffnessY Mass MassY Warnings]
            "The wall of the beam's tube that arrived, by caliper at a cut end; it is used instead of the one in its name."
            "The standard allows a tenth less than the name says. Unmeasured, the beam may be softer than you were told.";
        maybe "measured_base_wall_mm" "Measured base wall" (measured.base_wall) {mm 0.5 20.0 0.1 "not measured"} [Mass StiffnessZ Warnings]
            "The wall of the other tubes that arrived, by caliper at a cut end; it is used instead of the one in their name."
            "The standard allows a tenth less than the name says. Unmeasured, the frame may be softer than you were told.";
        number "measured_pull_n" "Measuring pull" (measured.pull) {n 5.0 2000.0 10.0} [StiffnessX Removal Warnings]
            "The pull at the collet with which you measured how far it gives: 100 N is about ten kilograms on a luggage scale."
            "Too little is lost in the friction of the scale. Too much moves the whole machine.";
    };
    found.extend(axis_rows!("x" "X" x RapidX StiffnessX));
    found.extend(axis_rows!("y" "Y" y RapidY StiffnessY));
    found.extend(axis_rows!("z" "Z" z RapidZ StiffnessZ));
    let control: Vec<Choice> = rows! { Control;
        maybe "measured_current_a" "Measured current" (measured.current) {a 0.1 100.0 0.5 "not measured"} [Mains Warnings]
            "The current at the plug of the first circuit in the hardest cut with everything on, by a plug-in power meter; it replaces the computed one."
            "Measured in an easy cut, it makes the socket look stronger than it is.";
    };
    found.extend(control);
    found
}
