//! Laws of the electrics that hold for every build, tried on random ones. To try one cause
//! alone, a part is changed in the catalogue and nothing else.

use crate::common;
use gantrywright::build::choices::control::OnCircuit;
use gantrywright::build::{Build, Kind, Value, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::machine::Machine;
use gantrywright::machine::circuit::Circuit;
use gantrywright::units;

/// Currents of a circuit at idle, in usual work and at most, in A.
fn currents(circuit: &Circuit) -> [f64; 3] {
    [circuit.idle(), circuit.typical(), circuit.full()].map(units::a::from)
}

/// A smaller share of the spindle's power never asks more of the wall, of the cable to the
/// spindle or of the cabinet, and a circuit never draws less in harder work.
#[test]
fn less_power_never_draws_more() {
    let catalogue = common::catalogue();
    for build in common::modelled_builds(&catalogue, 61, 120) {
        let mut before: Option<Machine> = None;
        for cap in ["10", "40", "70", "100"] {
            let edits = [("power_cap_percent", cap)];
            let now = common::machine(&catalogue, &common::with(&catalogue, &build, &edits));
            for circuit in &now.electrics.circuits {
                let [idle, typical, full] = currents(circuit);
                assert!(idle <= typical && typical <= full, "{cap} %");
            }
            if let Some(before) = before {
                let pairs = before
                    .electrics
                    .circuits
                    .iter()
                    .zip(&now.electrics.circuits);
                for (before, now) in pairs {
                    let each = currents(before).into_iter().zip(currents(now));
                    each.for_each(|(less, more)| assert!(less <= more, "{cap} %"));
                }
                assert!(before.electrics.spindle_input <= now.electrics.spindle_input);
                assert!(
                    before.electrics.cabinet.losses.total() <= now.electrics.cabinet.losses.total()
                );
                for (before, now) in before.geometry.runs.iter().zip(&now.geometry.runs) {
                    let current = |load: Option<gantrywright::machine::cable_load::CableLoad>| {
                        load.map(|load| units::a::from(load.current))
                    };
                    assert!(current(before.load) <= current(now.load), "{}", now.mark);
                }
            }
            before = Some(now);
        }
    }
}

/// A cable of more copper never loses more, and never bears less; nor does a shorter one.
#[test]
fn thicker_and_shorter_cables_never_drop_more() {
    let catalogue = common::catalogue();
    let mut thick = catalogue.clone();
    for cable in thick.cables.values_mut() {
        cable.area *= 1.6;
    }
    let mut loaded = 0;
    for build in common::modelled_builds(&catalogue, 62, 90) {
        let plain = common::machine(&catalogue, &build);
        let thick = common::machine(&thick, &build);
        loaded += compare_runs(&plain, &thick);
        let halved = [("travel_x_mm", 0.5), ("travel_y_mm", 0.5)];
        let shorter = common::machine(&catalogue, &scaled(&build, &halved));
        compare_runs(&plain, &shorter);
    }
    assert!(loaded > 200, "only {loaded} loaded runs");
}

/// Asserts that no run of the better machine drops more; how many are loaded.
fn compare_runs(plain: &Machine, better: &Machine) -> usize {
    let (before, after) = (&plain.geometry.runs, &better.geometry.runs);
    assert_eq!(before.len(), after.len());
    let mut loaded = 0;
    for (before, after) in before.iter().zip(after) {
        assert!(after.length <= before.length, "{}", before.mark);
        let (Some(one), Some(other)) = (before.load, after.load) else {
            continue;
        };
        loaded += 1;
        assert!(other.lost <= one.lost, "{}", before.mark);
        let (Some(one), Some(other)) = (before.sizing, after.sizing) else {
            continue;
        };
        assert!(other.ampacity >= one.ampacity, "{}", before.mark);
        let area = |area: Option<units::Area>| area.map_or(f64::INFINITY, units::mm2::from);
        assert!(
            area(other.needed()) <= area(one.needed()),
            "{}",
            before.mark
        );
    }
    loaded
}

/// A build with numbers of choices multiplied.
fn scaled(build: &Build, factors: &[(&str, f64)]) -> Build {
    let mut build = build.clone();
    for (id, factor) in factors {
        let choice = choices::find(id).expect("a choice");
        let (Value::Number(Some(number)), Kind::Number(kind)) = ((choice.get)(&build), choice.kind)
        else {
            panic!("{id} is no number");
        };
        let number = (number * factor).clamp(kind.least, kind.most);
        choice.put(&mut build, &Value::Number(Some(number)));
    }
    build
}

/// A bigger cabinet never gets warmer, nor one that stands free of walls, nor one of a
/// material that passes more heat. A fan warms it by its own power besides: it never gets
/// warmer than without, or than the fan warms the air that it blows, about one kelvin.
#[test]
fn bigger_cabinets_and_fans_never_run_hotter() {
    let catalogue = common::catalogue();
    let mut big = catalogue.clone();
    for cabinet in big.cabinets.values_mut() {
        (cabinet.width, cabinet.height) = (cabinet.width * 1.3, cabinet.height * 1.3);
        cabinet.depth *= 1.3;
    }
    let mut strong = catalogue.clone();
    strong
        .fans
        .values_mut()
        .for_each(|fan| fan.air = units::AirFlow::m3_per_h(fan.air.as_m3_per_h() * 2.0));
    let rise = |catalogue: &Catalogue, build: &Build| {
        let rise = common::machine(catalogue, build).electrics.cabinet.rise;
        rise.map_or(0.0, units::kelvin::from)
    };
    for build in common::modelled_builds(&catalogue, 63, 90) {
        let plain = rise(&catalogue, &build);
        assert!(rise(&big, &build) <= plain);
        assert!(rise(&strong, &build) <= plain);
        let set =
            |edits: &[(&str, &str)]| rise(&catalogue, &common::with(&catalogue, &build, edits));
        let bare = set(&[("fan", "none")]);
        for fan in catalogue.fans.values() {
            let own = units::w::from(fan.power) * 3.1 / fan.air.as_m3_per_h();
            let blown = set(&[("fan", fan.id.as_str())]);
            assert!(
                blown <= bare.max(own),
                "{}: {bare} K, then {blown} K",
                fan.id
            );
        }
        let each = ["stainless", "steel"].map(|material| {
            let cabinet = format!("cabinet-{material}-600x400");
            set(&[("cabinet", cabinet.as_str())])
        });
        assert!(each[1] <= each[0], "{each:?}");
    }
}

/// More supplies are never fuller.
#[test]
fn more_supplies_are_never_fuller() {
    let catalogue = common::catalogue();
    for build in common::modelled_builds(&catalogue, 64, 60) {
        let each = ["1", "2", "3", "4"].map(|count| {
            let edits = [("supply_count", count)];
            let machine = common::machine(&catalogue, &common::with(&catalogue, &build, &edits));
            units::percent::from(machine.electrics.supply.fill())
        });
        assert!(each.windows(2).all(|pair| pair[1] <= pair[0]), "{each:?}");
    }
}

/// The choices that say on which circuit something hangs.
fn circuit_choices() -> Vec<&'static choices::Choice> {
    let all = choices::all().iter();
    // Whether there is a second circuit hangs nothing on it.
    all.filter(|choice| choice.id.ends_with("_circuit") && choice.id != "second_circuit")
        .collect()
}

/// Hanging everything on the other circuit swaps the two and changes nothing else. An unused
/// second circuit is not named at all.
#[test]
fn circuits_swap_with_their_loads() {
    let catalogue = common::catalogue();
    let places = circuit_choices();
    assert_eq!(places.len(), 8);
    for build in common::modelled_builds(&catalogue, 65, 120) {
        let mut swapped = build.clone();
        for choice in &places {
            let Value::Word(word) = (choice.get)(&build) else {
                panic!("{} is no word", choice.id);
            };
            let other = if word == "first" { "second" } else { "first" };
            choice.put(&mut swapped, &Value::Word(other));
        }
        let [one, other] = [&build, &swapped].map(|build| common::machine(&catalogue, build));
        for (a, b) in [
            (OnCircuit::First, OnCircuit::Second),
            (OnCircuit::Second, OnCircuit::First),
        ] {
            let of = |machine: &Machine, which| {
                let mut circuits = machine.electrics.circuits.iter();
                let found = circuits.find(|circuit| circuit.which == which);
                found
                    .filter(|circuit| !circuit.loads.is_empty())
                    .map(|circuit| {
                        let names: Vec<_> = circuit.loads.iter().map(|load| load.name).collect();
                        let starting = units::a::from(circuit.starting.current);
                        let leaking = units::ma::from(circuit.leakage());
                        (names, currents(circuit), starting, leaking)
                    })
            };
            assert_eq!(of(&one, a), of(&other, b));
        }
        assert_eq!(
            one.electrics.cabinet.losses.total(),
            other.electrics.cabinet.losses.total()
        );
        assert_eq!(one.electrics.cabinet.rise, other.electrics.cabinet.rise);
    }
}
