//! Circuits, cables and the cabinet as a whole: any load hangs on either circuit, loads that
//! take turns count once.

use crate::common;
use gantrywright::build::choices::control::OnCircuit;
use gantrywright::catalogue::frame::RunEnd;
use gantrywright::machine::circuit::Circuit;
use gantrywright::machine::loads::{Consumer, circuit_choice};
use gantrywright::units::{self, ElectricCurrent};
use gantrywright::words::Words;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

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
        assert!(close(there.current.full, load.current.full));
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
    assert!(coolant.current.full < extractor.current.full);
    assert!(close(all.full() - coolant.current.full, two.full()));
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
        units::a::from(
            circuit
                .load(Consumer::Spindle)
                .expect("a spindle")
                .current
                .full,
        )
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

/// What feeds a hand router carries its mains current. By hand: 580 W at the tool and 55 % of
/// efficiency are 1054.5 W at the plug, which is what its label says; P = U · I · cos φ (any handbook
/// of electrical engineering) with 0.95 gives 1054.5 / (230 · 0.95) = 4.826 A. Over the length there
/// and back it loses 2 · L · I · R, with R of IEC 60228 class 5, 13.3 Ω/km for 1.5 mm², 19.65 % more
/// at 70 °C.
#[test]
fn the_feed_of_a_hand_router_carries_its_mains_current() {
    let catalogue = common::catalogue();
    let edits = [
        ("spindle", "router-1050w-230"),
        ("spindle_cable", "cable-4x1.5-shielded-flex"),
        ("power_cap_percent", "100"),
    ];
    let machine = common::assessed(&catalogue, &edits).machine;
    let mut runs = machine.geometry.runs.iter();
    let run = runs.find(|run| run.to == RunEnd::Spindle);
    let run = run.expect("a cable to the router");
    let load = run.load.expect("it carries mains");
    assert!((units::a::from(load.current) - 4.826).abs() < 0.001);
    let metres = units::m::from(run.length);
    let lost = 2.0 * metres * 4.826 * 0.0133 * 1.1965;
    assert!((units::v::from(load.lost) - lost).abs() < 0.001);
    assert!(!load.three_phase && !load.direct);
}

/// Of the loads that take turns one is counted, of two alike the first: what does not wait makes
/// what the circuit is said to take.
#[test]
fn of_loads_that_take_turns_one_is_counted() {
    let machine = common::assessed(&common::catalogue(), &[]).machine;
    let mut circuit = machine.electrics.circuits[0].clone();
    assert!(circuit.loads.len() > 2);
    let full = circuit.loads[0]
        .current
        .full
        .max(circuit.loads[1].current.full);
    for load in &mut circuit.loads[..2] {
        (load.at_once, load.current.full) = (false, full);
    }
    let [first, second] = [0, 1].map(|place| circuit.waits(&circuit.loads[place]));
    assert!(!first && second);
    let counted = circuit.loads.iter().filter(|load| !circuit.waits(load));
    let together: ElectricCurrent = counted.map(|load| load.current.full).sum();
    let gap = units::a::from(together) - units::a::from(circuit.modelled_full());
    assert!(gap.abs() < 1e-9, "{gap}");
}
