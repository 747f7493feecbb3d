//! Circuits, cables and the cabinet as a whole: every figure explains itself, any load hangs
//! on either circuit, loads that take turns count once.

use crate::common;
use gantrywright::assessment::{Assessment, explain, json::json};
use gantrywright::build::choices::control::OnCircuit;
use gantrywright::catalogue::Catalogue;
use gantrywright::explain::Notes;
use gantrywright::machine::circuit::Circuit;
use gantrywright::machine::loads::{Consumer, circuit_choice};
use gantrywright::units::{self, ElectricCurrent};
use gantrywright::words::Words;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;
use serde_json::Value as Json;

/// Every number below a part of the JSON with its path; elements of lists are keyed by name.
fn numbers(json: &Json, path: &str, found: &mut Vec<(String, f64)>) {
    match json {
        Json::Object(map) => {
            for (key, value) in map {
                numbers(value, &format!("{path}.{key}"), found);
            }
        }
        Json::Array(list) => {
            for value in list {
                let key = ["name", "run"]
                    .iter()
                    .find_map(|key| value.get(key)?.as_str());
                numbers(value, &format!("{path}.{}", key.expect("a key")), found);
            }
        }
        Json::Number(number) => found.push((path.to_owned(), number.as_f64().expect("a number"))),
        _ => {}
    }
}

fn check(catalogue: &Catalogue, build: &gantrywright::build::Build) {
    let (assessment, notes): (Assessment, Notes) =
        explain(catalogue, build, common::today()).expect("an assessment");
    let json = json(build, &assessment, &[]);
    let mut found = Vec::new();
    for part in ["power", "cables"] {
        numbers(&json[part], part, &mut found);
    }
    assert!(found.len() > 50, "{} figures", found.len());
    for (path, number) in found {
        let derivation = notes.get(&path);
        let derivation = derivation.unwrap_or_else(|| panic!("{path} has no derivation"));
        let told = derivation.result.number();
        assert!(
            (told - number).abs() <= 1e-5 * number.abs().max(1e-12),
            "{path}: {told} is told, {number} shown"
        );
        assert!(
            !derivation.words.is_empty() && !derivation.formula.is_empty(),
            "{path}"
        );
        assert!(!derivation.source.is_empty(), "{path}");
        for input in &derivation.inputs {
            assert!(input.value.number().is_finite(), "{path}: {}", input.title);
        }
    }
}

#[test]
fn every_figure_of_power_and_cables_is_derived() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(31);
    check(&catalogue, &common::build(&catalogue, &[]));
    for _ in 0..60 {
        check(&catalogue, &common::random_build(&catalogue, &mut rng, 0.3));
    }
}

const EVERYTHING: &[(&str, &str)] = &[
    ("spindle", "spindle-2.2kw-tool-changing"),
    ("cooler", "cooler-radiator"),
    ("coolant", "coolant-flood"),
    ("extractor_circuit", "first"),
    ("motor_z", "servo-750w-brake"),
    ("driver_z", "driver-servo-750w"),
];

fn circuits(edits: &[(&str, &str)]) -> Vec<Circuit> {
    let all: Vec<_> = EVERYTHING.iter().chain(edits).copied().collect();
    let assessment = common::assessed(&common::catalogue(), &all);
    assessment.machine.electrics.circuits
}

fn close(a: ElectricCurrent, b: ElectricCurrent) -> bool {
    (units::a::from(a) - units::a::from(b)).abs() < 1e-9
}

#[test]
fn any_load_hangs_on_either_circuit() {
    let first = &circuits(&[])[0];
    assert_eq!(first.loads.len(), Consumer::ALL.len(), "{:?}", first.loads);
    for load in &first.loads {
        let moved = circuits(&[(circuit_choice(load.name), "second")]);
        assert_eq!(moved.len(), 2, "{:?}", load.name);
        let second = &moved[1];
        assert_eq!(second.which, OnCircuit::Second);
        let there = second.load(load.name).expect("the load that was moved");
        assert!(close(there.full, load.full));
        assert!(moved[0].load(load.name).is_none());
        let sum = moved[0].full() + second.full();
        assert!(close(sum, first.full()), "{:?}", load.name);
        assert!(close(
            moved[0].leakage() + second.leakage(),
            first.leakage()
        ));
    }
}

#[test]
fn loads_that_take_turns_count_once() {
    let all = &circuits(&[])[0];
    let one = &circuits(&[("extractor_at_once", "no")])[0];
    assert!(close(all.full(), one.full()), "one alone waits for nobody");
    let turns = [("extractor_at_once", "no"), ("coolant_at_once", "no")];
    let two = &circuits(&turns)[0];
    let coolant = two.load(Consumer::Coolant).expect("coolant");
    let extractor = two.load(Consumer::Extractor).expect("an extractor");
    assert!(coolant.full < extractor.full);
    assert!(close(all.full() - coolant.full, two.full()));
    assert!(close(all.leakage(), two.leakage()), "leakage never waits");
}

#[test]
fn less_flows_at_idle_than_in_work_than_at_most() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(32);
    for _ in 0..200 {
        let build = common::random_build(&catalogue, &mut rng, 0.3);
        let assessment = gantrywright::assessment::assess(&catalogue, &build, common::today());
        let machine = assessment.expect("an assessment").machine;
        for circuit in &machine.electrics.circuits {
            assert!(circuit.idle() <= circuit.typical(), "{:?}", circuit.loads);
            assert!(circuit.typical() <= circuit.full(), "{:?}", circuit.loads);
            assert!(
                circuit.starting.current >= circuit.modelled_full() || circuit.loads.is_empty()
            );
        }
        for run in &machine.geometry.runs {
            let (Some(load), Some(sizing)) = (run.load, run.sizing) else {
                assert!(run.load.is_none() && run.sizing.is_none());
                continue;
            };
            assert!(
                sizing
                    .fuse
                    .is_none_or(|fuse| fuse <= sizing.ampacity * (1.0 + 1e-9))
            );
            // An area that does is no less than what is needed, and the other way round.
            if let Some(needed) = sizing.needed() {
                let does = load.heating <= sizing.ampacity && load.drop() <= load.fair_drop();
                assert_eq!(does, run.area * 1.001 >= needed, "{run:?}");
            }
        }
    }
}

/// A free-standing box sheds heat from its back too: it is never warmer than on a wall.
#[test]
fn a_free_standing_cabinet_is_cooler() {
    let at = |mounting| {
        let edits = [("fan", "none"), ("cabinet_mounting", mounting)];
        let machine = common::assessed(&common::catalogue(), &edits).machine;
        units::kelvin::from(machine.electrics.cabinet.rise.expect("walls"))
    };
    assert!(at("free-standing") < at("on-wall"));
}

/// A choke and a corrected inverter lower the current, never the power.
#[test]
fn a_choke_and_correction_lower_the_current() {
    let at = |vfd, choke| {
        let edits = [
            ("spindle", "spindle-2.2kw-water"),
            ("vfd", vfd),
            ("line_choke", choke),
        ];
        let machine = common::assessed(&common::catalogue(), &edits).machine;
        let circuit = &machine.electrics.circuits[0];
        units::a::from(circuit.load(Consumer::Spindle).expect("a spindle").full)
    };
    let plain = at("vfd-2.2kw-230", "no");
    let choked = at("vfd-2.2kw-230", "yes");
    let corrected = at("vfd-2.2kw-230-corrected", "no");
    assert!(
        (plain / choked - 0.70 / 0.55).abs() < 1e-9,
        "{plain} {choked}"
    );
    assert!(corrected < choked);
}
