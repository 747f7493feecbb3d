//! What lifts a finding: one change, or two together where neither does it alone.

use crate::common;
use crate::standing::Standing;
use gantrywright::assessment::Assessment;
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::effect::same;
use gantrywright::explore::remedy::{Why, candidates, cure, is_lifted, lowers_wish, remedy, unfit};
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
            let (alone, edits) = (remedy(&bench, finding), cure(&bench, finding));
            if lowers_wish(&alone) {
                // What makes the machine better goes first, where there is such.
                let lifts = is_lifted(bench.before, &after(&catalogue, &build, &edits), finding);
                assert!(edits == alone || !lowers_wish(&edits) && lifts, "{edits:?}");
                continue;
            }
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

/// A wish is only lowered where no change of the machine lifts the warning by itself.
#[test]
fn a_wish_is_lowered_only_where_no_part_helps() {
    let catalogue = common::catalogue();
    let mut lowered = 0;
    for (_, build) in crate::standing::examples(&catalogue) {
        for wish in ["12", "100"] {
            let build = common::with(&catalogue, &build, &[("rapid_wish_m_per_min", wish)]);
            let standing = Standing::of(&catalogue, &build);
            let bench = standing.bench();
            for finding in &bench.before.findings {
                let edits = cure(&bench, finding);
                if !lowers_wish(&edits) {
                    continue;
                }
                lowered += 1;
                let all = candidates(&bench, finding);
                for other in all.iter().filter(|other| !lowers_wish(other.as_slice())) {
                    let with = after(&catalogue, &build, other);
                    let lifts = !other.is_empty() && is_lifted(bench.before, &with, finding);
                    assert!(!lifts, "{}: {other:?}", finding.rule);
                }
            }
        }
    }
    assert!(lowered > 0);
}

/// What a rule names and is not offered says why, and it is so: the finding is still there, or
/// what it brings is. Whatever a rule names is among it, but for choices of which one change lifts
/// the finding.
#[test]
fn what_is_not_offered_says_truly_why() {
    let catalogue = common::catalogue();
    let ids = |edits: &[Edit]| -> Vec<&str> { edits.iter().map(|edit| edit.choice.id).collect() };
    let (mut stays, mut brings) = (0, 0);
    for (_, build) in crate::standing::examples(&catalogue) {
        let standing = Standing::of(&catalogue, &build);
        let bench = standing.bench();
        for finding in &bench.before.findings {
            let rule = &finding.rule;
            let is_its = |other: &Finding| (&other.rule, other.axis) == (rule, finding.axis);
            let all = unfit(&bench, finding);
            for one in &all {
                let with = after(&catalogue, &build, &one.edits);
                let still = with.findings.iter().any(is_its);
                match &one.why {
                    Why::Refused(why) => panic!("{rule}: {why}"),
                    Why::Stays => {
                        stays += 1;
                        assert!(still, "{rule}");
                    }
                    Why::Brings(new) => {
                        brings += 1;
                        assert!(!still && new.severity <= finding.severity, "{rule}");
                        assert!(with.findings.iter().any(|other| same(other, new)), "{rule}");
                    }
                }
            }
            let named = candidates(&bench, finding);
            let lifts = |edits: &Vec<Edit>| {
                is_lifted(bench.before, &after(&catalogue, &build, edits), finding)
            };
            let lifting = named
                .iter()
                .filter(|edits| !edits.is_empty() && lifts(edits));
            let lifting: Vec<Vec<&str>> = lifting.map(|edits| ids(edits)).collect();
            for of in named
                .iter()
                .map(|edits| ids(edits))
                .filter(|of| !of.is_empty())
            {
                let told = all.iter().filter(|one| ids(&one.edits) == of).count();
                assert_eq!(told, usize::from(!lifting.contains(&of)), "{rule}: {of:?}");
            }
        }
    }
    assert!(stays > 0 && brings > 0, "{stays} {brings}");
}
