//! Questions and builds as JSON. Counts of combinations are strings: they grow larger than what
//! every reader of JSON holds exactly.

use serde_json::{Value, json};

use super::Desk;
use crate::build::{Build, edit};
use crate::catalogue::Catalogue;
use crate::commands::Failure;
use crate::commands::json::{edits, findings, reading};
use crate::explore::find::FoundBuild;
use crate::explore::interview::{self, Answers, Lesser, Offer, Prompt, Proposal, told};
use crate::rules::Finding;
use crate::units::Shown;
use crate::words::Words as _;

/// Every question with what may be answered.
pub(super) fn list(desk: &Desk) -> Result<Value, Failure> {
    let answers = Answers::default();
    let currency = answers.currency(&desk.catalogue);
    let each = interview::all().iter().map(|prompt| {
        let listed = desk.listed(prompt, &answers)?.into_iter();
        let picks = listed.map(|one| json!({ "id": one.id, "title": one.title }));
        Ok(json!({
            "id": prompt.id,
            "title": prompt.title,
            "why": prompt.why,
            "how": prompt.how(Shown::PLAIN, currency),
            "usual": answers.typed(prompt),
            "picks": picks.collect::<Value>(),
        }))
    });
    each.collect()
}

/// All answers and the builds found for them.
pub(super) fn proposal(proposal: &Proposal, answers: &Answers, catalogue: &Catalogue) -> Value {
    let said = told::answers(answers, catalogue).into_iter();
    let said = said.map(|(prompt, _, given)| answered(prompt, answers, given));
    let offers = proposal.offers.iter();
    let offers = offers.map(|one| offer(proposal, one, answers, catalogue));
    let alike = proposal.alike().into_iter().map(|one| {
        json!({
            "level": one.level.id(),
            "to": one.to.id(),
            "same": one.is_same,
            "more": one.more.to_string(),
        })
    });
    let lesser = proposal.lesser.iter().map(milder);
    json!({
        "answers": said.collect::<Value>(),
        "along": edits(&proposal.plan.along),
        "stopped": proposal.stopped,
        "alike": alike.collect::<Value>(),
        "builds": offers.collect::<Value>(),
        "within_budget": lesser.collect::<Value>(),
    })
}

/// A build that the money buys where answers give way.
fn milder(one: &Lesser) -> Value {
    let gives = one.gives.iter();
    let gives = gives.map(|prompt| json!({ "id": prompt.id, "answer": one.answers.typed(prompt) }));
    json!({
        "gives_way": gives.collect::<Value>(),
        "fits": one.fits(),
        "proven": false,
        "build": build(&one.answer),
    })
}

fn answered(prompt: &Prompt, answers: &Answers, given: bool) -> Value {
    json!({ "id": prompt.id, "answer": answers.typed(prompt), "given": given })
}

fn offer(proposal: &Proposal, offer: &Offer, answers: &Answers, catalogue: &Catalogue) -> Value {
    let searched = &offer.searched;
    let found = &searched.found;
    let targets = searched.wanted.iter();
    let targets = targets.map(|one| json!({ "target": one.target.text(), "question": one.prompt }));
    let relaxed = found.relaxed.iter().map(|one| {
        let was = searched.wanted.get(one.target);
        json!({
            "target": was.map(|was| was.target.text()),
            "question": was.and_then(|was| was.prompt),
            "to": one.to.text(),
            "build": build(&one.answer),
        })
    });
    let without = searched.without.iter();
    let without = without.map(|(id, one)| json!({ "question": id, "build": build(one) }));
    let words = told::offer(proposal, offer, answers, catalogue).into_iter();
    let words = words.map(|(label, words)| json!({ "label": label, "words": words }));
    json!({
        "level": offer.level.id(),
        "targets": targets.collect::<Value>(),
        "frame": edits(&proposal.frame(offer)),
        "combinations": found.space.combinations().to_string(),
        "assessed": found.assessed,
        "proven": found.is_proven(),
        "build": offer.fit().map(build),
        "relaxed": relaxed.collect::<Value>(),
        "without": without.collect::<Value>(),
        "fixed": findings(&found.fixed),
        "words": words.collect::<Value>(),
    })
}

/// A build: what it has other than the usual one, its figures, its warnings.
fn build(answer: &FoundBuild) -> Value {
    let open = answer.assessment.findings.iter().filter(|one| one.counts());
    let open: Vec<Finding> = open.cloned().collect();
    json!({
        "changes": edits(&edit::difference(&Build::default(), &answer.build)),
        "figures": reading(&answer.reading),
        "findings": findings(&open),
    })
}
