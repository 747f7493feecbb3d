//! Rails and screws whose length is typed because they are in hand, while the bill buys them.

use super::remedy::set;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, say};
use crate::build::Axis;
use crate::build::value::NONE;
use crate::catalogue::{Id, Part as _, Step};
use crate::units::Length;
use crate::words::Words as _;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[Rule {
    id: "length-without-part",
    title: "Length in hand, part to be bought",
    severities: &[Severity::Hint],
    step: Step::Drive,
    watches: "Rails and screws whose length in hand is typed, against what the bill has in hand.",
    because: "The plan takes the length as it is, and the bill buys the part: either nobody marked it as in hand, or the length is of a part that was chosen before.",
    from: "A length is typed, nothing of the part is in hand, and it is still to be ordered (calculation).",
    instead: "Say on the bill how much of it is in hand, or take the length back, so that it is cut to need.",
    reads: &[Fact::Bill, Fact::Guides, Fact::Drives],
    decided_by: Some(&[
        "guide_a",
        "rail_length_a_mm",
        "drives_a",
        "screw_length_a_mm",
    ]),
    check,
    remedies,
    example: Example {
        given: &[],
        choice: "screw_length_x_mm",
        fires: "800",
        quiet: "none",
    },
}];

/// A length that was typed for a part in hand.
struct Typed<'c> {
    choice: &'static str,
    what: &'static str,
    length: Length,
    part: &'c Id,
}

/// The lengths of an axis whose part is bought all the same.
fn without_part<'c>(facts: &Facts<'c>, axis: Axis) -> Vec<Typed<'c>> {
    let (drive, own) = (&facts.picked.build.drive, &facts.picked.axes[axis]);
    let rail = drive.rail_length[axis].map(|length| Typed {
        choice: "rail_length",
        what: "rail",
        length,
        part: own.rail.id(),
    });
    let screw = drive.screw_length[axis].map(|length| Typed {
        choice: "screw_length",
        what: "screw",
        length,
        part: own.drive.part().id(),
    });
    let is_bought = |typed: &Typed| {
        let line = facts.bill.line(typed.part.as_str());
        line.is_some_and(|line| line.have.is_zero() && line.is_to_order())
    };
    rail.into_iter().chain(screw).filter(is_bought).collect()
}

fn check(facts: &Facts, report: &mut Report) {
    for axis in Axis::EACH {
        let each = without_part(facts, axis);
        let each = each
            .iter()
            .map(|typed| format!("{} of {}", say::mm(typed.length, 0), typed.what));
        let each: Vec<String> = each.collect();
        if !each.is_empty() {
            let lengths = each.join(" and ");
            let message = format!(
                "{}: {lengths} in hand, and all of it is bought",
                axis.title()
            );
            report.say_of(axis, Severity::Hint, message);
        }
    }
}

fn remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    let Some(axis) = axis else { return Vec::new() };
    let each = without_part(facts, axis).into_iter();
    each.flat_map(|typed| set(facts, &(axis.choice(typed.choice) + "_mm"), NONE))
        .collect()
}
