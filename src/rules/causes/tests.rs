//! The table of causes holds together, and entries stand in the order in which they matter.

use super::*;
use crate::build::Axis;
use crate::catalogue::Step;
use crate::rules::{self, Severity, topics};

fn finding(rule: &'static str, severity: Severity, axis: Option<Axis>) -> Finding {
    Finding {
        rule: rule.into(),
        severity,
        step: rules::find(rule).map_or(Step::Drive, |rule| rule.step),
        axis,
        message: String::new(),
        accepted: None,
        cause: None,
    }
}

#[test]
fn every_name_is_a_rule_and_no_cause_comes_round() {
    for cause in CAUSES {
        assert!(rules::find(cause.rule).is_some(), "{}", cause.rule);
        for follower in cause.brings {
            assert!(rules::find(follower).is_some(), "{follower}");
            assert!(
                !reaches(follower, cause.rule),
                "{follower} and {}",
                cause.rule
            );
        }
    }
}

fn entries(findings: &[Finding], severity: Severity) -> usize {
    let heads = topics::heads(findings);
    let alike = heads.iter().filter(|head| head.severity == severity);
    alike.count()
}

fn reaches(from: &str, to: &str) -> bool {
    let brings = CAUSES.iter().filter(|cause| cause.rule == from);
    brings
        .flat_map(|cause| cause.brings)
        .any(|follower| *follower == to || reaches(follower, to))
}

#[test]
fn a_follower_stands_behind_its_cause_on_the_same_axis() {
    let grouped = group(vec![
        finding("rapids-below-wish", Severity::Caution, Some(Axis::X)),
        finding("rapids-below-wish", Severity::Caution, Some(Axis::Y)),
        finding("screw-whirl", Severity::Danger, Some(Axis::X)),
    ]);
    let rules: Vec<_> = grouped
        .iter()
        .map(|finding| (finding.rule.as_str(), finding.axis, finding.cause))
        .collect();
    assert_eq!(
        rules,
        [
            ("screw-whirl", Some(Axis::X), None),
            ("rapids-below-wish", Some(Axis::X), Some("screw-whirl")),
            ("rapids-below-wish", Some(Axis::Y), None),
        ],
        "nothing whips on Y: its slowness has another cause"
    );
}

#[test]
fn one_rule_on_several_axes_is_one_entry() {
    let grouped = group(vec![
        finding("screw-sags", Severity::Hint, Some(Axis::X)),
        finding("screw-whirl", Severity::Danger, Some(Axis::X)),
        finding("screw-whirl", Severity::Danger, Some(Axis::Y)),
        finding("screw-sags", Severity::Hint, Some(Axis::Y)),
    ]);
    let heads = grouped.iter().filter(|finding| finding.cause.is_none());
    assert_eq!(heads.count(), 1);
    assert_eq!(entries(&grouped, Severity::Danger), 1);
    assert_eq!(grouped[0].axis, Some(Axis::X));
}

#[test]
fn what_kills_stands_before_what_breaks() {
    for rule in DEADLIEST {
        assert!(rules::find(rule).is_some(), "{rule}");
    }
    let grouped = group(vec![
        finding("screw-whirl", Severity::Danger, Some(Axis::X)),
        finding("screw-sags", Severity::Hint, Some(Axis::X)),
        finding("emergency-stop-missing", Severity::Danger, None),
    ]);
    assert_eq!(grouped[0].rule, "emergency-stop-missing");
}

#[test]
fn what_is_worse_than_its_cause_stands_alone() {
    let grouped = group(vec![
        finding("thread-in-thin-wall", Severity::Hint, None),
        finding("wall-thinner-than-named", Severity::Caution, None),
    ]);
    assert_eq!(grouped[0].rule, "wall-thinner-than-named");
    assert!(grouped.iter().all(|finding| finding.cause.is_none()));
}

#[test]
fn among_equals_the_cause_of_most_stands_first() {
    let grouped = group(vec![
        finding("no-table", Severity::Caution, None),
        finding("over-budget", Severity::Caution, None),
        finding("reserve-too-small", Severity::Hint, None),
    ]);
    assert_eq!(grouped[0].rule, "over-budget");
    assert_eq!(grouped[1].cause, Some("over-budget"));
    assert_eq!(entries(&grouped, Severity::Caution), 2);
    assert_eq!(entries(&grouped, Severity::Hint), 0);
}

#[test]
fn an_accepted_cause_takes_no_follower_with_it() {
    let mut accepted = finding("over-budget", Severity::Caution, None);
    accepted.accepted = Some("for now".to_owned());
    let grouped = group(vec![
        accepted,
        finding("reserve-too-small", Severity::Hint, None),
        finding("no-table", Severity::Caution, None),
    ]);
    let order: Vec<_> = grouped.iter().map(|finding| &*finding.rule).collect();
    assert_eq!(order, ["no-table", "over-budget", "reserve-too-small"]);
    assert!(grouped.iter().all(|finding| finding.cause.is_none()));
}
