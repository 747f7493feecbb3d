//! The questions that builders ask: each figure that an answer tells is that of assessing the
//! changed build by hand, and what does not arise says so.

use crate::common::{self, catalogue};
use crate::standing::{Standing, assessed, examples};
use gantrywright::assessment::Assessment;
use gantrywright::build::{Axis, Build, Edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::question::{self, Alternative, Answer};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::money::show;
use gantrywright::rules::Severity;
use gantrywright::words::Words as _;
use rust_decimal::Decimal;

fn answer(catalogue: &Catalogue, build: &Build, id: &str) -> Answer {
    let standing = Standing::of(catalogue, build);
    question::find(id)
        .expect("a question")
        .answer(&standing.bench())
}

/// What two assessments are compared by: the numbers of a reading.
fn numbers(assessment: &Assessment) -> Vec<f64> {
    let reading = Reading::of(assessment);
    let mut numbers: Vec<f64> = Measure::ALL
        .iter()
        .map(|&measure| {
            reading
                .value(measure)
                .map_or(f64::NAN, |value| value.number)
        })
        .collect();
    numbers.extend(reading.warnings.iter().map(|&count| count as f64));
    numbers
}

fn alike(a: &[f64], b: &[f64]) -> bool {
    let same = |(a, b): (&f64, &f64)| a == b || (a.is_nan() && b.is_nan());
    a.len() == b.len() && a.iter().zip(b).all(same)
}

#[test]
fn there_are_nineteen_questions_each_with_a_name_of_its_own() {
    let mut ids: Vec<&str> = question::all().map(|question| question.id).collect();
    assert_eq!(ids.len(), 19);
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), 19);
    for question in question::all() {
        assert!(question.title.ends_with('?'), "{}", question.id);
        assert!(question.why.ends_with('.'), "{}", question.id);
        assert!(question.title.len() <= 50, "{}", question.id);
    }
    assert!(question::find("led").expect_err("a hint").contains("lead"));
}

/// Every alternative, made by hand from the changes that it names, is what it says it is.
#[test]
fn every_answer_is_that_of_the_build_changed_by_hand() {
    let catalogue = catalogue();
    let mut answered = 0;
    for (name, build) in examples(&catalogue) {
        let before = assessed(&catalogue, &build);
        for question in question::all() {
            let answer = answer(&catalogue, &build, question.id);
            assert_eq!(answer.alternatives.is_empty(), !answer.apart.is_empty());
            if question.id == "a-fifth-less" {
                saves_step_by_step(&name, &before, &answer);
            }
            for one in &answer.alternatives {
                let what = format!("{name}: {}: {}", question.id, one.title);
                assert_ne!(one.trial.build, build, "{what}");
                // The changes of choices, made one by one; purchases come along.
                let mut by_hand = build.clone();
                for edit in &one.trial.edits {
                    let text = edit.value.to_string();
                    let edit = Edit::parse(edit.choice.id, &text, &catalogue);
                    edit.unwrap_or_else(|error| panic!("{what}: {error}"))
                        .apply(&mut by_hand);
                }
                by_hand.purchases = one.trial.build.purchases.clone();
                let after = assessed(&catalogue, &by_hand);
                assert!(
                    alike(&numbers(&after), &numbers(&one.trial.after)),
                    "{what}"
                );
                let price = after.bill.total.likely - before.bill.total.likely;
                assert_eq!(price, one.trial.price, "{what}");
                let count = |assessment: &Assessment, severity: Severity| {
                    let all = assessment.findings.iter();
                    all.filter(|finding| finding.severity == severity).count()
                };
                // What is said to be new is there after, and was not before.
                for finding in &one.trial.added {
                    let is = |other: &gantrywright::rules::Finding| {
                        (&other.rule, other.axis, other.severity)
                            == (&finding.rule, finding.axis, finding.severity)
                    };
                    assert!(after.findings.iter().any(is), "{what}: {}", finding.rule);
                    assert!(!before.findings.iter().any(is), "{what}: {}", finding.rule);
                }
                if count(&after, Severity::Danger) > count(&before, Severity::Danger) {
                    assert!(one.trial.brings(Severity::Danger) > 0, "{what}");
                }
                answered += 1;
            }
        }
    }
    assert!(answered > 100, "{answered}");
}

#[test]
fn what_does_not_arise_says_why() {
    let catalogue = catalogue();
    let cases: &[(&str, &[(&str, &str)])] = &[
        (
            "cooling",
            &[("spindle", "router-710w-230"), ("vfd", "none")],
        ),
        (
            "lead",
            &[
                ("drive_x", "rack-m1"),
                ("drive_y", "rack-m1"),
                ("drive_z", "rack-m1"),
            ],
        ),
        (
            "screw-diameter",
            &[("drive_x", "rack-m1"), ("drive_y", "rack-m1")],
        ),
        (
            "volts",
            &[
                ("motor_x", "servo-400w"),
                ("motor_y", "servo-400w"),
                ("motor_z", "servo-400w"),
            ],
        ),
        (
            "larger-area",
            &[("travel_x_mm", "10000"), ("travel_y_mm", "10000")],
        ),
    ];
    for (id, edits) in cases {
        let build = common::build(&catalogue, edits);
        let answer = answer(&catalogue, &build, id);
        assert!(answer.alternatives.is_empty(), "{id}: {answer:?}");
        assert!(answer.apart.ends_with('.'), "{id}: {}", answer.apart);
    }
}

#[test]
fn a_change_brings_along_what_must_fit() {
    let catalogue = catalogue();
    let build = Build::default();
    for id in ["motors", "spindle-power", "screw-diameter", "cooling"] {
        let answer = answer(&catalogue, &build, id);
        assert!(!answer.alternatives.is_empty(), "{id}");
        for one in answer.alternatives {
            let new: Vec<&str> = one
                .trial
                .added
                .iter()
                .map(|one| one.rule.as_str())
                .collect();
            assert!(
                !new.contains(&"coupling-does-not-fit"),
                "{}: {new:?}",
                one.title
            );
            assert_eq!(
                one.trial.brings(Severity::Danger),
                0,
                "{}: {new:?}",
                one.title
            );
        }
    }
}

/// Each change saves more on top of those before, without danger or fault, and none is made
/// once a fifth is saved.
fn saves_step_by_step(name: &str, before: &Assessment, answer: &Answer) {
    let fifth = before.bill.total.likely / Decimal::from(5);
    let mut last = Decimal::ZERO;
    // What is saved only by who owns it already stands apart, behind the true savings.
    let (chain, apart): (Vec<_>, Vec<_>) = {
        let all = answer.alternatives.iter().enumerate();
        all.partition(|(place, one)| *place == 0 || one.on_top)
    };
    assert!(
        chain
            .iter()
            .all(|(place, _)| apart.iter().all(|(behind, _)| place < behind)),
        "{name}"
    );
    for (_, one) in apart {
        assert!(one.title.starts_with("only if "), "{}", one.title);
        assert!(one.trial.price < Decimal::ZERO && one.trial.is_sound());
        assert_eq!(one.trial.edits.len(), 1, "{}", one.title);
    }
    for (_, one) in chain {
        assert!(-last < fifth, "{name}: {} is more than needed", one.title);
        assert!(one.trial.price < last, "{name}: {}", one.title);
        assert!(one.trial.is_sound(), "{name}: {}", one.title);
        last = one.trial.price;
    }
    // Where it is no fifth, that stands above all rows, with what they come to.
    let told = show::money(-last, before.bill.currency);
    match -last < fifth {
        true => assert!(
            answer.headline.contains(&told),
            "{name}: {}",
            answer.headline
        ),
        false => assert_eq!(answer.headline, "", "{name}"),
    }
}

/// Goods from here are reckoned as from somebody who sends goods: power and programs come in no
/// parcel, so theirs would cost nothing on the way.
#[test]
fn all_from_here_comes_from_a_seller_of_goods() {
    let catalogue = catalogue();
    let services = catalogue
        .suppliers
        .get("demo-services")
        .expect("a supplier");
    for (name, build) in examples(&catalogue) {
        let answer = answer(&catalogue, &build, "used-or-abroad");
        let mut here = answer.alternatives.iter();
        let here = here.find(|one| one.title.contains("all from here"));
        let note = here.map_or("", |one| one.note.as_str());
        assert!(!note.contains(services.title.as_str()), "{name}: {note}");
    }
}

#[test]
fn three_machines_cost_less_each_than_one() {
    let catalogue = catalogue();
    let build = Build::default();
    let before = assessed(&catalogue, &build).bill.total.likely;
    let answer = answer(&catalogue, &build, "several-machines");
    let three = answer.alternatives.last().expect("an alternative");
    assert_eq!(three.trial.after.bill.machines, 3);
    let each = three.trial.after.bill.total.likely / Decimal::from(3);
    assert!(each < before);
    assert!(three.note.contains("less"), "{}", three.note);
}

/// What only two parts do together is offered too, both named; neither of them does it alone.
#[test]
fn pairs_are_found_where_one_part_alone_is_not_enough() {
    let catalogue = catalogue();
    let mut pairs = 0;
    for (name, build) in examples(&catalogue) {
        for axis in Axis::EACH {
            let speed = |build: &Build| assessed(&catalogue, build).machine.axes[axis].rapid;
            let answer = answer(&catalogue, &build, question::faster(axis).id);
            let priced = |one: &Alternative| one.trial.price;
            assert!(answer.alternatives.is_sorted_by_key(priced), "{name}");
            for one in &answer.alternatives {
                let Some((first, second)) = one.title.split_once(", and ") else {
                    continue;
                };
                let reached = one.trial.after.machine.axes[axis].rapid;
                let alone = [first, second].map(|part| {
                    let title = part.split(':').next().expect("a name");
                    let (title, is_pair) = match title.strip_suffix(" on both sides") {
                        Some(title) => (title, true),
                        None => (title, false),
                    };
                    let mut edits = one.trial.edits.iter();
                    let edit = edits.find(|edit| edit.choice.title == title);
                    let edit = edit.unwrap_or_else(|| panic!("{name}: {part} is not changed"));
                    let mut build = edit.applied(&build);
                    if is_pair {
                        build.drive.second_drive = None;
                    }
                    speed(&build)
                });
                // Where the second lifts the warning that the first brings, the first is as fast.
                let slower = alone.iter().filter(|alone| **alone < reached).count();
                assert!(slower > 0, "{name}: {} is no better than either", one.title);
                pairs += usize::from(slower == 2);
            }
        }
    }
    assert!(pairs >= 3, "{pairs}");
}

/// Of the options of one choice not only the one that costs nothing and gains a little is named,
/// but also one that gains much: on the first machine another screw makes Z nine times as fast.
#[test]
fn what_gains_much_is_named_beside_what_costs_nothing() {
    let catalogue = catalogue();
    let all = examples(&catalogue);
    let mut named = all.iter();
    let (_, build) = named
        .find(|(name, _)| name.contains("attic-starter"))
        .expect("an example");
    let before = assessed(&catalogue, build).machine.axes[Axis::Z].rapid;
    let answer = answer(&catalogue, build, "faster-z");
    let screws = answer.alternatives.iter().filter(|one| {
        let mut edits = one.trial.edits.iter();
        edits.any(|edit| edit.choice.id == "drive_z")
    });
    let most = screws.map(|one| one.trial.after.machine.axes[Axis::Z].rapid / before);
    let most = most.map(|times| times.value).fold(0.0, f64::max);
    assert!(most > 5.0, "{most}");
}
