//! What holds of every rule: it is documented, its example straddles its threshold, its
//! remedy lifts it and brings nothing worse, and over many random builds it both fires and
//! stays quiet.

use crate::common;
use std::collections::{BTreeMap, BTreeSet};

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Edit, Kind, choices};
use gantrywright::catalogue::{Catalogue, Step};
use gantrywright::explore::remedy::remedy;
use gantrywright::rules::{self, Finding, Rule, Severity};
use gantrywright::words::Words;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

fn findings_of<'a>(rule: &Rule, assessment: &'a Assessment) -> Vec<&'a Finding> {
    assessment
        .findings
        .iter()
        .filter(|finding| finding.rule == rule.id)
        .collect()
}

/// The example's build with its choice set to a value.
fn example(catalogue: &Catalogue, rule: &Rule, value: &str) -> Build {
    let mut edits = rule.example.given.to_vec();
    edits.push((rule.example.choice, value));
    common::build(catalogue, &edits)
}

fn assessed(catalogue: &Catalogue, build: &Build) -> Assessment {
    assess(catalogue, build, common::today()).expect("an assessment")
}

#[test]
fn there_are_enough_rules_in_every_step() {
    let rules: Vec<&Rule> = rules::all().collect();
    assert!(rules.len() >= 45, "{} rules", rules.len());
    for &step in Step::ALL {
        assert!(
            rules.iter().filter(|rule| rule.step == step).count() >= 3,
            "{step:?}"
        );
    }
}

#[test]
fn every_rule_is_documented_and_unique() {
    let mut seen = BTreeSet::new();
    for rule in rules::all() {
        assert!(seen.insert(rule.id), "{} twice", rule.id);
        let kebab = rule
            .id
            .bytes()
            .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-');
        assert!(kebab, "{}", rule.id);
        for text in [
            rule.title,
            rule.watches,
            rule.because,
            rule.from,
            rule.instead,
        ] {
            assert!(text.len() > 10, "{}: {text:?}", rule.id);
        }
        assert!(
            rule.title.chars().count() <= 60,
            "{}: {}",
            rule.id,
            rule.title
        );
        assert!(
            !rule.severities.is_empty() && !rule.reads.is_empty(),
            "{}",
            rule.id
        );
        assert!(
            rule.severities.is_sorted(),
            "{}: worst severity first",
            rule.id
        );
    }
}

#[test]
fn every_example_straddles_its_threshold() {
    let catalogue = common::catalogue();
    let mut wrong = Vec::new();
    for rule in rules::all().filter(|rule| !rule.example.is_by_data()) {
        let fires = assessed(&catalogue, &example(&catalogue, rule, rule.example.fires));
        let found = findings_of(rule, &fires);
        if found.is_empty() {
            wrong.push(format!("{} does not fire on its example", rule.id));
        }
        for finding in found {
            assert!(rule.severities.contains(&finding.severity), "{}", rule.id);
            let message = &finding.message;
            if message.ends_with('.') || message.len() <= 15 {
                wrong.push(format!("{}: {message}", rule.id));
            }
        }
        let quiet = assessed(&catalogue, &example(&catalogue, rule, rule.example.quiet));
        if let Some(still) = findings_of(rule, &quiet).first() {
            wrong.push(format!(
                "{} fires on its quiet example: {}",
                rule.id, still.message
            ));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Two numbers straddle closely: within a fifth of the larger, or one step of the choice.
#[test]
fn numbers_of_examples_lie_close_to_the_threshold() {
    for rule in rules::all() {
        let example = &rule.example;
        let (Ok(fires), Ok(quiet)) = (example.fires.parse::<f64>(), example.quiet.parse::<f64>())
        else {
            continue;
        };
        let choice = choices::find(example.choice).expect("a choice");
        let Kind::Number(kind) = choice.kind else {
            continue;
        };
        let apart = (fires - quiet).abs();
        let close = apart <= 0.2 * fires.abs().max(quiet.abs()) || apart <= kind.step + 1e-9;
        assert!(close, "{}: {fires} and {quiet}", rule.id);
    }
}

/// The remedy of the example, where a choice can lift it, and of findings in random builds.
#[test]
fn a_remedy_lifts_its_finding_and_brings_nothing_worse() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(7);
    let mut builds: Vec<Build> = rules::all()
        .filter(|rule| !rule.example.is_by_data())
        .map(|rule| example(&catalogue, rule, rule.example.fires))
        .collect();
    for share in [0.05, 0.3, 1.0] {
        builds.extend((0..12).map(|_| common::random_build(&catalogue, &mut rng, share)));
    }
    let mut lifted = 0;
    for build in builds {
        let before = assessed(&catalogue, &build);
        let bench = common::bench(&catalogue, &build, &before);
        for finding in &before.findings {
            let edits = remedy(&bench, finding);
            if edits.is_empty() {
                continue;
            }
            lifted += 1;
            let mut mended = build.clone();
            edits.iter().for_each(|edit: &Edit| edit.apply(&mut mended));
            let after = assessed(&catalogue, &mended);
            let gone = !after
                .findings
                .iter()
                .any(|f| f.rule == finding.rule && f.axis == finding.axis);
            assert!(gone, "{} stays after {edits:?}", finding.rule);
            // As many of each rule and axis, at most, as were there before, for everything as
            // bad as what was lifted: what it brings may only be milder.
            let count = |a: &Assessment, f: &Finding| {
                let alike = |g: &&Finding| (&g.rule, g.axis) == (&f.rule, f.axis);
                a.findings
                    .iter()
                    .filter(alike)
                    .filter(|g| g.severity <= finding.severity)
                    .count()
            };
            for new in after
                .findings
                .iter()
                .filter(|new| new.severity <= finding.severity)
            {
                assert!(
                    count(&after, new) <= count(&before, new),
                    "{edits:?} lifts {} and brings {}",
                    finding.rule,
                    new.rule
                );
            }
        }
    }
    assert!(lifted > 60, "only {lifted} remedies");
}

#[test]
fn over_ten_thousand_random_builds_each_rule_fires_and_each_follower_follows() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(11);
    let mut fired: BTreeMap<&str, u32> = rules::all().map(|rule| (rule.id, 0)).collect();
    let mut unseen: BTreeSet<(&str, &str)> = rules::pairs().collect();
    const BUILDS: u32 = 10_000;
    for place in 0..BUILDS {
        let share = [0.05, 0.3, 1.0][place as usize % 3];
        let build = common::random_build(&catalogue, &mut rng, share);
        let assessment = assessed(&catalogue, &build);
        let ids: BTreeSet<&str> = assessment
            .findings
            .iter()
            .filter_map(|finding| finding.rule.built_in())
            .collect();
        unseen.retain(|(cause, follower)| !brings(&assessment.findings, cause, follower));
        for id in ids {
            *fired.entry(id).or_default() += 1;
        }
    }
    let odd: Vec<_> = fired
        .iter()
        .filter(|(_, count)| **count == 0 || **count == BUILDS)
        // Prices and the day decide some, not choices; their documentation must say so.
        .filter(|(id, _)| {
            let excused = |rule: &Rule| {
                rule.watches.contains("not choices")
                    || rule.watches.contains("Hardly any build meets it")
            };
            rules::find(id).is_some_and(|rule| !excused(rule))
        })
        .collect();
    assert!(odd.is_empty(), "always or never: {odd:?}");
    assert!(unseen.is_empty(), "never follow: {unseen:?}");
}

/// Whether both rules fire, on the same axis or one of them on the whole machine, the cause
/// as badly at least as what follows.
fn brings(findings: &[Finding], cause: &str, follower: &str) -> bool {
    let of = |id: &'_ str| findings.iter().filter(move |one| one.rule == id).collect();
    let (causes, followers): (Vec<&Finding>, Vec<&Finding>) = (of(cause), of(follower));
    causes.iter().any(|cause| {
        followers.iter().any(|one| {
            let alike = cause.axis == one.axis || cause.axis.is_none() || one.axis.is_none();
            alike && cause.severity <= one.severity
        })
    })
}

#[test]
fn the_default_build_is_sound() {
    let catalogue = common::catalogue();
    let assessment = assessed(&catalogue, &Build::default());
    let bad: Vec<_> = assessment
        .findings
        .iter()
        .filter(|finding| finding.severity <= Severity::Fault)
        .collect();
    assert!(bad.is_empty(), "{bad:#?}");
}

/// The same build, priced by other books and assessed on another day.
#[test]
fn rules_about_prices_follow_the_books_and_the_day() {
    let mut catalogue = common::catalogue();
    let build = Build::default();
    let has = |catalogue: &Catalogue, day, id: &str| {
        let assessment = assess(catalogue, &build, day).expect("an assessment");
        assessment.findings.iter().any(|finding| finding.rule == id)
    };
    assert!(has(&catalogue, common::today(), "prices-invented"));
    assert!(!has(&catalogue, common::today(), "price-missing"));
    for book in catalogue.price_books.values_mut() {
        book.basis = gantrywright::catalogue::prices::Basis::Quote;
        book.prices.shift_remove("chain-25x57");
    }
    // Of 2026-11-01: more than 60 days later is 2027-01-01 (common practice).
    assert!(!has(
        &catalogue,
        jiff::civil::date(2026, 12, 31),
        "price-stale"
    ));
    assert!(has(
        &catalogue,
        jiff::civil::date(2027, 1, 1),
        "price-stale"
    ));
    assert!(!has(&catalogue, common::today(), "prices-invented"));
    assert!(has(&catalogue, common::today(), "price-missing"));
}
