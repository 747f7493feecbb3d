//! The controller: enough connections, and a link that holds.

use super::remedy::{each_option, in_turn, set, together};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::choices::control::{EmergencyStop, LimitEnds};
use crate::build::{Axis, Picked};
use crate::catalogue::control::Link;
use crate::catalogue::spindle::SpindleKind;
use crate::catalogue::{Motor, Step};
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "inputs-too-few",
        title: "Controller has too few connections",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "Axes, inputs, home inputs and outputs that the build needs against what the controller has.",
        because: "What finds no place is left unconnected: an axis that does not move, a switch that nobody reads.",
        from: "One axis a motor that is homed by itself; one input a home switch, one for all far ends in series, one each for sensor, stop and alarms; one output each for spindle, extraction, coolant and tool change.",
        instead: "Take a controller with more connections, or need fewer.",
        reads: &[
            Fact::Controller,
            Fact::Drives,
            Fact::Motors,
            Fact::Extras,
            Fact::Spindle,
        ],
        decided_by: Some(&[
            "controller",
            "motor_a",
            "gantry_drive",
            "home_each_side",
            "limit_ends",
            "emergency_stop",
            "cooler",
            "spindle",
        ]),
        check: connections,
        remedies: more_connections,
        example: Example {
            given: &[],
            choice: "controller",
            fires: "controller-usb-3",
            quiet: "controller-usb-4",
        },
    },
    Rule {
        id: "old-port",
        title: "Controller that needs an old computer",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "A controller on a printer port.",
        because: "Such computers are no longer made, and every hiccup of theirs is a lost step.",
        from: "Common practice.",
        instead: "Take a controller with a network or USB link that times its pulses itself.",
        reads: &[Fact::Controller],
        decided_by: Some(&["controller"]),
        check: old_port,
        remedies: controllers,
        example: Example {
            given: &[],
            choice: "controller",
            fires: "controller-parallel",
            quiet: "controller-usb-4",
        },
    },
    Rule {
        id: "computer-link",
        title: "Computer lacks the controller's link",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "The connector of the controller's link (Ethernet, USB, printer port) against those of the chosen computer.",
        because: "The two cannot be connected, or the computer cannot time the steps that a printer port leaves to it.",
        from: "Data sheets of both.",
        instead: "Take a computer with that link, or a controller with another one.",
        reads: &[Fact::Controller],
        decided_by: Some(&["controller", "computer"]),
        check: link,
        remedies: linked,
        example: Example {
            given: &[],
            choice: "computer",
            fires: "computer-old-parallel",
            quiet: "computer-shop-pc",
        },
    },
    Rule {
        id: "usb-emi",
        title: "USB link beside an inverter",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "A USB link without isolation in a machine with an inverter.",
        because: "The inverter's noise breaks the connection in mid-cut, and the job is lost.",
        from: "Common practice.",
        instead: "Put an isolator into the USB line, or take a controller on a network cable.",
        reads: &[Fact::Controller, Fact::Inverter],
        decided_by: Some(&["controller", "link_isolator", "spindle", "vfd"]),
        check: noisy_link,
        remedies: quiet_link,
        example: Example {
            given: &[("controller", "controller-usb-3")],
            choice: "link_isolator",
            fires: "no",
            quiet: "yes",
        },
    },
];

fn controllers(facts: &Facts, _: Option<Axis>) -> Remedies {
    each_option(facts, "controller")
}

/// Connections that a build needs.
pub(super) struct Needs {
    pub(super) inputs: u32,
    /// Home switches: each wants an axis of the controller and a home input for itself.
    pub(super) homes: u32,
    pub(super) outputs: u32,
    /// Of the inputs, one for the alarms of motors.
    pub(super) alarms: u32,
    /// Of the inputs, one for the cooler's flow.
    pub(super) flow: u32,
}

/// Whether a motor tells by an input that it lost its way.
pub(super) fn has_alarm(motor: &Motor) -> bool {
    match motor {
        Motor::Stepper(motor) => motor.closed_loop,
        Motor::Servo(_) => true,
    }
}

pub(super) fn needs(picked: &Picked) -> Needs {
    let (control, extras) = (&picked.build.control, &picked.build.extras);
    let axes = Axis::EACH;
    let own = |axis| {
        if control.home_each_side {
            picked.motors(axis)
        } else {
            1
        }
    };
    let homes: u32 = axes.iter().map(|&axis| own(axis)).sum();
    let alarms = axes.iter().any(|&axis| has_alarm(&picked.axes[axis].motor));
    let once = u32::from;
    let flow = once(picked.cooler.is_some_and(|cooler| cooler.watched));
    let inputs = homes
        + once(control.limit_ends == LimitEnds::Both)
        + once(extras.tool_sensor.is_some())
        + once(control.emergency_stop != EmergencyStop::None)
        + once(alarms)
        + flow;
    let outputs = once(picked.spindle.needs_vfd())
        + once(picked.extractor.is_some())
        + once(picked.coolant.is_some())
        + once(picked.spindle.kind == SpindleKind::ToolChanger);
    Needs {
        inputs,
        homes,
        outputs,
        alarms: once(alarms),
        flow,
    }
}

fn connections(facts: &Facts, report: &mut Report) {
    let (needs, has) = (needs(facts.picked), facts.picked.controller);
    let mut lacks = Vec::new();
    let mut compare = |need: u32, have: u32, what: &str| {
        if need > have {
            lacks.push(format!("{have} of {need} {what}"));
        }
    };
    compare(needs.homes, has.axes, "axes");
    compare(needs.inputs, has.inputs, "inputs");
    compare(needs.homes, has.home_inputs, "home inputs");
    compare(needs.outputs, has.outputs, "outputs");
    if !lacks.is_empty() {
        report.say(
            Severity::Fault,
            format!(
                "{}: it has {} that the build needs",
                has.title,
                say::list(&lacks)
            ),
        );
    }
}

fn more_connections(facts: &Facts, _: Option<Axis>) -> Remedies {
    let controllers = each_option(facts, "controller");
    let with_computer = together(&controllers, &each_option(facts, "computer"));
    in_turn([
        controllers,
        with_computer,
        set(facts, "limit_ends", "home-end"),
        set(facts, "tool_sensor", "none"),
        set(facts, "home_each_side", "no"),
    ])
}

fn old_port(facts: &Facts, report: &mut Report) {
    if facts.picked.controller.link == Link::Parallel {
        report.say(
            Severity::Caution,
            format!(
                "{}: it needs a computer with a printer port that times {:.0} kHz of pulses itself",
                facts.picked.controller.title,
                crate::units::khz::from(facts.picked.controller.pulses)
            ),
        );
    }
}

fn link(facts: &Facts, report: &mut Report) {
    let controller = facts.picked.controller;
    let Some(computer) = facts.picked.computer.filter(|_| controller.needs_computer) else {
        return;
    };
    if !computer.links.contains(&controller.link) {
        let offered: Vec<&str> = computer.links.iter().map(|link| link.title()).collect();
        let needed = match controller.link {
            Link::Parallel => "a parallel port",
            other => other.title(),
        };
        report.say(
            Severity::Fault,
            format!(
                "the controller needs {needed}; the computer ({}) has only {}",
                computer.title,
                say::list(&offered)
            ),
        );
    } else if controller.link == Link::Parallel && !computer.realtime {
        report.say(
            Severity::Fault,
            format!("{} cannot time the steps of a printer port", computer.title),
        );
    }
}

fn linked(facts: &Facts, _: Option<Axis>) -> Remedies {
    in_turn(["computer", "controller"].map(|choice| each_option(facts, choice)))
}

fn noisy_link(facts: &Facts, report: &mut Report) {
    let controller = facts.picked.controller;
    let exposed = controller.link == Link::Usb && !controller.isolated;
    if exposed && !facts.picked.build.control.isolator && facts.picked.inverter().is_some() {
        report.say(
            Severity::Caution,
            format!(
                "{}: its USB link is not isolated, and an inverter stands beside it",
                controller.title
            ),
        );
    }
}

fn quiet_link(facts: &Facts, _: Option<Axis>) -> Remedies {
    in_turn([
        set(facts, "link_isolator", "yes"),
        each_option(facts, "controller"),
    ])
}
