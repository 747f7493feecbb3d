//! What is left to warn of, what was mended unasked, and what was assumed.

use crate::catalogue::Catalogue;
use crate::explore::find::FoundBuild;
use crate::explore::interview::answers::Answers;
use crate::explore::interview::cures::counted;
use crate::explore::interview::offers::Offer;
use crate::explore::told::{self, Labelled};
use crate::money::Currency;
use crate::rules::topics::heads;
use crate::rules::{Finding, tally};

use super::answers as every;

/// How many cautions there are, the worst of them, and those that go against an answer.
pub(super) fn cautions(offer: &Offer, answer: &FoundBuild) -> String {
    let open = counted(&answer.assessment.findings);
    let many = match open.len() {
        0 => return "none".to_owned(),
        many => many.to_string(),
    };
    let mut words = many;
    if let Some(worst) = open.first() {
        words.push_str(&format!("; the worst: {}", worst.message));
    }
    let against = offer.against.iter();
    let against = against.map(|(finding, prompt)| {
        format!("{} (your answer on \"{}\")", finding.title(), prompt.short)
    });
    let against: Vec<String> = against.collect();
    if !against.is_empty() {
        words.push_str(&format!(
            "; no remedy that is worth it was found for: {}",
            against.join(", ")
        ));
    }
    words
}

/// The remedies that were made besides what the search chose, what each costs and what it lifts.
pub(super) fn cures(offer: &Offer, currency: Currency, catalogue: &Catalogue) -> Vec<Labelled> {
    let cures = offer.cured.iter().flat_map(|cured| &cured.cures);
    let each = cures.enumerate().map(|(place, cure)| {
        let label = if place == 0 { "remedies" } else { "" };
        let edits = told::edits(catalogue, &cure.edits).join(", ");
        let price = told::price(cure.price, currency);
        let lifts: Vec<String> = cure.lifts.iter().map(Finding::title).collect();
        let lifts = lifts.join(", ");
        let lost = cure.lost.iter().map(|lost| format!("; given up: {lost}"));
        let lost: String = lost.collect();
        (
            label,
            format!("{edits}, which {price} and lifts: {lifts}{lost}"),
        )
    });
    each.collect()
}

/// Where the money does not do: what saves some of it and is no worse to warn of.
pub(super) fn savings(offer: &Offer, currency: Currency, catalogue: &Catalogue) -> Vec<Labelled> {
    let savings = offer.near.iter().flat_map(|near| &near.savings);
    let each = savings.enumerate().map(|(place, (edit, saved))| {
        let label = if place == 0 { "cheaper" } else { "" };
        let edit = told::edits(catalogue, std::slice::from_ref(edit)).join(", ");
        let price = told::price(-saved, currency);
        (
            label,
            format!("{edit}, which by itself {price} and brings no new warning"),
        )
    });
    each.collect()
}

/// What was skipped, with what was assumed for it.
pub fn assumed(answers: &Answers, catalogue: &Catalogue) -> String {
    let all = every(answers, catalogue).into_iter();
    let skipped = all.filter(|(_, _, given)| !given);
    let each = skipped.map(|(prompt, shown, _)| format!("{} {shown}", prompt.short));
    each.collect::<Vec<_>>().join("; ")
}

/// What is left to warn of besides the cautions, which are named one by one.
pub(super) fn warned(findings: &[Finding]) -> String {
    let heads = heads(findings).into_iter().cloned();
    let open: Vec<Finding> = heads.filter(Finding::counts).collect();
    match open.is_empty() {
        true => "none".to_owned(),
        false => format!("{}: {}", tally(&open), told::warned(&open).join("; ")),
    }
}
