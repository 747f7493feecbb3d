//! Balance: whether the money is spent evenly over the axes.

use super::remedy::each_option;
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, Edit, Value};
use crate::catalogue::{LinearDrive, Step};
use crate::order::Order as _;
use crate::words::Words;

/// An axis whose rapids are below this share of the other one's lags (common practice).
const LAGS: f64 = 1.0 / 3.0;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[Rule {
    id: "one-axis-lags",
    title: "One axis far slower than the other",
    severities: &[Severity::Hint],
    step: Step::Drive,
    watches: "Rapids of X and Y against each other; Z is slower by custom and left out.",
    because: "Every diagonal move goes at the pace of the slow one: what the fast one cost is wasted.",
    from: "Rapids below a third of the other's: common practice.",
    instead: "Put the money into the slow axis, or save on the fast one.",
    reads: &[Fact::Axes],
    decided_by: None,
    check: lags,
    remedies: catch_up,
    example: Example {
        given: &[],
        choice: "drive_y",
        fires: "lead-screw-10x2",
        quiet: "ball-screw-16x5",
    },
}];

fn lags(facts: &Facts, report: &mut Report) {
    let axes = &facts.machine.axes;
    for axis in Axis::EACH {
        let other = match axis {
            Axis::X => Axis::Y,
            Axis::Y => Axis::X,
            Axis::Z => continue,
        };
        if axes[axis].rapid < axes[other].rapid * LAGS {
            report.say_of(
                axis,
                Severity::Hint,
                format!(
                    "{}: {} against {} of {}; {} holds it back",
                    axis.title(),
                    say::feed(axes[axis].rapid),
                    say::feed(axes[other].rapid),
                    other.title(),
                    axes[axis].limited_by.title()
                ),
            );
        }
    }
}

fn catch_up(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let choices = ["drive", "ends", "motor", "driver"];
    let mut found: Remedies = choices
        .iter()
        .flat_map(|choice| each_option(facts, &axis.choice(choice)))
        .collect();
    // A drive of the same kind needs no other mount, another screw little: those first.
    found.order_by_key(|edits| {
        edits
            .iter()
            .map(|edit| strangeness(facts, axis, edit))
            .max()
    });
    found
}

/// How far an edit strays from what an axis has: 0 for the same kind of drive, 1 for another
/// screw and for other choices, 2 for another principle.
fn strangeness(facts: &Facts, axis: Axis, edit: &Edit) -> u8 {
    let Value::Part(Some(id)) = &edit.value else {
        return 1;
    };
    let Some(drive) = LinearDrive::of(facts.picked.catalogue, id.as_str()) else {
        return 1;
    };
    let now = facts.picked.axes[axis].drive;
    let same_kind = drive.part().kind() == now.part().kind();
    match (same_kind, drive.is_screw() == now.is_screw()) {
        (true, _) => 0,
        (false, true) => 1,
        (false, false) => 2,
    }
}
