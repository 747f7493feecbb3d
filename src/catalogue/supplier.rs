//! From whom parts come: how far away, what freight costs, what the prices hold already. Parts
//! from one supplier travel together, so freight is counted by the parcel and not by the part.

use rust_decimal::Decimal;

use super::amounts::{percent, some_amount};
use super::destination::Destination;
use super::part::part;
use super::prices::{Includes, OnTop, PriceEntry};
use crate::money::Currency;
use crate::units::{self, Length, Mass};

part! {
    /// A supplier, or a group of shops of one kind.
    Supplier by Piece {
        /// The money that its freight is stated in.
        currency: Currency,
        /// Whether its goods cross a customs border.
        #[serde(default)]
        abroad: bool,
        /// What its prices hold already, wherever it sells.
        #[serde(default)]
        includes: Includes,
        /// Whether it states its prices as shops of the destination do: with the tax where they
        /// state them with it.
        #[serde(default)]
        tax_as_usual: bool,
        /// Freight of one parcel.
        freight: PriceEntry,
        /// The most that one parcel weighs.
        #[serde(rename = "parcel_kg", with = "units::kg")]
        parcel: Mass,
        /// The length from which a parcel is a long one.
        #[serde(rename = "long_from_mm", with = "units::mm")]
        long_from: Length,
        /// What a long parcel costs on top.
        #[serde(default)]
        long_surcharge: Option<PriceEntry>,
        /// Insurance of the way, in percent of the goods.
        #[serde(default, deserialize_with = "percent")]
        insurance_percent: Decimal,
        /// Goods from which the freight is free; never where there is none.
        #[serde(default, deserialize_with = "some_amount")]
        free_from: Option<Decimal>,
        /// The least order that is taken without a fee.
        #[serde(default, deserialize_with = "some_amount")]
        minimum_order: Option<Decimal>,
        /// What a smaller order costs on top.
        #[serde(default, deserialize_with = "some_amount")]
        small_order_fee: Option<Decimal>,
        /// Days from the order to the door, at least and at most.
        lead_days: [u16; 2],
        /// The day on which this was written down.
        #[serde(deserialize_with = "super::day::deserialize")]
        as_of: jiff::civil::Date,
    }
}

impl Supplier {
    /// What its prices hold already where it sells to a destination.
    pub fn holds(&self, to: &Destination) -> Includes {
        let usual = self.tax_as_usual && to.tax_in_prices;
        match usual {
            true => self.includes.or(Includes::from(vec![OnTop::Tax])),
            false => self.includes,
        }
    }
}
