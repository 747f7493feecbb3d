//! The usual tool and what holds it: whether the collet takes the shank, and whether the
//! bearings suit the material.

use super::remedy::{each_option, part_of};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::material::Family;
use crate::catalogue::spindle::Bearings;
use crate::units;
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "shank-collet",
        title: "Tool shank does not fit the collet",
        severities: &[Severity::Danger],
        step: Step::Spindle,
        watches: "The usual tool's shank against the collets that the spindle takes, in size and in system.",
        because: "A collet closes on its own size only: an inch shank in a metric one is held by an edge, and flies out.",
        from: "Largest shank by the spindle's data; nominal sizes by DIN ISO 15488 (collets).",
        instead: "Take a tool whose shank has a collet, or a spindle with a larger one.",
        reads: &[Fact::Spindle],
        check: shank,
        remedies: fitting_tool,
        example: Example {
            given: &[],
            choice: "tool",
            fires: "mill-12mm-2f",
            quiet: "mill-10mm-2f",
        },
    },
    Rule {
        id: "bearing-for-side-load",
        title: "Bearings made for wood",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "Deep-groove bearings in a spindle that is to mill metal.",
        because: "They have play and take little load along the axis: the tool chatters, and the bearings wear out.",
        from: "Bearing makers' handbooks: preloaded angular-contact pairs for side and axial load.",
        instead: "Take a spindle with angular-contact bearings, or leave metal out.",
        reads: &[Fact::Spindle, Fact::Wishes],
        check: bearings,
        remedies: |facts, _| {
            other_spindles(facts, |spindle| {
                spindle.bearings == Bearings::AngularContact
            })
        },
        example: Example {
            given: &[("materials", "aluminium-6082")],
            choice: "spindle",
            fires: "spindle-0.8kw-air",
            quiet: "spindle-0.8kw-water",
        },
    },
];

fn shank(facts: &Facts, report: &mut Report) {
    let (tool, spindle) = (facts.picked.tool, facts.picked.spindle);
    let (shank, largest) = (
        units::mm::from(tool.shank),
        units::mm::from(spindle.largest_shank),
    );
    if shank > largest + 0.01 {
        report.say(
            Severity::Danger,
            format!(
                "the tool's shank is {} mm, the largest collet takes {} mm",
                say::trimmed(shank, 3),
                say::trimmed(largest, 3)
            ),
        );
    } else if !spindle.shanks.contains(&tool.system) {
        let system = tool.system.title();
        report.say(
            Severity::Danger,
            format!(
                "the tool has a shank of {} mm, {system}: this spindle has no {system} collets",
                say::trimmed(shank, 3)
            ),
        );
    }
}

/// Other tools, those nearest in diameter to the usual one first.
pub(super) fn other_tools(facts: &Facts) -> Remedies {
    let now = units::um::from(facts.picked.tool.diameter);
    let mut found = each_option(facts, "tool");
    found.sort_by_key(|edits| {
        let tool = edits
            .first()
            .and_then(|edit| part_of(edit, &facts.picked.catalogue.end_mills));
        tool.map(|tool| (units::um::from(tool.diameter) - now).abs() as u64)
    });
    found
}

fn fitting_tool(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = other_tools(facts);
    let tool = facts.picked.tool;
    found.extend(other_spindles(facts, |spindle| {
        spindle.largest_shank >= tool.shank && spindle.shanks.contains(&tool.system)
    }));
    found
}

fn bearings(facts: &Facts, report: &mut Report) {
    let metals = facts.wishes_for(Family::Metal);
    if facts.picked.spindle.bearings == Bearings::DeepGroove && !metals.is_empty() {
        let names: Vec<&str> = metals.iter().map(|metal| metal.title.as_str()).collect();
        report.say(
            Severity::Caution,
            format!(
                "{} wished, but the spindle's deep-groove bearings are made for wood",
                say::list(&names)
            ),
        );
    }
}
