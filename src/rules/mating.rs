//! Parts that must go together: shafts and couplings, motors and mounts, screws and their
//! bearings, spindle and clamp.

use super::fit::{greatest_torque, joins, other_motors, other_screws, same_size};
use super::remedy::{each_option, in_turn, options_where};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::linear_drive::Coupling;
use crate::catalogue::{Id, LinearDrive, Step};
use crate::machine::geometry::{plan_of, supports_lacking};
use crate::units::Length;
use crate::words::Words;

/// Greatest torque of the motor times this is what a coupling must bear: reversing hits
/// harder than turning (common practice).
const COUPLING_SERVICE: f64 = 1.5;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "coupling-does-not-fit",
        title: "Coupling does not fit its shafts",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The two bores of each coupling, against the shafts of motor and screw, either way round.",
        because: "A bore that is too small does not go on; one that is too large slips, and the axis loses its place.",
        from: "Bores = shaft of the motor and end of the screw (the part's data).",
        instead: "Take the coupling with these two bores.",
        reads: &[Fact::Motors, Fact::Drives],
        decided_by: Some(&["coupling_a", "motor_a", "drives_a"]),
        check: coupling,
        remedies: coupling_remedies,
        example: Example {
            given: &[],
            choice: "coupling_x",
            fires: "coupling-8x12",
            quiet: "coupling-8x10",
        },
    },
    Rule {
        id: "coupling-too-weak",
        title: "Coupling too weak for the motor",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "The torque of each coupling, against one and a half times the greatest of its motor.",
        because: "A coupling that is twisted beyond its torque cracks, or slips and loses the place of the axis.",
        from: "1.5 x holding or peak torque (common practice for reversing drives) <= torque in the coupling's data.",
        instead: "Take a larger coupling with the same bores, or a motor of less torque.",
        reads: &[Fact::Motors, Fact::Drives],
        decided_by: Some(&["coupling_a", "motor_a", "drive_a"]),
        check: weak,
        remedies: weak_remedies,
        example: Example {
            given: &[
                ("coupling_x", "coupling-10x14"),
                ("driver_x", "driver-110v-8a"),
            ],
            choice: "motor_x",
            fires: "stepper-34-12",
            quiet: "stepper-34-8.5",
        },
    },
    Rule {
        id: "motor-face-not-on-mount",
        title: "Motor does not fit its mount",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The face of each motor, against the faces that the frame plan's mount of this axis takes.",
        because: "Holes and pilot of another face are elsewhere: the motor cannot be bolted on.",
        from: "Faces in the frame plan; NEMA ICS 16 faces and the usual 60 and 80 mm servo faces.",
        instead: "Take a motor with a face that the mount takes, or write a plan with another mount.",
        reads: &[Fact::Motors, Fact::Frame],
        decided_by: Some(&["motor_a"]),
        check: face,
        remedies: face_remedies,
        example: Example {
            given: &[],
            choice: "motor_x",
            fires: "stepper-17-0.8",
            quiet: "stepper-23-1.9",
        },
    },
    Rule {
        id: "no-support-unit",
        title: "No bearings for the screw's ends",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "Support units on offer for the ends of each screw, as they are held.",
        because: "Without a bearing unit of its bore a screw has nothing that takes its thrust.",
        from: "Bores and kinds of the support units in the catalogue.",
        instead: "Take a screw whose ends are made for units on offer.",
        reads: &[Fact::Drives],
        decided_by: Some(&["drives_a", "ends_a"]),
        check: support,
        remedies: support_remedies,
        example: Example {
            given: &[],
            choice: "drive_z",
            fires: "lead-screw-8x8",
            quiet: "lead-screw-10x2",
        },
    },
    Rule {
        id: "clamp-does-not-fit-spindle",
        title: "Clamp does not fit the spindle",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "The bore of the clamp, against the body of the spindle.",
        because: "A clamp of another bore does not hold the spindle, or dents its body onto the bearings.",
        from: "Bore = diameter of the body (the part's data).",
        instead: "Take the clamp for this body, or a spindle for this clamp.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "spindle_clamp"]),
        check: clamp,
        remedies: clamp_remedies,
        example: Example {
            given: &[],
            choice: "spindle_clamp",
            fires: "clamp-69",
            quiet: "clamp-80",
        },
    },
];

/// The ends of the screws of an axis that the coupling has to take.
fn screw_ends<'a>(facts: &Facts<'a>, axis: Axis) -> Vec<LinearDrive<'a>> {
    facts
        .picked
        .drives(axis)
        .into_iter()
        .filter(LinearDrive::is_screw)
        .collect()
}

fn coupling(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let chosen = &facts.picked.axes[axis];
        let motor = chosen.motor.shaft();
        let misfit = |drive: &LinearDrive| !joins(chosen.coupling, motor, drive.shaft());
        let Some(screw) = screw_ends(facts, axis).into_iter().find(misfit) else {
            continue;
        };
        let bores: Vec<String> = chosen
            .coupling
            .bores
            .iter()
            .map(|one| say::bore(*one))
            .collect();
        let message = format!(
            "{}: the coupling takes {}; motor and screw end have {} and {}",
            axis.title(),
            bores.join(" and "),
            say::bore(motor),
            say::bore(screw.shaft())
        );
        report.say_of(axis, Severity::Fault, message);
    }
}

fn couplings(facts: &Facts, axis: Axis, fits: impl Fn(&Coupling) -> bool) -> Remedies {
    let shelf = &facts.picked.catalogue.couplings;
    options_where(facts, &axis.choice("coupling"), |id| {
        shelf.get(id).is_some_and(&fits)
    })
}

fn coupling_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let chosen = &facts.picked.axes[axis];
    let (motor, end) = (chosen.motor.shaft(), chosen.drive.shaft());
    let takes = |shaft: Length| {
        chosen
            .coupling
            .bores
            .iter()
            .any(|one| same_size(*one, shaft))
    };
    in_turn([
        couplings(facts, axis, |one| joins(one, motor, end)),
        other_screws(facts, axis, |other| takes(other.shaft())),
        other_motors(facts, axis, |other| takes(other.shaft())),
    ])
}

fn weak(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let chosen = &facts.picked.axes[axis];
        let wanted = greatest_torque(&chosen.motor) * COUPLING_SERVICE;
        if chosen.drive.is_screw() && wanted > chosen.coupling.torque {
            let message = format!(
                "{}: the coupling bears {}; this motor's {} want {}",
                axis.title(),
                say::torque(chosen.coupling.torque, 0),
                say::torque(greatest_torque(&chosen.motor), 1),
                say::torque(wanted, 1)
            );
            report.say_of(axis, Severity::Caution, message);
        }
    }
}

fn weak_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let chosen = &facts.picked.axes[axis];
    let (motor, end) = (chosen.motor.shaft(), chosen.drive.shaft());
    let wanted = greatest_torque(&chosen.motor) * COUPLING_SERVICE;
    let bears = chosen.coupling.torque;
    in_turn([
        couplings(facts, axis, |one| {
            joins(one, motor, end) && one.torque >= wanted
        }),
        other_motors(facts, axis, |other| {
            greatest_torque(other) * COUPLING_SERVICE <= bears
        }),
        other_screws(facts, axis, |_| true),
    ])
}

fn face(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let motor = &facts.picked.axes[axis].motor;
        let faces = &plan_of(facts.picked, axis).flanges;
        if !faces.contains(&motor.flange()) {
            let taken: Vec<&str> = faces.iter().map(|face| face.title()).collect();
            let message = format!(
                "{}: the motor has a face {}, the mount takes {}",
                axis.title(),
                motor.flange().title(),
                taken.join(", ")
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn face_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let kind = facts.picked.axes[axis].motor.kind();
    in_turn([
        other_motors(facts, axis, |motor| motor.kind() == kind),
        other_motors(facts, axis, |_| true),
        each_option(facts, "frame_plan"),
    ])
}

fn supported(facts: &Facts, axis: Axis, drive: &LinearDrive) -> bool {
    supports_lacking(facts.picked, *drive, axis).is_empty()
}

fn support(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let drives = screw_ends(facts, axis);
        let Some(drive) = drives.iter().find(|drive| !supported(facts, axis, drive)) else {
            continue;
        };
        let wanted = drive.screw().map(|screw| screw.support_bore);
        let lacking = supports_lacking(facts.picked, *drive, axis);
        let lacking: Vec<&str> = lacking.iter().map(|hold| hold.title()).collect();
        let message = format!(
            "{}: no support unit of {} bore is on offer for the {} of {}",
            axis.title(),
            say::bore(wanted.unwrap_or_default()),
            lacking.join(" and "),
            drive.part().title()
        );
        report.say_of(axis, Severity::Fault, message);
    }
}

fn support_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let now = facts.picked.axes[axis].drive;
    let same_sort = |other: &LinearDrive| {
        other.part().kind() == now.part().kind() && supported(facts, axis, other)
    };
    in_turn([
        other_screws(facts, axis, same_sort),
        other_screws(facts, axis, |other| supported(facts, axis, other)),
    ])
}

fn clamp(facts: &Facts, report: &mut Report) {
    let (spindle, clamp) = (facts.picked.spindle, facts.picked.clamp);
    if !same_size(spindle.body, clamp.bore) {
        let message = format!(
            "the clamp takes {}, the body of the spindle has {}",
            say::bore(clamp.bore),
            say::bore(spindle.body)
        );
        report.say(Severity::Fault, message);
    }
}

fn clamp_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let catalogue = facts.picked.catalogue;
    let fits = |id: &Id| {
        let clamp = catalogue.spindle_clamps.get(id);
        clamp.is_some_and(|one| same_size(one.bore, facts.picked.spindle.body))
    };
    let fitting = |id: &Id| {
        let spindle = catalogue.spindles.get(id);
        spindle.is_some_and(|one| same_size(one.body, facts.picked.clamp.bore))
    };
    in_turn([
        options_where(facts, "spindle_clamp", fits),
        options_where(facts, "spindle", fitting),
    ])
}
