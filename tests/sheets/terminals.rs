//! The strips in the cabinet: every core that lands has its terminal, and no terminal has
//! two potentials.

use crate::common;
use std::collections::{HashMap, HashSet};

use gantrywright::assessment::assess;
use gantrywright::build::Picked;
use gantrywright::machine::Machine;
use gantrywright::machine::terminals::{
    Core, Landing, Potential, Stage, Strip, Terminal, bought, landed, strips,
};
use gantrywright::machine::wiring::lead::{End, Purpose};
use gantrywright::units;

fn machines(check: impl Fn(&Picked, &Machine)) {
    let catalogue = common::catalogue();
    let mut tried = 0;
    for build in common::wired_builds(&catalogue, 120) {
        let Ok(assessment) = assess(&catalogue, &build, common::today()) else {
            continue;
        };
        tried += 1;
        let picked = Picked::new(&catalogue, &build).expect("parts");
        check(&picked, &assessment.machine);
    }
    assert!(tried > 100, "{tried}");
}

fn wires(terminal: &Terminal) -> impl Iterator<Item = Core> {
    terminal.outer.into_iter().chain(terminal.inner)
}

/// Every core of every run with the number of its ends on a strip.
fn landing_cores(machine: &Machine) -> HashMap<Core, usize> {
    let mut found = HashMap::new();
    for (place, run) in machine.geometry.runs.iter().enumerate() {
        for core in 0..run.cores {
            found.insert(
                Core {
                    run: place + 1,
                    core,
                },
                1,
            );
        }
    }
    for lead in &machine.leads {
        let (from, to) = lead.ends();
        let ends = [from, to]
            .iter()
            .filter(|end| matches!(end, End::On(_)))
            .count();
        for core in 0..lead.cores {
            found.insert(
                Core {
                    run: lead.number,
                    core,
                },
                ends,
            );
        }
    }
    found.retain(|_, ends| *ends > 0);
    found
}

#[test]
fn every_core_that_lands_has_exactly_one_terminal_at_each_end() {
    machines(|picked, machine| {
        let mut sides: HashMap<Core, usize> = HashMap::new();
        for laid in strips(picked, machine) {
            for terminal in &laid.terminals {
                assert!(wires(terminal).next().is_some());
                wires(terminal).for_each(|core| *sides.entry(core).or_default() += 1);
            }
        }
        let expected = landing_cores(machine);
        assert_eq!(sides, expected);
        assert!(expected.len() > 50, "{}", expected.len());
    });
}

#[test]
fn no_terminal_has_two_potentials() {
    machines(|picked, machine| {
        let landed: HashMap<(Strip, Core), Potential> = landed(picked, machine)
            .into_iter()
            .map(
                |Landing {
                     strip,
                     core,
                     potential,
                     ..
                 }| ((strip, core), potential),
            )
            .collect();
        for laid in strips(picked, machine) {
            for terminal in &laid.terminals {
                for core in wires(terminal) {
                    assert_eq!(landed[&(laid.strip, core)], terminal.potential);
                }
            }
            // What is bridged stands side by side.
            let mut in_turn: Vec<Potential> = laid
                .terminals
                .iter()
                .map(|terminal| terminal.potential)
                .collect();
            in_turn.dedup();
            let all = in_turn.len();
            in_turn.sort();
            in_turn.dedup();
            assert_eq!(in_turn.len(), all, "{:?}", laid.strip);
        }
    });
}

/// Both ends of a wire between a device and its cable have the same name: a motor's windings
/// meet its driver's, and each input's wire meets its sensor's.
#[test]
fn wires_from_within_meet_the_cables_from_outside() {
    machines(|picked, machine| {
        for laid in strips(picked, machine) {
            for terminal in &laid.terminals {
                let both = terminal.outer.is_some() && terminal.inner.is_some();
                match terminal.potential {
                    Potential::Winding(..) if laid.strip == Strip::Motors => assert!(both),
                    Potential::Signal(_) => assert!(both, "{terminal:?}"),
                    Potential::Spare(..) => assert!(!both),
                    _ => {}
                }
            }
        }
    });
}

/// Earths never share a screw (IEC 60204-1, 8.2.1), and a fifth of what is bought stays free.
#[test]
fn earths_have_screws_of_their_own_and_a_fifth_stays_free() {
    machines(|picked, machine| {
        let laid = strips(picked, machine);
        let earth = laid
            .iter()
            .find(|laid| laid.strip == Strip::Earth)
            .expect("an earth bar");
        assert!(
            earth
                .terminals
                .iter()
                .all(|terminal| wires(terminal).count() == 1)
        );
        let free: usize = laid.iter().map(|laid| laid.free).sum();
        assert_eq!(free, bought(picked, machine).div_ceil(5));
    });
}

/// What the stop cuts is not joined to what stays on, nor that to what comes from the socket.
#[test]
fn the_stop_parts_what_moves_from_what_controls() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[]);
    let assessment = assess(&catalogue, &build, common::today()).expect("an assessment");
    let picked = Picked::new(&catalogue, &build).expect("parts");
    let machine = &assessment.machine;
    let on = |potential| -> HashSet<Purpose> {
        let landed = landed(&picked, machine).into_iter();
        landed
            .filter(|landing| landing.strip == Strip::Mains && landing.potential == potential)
            .filter_map(|landing| {
                machine
                    .leads
                    .iter()
                    .find(|lead| lead.number == landing.core.run)
            })
            .map(|lead| lead.purpose)
            .collect()
    };
    let cut = on(Potential::Live(Stage::Cut));
    assert!(
        cut.contains(&Purpose::SupplyIn) && cut.contains(&Purpose::InverterIn),
        "{cut:?}"
    );
    let kept = on(Potential::Live(Stage::On));
    assert!(
        kept.contains(&Purpose::ControlIn)
            && kept.is_disjoint(&on(Potential::Live(Stage::Incoming)))
    );
    assert_eq!(
        on(Potential::Live(Stage::Incoming)),
        HashSet::from([Purpose::MainsFeed, Purpose::SwitchIn])
    );
}

/// Live and neutral of each circuit pass a contactor of their own, with its coil on the stop
/// circuit, and each is bought: a contactor of three poles cannot take two circuits.
#[test]
fn each_circuit_that_the_stop_cuts_has_its_contactor() {
    let catalogue = common::catalogue();
    let found = |edits: &[(&str, &str)]| {
        let assessment = common::assessed(&catalogue, edits);
        let leads = |purpose| {
            let leads = assessment.machine.leads.iter();
            let leads = leads.filter(|lead| lead.purpose == purpose);
            let mut circuits: Vec<_> = leads.map(|lead| lead.circuit).collect();
            circuits.dedup();
            circuits
        };
        let bought = |part| {
            let line = assessment.bill.line(part);
            line.map_or(0, |line| u32::try_from(line.needed).expect("whole"))
        };
        assert_eq!(leads(Purpose::ContactorIn), leads(Purpose::StopCoil));
        let feeds = leads(Purpose::MainsFeed).len() as u32;
        assert_eq!((bought("breaker"), bought("main-switch")), (feeds, feeds));
        (
            leads(Purpose::StopCoil).len(),
            bought("contactor"),
            bought("no-volt-release"),
        )
    };
    let two = ("spindle_circuit", "second");
    let (hard, soft) = (
        ("emergency_stop", "hard-wired"),
        ("emergency_stop", "software-input"),
    );
    let (held, not) = (("no_volt_release", "yes"), ("no_volt_release", "no"));
    assert_eq!(found(&[hard, not]), (1, 1, 0));
    assert_eq!(found(&[hard, held]), (1, 1, 1));
    assert_eq!(found(&[hard, not, two]), (2, 2, 0));
    // One release holds both coils; without contactors it must part both circuits itself.
    assert_eq!(found(&[hard, held, two]), (2, 2, 1));
    assert_eq!(found(&[soft, held, two]), (2, 0, 2));
    assert_eq!(found(&[soft, held]), (1, 0, 1));
    assert_eq!(found(&[soft, not, two]), (0, 0, 0));
    // The stop does not cut the extractor: nothing of its circuit is parted.
    assert_eq!(
        found(&[hard, not, ("extractor_circuit", "second")]),
        (1, 1, 0)
    );
}

/// IEC 60204-1:2016, Table 6, method B2: 2.5 mm² carries 17.4 A, 1.5 mm² 13.1 A; method C:
/// 1.5 mm² carries 15.2 A, 2.5 mm² 21 A. So behind a breaker of 16 A nothing thinner than
/// 2.5 mm² does, behind a plug's fuse of 13 A and a breaker of 10 A less is enough.
#[test]
fn what_is_behind_a_breaker_bears_it() {
    let catalogue = common::catalogue();
    for (site, within, outside) in [
        ("site-230v-16a", 2.5, 2.5),
        ("site-230v-13a", 1.5, 1.5),
        ("site-230v-10a", 1.0, 1.5),
    ] {
        let build = common::build(&catalogue, &[("site", site)]);
        let assessment = assess(&catalogue, &build, common::today()).expect("an assessment");
        let area = |purpose| {
            let mut leads = assessment.machine.leads.iter();
            let lead = leads.find(|lead| lead.purpose == purpose).expect("a run");
            units::mm2::from(lead.area)
        };
        assert!((area(Purpose::ControlIn) - within).abs() < 1e-9, "{site}");
        assert!((area(Purpose::MainsFeed) - outside).abs() < 1e-9, "{site}");
    }
    machines(|_, machine| {
        for lead in &machine.leads {
            if let (Some(guard), Some(ampacity)) = (lead.guard, lead.ampacity) {
                assert!(guard <= ampacity, "{}", lead.title());
            }
        }
    });
}

/// IEC 60204-1, Table 1: an earth is as thick as its phase up to 16 mm²; one that is led on its
/// own for bonding has 6 mm² at least (IEC 60364-5-54, 544.1). Where more than 3.5 mA leak
/// (IEC 61800-5-1) there is a second earth or one of 10 mm².
#[test]
fn earths_are_as_thick_as_the_standard_asks() {
    machines(|picked, machine| {
        let feeds = machine
            .leads
            .iter()
            .filter(|lead| lead.purpose == Purpose::MainsFeed);
        let thickest = feeds
            .clone()
            .map(|lead| units::mm2::from(lead.area))
            .fold(0.0, f64::max);
        for lead in &machine.leads {
            let area = units::mm2::from(lead.area);
            match lead.purpose {
                Purpose::FrameEarth | Purpose::EarthStrap | Purpose::BridgeEarth => {
                    let spindle = units::mm2::from(picked.spindle_cable.area);
                    assert!(area >= thickest.max(spindle).max(6.0) * 0.9999, "{area}");
                }
                Purpose::SecondEarth => assert!(area >= 9.999, "{area}"),
                Purpose::PlateEarth | Purpose::DoorEarth => assert!(area >= thickest * 0.9999),
                _ => {}
            }
        }
        let second = machine
            .leads
            .iter()
            .any(|lead| lead.purpose == Purpose::SecondEarth);
        for (feed, circuit) in feeds.zip(&machine.electrics.circuits) {
            let earth = units::mm2::from(feed.earth_area.expect("an earth core"));
            let leaks = units::ma::from(circuit.leakage());
            assert!(earth >= units::mm2::from(feed.area) * 0.9999);
            assert!(
                leaks <= 3.5 || second || earth > 9.999,
                "{leaks} mA, {earth} mm²"
            );
        }
    });
}

/// A start button does not hold the contactor: a contact of its own must, beside the button
/// (IEC 60204-1, 9.2.3.4.2). So the contactor has a core on either side of the button.
#[test]
fn the_contactor_holds_itself_beside_the_start_button() {
    let catalogue = common::catalogue();
    let lands = |edits: &[(&str, &str)], purpose: Purpose| -> HashSet<String> {
        let build = common::build(&catalogue, edits);
        let assessment = assess(&catalogue, &build, common::today()).expect("an assessment");
        let picked = Picked::new(&catalogue, &build).expect("parts");
        let machine = &assessment.machine;
        let lead = machine.leads.iter().find(|lead| lead.purpose == purpose);
        let number = lead.expect("a lead").number;
        let landed = landed(&picked, machine).into_iter();
        landed
            .filter(|landing| landing.core.run == number)
            .map(|landing| landing.potential.title(&picked))
            .collect()
    };
    let with = [("emergency_stop", "hard-wired"), ("no_volt_release", "yes")];
    let button = lands(&with, Purpose::StartButton);
    let coil = lands(&with, Purpose::StopCoil);
    assert_eq!(button.len(), 2);
    assert!(button.is_subset(&coil), "{button:?} {coil:?}");
    assert_eq!(coil.len(), 3, "{coil:?}");
    let without = [with[0], ("no_volt_release", "no")];
    assert_eq!(lands(&without, Purpose::StopCoil).len(), 2);
}
