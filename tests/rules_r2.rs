//! Every rule keeps what it promises: it fires on its bad example, stays quiet on its good
//! one, speaks with a severity that it declares, and its remedy lifts it.

use std::collections::BTreeSet;
use std::sync::LazyLock;

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::remedy;
use gantrywright::rules::{self, Finding, Rule, Severity};
use gantrywright::store::embedded;
use jiff::civil::{Date, date};

const LONGEST_MESSAGE: usize = 140;

fn today() -> Date {
    date(2026, 11, 25)
}

fn catalogue() -> &'static Catalogue {
    static SHIPPED: LazyLock<Catalogue> = LazyLock::new(|| {
        let mut catalogue = Catalogue::default();
        for file in embedded::catalogue() {
            let file =
                toml::from_str(file.text).unwrap_or_else(|error| panic!("{}: {error}", file.name));
            catalogue.absorb(file);
        }
        catalogue
    });
    &SHIPPED
}

fn edited(build: &Build, choice: &str, value: &str) -> Build {
    Edit::parse(choice, value, catalogue())
        .unwrap_or_else(|error| panic!("{error}"))
        .applied(build)
}

/// The default build with a rule's edits, and its choice set to a value.
fn example(rule: &Rule, value: &str) -> Build {
    let given = rule.example.given.iter();
    let build = given.fold(Build::default(), |build, (choice, value)| {
        edited(&build, choice, value)
    });
    edited(&build, rule.example.choice, value)
}

fn assessed(build: &Build) -> Assessment {
    assess(catalogue(), build, today()).expect("a build of shipped parts")
}

fn of_rule<'a>(assessment: &'a Assessment, rule: &str) -> Vec<&'a Finding> {
    assessment
        .findings
        .iter()
        .filter(|finding| finding.rule == rule)
        .collect()
}

/// Rules that a choice moves; the others have tests beside them.
fn by_choice() -> impl Iterator<Item = &'static Rule> {
    rules::all().filter(|rule| !rule.example.choice.is_empty())
}

#[test]
fn ids_are_words_and_unique() {
    let mut seen = BTreeSet::new();
    for rule in rules::all() {
        assert!(seen.insert(rule.id), "{} twice", rule.id);
        let kebab = rule.id.split('-').all(|word| {
            !word.is_empty()
                && word
                    .bytes()
                    .all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit())
        });
        assert!(kebab, "{} is not kebab-case", rule.id);
    }
}

#[test]
fn every_rule_is_documented() {
    for rule in rules::all() {
        for text in [
            rule.title,
            rule.watches,
            rule.because,
            rule.from,
            rule.instead,
        ] {
            assert!(text.len() > 5, "{}: {text:?}", rule.id);
        }
        assert!(rule.title.len() <= 60, "{}: long title", rule.id);
        assert!(
            rule.instead.ends_with('.'),
            "{}: {:?}",
            rule.id,
            rule.instead
        );
        assert!(
            !rule.reads.is_empty() && !rule.severities.is_empty(),
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
fn every_rule_fires_on_its_bad_example_and_is_quiet_on_its_good_one() {
    let mut wrong = Vec::new();
    for rule in by_choice() {
        if of_rule(&assessed(&example(rule, rule.example.fires)), rule.id).is_empty() {
            wrong.push(format!("{} does not fire", rule.id));
        }
        let quiet = assessed(&example(rule, rule.example.quiet));
        if let [found, ..] = of_rule(&quiet, rule.id)[..] {
            wrong.push(format!("{} is not quiet: {}", rule.id, found.message));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn findings_keep_to_their_rule() {
    for rule in by_choice() {
        for found in of_rule(&assessed(&example(rule, rule.example.fires)), rule.id) {
            assert!(
                rule.severities.contains(&found.severity),
                "{}: {:?}",
                rule.id,
                found.severity
            );
            assert_eq!(found.step, rule.step, "{}", rule.id);
            let length = found.message.chars().count();
            assert!(
                length <= LONGEST_MESSAGE,
                "{}: {length} in {:?}",
                rule.id,
                found.message
            );
            assert!(
                !found.message.ends_with('.'),
                "{}: {:?}",
                rule.id,
                found.message
            );
        }
    }
}

/// Rules whose example no choice can heal without something as bad.
#[test]
fn remedies_lift_what_they_are_for() {
    for rule in by_choice() {
        let build = example(rule, rule.example.fires);
        let before = assessed(&build);
        for found in of_rule(&before, rule.id) {
            let edits = remedy::remedy(catalogue(), &build, &before, found, today());
            let none_known = (rule.remedies as usize) == (rules::no_remedy as usize);
            println!(
                "{} {}: {} -> {edits:?}",
                found.severity as u8, rule.id, found.message
            );
            assert!(
                none_known || !edits.is_empty(),
                "{}: no remedy for {:?}",
                rule.id,
                found.message
            );
            let mut changed = build.clone();
            edits.iter().for_each(|edit| edit.apply(&mut changed));
            let still = assessed(&changed);
            let lifted = !of_rule(&still, rule.id)
                .iter()
                .any(|other| other.axis == found.axis);
            assert!(
                edits.is_empty() || lifted,
                "{}: {edits:?} does not lift it",
                rule.id
            );
        }
    }
}

#[test]
fn the_default_build_has_no_danger_and_no_fault() {
    let findings = assessed(&Build::default()).findings;
    let bad: Vec<_> = findings
        .iter()
        .filter(|found| found.severity <= Severity::Fault)
        .collect();
    assert!(bad.is_empty(), "{bad:#?}");
}
