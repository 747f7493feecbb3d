//! What was ordered and what arrived: too early, too late, broken, or not yet tried.

use super::purchases::{first_and_rest, short};
use super::say;
use super::{Example, Fact, Facts, Report, Rule, Severity};
use crate::bill::Line;
use crate::build::purchases::Status;
use crate::catalogue::{Step, Text};

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "ordered-too-early",
        title: "Ordered before it could be measured",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "Parts that were ordered or paid for while the stage they must be measured against is not here. The purchases in the build decide it, not choices.",
        because: "A tube that is cut or a cabinet that is drilled by the drawing, before the real parts were measured, is often bought twice.",
        from: "The stages of buying and what each waits for: common practice.",
        instead: "Ask the supplier to wait until you have measured what arrived, or check the drawings of its mates first.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: too_early,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "part-faulty",
        title: "A part is faulty",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "Parts whose status in the build is faulty. The purchases in the build decide it, not choices.",
        because: "The time to complain or to send it back runs from the day it arrived, and what must be measured against it waits.",
        from: "The purchases in the build.",
        instead: "Complain in writing now; once it is settled, note the replacement as ordered, or the order as cancelled.",
        reads: &[Fact::Bill],
        decided_by: Some(&[]),
        check: faulty,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "second-hand-untested",
        title: "Second-hand and untested",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Second-hand parts that nobody has checked yet. Offers and purchases decide it, not choices.",
        because: "A used rail may be worn and a used spindle noisy or badly insulated, and a private seller often takes nothing back.",
        from: "Second-hand marks of offers and price books: common practice.",
        instead: "Agree on a time to send it back, and try it before that ends; have the insulation of mains parts tested before power goes on.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: untested,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "delivery-late",
        title: "A delivery is late",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Parts that are ordered and whose expected day is past. Dates decide it, not choices.",
        because: "What must be measured against them waits too, and a lost parcel has to be reported in time.",
        from: "Expected day < today, and not all of it is here.",
        instead: "Ask the supplier where it is, and note the new day or what arrived.",
        reads: &[Fact::Bill],
        decided_by: Some(&[]),
        check: late,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
];

/// Whether a part is bought and may still have to be measured.
fn is_early(line: &Line) -> bool {
    let looked_at = matches!(
        line.status,
        Status::HaveIt | Status::Checked | Status::Fitted | Status::Cancelled
    );
    !looked_at && !line.buy.is_zero() && (line.status.is_committed() || !line.paid.is_zero())
}

fn too_early(facts: &Facts, report: &mut Report) {
    let lines = &facts.bill.lines;
    let stages = &facts.bill.ordering.stages;
    // An answer that is still open is nothing that parts are measured against.
    let is_open = |title: &str| stages.iter().any(|one| one.asks() && one.title == title);
    for stage in stages {
        let own = stage.lines.iter().filter_map(|&place| lines.get(place));
        let early = own.filter(|line| is_early(line));
        let named = early.map(|line| short(facts, &line.part).to_owned());
        let Some(named) = first_and_rest(named) else {
            continue;
        };
        let awaited = stage.waits_for.iter().filter(|title| !is_open(title));
        let awaited: Vec<&str> = awaited.map(Text::as_str).collect();
        let awaited = match awaited.as_slice() {
            [] => continue,
            [only] => (*only).to_owned(),
            [first, rest @ ..] => {
                format!("{first}, {}", say::count(rest.len() as u32, "other stage"))
            }
        };
        report.say(
            Severity::Caution,
            format!("ordered or paid: {named}; not all here yet: {awaited}"),
        );
    }
}

fn faulty(facts: &Facts, report: &mut Report) {
    let parts = facts.picked.build.purchases.parts.iter();
    let bad = parts.filter(|(_, one)| one.status() == Status::Faulty);
    let named = bad.map(|(id, _)| short(facts, id).to_owned());
    if let Some(named) = first_and_rest(named) {
        report.say(
            Severity::Caution,
            format!("faulty: {named}; complain or send it back in time"),
        );
    }
}

fn untested(facts: &Facts, report: &mut Report) {
    let untested = |line: &&Line| {
        let known = matches!(
            line.status,
            Status::HaveIt | Status::Checked | Status::Faulty | Status::Fitted | Status::Cancelled
        );
        let used = line.price.as_ref().is_some_and(|price| price.used);
        used && !known && !line.buy.is_zero()
    };
    let lines = facts.bill.lines.iter().filter(untested);
    let named = lines.map(|line| short(facts, &line.part).to_owned());
    if let Some(named) = first_and_rest(named) {
        report.say(
            Severity::Hint,
            format!("second-hand: {named}; test before the time to send it back ends"),
        );
    }
}

fn late(facts: &Facts, report: &mut Report) {
    let parts = facts.picked.build.purchases.parts.iter();
    let late = parts.filter_map(|(id, one)| {
        let waited = matches!(one.status(), Status::Ordered | Status::PartArrived);
        let day = one.expected.filter(|day| waited && *day < facts.today)?;
        Some(format!("{} ({day})", short(facts, id)))
    });
    if let Some(named) = first_and_rest(late) {
        report.say(
            Severity::Hint,
            format!("the day it was expected is past: {named}"),
        );
    }
}
