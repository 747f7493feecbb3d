//! Copper cores: the greatest resistances of IEC 60228, class 5, against three published
//! tables of it and against copper itself; a cable's ampacity against another standard's.

use gantrywright::machine::conductor::{Laying, ampacity, drop, resistance};
use gantrywright::units;

use crate::checks::{Check, hold};

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = vec![
        published_resistances(),
        pure_copper(),
        drop_of_a_motor_cable(),
    ];
    checks.extend(installation_standard());
    checks
}

#[test]
fn copper_holds() {
    hold(checks());
}

fn ohm_per_km(area: f64) -> f64 {
    let cold = units::celsius::of(20.0);
    units::ohm::from(resistance(units::mm2::of(area), units::m::of(1000.0), cold))
}

/// IEC 60228:2004, Table 3 (class 5, plain copper), as three published cable tables print it.
fn published_resistances() -> Check {
    let mut check = Check::within_absolute("greatest resistance of a core, 20 °C", 0.005, "Ω/km")
        .source("IEC 60228:2004, Table 3, class 5, as three published cable tables print it")
        .limits("the greatest that a core may have; real ones lie a little below");
    for (area, printed) in [
        // Below the standard's least section: its extension in VDE 0295, as cable tables print it.
        (0.34, 53.0),
        (0.5, 39.0),
        (0.75, 26.0),
        (1.0, 19.5),
        (1.5, 13.3),
        (2.5, 7.98),
        (4.0, 4.95),
        (6.0, 3.30),
        (10.0, 1.91),
    ] {
        check.case(format_args!("{area} mm²"), ohm_per_km(area), printed);
    }
    check
}

/// Annealed copper has 0.017 241 Ω·mm²/m at 20 °C (IEC 60028). A class 5 core may have up to
/// a fifth more, for its lay and its thinnest wires; it never has less.
fn pure_copper() -> Check {
    let mut check = Check::band("resistance of pure copper over that of a core", 0.84, 1.0)
        .source("IEC 60028, annealed copper, 0.017 241 Ω·mm²/m at 20 °C")
        .limits("lay and thinnest wires cost up to a fifth");
    for area in [0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0] {
        check.case(format_args!("{area} mm²"), ohm_per_km(area), 17.241 / area);
    }
    check
}

/// Hand check: 0.75 mm², 4.2 A, 4 m one way: 2 · 4 m · 4.2 A · 0.026 Ω/m = 0.8736 V cold, and
/// 1.1965 times as much at 70 °C.
fn drop_of_a_motor_cable() -> Check {
    let mut check = Check::within_absolute("voltage drop of a motor cable", 1e-4, "V")
        .source("by hand from IEC 60228 and the temperature coefficient of IEC 60028")
        .limits("resistance alone: cores this thin have no reactance worth counting");
    for (celsius, by_hand) in [(20.0, 0.8736), (70.0, 1.0453)] {
        let computed = drop(
            units::mm2::of(0.75),
            units::m::of(4.0),
            units::a::of(4.2),
            units::celsius::of(celsius),
        );
        check.case(
            format_args!("{celsius} °C"),
            units::v::from(computed),
            by_hand,
        );
    }
    check
}

/// IEC 60364-5-52, three loaded conductors at 30 °C, times 0.87 for 40 °C: B2 13.05, 17.4,
/// 23.49, 29.58 A and C 15.225, 20.88, 27.84, 35.67 A for 1.5, 2.5, 4 and 6 mm². IEC 60204-1
/// rounds to whole and half amperes.
fn installation_standard() -> [Check; 2] {
    let source = "IEC 60364-5-52, three loaded conductors, times 0.87 for 40 °C";
    let limits = "IEC 60204-1 rounds to whole and half amperes; grouping is a table's factor, not a heat flow";
    let check = |what| Check::within(what, 2.5).source(source).limits(limits);
    let mut duct = check("ampacity in a duct or conduit (B2)");
    let mut surface = check("ampacity on a surface (C)");
    for (area, enclosed, free) in [
        (1.5, 13.05, 15.225),
        (2.5, 17.4, 20.88),
        (4.0, 23.49, 27.84),
        (6.0, 29.58, 35.67),
    ] {
        let amperes = |laying| units::a::from(ampacity(units::mm2::of(area), laying, 1));
        duct.case(
            format_args!("{area} mm²"),
            amperes(Laying::Enclosed),
            enclosed,
        );
        surface.case(format_args!("{area} mm²"), amperes(Laying::OnSurface), free);
    }
    [duct, surface]
}
