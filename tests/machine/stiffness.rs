//! Stiffness over whole builds: every figure has its derivation, and the changes that stiffen
//! a machine most for their money do so.

use crate::common;
use gantrywright::assessment::json::json;
use gantrywright::assessment::{Assessment, assess, explain};
use gantrywright::build::{Axis, Build, Edit, choices};
use gantrywright::explore::stiffer::{Stiffer, stiffer};
use gantrywright::rules::Severity;
use gantrywright::units;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use rust_decimal::prelude::ToPrimitive;
use serde_json::Value;

/// Every number below a node of the JSON, with its path.
fn numbers(json: &Value, path: &str, found: &mut Vec<(String, f64)>) {
    match json {
        Value::Object(map) => map
            .iter()
            .for_each(|(key, value)| numbers(value, &format!("{path}.{key}"), found)),
        Value::Number(number) => found.push((path.to_owned(), number.as_f64().expect("a float"))),
        _ => {}
    }
}

#[test]
fn every_figure_of_stiffness_is_derived() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(31);
    for share in [0.0, 0.05, 0.3, 0.3, 1.0, 1.0] {
        let build = common::random_build(&catalogue, &mut rng, share);
        let (assessment, notes) = explain(&catalogue, &build, common::today()).expect("one");
        let whole = json(&build, &assessment, &[]);
        let mut found = Vec::new();
        numbers(&whole["stiffness"], "stiffness", &mut found);
        assert!(found.len() > 40, "{found:?}");
        for (path, number) in found {
            let note = notes.get(&path).unwrap_or_else(|| panic!("no {path}"));
            let off = (note.result.number() - number).abs() / number.abs();
            assert!(off < 1e-4, "{path}: {number} and {:?}", note.result);
            for text in [note.words.as_str(), note.formula, note.source] {
                assert!(!text.is_empty(), "{path}");
            }
            assert!(!note.inputs.is_empty(), "{path}");
            for input in &note.inputs {
                assert!(input.value.number().is_finite(), "{path}: {input:?}");
            }
        }
    }
}

/// Newtons a micrometre for each unit of money, of a change tried here.
fn worth(before: &Assessment, after: &Assessment, axis: Axis) -> Option<f64> {
    let collet = |a: &Assessment| units::n_per_um::from(a.machine.stiffness.collet[axis]);
    let likely = |a: &Assessment| a.bill.total.likely.to_f64().expect("a number");
    let (added, cost) = (
        collet(after) - collet(before),
        likely(after) - likely(before),
    );
    let unsound = |a: &Assessment, severity| a.open(severity).count();
    let sound = [Severity::Danger, Severity::Fault]
        .iter()
        .all(|severity| unsound(after, *severity) <= unsound(before, *severity));
    // Less than a twentieth is not worth the work.
    (added >= collet(before) * 0.05 && sound).then_some(if cost > 0.0 {
        added / cost
    } else {
        f64::INFINITY
    })
}

#[test]
fn the_best_changes_stiffen_most_for_their_money() {
    let (catalogue, build) = (common::catalogue(), Build::default());
    let today = common::today();
    let before = assess(&catalogue, &build, today).expect("an assessment");
    for axis in Axis::EACH {
        let best: Vec<Stiffer> = stiffer(&catalogue, &build, axis, today).expect("changes");
        assert!((1..=3).contains(&best.len()), "{axis:?}");
        assert!(best.is_sorted_by(|a, b| a.worth() >= b.worth()), "{best:?}");
        for one in &best {
            let after = assess(&catalogue, &one.edit.applied(&build), today).expect("one");
            let collet = |a: &Assessment| a.machine.stiffness.collet[axis];
            assert_eq!(collet(&after), one.after);
            assert_eq!(collet(&after) - collet(&before), one.added);
            let cost = after.bill.total.likely - before.bill.total.likely;
            assert_eq!(cost, one.cost);
        }
        for id in ["plate", "beam_tube", "guide_y", "drive_y", "frame_plan"] {
            let choice = choices::find(id).expect("a choice");
            for value in choice.options(&catalogue) {
                let edit = Edit { choice, value };
                let after = assess(&catalogue, &edit.applied(&build), today).expect("one");
                if let Some(worth) = worth(&before, &after, axis) {
                    assert!(
                        worth <= best[0].worth() * (1.0 + 1e-9),
                        "{axis:?} {edit:?}: {worth}"
                    );
                }
            }
        }
    }
}
