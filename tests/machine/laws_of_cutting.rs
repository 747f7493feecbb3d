//! Laws of cutting, of the time of a job and of life that hold for every build, tried on
//! random ones. To try one cause alone, a part is changed in the catalogue and nothing else.

use crate::common;
use gantrywright::build::{Axis, Build};
use gantrywright::catalogue::Catalogue;
use gantrywright::machine::Machine;
use gantrywright::machine::cutting::{Cut, Engagement};
use gantrywright::units;

/// Asserts that no verdict on any cut got worse.
fn no_worse(what: &str, before: &Machine, after: &Machine) {
    let (before, after) = (&before.cutting.cuts, &after.cutting.cuts);
    assert_eq!(before.len(), after.len(), "{what}");
    for (one, other) in before.iter().zip(after) {
        let name = || format!("{what}: {} {} {:?}", one.material, one.tool, one.engagement);
        assert!(
            other.verdict >= one.verdict,
            "{}: {:?} by {:?} reached {}, then {:?} by {:?} reached {}",
            name(),
            one.verdict,
            one.limited_by,
            units::share::from(one.reached),
            other.verdict,
            other.limited_by,
            units::share::from(other.reached)
        );
    }
}

/// More power of the same spindle at the same speeds never worsens a verdict, nor does a
/// larger share of it, a push with more torque, or firmer joints.
#[test]
fn more_power_push_and_stiffness_never_worsen_a_verdict() {
    let catalogue = common::catalogue();
    let mut strong = catalogue.clone();
    strong
        .spindles
        .values_mut()
        .for_each(|spindle| spindle.power *= 1.5);
    let ladders: [(&str, &[&str]); 4] = [
        ("power_cap_percent", &["10", "40", "100"]),
        ("working_share_percent", &["20", "50", "80"]),
        ("carriage_joint_percent", &["10", "33", "100"]),
        ("beam_ends_percent", &["0", "67", "100"]),
    ];
    for build in common::modelled_builds(&catalogue, 71, 36) {
        let plain = common::machine(&catalogue, &build);
        no_worse("power", &plain, &common::machine(&strong, &build));
        for (choice, values) in ladders {
            let mut before: Option<Machine> = None;
            for value in values {
                let build = common::with(&catalogue, &build, &[(choice, *value)]);
                let now = common::machine(&catalogue, &build);
                if let Some(before) = before {
                    no_worse(&format!("{choice} {value}"), &before, &now);
                }
                before = Some(now);
            }
        }
    }
}

/// Cuts are within every limit that they name: power within the cap, depth within the edges,
/// width by the engagement, removal their product, and what does not go removes nothing.
#[test]
fn cuts_are_within_their_limits() {
    let catalogue = common::catalogue();
    let mut tried = 0;
    for build in common::modelled_builds(&catalogue, 72, 150) {
        let machine = common::machine(&catalogue, &build);
        let spindle = &catalogue.spindles[&build.spindle.spindle];
        let cap = spindle.power * build.spindle.power_cap;
        for cut in &machine.cutting.cuts {
            tried += 1;
            let mill = &catalogue.end_mills[&cut.tool];
            let name = format!("{} {} {:?}", cut.material, cut.tool, cut.engagement);
            let close =
                |one: f64, other: f64| common::no_lower(one, other) && common::no_lower(other, one);
            assert!(
                units::w::from(cut.power) <= units::w::from(cap) * 1.000_001,
                "{name}"
            );
            assert!(cut.depth <= mill.flute_length * 1.000_001, "{name}");
            assert!(cut.turning <= spindle.greatest_speed * 1.000_001, "{name}");
            assert!(cut.turning >= spindle.least_speed * 0.999_999, "{name}");
            let width = units::mm::from(mill.diameter * cut.engagement.share());
            assert!(close(units::mm::from(cut.width), width), "{name}");
            let removal = cut.depth * cut.width * cut.feed;
            assert!(close(cut.removal.value, removal.value), "{name}");
            assert!(cut.feed <= machine.axes.x.rapid * 1.000_001, "{name}");
            assert!(cut.feed <= machine.axes.y.rapid * 1.000_001, "{name}");
        }
        outlooks(&machine, &catalogue);
    }
    assert!(tried > 10_000, "only {tried} cuts");
}

/// The outlook of a material is the best of its slots.
fn outlooks(machine: &Machine, catalogue: &Catalogue) {
    for material in catalogue.materials.keys() {
        let slots =
            machine.cutting.cuts.iter().filter(|cut: &&Cut| {
                cut.material == *material && cut.engagement == Engagement::Slot
            });
        let best = slots.map(|cut| cut.verdict).max();
        let outlook = machine.cutting.outlook(material).map(|cut| cut.verdict);
        assert_eq!(outlook, best, "{material}");
    }
}

/// A heavier cut never lengthens the life of a nut or a carriage, in kilometres.
#[test]
fn heavier_use_never_lengthens_life() {
    let catalogue = common::catalogue();
    let forces = ["5", "50", "100", "400", "2000"];
    for build in common::modelled_builds(&catalogue, 73, 90) {
        let each = forces.map(|force| {
            common::machine(
                &catalogue,
                &common::with(&catalogue, &build, &[("cutting_force_n", force)]),
            )
        });
        for (pair, force) in each.windows(2).zip(&forces[1..]) {
            for axis in Axis::EACH {
                let (light, heavy) = (&pair[0].life[axis], &pair[1].life[axis]);
                let km = units::km::from;
                assert!(
                    common::no_lower(km(light.carriage), km(heavy.carriage)),
                    "{force} N {axis:?}"
                );
                if let (Some(light), Some(heavy)) = (light.nut, heavy.nut) {
                    assert!(common::no_lower(km(light), km(heavy)), "{force} N {axis:?}");
                }
            }
        }
    }
}

/// Nuts and carriages of a higher rating never live shorter.
#[test]
fn stronger_bearings_never_live_shorter() {
    let catalogue = common::catalogue();
    let mut strong = catalogue.clone();
    strong
        .carriages
        .values_mut()
        .for_each(|part| part.dynamic_load *= 1.4);
    for build in common::modelled_builds(&catalogue, 74, 60) {
        let [weak, strong] =
            [&catalogue, &strong].map(|catalogue| common::machine(catalogue, &build));
        for axis in Axis::EACH {
            assert!(
                strong.life[axis].carriage > weak.life[axis].carriage,
                "{axis:?}"
            );
        }
    }
}

/// Minutes of the job of a build; none where it cannot be done.
fn minutes(catalogue: &Catalogue, build: &Build, edits: &[(&str, &str)]) -> Option<f64> {
    let machine = common::machine(catalogue, &common::with(catalogue, build, edits));
    machine.job.map(|job| units::minute::from(job.total))
}

/// A tool-length sensor never lengthens a job, and more work never shortens one.
#[test]
fn a_job_never_takes_less_for_more_work() {
    let catalogue = common::catalogue();
    let mut timed = 0;
    let ladders: [(&str, &[&str]); 5] = [
        ("tool_changes", &["0", "1", "10"]),
        ("job_volume_cm3", &["10", "500", "20000"]),
        ("job_finish_m", &["1", "20", "300"]),
        ("job_moves", &["0", "50", "2000"]),
        ("roughing_share_percent", &["100", "60", "10"]),
    ];
    let job = catalogue.jobs.keys().next().expect("a job");
    for build in common::modelled_builds(&catalogue, 75, 60) {
        let build = common::with(&catalogue, &build, &[("job", job.as_str())]);
        let without = minutes(&catalogue, &build, &[("tool_sensor", "none")]);
        for sensor in catalogue.tool_sensors.keys() {
            let with = minutes(&catalogue, &build, &[("tool_sensor", sensor.as_str())]);
            assert_eq!(with.is_some(), without.is_some());
            assert!(with <= without, "{sensor}: {without:?}, then {with:?} min");
        }
        for (choice, values) in ladders {
            let each: Vec<_> = values
                .iter()
                .filter_map(|value| minutes(&catalogue, &build, &[(choice, *value)]))
                .collect();
            timed += each.len();
            assert!(each.is_sorted(), "{choice}: {each:?}");
        }
    }
    assert!(timed > 200, "only {timed} jobs");
}
