//! What matters most, and choices over a range: each figure is that of assessing the changed
//! build by hand.

use crate::common::{self, catalogue, with};
use crate::standing::{Standing, assessed, examples};
use gantrywright::build::{Axis, Build, Choice, choices};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::explore::sweep;
use gantrywright::explore::weigh::{self, is_free};
use gantrywright::words::Words as _;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

#[test]
fn what_is_weighed_is_what_assess_says() {
    let catalogue = catalogue();
    for (name, build) in examples(&catalogue).into_iter().take(2) {
        let standing = Standing::of(&catalogue, &build);
        let bench = standing.bench();
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
            let price = after.bill.total.likely - bench.before.bill.total.likely;
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
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
    let tube = choices::find("beam_tube").expect("a choice");
    let row = weigh::weighed(&bench, tube);
    let (cheaper, dearer) = row.neighbours(&catalogue);
    let (cheaper, dearer) = (cheaper.expect("cheaper"), dearer.expect("dearer"));
    assert!(cheaper.price < Decimal::ZERO && dearer.price > Decimal::ZERO);
    for one in &row.outcomes {
        let between = one.price > cheaper.price && one.price < dearer.price;
        assert!(!between || one.price.is_zero(), "{}", one.value);
    }
    // Of numbers, the next less and the next more: 8 microsteps stand between 5 and 10.
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
    let part = build.drive.supply;
    let purchase = build.purchases.parts.entry(part).or_default();
    purchase.status = Some(gantrywright::build::purchases::Status::Ordered);
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
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
        let standing = Standing::of(&catalogue, &build);
        let bench = standing.bench();
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
                all.map(|one| (&one.rule, one.axis, one.severity))
                    .any(|one| {
                        one == (&turn.finding.rule, turn.finding.axis, turn.finding.severity)
                    })
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
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
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
    // What is no number is not told to name a range, which it would not take.
    let list = count("materials").expect_err("no range");
    assert_eq!(
        list,
        "materials: a list of parts has no range to go through"
    );
    let unset = count("monthly_budget").expect_err("nothing chosen");
    let typed = unset.rsplit_once("such as ").map(|(_, typed)| typed);
    assert!(count(typed.expect("an example")).is_ok(), "{unset}");
}
