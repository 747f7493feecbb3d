//! One line of the bill: what is needed of a part, what is in hand, what is to be bought, at which
//! price, and what all of it comes to.

use rust_decimal::Decimal;

use crate::build::purchases::Status;
use crate::catalogue::prices::Price;
use crate::catalogue::{Id, PartKind, Step, Text, Unit};
use crate::money::PriceRange;
use crate::units::{Length, Mass};

/// One line of the bill.
#[derive(Clone, Debug)]
pub struct Line {
    /// The part.
    pub part: Id,
    /// Its kind.
    pub kind: PartKind,
    /// How people call it.
    pub title: Text,
    /// The step it belongs to.
    pub step: Step,
    /// What the machines need.
    pub needed: Decimal,
    /// What there will be: what is in hand, and what is bought in whole pieces and packs.
    pub quantity: Decimal,
    /// How much of that is in hand.
    pub have: Decimal,
    /// How much is bought.
    pub buy: Decimal,
    /// The counting unit.
    pub unit: Unit,
    /// Price of one unit; none where nobody named one.
    pub price: Option<Price>,
    /// Price of what is bought.
    pub total: PriceRange,
    /// What was paid for it already, in the currency of the bill.
    pub paid: Decimal,
    /// How far its purchase has come.
    pub status: Status,
    /// Whether the first cut needs it.
    pub first_cut: bool,
    /// Whether the workshop needs it once, however many machines are built: tools, for one.
    pub shared: bool,
    /// The longest piece of it.
    pub longest: Length,
    /// Mass of what is bought, as far as the catalogue knows.
    pub mass: Mass,
    /// Where the quantity comes from, in words.
    pub why: String,
    /// Pieces in a pack, as far as what asks for it says.
    pub(super) pack: Decimal,
}

impl Line {
    /// Whether it lacks a price that the total needs: something of it is to be bought, nothing of
    /// it is paid, and nobody named a price.
    pub fn lacks_price(&self) -> bool {
        self.price.is_none() && !self.buy.is_zero() && self.paid.is_zero()
    }

    /// Whether something of it is still to be ordered: nothing of it is on its way, nothing paid.
    pub fn is_to_order(&self) -> bool {
        !self.buy.is_zero() && !self.status.is_committed() && self.paid.is_zero()
    }
}
