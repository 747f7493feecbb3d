//! The spindle's inverter: whether there is one, strong enough, and of the right voltage.

use super::remedy::{in_turn, options_where, set};
use super::say;
use super::spindle_set::{feeds, other_spindles};
use super::voltage::same_class;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::spindle::Vfd;
use crate::catalogue::{Id, Step};
use crate::units::{self, ElectricCurrent};

/// What is left of a three-phase inverter's current on one phase (inverter makers' manuals
/// derate by about a half, and demand a choke).
const ONE_PHASE_SHARE: f64 = 0.5;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "vfd-missing",
        title: "Spindle motor without an inverter",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "Whether a three-phase spindle motor has an inverter.",
        because: "The wall socket turns it at one slow speed at best; only an inverter makes its hundreds of hertz.",
        from: "Rated frequency = poles · rpm / 120; mains give 50 or 60 Hz.",
        instead: "Add an inverter that fits the spindle and the socket.",
        reads: &[Fact::Spindle, Fact::Inverter],
        decided_by: Some(&["spindle", "vfd"]),
        check: missing,
        remedies: other_inverter,
        example: Example {
            given: &[],
            choice: "vfd",
            fires: "none",
            quiet: "vfd-1.5kw-230",
        },
    },
    Rule {
        id: "vfd-useless",
        title: "Inverter beside a hand router",
        severities: &[Severity::Hint],
        step: Step::Spindle,
        watches: "An inverter in a build whose spindle is a hand router.",
        because: "A brushed hand router plugs into the wall; an inverter's output would ruin it.",
        from: "Common practice.",
        instead: "Leave the inverter out, or take a spindle motor.",
        reads: &[Fact::Spindle, Fact::Inverter],
        decided_by: Some(&["spindle", "vfd"]),
        check: useless,
        remedies: |facts, _| set(facts, "vfd", "none"),
        example: Example {
            given: &[("spindle", "router-1050w-230")],
            choice: "vfd",
            fires: "vfd-0.75kw-230",
            quiet: "none",
        },
    },
    Rule {
        id: "vfd-too-small",
        title: "Inverter weaker than the spindle",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "The inverter's output current against the spindle's rated current.",
        because: "It switches off for overload in mid-cut, while the axes drive on.",
        from: "Output current < rated motor current; inverter makers' selection rule.",
        instead: "Take an inverter of at least the spindle's current.",
        reads: &[Fact::Spindle, Fact::Inverter],
        decided_by: Some(&["spindle", "vfd"]),
        check: too_small,
        remedies: other_inverter,
        example: Example {
            given: &[],
            choice: "vfd",
            fires: "vfd-0.75kw-230",
            quiet: "vfd-1.5kw-230",
        },
    },
    Rule {
        id: "vfd-single-phase-derating",
        title: "Three-phase inverter on one phase",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "An inverter made for three-phase mains on a single-phase socket.",
        because: "One phase loads its rectifier and capacitors twice as hard: at full current they fail.",
        from: "Half of its output current, and only with a line choke; inverter makers' manuals.",
        instead: "Take one made for a single phase, or twice the current and a line choke.",
        reads: &[Fact::Spindle, Fact::Inverter, Fact::Site],
        decided_by: Some(&["spindle", "vfd", "line_choke"]),
        check: derated,
        remedies: derated_remedies,
        example: Example {
            given: &[("vfd", "vfd-3kw-230-3ph")],
            choice: "line_choke",
            fires: "no",
            quiet: "yes",
        },
    },
    Rule {
        id: "vfd-voltage-class",
        title: "Inverter and winding of different voltage",
        severities: &[Severity::Fault],
        step: Step::Spindle,
        watches: "The inverter's output voltage against the winding's.",
        because: "Too high a voltage breaks down the winding; too low a one leaves it without torque.",
        from: "Voltage classes 100 to 127 V, 200 to 240 V, 380 to 480 V, 10 % stray (EN 50160).",
        instead: "Take an inverter whose output is the voltage on the spindle's nameplate.",
        reads: &[Fact::Spindle, Fact::Inverter],
        decided_by: Some(&["spindle", "vfd"]),
        check: wrong_class,
        remedies: other_inverter,
        example: Example {
            given: &[("spindle", "spindle-0.8kw-water")],
            choice: "vfd",
            fires: "vfd-0.75kw-120",
            quiet: "vfd-0.75kw-230",
        },
    },
];

/// Another inverter that fits spindle and socket, or another spindle with all that it needs.
pub(super) fn other_inverter(facts: &Facts, _: Option<Axis>) -> Remedies {
    let vfds = &facts.picked.catalogue.vfds;
    let fits = |id: &Id| {
        let vfd = vfds.get(id);
        vfd.is_some_and(|vfd| feeds(facts, vfd, facts.picked.spindle))
    };
    in_turn([
        options_where(facts, "vfd", fits),
        other_spindles(facts, |_| true),
    ])
}

fn missing(facts: &Facts, report: &mut Report) {
    let spindle = facts.picked.spindle;
    if spindle.needs_vfd() && facts.picked.vfd.is_none() {
        let hertz = spindle.rated_frequency().map_or(0.0, units::hz::from);
        let mains = units::hz::from(facts.picked.site.frequency);
        report.say(
            Severity::Fault,
            format!(
                "{} wants {hertz:.0} Hz, the socket gives {mains:.0} Hz",
                spindle.title
            ),
        );
    }
}

fn useless(facts: &Facts, report: &mut Report) {
    if let Some(vfd) = facts.picked.vfd
        && !facts.picked.spindle.needs_vfd()
    {
        report.say(
            Severity::Hint,
            format!("{}: a hand router plugs into the wall", vfd.title),
        );
    }
}

fn too_small(facts: &Facts, report: &mut Report) {
    let current = facts.picked.spindle.current;
    if let Some(vfd) = facts.picked.inverter()
        && vfd.output < current
    {
        report.say(
            Severity::Fault,
            format!(
                "the inverter gives {}, the spindle takes {}",
                say::amperes(vfd.output),
                say::amperes(current)
            ),
        );
    }
}

/// Current of a three-phase inverter on one phase.
fn on_one_phase(vfd: &Vfd) -> ElectricCurrent {
    vfd.output * ONE_PHASE_SHARE
}

fn derated(facts: &Facts, report: &mut Report) {
    let inverter = facts.picked.inverter();
    let Some(vfd) = inverter.filter(|vfd| vfd.input_phases == 3) else {
        return;
    };
    let (left, current) = (on_one_phase(vfd), facts.picked.spindle.current);
    if left < current {
        report.say(
            Severity::Fault,
            format!(
                "on one phase the inverter gives {} of its {}, the spindle takes {}",
                say::amperes(left),
                say::amperes(vfd.output),
                say::amperes(current)
            ),
        );
    } else if !facts.picked.build.spindle.choke {
        report.say(
            Severity::Fault,
            "a three-phase inverter on one phase, without the line choke that it needs there",
        );
    }
}

fn derated_remedies(facts: &Facts, axis: Option<Axis>) -> Remedies {
    in_turn([set(facts, "line_choke", "yes"), other_inverter(facts, axis)])
}

fn wrong_class(facts: &Facts, report: &mut Report) {
    let winding = facts.picked.spindle.volts;
    if let Some(vfd) = facts.picked.inverter()
        && !same_class(vfd.output_voltage, winding)
    {
        report.say(
            Severity::Fault,
            format!(
                "the inverter puts out {}, the winding is made for {}",
                say::volts(vfd.output_voltage),
                say::volts(winding)
            ),
        );
    }
}
