//! Questions, weighing and sweeps: each figure that they tell is that of assessing the changed
//! build by hand, and what does not arise says so.

#[path = "common/bench.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod bench;
#[path = "common/mod.rs"]
mod common;

use common::{catalogue, today, with};
use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Axis, Build, Choice, Edit, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::question::{self, Answer};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::explore::sweep;
use gantrywright::explore::trial::Bench;
use gantrywright::explore::weigh::{self, is_free};
use gantrywright::rules::Severity;
use gantrywright::store::build_file;
use gantrywright::words::Words as _;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

/// The five examples.
fn examples(catalogue: &Catalogue) -> Vec<(String, Build)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir("demo/builds").expect("the examples") {
        let path = entry.expect("an entry").path();
        let text = std::fs::read_to_string(&path).expect("readable");
        let name = path.display().to_string();
        let build = build_file::read(&text, &name, catalogue).expect("a build");
        found.push((name, build));
    }
    found.sort_by(|a, b| a.0.cmp(&b.0));
    assert_eq!(found.len(), 5);
    found
}

fn assessed(catalogue: &Catalogue, build: &Build) -> Assessment {
    assess(catalogue, build, today()).expect("an assessment")
}

fn answer(catalogue: &Catalogue, build: &Build, id: &str) -> Answer {
    let before = assessed(catalogue, build);
    let bench = Bench {
        catalogue,
        build,
        before: &before,
        today: today(),
    };
    question::find(id).expect("a question").answer(&bench)
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
fn there_are_sixteen_questions_each_with_a_name_of_its_own() {
    let mut ids: Vec<&str> = question::all().map(|question| question.id).collect();
    assert_eq!(ids.len(), 16);
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), 16);
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
                        (other.rule, other.axis, other.severity)
                            == (finding.rule, finding.axis, finding.severity)
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
            let new: Vec<&str> = one.trial.added.iter().map(|one| one.rule).collect();
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
    for one in &answer.alternatives {
        assert!(-last < fifth, "{name}: {} is more than needed", one.title);
        assert!(one.trial.price < last, "{name}: {}", one.title);
        assert!(one.trial.is_sound(), "{name}: {}", one.title);
        last = one.trial.price;
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

#[test]
fn what_is_weighed_is_what_assess_says() {
    let catalogue = catalogue();
    for (name, build) in examples(&catalogue).into_iter().take(2) {
        let before = assessed(&catalogue, &build);
        let bench = Bench {
            catalogue: &catalogue,
            build: &build,
            before: &before,
            today: today(),
        };
        let free: Vec<&'static Choice> = weigh::free().collect();
        let weighing = weigh::weigh(&bench, &free);
        for (place, row) in weighing.rows.iter().enumerate() {
            assert!(is_free(row.choice));
            // Each row's options in turn, one a row: all of them would take minutes.
            let Some(one) = row.outcomes.get(place % row.outcomes.len()) else {
                continue;
            };
            let value = one.value.to_string();
            let changed = with(&catalogue, &build, &[(row.choice.id, &value)]);
            let after = assessed(&catalogue, &changed);
            let what = format!("{name}: {}={value}", row.choice.id);
            let price = after.bill.total.likely - before.bill.total.likely;
            assert_eq!(one.price, price, "{what}");
            for &measure in Measure::ALL {
                let (a, b) = (
                    one.reading.value(measure),
                    Reading::of(&after).value(measure),
                );
                assert_eq!(a, b, "{what}");
            }
        }
        for &measure in Measure::ALL {
            let ranked = weighing.ranked(measure);
            // By what money buys: what is free first, then less and less.
            let worths = ranked.iter().map(|row| {
                let best = row.best(&weighing.before, measure);
                best.and_then(|one| one.worth(&weighing.before, measure))
                    .unwrap_or(f64::NEG_INFINITY)
            });
            let worths: Vec<f64> = worths.collect();
            assert!(worths.is_sorted_by(|a, b| a >= b), "{name}: {worths:?}");
            for row in ranked {
                let span = row.span(&weighing.before, measure).expect("a span");
                let now = weighing.before.value(measure).expect("a figure").number;
                assert!(span.least.0 <= now && now <= span.most.0, "{name}");
                let best = row.best(&weighing.before, measure);
                assert!(best.is_none_or(|best| best.is_sound()), "{name}");
            }
        }
    }
}

#[test]
fn neighbours_of_a_part_are_the_next_cheaper_and_the_next_dearer() {
    let catalogue = catalogue();
    let build = Build::default();
    let before = assessed(&catalogue, &build);
    let bench = Bench {
        catalogue: &catalogue,
        build: &build,
        before: &before,
        today: today(),
    };
    let tube = choices::find("beam_tube").expect("a choice");
    let row = weigh::weighed(&bench, tube);
    let (cheaper, dearer) = row.neighbours(&catalogue);
    let (cheaper, dearer) = (cheaper.expect("cheaper"), dearer.expect("dearer"));
    assert!(cheaper.price < Decimal::ZERO && dearer.price > Decimal::ZERO);
    for one in &row.outcomes {
        let between = one.price > cheaper.price && one.price < dearer.price;
        assert!(!between || one.price.is_zero(), "{}", one.value);
    }
    // The default wall is 4 mm: its neighbours at the same size are 3 and 5 mm.
    let steps = choices::find("microsteps").expect("a choice");
    let row = weigh::weighed(&bench, steps);
    let (less, more) = row.neighbours(&catalogue);
    let shown = [less, more].map(|one| one.expect("a neighbour").value.to_string());
    assert_eq!(shown, ["5", "10"]);
}

#[test]
fn what_is_bought_is_fixed() {
    let catalogue = catalogue();
    let mut build = Build::default();
    let part = build.drive.supply.clone();
    let purchase = build.purchases.parts.entry(part).or_default();
    purchase.status = Some(gantrywright::build::purchases::Status::Ordered);
    let before = assessed(&catalogue, &build);
    let bench = Bench {
        catalogue: &catalogue,
        build: &build,
        before: &before,
        today: today(),
    };
    let supply = choices::find("supply").expect("a choice");
    let weighing = weigh::weigh(&bench, &[supply]);
    assert!(weighing.rows.is_empty());
    assert_eq!(weighing.bought.len(), 1);
}

/// A range and its points are those of assessing each build, and follow what physics says.
#[test]
fn a_sweep_is_assess_at_each_point_and_follows_the_laws() {
    let catalogue = catalogue();
    for (name, build) in examples(&catalogue) {
        let before = assessed(&catalogue, &build);
        let bench = Bench {
            catalogue: &catalogue,
            build: &build,
            before: &before,
            today: today(),
        };
        let range = "travel_x_mm=300..1500/8";
        let (choice, values) = sweep::parse(range, &bench).expect("a range");
        let swept = sweep::sweep(&bench, choice, values);
        assert_eq!(swept.points.len(), 9, "{name}");
        let mut steel: Option<f64> = None;
        for (place, point) in swept.points.iter().enumerate() {
            let text = point.value.to_string();
            let changed = with(&catalogue, &build, &[("travel_x_mm", &text)]);
            let after = assessed(&catalogue, &changed);
            for &measure in Measure::ALL {
                let (a, b) = (
                    point.reading.value(measure),
                    Reading::of(&after).value(measure),
                );
                assert_eq!(a, b, "{name}: {text}");
            }
            // More travel never takes less steel, and never makes the beam stiffer.
            let metres: Decimal = after
                .bill
                .lines
                .iter()
                .filter(|line| line.part.as_str().starts_with("tube-"))
                .map(|line| line.needed)
                .sum();
            let metres = metres.to_f64().expect("metres");
            assert!(steel.is_none_or(|less| metres > less), "{name}: {text}");
            steel = Some(metres);
            if let Some(earlier) = place.checked_sub(1).and_then(|at| swept.points.get(at)) {
                let (was, is) = (earlier.reading.tip[Axis::Y], point.reading.tip[Axis::Y]);
                assert!(is.value <= was.value * (1.0 + 1e-9), "{name}: {text}");
            }
        }
        // A warning that begins was not there one point before, and one that ends is gone.
        for turn in &swept.turns {
            let has = |place: usize| {
                let all = swept.points[place].findings.iter();
                all.filter(|one| {
                    (one.rule, one.axis, one.severity)
                        == (turn.finding.rule, turn.finding.axis, turn.finding.severity)
                })
                .count()
                    > 0
            };
            assert_eq!(
                has(turn.point),
                turn.begins,
                "{name}: {}",
                turn.finding.rule
            );
            assert_eq!(has(turn.point - 1), !turn.begins, "{name}");
        }
    }
}

#[test]
fn ranges_are_read_as_people_type_them() {
    let catalogue = catalogue();
    let build = common::build(&catalogue, &[("budget", "5000 EUR")]);
    let before = assessed(&catalogue, &build);
    let bench = Bench {
        catalogue: &catalogue,
        build: &build,
        before: &before,
        today: today(),
    };
    let count = |text: &str| sweep::parse(text, &bench).map(|(_, values)| values.len());
    assert_eq!(count("travel_x_mm=400..800/4"), Ok(5));
    assert_eq!(count("travel_x_mm=400..800"), Ok(sweep::STEPS + 1));
    assert_eq!(count("budget=1000..2000 EUR/10"), Ok(11));
    assert_eq!(count("budget"), Ok(sweep::STEPS + 1));
    // Only what drivers offer.
    assert_eq!(count("microsteps=4..16"), Ok(5));
    assert_eq!(count("carriages_x=1..4/30"), Ok(4));
    let supplies = catalogue.supplies.len();
    assert_eq!(count("supply"), Ok(supplies));
    for wrong in [
        "travel_x_mm=800..400",
        "travel_x_mm=400..800/0",
        "travel_x_mm=400..99999999",
        "travel_x_mm=400",
        "travel=1..2",
        "supply=1..2",
        "materials",
        "monthly_budget",
        "travel_x_mm=nan..800",
    ] {
        assert!(count(wrong).is_err(), "{wrong}");
    }
}

mod program {
    use super::bench::Bench;

    const BUILD: &str = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/demo/builds/pier-allrounder.toml"
    );

    fn printed(args: &[&str]) -> String {
        let bench = Bench::new();
        let output = bench.program().args(args).output().expect("run");
        assert!(output.status.success(), "{args:?}: {output:?}");
        String::from_utf8(output.stdout).expect("text")
    }

    fn is_narrow(text: &str) {
        use unicode_width::UnicodeWidthStr as _;
        for line in text.lines() {
            assert!(line.width() <= 80, "{line}");
        }
    }

    #[test]
    fn questions_are_listed_and_answered() {
        let list = printed(&["ask", BUILD]);
        assert!(list.contains("several-machines"), "{list}");
        is_narrow(&list);
        let answer = printed(&["ask", BUILD, "lead"]);
        assert!(answer.contains("A  X and Y: lead 5 mm"), "{answer}");
        is_narrow(&answer);
        let json: serde_json::Value =
            serde_json::from_str(&printed(&["ask", BUILD, "lead", "--json"])).expect("JSON");
        assert_eq!(json["question"]["id"], "lead");
        assert_eq!(json["alternatives"][0]["changes"][0]["choice"], "drive_x");
        let apart = printed(&["ask", BUILD, "cooling", "--set", "spindle=router-710w-230"]);
        assert!(apart.contains("It does not arise"), "{apart}");
    }

    #[test]
    fn what_matters_is_told_as_text_and_json() {
        for by in ["cost", "rapids", "stiffness", "removal", "current"] {
            is_narrow(&printed(&["weigh", BUILD, "--by", by]));
        }
        let all = printed(&["weigh", BUILD, "--choices", "beam_tube,supply"]);
        is_narrow(&all);
        assert!(all.contains("= 100x100x4 mm tube"), "{all}");
        let json = printed(&["weigh", BUILD, "--choices", "beam_tube", "--json"]);
        let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        assert_eq!(json["choices"][0]["choice"], "beam_tube");
        assert_eq!(json["by"], "stiffness");
    }

    /// What is written as CSV reads back: a row a point, as many cells as the heading, CR LF.
    #[test]
    fn a_sweep_reads_back_from_csv() {
        let range = "travel_x_mm=400..800/4";
        let text = printed(&["weigh", BUILD, "--sweep", range, "--format", "csv"]);
        assert!(text.lines().count() == 6 && text.contains("\r\n"));
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        let heading = reader.headers().expect("a heading").clone();
        assert_eq!(&heading[0], "travel_x_mm");
        let records: Vec<csv::StringRecord> =
            reader.records().map(|one| one.expect("a row")).collect();
        let travels: Vec<f64> = records
            .iter()
            .map(|row| row[0].parse().expect("a number"))
            .collect();
        assert_eq!(travels, [400.0, 500.0, 600.0, 700.0, 800.0]);
        let json = printed(&["weigh", BUILD, "--sweep", range, "--json"]);
        let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
        for (place, row) in records.iter().enumerate() {
            let cost = &json["points"][place]["at"]["cost"]["likely"];
            assert_eq!(cost.as_str(), row.get(2), "{place}");
            let rapid = &json["points"][place]["at"]["rapids"]["X"]["m_per_min"];
            assert_eq!(rapid.as_f64(), row[5].parse().ok(), "{place}");
        }
        is_narrow(&printed(&["weigh", BUILD, "--sweep", range]));
        is_narrow(&printed(&["weigh", BUILD, "--sweep", "supply"]));
    }

    #[test]
    fn mistakes_are_named() {
        let bench = Bench::new();
        for (args, words) in [
            (&["ask", BUILD, "led"][..], "lead"),
            (
                &["weigh", BUILD, "--sweep", "travel_x_mm=900..100"],
                "from the less to the more",
            ),
            (&["weigh", BUILD, "--choices", "beam_tub"], "beam_tube"),
        ] {
            let output = bench.program().args(args).output().expect("run");
            assert_eq!(output.status.code(), Some(2), "{args:?}");
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert!(said.contains(words), "{said}");
        }
    }
}
