//! Bands from common practice, without a published source: what builders of machines of
//! about 1 m by 1 m by 0.2 m find.

use gantrywright::assessment::Assessment;
use gantrywright::build::Axis;
use gantrywright::catalogue::extras::SundryGroup;
use gantrywright::machine::limits::LimitName;
use gantrywright::units;
use rust_decimal::prelude::ToPrimitive;

use crate::checks::{Check, hold};
use crate::common;

/// No published source: what builders find, and what a figure far from it would mean.
const PRACTICE: &str = "common practice, from memory; no published source";

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = Vec::from(rapids());
    checks.extend(lengths_and_filament());
    checks.extend(proportions_of_invented_prices());
    checks
}

#[test]
fn practice_holds() {
    hold(checks());
}

const METRE: &[(&str, &str)] = &[
    ("travel_x_mm", "1000"),
    ("travel_y_mm", "1000"),
    ("travel_z_mm", "200"),
    ("motor_x", "stepper-23-3.0"),
    ("motor_y", "stepper-23-3.0"),
    ("driver_x", "driver-80v-6a"),
    ("driver_y", "driver-80v-6a"),
    ("supply", "supply-48v-600w"),
    ("drive_x", "ball-screw-16x10"),
    ("drive_y", "ball-screw-16x10"),
    ("ends_x", "fixed-supported"),
    ("ends_y", "fixed-supported"),
    ("drive_z", "ball-screw-12x4"),
    ("coupling_z", "coupling-8x8"),
];

fn metre(more: &[(&str, &str)]) -> Assessment {
    let edits: Vec<_> = METRE.iter().chain(more).copied().collect();
    common::assessed(&common::catalogue(), &edits)
}

fn rapid(assessment: &Assessment, axis: Axis) -> f64 {
    units::m_per_min::from(assessment.machine.axes[axis].rapid)
}

/// Common practice: NEMA 23 steppers at 48 V on 10 mm leads pass 15 m/min, and the motors are
/// not what binds; 5 mm lead stays well short of it.
fn rapids() -> [Check; 2] {
    let limits =
        "tells the order of size: rapids are reached or not by the very motor, supply and care";
    let check = |what, low, high| Check::band(what, low, high).source(PRACTICE).limits(limits);
    let mut long = check(
        "rapids on 10 mm leads, NEMA 23 at 48 V: past 15 m/min",
        0.6,
        1.0,
    );
    for edits in FAST {
        let assessment = metre(edits);
        for axis in [Axis::X, Axis::Y] {
            long.case(
                format_args!("{edits:?} {axis:?}"),
                rapid(&assessment, axis),
                15.0,
            );
        }
    }
    let mut short = check("the same on 5 mm leads: short of 12 m/min", 1.0, 2.0);
    let slow = metre(&[
        ("drive_x", "ball-screw-16x5"),
        ("drive_y", "ball-screw-16x5"),
        ("ends_x", "fixed-fixed"),
        ("ends_y", "fixed-fixed"),
    ]);
    for axis in [Axis::X, Axis::Y] {
        short.case(format_args!("{axis:?}"), rapid(&slow, axis), 12.0);
    }
    [long, short]
}

/// Three ways to 10 mm leads that pass 15 m/min: both ends fixed, shorter, a thicker screw.
const FAST: [&[(&str, &str)]; 3] = [
    &[("ends_x", "fixed-fixed"), ("ends_y", "fixed-fixed")],
    &[("travel_x_mm", "900"), ("travel_y_mm", "900")],
    &[
        ("drive_x", "ball-screw-20x10"),
        ("drive_y", "ball-screw-20x10"),
        ("coupling_x", "coupling-8x12"),
        ("coupling_y", "coupling-8x12"),
    ],
];

/// On screws of a metre it is whirling that binds, not the motors.
#[test]
fn whirling_binds_long_screws() {
    let screw = metre(FAST[1]).machine.geometry.drives.x[0].screw;
    let up_to = units::mm::from(screw.expect("a screw").between_bearings);
    assert!((1050.0..=1100.0).contains(&up_to), "{up_to}");
    for edits in FAST {
        let assessment = metre(edits);
        for axis in [Axis::X, Axis::Y] {
            let figures = &assessment.machine.axes[axis];
            let limits = &figures.limits;
            assert_eq!(
                figures.limited_by,
                LimitName::Whirl,
                "{edits:?} {axis:?}: {limits:?}"
            );
        }
    }
}

/// Common practice: motor cable and switch cable each of the order of 30 m, chain of the
/// order of 2 m, about two kilograms of filament with failed prints.
fn lengths_and_filament() -> [Check; 3] {
    let assessment = metre(&[]);
    let needed = |part: &str| {
        let line = assessment.bill.line(part);
        line.and_then(|line| line.needed.to_f64()).unwrap_or(0.0)
    };
    let check = |what, low, high| {
        Check::band(what, low, high)
            .source(PRACTICE)
            .limits("tells the order of size: a route is as long as it is laid")
    };
    let mut cables = check(
        "cable of a machine of 1 m: about 30 m of motor cable, as much of switch cable",
        0.65,
        2.0,
    );
    cables.case("motor", needed("cable-motor-4x1.0-shielded-flex"), 30.0);
    cables.case("switch", needed("cable-signal-4x0.34-shielded-flex"), 30.0);
    let mut chain = check("cable chain of it: about 2 m", 0.65, 1.55);
    chain.case("chain", needed("chain-25x57"), 2.0);
    let mut filament = check("filament of it: about 2 kg", 0.75, 1.35);
    filament.case("filament", needed("filament-asa"), 2.0);
    [cables, chain, filament]
}

/// Common practice: three screws of one size for X and both Y sides, a smaller one for Z.
#[test]
fn three_screws_and_a_smaller_one() {
    let assessment = metre(&[]);
    let large = assessment.bill.line("ball-screw-16x10").expect("screws");
    let small = assessment.bill.line("ball-screw-12x4").expect("a screw");
    let one = units::m::from(
        assessment.machine.geometry.drives.x[0]
            .screw
            .expect("a screw")
            .between_bearings,
    );
    let three = large.needed.to_f64().expect("a number");
    assert!((three / one - 3.0).abs() < 0.2, "{three} m of {one} m");
    assert!(small.needed < large.needed);
}

/// Common practice, of the invented prices only: tool changing and servos come to about twice
/// the same machine with steppers and without; small parts to about a fifth to a quarter of
/// the rest.
fn proportions_of_invented_prices() -> [Check; 2] {
    let likely =
        |edits: &[(&str, &str)]| metre(edits).bill.total.likely.to_f64().expect("a number");
    let plain = likely(&[]);
    let grand = likely(&[
        ("spindle", "spindle-2.2kw-tool-changing"),
        ("vfd", "vfd-2.2kw-230"),
        ("spindle_clamp", "clamp-100"),
        ("motor_x", "servo-750w"),
        ("motor_y", "servo-750w"),
        ("motor_z", "servo-750w-brake"),
        ("driver_x", "driver-servo-750w"),
        ("driver_y", "driver-servo-750w"),
        ("driver_z", "driver-servo-750w"),
        ("coupling_x", "coupling-10x19"),
        ("coupling_y", "coupling-10x19"),
        ("coupling_z", "coupling-10x19"),
    ]);
    let check = |what, low, high| {
        Check::band(what, low, high)
            .source(PRACTICE)
            .limits("says that invented prices stand in proportion, not that they are right")
    };
    let mut dear = check("tool changing and servos: about twice the price", 0.8, 1.25);
    dear.case("grand over plain", grand / plain, 2.0);
    let catalogue = common::catalogue();
    let small_groups = [
        SundryGroup::Fasteners,
        SundryGroup::Terminations,
        SundryGroup::Protection,
        SundryGroup::Earth,
        SundryGroup::Consumables,
    ];
    let is_small = |line: &&gantrywright::bill::Line| {
        let sundry = catalogue.sundries.get(line.part.as_str());
        sundry.is_some_and(|part| small_groups.contains(&part.group))
            || catalogue.fans.contains_key(line.part.as_str())
    };
    let assessment = metre(&[]);
    let lines = assessment.bill.lines.iter().filter(is_small);
    let small: f64 = lines
        .map(|line| line.total.likely.to_f64().expect("a number"))
        .sum();
    let mut rest = check("small parts: a fifth to a quarter of the rest", 0.8, 1.25);
    rest.case("small over the rest", small / (plain - small), 0.225);
    [dear, rest]
}
