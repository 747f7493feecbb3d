//! Laws that hold for every build, tried on random ones.

use crate::common;
use std::collections::{BTreeMap, BTreeSet};

use gantrywright::assessment::{assess, json::json};
use gantrywright::build::history::History;
use gantrywright::build::{Axis, Build, Edit, Kind, Value, choices};
use gantrywright::catalogue::Catalogue;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use serde_json::Value as Json;

fn figures(catalogue: &Catalogue, build: &Build) -> Json {
    json(
        build,
        &assess(catalogue, build, common::today()).expect("an assessment"),
        &[],
    )
}

#[test]
fn lines_add_up_to_the_total_and_steps_to_the_cent() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(1);
    for _ in 0..300 {
        let build = common::random_build(&catalogue, &mut rng, 0.3);
        let bill = assess(&catalogue, &build, common::today())
            .expect("an assessment")
            .bill;
        let sum: Decimal = bill.lines.iter().map(|line| line.total.likely).sum();
        let steps: Decimal = bill.by_step().iter().map(|(_, range)| range.likely).sum();
        let on_top = bill.freight.likely + bill.duty.likely + bill.tax.likely;
        assert_eq!(sum + on_top, bill.total.likely);
        assert_eq!(steps + on_top, bill.total.likely);
        assert!(bill.total.low <= bill.total.likely && bill.total.likely <= bill.total.high);
        for line in &bill.lines {
            assert!(
                line.quantity >= line.needed,
                "{} buys too little",
                line.part
            );
            assert_eq!(
                line.total.likely,
                line.total.likely.round_dp(2),
                "{}",
                line.part
            );
        }
    }
}

#[test]
fn undo_and_redo_are_exact() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(2);
    let start = Build::default();
    let mut history = History::new(start.clone());
    let mut seen = vec![start.clone()];
    for _ in 0..100 {
        let build = common::random_build(&catalogue, &mut rng, 0.1);
        if build != *seen.last().expect("one") {
            history.put(build.clone());
            seen.push(build);
        }
    }
    for build in seen.iter().rev().skip(1) {
        assert!(history.undo());
        assert_eq!(history.now(), build);
    }
    assert!(!history.undo());
    for build in seen.iter().skip(1) {
        assert!(history.redo());
        assert_eq!(history.now(), build);
    }
}

/// Values that a choice may be moved to, to see whether anything changes: of many, every few
/// and the last.
fn moves(choice: &choices::Choice, catalogue: &Catalogue, build: &Build) -> Vec<Value> {
    const TRIED: usize = 5;
    let all = every_move(choice, catalogue, build);
    let (last, step) = (
        all.len().saturating_sub(1),
        all.len().div_ceil(TRIED).max(1),
    );
    let some = all.into_iter().enumerate();
    some.filter(|(place, _)| place % step == 0 || *place == last)
        .map(|(_, value)| value)
        .collect()
}

fn every_move(choice: &choices::Choice, catalogue: &Catalogue, build: &Build) -> Vec<Value> {
    match choice.kind {
        Kind::Number(kind) if !kind.among.is_empty() => kind
            .among
            .iter()
            .map(|number| Value::Number(Some(*number)))
            .collect(),
        Kind::Number(kind) => {
            let now = match (choice.get)(build) {
                Value::Number(Some(number)) => number,
                _ => 400.0,
            };
            [kind.least, now * 0.5, now * 2.0, kind.most]
                .into_iter()
                .map(|number| if kind.whole { number.round() } else { number })
                .map(|number| Value::Number(Some(number.clamp(kind.least, kind.most))))
                .collect()
        }
        Kind::Parts(kind) => {
            let all = catalogue.of_kind(kind);
            all.iter()
                .map(|part| Value::Parts(vec![*part.id()]))
                .chain([Value::Parts(vec![])])
                .collect()
        }
        Kind::Amount => vec![choice.parse("100 EUR", catalogue, None).expect("an amount")],
        _ => choice.options(catalogue),
    }
}

/// Every path to a number or word in the JSON, list places left out.
fn leaves(json: &Json, path: &str, found: &mut Vec<(String, String)>) {
    match json {
        Json::Object(map) => map
            .iter()
            .for_each(|(key, value)| leaves(value, &format!("{path}.{key}"), found)),
        Json::Array(list) => list
            .iter()
            .for_each(|value| leaves(value, &format!("{path}[]"), found)),
        leaf => found.push((path.to_owned(), leaf.to_string())),
    }
}

fn by_path(json: &Json) -> BTreeMap<String, Vec<String>> {
    let mut found = Vec::new();
    leaves(json, "", &mut found);
    let mut map: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (path, value) in found {
        map.entry(path).or_default().push(value);
    }
    map
}

/// Some choices matter only beside another: a second screw's lead beside a pair, antifreeze in
/// a room that freezes.
fn settings() -> Vec<Vec<(&'static str, &'static str)>> {
    vec![
        vec![],
        vec![
            ("drive_x", "rack-m1"),
            ("drive_y", "rack-m1"),
            ("spindle", "spindle-2.2kw-water"),
            ("room_freezes", "yes"),
            ("unattended", "yes"),
        ],
        vec![
            ("ends_x", "fixed-fixed"),
            ("motor_x", "servo-750w"),
            ("motor_y", "servo-750w"),
            ("driver_y", "driver-servo-750w"),
            ("motor_z", "servo-750w"),
            ("driver_z", "driver-servo-750w"),
            ("driver_x", "driver-servo-750w"),
            ("controller", "controller-usb-3"),
            ("materials", "aluminium-6082,mdf"),
            ("budget", "6000 EUR"),
            ("tool_changes", "20"),
            ("hours_a_day", "8"),
        ],
        vec![
            ("site", "site-230v-10a"),
            ("motor_x", "stepper-23-2.0-closed"),
            ("driver_x", "driver-closed-loop-80v"),
            ("extractor", "extractor-chip-750w"),
            ("extractor_circuit", "first"),
            ("tool_sensor", "none"),
            ("fire_watch", "no"),
            ("reserve_percent", "20"),
            ("measured_give_y_um", "30"),
        ],
        vec![
            ("spindle", "spindle-2.2kw-tool-changing"),
            ("cooler", "cooler-radiator"),
            ("coolant", "coolant-flood"),
            ("extractor_circuit", "first"),
            ("extractor_at_once", "no"),
        ],
    ]
}

/// Paths of the first that lead to something else in the second: list places left out, but
/// lists of unequal length compared as wholes.
fn changed(before: &Json, after: &Json, path: &str, found: &mut BTreeSet<String>) {
    match (before, after) {
        _ if before == after => {}
        (Json::Object(a), Json::Object(b)) => {
            for (key, value) in a {
                let other = b.get(key).unwrap_or(&Json::Null);
                changed(value, other, &format!("{path}.{key}"), found);
            }
        }
        (Json::Array(a), Json::Array(b)) if a.len() == b.len() => {
            for (value, other) in a.iter().zip(b) {
                changed(value, other, &format!("{path}[]"), found);
            }
        }
        _ => {
            let (before, after) = (by_path(before), by_path(after));
            let differ = before
                .keys()
                .filter(|key| before.get(*key) != after.get(*key));
            found.extend(differ.map(|key| format!("{path}{key}")));
        }
    }
}

/// What no choice can move: the format, the title that the builder gives, where every cable
/// begins, the name of the motors' supply, how much of the demonstration's prices are invented
/// (all), that only Z can sink, and which figure a measured value takes the place of.
const FIXED: [&str; 21] = [
    ".format",
    ".title",
    ".cables[].from",
    ".power.supplies[].name",
    ".cost.invented_share",
    // Purchases move these, and they are no choices.
    ".cost.spent",
    ".bill[].status",
    ".ordering[].state",
    ".ordering[].waits_for[]",
    // Suppliers and stages of buying are data.
    ".consignments[].name",
    ".consignments[].title",
    ".ordering[].name",
    ".ordering[].title",
    ".ordering[].why",
    ".bill[].first_cut",
    ".bill[].basis",
    ".bill[].date",
    ".axes.X.drops_without_power",
    ".axes.Y.drops_without_power",
    ".measured.measured_give_y_um.figure",
    ".measured.measured_give_y_um.unit",
];

#[test]
fn every_choice_moves_something_and_everything_is_moved() {
    let catalogue = common::catalogue();
    let mut idle: BTreeSet<&str> = choices::all().iter().map(|choice| choice.id).collect();
    let mut still: BTreeSet<String> = BTreeSet::new();
    let mut moved: BTreeSet<String> = BTreeSet::new();
    for setting in settings() {
        let build = common::build(&catalogue, &setting);
        let before = figures(&catalogue, &build);
        let new = by_path(&before).into_keys();
        still.extend(new.filter(|path| !moved.contains(path) && !FIXED.contains(&path.as_str())));
        for choice in choices::all() {
            for value in moves(choice, &catalogue, &build) {
                // Tried for its own sake once, and for as long as something stands still.
                if still.is_empty() && !idle.contains(choice.id) {
                    break;
                }
                let after = figures(&catalogue, &Edit { choice, value }.applied(&build));
                let mut changes = BTreeSet::new();
                changed(&before, &after, "", &mut changes);
                if !changes.is_empty() {
                    idle.remove(choice.id);
                }
                still.retain(|path| !changes.contains(path));
                moved.extend(changes);
            }
        }
    }
    assert!(idle.is_empty(), "choices that move nothing: {idle:?}");
    assert!(still.is_empty(), "figures that nothing moves: {still:?}");
}

/// A longer travel never makes rails, beams or cables shorter.
#[test]
fn a_longer_travel_never_shortens_anything() {
    let catalogue = common::catalogue();
    for plan in catalogue.frames.keys() {
        let at = |mm: &str| {
            let edits = [
                ("frame_plan", plan.as_str()),
                ("travel_x_mm", mm),
                ("travel_y_mm", mm),
            ];
            common::assessed(&catalogue, &edits).machine
        };
        let (short, long) = (at("500"), at("900"));
        for axis in [Axis::X, Axis::Y] {
            assert!(long.geometry.rails[axis].length > short.geometry.rails[axis].length);
            assert!(long.axes[axis].rapid <= short.axes[axis].rapid);
        }
        assert!(long.geometry.footprint.x > short.geometry.footprint.x);
        for (a, b) in short.geometry.runs.iter().zip(&long.geometry.runs) {
            assert!(a.length < b.length, "{} {}", plan, a.mark);
        }
        assert!(long.masses.total > short.masses.total);
    }
}
