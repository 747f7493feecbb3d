//! Life by hand: mean loads of the use, both sides of a thread, and the statics of carriages.

use super::carriage::{carriage_travel, load_factor};
use super::nut::{Forces, nut_travel, pair_loads};
use super::usage::Usage;
use crate::units;

fn close(found: f64, expected: f64) {
    let error = (found / expected - 1.0).abs();
    assert!(error < 1e-6, "{found} against {expected}");
}

/// 3 m/min cutting, 10 m/min rapids: 0.7·3, 0.2·10 and 0.1·5 m in each minute, 4.6 in all.
#[test]
fn the_mean_speed_and_the_cubic_mean_follow_the_shares() {
    let usage = Usage::at(units::m_per_min::of(3.0), units::m_per_min::of(10.0));
    close(units::m_per_min::from(usage.mean_speed()), 4.6);
    let sum: f64 = 2.1 * 120.0_f64.powi(3) + 2.0 * 20.0_f64.powi(3) + 0.5 * 40.0_f64.powi(3);
    close(
        usage.cubic_mean([120.0, 20.0, 40.0]),
        (sum / 4.6).powf(1.0 / 3.0),
    );
    let still = Usage::at(units::m_per_min::of(3.0), units::m_per_min::of(0.0));
    close(still.cubic_mean([120.0, 20.0, 40.0]), 120.0);
}

/// Without weight both sides bear the same, each for half of the travel.
#[test]
fn a_level_axis_loads_both_sides_alike() {
    let usage = Usage::at(units::m_per_min::of(3.0), units::m_per_min::of(0.0));
    let forces = |weight, preload| Forces {
        against: [100.0, 10.0, 20.0],
        weight,
        preload,
    };
    let [one, other] = forces(0.0, 0.0).sides(&usage);
    close(one, 100.0 / 2.0_f64.cbrt());
    close(other, one);
    // A weight of 150 N keeps the nut on one side, with 250 N up and 50 N down.
    let [one, other] = forces(150.0, 0.0).sides(&usage);
    close(one, ((250.0_f64.powi(3) + 50.0_f64.powi(3)) / 2.0).cbrt());
    assert_eq!(other, 0.0);
    // A preloaded pair is loaded on both sides always.
    let [one, other] = forces(150.0, 300.0).sides(&usage);
    assert!(
        one > 300.0 && other > 100.0 && other < 300.0,
        "{one} {other}"
    );
}

/// Fp = 100 N: F1 = 100 (1 + 100/282.843)^1.5 = 157.48 N; from 282.84 N on the other is free.
#[test]
fn a_preloaded_pair_shares_the_force_until_one_is_free() {
    let at = |outer| pair_loads(units::n::of(100.0), units::n::of(outer)).map(units::n::from);
    assert_eq!(at(0.0), [100.0, 100.0]);
    let [pressed, relieved] = at(100.0);
    assert!((pressed - 157.48).abs() < 0.01, "{pressed}");
    close(relieved, pressed - 100.0);
    let [pressed, relieved] = at(282.0);
    assert!(relieved < 1.0 && pressed < 283.0, "{pressed} {relieved}");
    assert_eq!(at(400.0), [400.0, 0.0]);
}

/// Two sides of equal load, each loaded half of the turns: 2^0.1 of the life of one side alone.
#[test]
fn both_sides_together_last_a_little_longer_than_one_alone() {
    let [rating, force, lead] = [6500.0, 500.0, 5.0];
    let travel = |sides: [f64; 2]| {
        let sides = sides.map(units::n::of);
        units::km::from(nut_travel(units::n::of(rating), sides, units::mm::of(lead)))
    };
    let alone = travel([force, 0.0]);
    let halves = force / 2.0_f64.cbrt();
    close(travel([halves, halves]), alone * 2.0_f64.powf(0.1));
}

#[test]
fn half_the_load_lasts_eight_times_as_long() {
    let travel = |load| {
        let (rating, load) = (units::n::of(11_380.0), units::n::of(load));
        units::km::from(carriage_travel(rating, load, load_factor()))
    };
    close(travel(200.0), travel(400.0) * 8.0);
}
