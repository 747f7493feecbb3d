//! Where nothing fits: which answers forbid it, and what would be instead.

use super::near::cost_of;
use crate::catalogue::Catalogue;
use crate::explore::find::target::cautions;
use crate::explore::find::{Answer, Relaxed, Target, told as search};
use crate::explore::interview::offers::{Level, Offer, Proposal};
use crate::explore::interview::prompts;
use crate::explore::reading::Measure;
use crate::explore::told::{self, Moved};
use crate::money::{Currency, show as amounts};
use crate::rules::{Finding, Severity};
use crate::units::{self, show};
use crate::words::Words as _;

/// The question on the second circuit.
const CIRCUITS: &str = "circuits";

/// Which answers stand in the way, and how far each would have to give way.
pub(super) fn in_the_way(proposal: &Proposal, offer: &Offer, catalogue: &Catalogue) -> Vec<Moved> {
    let searched = &offer.searched;
    let found = &searched.found;
    let currency = proposal.plan.assessment.bill.currency;
    let second = searched.without.iter().find(|(id, _)| *id == CIRCUITS);
    let second = second.map(|(_, answer)| {
        let cost = cost_of(offer, answer);
        let over = searched.wanted.iter().any(|(target, _)| {
            target.is_money() && !target.is_met(&answer.assessment, &answer.reading)
        });
        let over = if over { ", more than your budget" } else { "" };
        let words = format!(
            "all loads hang on one circuit. With a second one, which a licensed electrician can \
             lay, there is a build for {cost}{over}"
        );
        ("in the way", words)
    });
    let relaxed = found.relaxed.iter().filter_map(|one| {
        let (was, prompt) = searched.wanted.get(one.target)?;
        let words = search::relaxed(was, &one.to, catalogue, currency);
        let cost = cost_of(offer, &one.answer);
        let of = said(*prompt, offer.level);
        Some(("in the way", format!("{of}: {words}; then for {cost}")))
    });
    let is_second = second.is_some();
    let mut lines: Vec<Moved> = second.into_iter().chain(relaxed).collect();
    let is_told = |id: &str| {
        let of = |one: &Relaxed| searched.wanted.get(one.target)?.1;
        found.relaxed.iter().any(|one| of(one) == Some(id))
    };
    let others = searched.without.iter();
    for (id, answer) in others.filter(|(id, _)| *id != CIRCUITS && !is_told(id)) {
        let missed = searched.wanted.iter().filter(|(target, of)| {
            *of == Some(id) && !target.is_met(&answer.assessment, &answer.reading)
        });
        let each: Vec<String> = missed
            .map(|(target, _)| instead(target, answer, catalogue, currency))
            .collect();
        let of = said(Some(id), offer.level);
        let cost = cost_of(offer, answer);
        let words = format!("{of}. Without it, for {cost}: {}", each.join("; "));
        lines.push(("in the way", words));
    }
    // What a second circuit lifts is told with it.
    let fixed = found.fixed.iter().filter(|_| !is_second);
    lines.extend(fixed.map(|finding| {
        let severity = finding.severity.title();
        ("in the way", format!("{severity}: {}", finding.message))
    }));
    if lines.is_empty() && !found.was_stopped() {
        let each = searched.wanted.iter();
        let each: Vec<String> = each
            .map(|(target, _)| search::wanted(target, catalogue, currency))
            .collect();
        let known = match found.is_proven() {
            true => "nothing fits",
            false => "the search found nothing in its time",
        };
        let words = format!(
            "no single answer: also with any one of them given up {known}. Asked is: {}",
            each.join("; ")
        );
        lines.push(("in the way", words));
        let stands = proposal.plan.assessment.findings.iter();
        let stands = stands.filter(|one| one.severity <= Severity::Fault && one.counts());
        let stands: Vec<Finding> = stands.cloned().collect();
        if !stands.is_empty() {
            let words = told::warned(&stands).join("; ");
            lines.push(("", format!("on the usual build stand: {words}")));
        }
    }
    lines
}

/// What a build has instead of a limit that it misses.
fn instead(target: &Target, answer: &Answer, catalogue: &Catalogue, currency: Currency) -> String {
    let wanted = search::wanted(target, catalogue, currency);
    let machine = &answer.assessment.machine;
    let mm = |length| show::number(units::mm::from(length), 0);
    let has = match target {
        Target::Cuts(material, _) => machine.cutting.verdict(material).title().to_owned(),
        Target::Width(_) => format!("{} mm", mm(machine.geometry.footprint.x)),
        Target::Depth(_) => format!("{} mm", mm(machine.geometry.footprint.y)),
        Target::Figure(Measure::Cost, _) => amounts::money(answer.reading.cost.likely, currency),
        Target::Figure(measure, _) => {
            let value = answer.reading.value(*measure);
            value.map_or_else(
                || "nothing".to_owned(),
                |value| {
                    format!(
                        "{} {}",
                        show::number(value.number, value.digits),
                        value.unit
                    )
                },
            )
        }
        Target::Cautions(_) => match cautions(&answer.reading) {
            1 => "1 caution".to_owned(),
            many => format!("{many} cautions"),
        },
        Target::Has(_) => "not on the bill".to_owned(),
        Target::Without(_) => "on the bill".to_owned(),
    };
    format!("{has} instead of {wanted}")
}

/// Whose limit it is.
fn said(prompt: Option<&str>, level: Level) -> String {
    let known = prompts::all().iter().find(|one| Some(one.id) == prompt);
    match known {
        Some(prompt) => format!("your answer on \"{}\"", prompt.short),
        None => format!("what makes it {}", level.title()),
    }
}
