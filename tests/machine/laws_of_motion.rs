//! Laws of motion that hold for every build, tried on random ones.

use crate::common;
use gantrywright::assessment::assess;
use gantrywright::build::{Axis, Build, Edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::machine::limits::LimitName;
use gantrywright::units;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

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

/// The limits of every axis that have a name, in m/min.
fn limits(catalogue: &Catalogue, build: &Build, name: LimitName) -> [Option<f64>; 3] {
    let axes = common::machine(catalogue, build).axes;
    Axis::EACH.map(|axis| {
        let mut limits = axes[axis].limits.iter();
        let found = limits.find(|limit| limit.name == name);
        found.map(|limit| units::m_per_min::from(limit.speed))
    })
}

/// Asserts that no axis has a lower limit than before; how many have one.
fn never_lower(what: &str, before: [Option<f64>; 3], after: [Option<f64>; 3]) -> usize {
    let mut found = 0;
    for (before, after) in before.into_iter().zip(after) {
        assert_eq!(before.is_some(), after.is_some(), "{what}");
        let (Some(before), Some(after)) = (before, after) else {
            continue;
        };
        assert!(
            common::no_lower(after, before),
            "{what}: {before}, then {after}"
        );
        found += 1;
    }
    found
}

/// A screw that is thicker alone, a shorter travel and firmer ends never lower the limit of
/// whirl.
#[test]
fn thicker_shorter_and_firmer_screws_whip_no_sooner() {
    let catalogue = common::catalogue();
    let mut wide = catalogue.clone();
    for screw in wide.ball_screws.values_mut() {
        (screw.diameter, screw.root) = (screw.diameter * 1.25, screw.root * 1.25);
    }
    for screw in wide.lead_screws.values_mut() {
        (screw.diameter, screw.root) = (screw.diameter * 1.25, screw.root * 1.25);
    }
    let of = |build: &Build| limits(&catalogue, build, LimitName::Whirl);
    let mut found = 0;
    for build in common::modelled_builds(&catalogue, 23, 90) {
        let thick = limits(&wide, &build, LimitName::Whirl);
        found += never_lower("thicker", of(&build), thick);
        let climb = |choices: [&str; 3], values: &[&str]| {
            let each = values.iter().map(|value| {
                let edits = choices.map(|choice| (choice, *value));
                of(&common::with(&catalogue, &build, &edits))
            });
            let each: Vec<_> = each.collect();
            for (pair, value) in each.windows(2).zip(&values[1..]) {
                never_lower(value, pair[0], pair[1]);
            }
        };
        let travels = ["travel_x_mm", "travel_y_mm", "travel_z_mm"];
        climb(travels, &["2000", "1000", "500", "100"]);
        let held = ["fixed-free", "fixed-supported", "fixed-fixed"];
        climb(["ends_x", "ends_y", "ends_z"], &held);
    }
    assert!(found > 100, "only {found} screws");
}

/// A longer lead alone never lowers the limits of nut, whirl and pulses; nor do fewer
/// microsteps those of pulses.
#[test]
fn longer_leads_and_fewer_pulses_never_lower_their_limits() {
    let catalogue = common::catalogue();
    let mut long = catalogue.clone();
    long.ball_screws
        .values_mut()
        .for_each(|screw| screw.lead *= 1.5);
    long.lead_screws
        .values_mut()
        .for_each(|screw| screw.lead *= 1.5);
    let pulses = [LimitName::ControllerPulses, LimitName::DriverPulses];
    for build in common::modelled_builds(&catalogue, 24, 90) {
        for name in [LimitName::Nut, LimitName::Whirl].into_iter().chain(pulses) {
            // The plain nut of a lead screw slides along a steeper helix: it bears fewer turns
            // for one, but never less travel.
            let before = limits(&catalogue, &build, name);
            never_lower("lead", before, limits(&long, &build, name));
        }
        for name in pulses {
            let at = |microsteps| {
                let edits = [("microsteps", microsteps)];
                limits(&catalogue, &common::with(&catalogue, &build, &edits), name)
            };
            never_lower("microsteps", at("16"), at("4"));
        }
    }
}

/// Rapids are the least of the limits, whose name is told, and less to move or to speed up
/// never slows an axis: a smaller wanted acceleration, a lighter spindle, more torque dared.
#[test]
fn rapids_are_the_least_limit_and_easier_work_never_slows() {
    let catalogue = common::catalogue();
    let mut light = catalogue.clone();
    light
        .spindles
        .values_mut()
        .for_each(|spindle| spindle.mass *= 0.5);
    let rapids = |catalogue: &Catalogue, build: &Build| {
        let axes = common::machine(catalogue, build).axes;
        for (_, figures) in axes.iter() {
            let least = figures.limits.iter().map(|limit| limit.speed.value);
            let least = least.fold(f64::INFINITY, f64::min);
            assert_eq!(figures.rapid.value, least);
            let mut limits = figures.limits.iter();
            let named = limits
                .any(|limit| limit.name == figures.limited_by && limit.speed == figures.rapid);
            assert!(named, "{:?}", figures.limited_by);
        }
        Axis::EACH.map(|axis| Some(units::m_per_min::from(axes[axis].rapid)))
    };
    for build in common::modelled_builds(&catalogue, 25, 90) {
        let plain = rapids(&catalogue, &build);
        never_lower("lighter", plain, rapids(&light, &build));
        for (choice, values) in [
            ("acceleration_m_per_s2", ["5", "1", "0.1"]),
            ("working_share_percent", ["20", "50", "90"]),
            ("closed_loop_share_percent", ["20", "50", "90"]),
        ] {
            let each = values.map(|value| {
                rapids(
                    &catalogue,
                    &common::with(&catalogue, &build, &[(choice, value)]),
                )
            });
            never_lower(choice, each[0], each[1]);
            never_lower(choice, each[1], each[2]);
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
