//! Builds that coincide: where two of the three are one and the same, or cost as good as the
//! same, people should hear it, instead of looking for a difference.

use rust_decimal::Decimal;

use super::{Level, Offer, Proposal};
use crate::build::edit;

/// Below this part of the cost, in hundredths, two builds cost as good as the same: far less
/// than any likely price is certain.
const CLOSE: u32 = 1;

/// An offer that comes to as good as one before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Alike {
    /// The later one.
    pub level: Level,
    /// The earlier one.
    pub to: Level,
    /// Whether they are one and the same build.
    pub is_same: bool,
    /// What the later one costs more.
    pub more: Decimal,
}

impl Proposal {
    /// Each offer that coincides with one before it, by the first of those: the same build
    /// before one that only costs the same.
    pub fn alike(&self) -> Vec<Alike> {
        let each = self.offers.iter().enumerate();
        let each = each.filter_map(|(place, later)| {
            let before = || self.offers.iter().take(place);
            let all: Vec<Alike> = before().filter_map(|one| alike(one, later)).collect();
            let same = all.iter().find(|one| one.is_same);
            same.or(all.first()).copied()
        });
        each.collect()
    }
}

fn alike(earlier: &Offer, later: &Offer) -> Option<Alike> {
    // What is near, but does not fit, is told of by what forbids it.
    let (one, other) = (earlier.fit()?, later.fit()?);
    let (was, is) = (one.reading.cost.likely, other.reading.cost.likely);
    let more = is - was;
    let close = (more.abs().checked_mul(Decimal::ONE_HUNDRED))
        .is_some_and(|apart| apart < was * Decimal::from(CLOSE));
    let is_same = edit::difference(&one.build, &other.build).is_empty();
    (is_same || close).then_some(Alike {
        level: later.level,
        to: earlier.level,
        is_same,
        more,
    })
}
