//! The copper of a cable run: what it carries for long, the fuse that guards it, and the
//! thinnest standard area that would do, by current and by voltage drop.

use super::cable_load::CableLoad;
use super::conductor::{self, Laying};
use crate::build::Axis;
use crate::units::{self, Area, ElectricCurrent, Length};

/// Rated currents of fuses, in amperes: miniature ones of IEC 60127 up to 10 A, low-voltage
/// ones of IEC 60269 above.
const FUSES: [f64; 22] = [
    0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0, 10.0, 12.0, 16.0, 20.0,
    25.0, 32.0, 40.0, 50.0, 63.0,
];

/// What a run's copper bears, and what copper it needs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sizing {
    /// How it is laid.
    pub laying: Laying,
    /// What it carries for long beside its neighbours.
    pub ampacity: ElectricCurrent,
    /// The largest standard fuse that guards it; none where even the smallest does not.
    pub fuse: Option<ElectricCurrent>,
    /// The thinnest standard area that carries the current; none where no area does.
    pub by_current: Option<Area>,
    /// The thinnest standard area that keeps the drop fair; none where no area does.
    pub by_drop: Option<Area>,
}

impl Sizing {
    /// Sizes a run with its load.
    pub fn of(
        area: Area,
        length: Length,
        chains: &[Axis],
        touching: usize,
        load: &CableLoad,
    ) -> Self {
        let laying = if chains.is_empty() {
            Laying::OnSurface
        } else {
            Laying::Enclosed
        };
        let ampacity = conductor::ampacity(area, laying, touching);
        let carries = |area: &Area| conductor::ampacity(*area, laying, touching) >= load.heating;
        // The drop goes with the resistance: what the run's own area loses tells the rest.
        let resistance = |area| conductor::resistance(area, length, conductor::warm());
        let fair = load.sent * load.fair_drop();
        let least = resistance(area);
        let keeps = |area: &Area| load.lost * (resistance(*area) / least) <= fair;
        Self {
            laying,
            ampacity,
            fuse: largest_fuse(ampacity),
            by_current: conductor::standard_areas().find(carries),
            by_drop: conductor::standard_areas().find(keeps),
        }
    }

    /// The larger of the two areas; none where one of them is not to be had.
    pub fn needed(&self) -> Option<Area> {
        Some(self.by_current?.max(self.by_drop?))
    }
}

/// The largest standard fuse that is not above a current.
pub fn largest_fuse(carries: ElectricCurrent) -> Option<ElectricCurrent> {
    let amperes = units::a::from(carries) * (1.0 + 1e-9);
    let fuse = FUSES.iter().rev().find(|fuse| **fuse <= amperes);
    fuse.map(|fuse| units::a::of(*fuse))
}

/// The smallest standard fuse that is not below a current; none above them all.
pub fn fuse_for(current: ElectricCurrent) -> Option<ElectricCurrent> {
    let amperes = units::a::from(current) * (1.0 - 1e-9);
    let fuse = FUSES.iter().find(|fuse| **fuse >= amperes);
    fuse.map(|fuse| units::a::of(*fuse))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn fuse(amperes: f64) -> Option<f64> {
        largest_fuse(units::a::of(amperes)).map(units::a::from)
    }

    #[test]
    fn a_fuse_is_never_above_what_the_copper_carries() {
        assert_eq!(fuse(9.99), Some(8.0));
        assert_eq!(fuse(10.0), Some(10.0));
        assert_eq!(fuse(11.9), Some(10.0));
        assert_eq!(fuse(0.4), None);
        assert_eq!(fuse(100.0), Some(63.0));
    }

    fn sized(amperes: f64, volts: f64, metres: f64, touching: usize) -> Sizing {
        let (area, length) = (units::mm2::of(0.75), units::m::of(metres));
        let current = units::a::of(amperes);
        let load = CableLoad {
            three_phase: false,
            current,
            heating: current,
            lost: conductor::drop(area, length, current, conductor::warm()),
            sent: units::v::of(volts),
            direct: true,
        };
        Sizing::of(area, length, &[Axis::X], touching, &load)
    }

    /// 4.2 A over 4 m of 0.75 mm² lose 1.0453 V, 2.2 % of 48 V and 4.4 % of 24 V; over 10 m
    /// of 24 V the limit of 1.2 V wants 2 · 10 · 4.2 · R · 1.1965 <= 1.2 V, R <= 11.94 Ω/km:
    /// 2.5 mm² of 7.98 Ω/km, since 1.5 mm² has 13.3.
    #[test]
    fn the_thinnest_area_that_does_is_found() {
        let short = sized(4.2, 24.0, 4.0, 1);
        assert_eq!(short.by_current, Some(units::mm2::of(0.5)));
        assert_eq!(short.needed(), Some(units::mm2::of(0.75)));
        let long = sized(4.2, 24.0, 10.0, 1);
        assert_eq!(long.by_drop, Some(units::mm2::of(2.5)));
        assert_eq!(long.needed(), Some(units::mm2::of(2.5)));
    }

    #[test]
    fn neighbours_want_more_copper() {
        // 8.5 A alone, 0.7 of it beside two more.
        let alone = sized(8.0, 48.0, 1.0, 1);
        let three = sized(8.0, 48.0, 1.0, 3);
        assert_eq!(alone.by_current, Some(units::mm2::of(0.75)));
        assert_eq!(three.by_current, Some(units::mm2::of(1.5)));
        assert!(three.ampacity < alone.ampacity);
    }

    #[test]
    fn more_than_any_area_carries_needs_none_on_offer() {
        assert_eq!(sized(500.0, 48.0, 1.0, 1).needed(), None);
    }
}
