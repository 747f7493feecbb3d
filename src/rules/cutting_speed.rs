//! The usual speed: whether the spindle bears it, and whether the edge cuts rather than rubs
//! or burns.

use super::cutting_tool::other_tools;
use super::remedy::{in_turn, number};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::material::{Family, Material};
use crate::machine::cutting::chip::{edge_speed, turns_for};
use crate::machine::cutting::wanted::tooth_takes;
use crate::units::{self, AngularVelocity, Length, Velocity};
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "spindle-overspeed",
        title: "Usual speed above the spindle's greatest",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "The usual speed against the spindle's greatest.",
        because: "The spindle never gets there, and bearings and balance are not made for it.",
        from: "Usual speed > greatest speed of the spindle's data.",
        instead: "Set a lower usual speed.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "spindle_speed_rpm"]),
        check: too_fast,
        remedies: |facts, _| turn(facts, facts.picked.spindle.greatest_speed, false),
        example: Example {
            given: &[],
            choice: "spindle_speed_rpm",
            fires: "24500",
            quiet: "24000",
        },
    },
    Rule {
        id: "below-minimum-speed",
        title: "Usual speed below what cools the spindle",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "The usual speed against the slowest for lasting use.",
        because: "A fan on the shaft slows down with it, and the winding gets hot.",
        from: "Usual speed < slowest lasting speed of the spindle's data.",
        instead: "Turn faster, or take a water-cooled spindle that may turn slower.",
        reads: &[Fact::Spindle],
        decided_by: Some(&["spindle", "spindle_speed_rpm"]),
        check: too_slow,
        remedies: faster,
        example: Example {
            given: &[],
            choice: "spindle_speed_rpm",
            fires: "9500",
            quiet: "10000",
        },
    },
    Rule {
        id: "edge-too-fast",
        title: "Cutting edge too fast for the material",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "The edge's speed at the usual turns against each wanted material, where the spindle could turn slower.",
        because: "Too fast an edge burns wood, melts plastic and dulls at once in metal.",
        from: "v = π · diameter · rpm > the material's greatest usual cutting speed; cutter makers' tables.",
        instead: "Lower the usual speed, or take a thinner tool.",
        reads: &[Fact::Spindle, Fact::Wishes],
        decided_by: Some(&["spindle", "spindle_speed_rpm", "tool"]),
        check: edge_too_fast,
        remedies: slower,
        example: Example {
            given: &[("materials", "mild-steel")],
            choice: "spindle_speed_rpm",
            fires: "16500",
            quiet: "15500",
        },
    },
    Rule {
        id: "steel-wants-slow-torque",
        title: "Spindle too fast for the metal",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "Whether even the spindle's slowest usable speed is too fast for the usual tool in a wanted metal.",
        because: "High-frequency spindles have no torque at the slow speeds that steel and large tools want.",
        from: "π · diameter · slowest lasting speed > the metal's greatest usual cutting speed; cutter makers' tables.",
        instead: "Take a thinner tool, a spindle that may turn slower, or leave that metal out.",
        reads: &[Fact::Spindle, Fact::Wishes],
        decided_by: Some(&["spindle", "tool"]),
        check: never_slow_enough,
        remedies: thinner_or_slower,
        example: Example {
            given: &[
                ("materials", "mild-steel"),
                ("spindle", "spindle-2.2kw-water"),
            ],
            choice: "tool",
            fires: "mill-12mm-2f",
            quiet: "mill-10mm-2f",
        },
    },
    Rule {
        id: "feed-cannot-follow",
        title: "Feed too slow for the speed",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "The feed per tooth at the wanted cutting feed against the least that each wanted material but foam needs.",
        because: "A tooth that takes too thin a chip rubs: wood burns, plastic melts, the edge dulls.",
        from: "feed / (flutes · rpm) < least chip, stated for 6 mm tools and scaled by diameter; cutter makers' tables.",
        instead: "Take fewer flutes, turn slower, or feed faster.",
        reads: &[Fact::Spindle, Fact::Wishes],
        decided_by: Some(&["spindle_speed_rpm", "tool"]),
        check: rubs,
        remedies: thicker_chip,
        example: Example {
            given: &[],
            choice: "cutting_feed_m_per_min",
            fires: "2.8",
            quiet: "3",
        },
    },
];

fn too_fast(facts: &Facts, report: &mut Report) {
    let (usual, greatest) = (
        facts.picked.build.spindle.speed,
        facts.picked.spindle.greatest_speed,
    );
    if usual > greatest * 1.000_1 {
        report.say(
            Severity::Fault,
            format!(
                "usual speed {}, the spindle's greatest is {}",
                say::rpm(usual),
                say::rpm(greatest)
            ),
        );
    }
}

fn too_slow(facts: &Facts, report: &mut Report) {
    let (usual, least) = (
        facts.picked.build.spindle.speed,
        facts.picked.spindle.least_speed,
    );
    if usual < least * 0.999_9 {
        report.say(
            Severity::Caution,
            format!(
                "usual speed {}, with its {} the spindle bears {} and more for long",
                say::rpm(usual),
                facts.picked.spindle.cooling.title(),
                say::rpm(least)
            ),
        );
    }
}

fn turn(facts: &Facts, speed: AngularVelocity, up: bool) -> Remedies {
    number(facts, "spindle_speed_rpm", units::rpm::from(speed), up)
}

fn faster(facts: &Facts, _: Option<Axis>) -> Remedies {
    let usual = facts.picked.build.spindle.speed;
    in_turn([
        turn(facts, facts.picked.spindle.least_speed, true),
        other_spindles(facts, |spindle| spindle.least_speed <= usual),
    ])
}

/// Of the wished materials the one that bears the slowest edge.
fn slowest<'a>(facts: &Facts<'a>, fits: impl Fn(&Material) -> bool) -> Option<&'a Material> {
    let speed = |material: &Material| units::m_per_min::from(material.greatest_speed);
    let wished = facts
        .picked
        .materials
        .iter()
        .copied()
        .filter(|material| fits(material));
    wished.min_by(|a, b| speed(a).total_cmp(&speed(b)))
}

/// Whether turning slower would help; metals for which it does not have a rule of their own.
fn reachable(material: &Material, slow: Velocity) -> bool {
    material.family != Family::Metal || material.greatest_speed >= slow
}

fn edge_too_fast(facts: &Facts, report: &mut Report) {
    let diameter = facts.picked.tool.diameter;
    let slow = edge_speed(diameter, facts.picked.spindle.least_speed);
    let Some(material) = slowest(facts, |material| reachable(material, slow)) else {
        return;
    };
    let edge = edge_speed(diameter, facts.picked.build.spindle.speed);
    if edge > material.greatest_speed {
        report.say(
            Severity::Caution,
            format!(
                "at {} the {} tool's edge runs {:.0} m/min, {} bears {:.0} m/min",
                say::rpm(facts.picked.build.spindle.speed),
                say::bore(diameter),
                units::m_per_min::from(edge),
                material.title,
                units::m_per_min::from(material.greatest_speed)
            ),
        );
    }
}

fn slower(facts: &Facts, _: Option<Axis>) -> Remedies {
    let slow = edge_speed(facts.picked.tool.diameter, facts.picked.spindle.least_speed);
    let material = slowest(facts, |material| reachable(material, slow));
    let turned = material.map_or_else(Vec::new, |material| {
        let turns = turns_for(facts.picked.tool.diameter, material.greatest_speed);
        turn(facts, turns, false)
    });
    in_turn([turned, other_tools(facts)])
}

fn never_slow_enough(facts: &Facts, report: &mut Report) {
    let (tool, spindle) = (facts.picked.tool, facts.picked.spindle);
    let slow = edge_speed(tool.diameter, spindle.least_speed);
    let Some(metal) = slowest(facts, |material| material.family == Family::Metal) else {
        return;
    };
    if slow > metal.greatest_speed {
        report.say(
            Severity::Caution,
            format!(
                "{}: at {} at least the {} tool's edge runs {:.0} m/min, it bears {:.0} m/min",
                metal.title,
                say::rpm(spindle.least_speed),
                say::bore(tool.diameter),
                units::m_per_min::from(slow),
                units::m_per_min::from(metal.greatest_speed)
            ),
        );
    }
}

fn thinner_or_slower(facts: &Facts, _: Option<Axis>) -> Remedies {
    let now = facts.picked.spindle.least_speed;
    in_turn([
        other_tools(facts),
        other_spindles(facts, |spindle| spindle.least_speed < now),
    ])
}

/// The least feed per tooth of a material for the usual tool.
fn least_chip(facts: &Facts, material: &Material) -> Length {
    material.least_chip.at(facts.picked.tool.diameter)
}

/// Of the wished materials the one that wants the thickest chip; foam cuts however thin.
fn thickest_chip<'a>(facts: &Facts<'a>) -> Option<&'a Material> {
    let chip = |material: &Material| units::mm::from(least_chip(facts, material));
    let wished = facts.picked.materials.iter().copied();
    let solid = wished.filter(|material| material.family != Family::Foam);
    solid.max_by(|a, b| chip(a).total_cmp(&chip(b)))
}

fn rubs(facts: &Facts, report: &mut Report) {
    let Some(material) = thickest_chip(facts) else {
        return;
    };
    let build = facts.picked.build;
    let chip = units::mm::from(tooth_takes(facts.picked));
    let least = units::mm::from(least_chip(facts, material));
    if chip < least * 0.999 {
        report.say(
            Severity::Caution,
            format!(
                "{chip:.3} mm per tooth at {}, {} and {}: {} wants {least:.3} mm, or it rubs",
                say::feed(build.area.cutting_feed),
                say::rpm(build.spindle.speed),
                say::count(facts.picked.tool.flutes, "flute"),
                material.title
            ),
        );
    }
}

fn thicker_chip(facts: &Facts, _: Option<Axis>) -> Remedies {
    let Some(material) = thickest_chip(facts) else {
        return Vec::new();
    };
    let least = units::m::from(least_chip(facts, material)) * f64::from(facts.picked.tool.flutes);
    let feed = units::m_per_min::from(facts.picked.build.area.cutting_feed);
    let usual = units::rpm::from(facts.picked.build.spindle.speed);
    in_turn([
        number(facts, "spindle_speed_rpm", feed / least, false),
        number(facts, "cutting_feed_m_per_min", usual * least, true),
        other_tools(facts),
    ])
}
