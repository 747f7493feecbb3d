//! Copper cores: the greatest resistances of IEC 60228, class 5, against three published
//! tables of it and against copper itself; a cable's ampacity against another standard's.

use gantrywright::machine::conductor::{Laying, ampacity, drop, resistance};
use gantrywright::units;

fn ohm_per_km(area: f64) -> f64 {
    let cold = units::celsius::of(20.0);
    units::ohm::from(resistance(units::mm2::of(area), units::m::of(1000.0), cold))
}

/// IEC 60228:2004, Table 3 (class 5, plain copper), as three published cable tables print it.
#[test]
fn published_resistances() {
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
        let computed = ohm_per_km(area);
        assert!((computed - printed).abs() < 0.005, "{area} mm²: {computed}");
    }
}

/// Annealed copper has 0.017 241 Ω·mm²/m at 20 °C (IEC 60028). A class 5 core may have up to
/// a fifth more, for its lay and its thinnest wires; it never has less.
#[test]
fn no_core_conducts_better_than_copper() {
    for area in [0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0] {
        let pure = 17.241 / area;
        let ratio = ohm_per_km(area) / pure;
        assert!((1.0..1.2).contains(&ratio), "{area} mm²: {ratio}");
    }
}

/// Hand check: 0.75 mm², 4.2 A, 4 m one way: 2 · 4 m · 4.2 A · 0.026 Ω/m = 0.8736 V cold, and
/// 1.1965 times as much at 70 °C.
#[test]
fn drop_of_a_motor_cable() {
    let at = |celsius: f64| {
        let copper = units::celsius::of(celsius);
        let length = units::m::of(4.0);
        units::v::from(drop(
            units::mm2::of(0.75),
            length,
            units::a::of(4.2),
            copper,
        ))
    };
    assert!((at(20.0) - 0.8736).abs() < 1e-4, "{}", at(20.0));
    assert!((at(70.0) - 1.0453).abs() < 1e-4, "{}", at(70.0));
}

/// IEC 60364-5-52, three loaded conductors at 30 °C, times 0.87 for 40 °C: B2 13.05, 17.4,
/// 23.49, 29.58 A and C 15.225, 20.88, 27.84, 35.67 A for 1.5, 2.5, 4 and 6 mm². IEC 60204-1
/// rounds to whole and half amperes.
#[test]
fn ampacity_agrees_with_the_installation_standard() {
    for (area, enclosed, free) in [
        (1.5, 13.05, 15.225),
        (2.5, 17.4, 20.88),
        (4.0, 23.49, 27.84),
        (6.0, 29.58, 35.67),
    ] {
        let amperes = |laying| units::a::from(ampacity(units::mm2::of(area), laying, 1));
        assert!(
            (amperes(Laying::Enclosed) / enclosed - 1.0).abs() < 0.025,
            "{area} mm²"
        );
        assert!(
            (amperes(Laying::OnSurface) / free - 1.0).abs() < 0.025,
            "{area} mm²"
        );
    }
}
