//! Racks and belts: reduction, force, speed, and the pinion on its shaft.

use super::decided::MOTION;
use super::drive::working_force;
use super::fit::{other_drives, other_motors, other_screws, same_size};
use super::rapids::{limit, slower_wish};
use super::remedy::{in_turn, number, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::{LinearDrive, Motor, Step};
use crate::machine::limits::LimitName;
use crate::machine::stepper::STEPS_A_TURN;
use crate::units::{self, Length};
use crate::words::Words;

/// How far a stepper stands behind at half of its greatest torque, in full steps: its torque
/// goes with the sine of the lag, four full steps are a whole turn of it, and a half is the
/// sine of a twelfth of a turn (torque-angle curve of a two-phase stepper).
const LAG_STEPS: f64 = 4.0 / 12.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "rack-wants-reduction",
        title: "Rack or belt with too little reduction",
        severities: &[Severity::Caution],
        step: Step::Drive,
        watches: "How far a stepper on a rack or belt gives way under half of its torque, against the wanted accuracy.",
        because: "One turn of the motor moves the axis a hand's breadth: the small angle by which the motor gives way becomes a large error at the tool, and the thrust is low.",
        from: "A third of a full step at half of the greatest torque (torque-angle curve of a two-phase stepper); a full step is 1/200 turn.",
        instead: "Put a larger belt reduction between motor and pinion (3 to 5 is usual), or take a servo.",
        reads: &[Fact::Wishes, Fact::Drives, Fact::Motors],
        decided_by: Some(&["like_drives_a", "reduction", "motor_a"]),
        check: coarse,
        remedies: coarse_remedies,
        example: Example {
            given: &[("drive_x", "rack-m1")],
            choice: "reduction",
            fires: "1",
            quiet: "1.1",
        },
    },
    Rule {
        id: "reduction-without-rack",
        title: "A reduction that nothing uses",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "A reduction that is set while every axis has a screw.",
        because: "Screws are turned by their motors directly: the number has no effect, and misleads whoever reads the plan.",
        from: "Reductions sit before pinions and pulleys only (calculation).",
        instead: "Set the reduction to 1, or drive an axis by rack or belt.",
        reads: &[Fact::Drives],
        decided_by: Some(&["reduction", "drives_a"]),
        check: useless,
        remedies: useless_remedies,
        example: Example {
            given: &[],
            choice: "reduction",
            fires: "1.5",
            quiet: "1",
        },
    },
    Rule {
        id: "rack-or-belt-overloaded",
        title: "Rack or belt overloaded",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The thrust along each rack or belt in work, against what it bears.",
        because: "Teeth shear off, or the belt jumps: the axis loses its place in the middle of the cut.",
        from: "Cut, friction, weight and acceleration <= greatest force in the part's data, or what the teeth in mesh bear (belt makers' sheets).",
        instead: "Take a larger rack or a wider belt, or a screw.",
        reads: &[Fact::Wishes, Fact::Drives, Fact::Masses],
        decided_by: Some(&[MOTION]),
        check: overloaded,
        remedies: overloaded_remedies,
        example: Example {
            given: &[("drive_x", "rack-m1")],
            choice: "cutting_force_n",
            fires: "500",
            quiet: "460",
        },
    },
    Rule {
        id: "rack-or-belt-too-fast",
        title: "Rack or belt too fast",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The wanted rapids, against the greatest speed of each rack or belt.",
        because: "Above its speed a dry mesh heats and wears, and a belt flutters.",
        from: "Greatest speed in the part's data.",
        instead: "Set slower rapids in the controller, or take a drive that bears them.",
        reads: &[Fact::Wishes, Fact::Drives],
        decided_by: Some(&["drives_a"]),
        check: fast,
        remedies: fast_remedies,
        example: Example {
            given: &[("drive_x", "rack-m1.5")],
            choice: "rapid_wish_m_per_min",
            fires: "62",
            quiet: "58",
        },
    },
    Rule {
        id: "pinion-does-not-fit-shaft",
        title: "Pinion or pulley does not fit the motor",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The bore of a pinion or pulley that sits on the motor's shaft, without a reduction between them.",
        because: "A pinion on a thinner shaft runs out of true and works loose; on a thicker one it does not go at all.",
        from: "Bore = shaft; behind a reduction the reduction's own shaft carries the pinion.",
        instead: "Take a motor whose shaft fits, or put a reduction between them.",
        reads: &[Fact::Drives, Fact::Motors],
        decided_by: Some(&["drives_a", "motor_a", "reduction"]),
        check: pinion,
        remedies: pinion_remedies,
        example: Example {
            given: &[("drive_x", "belt-5m-15"), ("driver_x", "driver-110v-8a")],
            choice: "motor_x",
            fires: "stepper-23-3.0",
            quiet: "stepper-24-3.5",
        },
    },
];

/// Whether an axis has a rack or a belt.
fn toothed(facts: &Facts, axis: Axis) -> bool {
    !facts.picked.axes[axis].drive.is_screw()
}

/// How far an axis with a stepper gives way at half of its torque; none with servos, which
/// push back until they stand where they should.
fn gives_way(facts: &Facts, axis: Axis) -> Option<Length> {
    match facts.picked.axes[axis].motor {
        Motor::Stepper(_) => {
            Some(facts.machine.axes[axis].drive.travel_a_turn / STEPS_A_TURN * LAG_STEPS)
        }
        Motor::Servo(_) => None,
    }
}

/// How far a rack or belt gives way, where that is more than the wanted accuracy.
pub(super) fn too_coarse(facts: &Facts, axis: Axis) -> Option<Length> {
    let gives = toothed(facts, axis)
        .then(|| gives_way(facts, axis))
        .flatten()?;
    (gives > facts.picked.build.area.tolerance).then_some(gives)
}

fn coarse(facts: &Facts, report: &mut Report) {
    let wanted = facts.picked.build.area.tolerance;
    for axis in Axis::EACH {
        let Some(gives) = too_coarse(facts, axis) else {
            continue;
        };
        let [gives, wanted] = say::lengths(gives, wanted, 3);
        let with = match direct(facts) {
            true => " without a reduction".to_owned(),
            false => {
                let reduction = units::share::from(facts.picked.build.drive.reduction);
                format!(" even with a reduction of {}", say::at_most(reduction, 1))
            }
        };
        let message = format!(
            "{}: {} of travel per turn{with}, so the stepper gives way by {gives} at half its torque; you want {wanted}",
            axis.title(),
            say::mm(facts.machine.axes[axis].drive.travel_a_turn, 1),
        );
        report.say_of(axis, Severity::Caution, message);
    }
}

fn coarse_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let Some(gives) = gives_way(facts, axis) else {
        return Vec::new();
    };
    let now = units::share::from(facts.picked.build.drive.reduction);
    let least = now * units::mm::from(gives) / units::mm::from(facts.picked.build.area.tolerance);
    in_turn([
        // Three to one is what pushes well besides; more only where the accuracy wants it.
        number(facts, "reduction", least.max(3.0), true),
        number(facts, "reduction", least, true),
        other_motors(facts, axis, |motor| matches!(motor, Motor::Servo(_))),
        other_screws(facts, axis, |_| true),
    ])
}

fn useless(facts: &Facts, report: &mut Report) {
    let reduction = units::share::from(facts.picked.build.drive.reduction);
    let used = Axis::EACH
        .iter()
        .flat_map(|&axis| facts.picked.drives(axis))
        .any(|one| !one.is_screw());
    if reduction > 1.0 && !used {
        let message = format!(
            "a reduction of {} is set, but every axis has a screw",
            say::at_most(reduction, 1)
        );
        report.say(Severity::Hint, message);
    }
}

fn useless_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    set(facts, "reduction", "1")
}

fn overloaded(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH.into_iter().filter(|&axis| toothed(facts, axis)) {
        let (work, bears) = (
            working_force(facts, axis),
            facts.machine.axes[axis].drive.greatest_force,
        );
        if work > bears {
            let message = format!(
                "{}: {} in work, the drive bears {} ({})",
                axis.title(),
                say::newtons(work),
                say::newtons(bears),
                facts.picked.axes[axis].drive.part().title()
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn overloaded_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let work = working_force(facts, axis);
    let bears = units::n::from(facts.machine.axes[axis].drive.greatest_force);
    let besides = units::n::from(work - facts.picked.build.area.cutting_force);
    let stronger = |other: &LinearDrive| match other {
        LinearDrive::Rack(rack) => rack.force >= work,
        LinearDrive::Belt(belt) => belt.force >= work,
        LinearDrive::Ball(_) | LinearDrive::Lead(_) => false,
    };
    in_turn([
        other_drives(facts, axis, stronger),
        other_screws(facts, axis, |_| true),
        number(facts, "cutting_force_n", bears - besides, false),
    ])
}

fn fast(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let wish = facts.picked.build.area.wanted_rapids(axis);
        let track = limit(&facts.machine.axes[axis], LimitName::Track);
        let Some(speed) = track.filter(|speed| wish > *speed) else {
            continue;
        };
        let [speed, wish] = say::feeds(speed, wish);
        let message = format!(
            "{}: you want {wish}, the drive bears {speed} ({})",
            axis.title(),
            facts.picked.axes[axis].drive.part().title()
        );
        report.say_of(axis, Severity::Fault, message);
    }
}

fn fast_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    in_turn([
        slower_wish(facts, axis, |figures| limit(figures, LimitName::Track)),
        other_drives(facts, axis, |other| matches!(other, LinearDrive::Belt(_))),
    ])
}

fn direct(facts: &Facts) -> bool {
    facts.picked.build.drive.reduction <= units::share::of(1.0)
}

fn pinion(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let shaft = facts.picked.axes[axis].motor.shaft();
        for drive in facts.picked.drives(axis) {
            if drive.is_screw() || !direct(facts) || same_size(drive.shaft(), shaft) {
                continue;
            }
            let message = format!(
                "{}: the pinion or pulley has a bore of {}, the motor's shaft is {}",
                axis.title(),
                say::bore(drive.shaft()),
                say::bore(shaft)
            );
            report.say_of(axis, Severity::Fault, message);
            break;
        }
    }
}

fn pinion_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let chosen = &facts.picked.axes[axis];
    in_turn([
        other_motors(facts, axis, |motor| {
            same_size(motor.shaft(), chosen.drive.shaft())
        }),
        set(facts, "reduction", "3"),
        other_drives(facts, axis, |other| {
            !other.is_screw() && same_size(other.shaft(), chosen.motor.shaft())
        }),
    ])
}
