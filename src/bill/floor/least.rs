//! What one need costs at least, and how its pieces travel.

use super::Coins;
#[cfg(doc)]
use super::Shop;
use crate::units::Length;

/// What some goods cost at least, and what of it is reckoned with on top.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Least {
    /// The goods.
    pub goods: Coins,
    /// Who sends them, by the place in [`Shop::senders`]; none where nobody does, or nothing
    /// is bought.
    pub sender: Option<usize>,
    /// Whether their freight is not in the price.
    pub freight: bool,
    /// The duty on them that is not in the price.
    pub duty: Coins,
    /// Whether duty may be asked for them at all.
    pub dutiable: bool,
    /// What of them is taxed on top.
    pub untaxed: Coins,
    /// Their mass, in grams.
    pub grams: i64,
    /// Whether they go in a parcel for long pieces.
    pub long: Long,
    /// Whether some are certain to come, though it is open which: they are counted as nothing,
    /// but there is a parcel.
    pub foretold: bool,
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
    /// The longest is so long, in one build and another.
    Certain(Length),
    /// The longest is so long or longer.
    AtLeast(Length),
    /// Of lengths that are not known yet.
    Unknown,
}

impl Least {
    /// Whether anything comes.
    pub(super) fn comes(&self) -> bool {
        self.goods > 0 || self.foretold
    }

    /// What is certain of the parcels of some goods of which one comes: of each sender that all
    /// of them have in common. Their worth is not counted.
    pub fn foretold<'l>(goods: impl Iterator<Item = &'l [Self]> + Clone) -> Vec<Self> {
        let Some(first) = goods.clone().next() else {
            return Vec::new();
        };
        let mut senders: Vec<usize> = first.iter().filter_map(|one| one.sender).collect();
        senders.sort_unstable();
        senders.dedup();
        let certain = senders.into_iter().filter_map(|sender| {
            let each = goods.clone().map(|some| Self::sent_by(sender, some));
            each.reduce(|one, other| Some(one?.or(&other?))).flatten()
        });
        certain.collect()
    }

    /// What a sender has of some goods, as something foretold; none where no parcel is sure.
    fn sent_by(sender: usize, some: &[Self]) -> Option<Self> {
        let own = |one: &&Self| one.sender == Some(sender) && one.goods > 0;
        let own = some.iter().filter(own);
        own.map(|one| Self {
            goods: 0,
            duty: 0,
            untaxed: i64::from(one.untaxed > 0),
            foretold: true,
            ..*one
        })
        .find(|one| one.freight)
    }

    /// What holds of both of two foretold ones.
    fn or(&self, other: &Self) -> Self {
        Self {
            dutiable: self.dutiable && other.dutiable,
            untaxed: self.untaxed.min(other.untaxed),
            grams: self.grams.min(other.grams),
            long: match self.long == other.long {
                true => self.long,
                false => Long::Maybe,
            },
            ..*self
        }
    }

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
