//! Laws of motion that hold for every build, tried on random ones, and that every figure of
//! motion says how it came about.

mod common;

use gantrywright::assessment::{assess, explain, json::json};
use gantrywright::build::{Axis, Edit};
use gantrywright::units;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use serde_json::Value as Json;

/// Builds with every kind of drive and motor.
const SETTINGS: &[&[(&str, &str)]] = &[
    &[],
    &[
        ("drive_x", "rack-m1"),
        ("drive_y", "belt-5m-15"),
        ("reduction", "3"),
        ("drive_z", "lead-screw-12x3"),
        ("ramp", "s-ramp"),
    ],
    &[
        ("motor_x", "servo-750w"),
        ("driver_x", "driver-servo-750w"),
        ("motor_z", "servo-400w-brake"),
        ("driver_z", "driver-servo-400w"),
        ("motor_y", "stepper-23-2.0-closed"),
        ("driver_y", "driver-closed-loop-80v"),
        ("drive_y2", "ball-screw-20x5"),
    ],
];

/// A supply of more volts never slows a stepper, over random builds.
#[test]
fn more_volts_never_slow_a_stepper() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(21);
    for _ in 0..40 {
        let build = common::random_build(&catalogue, &mut rng, 0.3);
        let mut supplies: Vec<_> = catalogue.supplies.values().collect();
        supplies.sort_by(|a, b| units::v::from(a.volts).total_cmp(&units::v::from(b.volts)));
        let mut before: Option<[f64; 3]> = None;
        for supply in supplies {
            let edit = Edit::parse("supply", supply.id.as_str(), &catalogue).expect("a supply");
            let assessment = assess(&catalogue, &edit.applied(&build), common::today());
            let axes = assessment.expect("an assessment").machine.axes;
            let now = Axis::EACH.map(|axis| units::m_per_min::from(axes[axis].rapid));
            if let Some(before) = before {
                let slower = now
                    .iter()
                    .zip(before)
                    .any(|(now, before)| *now < before - 1e-9);
                assert!(!slower, "{}: {now:?} after {before:?}", supply.id);
            }
            before = Some(now);
        }
    }
}

/// An S-ramp is never faster than a trapezoid, a longer move never takes less time, and no
/// move spends more than its time at rapids, over random builds.
#[test]
fn ramps_keep_their_order() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(22);
    let mut moved = 0;
    for place in 0..300 {
        let share = [0.05, 0.3, 1.0][place % 3];
        let build = common::random_build(&catalogue, &mut rng, share);
        let assessment = assess(&catalogue, &build, common::today()).expect("an assessment");
        for axis in Axis::EACH {
            let Some((trapezoid, s_ramp)) = assessment.machine.axes[axis].ramps else {
                continue;
            };
            moved += 1;
            let mut before = (0.0, 0.0);
            for mm in [0.0, 0.1, 1.0, 5.0, 10.0, 50.0, 100.0, 300.0, 1000.0, 5000.0] {
                let [sharp, soft] = [trapezoid, s_ramp].map(|ramp| {
                    let one = ramp.over(units::mm::of(mm));
                    let share = units::share::from(one.share_at_speed());
                    assert!((0.0..=1.0).contains(&share), "{share} of {mm} mm");
                    units::s::from(one.time)
                });
                assert!(soft >= sharp - 1e-12, "{mm} mm: {soft} s against {sharp} s");
                assert!(sharp >= before.0 && soft >= before.1, "{mm} mm");
                before = (sharp, soft);
            }
        }
    }
    assert!(moved > 400, "only {moved} axes moved");
}

/// Every number of an axis has a derivation that gives the same number, whatever the drives
/// and motors; the masses, lengths and lives among them are told of elsewhere.
#[test]
fn every_figure_of_motion_is_derived() {
    let catalogue = common::catalogue();
    let elsewhere = ["travel_mm", "rail_mm", "moving_mass_kg", "life"];
    for setting in SETTINGS {
        let build = common::build(&catalogue, setting);
        let (assessment, notes) = explain(&catalogue, &build, common::today()).expect("notes");
        let all = json(&build, &assessment, &[]);
        let mut numbers = Vec::new();
        placed(&all["axes"], "axes", &mut numbers);
        let braking = &all["power"]["supplies"][0]["braking_volts"];
        let volts = braking.as_f64().expect("a number");
        numbers.push(("power.supplies.motors.braking_volts".to_owned(), volts));
        for (path, number) in numbers {
            if elsewhere.iter().any(|word| path.contains(word)) {
                continue;
            }
            let derivation = notes
                .get(&path)
                .unwrap_or_else(|| panic!("{path} is not derived"));
            let off = (derivation.result.number() - number).abs();
            assert!(
                off <= 1e-5 * number.abs(),
                "{path}: {number}, {}",
                derivation.result
            );
            assert!(!derivation.words.is_empty(), "{path} has no words");
            assert!(!derivation.source.is_empty(), "{path} has no source");
        }
    }
}

/// Every number in the JSON by its path, list places counted.
fn placed(json: &Json, path: &str, found: &mut Vec<(String, f64)>) {
    match json {
        Json::Object(map) => map
            .iter()
            .for_each(|(key, value)| placed(value, &format!("{path}.{key}"), found)),
        Json::Array(list) => list
            .iter()
            .enumerate()
            .for_each(|(place, value)| placed(value, &format!("{path}.{place}"), found)),
        Json::Number(number) => found.extend(number.as_f64().map(|n| (path.to_owned(), n))),
        _ => {}
    }
}
