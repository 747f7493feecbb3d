//! Loads that take turns: whether what must run beside the spindle still does.

use super::remedy::set;
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::catalogue::Step;
use crate::catalogue::material::Family;
use crate::catalogue::spindle::SpindleKind;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "extractor-waits",
        title: "Extractor off while wood is cut",
        severities: &[Severity::Danger],
        step: Step::Control,
        watches: "Spindle and extractor both set to take turns, with wood among the materials.",
        because: "Current that is saved by stopping the extractor is paid for in dust: it is made while the spindle cuts.",
        from: "Limit of 2 mg/m³ for hardwood dust: Directive (EU) 2017/2398; extraction before cutting, common practice.",
        instead: "Let both run at the same time, and feed one of them from a second circuit if they are too much for one.",
        reads: &[Fact::Mains, Fact::Extras, Fact::Wishes],
        decided_by: Some(&["spindle_at_once", "extractor_at_once"]),
        check: extractor,
        remedies: run_extractor,
        example: Example {
            given: &[
                ("extractor_at_once", "no"),
                ("extractor_circuit", "first"),
                ("power_cap_percent", "40"),
            ],
            choice: "spindle_at_once",
            fires: "no",
            quiet: "yes",
        },
    },
    Rule {
        id: "air-waits",
        title: "Coolant or air off while the spindle runs",
        severities: &[Severity::Caution],
        step: Step::Control,
        watches: "The spindle set to take turns with the cutting coolant or with a tool changer's compressor.",
        because: "A cut without its coolant welds chips to the tool; a changer without air drops it.",
        from: "Common practice.",
        instead: "Let the coolant run together with the spindle, and take turns with something else.",
        reads: &[Fact::Mains, Fact::Extras, Fact::Spindle],
        decided_by: Some(&[
            "spindle_at_once",
            "coolant_at_once",
            "compressor_at_once",
            "spindle",
        ]),
        check: coolant,
        remedies: run_coolant,
        example: Example {
            given: &[
                ("coolant", "coolant-flood"),
                ("coolant_at_once", "no"),
                ("materials", "aluminium-6082"),
            ],
            choice: "spindle_at_once",
            fires: "no",
            quiet: "yes",
        },
    },
];

fn extractor(facts: &Facts, report: &mut Report) {
    let control = &facts.picked.build.control;
    let turns = !control.spindle_at_once && !control.extractor_at_once;
    if turns && facts.picked.extractor.is_some() && facts.wishes(Family::Wood) {
        let woods = facts.wishes_for(Family::Wood);
        let woods: Vec<&str> = woods
            .iter()
            .map(|wood| wood.title.as_str())
            .take(2)
            .collect();
        report.say(
            Severity::Danger,
            format!(
                "spindle and extractor take turns: dust of {} fills the room while it is cut",
                say::list(&woods)
            ),
        );
    }
}

/// The extractor told to run at once, where need be with it or the spindle on another circuit.
fn run_extractor(facts: &Facts, _: Option<Axis>) -> Remedies {
    let choice = "extractor_at_once";
    let mut found = set(facts, choice, "yes");
    found.extend(set(facts, "spindle_at_once", "yes"));
    for circuit in ["spindle_circuit", "extractor_circuit"] {
        for which in ["first", "second"] {
            let mut together = super::edit(facts, choice, "yes");
            together.extend(super::edit(facts, circuit, which));
            found.push(together);
        }
    }
    found
}

fn coolant(facts: &Facts, report: &mut Report) {
    let control = &facts.picked.build.control;
    if control.spindle_at_once {
        return;
    }
    let mut waiting = Vec::new();
    if facts.picked.coolant.is_some() && !control.coolant_at_once {
        waiting.push("the cutting coolant");
    }
    let changes = facts.picked.spindle.kind == SpindleKind::ToolChanger;
    if changes && !control.compressor_at_once {
        waiting.push("the tool changer's compressor");
    }
    if !waiting.is_empty() {
        let waiting = say::list(&waiting);
        report.say(
            Severity::Caution,
            format!("the spindle takes turns with {waiting}: while it cuts, that stands"),
        );
    }
}

fn run_coolant(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = set(facts, "spindle_at_once", "yes");
    let mut all = super::edit(facts, "coolant_at_once", "yes");
    all.extend(super::edit(facts, "compressor_at_once", "yes"));
    found.push(all);
    found
}
