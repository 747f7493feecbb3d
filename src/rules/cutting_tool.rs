//! The usual tool and what holds it: whether the collet takes the shank and runs true, and
//! whether the bearings suit the material.

use super::remedy::{each_option, in_turn, number, part_of};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::material::Family;
use crate::catalogue::spindle::Bearings;
use crate::machine::cutting::wanted::tooth_takes;
use crate::order::Order as _;
use crate::units;
use crate::words::Words;

/// Share of what a tooth takes that runout may be (common practice).
const WOBBLE: f64 = 0.5;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "shank-collet",
        title: "Tool shank does not fit the collet",
        severities: &[Severity::Danger],
        step: Step::Spindle,
        watches: "The usual tool's shank against the collets that the spindle takes, in size and in system.",
        because: "A collet grips only a little below its marked size: a shank outside that range, such as an inch shank in a metric collet, is held by an edge, and can fly out.",
        from: "Largest shank by the spindle's data; nominal sizes by DIN ISO 15488 (collets).",
        instead: "Take a tool whose shank has a collet, or a spindle with a larger one.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "tool"]),
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
        decided_by: Some(&["spindle"]),
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
    Rule {
        id: "runout-eats-chip",
        title: "Runout eats into what a tooth takes",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "The runout of the spindle's collet, against the feed per tooth of the usual tool, where it has more than one.",
        because: "A tool that runs out cuts with one tooth more than with the others, or with one alone: it dulls early, and a thin one breaks.",
        from: "Runout > half of feed / (flutes · rpm): one tooth then takes half as much again (common practice, from memory); runout by the spindle's data.",
        instead: "Feed faster, turn slower, take a tool with fewer flutes, or a spindle that runs truer.",
        reads: &[Fact::Wishes, Fact::Spindle],
        decided_by: Some(&["spindle", "spindle_speed_rpm", "tool"]),
        check: wobbles,
        remedies: steadier,
        example: Example {
            given: &[],
            choice: "cutting_feed_m_per_min",
            fires: "0.35",
            quiet: "0.4",
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
                say::at_most(shank, 3),
                say::at_most(largest, 3)
            ),
        );
    } else if !spindle.shanks.contains(&tool.system) {
        let system = tool.system.title();
        report.say(
            Severity::Danger,
            format!(
                "the tool has a shank of {} mm, {system}: this spindle has no {system} collets",
                say::at_most(shank, 3)
            ),
        );
    }
}

/// Other tools, those nearest in diameter to the usual one first.
pub(super) fn other_tools(facts: &Facts) -> Remedies {
    let now = units::um::from(facts.picked.tool.diameter);
    let mut found = each_option(facts, "tool");
    found.order_by_key(|edits| {
        let tool = edits
            .first()
            .and_then(|edit| part_of(edit, &facts.picked.catalogue.end_mills));
        tool.map(|tool| (units::um::from(tool.diameter) - now).abs() as u64)
    });
    found
}

fn fitting_tool(facts: &Facts, _: Option<Axis>) -> Remedies {
    let tool = facts.picked.tool;
    in_turn([
        other_tools(facts),
        other_spindles(facts, |spindle| spindle.takes(tool)),
    ])
}

fn bearings(facts: &Facts, report: &mut Report) {
    let metals = facts.wishes_for(Family::Metal);
    if facts.picked.spindle.bearings == Bearings::DeepGroove && !metals.is_empty() {
        let names: Vec<&str> = metals.iter().map(|metal| metal.title.as_str()).collect();
        report.say(
            Severity::Caution,
            format!(
                "{} wanted, but the spindle's deep-groove bearings are made for wood",
                say::list(&names)
            ),
        );
    }
}

fn wobbles(facts: &Facts, report: &mut Report) {
    let (tool, runout) = (facts.picked.tool, facts.picked.spindle.runout);
    let takes = tooth_takes(facts.picked);
    if tool.flutes > 1 && runout > takes * WOBBLE {
        report.say(
            Severity::Caution,
            format!(
                "the collet runs out {} µm, a tooth takes {} µm: one tooth does most of the work",
                say::at_most(units::um::from(runout), 0),
                say::at_most(units::um::from(takes), 0)
            ),
        );
    }
}

fn steadier(facts: &Facts, _: Option<Axis>) -> Remedies {
    let build = facts.picked.build;
    let share =
        units::times::from(facts.picked.spindle.runout / (tooth_takes(facts.picked) * WOBBLE));
    let slower = units::rpm::from(build.spindle.speed) / share;
    let faster = units::m_per_min::from(build.area.cutting_feed) * share;
    let now = facts.picked.spindle.runout;
    in_turn([
        number(facts, "spindle_speed_rpm", slower, false),
        number(facts, "cutting_feed_m_per_min", faster, true),
        other_tools(facts),
        other_spindles(facts, |spindle| spindle.runout < now),
    ])
}
