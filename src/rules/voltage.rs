//! Which voltages go together: mains voltages differ a little from place to place, and parts
//! are made for a class of them rather than for one.

use crate::units::{self, ElectricPotential};

/// How far the mains may stray from their name (EN 50160: 10 %).
const STRAY: f64 = 0.10;

/// The classes of mains voltage that parts are made for: in North America and Japan 100 to
/// 127 V, elsewhere 200 to 240 V, and three-phase industrial mains.
const CLASSES: [(f64, f64); 3] = [(100.0, 127.0), (200.0, 240.0), (380.0, 480.0)];

/// Whether two voltages belong to one class; outside the classes, whether they are equal but
/// for what the mains stray.
pub(super) fn same_class(a: ElectricPotential, b: ElectricPotential) -> bool {
    let (a, b) = (units::v::from(a), units::v::from(b));
    match (class(a), class(b)) {
        (None, None) => (a - b).abs() <= STRAY * a.max(b),
        (of_a, of_b) => of_a == of_b,
    }
}

/// Whether a voltage lies within a range, give or take what the mains stray.
pub(super) fn within(
    volts: ElectricPotential,
    least: ElectricPotential,
    most: ElectricPotential,
) -> bool {
    volts >= least * (1.0 - STRAY) && volts <= most * (1.0 + STRAY)
}

fn class(volts: f64) -> Option<usize> {
    CLASSES
        .iter()
        .position(|(least, most)| volts >= least * (1.0 - STRAY) && volts <= most * (1.0 + STRAY))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn same(a: f64, b: f64) -> bool {
        same_class(units::v::of(a), units::v::of(b))
    }

    #[test]
    fn mains_voltages_meet_by_class() {
        assert!(same(220.0, 230.0) && same(240.0, 200.0) && same(110.0, 120.0));
        assert!(!same(120.0, 230.0) && !same(230.0, 400.0) && !same(48.0, 120.0));
        assert!(same(48.0, 50.0) && !same(48.0, 60.0));
    }

    #[test]
    fn a_range_allows_what_mains_stray() {
        let within = |volts| {
            super::within(
                units::v::of(volts),
                units::v::of(200.0),
                units::v::of(240.0),
            )
        };
        assert!(within(230.0) && within(190.0) && !within(120.0) && !within(400.0));
    }
}
