//! Switches and sensors: closed at rest, of the type that the controller hears, and one for
//! each side of a pair.

use super::remedy::{each_option, in_turn, options_where, part_of, set, together};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::control::{Contact, SensorType};
use crate::order::Order as _;
use crate::units::ElectricPotential;
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "limit-normally-open",
        title: "Limit switches open at rest",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "Whether the limit switches carry current at rest.",
        because: "A broken wire looks like a free axis: it drives into its end at full force.",
        from: "Closed-circuit principle, ISO 13849-2 (well-tried principles).",
        instead: "Take switches that are closed at rest.",
        reads: &[Fact::Controller],
        decided_by: Some(&["switch"]),
        check: open_at_rest,
        remedies: |facts, _| good_switches(facts),
        example: Example {
            given: &[],
            choice: "switch",
            fires: "switch-inductive-npn-no",
            quiet: "switch-inductive-npn-nc",
        },
    },
    Rule {
        id: "pair-needs-two-homes",
        title: "Paired motors homed as one",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "Two Y motors without a home switch for each.",
        because: "After a stop the two sides may stand apart; homed as one they stay askew, and so does every part.",
        from: "Common practice.",
        instead: "Give each side a home switch and an axis of its own.",
        reads: &[Fact::Controller, Fact::Drives],
        decided_by: Some(&["gantry_drive", "home_each_side"]),
        check: pair,
        remedies: home_the_pair,
        example: Example {
            given: &[],
            choice: "home_each_side",
            fires: "no",
            quiet: "yes",
        },
    },
    Rule {
        id: "sensor-supply-mismatch",
        title: "Sensor does not fit the input",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "Output type and voltage of switches and tool sensor against the controller's inputs.",
        because: "An NPN input does not see a PNP sensor at all; the wrong voltage damages one of the two.",
        from: "Data sheets of sensor and controller; IEC 61131-2 for 24 V inputs.",
        instead: "Take sensors of the type and voltage that the inputs are made for.",
        reads: &[Fact::Controller, Fact::Extras],
        decided_by: Some(&["switch", "controller"]),
        check: sensors,
        remedies: fitting_sensors,
        example: Example {
            given: &[],
            choice: "switch",
            fires: "switch-inductive-pnp-nc",
            quiet: "switch-inductive-npn-nc",
        },
    },
];

fn pair(facts: &Facts, report: &mut Report) {
    let motors = facts.picked.motors(Axis::Y);
    if motors > 1 && !facts.picked.build.control.home_each_side {
        report.say_of(
            Axis::Y,
            Severity::Caution,
            format!(
                "{motors} Y motors share one home switch: the gantry keeps whatever skew it has"
            ),
        );
    }
}

fn home_the_pair(facts: &Facts, _: Option<Axis>) -> Remedies {
    let each_side = set(facts, "home_each_side", "yes");
    let with_controller = together(&each_option(facts, "controller"), &each_side);
    in_turn([each_side, with_controller])
}

fn sensors(facts: &Facts, report: &mut Report) {
    let (switch, sensor) = (facts.picked.switch, facts.picked.tool_sensor);
    let input = facts.picked.controller.input_voltage;
    if let Some(why) = mismatch(facts, switch.output) {
        report.say(Severity::Fault, format!("{}: {why}", switch.title));
    } else if input < switch.least_voltage || input > switch.greatest_voltage {
        report.say(
            Severity::Fault,
            format!(
                "{}: it works on {} to {}, the inputs have {}",
                switch.title,
                say::volts(switch.least_voltage),
                say::volts(switch.greatest_voltage),
                say::volts(input)
            ),
        );
    }
    let Some(sensor) = sensor else { return };
    if let Some(why) = mismatch(facts, sensor.output) {
        report.say(Severity::Fault, format!("{}: {why}", sensor.title));
    } else if input > sensor.greatest_voltage {
        report.say(
            Severity::Fault,
            too_high(&sensor.title, sensor.greatest_voltage, input),
        );
    }
}

fn too_high(title: &str, bears: ElectricPotential, input: ElectricPotential) -> String {
    format!(
        "{title}: it bears {}, the inputs have {}",
        say::volts(bears),
        say::volts(input)
    )
}

fn mismatch(facts: &Facts, output: SensorType) -> Option<String> {
    let taken = &facts.picked.controller.input_types;
    if taken.contains(&output) {
        return None;
    }
    let taken: Vec<&str> = taken.iter().map(|kind| kind.title()).collect();
    Some(format!(
        "its output is {}, the controller's inputs take {}",
        output.title(),
        say::list(&taken)
    ))
}

/// Switches that are closed at rest, those that the controller hears first, and among them
/// those of the principle in use.
fn good_switches(facts: &Facts) -> Remedies {
    let picked = facts.picked;
    let shelf = &picked.catalogue.switches;
    let mut found = options_where(facts, "switch", |id| {
        let switch = shelf.get(id);
        switch.is_some_and(|switch| switch.contact == Contact::NormallyClosed)
    });
    found.order_by_key(|edits| {
        let switch = edits.first().and_then(|edit| part_of(edit, shelf));
        switch.map(|switch| {
            let unheard = mismatch(facts, switch.output).is_some();
            (unheard, switch.principle != picked.switch.principle)
        })
    });
    found
}

fn fitting_sensors(facts: &Facts, _: Option<Axis>) -> Remedies {
    let switches = good_switches(facts);
    let sensors = each_option(facts, "tool_sensor");
    let both = together(&switches, &sensors);
    in_turn([switches, sensors, both, each_option(facts, "controller")])
}

fn open_at_rest(facts: &Facts, report: &mut Report) {
    let switch = facts.picked.switch;
    if switch.contact == Contact::NormallyOpen {
        report.say(
            Severity::Danger,
            format!("{}: a broken wire goes unseen", switch.title),
        );
    }
}
