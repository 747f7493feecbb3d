//! What one need costs at least, and how its pieces travel.

use super::Hundredths;
#[cfg(doc)]
use super::Shop;
use crate::units::Length;

/// What some goods cost at least, and what of it is reckoned with on top.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Least {
    /// The goods.
    pub goods: Hundredths,
    /// Who sends them, by the place in [`Shop::senders`]; none where nobody does, or nothing
    /// is bought.
    pub sender: Option<usize>,
    /// Whether their freight is not in the price.
    pub freight: bool,
    /// The duty on them that is not in the price.
    pub duty: Hundredths,
    /// Whether duty may be asked for them at all.
    pub dutiable: bool,
    /// What of them is taxed on top.
    pub untaxed: Hundredths,
    /// Their mass, in grams.
    pub grams: i64,
    /// Whether they go in a parcel for long pieces.
    pub long: Long,
}

/// Whether goods go in a parcel for long pieces, which is apart from the others.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Long {
    /// They don't, whatever is chosen.
    #[default]
    No,
    /// Nobody knows yet.
    Maybe,
    /// They do.
    Yes,
}

/// How long the pieces of a need are.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Pieces {
    /// At least so long, in one build and another.
    Certain(Length),
    /// Of lengths that are not known yet.
    Unknown,
}

impl Pieces {
    /// Of what is not cut.
    pub fn uncut() -> Self {
        Self::Certain(Length::default())
    }
}

impl Least {
    /// A share of it.
    pub fn part(&self, share: f64) -> Self {
        if share >= 1.0 {
            return *self;
        }
        let of = |amount: i64| (amount as f64 * share).floor() as i64;
        Self {
            // Lengths are rounded to the millimetre before they are shared.
            goods: (of(self.goods) - 1).max(0),
            duty: of(self.duty),
            untaxed: of(self.untaxed),
            grams: of(self.grams),
            ..*self
        }
    }
}
