//! The goods of one sender, summed up for what comes on top of them: parcels, duty, tax, and what
//! more goods would lift.

use super::{Coins, Least, Long};

/// The goods of one sender, as far as they are certain.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Basket {
    /// The goods.
    pub goods: Coins,
    pub(super) freighted: i64,
    pub(super) duty: Coins,
    pub(super) dutiable: i64,
    pub(super) dutiable_goods: Coins,
    pub(super) untaxed: Coins,
    pub(super) grams: i64,
    /// How many goods are certainly in a parcel for long pieces and how many in another, with
    /// their masses.
    pub(super) long: (i64, i64),
    pub(super) short: (i64, i64),
}

/// What is added to the cost of some goods, unless more goods lift it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Lifted {
    /// Freight, and from which value on it is free.
    pub(super) freight: (Coins, Coins),
    /// The fee for a small order, and the value from which on it is none.
    pub(super) small: (Coins, Coins),
}

impl Lifted {
    /// What of it stays when goods of so much worth come to those of the basket at most. It
    /// falls by no more than what comes.
    pub fn with(&self, more: Coins) -> Coins {
        let stays = |(fee, from): (Coins, Coins)| (from - more).clamp(0, fee);
        stays(self.freight) + stays(self.small)
    }
}

impl Basket {
    /// Puts goods in, or takes them out again with a sign of -1.
    pub fn put(&mut self, least: &Least, sign: i64) {
        self.goods += sign * least.goods;
        self.freighted += sign * i64::from(least.freight && least.comes());
        self.duty += sign * least.duty;
        self.dutiable += sign * i64::from(least.dutiable && least.comes());
        self.dutiable_goods += sign * if least.dutiable { least.goods } else { 0 };
        self.untaxed += sign * least.untaxed;
        self.grams += sign * least.grams;
        let parcel = match least.long {
            Long::Yes => &mut self.long,
            Long::No => &mut self.short,
            Long::Maybe => return,
        };
        parcel.0 += sign * i64::from(least.comes());
        parcel.1 += sign * least.grams;
    }

    /// How many parcels of so many grams it fills at least, and how many of them are long.
    pub(super) fn parcels(&self, grams: i64) -> (i64, i64) {
        let grams = grams.max(1);
        let filled = |(pieces, mass): (i64, i64)| match pieces > 0 {
            true => ((mass + grams - 1) / grams).max(1),
            false => 0,
        };
        let (long, short) = (filled(self.long), filled(self.short));
        let all = ((self.grams + grams - 1) / grams).max(1);
        (all.max(long + short), long)
    }
}
