//! Bands from common practice, without a published source: what builders of machines of
//! about 1 m by 1 m by 0.2 m find.

use gantrywright::assessment::Assessment;
use gantrywright::build::Axis;
use gantrywright::catalogue::extras::SundryGroup;
use gantrywright::machine::limits::LimitName;
use gantrywright::units;
use rust_decimal::prelude::ToPrimitive;

use crate::common;

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
#[test]
fn ten_millimetre_leads_pass_fifteen_metres_a_minute() {
    let fast: [&[(&str, &str)]; 3] = [
        &[("ends_x", "fixed-fixed"), ("ends_y", "fixed-fixed")],
        &[("travel_x_mm", "900"), ("travel_y_mm", "900")],
        &[
            ("drive_x", "ball-screw-20x10"),
            ("drive_y", "ball-screw-20x10"),
            ("coupling_x", "coupling-8x12"),
            ("coupling_y", "coupling-8x12"),
        ],
    ];
    let up_to = metre(fast[1])
        .machine
        .geometry
        .screws
        .x
        .expect("a screw")
        .between_bearings;
    assert!(
        (1050.0..=1100.0).contains(&units::mm::from(up_to)),
        "{up_to:?}"
    );
    for edits in fast {
        let assessment = metre(edits);
        for axis in [Axis::X, Axis::Y] {
            let figures = &assessment.machine.axes[axis];
            assert!(
                rapid(&assessment, axis) > 15.0,
                "{edits:?} {axis:?}: {:?}",
                figures.limits
            );
            assert_eq!(
                figures.limited_by,
                LimitName::Whirl,
                "{edits:?} {axis:?}: {:?}",
                figures.limits
            );
        }
    }
    let slow = metre(&[
        ("drive_x", "ball-screw-16x5"),
        ("drive_y", "ball-screw-16x5"),
        ("ends_x", "fixed-fixed"),
        ("ends_y", "fixed-fixed"),
    ]);
    for axis in [Axis::X, Axis::Y] {
        assert!(
            rapid(&slow, axis) < 12.0,
            "{axis:?}: {}",
            rapid(&slow, axis)
        );
    }
}

/// Common practice: motor cable and switch cable each of the order of 30 m, chain of the
/// order of 2 m, about two kilograms of filament with failed prints.
#[test]
fn cables_chain_and_filament() {
    let assessment = metre(&[]);
    let metres = |part: &str| {
        assessment
            .bill
            .line(part)
            .and_then(|line| line.needed.to_f64())
            .unwrap_or(0.0)
    };
    let motor = metres("cable-motor-4x1.0-shielded-flex");
    let switch = metres("cable-signal-4x0.34-shielded-flex");
    let chain = metres("chain-25x57");
    let filament = metres("filament-asa");
    assert!((15.0..45.0).contains(&motor), "motor cable {motor} m");
    assert!((15.0..45.0).contains(&switch), "switch cable {switch} m");
    assert!((1.3..3.0).contains(&chain), "chain {chain} m");
    assert!((1.5..2.6).contains(&filament), "filament {filament} kg");
}

/// Common practice: three screws of one size for X and both Y sides, a smaller one for Z.
#[test]
fn three_screws_and_a_smaller_one() {
    let assessment = metre(&[]);
    let large = assessment.bill.line("ball-screw-16x10").expect("screws");
    let small = assessment.bill.line("ball-screw-12x4").expect("a screw");
    let one = units::m::from(
        assessment
            .machine
            .geometry
            .screws
            .x
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
#[test]
fn invented_prices_stand_in_usual_proportions() {
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
    assert!(
        (1.6..2.4).contains(&(grand / plain)),
        "{grand} against {plain}"
    );
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
    let share = small / (plain - small);
    assert!(
        (0.18..0.27).contains(&share),
        "small parts {small} of {plain}: {share}"
    );
}
