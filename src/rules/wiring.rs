//! Cables as conductors: thick enough for their current, and not so long and thin that the
//! motors starve.

use super::decided::COPPER;
use super::mains::less_power;
use super::remedy::{each_option, in_turn, options_where, part_of, together};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::wiring::Cable;
use crate::order::Order as _;
use crate::units::{self, Ratio};

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "cable-too-thin",
        title: "Cable too thin for its current",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "What motors, spindle and supplies draw against what their cable or wire carries for long.",
        because: "An overloaded core melts its insulation, in a bundle first: a fire inside the chain.",
        from: "IEC 60204-1:2016, Table 6, method B2 in chains and C elsewhere, 40 °C; grouping by IEC 60364-5-52, Table B.52.17. Four cores of a stepper heat as three with 0.82 of its amplitude.",
        instead: "Take a thicker cable, or set less current or power.",
        reads: &[
            Fact::Wiring,
            Fact::Geometry,
            Fact::Drives,
            Fact::Motors,
            Fact::Drivers,
            Fact::Supply,
            Fact::Spindle,
            Fact::Site,
        ],
        decided_by: Some(COPPER),
        check: too_thin,
        remedies: thicker,
        example: Example {
            given: &[],
            choice: "motor_cable",
            fires: "cable-signal-4x0.34-shielded-flex",
            quiet: "cable-motor-4x0.75-shielded-flex",
        },
    },
    Rule {
        id: "cable-drop",
        title: "Cable loses too much voltage",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "Voltage lost between cabinet and motors or spindle.",
        because: "Lost volts are lost speed for a stepper, and heat in the cable.",
        from: "2 · L · I · R, three phases √3 · L · I · R, at 70 °C with R of IEC 60228 class 5; limits 5 % of DC, 3 % of mains, common practice.",
        instead: "Take a thicker cable, a shorter way, or a higher supply voltage.",
        reads: &[
            Fact::Wiring,
            Fact::Geometry,
            Fact::Motors,
            Fact::Drivers,
            Fact::Supply,
            Fact::Spindle,
            Fact::Site,
        ],
        decided_by: None,
        check: drops,
        remedies: less_drop,
        example: Example {
            given: &[("supply", "supply-24v-350w"), ("travel_y_mm", "800")],
            choice: "motor_cable",
            fires: "cable-motor-4x0.75-shielded-flex",
            quiet: "cable-motor-4x1.0-shielded-flex",
        },
    },
];

fn too_thin(facts: &Facts, report: &mut Report) {
    let mut worst: Option<(Ratio, String)> = None;
    for run in &facts.machine.geometry.runs {
        let (Some(sizing), Some(current)) = (run.sizing, run.load.map(|load| load.heating)) else {
            continue;
        };
        let load = current / sizing.ampacity;
        if current > sizing.ampacity && worst.as_ref().is_none_or(|(most, _)| load > *most) {
            let beside = match run.touching {
                0 | 1 => String::new(),
                several => format!(" beside {} more", several - 1),
            };
            let needed = sizing.by_current.map(units::mm2::from);
            let needed = needed.map(|area| format!(", {} mm² would do", say::at_most(area, 2)));
            let message = format!(
                "{}: {} mm² carries {}{beside}, {} flow{}",
                run.title(),
                say::at_most(units::mm2::from(run.area), 2),
                say::amperes(sizing.ampacity),
                say::amperes(current),
                needed.unwrap_or_default()
            );
            worst = Some((load, message));
        }
    }
    for lead in &facts.machine.leads {
        let (Some(load), Some(ampacity)) = (lead.load, lead.ampacity) else {
            continue;
        };
        // A breaker or fuse that the copper bears guards it, whatever the load asks for.
        let guarded = lead.guard.is_some_and(|guard| guard <= ampacity);
        let over = load.heating / ampacity;
        if !guarded
            && load.heating > ampacity
            && worst.as_ref().is_none_or(|(most, _)| over > *most)
        {
            let message = format!(
                "{}: even {} mm² carries {} only, {} flow",
                lead.title(),
                say::at_most(units::mm2::from(lead.area), 2),
                say::amperes(ampacity),
                say::amperes(load.heating)
            );
            worst = Some((over, message));
        }
    }
    if let Some((_, message)) = worst {
        report.say(Severity::Danger, message);
    }
}

fn thicker(facts: &Facts, _: Option<Axis>) -> Remedies {
    let picked = facts.picked;
    let motor = cables(facts, "motor_cable", |cable| {
        cable.area > picked.motor_cable.area
    });
    let spindle = cables(facts, "spindle_cable", |cable| {
        cable.area > picked.spindle_cable.area
    });
    let both = together(&motor, &spindle);
    in_turn([motor, spindle, both, less_power(facts)])
}

/// A candidate for every other cable of a choice that suits; those made for chains and
/// shielded first, the cheaper first among them.
pub(super) fn cables(facts: &Facts, choice: &str, suits: impl Fn(&Cable) -> bool) -> Remedies {
    let shelf = &facts.picked.catalogue.cables;
    let mut found = options_where(facts, choice, |id| shelf.get(id).is_some_and(&suits));
    found.order_by_key(|edits| {
        let cable = edits.first().and_then(|edit| part_of(edit, shelf));
        cable.is_none_or(|cable| !(cable.flexible && cable.shielded))
    });
    found
}

fn drops(facts: &Facts, report: &mut Report) {
    let mut worst: Option<(f64, String)> = None;
    for run in &facts.machine.geometry.runs {
        let Some(load) = run.load else {
            continue;
        };
        let limit = units::share::from(load.fair_drop());
        let share = units::share::from(load.drop());
        let over = share / limit;
        if over > 1.0 && worst.as_ref().is_none_or(|(most, _)| over > *most) {
            let message = format!(
                "{}: {} m lose {} of {}, {:.1} % where {:.0} % are fair",
                run.title(),
                say::at_most(units::m::from(run.length), 1),
                say::volts(load.lost),
                say::volts(load.sent),
                share * 100.0,
                limit * 100.0
            );
            worst = Some((over, message));
        }
    }
    if let Some((_, message)) = worst {
        report.say(Severity::Caution, message);
    }
}

fn less_drop(facts: &Facts, axis: Option<Axis>) -> Remedies {
    in_turn([thicker(facts, axis), each_option(facts, "supply")])
}
