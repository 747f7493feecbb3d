//! How the inverter is set and wired: by the nameplate, heard by the controller, nothing
//! behind it that opens.

use super::remedy::{each_option, in_turn, set};
use super::say;
use super::spindle_set::other_spindles;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::{Axis, choices};
use crate::catalogue::Step;
use crate::catalogue::spindle::SpeedSignal;
use crate::units;
use crate::words::Words;

/// How far the base frequency may lie from the nameplate's: 2 % (common practice).
const BASE_TOLERANCE: f64 = 0.02;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "base-frequency",
        title: "Base frequency not the nameplate's",
        severities: &[Severity::Danger, Severity::Caution],
        step: Step::Spindle,
        watches: "The base frequency set in the inverter against poles and rated speed.",
        because: "Set too low, full voltage comes too early: the iron saturates and the winding burns. Set too high, the spindle lacks torque.",
        from: "f = poles · rpm / 120, within 2 %; spindle makers' manuals.",
        instead: "Set the base frequency that the nameplate gives before the first start.",
        reads: &[Fact::Spindle, Fact::Inverter],
        decided_by: Some(&["spindle", "vfd", "base_frequency_hz"]),
        check: base_frequency,
        remedies: nameplate,
        example: Example {
            given: &[],
            choice: "base_frequency_hz",
            fires: "380",
            quiet: "400",
        },
    },
    Rule {
        id: "spindle-interface-levels",
        title: "Controller and inverter do not understand each other",
        severities: &[Severity::Fault, Severity::Caution],
        step: Step::Spindle,
        watches: "Whether controller and inverter share a signal for the speed.",
        because: "A 5 V pulse on a 0 to 10 V input gives half the speed or none; a serial protocol must be known on both sides.",
        from: "Data sheets of both; common practice.",
        instead: "Take a controller and an inverter that share 0-10 V, pulse width or RS-485.",
        reads: &[Fact::Inverter, Fact::Controller],
        decided_by: Some(&["spindle", "vfd", "controller"]),
        check: signals,
        remedies: shared_signal,
        example: Example {
            given: &[],
            choice: "controller",
            fires: "controller-usb-3",
            quiet: "controller-usb-4",
        },
    },
    Rule {
        id: "contactor-behind-vfd",
        title: "Contactor between inverter and spindle",
        severities: &[Severity::Caution],
        step: Step::Spindle,
        watches: "A contactor that can open between a running inverter and its motor.",
        because: "The current that it cuts off strikes back into the inverter's transistors.",
        from: "Inverter makers' manuals.",
        instead: "Cut the inverter's mains and its start signal instead.",
        reads: &[Fact::Inverter],
        decided_by: Some(&["spindle", "vfd", "contactor_behind_vfd"]),
        check: contactor,
        remedies: |facts, _| set(facts, "contactor_behind_vfd", "no"),
        example: Example {
            given: &[],
            choice: "contactor_behind_vfd",
            fires: "yes",
            quiet: "no",
        },
    },
];

fn base_frequency(facts: &Facts, report: &mut Report) {
    let spindle = facts.picked.spindle;
    let Some(rated) = spindle
        .rated_frequency()
        .filter(|_| facts.picked.inverter().is_some())
    else {
        return;
    };
    let set = facts.picked.build.spindle.base_frequency;
    let (set, rated) = (units::hz::from(set), units::hz::from(rated));
    let plate = format!(
        "nameplate {rated:.0} Hz ({})",
        say::rpm(spindle.rated_speed)
    );
    if set < rated * (1.0 - BASE_TOLERANCE) {
        report.say(
            Severity::Danger,
            format!("set to {set:.0} Hz, {plate}: full voltage too early burns the winding"),
        );
    } else if set > rated * (1.0 + BASE_TOLERANCE) {
        report.say(
            Severity::Caution,
            format!("set to {set:.0} Hz, {plate}: at full speed it gets too little voltage and pulls weakly"),
        );
    }
}

/// The nameplate's value itself, which may lie between the steps of the choice.
fn nameplate(facts: &Facts, _: Option<Axis>) -> Remedies {
    let Some(rated) = facts.picked.spindle.rated_frequency() else {
        return Vec::new();
    };
    let rated = choices::tidy(units::hz::from(rated));
    set(facts, "base_frequency_hz", &rated.to_string())
}

fn signals(facts: &Facts, report: &mut Report) {
    let Some(vfd) = facts.picked.inverter() else {
        return;
    };
    let controller = facts.picked.controller;
    let speeds = |signals: &[SpeedSignal]| -> Vec<&'static str> {
        let with_speed = signals
            .iter()
            .filter(|signal| **signal != SpeedSignal::Relay);
        with_speed.map(|signal| signal.title()).collect()
    };
    let (sent, heard) = (speeds(&controller.signals), speeds(&vfd.signals));
    if sent.iter().any(|signal| heard.contains(signal)) {
        return;
    }
    if sent.is_empty() || heard.is_empty() {
        let deaf = if sent.is_empty() {
            "the controller"
        } else {
            "the inverter"
        };
        report.say(
            Severity::Caution,
            format!("{deaf} knows on and off only: the speed is set by hand"),
        );
        return;
    }
    report.say(
        Severity::Fault,
        format!(
            "the controller sends the speed as {}, the inverter takes {}",
            say::list(&sent),
            say::list(&heard)
        ),
    );
}

fn shared_signal(facts: &Facts, _: Option<Axis>) -> Remedies {
    in_turn([
        each_option(facts, "controller"),
        each_option(facts, "vfd"),
        other_spindles(facts, |spindle| !spindle.needs_vfd()),
    ])
}

fn contactor(facts: &Facts, report: &mut Report) {
    if facts.picked.inverter().is_some() && facts.picked.build.spindle.contactor_behind {
        report.say(
            Severity::Caution,
            "a contactor opens between inverter and spindle: opened under load, it destroys the inverter",
        );
    }
}
