//! Copper cores: their resistance, what they lose on the way, and what they carry for long
//! without getting too hot.
//!
//! A core is thinner than its name says: the standard sets a greatest resistance for each
//! nominal area, and makers use that allowance. So the tables here are the standard's, and
//! nothing is computed from copper's resistivity.

use crate::units::{
    self, Area, ElectricCurrent, ElectricPotential, ElectricalResistance, Length, Ratio,
    ThermodynamicTemperature,
};

/// Greatest resistance of a kilometre of plain copper core at 20 °C, in ohms, by nominal
/// area in mm²: IEC 60228 class 5 from 0.5 mm² up; below it the extension of VDE 0295.
const OHM_PER_KM: [(f64, f64); 12] = [
    (0.14, 134.0),
    (0.25, 76.0),
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
];

/// Continuous current of a PVC cable in air of 40 °C, in amperes, by nominal area in mm²:
/// installation methods B2 and C of IEC 60204-1:2016, Table 6 (from memory; checked against
/// IEC 60364-5-52 in the tests).
const AMPACITY: [(f64, f64, f64); 8] = [
    (0.75, 8.5, 9.8),
    (1.0, 10.1, 11.7),
    (1.5, 13.1, 15.2),
    (2.5, 17.4, 21.0),
    (4.0, 23.0, 28.0),
    (6.0, 30.0, 36.0),
    (10.0, 40.0, 50.0),
    (16.0, 54.0, 66.0),
];

/// What is left of the continuous current where several loaded cables touch, from one cable
/// to nine: IEC 60364-5-52, Table B.52.17, bunched.
const GROUPED: [f64; 9] = [1.0, 0.80, 0.70, 0.65, 0.60, 0.57, 0.54, 0.52, 0.50];

/// The nominal areas on offer, the thinnest first.
pub fn standard_areas() -> impl Iterator<Item = Area> {
    OHM_PER_KM.iter().map(|(area, _)| units::mm2::of(*area))
}

/// Area of a solid wire of an American gauge number: d = 0.127 mm · 92^((36 - n)/39)
/// (ASTM B258).
pub fn gauge_area(number: u32) -> Area {
    let diameter = units::mm::of(0.127 * 92_f64.powf((36.0 - f64::from(number)) / 39.0));
    diameter * diameter * (std::f64::consts::PI / 4.0)
}

/// The thinnest even gauge from 26 to 6 with at least so much copper; none where none has.
pub fn gauge_for(area: Area) -> Option<u32> {
    let mut gauges = (3..=13).rev().map(|half| half * 2);
    gauges.find(|number| gauge_area(*number) >= area)
}

/// How a cable is laid.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laying {
    /// In a duct, a conduit or a chain: method B2.
    Enclosed,
    /// On a wall or a tube, free on one side: method C.
    OnSurface,
}

/// How warm a core may get under load, and so the temperature at which its loss is worked
/// out: 70 °C, the limit of PVC insulation (IEC 60364-5-52).
pub fn warm() -> ThermodynamicTemperature {
    units::celsius::of(70.0)
}

/// Copper's resistance rises by 0.393 % of its value at 20 °C for each kelvin (IEC 60028, and
/// IEC 60228 for cables).
pub const COPPER_PER_KELVIN: f64 = 0.003_93;

/// Resistance against that at 20 °C.
pub fn temperature_factor(copper: ThermodynamicTemperature) -> Ratio {
    let above = units::celsius::from(copper) - 20.0;
    units::share::of(1.0 + COPPER_PER_KELVIN * above)
}

/// Resistance of one core at most. An area between two rows takes the thinner row, one above
/// the table its last row, one below it the first row in proportion: each errs towards more.
pub fn resistance(
    area: Area,
    length: Length,
    copper: ThermodynamicTemperature,
) -> ElectricalResistance {
    let area = units::mm2::from(area);
    let (least, most) = OHM_PER_KM[0];
    let per_km = row(&OHM_PER_KM, area).unwrap_or(most * least / area);
    units::ohm::of(per_km * units::m::from(length) / 1000.0) * temperature_factor(copper)
}

/// Voltage lost there and back: two cores of the cable, 2 · L · I · R.
pub fn drop(
    area: Area,
    length: Length,
    current: ElectricCurrent,
    copper: ThermodynamicTemperature,
) -> ElectricPotential {
    current * resistance(area, length, copper) * 2.0
}

/// Current that a cable with three loaded cores carries for long, with so many loaded cables
/// touching each other (this one counted). An area between two rows takes the thinner row,
/// one above the table its last row. Below the table the first row is taken in proportion to
/// the area: thin cores cool better for their area than that, so it errs towards less.
pub fn ampacity(area: Area, laying: Laying, touching: usize) -> ElectricCurrent {
    let area = units::mm2::from(area);
    let (least, enclosed, on_surface) = *AMPACITY
        .iter()
        .rev()
        .find(|(of, _, _)| *of <= area * ROUNDING)
        .unwrap_or(&AMPACITY[0]);
    let carries = match laying {
        Laying::Enclosed => enclosed,
        Laying::OnSurface => on_surface,
    };
    let alone = carries * (area / least).min(1.0);
    units::a::of(alone) * grouping(touching)
}

/// What is left with so many loaded cables touching. Beyond the table's nine it falls in
/// proportion to their number, faster than the standard's own longer table.
pub fn grouping(touching: usize) -> Ratio {
    let last = GROUPED.len();
    let factor = match touching {
        0 => GROUPED[0],
        _ if touching <= last => GROUPED[touching - 1],
        _ => GROUPED[last - 1] * last as f64 / touching as f64,
    };
    units::share::of(factor)
}

/// A thousandth absorbs what the way through SI units adds to a nominal area.
const ROUNDING: f64 = 1.001;

/// The value of the largest row that is not above an area; none below the table.
fn row(table: &[(f64, f64)], area: f64) -> Option<f64> {
    let fits = |(of, _): &&(f64, f64)| *of <= area * ROUNDING;
    table.iter().rev().find(fits).map(|(_, value)| *value)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn close(found: f64, expected: f64, within: f64) {
        assert!(
            (found - expected).abs() <= within,
            "{found} is not {expected} within {within}"
        );
    }

    fn per_km(area: f64) -> f64 {
        units::ohm::from(resistance(
            units::mm2::of(area),
            units::m::of(1000.0),
            units::celsius::of(20.0),
        ))
    }

    fn lost(area: f64, amperes: f64, metres: f64, celsius: f64) -> f64 {
        let (area, length) = (units::mm2::of(area), units::m::of(metres));
        units::v::from(drop(
            area,
            length,
            units::a::of(amperes),
            units::celsius::of(celsius),
        ))
    }

    fn carries(area: f64, laying: Laying, touching: usize) -> f64 {
        units::a::from(ampacity(units::mm2::of(area), laying, touching))
    }

    /// IEC 60228, table of class 5 conductors, plain copper.
    #[test]
    fn resistance_is_that_of_class_5() {
        for (area, ohm) in [
            (0.5, 39.0),
            (0.75, 26.0),
            (1.0, 19.5),
            (1.5, 13.3),
            (2.5, 7.98),
            (16.0, 1.21),
        ] {
            close(per_km(area), ohm, 1e-9);
        }
    }

    /// VDE 0295, areas below those of IEC 60228.
    #[test]
    fn thin_cores_follow_the_extension() {
        close(per_km(0.14), 134.0, 1e-9);
        close(per_km(0.25), 76.0, 1e-9);
        close(per_km(0.34), 53.0, 1e-9);
    }

    /// R(T) = R20 [1 + 0.00393 (T - 20)], the coefficient of annealed copper (IEC 60228).
    #[test]
    fn warm_copper_resists_more() {
        close(units::share::from(temperature_factor(warm())), 1.1965, 1e-9);
        close(
            units::share::from(temperature_factor(units::celsius::of(20.0))),
            1.0,
            1e-12,
        );
    }

    /// 2 L I R with the resistances of IEC 60228, worked by hand.
    #[test]
    fn voltage_drop_of_two_cores() {
        close(lost(0.75, 4.2, 4.0, 20.0), 0.8736, 5e-5);
        close(lost(0.75, 4.2, 4.0, 70.0), 1.0453, 5e-5);
        close(lost(1.5, 10.0, 10.0, 20.0), 2.660, 5e-4);
        close(lost(1.5, 10.0, 10.0, 70.0), 3.1827, 5e-5);
        close(lost(2.5, 16.0, 20.0, 20.0), 5.1072, 5e-5);
        close(lost(2.5, 16.0, 20.0, 70.0), 6.1107, 1e-4);
    }

    /// IEC 60364-5-52 gives three loaded cores at 30 °C; times 0.87 for 40 °C they must agree
    /// with IEC 60204-1, Table 6, to a fiftieth.
    #[test]
    fn ampacity_agrees_with_the_building_standard() {
        let at_30 = [
            (1.5, 15.0, 17.5),
            (2.5, 20.0, 24.0),
            (4.0, 27.0, 32.0),
            (6.0, 34.0, 41.0),
            (10.0, 46.0, 57.0),
            (16.0, 62.0, 76.0),
        ];
        for (area, enclosed, on_surface) in at_30 {
            close(
                carries(area, Laying::Enclosed, 1),
                enclosed * 0.87,
                enclosed * 0.02,
            );
            close(
                carries(area, Laying::OnSurface, 1),
                on_surface * 0.87,
                on_surface * 0.02,
            );
        }
    }

    #[test]
    fn unknown_areas_err_to_the_safe_side() {
        close(per_km(0.8), 26.0, 1e-9);
        assert!(per_km(0.1) > 134.0);
        close(per_km(25.0), 1.21, 1e-9);
        close(carries(2.0, Laying::Enclosed, 1), 13.1, 1e-9);
        close(carries(0.34, Laying::Enclosed, 1), 8.5 * 0.34 / 0.75, 1e-9);
        close(carries(25.0, Laying::OnSurface, 1), 66.0, 1e-9);
    }

    /// IEC 60364-5-52, Table B.52.17: two, three and four cables in a bunch.
    #[test]
    fn cables_that_touch_carry_less() {
        for (touching, factor) in [(1, 1.0), (2, 0.8), (3, 0.7), (4, 0.65)] {
            close(
                carries(1.5, Laying::Enclosed, touching),
                13.1 * factor,
                1e-9,
            );
        }
        assert!(carries(1.5, Laying::Enclosed, 12) < carries(1.5, Laying::Enclosed, 9));
    }
}
