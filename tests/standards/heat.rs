//! Heat of the cabinet: its surface by the standard, its rise and its air by what enclosure
//! makers print and by the heat that air takes up.

use gantrywright::build::choices::control::Mounting;
use gantrywright::catalogue::wiring::CabinetMaterial;
use gantrywright::machine::cabinet::{air_for, conductance, effective_surface, rise};
use gantrywright::units;

use crate::checks::{Check, hold};

/// Where the model of a cabinet's heat ends.
const ENDS: &str = "one even temperature inside; hot spots above a supply are not seen, nor is sun";

pub(crate) fn checks() -> Vec<Check> {
    vec![surfaces(), painted_steel(), air(), air_by_its_heat()]
}

#[test]
fn heat_holds() {
    hold(checks());
}

/// IEC 60890, a box of 0.6 x 0.4 x 0.25 m: free standing 1.8 H (W + D) + 1.4 W D = 0.842 m²,
/// on a wall 1.4 W (H + D) + 1.8 D H = 0.746 m².
fn surfaces() -> Check {
    let mut check = Check::within("effective surface of a box, free and on a wall", 1e-6)
        .source("worked by hand from the formulas of IEC 60890")
        .limits(ENDS);
    for (mounting, expected) in [(Mounting::Free, 0.842), (Mounting::Wall, 0.746)] {
        let mm = units::mm::of;
        let surface = effective_surface(mounting, mm(600.0), mm(400.0), mm(250.0));
        check.case(
            format_args!("{mounting:?}"),
            units::m2::from(surface),
            expected,
        );
    }
    check
}

/// ΔT = P/(k A) with k of enclosure makers' tables: 500 W in 6.06 m² of painted steel are
/// 15.00 K in a published example; 120 W in 0.8 m² 27.27 K, 60 W in 0.6 m² 18.18 K by hand.
fn painted_steel() -> Check {
    let mut check = Check::within_absolute("rise in a cabinet of painted steel", 0.006, "K")
        .source(
            "a published example of an enclosure maker; two more by hand from ΔT = P/(k A), k = 5.5",
        )
        .limits("makers' k differ: another prints 6.6 where 5.5 is taken");
    let steel = conductance(CabinetMaterial::Steel).expect("walls");
    for (watts, area, kelvin) in [(500.0, 6.06, 15.0), (120.0, 0.8, 27.27), (60.0, 0.6, 18.18)] {
        let found = rise(units::w::of(watts), steel, units::m2::of(area), None);
        check.case(
            format_args!("{watts} W"),
            units::kelvin::from(found),
            kelvin,
        );
    }
    check
}

fn air_at(watts: f64, kelvin: f64) -> f64 {
    let none = units::m2::of(0.0);
    air_for(units::w::of(watts), 0.0, none, units::kelvin::of(kelvin)).as_m3_per_h()
}

/// Enclosure makers' 3.1 P/ΔT: 120 W at 10 K want 37.2 m³/h.
fn air() -> Check {
    let mut check = Check::within("air that carries the heat off", 1e-6)
        .source("worked by hand from enclosure makers' form 3.1 P/ΔT")
        .limits("up to 100 m above the sea; at 1000 m a tenth more is wanted; filters clog");
    check.case("120 W", air_at(120.0, 10.0), 37.2);
    check.case("300 W", air_at(300.0, 15.0), 62.0);
    check
}

/// The heat capacity of air at 20 °C, 1.204 kg/m³ and 1005 J/kgK (tables of any handbook of
/// physics): 3600 · 120/(1.204 · 1005 · 10) = 35.70 m³/h.
fn air_by_its_heat() -> Check {
    let mut check = Check::within("the same, by what air takes up", 5.0)
        .source("density and heat capacity of air at 20 °C, by hand")
        .limits("the makers' form lies 4 % above, on the safe side");
    let computed = air_at(120.0, 10.0);
    assert!(computed > 35.70, "on the safe side");
    check.case("120 W", computed, 35.70);
    check
}

/// 5.5 W/m²K on 3 m² shed more than 120 W at 10 K: no air is needed.
#[test]
fn walls_may_do_alone() {
    let (heat, allowed) = (units::w::of(120.0), units::kelvin::of(10.0));
    let walls = air_for(heat, 5.5, units::m2::of(3.0), allowed);
    assert_eq!(walls.as_m3_per_h(), 0.0);
}
