//! What stops the machine when something goes wrong, and keeps it stopped.

use super::remedy::set;
use super::{Example, Fact, Facts, Report, Rule, Severity};
use crate::build::choices::control::EmergencyStop;
use crate::catalogue::Step;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "emergency-stop-missing",
        title: "No hard-wired emergency stop",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "Whether an emergency stop cuts the power by itself.",
        because: "A program that hangs does not read its inputs: only a latching button in the power path stops a runaway.",
        from: "IEC 60204-1 (stop categories 0 and 1) and ISO 13850.",
        instead: "Wire a latching button to a contactor in the power path.",
        reads: &[Fact::Controller],
        decided_by: Some(&["emergency_stop"]),
        check: emergency_stop,
        remedies: |facts, _| set(facts, "emergency_stop", "hard-wired"),
        example: Example {
            given: &[],
            choice: "emergency_stop",
            fires: "software-input",
            quiet: "hard-wired",
        },
    },
    Rule {
        id: "restart-after-outage",
        title: "Starts by itself after an outage",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "Whether the machine stays off when power comes back.",
        because: "Spindle or hand router start again while somebody has a hand at the tool.",
        from: "ISO 14118 and IEC 60204-1: no unexpected start-up when supply returns.",
        instead: "Add a no-volt release, or a contactor that holds itself.",
        reads: &[Fact::Controller],
        decided_by: Some(&["no_volt_release"]),
        check: outage,
        remedies: |facts, _| set(facts, "no_volt_release", "yes"),
        example: Example {
            given: &[],
            choice: "no_volt_release",
            fires: "no",
            quiet: "yes",
        },
    },
];

fn emergency_stop(facts: &Facts, report: &mut Report) {
    match facts.picked.build.control.emergency_stop {
        EmergencyStop::HardWired => {}
        EmergencyStop::Input => report.say(
            Severity::Danger,
            "the stop button only asks the controller: it must cut the power itself",
        ),
        EmergencyStop::None => report.say(Severity::Danger, "there is no emergency stop"),
    }
}

fn outage(facts: &Facts, report: &mut Report) {
    if !facts.picked.build.control.no_volt_release {
        report.say(
            Severity::Danger,
            "no no-volt release: the machine starts again when power comes back",
        );
    }
}
