//! Life of nuts and carriages against what standards and catalogues print.

use gantrywright::machine::life::{carriage_travel, nut_travel};
use gantrywright::units;

fn km_of_nut(rating: f64, sides: [f64; 2], lead: f64) -> f64 {
    let sides = sides.map(units::n::of);
    units::km::from(nut_travel(units::n::of(rating), sides, units::mm::of(lead)))
}

fn near(found: f64, expected: f64, slack: f64) {
    let error = (found / expected - 1.0).abs();
    assert!(error <= slack, "{found} against {expected}");
}

/// ISO 3408-5, L10 = (Ca/Fm)³ · 10⁶ turns, for a load on one side of the thread: 13³ = 2197
/// million turns of 5 mm, and two more, worked out to the digits given with another program.
#[test]
fn a_nut_lasts_as_the_standard_says() {
    near(km_of_nut(6500.0, [500.0, 0.0], 5.0), 10_985.0, 1e-6);
    near(km_of_nut(9100.0, [800.0, 0.0], 10.0), 14_718.18, 1e-6);
    near(km_of_nut(13_400.0, [1000.0, 0.0], 5.0), 12_030.52, 1e-6);
    // The same 2197 million turns at 1000 rpm: 36 616.7 hours.
    let hours = km_of_nut(6500.0, [500.0, 0.0], 5.0) * 1e6 / 5.0 / 1000.0 / 60.0;
    near(hours, 36_616.7, 1e-5);
}

/// A published screw catalogue combines both directions by
/// L = (L1^(-10/9) + L2^(-10/9))^(-9/10): here with L1 and L2 from ISO 3408-5, one by one.
#[test]
fn both_directions_combine_as_the_catalogue_says() {
    let lives = [500.0_f64, 300.0].map(|force| (6500.0 / force).powi(3) * 1e6);
    let sum: f64 = lives.iter().map(|life| life.powf(-10.0 / 9.0)).sum();
    let expected = sum.powf(-0.9) * 5e-6;
    near(km_of_nut(6500.0, [500.0, 300.0], 5.0), expected, 1e-9);
}

/// ISO 14728-1 with C at 50 km: a published rail catalogue's own example (C 38.74 kN,
/// P 2.29 kN, fw 2: 30 258 km), and four by the same formula from another program.
#[test]
fn a_carriage_lasts_as_the_catalogue_says() {
    let km = |c_kn: f64, p_kn: f64, factor: f64| {
        let [c, p] = [c_kn, p_kn].map(|kn| units::n::of(kn * 1000.0));
        units::km::from(carriage_travel(c, p, units::times::of(factor)))
    };
    near(km(38.74, 2.29, 2.0), 30_258.0, 1e-4);
    for (c, p, factor, expected) in [
        (14.7, 0.5, 1.5, 376_476.8),
        (14.7, 1.0, 1.5, 47_059.6),
        (27.1, 1.0, 1.5, 294_852.0),
        (34.9, 2.0, 2.0, 33_209.8),
    ] {
        near(km(c, p, factor), expected, 1e-5);
    }
}
