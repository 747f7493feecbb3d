//! Assessing a build beside another one gives what assessing it alone gives, to the last bit:
//! on random walks of edits over all examples and all choices.

mod common;

use gantrywright::assessment::{Assessment, assess, assess_beside, json::json};
use gantrywright::build::{Build, Edit, choices};
use gantrywright::catalogue::Catalogue;
use rand::seq::SliceRandom as _;
use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// All that there is in two assessments, each figure with all its digits.
fn same(build: &Build, one: &Assessment, other: &Assessment) -> bool {
    one.findings == other.findings
        && json(build, one, &[]) == json(build, other, &[])
        && format!("{one:?}") == format!("{other:?}")
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
                same(&build, &alone, &again),
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
        assert!(same(build, alone, &again));
    }
}
