//! The remedies that the interview makes unasked, and what it writes down, each held against a
//! fresh `assess`.

use std::sync::LazyLock;

use crate::common::{catalogue, today};
use crate::interview_money::{GARAGE, proposed};
use crate::talk::{answers, free};
use gantrywright::assessment::assess;
use gantrywright::build::{Build, choices, edit};
use gantrywright::explore::find::target::cautions;
use gantrywright::explore::interview::cures::against;
use gantrywright::explore::interview::{Limit, Proposal, told};
use gantrywright::explore::reading::Reading;
use gantrywright::rules::Severity;
use rust_decimal::Decimal;

static FOUND: LazyLock<Proposal> =
    LazyLock::new(|| proposed(&catalogue(), GARAGE, &["cabinet", "motor_cable"]));

/// No single option of what may be changed would lift a caution for next to nothing and bring no
/// other: such a change was made, on one axis after the other.
#[test]
fn no_cheap_change_is_left_that_lifts_a_caution() {
    let catalogue = catalogue();
    let more = [
        "supply",
        "drive_x",
        "driver_x",
        "driver_y",
        "motor_cable",
        "switch_cable",
    ];
    let found = proposed(&catalogue, GARAGE, &more);
    let mut tried = free();
    tried.extend(more.iter().map(|id| choices::find(id).expect("a choice")));
    let many = |of: &[gantrywright::rules::Finding]| {
        let open = of.iter();
        open.filter(|one| one.severity == Severity::Caution && one.counts())
            .count()
    };
    let weak = |build: &gantrywright::explore::find::FoundBuild| {
        let mut open = build.assessment.findings.iter();
        open.any(|one| one.rule == "driver-below-motor-current")
    };
    assert!(weak(found.offers[0].searched.answer().expect("a build")));
    for offer in &found.offers {
        let fit = offer.fit().expect("a build");
        assert!(!weak(fit), "{:?}", offer.level);
        let cost = fit.reading.cost.likely;
        for choice in &tried {
            for value in choice.options(&catalogue) {
                let mut build = fit.build.clone();
                choice.put(&mut build, &value);
                let Ok(after) = assess(&catalogue, &build, today()) else {
                    continue;
                };
                let reading = Reading::of(&after);
                let price = (reading.cost.likely - cost) * Decimal::from(500);
                let mut limits = offer.searched.wanted.iter();
                let keeps = limits.all(|one| one.target.is_met(&after, &reading));
                let brings = after.findings.iter().any(|one| {
                    let mut known = fit.assessment.findings.iter();
                    one.severity == Severity::Caution
                        && known.all(|known| (&known.rule, known.axis) != (&one.rule, one.axis))
                });
                let better = price <= cost
                    && keeps
                    && !brings
                    && !after.is_unsound()
                    && cautions(&reading) <= cautions(&fit.reading)
                    && many(&after.findings) < many(&fit.assessment.findings);
                assert!(!better, "{:?}: {} = {value}", offer.level, choice.id);
            }
        }
    }
}

/// An offered build has no danger and no fault, is no dearer than what its remedies say, and each
/// of these lifts a caution, leaving every limit and answer.
#[test]
fn remedies_lift_cautions_and_keep_all_limits() {
    let catalogue = catalogue();
    let said = answers(&catalogue, GARAGE);
    for offer in &FOUND.offers {
        let found = offer.searched.answer().expect("a build");
        let cured = offer.cured.as_ref().expect("a remedy");
        let fresh = assess(&catalogue, &cured.answer.build, today()).expect("assessed");
        let reading = Reading::of(&fresh);
        assert!(!fresh.is_unsound());
        for Limit { target, .. } in &offer.searched.wanted {
            assert!(target.is_met(&fresh, &reading), "{target:?}");
        }
        for edit in said.edits() {
            assert_eq!((edit.choice.get)(&cured.answer.build), edit.value);
        }
        // What is wrong on two axes is lifted on each of them.
        let open = |of: &[gantrywright::rules::Finding]| {
            let each = of.iter();
            each.filter(|one| one.severity == Severity::Caution && one.counts())
                .count()
        };
        let lifted = open(&found.assessment.findings) - open(&fresh.findings);
        assert!(lifted >= cured.cures.len(), "{lifted}: {:?}", cured.cures);
        assert!(cautions(&reading) <= cautions(&found.reading));
        let price: Decimal = cured.cures.iter().map(|cure| cure.price).sum();
        let more = reading.cost.likely - found.reading.cost.likely;
        assert_eq!(price, more);
        assert!(more * Decimal::from(5) < found.reading.cost.likely);
        let lines = told::offer(&FOUND, offer, &said, &catalogue);
        let line = |name: &str| lines.iter().find(|(label, _)| *label == name);
        let (_, words) = line("cautions").expect("a count");
        assert!(
            words.starts_with(&cautions(&reading).to_string()),
            "{words}"
        );
        assert!(line("remedies").is_some() && line("assumed").is_some());
    }
}

/// What a room that freezes needs is there, and what else stands against an answer is named.
#[test]
fn no_caution_goes_against_an_answer_unsaid() {
    let catalogue = catalogue();
    let said = answers(&catalogue, GARAGE);
    for offer in &FOUND.offers {
        let build = offer.fit().expect("a build");
        for finding in &build.assessment.findings {
            assert_ne!(finding.rule, "cooling-water-freezes");
            if finding.severity != Severity::Caution || !finding.counts() || finding.cause.is_some()
            {
                continue;
            }
            let prompt = against(&build.build, finding, &said, &catalogue, today());
            let told = offer
                .against
                .iter()
                .any(|(one, _)| one.rule == finding.rule);
            assert_eq!(prompt.is_some(), told, "{}", finding.rule);
        }
    }
}

/// Whoever opens the file later reads what was only assumed.
#[test]
fn what_was_skipped_stands_in_the_build() {
    let taken = FOUND.taken(FOUND.offers[0].level).expect("a build");
    assert!(
        taken.note.contains("assumed, not asked: "),
        "{}",
        taken.note
    );
    assert!(taken.note.contains("second circuit") && !taken.note.contains("frost"));
    assert!(!edit::difference(&Build::default(), &taken).is_empty());
}
