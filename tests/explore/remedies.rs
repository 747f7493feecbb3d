//! What lifts a finding: one change, or two together where neither does it alone.

use crate::common;
use crate::standing::Standing;
use gantrywright::assessment::Assessment;
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::remedy::{cure, is_lifted, remedy};
use gantrywright::rules::Finding;

/// The assessment of a build with edits made.
fn after(catalogue: &Catalogue, build: &Build, edits: &[Edit]) -> Assessment {
    let mut changed = build.clone();
    edits.iter().for_each(|edit| edit.apply(&mut changed));
    crate::standing::assessed(catalogue, &changed)
}

/// Over builds of chance: a cure of two changes is only offered where no remedy is, and it lifts
/// the finding.
#[test]
fn two_changes_are_offered_where_one_is_not_enough() {
    let catalogue = common::catalogue();
    let mut pairs = 0;
    for build in common::random_builds(&catalogue, 2026, 20) {
        let standing = Standing::of(&catalogue, &build);
        let bench = standing.bench();
        let found: Vec<Finding> = bench.before.findings.clone();
        for finding in &found {
            let of = |look: fn(&_, &_, &_, &_, _) -> Vec<Edit>| {
                look(&catalogue, &build, bench.before, finding, bench.today)
            };
            let (alone, edits) = (of(remedy), of(cure));
            if !alone.is_empty() {
                assert_eq!(alone, edits, "{}", finding.rule);
                continue;
            }
            if edits.is_empty() {
                continue;
            }
            pairs += 1;
            assert!(edits.len() > 1, "{}: {edits:?}", finding.rule);
            let with = after(&catalogue, &build, &edits);
            assert!(is_lifted(bench.before, &with, finding), "{}", finding.rule);
        }
    }
    assert!(pairs > 0, "no build of chance needs two changes");
}
