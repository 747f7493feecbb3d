//! Measured values: whether they can be true, and how far the model was off.

use super::remedy::set;
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::build::Axis;
use crate::build::pick::TubeWall;
use crate::catalogue::Step;
use crate::units;

/// How far model and measurement may lie apart before one of them is doubted (common
/// practice: stiffness and stall speed are known to about a quarter).
const FAR_OFF: f64 = 0.25;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "measured-wall-impossible",
        title: "Measured wall is not this tube's",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The measured wall of a tube against the wall in its name.",
        because: "The value is left out of every figure: another tube was measured, or the wrong one chosen.",
        from: "More than 30 % apart: three times what EN 10219-2:2006, Table 2 allows up to 5 mm.",
        instead: "Measure again at a cut end, away from weld and corners, or choose the tube that arrived.",
        reads: &[Fact::Frame],
        decided_by: Some(&[]),
        check: impossible,
        remedies: forget,
        example: Example {
            given: &[],
            choice: "measured_beam_wall_mm",
            fires: "5.3",
            quiet: "5.1",
        },
    },
    Rule {
        id: "model-far-off",
        title: "Model and measurement far apart",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Each measured value against what the model says.",
        because: "The measured value is used; but what else the model says of the same thing is as far off.",
        from: "More than a quarter apart: common practice.",
        instead: "Measure once more. If it holds, look for what differs from the choices: joints, preload, supply, load.",
        reads: &[Fact::Axes, Fact::Frame, Fact::Mains],
        decided_by: None,
        check: far_off,
        remedies: super::no_remedy,
        example: Example {
            given: &[],
            choice: "measured_current_a",
            fires: "9.4",
            quiet: "10",
        },
    },
];

fn walls(facts: &Facts) -> [(TubeWall, Option<units::Length>, &'static str, &'static str); 2] {
    let (picked, measured) = (facts.picked, &facts.picked.build.measured);
    [
        (
            picked.beam_wall,
            measured.beam_wall,
            "beam",
            "measured_beam_wall_mm",
        ),
        (
            picked.base_wall,
            measured.base_wall,
            "base",
            "measured_base_wall_mm",
        ),
    ]
}

fn impossible(facts: &Facts, report: &mut Report) {
    for (wall, measured, name, _) in walls(facts) {
        if let (Some(measured), None) = (measured, wall.measured) {
            let message = format!(
                "{name} tube: a measured wall of {} cannot be the {} of its name; it is not used",
                say::mm(measured, 2),
                say::mm(wall.named, 2)
            );
            report.say(Severity::Caution, message);
        }
    }
}

fn forget(facts: &Facts, _: Option<Axis>) -> Remedies {
    let wrong = walls(facts)
        .into_iter()
        .filter(|(wall, measured, ..)| measured.is_some() && wall.measured.is_none());
    let edits = wrong
        .flat_map(|(.., choice)| set(facts, choice, "none"))
        .flatten();
    vec![edits.collect()]
}

fn far_off(facts: &Facts, report: &mut Report) {
    for compared in &facts.machine.measured {
        let off = units::share::from(compared.off());
        if off.abs() > FAR_OFF {
            let message = format!(
                "{}: measured {}, the model says {}",
                compared.title, compared.measured, compared.modelled
            );
            report.say(Severity::Hint, message);
        }
    }
}
