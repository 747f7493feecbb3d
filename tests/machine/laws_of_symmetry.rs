//! What must not matter does not: which side of the gantry is called the first, in which
//! order materials are named, which of two axes a part is bought for.

use crate::common;
use gantrywright::assessment::{assess, json::json};
use gantrywright::build::{Axis, Build, Value, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::machine::axis::AxisFigures;
use gantrywright::machine::limits::LimitName;
use gantrywright::units;
use serde_json::Value as Json;

fn figures(catalogue: &Catalogue, build: &Build) -> Json {
    let assessment = assess(catalogue, build, common::today());
    json(build, &assessment.expect("an assessment"), &[])
}

/// Every number by its path that differs by more than binary fractions lose.
fn differing(one: &Json, other: &Json, path: &str, found: &mut Vec<String>) {
    match (one, other) {
        (Json::Object(a), Json::Object(b)) => {
            for key in a.keys().chain(b.keys().filter(|key| !a.contains_key(*key))) {
                let (one, other) = (a.get(key), b.get(key));
                let both = (one.unwrap_or(&Json::Null), other.unwrap_or(&Json::Null));
                differing(both.0, both.1, &format!("{path}.{key}"), found);
            }
        }
        (Json::Array(a), Json::Array(b)) if a.len() == b.len() => {
            for (place, (one, other)) in a.iter().zip(b).enumerate() {
                differing(one, other, &format!("{path}.{place}"), found);
            }
        }
        (Json::Number(a), Json::Number(b)) => {
            let (a, b) = (
                a.as_f64().unwrap_or(f64::NAN),
                b.as_f64().unwrap_or(f64::NAN),
            );
            if (a - b).abs() > 2e-5 * a.abs().max(b.abs()) {
                found.push(format!("{path}: {a}, {b}"));
            }
        }
        (one, other) if one == other => {}
        (one, other) => found.push(format!("{path}: {one}, {other}")),
    }
}

/// Swapping the two drives of a gantry changes nothing that the machine does, asks or weighs,
/// as long as both move as far at a turn of the motor: no motor pair works otherwise.
#[test]
fn swapping_the_drives_of_a_gantry_changes_nothing() {
    let catalogue = common::catalogue();
    let pairs = [
        ("ball-screw-16x10", "ball-screw-25x10"),
        ("ball-screw-16x5", "ball-screw-20x5-ground"),
        ("ball-screw-12x5", "ball-screw-32x5"),
        ("belt-5m-15", "belt-5m-25"),
    ];
    for build in common::modelled_builds(&catalogue, 81, 24) {
        for (one, other) in pairs {
            let sides = |first, second| {
                let edits = [
                    ("drive_y", first),
                    ("drive_y2", second),
                    ("gantry_drive", "each-side"),
                ];
                figures(&catalogue, &common::with(&catalogue, &build, &edits))
            };
            let (mut a, mut b) = (sides(one, other), sides(other, one));
            // What wears is listed side by side, so only its sums stay.
            for figures in [&mut a, &mut b] {
                figures["cost"]["running_a_year"]["lines"] = serde_json::Value::Null;
            }
            let mut found = Vec::new();
            for group in [
                "axes",
                "stiffness",
                "cutting",
                "power",
                "machine",
                "job",
                "cables",
                "cost",
            ] {
                differing(&a[group], &b[group], group, &mut found);
            }
            assert!(found.is_empty(), "{one}, {other}: {found:#?}");
        }
    }
}

/// Naming the drive of the second side by its name instead of "the same" changes nothing, but
/// for the hint where there is no second side.
#[test]
fn the_same_drive_named_twice_is_the_same() {
    let catalogue = common::catalogue();
    for build in common::modelled_builds(&catalogue, 82, 45) {
        let named = build.drive.drive.y;
        let same = common::with(&catalogue, &build, &[("drive_y2", "none")]);
        let twice = common::with(&catalogue, &build, &[("drive_y2", named.as_str())]);
        let mut found = Vec::new();
        let (same, twice) = (figures(&catalogue, &same), figures(&catalogue, &twice));
        for group in [
            "axes",
            "stiffness",
            "cutting",
            "power",
            "machine",
            "job",
            "cables",
            "bill",
        ] {
            differing(&same[group], &twice[group], group, &mut found);
        }
        assert!(found.is_empty(), "{named}: {found:#?}");
    }
}

/// The order in which materials are named changes no number and no warning.
#[test]
fn the_order_of_materials_does_not_matter() {
    let catalogue = common::catalogue();
    let materials = choices::find("materials").expect("a choice");
    for build in common::modelled_builds(&catalogue, 83, 45) {
        let mut turned = build.clone();
        let mut ids = build.area.materials.clone();
        ids.reverse();
        materials.put(&mut turned, &Value::Parts(ids));
        let mut found = Vec::new();
        let (one, other) = (figures(&catalogue, &build), figures(&catalogue, &turned));
        for group in [
            "cost",
            "axes",
            "stiffness",
            "cutting",
            "power",
            "machine",
            "job",
        ] {
            differing(&one[group], &other[group], group, &mut found);
        }
        let rules = |json: &Json| {
            let findings = json["findings"].as_array().expect("a list");
            let mut rules: Vec<String> = findings
                .iter()
                .map(|finding| finding["rule"].to_string())
                .collect();
            rules.sort();
            rules
        };
        assert_eq!(rules(&one), rules(&other));
        assert!(found.is_empty(), "{found:#?}");
    }
}

/// The limits that hang on the drive alone, and the travel for a pulse.
fn own_limits(figures: &AxisFigures) -> (Vec<(LimitName, f64)>, f64) {
    let own = [
        LimitName::Nut,
        LimitName::MotorSpeed,
        LimitName::ControllerPulses,
        LimitName::DriverPulses,
        LimitName::Track,
    ];
    let limits = figures
        .limits
        .iter()
        .filter(|limit| own.contains(&limit.name));
    let limits = limits.map(|limit| (limit.name, units::m_per_min::from(limit.speed)));
    (limits.collect(), units::um::from(figures.step))
}

/// What is bought for X and what for Y change places, and with them what depends on nothing
/// else: no plan is symmetric in X and Y, but a drive knows not along which it moves.
#[test]
fn parts_of_x_and_y_take_their_limits_along() {
    let catalogue = common::catalogue();
    for build in common::modelled_builds(&catalogue, 84, 90) {
        let build = common::with(&catalogue, &build, &[("drive_y2", "none")]);
        let mut swapped = build.clone();
        for kind in ["drive", "motor", "driver", "ends", "measured_rapid"] {
            let pair = ["x", "y"].map(|axis| {
                let mut all = choices::all().iter();
                all.find(|choice| {
                    choice.id == format!("{kind}_{axis}")
                        || choice.id == format!("{kind}_{axis}_m_per_min")
                })
            });
            let [Some(x), Some(y)] = pair else {
                continue;
            };
            x.put(&mut swapped, &(y.get)(&build));
            y.put(&mut swapped, &(x.get)(&build));
        }
        let [one, other] = [&build, &swapped].map(|build| common::machine(&catalogue, build).axes);
        assert_eq!(own_limits(&one[Axis::X]), own_limits(&other[Axis::Y]));
        assert_eq!(own_limits(&one[Axis::Y]), own_limits(&other[Axis::X]));
        assert_eq!(own_limits(&one[Axis::Z]), own_limits(&other[Axis::Z]));
    }
}
