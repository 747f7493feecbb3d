//! Play, microsteps and step length, against the accuracy that the builder wants.

use super::fit::{other_drives, other_motors, other_screws};
use super::remedy::{in_turn, number, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, racks};
use crate::build::Axis;
use crate::catalogue::motor::MotorKind;
use crate::catalogue::{LinearDrive, Step};
use crate::machine::stepper::STEPS_A_TURN;
use crate::units;
use crate::words::Words;

/// Share of the wanted accuracy that play may eat: the rest is for everything that bends
/// (common practice).
const PLAY_SHARE: f64 = 0.5;

/// The share of the wanted accuracy that a single pulse may be (common practice).
const STEP_SHARE: f64 = 0.25;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "backlash-over-tolerance",
        title: "Too much play for the wanted accuracy",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "The play of nut or mesh when the direction turns, against half of the wanted accuracy.",
        because: "With play circles get a small step or flat in four places, and no controller sees it.",
        from: "Play in the part's data <= half of the wanted accuracy (common practice).",
        instead: "Take nuts without play, or a drive with less.",
        reads: &[Fact::Wishes, Fact::Drives],
        decided_by: Some(&["drives_a", "preloaded_nuts"]),
        check: play,
        remedies: play_remedies,
        example: Example {
            given: &[("preloaded_nuts", "no")],
            choice: "tolerance_mm",
            fires: "0.075",
            quiet: "0.085",
        },
    },
    Rule {
        id: "microsteps-are-not-accuracy",
        title: "Accuracy by microsteps",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "Axes with plain steppers whose full step is larger than the wanted accuracy.",
        because: "Microsteps smooth the motion, but a motor stands where its load lets it: friction alone shifts it by several of them.",
        from: "Full step = travel per turn / 200; an unloaded motor is exact to 3 to 5 % of a full step (makers' data).",
        instead: "Take a shorter lead or a motor with an encoder, or measure what comes out before you trust it.",
        reads: &[Fact::Wishes, Fact::Drives, Fact::Motors],
        decided_by: Some(&["like_drives_a", "reduction", "motor_a"]),
        check: microsteps,
        remedies: microsteps_remedies,
        example: Example {
            given: &[],
            choice: "tolerance_mm",
            fires: "0.045",
            quiet: "0.055",
        },
    },
    Rule {
        id: "step-too-coarse",
        title: "Steps too coarse",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "The travel of each axis for one pulse, against a quarter of the wanted accuracy.",
        because: "The controller can ask for whole pulses only: coarse ones show as facets on slopes and circles.",
        from: "Travel for a pulse <= a quarter of the wanted accuracy (common practice).",
        instead: "Set more microsteps, or take a shorter lead or a larger reduction.",
        reads: &[Fact::Wishes, Fact::Axes, Fact::Drivers],
        decided_by: Some(&["like_drives_a", "reduction", "motor_a", "microsteps"]),
        check: coarse,
        remedies: coarse_remedies,
        example: Example {
            given: &[("tolerance_mm", "0.12")],
            choice: "microsteps",
            fires: "1",
            quiet: "2",
        },
    },
];

fn play(facts: &Facts, report: &mut Report) {
    let wanted = facts.picked.build.area.tolerance;
    for axis in Axis::EACH {
        let play = facts.machine.axes[axis].drive.play;
        if play > wanted * PLAY_SHARE {
            let message = format!(
                "{}: {} of play; you want parts exact to {}, and half of that may be play",
                axis.title(),
                say::mm(play, 3),
                say::mm(wanted, 3)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn play_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let play = facts.machine.axes[axis].drive.play;
    in_turn([
        set(facts, "preloaded_nuts", "yes"),
        other_screws(facts, axis, |other| matches!(other, LinearDrive::Ball(_))),
        other_drives(facts, axis, |other| matches!(other, LinearDrive::Belt(_))),
        number(
            facts,
            "tolerance_mm",
            units::mm::from(play) / PLAY_SHARE,
            true,
        ),
    ])
}

fn microsteps(facts: &Facts, report: &mut Report) {
    let wanted = facts.picked.build.area.tolerance;
    for axis in Axis::EACH {
        let full = facts.machine.axes[axis].drive.travel_a_turn / STEPS_A_TURN;
        let plain = facts.picked.axes[axis].motor.kind() == MotorKind::OpenLoop;
        // Where a rack gives way by more than the accuracy, its own rule says so.
        if plain && full > wanted && racks::too_coarse(facts, axis).is_none() {
            let [full, wanted] = say::lengths(full, wanted, 3);
            let message = format!(
                "{}: a full step is {full}, you want {wanted}: only microsteps, which give way, lie between",
                axis.title(),
            );
            report.say_of(axis, Severity::Hint, message);
        }
    }
}

fn microsteps_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let longest = facts.picked.build.area.tolerance * STEPS_A_TURN;
    in_turn([
        other_screws(facts, axis, |other| other.travel_a_turn() <= longest),
        other_motors(facts, axis, |motor| motor.kind() != MotorKind::OpenLoop),
    ])
}

fn coarse(facts: &Facts, report: &mut Report) {
    let wanted = facts.picked.build.area.tolerance;
    for axis in Axis::EACH {
        let step = facts.machine.axes[axis].step;
        if step > wanted * STEP_SHARE {
            let message = format!(
                "{}: a pulse moves it {} µm; to keep {} it should be {} µm or less",
                axis.title(),
                say::at_most(units::um::from(step), 1),
                say::mm(wanted, 3),
                say::at_most(units::um::from(wanted * STEP_SHARE), 1)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn coarse_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let chosen = &facts.picked.axes[axis];
    let excess = facts.machine.axes[axis].step / (facts.picked.build.area.tolerance * STEP_SHARE);
    let more = |now: f64| now * units::times::from(excess);
    let finer = more(f64::from(facts.picked.build.drive.microsteps)).ceil() as u32;
    let reduction = more(units::share::from(facts.picked.build.drive.reduction));
    let lead = chosen.drive.travel_a_turn();
    in_turn([
        number(
            facts,
            "microsteps",
            f64::from(finer.next_power_of_two()),
            true,
        ),
        number(facts, "microsteps", f64::from(finer), true),
        if chosen.drive.is_screw() {
            Vec::new()
        } else {
            number(facts, "reduction", reduction, true)
        },
        other_drives(facts, axis, |other| other.travel_a_turn() < lead),
    ])
}
