//! What rules say of the choices that decide them: whatever else is changed in drive, spindle
//! and control, their findings stay.
//!
//! A search learns from these lists, so one that lacks a choice would make it wrong. Pairs of
//! builds differ in some choices of chance; every rule that names none of those must find the
//! same in both. Pairs that differ in a single one of a rule's choices show whether the test
//! would notice, were just that one not in the list.

mod common;

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
    alone: BTreeSet<(&'static str, &'static str)>,
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
        let place = found.entry((finding.rule, finding.axis)).or_default();
        place.push(finding.severity);
        place.sort();
    }
    found
}

/// Every declared rule in every place, as far as it holds in a build.
fn scopes(build: &Build) -> Vec<Scope> {
    let places = rules::all().flat_map(|rule| PLACES.map(|axis| (rule, axis)));
    let scope = |(rule, axis): (&'static Rule, _)| {
        let choices = rule.decided_in(axis, build)?;
        let choices = choices.iter().map(|choice| choice.id).collect();
        Some(Scope {
            rule,
            axis,
            choices,
        })
    };
    places.filter_map(scope).collect()
}

/// Both builds of the example of every declared rule, and every example that is shipped:
/// rules that hardly ever fire by chance do so near these.
fn near_thresholds(catalogue: &Catalogue) -> Vec<Build> {
    let mut builds: Vec<Build> = gantrywright::store::examples::all()
        .into_iter()
        .map(|example| example.build(catalogue).expect("an example"))
        .collect();
    let declared = rules::all().filter(|rule| !rule.decided_by.is_empty());
    for rule in declared.filter(|rule| !rule.example.is_by_data()) {
        for value in [rule.example.fires, rule.example.quiet] {
            let mut edits = rule.example.given.to_vec();
            edits.push((rule.example.choice, value));
            builds.push(common::build(catalogue, &edits));
        }
    }
    builds
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

/// Which choices to change next to a build: those of no scope that is drawn, or at most one
/// of it, and of the others a share of chance.
fn drawn(
    scopes: &[Scope],
    free: &[&'static Choice],
    fired: &Found,
    rng: &mut ChaCha8Rng,
) -> Vec<&'static Choice> {
    // Half of the time a rule that fires, where one does.
    let firing: Vec<&Scope> = scopes
        .iter()
        .filter(|scope| fired.contains_key(&(scope.rule.id, scope.axis)))
        .collect();
    let scope = match !firing.is_empty() && rng.random_bool(0.5) {
        true => firing[rng.random_range(0..firing.len())],
        false => &scopes[rng.random_range(0..scopes.len())],
    };
    let own: Vec<&str> = scope.choices.iter().copied().collect();
    let one = match !own.is_empty() && rng.random_bool(0.7) {
        true => own[rng.random_range(0..own.len())],
        false => "",
    };
    let share = [0.0, 0.05, 0.3, 0.9][rng.random_range(0..4)];
    let mut others = free.to_vec();
    others.retain(|choice| {
        choice.id == one || (!scope.choices.contains(choice.id) && rng.random_bool(share))
    });
    others
}

/// Compares so many pairs of builds.
fn compare(catalogue: &Catalogue, pairs: usize, seed: u64) -> Seen {
    const EACH: usize = 4;
    let (mut rng, free) = (ChaCha8Rng::seed_from_u64(seed), free());
    let near = near_thresholds(catalogue);
    let mut seen = Seen::default();
    for place in 0..pairs / EACH {
        let base = match place % 4 {
            0 => common::random_build(catalogue, &mut rng, [0.05, 0.3, 1.0][place % 3]),
            _ => near[rng.random_range(0..near.len())].clone(),
        };
        let (before, scopes) = (found(catalogue, &base), scopes(&base));
        for _ in 0..EACH {
            let some = drawn(&scopes, &free, &before, &mut rng);
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

/// More pairs: `RULE_SCOPES_PAIRS=200000 cargo test --release --test rule_scopes`.
#[test]
fn what_a_rule_does_not_name_changes_none_of_its_findings() {
    let catalogue = common::catalogue();
    let pairs = asked();
    let seen = compare(&catalogue, pairs, 61);
    assert!(seen.wrong.is_empty(), "{:#?}", seen.wrong);
    assert!(seen.held > 50 * pairs, "only {} held", seen.held);

    // Were one choice missing from one list, would the pairs have shown it?
    let named: BTreeSet<_> = scopes(&Build::default())
        .iter()
        .flat_map(|scope| scope.choices.iter().map(|one| (scope.rule.id, *one)))
        .collect();
    let missed: Vec<_> = named.difference(&seen.alone).collect();
    let shown = named.len() - missed.len();
    println!(
        "{shown} of {} would be missed; not: {missed:?}",
        named.len()
    );
    assert!(shown * 2 >= named.len(), "{shown} of {}", named.len());
}
