//! Whoever copies a setting from a sheet can ask how it came about, and is told the same number.

use crate::common;
use crate::paper::{cell, entries, number, table, with_build};
use gantrywright::assessment::explain;
use gantrywright::sheets::{SheetKind, sheet};

#[test]
fn every_motion_setting_has_a_derivation() {
    let catalogue = common::catalogue();
    let servo = [("motor_x", "servo-750w"), ("driver_x", "driver-servo-750w")];
    for edits in [&[][..], &servo] {
        let build = common::build(&catalogue, edits);
        let (_, notes) = explain(&catalogue, &build, common::today()).expect("an assessment");
        with_build(&catalogue, &build, |paper, _| {
            let sheet = sheet(SheetKind::Motion, paper);
            let rows: Vec<_> = entries(table(&sheet, "motion")).collect();
            assert!(rows.len() >= 27, "{}", rows.len());
            for row in rows {
                let (axis, setting) = row.id.split_once('.').expect("an axis and its setting");
                let (figure, in_one) = match setting {
                    "steps" => ("settings.pulses_per_mm", 1.0),
                    "feed-to-set" => ("settings.speed_mm_per_min", 1.0),
                    "feed" => ("rapid_m_per_min", 1000.0),
                    "acceleration" => ("settings.acceleration_mm_per_s2", 1.0),
                    "travel" => ("travel_mm", 1.0),
                    "pulses" => ("pulses_khz", 1.0),
                    "turn" => ("settings.pulses_a_turn", 1.0),
                    "current" => ("settings.current_a", 1.0),
                    "current-rms" => ("settings.current_rms_a", 1.0),
                    // An order, worked out of nothing.
                    "homing" => continue,
                    other => panic!("{other} has no derivation"),
                };
                let why = notes.get(&format!("axes.{axis}.{figure}"));
                let why = why.unwrap_or_else(|| panic!("{} has no derivation", row.id));
                let told = why.result.number() * in_one;
                let set = number(&row.cells[1]);
                assert!((told - set).abs() < 1e-9 * set, "{}: {told}, {set}", row.id);
            }
        });
    }
}

/// All else on the inverter's sheet is the nameplate's.
#[test]
fn every_inverter_setting_has_a_derivation() {
    let catalogue = common::catalogue();
    let edits = [
        ("spindle", "spindle-2.2kw-water"),
        ("vfd", "vfd-2.2kw-230"),
        ("power_cap_percent", "50"),
    ];
    let build = common::build(&catalogue, &edits);
    let (_, notes) = explain(&catalogue, &build, common::today()).expect("an assessment");
    with_build(&catalogue, &build, |paper, _| {
        let sheet = sheet(SheetKind::Vfd, paper);
        for (id, figure) in [
            ("base", "base_hz"),
            ("least", "least_hz"),
            ("greatest", "greatest_hz"),
            ("limit", "limit_a"),
        ] {
            let why = notes.get(&format!("power.inverter.{figure}"));
            let told = why.expect("a derivation").result.number();
            let set = number(cell(table(&sheet, "vfd"), id, "value"));
            assert!((told - set).abs() < 1e-9 * set, "{id}: {told}, {set}");
        }
    });
}
