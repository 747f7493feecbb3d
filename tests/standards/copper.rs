//! Copper cores: the greatest resistances of IEC 60228, class 5, against three published
//! tables of it and against copper itself; a cable's ampacity against another standard's;
//! American gauges against printed wire tables.

use gantrywright::machine::conductor::{
    Laying, ampacity, drop, gauge_area, gauge_for, grouping, resistance,
};
use gantrywright::units;

use crate::checks::{Check, hold};

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = vec![published_resistances(), pure_copper(), drops(), gauges()];
    checks.extend(installation_standard());
    checks.extend([thick_cables(), grouped()]);
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
        (16.0, 1.21),
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
    for area in [0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0] {
        check.case(format_args!("{area} mm²"), ohm_per_km(area), 17.241 / area);
    }
    check
}

/// Worked by hand, 2 · L · I · R with R of IEC 60228 class 5: 0.75 mm², 4.2 A, 4 m one way,
/// 2 · 4 m · 4.2 A · 0.026 Ω/m = 0.8736 V cold, and 1 + 0.00393 · 50 = 1.1965 times as much at
/// 70 °C; so 1.5 mm², 10 A, 10 m (13.3 Ω/km) and 2.5 mm², 16 A, 20 m (7.98 Ω/km).
fn drops() -> Check {
    let mut check = Check::within_absolute("voltage drop of a cable, cold and at 70 °C", 1e-4, "V")
        .source("worked by hand: 2 L I R, IEC 60228 and the temperature coefficient of IEC 60028")
        .limits("resistance alone: cores this thin have no reactance worth counting");
    for (area, amperes, metres, cold, warm) in [
        (0.75, 4.2, 4.0, 0.8736, 1.0453),
        (1.5, 10.0, 10.0, 2.660, 3.182_7),
        (2.5, 16.0, 20.0, 5.107_2, 6.110_7),
    ] {
        for (celsius, by_hand) in [(20.0, cold), (70.0, warm)] {
            let computed = units::v::from(drop(
                units::mm2::of(area),
                units::m::of(metres),
                units::a::of(amperes),
                units::celsius::of(celsius),
            ));
            check.case(
                format_args!("{area} mm² at {celsius} °C"),
                computed,
                by_hand,
            );
        }
    }
    check
}

/// Areas as printed wire tables to ASTM B258 give them, mm².
fn gauges() -> Check {
    let mut check = Check::within_absolute("area of American gauges 10 to 24", 1e-5, "mm²")
        .source("printed wire tables to ASTM B258, five digits behind the point")
        .limits("solid wire; a stranded core of the same gauge lies a few percent off");
    for (gauge, area) in [
        (24, 0.204_73),
        (20, 0.517_62),
        (18, 0.823_05),
        (16, 1.308_70),
        (14, 2.080_91),
        (12, 3.308_77),
        (10, 5.261_15),
    ] {
        check.case(
            format_args!("gauge {gauge}"),
            units::mm2::from(gauge_area(gauge)),
            area,
        );
    }
    check
}

/// The thinnest even gauge of the wire tables with at least so much copper.
#[test]
fn a_gauge_has_no_less_copper() {
    for (area, gauge) in [
        (0.75, Some(18)),
        (1.5, Some(14)),
        (2.5, Some(12)),
        (16.0, None),
    ] {
        assert_eq!(gauge_for(units::mm2::of(area)), gauge, "{area} mm²");
    }
}

/// IEC 60364-5-52, method B2, three loaded cores: 4 mm² 27 A at 30 °C, and a machine manual
/// that prints 23 A for 40 °C; 6 mm² 34 and 30 A.
fn thick_cables() -> Check {
    let mut check = Check::within_absolute("ampacity of thick cables at 40 °C", 0.5, "A")
        .source("a machine manual's table to IEC 60364-5-52 (4, 6 mm²); its 46 and 62 A at 30 °C times 0.87 (10, 16 mm²)")
        .limits("PVC, three loaded cores, air of 40 °C; sun, insulation round it or other air change it");
    for (area, amperes) in [
        (4.0, 23.0),
        (6.0, 30.0),
        (10.0, 46.0 * 0.87),
        (16.0, 62.0 * 0.87),
    ] {
        let carries = units::a::from(ampacity(units::mm2::of(area), Laying::Enclosed, 1));
        check.case(format_args!("{area} mm²"), carries, amperes);
    }
    check
}

/// Bunched circuits: 0.80, 0.70, 0.65 and so on for two to nine.
fn grouped() -> Check {
    let mut check = Check::within_absolute("share left to cables that touch, one to nine", 1e-9, "")
        .source("IEC 60364-5-52, Table B.52.17, bunched")
        .limits("cables alike and all loaded at once; more than nine are taken in proportion, which errs towards less");
    for (touching, share) in [1.0, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50]
        .into_iter()
        .enumerate()
    {
        let touching = touching + 1;
        let computed = units::share::from(grouping(touching));
        check.case(format_args!("{touching} cables"), computed, share);
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
