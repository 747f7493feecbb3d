//! What comes on top of the goods of one supplier, as the bill keeps it.

use rust_decimal::Decimal;

use crate::catalogue::destination::Goods;
use crate::catalogue::prices::OnTop;
use crate::catalogue::{Id, Text};
use crate::money::{MoneyError, PriceRange};
use crate::units::Mass;

/// The duty on one kind of goods of a consignment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct DutyOn {
    /// The kind of goods.
    pub goods: Goods,
    /// Its rate, in percent of the customs value; nothing where a small consignment pays a fixed
    /// sum.
    pub percent: Decimal,
    /// The likely duty, in the currency of the bill.
    pub likely: Decimal,
}

/// What comes on top of the goods of one supplier.
#[derive(Clone, Debug)]
pub struct Consignment {
    /// The supplier.
    pub supplier: Id,
    /// How people call it.
    pub title: Text,
    /// The lines of the bill in it, by place.
    pub lines: Vec<usize>,
    /// What its goods cost.
    pub goods: PriceRange,
    /// What of them is taxed on top.
    pub untaxed: PriceRange,
    /// What duty is taken from: goods, and freight where customs count it.
    pub customs_value: PriceRange,
    /// The duty on each kind of goods.
    pub duties: Vec<DutyOn>,
    /// Mass of the goods, as far as the catalogue knows.
    pub mass: Mass,
    /// Parcels, the long ones among them.
    pub parcels: u32,
    /// Long parcels.
    pub long: u32,
    /// What the way of the parcels, their insurance and the carrier's fees cost.
    pub freight: PriceRange,
    /// What of that is a carrier's fee for clearing.
    pub clearing: PriceRange,
    /// What of the likely freight and fee is taxed with the goods.
    pub taxed_freight: Decimal,
    /// Which of freight, duty and tax were paid already, wholly or in part.
    pub settled: Vec<OnTop>,
    /// Duty.
    pub duty: PriceRange,
    /// Tax.
    pub tax: PriceRange,
    /// The tax, in percent.
    pub tax_percent: Decimal,
    /// What was paid of it all.
    pub paid: Decimal,
}

impl Consignment {
    /// Whether something was paid for one of freight, duty and tax.
    pub fn paid_for(&self, what: OnTop) -> bool {
        self.settled.contains(&what)
    }

    /// Whether its prices hold the tax already, so that none comes on top.
    pub fn holds_tax(&self) -> bool {
        let priced = !self.goods.likely.is_zero();
        priced && self.untaxed.high.is_zero() && !self.paid_for(OnTop::Tax)
    }

    /// The likely duty as customs would compute it, whatever was paid: this is what is taxed.
    pub fn computed_duty(&self) -> Decimal {
        self.duties.iter().map(|one| one.likely).sum()
    }

    /// Freight, duty and tax together.
    ///
    /// # Errors
    /// Past counting.
    pub fn on_top(&self) -> Result<PriceRange, MoneyError> {
        self.freight.plus(self.duty)?.plus(self.tax)
    }
}
