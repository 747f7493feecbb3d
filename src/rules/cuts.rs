//! The cuts that are meant: whether the machine can take them, has the power for them, and
//! keeps quiet over them.

use std::f64::consts::SQRT_2;

use super::remedy::{in_turn, number, options_where};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, Edit, Value, choices};
use crate::catalogue::material::Material;
use crate::catalogue::{Id, Step};
use crate::machine::cutting::wanted::{Wanted, power_at_hand, tooth_passing, turns_for_passing};
use crate::machine::cutting::{Cut, CutLimit, Verdict};
use crate::units::{self, Power};
use crate::words::Words;

/// Teeth against the first mode: from 0.7 of it a spring and mass swing about twice as far as
/// under a steady force, 1/(1 - 0.7²); from √2 of it they swing less than that (any handbook
/// of mechanical vibration).
const NEAR: (f64, f64) = (0.7, SQRT_2);

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "material-out-of-reach",
        title: "A wanted material hardly goes, or not at all",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The verdict on each wanted material with the tool that suits it best, of those that the collet takes.",
        because: "The tool would rub, bend, break or chatter: hours for a small part, or none at all.",
        from: "Slot below 0.4 of the trade's usual depth, or a collet softer than the material wants; common practice, from memory. Chatter itself is not modelled.",
        instead: "Lift what holds it back, or leave that material out.",
        reads: &[Fact::Wishes, Fact::Spindle, Fact::Axes, Fact::Frame],
        decided_by: None,
        check: out_of_reach,
        remedies: within_reach,
        example: Example {
            given: &[],
            choice: "materials",
            fires: "softwood,mild-steel",
            quiet: "softwood",
        },
    },
    Rule {
        id: "cut-needs-more-power",
        title: "The usual cut asks more power than there is",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "Power of a slot of usual depth with the usual tool, speed and feed in each wanted material, against the spindle's at that speed.",
        because: "The spindle slows down, the chip gets thicker, and the tool stalls or breaks.",
        from: "k_c · depth · diameter · feed > the lesser of torque · speed and your cap; specific forces by Kienzle's law, of wood typical values.",
        instead: "Feed slower, turn nearer the rated speed, raise your cap, or take a stronger spindle.",
        reads: &[Fact::Wishes, Fact::Spindle],
        decided_by: Some(&["spindle", "spindle_speed_rpm", "power_cap_percent", "tool"]),
        check: too_weak,
        remedies: stronger,
        example: Example {
            given: &[
                ("materials", "mdf"),
                ("spindle", "router-710w-230"),
                ("tool", "mill-8mm-2f"),
            ],
            choice: "cutting_feed_m_per_min",
            fires: "4.6",
            quiet: "4.3",
        },
    },
    Rule {
        id: "first-mode-in-cut-range",
        title: "Teeth strike near the frame's first mode",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "How often a tooth of the usual tool strikes at the usual speed, against the first bending mode of the frame.",
        because: "Each strike swings the frame further: the cut gets rough and loud, and the tool chips.",
        from: "0.7 < (rpm · flutes/60)/first mode < √2, where a spring and mass swing further than under a steady force; handbooks of mechanical vibration.",
        instead: "Turn faster or slower, or take a tool with other flutes.",
        reads: &[Fact::Spindle, Fact::Frame, Fact::Masses],
        decided_by: None,
        check: in_step,
        remedies: out_of_step,
        example: Example {
            given: &[],
            choice: "spindle_speed_rpm",
            fires: "3500",
            quiet: "4000",
        },
    },
];

/// Wished materials that go hardly or not at all, with the slot that goes best.
fn beyond<'a>(facts: &Facts<'a>) -> impl Iterator<Item = (&'a Material, &'a Cut)> {
    let cutting = &facts.machine.cutting;
    let wished = facts.picked.materials.iter().copied();
    wished.filter_map(move |material| {
        let slot = cutting.outlook(&material.id)?;
        (slot.verdict <= Verdict::Hardly).then_some((material, slot))
    })
}

/// What would lift a limit, in plain words.
fn lift(limit: CutLimit) -> &'static str {
    match limit {
        CutLimit::Power => "a stronger spindle helps",
        CutLimit::Thrust => "stronger motors or a shorter lead help",
        CutLimit::Stiffness | CutLimit::Chatter => "only a stiffer frame helps",
        CutLimit::ToolBending => "a shorter or thicker tool helps",
        CutLimit::Speed => "a spindle that may turn slower helps",
        CutLimit::Feed => "faster axes help",
        CutLimit::Habit | CutLimit::Flutes => "another tool helps",
    }
}

fn out_of_reach(facts: &Facts, report: &mut Report) {
    for (material, slot) in beyond(facts) {
        let verdict = match slot.verdict {
            Verdict::No => "does not go",
            _ => "hardly goes",
        };
        report.say(
            Severity::Caution,
            format!(
                "{} {verdict}, held by {} even with a {} tool: {}",
                material.title,
                slot.limited_by.title(),
                say::bore(slot.diameter),
                lift(slot.limited_by)
            ),
        );
    }
}

/// Tubes for the beam, the nearest larger ones first, where the frame is too soft; other
/// spindles where they hold it back; at last, leaving the material out.
fn within_reach(facts: &Facts, _: Option<Axis>) -> Remedies {
    let Some((_, slot)) = beyond(facts).next() else {
        return Vec::new();
    };
    let spindle = facts.picked.spindle;
    let lifted = match slot.limited_by {
        CutLimit::Power => other_spindles(facts, |other| other.power > spindle.power),
        CutLimit::Speed => other_spindles(facts, |other| other.least_speed < spindle.least_speed),
        CutLimit::Stiffness | CutLimit::Chatter => larger_beams(facts),
        _ => Vec::new(),
    };
    in_turn([lifted, without_those(facts)])
}

pub(super) fn larger_beams(facts: &Facts) -> Remedies {
    let now = facts.picked.beam_tube;
    let tubes = &facts.picked.catalogue.tubes;
    options_where(facts, "beam_tube", |id| {
        tubes.get(id).is_some_and(|tube| tube.height > now.height)
    })
}

/// The wishes without those that are beyond; where nothing is left to wish for, that is no remedy:
/// most warnings are silent about a machine that cuts nothing.
fn without_those(facts: &Facts) -> Remedies {
    let Ok(choice) = choices::find("materials") else {
        return Vec::new();
    };
    let beyond: Vec<&Material> = beyond(facts).map(|(material, _)| material).collect();
    let wished = facts.picked.materials.iter();
    let kept = wished.filter(|material| beyond.iter().all(|other| other.id != material.id));
    let kept: Vec<Id> = kept.map(|material| material.id).collect();
    if kept.is_empty() {
        return Vec::new();
    }
    let value = Value::Parts(kept);
    vec![vec![Edit { choice, value }]]
}

/// The wished material whose usual cut asks most power.
fn hungriest<'a>(facts: &Facts<'a>) -> Option<(&'a Material, Wanted)> {
    let wished = facts.picked.materials.iter().copied();
    let each = wished.map(|material| (material, Wanted::of(facts.picked, material)));
    each.max_by(|(_, a), (_, b)| a.power.value.total_cmp(&b.power.value))
}

fn too_weak(facts: &Facts, report: &mut Report) {
    let Some((material, wanted)) = hungriest(facts) else {
        return;
    };
    let there: Power = power_at_hand(facts.picked);
    if wanted.power > there {
        report.say(
            Severity::Caution,
            format!(
                "{}: a slot {} deep at {} asks {}, the spindle gives {} at {}",
                material.title,
                say::mm(wanted.depth, 1),
                say::feed(wanted.feed),
                say::watts(wanted.power),
                say::watts(there),
                say::rpm(facts.picked.build.spindle.speed)
            ),
        );
    }
}

fn stronger(facts: &Facts, _: Option<Axis>) -> Remedies {
    let Some((material, wanted)) = hungriest(facts) else {
        return Vec::new();
    };
    let picked = facts.picked;
    let feed = wanted.feed_for(material, power_at_hand(picked));
    let rated = units::rpm::from(picked.spindle.rated_speed);
    let cap = units::percent::from(wanted.power / picked.spindle.power);
    let feed = units::m_per_min::from(feed);
    in_turn([
        number(facts, "cutting_feed_m_per_min", feed, false),
        number(facts, "spindle_speed_rpm", rated, false),
        number(facts, "power_cap_percent", cap, true),
        other_spindles(facts, |other| other.power > picked.spindle.power),
    ])
}

fn in_step(facts: &Facts, report: &mut Report) {
    let (strikes, mode) = (
        tooth_passing(facts.picked),
        facts.machine.stiffness.first_mode,
    );
    let (low, high) = NEAR;
    if strikes > mode * low && strikes < mode * high {
        report.say(
            Severity::Caution,
            format!(
                "a tooth strikes at {:.0} Hz ({}, {}), the frame's first mode lies at {:.0} Hz",
                units::hz::from(strikes),
                say::rpm(facts.picked.build.spindle.speed),
                say::count(facts.picked.tool.flutes, "flute"),
                units::hz::from(mode)
            ),
        );
    }
}

fn out_of_step(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mode = facts.machine.stiffness.first_mode;
    let speed = |share: f64| units::rpm::from(turns_for_passing(facts.picked, mode * share));
    in_turn([
        number(facts, "spindle_speed_rpm", speed(NEAR.1), true),
        number(facts, "spindle_speed_rpm", speed(NEAR.0), false),
        super::cutting_tool::other_tools(facts),
    ])
}
