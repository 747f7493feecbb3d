//! The page of text.

use super::*;
use crate::assessment::assess;
use crate::build::{Axis, choices};
use crate::catalogue::Step;
use crate::rules::{Finding, Severity};
use crate::store::library;
use unicode_width::UnicodeWidthStr as _;

fn page(build: &Build, change: impl Fn(&mut Assessment), remedies: &[Vec<Edit>]) -> String {
    let catalogue = library::load(&[]).unwrap_or_else(|error| panic!("{error}"));
    let today = jiff::civil::date(2026, 11, 30);
    let mut assessment = assess(&catalogue, build, today).unwrap_or_else(|error| panic!("{error}"));
    change(&mut assessment);
    let extras = Extras {
        moved: None,
        remedies,
        unfit: &[],
        stiffer: None,
        safety: false,
    };
    text(&catalogue, build, &assessment, &extras, Paint::PLAIN)
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
        rule: "screw-whirl".into(),
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

#[test]
fn what_follows_from_a_cause_stands_below_it_and_is_not_counted() {
    let finding = |rule: &'static str, axis, cause| Finding {
        rule: rule.into(),
        severity: Severity::Caution,
        step: Step::Drive,
        axis: Some(axis),
        message: format!("{axis:?} has {rule}."),
        accepted: None,
        cause,
    };
    let found = vec![
        finding("screw-whirl", Axis::X, None),
        finding("screw-whirl", Axis::Y, Some("screw-whirl")),
        finding("rapids-below-wish", Axis::Y, Some("screw-whirl")),
    ];
    let page = page(
        &Build::default(),
        |all| all.findings.clone_from(&found),
        &[],
    );
    assert!(page.contains("  1 caution.\n"), "{page}");
    let title = crate::rules::find("rapids-below-wish")
        .expect("known")
        .title;
    let heads = "caution   X has screw-whirl.\n          Y has screw-whirl.\n";
    assert!(page.contains(heads), "{page}");
    assert!(page.contains(&format!("  also:   Y: {title}")), "{page}");
}

#[test]
fn a_long_name_goes_on_below_its_row() {
    let page = page(&Build::default(), |_| {}, &[]);
    let mut lines = page.lines().skip_while(|line| !line.contains("brass,"));
    let row = lines.next().expect("a row");
    assert!(row.split_whitespace().count() > 2, "{page}");
    assert_eq!(lines.next(), Some("  free-cutting"), "{page}");
}
