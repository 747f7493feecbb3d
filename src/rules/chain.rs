//! Cable chains: room enough, a bend wide enough, and cables that bear to be bent for years.

use std::f64::consts::PI;

use super::remedy::{each_option, in_turn};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, Edit};
use crate::catalogue::Step;
use crate::catalogue::spindle::Cooling;
use crate::catalogue::wiring::Cable;
use crate::machine::wiring::CableRun;
use crate::units::{self, Area, Length};
use crate::words::Words;

/// Least bend radius against the cable's outer diameter: 7.5 for cables made for chains, 10
/// for others (cable makers' handbooks).
const BEND_FLEXIBLE: f64 = 7.5;
/// The same for cables that are not made for chains.
const BEND_OTHER: f64 = 10.0;

/// Share of a chain's inside that cables may fill: 60 % (chain makers' handbooks).
const FILL: f64 = 0.60;

/// Outer diameter of a hose for cooling water: 10 mm, two of them (common practice).
fn hose() -> Length {
    units::mm::of(10.0)
}

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "chain-too-tight",
        title: "Cable chain too tight",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "The chain's bend radius against the thickest cable, its height, and how much of it is filled.",
        because: "Bent tighter than they bear, cores break inside the insulation; stuffed cables rub and twist.",
        from: "Radius ≥ 7.5 diameters, 10 for cables not made for chains; fill ≤ 60 %; a tenth of play in height: makers' handbooks.",
        instead: "Take a chain with a larger bend or more room, or thinner cables.",
        reads: &[Fact::Wiring, Fact::Geometry, Fact::Spindle],
        decided_by: Some(&[
            "chain",
            "motor_cable",
            "switch_cable",
            "spindle_cable",
            "spindle",
            "gantry_drive",
            "home_each_side",
            "limit_ends",
        ]),
        check: tight,
        remedies: roomier,
        example: Example {
            given: &[],
            choice: "chain",
            fires: "chain-25x38",
            quiet: "chain-25x57",
        },
    },
    Rule {
        id: "static-cable-in-chain",
        title: "Cable for fixed routes in a chain",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "Whether every cable that passes a chain is made for continuous bending.",
        because: "Its cores break after some months, one at a time, and the machine stops for no visible reason.",
        from: "Cable makers' handbooks.",
        instead: "Take the flexible sort for everything that moves.",
        reads: &[Fact::Wiring, Fact::Geometry],
        decided_by: Some(&["motor_cable", "switch_cable", "spindle_cable"]),
        check: stiff,
        remedies: flexible,
        example: Example {
            given: &[],
            choice: "motor_cable",
            fires: "cable-motor-4x1.0-shielded-static",
            quiet: "cable-motor-4x1.0-shielded-flex",
        },
    },
];

/// The cables in the chain of an axis.
fn inside<'a>(facts: &Facts<'a>, axis: Axis) -> Vec<(&'a CableRun, &'a Cable)> {
    let runs = facts.machine.geometry.runs.iter();
    runs.filter(|run| run.chains.contains(&axis))
        .filter_map(|run| Some((run, facts.picked.catalogue.cables.get(&run.cable)?)))
        .collect()
}

fn circle(diameter: Length) -> Area {
    diameter * diameter * (PI / 4.0)
}

/// What the cables in a chain fill, the water hoses of a spindle included.
fn filled(facts: &Facts, axis: Axis) -> Area {
    let cables: Area = inside(facts, axis)
        .iter()
        .map(|(_, cable)| circle(cable.outer))
        .sum();
    match facts.picked.spindle.cooling {
        Cooling::Water => cables + circle(hose()) * 2.0,
        Cooling::Fan => cables,
    }
}

/// The tightest bend that a cable bears.
fn least_radius(cable: &Cable) -> Length {
    cable.outer
        * if cable.flexible {
            BEND_FLEXIBLE
        } else {
            BEND_OTHER
        }
}

fn tight(facts: &Facts, report: &mut Report) {
    let chain = facts.picked.chain;
    let room = chain.inner_height * chain.inner_width;
    for cut in &facts.machine.geometry.chains {
        let cables = inside(facts, cut.axis);
        let radius = |cable: &Cable| units::mm::from(least_radius(cable));
        let stiffest = cables
            .iter()
            .max_by(|a, b| radius(a.1).total_cmp(&radius(b.1)));
        let Some((run, cable)) = stiffest else {
            continue;
        };
        let share = units::percent::from(filled(facts, cut.axis) / room);
        if least_radius(cable) > chain.bend_radius {
            report.say_of(
                cut.axis,
                Severity::Caution,
                format!(
                    "chain {} bends at {}, the {} cable wants {} ({} thick)",
                    cut.axis.title(),
                    say::mm(chain.bend_radius, 0),
                    run.title(),
                    say::mm(least_radius(cable), 1),
                    say::mm(cable.outer, 1)
                ),
            );
        } else if share > FILL * 100.0 {
            report.say_of(
                cut.axis,
                Severity::Caution,
                format!(
                    "chain {} is filled to {share:.0} %, {:.0} % are fair",
                    cut.axis.title(),
                    FILL * 100.0
                ),
            );
        } else if cable.outer * 1.1 > chain.inner_height {
            report.say_of(
                cut.axis,
                Severity::Caution,
                format!(
                    "chain {}: the {} cable is too thick for its height",
                    cut.axis.title(),
                    run.title()
                ),
            );
        }
    }
}

fn roomier(facts: &Facts, _: Option<Axis>) -> Remedies {
    in_turn(["chain", "motor_cable", "spindle_cable"].map(|choice| each_option(facts, choice)))
}

/// The choices of cable, and the cable of each.
fn choices<'a>(facts: &Facts<'a>) -> [(&'static str, &'static str, &'a Cable); 3] {
    let picked = facts.picked;
    [
        ("motors", "motor_cable", picked.motor_cable),
        ("switches", "switch_cable", picked.switch_cable),
        ("spindle", "spindle_cable", picked.spindle_cable),
    ]
}

/// The cables in chains that are not made for it, by their choice.
fn stiff_ones<'a>(facts: &Facts<'a>) -> Vec<(&'static str, &'static str, &'a Cable)> {
    let chained = |cable: &Cable| {
        facts
            .machine
            .geometry
            .runs
            .iter()
            .any(|run| run.cable == cable.id && !run.chains.is_empty())
    };
    choices(facts)
        .into_iter()
        .filter(|(_, _, cable)| !cable.flexible && chained(cable))
        .collect()
}

fn stiff(facts: &Facts, report: &mut Report) {
    let names: Vec<&str> = stiff_ones(facts).iter().map(|(name, _, _)| *name).collect();
    if !names.is_empty() {
        report.say(
            Severity::Caution,
            format!(
                "the cable to the {} passes a chain, and is made for fixed routes",
                say::list(&names)
            ),
        );
    }
}

/// All of them exchanged at once, each for the same cable in its flexible sort, else for any
/// flexible one of as many cores and no less copper.
fn flexible(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut edits: Vec<Edit> = Vec::new();
    for (_, choice, now) in stiff_ones(facts) {
        let fits = |cable: &&Cable| {
            cable.flexible
                && cable.cores >= now.cores
                && cable.area >= now.area
                && cable.shielded >= now.shielded
        };
        let other = facts.picked.catalogue.cables.values().find(fits);
        edits.extend(
            other
                .into_iter()
                .flat_map(|cable| super::edit(facts, choice, cable.id.as_str())),
        );
    }
    vec![edits]
}
