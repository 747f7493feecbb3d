//! The page of text.

use super::*;
use crate::assessment::assess;
use crate::build::{Axis, choices};
use crate::catalogue::Step;
use crate::rules::Severity;
use crate::store::library;

fn page(build: &Build, change: impl Fn(&mut Assessment), remedies: &[Vec<Edit>]) -> String {
    let catalogue = library::load(&[]).unwrap_or_else(|error| panic!("{error}"));
    let today = jiff::civil::date(2026, 11, 30);
    let mut assessment = assess(&catalogue, build, today).unwrap_or_else(|error| panic!("{error}"));
    change(&mut assessment);
    text(&catalogue, build, &assessment, remedies, Paint::PLAIN)
}

#[test]
fn the_page_tells_every_group_within_80_columns() {
    let title = "A \u{1b}[31mred title that is far too long for one line ".repeat(4);
    let build = Build {
        title,
        ..Build::default()
    };
    let page = page(&build, |_| {}, &[]);
    assert!(page.lines().all(|line| line.width() <= 80), "{page}");
    assert!(!page.contains('\u{1b}'), "{page}");
    for part in [
        "Cost",
        "Total",
        "Axes",
        "rapids",
        "Stiffness",
        "the tool's tip, worst place",
        "Life",
        "carriages",
        "Power",
        "first circuit",
        "motor supply",
        "100 %",
        "licensed",
    ] {
        assert!(page.contains(part), "{part} is not in {page}");
    }
}

#[test]
fn a_finding_comes_with_its_remedy_and_its_note() {
    let finding = Finding {
        rule: "some-rule",
        severity: Severity::Caution,
        step: Step::Drive,
        axis: Some(Axis::X),
        message: "The screw of X whips.".to_owned(),
        accepted: Some("I go\tslowly".to_owned()),
        cause: None,
    };
    let budget = choices::find("budget").expect("known");
    let value = budget
        .parse("3500 EUR", &Default::default(), None)
        .expect("an amount");
    let edits = vec![Edit {
        choice: budget,
        value,
    }];
    let page = page(
        &Build::default(),
        |all| all.findings = vec![finding.clone()],
        &[edits],
    );
    assert!(page.contains("caution   The screw of X whips.\n"), "{page}");
    assert!(
        page.contains("  remedy  --set 'budget=3500 EUR'\n"),
        "{page}"
    );
    assert!(page.contains("  accepted  I go\\tslowly\n"), "{page}");
    assert!(page.contains("  1 accepted.\n"), "{page}");
}
