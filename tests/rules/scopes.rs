//! What rules say of the choices that decide them: whatever else is changed in drive, spindle
//! and control, their findings stay.
//!
//! A search learns from these lists, so one that lacks a choice would make it wrong. Pairs of
//! builds differ in some choices of chance; every rule that names none of those must find the
//! same in both. Pairs that differ in a single one of a rule's choices show whether the test
//! would notice, were just that one not in the list.

use crate::common;
use std::collections::{BTreeMap, BTreeSet};

use gantrywright::assessment::assess;
use gantrywright::build::{Axis, Build, Choice, Edit, choices};
use gantrywright::catalogue::{Catalogue, Step};
use gantrywright::rules::{self, Rule, Severity};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Pairs of builds, where the environment does not ask for more.
const PAIRS: usize = 1500;

/// Where a finding can stand.
const PLACES: [Option<Axis>; 4] = [None, Some(Axis::X), Some(Axis::Y), Some(Axis::Z)];

/// A rule and one of the choices that decide it.
type Aim = (&'static str, &'static str);

/// How severe the findings of a rule are in one place.
type Found = BTreeMap<(&'static str, Option<Axis>), Vec<Severity>>;

/// A rule in one place with the choices that decide it.
struct Scope {
    rule: &'static Rule,
    axis: Option<Axis>,
    choices: BTreeSet<&'static str>,
}

/// What the pairs showed.
#[derive(Default)]
struct Seen {
    /// Findings that changed though none of their choices did.
    wrong: BTreeSet<String>,
    /// Rules with the one of their choices that alone changed, and a finding with it.
    alone: BTreeSet<Aim>,
    /// Scopes of which nothing changed, over all pairs.
    held: usize,
}

/// The choices that a search is free in: what is measured is not chosen.
fn free() -> Vec<&'static Choice> {
    let steps = [Step::Drive, Step::Spindle, Step::Control];
    let chosen = |choice: &&Choice| !choice.id.starts_with("measured_");
    let all = choices::all().iter().filter(chosen);
    all.filter(|choice| steps.contains(&choice.step)).collect()
}

fn found(catalogue: &Catalogue, build: &Build) -> Found {
    let mut found = Found::new();
    let assessment = assess(catalogue, build, common::today()).expect("an assessment");
    for finding in &assessment.findings {
        let rule = finding.rule.built_in().expect("a rule of the program");
        let place = found.entry((rule, finding.axis)).or_default();
        place.push(finding.severity);
        place.sort();
    }
    found
}

/// Every declared rule in every place, as far as it holds in a build.
fn scopes(build: &Build) -> Vec<Scope> {
    let places = rules::all().flat_map(|rule| PLACES.map(|axis| (rule, axis)));
    let scope = |(rule, axis): (&'static Rule, _)| {
        let choices = rule.deciders_in(axis, build)?;
        let choices = choices.iter().map(|choice| choice.id).collect();
        Some(Scope {
            rule,
            axis,
            choices,
        })
    };
    places.filter_map(scope).collect()
}

/// One of the two builds on either side of a rule's threshold.
fn example(catalogue: &Catalogue, rule: &Rule, rng: &mut ChaCha8Rng) -> Build {
    let example = &rule.example;
    let mut edits = example.given.to_vec();
    if !example.is_by_data() {
        let value = [example.fires, example.quiet][rng.random_range(0..2)];
        edits.push((example.choice, value));
    }
    common::build(catalogue, &edits)
}

/// Gives some choices other values, and tells which really changed.
fn change(
    catalogue: &Catalogue,
    build: &Build,
    some: &[&'static Choice],
    rng: &mut ChaCha8Rng,
) -> (Build, BTreeSet<&'static str>) {
    let mut other = build.clone();
    for choice in some {
        if let Some(value) = common::random_value(choice, catalogue, rng, build) {
            Edit { choice, value }.apply(&mut other);
        }
    }
    let differs = |choice: &&&'static Choice| (choice.get)(build) != (choice.get)(&other);
    let changed = some.iter().filter(differs).map(|choice| choice.id);
    let changed = changed.collect();
    (other, changed)
}

/// A build to start from for a rule: one of chance, one that is shipped, or most often one
/// near its threshold, stirred so that each of its choices comes to decide now and then.
fn base(catalogue: &Catalogue, rule: &Rule, rng: &mut ChaCha8Rng) -> Build {
    let share = [0.05, 0.3, 1.0][rng.random_range(0..3)];
    match rng.random_range(0..8) {
        0 => return common::random_build(catalogue, rng, share),
        1 => {
            let shipped = gantrywright::store::examples::all();
            let one = &shipped[rng.random_range(0..shipped.len())];
            return one.build(catalogue).expect("an example");
        }
        _ => {}
    }
    let build = example(catalogue, rule, rng);
    let own = choices_of(rule, &scopes(&build));
    let (mine, other) = (
        [0.0, 0.3, 0.7][rng.random_range(0..3)],
        [0.0, 0.1, 0.3][rng.random_range(0..3)],
    );
    let mut some: Vec<&Choice> = choices::all().iter().collect();
    some.retain(|choice| rng.random_bool(if own.contains(choice.id) { mine } else { other }));
    change(catalogue, &build, &some, rng).0
}

/// The choices that decide a rule in any place.
fn choices_of(rule: &Rule, scopes: &[Scope]) -> BTreeSet<&'static str> {
    let own = scopes.iter().filter(|scope| scope.rule.id == rule.id);
    own.flat_map(|scope| scope.choices.iter().copied())
        .collect()
}

/// The most choices that a list has which names one by one what a rule reads. Longer ones name
/// whole groups, such as all that decides how an axis moves, and may hold what does no harm.
const CLOSE: usize = 18;

/// Every rule with a close list, and each of its choices.
fn named() -> BTreeSet<Aim> {
    let scopes = scopes(&Build::default());
    let close = scopes.iter().filter(|scope| scope.choices.len() <= CLOSE);
    let each = close.flat_map(|scope| {
        let choices = scope.choices.iter().copied();
        choices.map(|choice| (scope.rule.id, choice))
    });
    each.collect()
}

/// Compares so many pairs of builds: mostly for what none has shown yet, or for one choice
/// alone that is dropped from the list of its rule.
fn compare(catalogue: &Catalogue, pairs: usize, seed: u64, dropped: Option<Aim>) -> Seen {
    const EACH: usize = 6;
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let (free, named) = (free(), named());
    let mut seen = Seen::default();
    for place in 0..pairs / EACH {
        let mut aims: Vec<_> = named.iter().copied().collect();
        if !place.is_multiple_of(3) {
            aims.retain(|aim| !seen.alone.contains(aim));
        }
        let drawn = aims.get(rng.random_range(0..aims.len().max(1))).copied();
        let Some((rule, one)) = dropped.or(drawn) else {
            continue;
        };
        let rule = rules::find(rule).expect("a rule");
        let base = base(catalogue, rule, &mut rng);
        let (before, mut scopes) = (found(catalogue, &base), scopes(&base));
        let own = choices_of(rule, &scopes);
        if dropped.is_some() {
            for scope in scopes.iter_mut().filter(|scope| scope.rule.id == rule.id) {
                scope.choices.remove(one);
            }
        }
        for _ in 0..EACH {
            let share = [0.0, 0.05, 0.3, 0.9][rng.random_range(0..4)];
            let mut some = free.clone();
            some.retain(|choice| {
                choice.id == one || (!own.contains(choice.id) && rng.random_bool(share))
            });
            let (other, changed) = change(catalogue, &base, &some, &mut rng);
            let after = found(catalogue, &other);
            for scope in &scopes {
                seen.take(scope, &changed, &before, &after);
            }
        }
    }
    seen
}

impl Seen {
    fn take(
        &mut self,
        scope: &Scope,
        changed: &BTreeSet<&'static str>,
        before: &Found,
        after: &Found,
    ) {
        let place = (scope.rule.id, scope.axis);
        let same = before.get(&place) == after.get(&place);
        let own: Vec<_> = scope.choices.intersection(changed).collect();
        match own.as_slice() {
            [] if same => self.held += 1,
            [] => {
                let wrong = format!("{place:?} by one of {changed:?}");
                self.wrong.insert(wrong);
            }
            [one] if !same => {
                self.alone.insert((scope.rule.id, one));
            }
            _ => {}
        }
    }
}

fn asked() -> usize {
    let asked = std::env::var("RULE_SCOPES_PAIRS").ok();
    asked.and_then(|text| text.parse().ok()).unwrap_or(PAIRS)
}

/// More pairs: `RULE_SCOPES_PAIRS=200000 cargo test --release --test rules scopes::`.
#[test]
fn what_a_rule_does_not_name_changes_none_of_its_findings() {
    let catalogue = common::catalogue();
    let pairs = asked();
    let seen = compare(&catalogue, pairs, 61, None);
    assert!(seen.wrong.is_empty(), "{:#?}", seen.wrong);
    assert!(seen.held > 50 * pairs, "only {} held", seen.held);

    // Were one choice missing from one list, would the pairs have shown it?
    let named = named();
    let missed: Vec<_> = named.difference(&seen.alone).collect();
    let shown = named.len() - missed.len();
    println!(
        "{shown} of {} would be missed; not: {missed:?}",
        named.len()
    );
    assert!(shown * 2 >= named.len(), "{shown} of {}", named.len());
}

#[test]
fn a_list_that_lacks_a_choice_is_noticed() {
    let catalogue = common::catalogue();
    for lacking in [
        ("screw-whirl", "ends_x"),
        ("coupling-does-not-fit", "gantry_drive"),
        ("travel-exceeds-rail", "rail_length_y_mm"),
        ("pulses-too-slow", "controller"),
        ("vfd-too-small", "spindle"),
        ("rcd-type", "residual_type"),
    ] {
        let seen = compare(&catalogue, 120, 62, Some(lacking));
        let named = |wrong: &String| wrong.contains(lacking.0) && wrong.contains(lacking.1);
        assert!(seen.wrong.iter().any(named), "{lacking:?} goes unnoticed");
    }
}
