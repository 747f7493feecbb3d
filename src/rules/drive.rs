//! What each axis does with its drive: how fast, how hard, how exactly.

use super::decided::CUT;
use super::fit::{greatest_torque, other_motors, other_screws};
use super::remedy::{in_turn, number, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::build::value::NONE;
use crate::catalogue::{LinearDrive, Step};
use crate::machine::axis::AxisFigures;
use crate::units::{self, Acceleration, Force};
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "thrust-too-low",
        title: "Too little thrust",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "The thrust of each axis at the cutting feed, margin kept, against cutting force and acceleration.",
        because: "An axis that is out-pushed by the cut loses steps, and the part is scrap.",
        from: "Thrust at the used share of torque, friction and weight taken off; a share of one half keeps the usual margin of two (common practice).",
        instead: "Take a stronger motor, a shorter lead, a slower feed or lighter cuts.",
        reads: &[Fact::Wishes, Fact::Axes, Fact::Masses, Fact::Motors],
        decided_by: Some(CUT),
        check: thrust,
        remedies: thrust_remedies,
        example: Example {
            given: &[],
            choice: "cutting_force_n",
            fires: "460",
            quiet: "400",
        },
    },
    Rule {
        id: "leads-differ-on-a-pair",
        title: "Two different drives on one gantry",
        severities: &[Severity::Fault],
        step: Step::Drive,
        watches: "Travel per turn and accuracy class of the two Y drives.",
        because: "Both sides get the same pulses: different leads tear the gantry askew within a finger's breadth, different classes within a metre.",
        from: "Same lead, and same travel error over 300 mm (ISO 3408-3), on both sides (common practice).",
        instead: "Take the same drive on both sides.",
        reads: &[Fact::Drives],
        decided_by: Some(&["drive_y", "drive_y2", "gantry_drive"]),
        check: pair,
        remedies: pair_remedies,
        example: Example {
            given: &[],
            choice: "drive_y2",
            fires: "ball-screw-16x5",
            quiet: "ball-screw-16x10",
        },
    },
    Rule {
        id: "second-drive-unused",
        title: "A second Y drive without its motor",
        severities: &[Severity::Hint],
        step: Step::Drive,
        watches: "A second Y drive that is chosen while one drive in the centre moves the gantry.",
        because: "It is neither bought nor used: the choice misleads whoever reads the plan.",
        from: "A drive in the centre has one motor (calculation).",
        instead: "Drive each side of the gantry, or leave the second drive out.",
        reads: &[Fact::Drives],
        decided_by: Some(&["drive_y2", "gantry_drive"]),
        check: unused,
        remedies: unused_remedies,
        example: Example {
            given: &[("gantry_drive", "centre")],
            choice: "drive_y2",
            fires: "ball-screw-16x10",
            quiet: "none",
        },
    },
];

/// Thrust along a drive in work: the cut, friction, weight, and what speeds the mass up.
pub(super) fn working_force(facts: &Facts, axis: Axis) -> Force {
    let figures = &facts.machine.axes[axis];
    let area = &facts.picked.build.area;
    area.cutting_force * figures.tool_share
        + figures.friction
        + figures.weight
        + figures.carried_mass * area.acceleration
}

/// Force on the tool that would load the most burdened motor as much as speeding up what it
/// moves and turns.
fn speeding_up(figures: &AxisFigures, acceleration: Acceleration) -> Force {
    figures.inert_mass * acceleration / figures.tool_share
}

fn thrust(facts: &Facts, report: &mut Report) {
    let area = &facts.picked.build.area;
    for axis in Axis::EACH {
        let figures = &facts.machine.axes[axis];
        let wanted = area.cutting_force + speeding_up(figures, area.acceleration);
        if figures.thrust < wanted {
            let message = format!(
                "{}: thrust of {} at {}, margin kept; cut and acceleration take {}",
                axis.title(),
                say::newtons(figures.thrust),
                say::feed(area.wanted_feed(axis)),
                say::newtons(wanted)
            );
            report.say_of(axis, Severity::Fault, message);
        }
    }
}

fn thrust_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let chosen = &facts.picked.axes[axis];
    let lead = chosen.drive.travel_a_turn();
    let torque = greatest_torque(&chosen.motor);
    let area = &facts.picked.build.area;
    let feed = units::m_per_min::from(area.cutting_feed);
    let slower =
        [0.75, 0.5, 0.25].map(|share| number(facts, "cutting_feed_m_per_min", feed * share, false));
    let figures = facts.machine.axes.iter();
    let spare = figures.map(|(_, axis)| axis.thrust - speeding_up(axis, area.acceleration));
    let lightest = spare.map(units::n::from).fold(f64::INFINITY, f64::min);
    in_turn([
        other_motors(facts, axis, |other| greatest_torque(other) > torque),
        other_screws(facts, axis, |other| other.travel_a_turn() < lead),
        in_turn(slower),
        number(facts, "cutting_force_n", lightest, false),
    ])
}

/// Travel error over 300 mm of a ball screw, in micrometres.
fn travel_error(drive: &LinearDrive) -> Option<f64> {
    match drive {
        LinearDrive::Ball(screw) => Some(units::um::from(screw.travel_error)),
        _ => None,
    }
}

fn pair(facts: &Facts, report: &mut Report) {
    let drives = facts.picked.drives(Axis::Y);
    let [first, second] = drives.as_slice() else {
        return;
    };
    let (one, other) = (first.travel_a_turn(), second.travel_a_turn());
    let apart = units::mm::from(one) - units::mm::from(other);
    let message = if apart.abs() > 1e-6 {
        format!(
            "Y: {} of travel per turn on one side, {} on the other",
            say::mm(one, 2),
            say::mm(other, 2)
        )
    } else if let (Some(a), Some(b)) = (travel_error(first), travel_error(second))
        && (a - b).abs() > 1e-6
    {
        format!("Y: travel error of {a:.0} µm over 300 mm on one side, {b:.0} µm on the other")
    } else {
        return;
    };
    report.say_of(Axis::Y, Severity::Fault, message);
}

fn pair_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let second = facts.picked.second_drive.part().id().as_str();
    in_turn([
        set(facts, "drive_y2", NONE),
        set(facts, &Axis::Y.choice("drive"), second),
    ])
}

fn unused(facts: &Facts, report: &mut Report) {
    let motion = &facts.picked.build.drive;
    if let Some(second) = &motion.second_drive
        && facts.picked.motors(Axis::Y) < 2
    {
        let title = facts.picked.second_drive.part().title();
        let message = format!(
            "Y: {title} ({second}) is chosen for the other side, but 1 motor drives the centre"
        );
        report.say_of(Axis::Y, Severity::Hint, message);
    }
}

fn unused_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    in_turn([
        set(facts, "drive_y2", NONE),
        set(facts, "gantry_drive", "each-side"),
    ])
}
