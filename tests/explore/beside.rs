//! Assessing a build beside another one gives what assessing it alone gives, to the last bit:
//! on random walks of edits over all examples and all choices.

use crate::common;
use std::sync::Arc;

use gantrywright::assessment::{Assessment, assess, assess_beside, json::json};
use gantrywright::build::{Build, Edit, choices};
use gantrywright::catalogue::Catalogue;
use rand::seq::SliceRandom as _;
use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Whether all that there is in two assessments is the same, each figure with all its digits.
fn same(one: &Assessment, other: &Assessment) -> bool {
    one.findings == other.findings && format!("{one:?}") == format!("{other:?}")
}

/// The same for what is shown of them.
fn shown_alike(build: &Build, one: &Assessment, other: &Assessment) -> bool {
    json(build, one, &[]) == json(build, other, &[])
}

/// Goes through all choices in a random order, setting each to a random value: each build is
/// assessed alone, beside the one before it, and beside the one that the walk began with.
fn walk(catalogue: &Catalogue, start: &Build, rng: &mut ChaCha8Rng) -> usize {
    let mut order: Vec<_> = choices::all().iter().collect();
    order.shuffle(rng);
    let assessment = assess(catalogue, start, common::today()).expect("an assessment");
    let first = (start.clone(), assessment);
    let mut last = first.clone();
    let mut walked = 0;
    for choice in order {
        let Some(value) = common::random_value(choice, catalogue, rng, &last.0) else {
            continue;
        };
        let edit = Edit { choice, value };
        // From time to time all that was done is undone, so that builds stay near the start.
        let from = if rng.random_bool(0.1) {
            &first.0
        } else {
            &last.0
        };
        let build = edit.applied(from);
        let Ok(alone) = assess(catalogue, &build, common::today()) else {
            continue;
        };
        for (known, assessment) in [&last, &first] {
            let beside = (known, assessment);
            let again = assess_beside(catalogue, &build, common::today(), beside);
            let again = again.expect("what can be assessed alone can be assessed beside another");
            assert!(
                same(&alone, &again) && (walked % 10 > 0 || shown_alike(&build, &alone, &again)),
                "{} is assessed otherwise",
                choice.id
            );
            walked += 1;
        }
        last = (build, alone);
    }
    walked
}

#[test]
fn a_build_is_assessed_beside_another_one_as_it_is_alone() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(41);
    let examples = gantrywright::store::examples::all().into_iter();
    let mut starts: Vec<Build> = examples
        .map(|example| example.build(&catalogue).expect("an example"))
        .collect();
    starts.push(Build::default());
    let walked: usize = starts
        .iter()
        .map(|start| walk(&catalogue, start, &mut rng))
        .sum();
    assert!(walked > 1500, "only {walked} assessments were compared");
}

#[test]
fn builds_that_differ_in_all_are_assessed_as_well() {
    let catalogue = common::catalogue();
    let builds = common::random_builds(&catalogue, 42, 60);
    let all: Vec<_> = (builds.iter())
        .filter_map(|build| Some((build, assess(&catalogue, build, common::today()).ok()?)))
        .collect();
    for pair in all.windows(2) {
        let [(known, assessment), (build, alone)] = pair else {
            continue;
        };
        let beside = (*known, assessment);
        let again = assess_beside(&catalogue, build, common::today(), beside).expect("a build");
        assert!(same(alone, &again) && shown_alike(build, alone, &again));
    }
}

#[test]
fn cuts_are_taken_over_where_nothing_that_they_depend_on_changed() {
    let catalogue = common::catalogue();
    let start = Build::default();
    let known = assess(&catalogue, &start, common::today()).expect("an assessment");
    for (choice, value, taken) in [
        ("cabinet", "cabinet-steel-800x600", true),
        ("extractor", "none", true),
        ("vfd", "none", true),
        ("drive_x", "ball-screw-20x5", false),
        ("beam_tube", "tube-60x60x4", false),
        ("power_cap_percent", "50", false),
    ] {
        let build = common::build(&catalogue, &[(choice, value)]);
        let beside = (&start, &known);
        let again = assess_beside(&catalogue, &build, common::today(), beside);
        let cutting = again.expect("an assessment").machine.cutting;
        let same = Arc::ptr_eq(&cutting, &known.machine.cutting);
        assert_eq!(same, taken, "{choice}");
    }
}
