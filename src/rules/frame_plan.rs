//! Whether every piece of the frame plan can be made at the machine's size.

use super::guides::rail_in_hand;
use super::remedy::{in_turn, options_where, set};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity, decided};
use crate::build::Axis;
use crate::build::value::NONE;
use crate::catalogue::{Id, Step};

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[Rule {
    id: "frame-plan-impossible",
    title: "A piece of the frame cannot be made",
    severities: &[Severity::Fault],
    step: Step::WorkingArea,
    watches: "The length of every steel member and the sides of every plate, as the frame plan works them out. Hardly any build meets it: with the shipped plans only a rail in hand of a few centimetres does.",
    because: "A piece without length cannot be cut. It is left out of cut list, bill and masses, so that they are wrong.",
    from: "Length = what the piece follows, plus what the plan adds, less the tubes that it stands between; above zero.",
    instead: "Take longer rails or narrower tubes, or change the piece in the frame plan.",
    reads: &[Fact::Frame, Fact::Geometry],
    decided_by: Some(decided::RAIL),
    check: impossible,
    remedies: impossible_remedies,
    example: Example {
        given: &[("base_tube", "tube-120x120x4")],
        choice: "rail_length_x_mm",
        fires: "60",
        quiet: "65",
    },
}];

fn impossible(facts: &Facts, report: &mut Report) {
    for piece in &facts.machine.geometry.impossible {
        let message = format!(
            "{} {}: the frame plan gives it a length or width of {}",
            piece.mark,
            piece.title,
            say::mm(piece.measure, 0)
        );
        report.say(Severity::Fault, message);
    }
}

fn impossible_remedies(facts: &Facts, _: Option<Axis>) -> Remedies {
    let cut_to_need = Axis::EACH.map(|axis| set(facts, &rail_in_hand(axis), NONE));
    let now = facts.picked.base_tube;
    let narrower = |id: &Id| {
        let tube = facts.picked.catalogue.tubes.get(id);
        tube.is_some_and(|tube| tube.width < now.width)
    };
    let narrower = options_where(facts, "base_tube", narrower);
    in_turn(cut_to_need.into_iter().chain([narrower]))
}
