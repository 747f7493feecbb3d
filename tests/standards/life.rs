//! Life of nuts and carriages against what standards and catalogues print.

use gantrywright::machine::life::{carriage_travel, nut_travel};
use gantrywright::units;

use crate::checks::{Check, hold};

/// Where the model of a nut's life ends.
const NUT_ENDS: &str =
    "nine of ten nuts last so long, clean and greased; chips in the thread end it sooner";

pub(crate) fn checks() -> Vec<Check> {
    vec![nuts(), both_directions(), carriages()]
}

#[test]
fn life_holds() {
    hold(checks());
}

fn km_of_nut(rating: f64, sides: [f64; 2], lead: f64) -> f64 {
    let sides = sides.map(units::n::of);
    units::km::from(nut_travel(units::n::of(rating), sides, units::mm::of(lead)))
}

/// ISO 3408-5, L10 = (Ca/Fm)³ · 10⁶ turns, for a load on one side of the thread: 13³ = 2197
/// million turns of 5 mm, 36 616.7 hours at 1000 rpm; and two more.
fn nuts() -> Check {
    let mut check = Check::within("life of a nut, km and hours", 0.001)
        .source("worked by hand from L10 = (Ca/Fm)³ · 10⁶ turns, ISO 3408-5")
        .limits(NUT_ENDS);
    for (rating, force, lead, km) in [
        (6500.0, 500.0, 5.0, 10_985.0),
        (9100.0, 800.0, 10.0, 14_718.18),
        (13_400.0, 1000.0, 5.0, 12_030.52),
    ] {
        let computed = km_of_nut(rating, [force, 0.0], lead);
        check.case(format_args!("{rating} N, {force} N"), computed, km);
    }
    let hours = km_of_nut(6500.0, [500.0, 0.0], 5.0) * 1e6 / 5.0 / 1000.0 / 60.0;
    check.case("hours at 1000 rpm", hours, 36_616.7);
    check
}

/// A published screw catalogue combines both directions by
/// L = (L1^(-10/9) + L2^(-10/9))^(-9/10). For 500 N and 300 N on 6500 N, ISO 3408-5 gives
/// L1 = 13³ = 2197 and L2 = (65/3)³ = 10 171.296 million turns; L1^(-10/9) is
/// 1.93578e-4, L2^(-10/9) 3.52663e-5, their sum 2.28844e-4, L 1889.79 million turns,
/// 9448.97 km. Twice the same load gives 2^(-9/10) = 0.535 887 of one.
fn both_directions() -> Check {
    let mut check = Check::within("life of a nut that is loaded both ways", 0.01)
        .source("worked by hand from a published screw catalogue's exponents of 10/9")
        .limits(NUT_ENDS);
    check.case(
        "500 and 300 N",
        km_of_nut(6500.0, [500.0, 300.0], 5.0),
        9448.97,
    );
    check.case(
        "500 N twice",
        km_of_nut(6500.0, [500.0, 500.0], 5.0),
        10_985.0 * 0.535_887,
    );
    check
}

/// ISO 14728-1 with C at 50 km: a published rail catalogue's own example (C 38.74 kN,
/// P 2.29 kN, fw 2: 30 258 km), and four by hand from the same formula.
fn carriages() -> Check {
    let mut check = Check::within("life of a carriage", 0.01)
        .source("a published rail catalogue's example; four by hand from ISO 14728-1, C at 50 km")
        .limits(
            "nine of ten last so long; C differs by a quarter between editions of one catalogue",
        );
    for (c, p, factor, expected) in [
        (38.74, 2.29, 2.0, 30_258.0),
        (14.7, 0.5, 1.5, 376_476.8),
        (14.7, 1.0, 1.5, 47_059.6),
        (27.1, 1.0, 1.5, 294_852.0),
        (34.9, 2.0, 2.0, 33_209.8),
    ] {
        let [rating, load] = [c, p].map(|kn| units::n::of(kn * 1000.0));
        let life = carriage_travel(rating, load, units::times::of(factor));
        check.case(
            format_args!("{c} kN, {p} kN"),
            units::km::from(life),
            expected,
        );
    }
    check
}
