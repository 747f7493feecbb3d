//! What a supplier and the customs take for certain, before it is known what is sent.

use rust_decimal::Decimal;

use super::coins::{Coins, Millionths, down, millionths};
use crate::bill::consignments::tax_percent;
use crate::bill::paying::rate;
use crate::build::Picked;
use crate::catalogue::prices::Includes;
use crate::catalogue::supplier::Supplier;
use crate::money::{Currency, MoneyError};
use crate::units;

/// What is known of a supplier before it is known what it sends.
#[derive(Clone, Debug)]
pub(super) struct Sender<'c> {
    pub(super) supplier: &'c Supplier,
    /// What its prices hold already.
    pub(super) held: Includes,
    /// Freight of a parcel, and what is added for long pieces.
    pub(super) parcel: Coins,
    pub(super) surcharge: Coins,
    /// The value of goods from which on freight is free.
    pub(super) free_from: Option<Coins>,
    /// The value below which an order is small, and the fee for that.
    pub(super) small: Option<(Coins, Coins)>,
    /// Grams in a parcel.
    pub(super) parcel_grams: i64,
    pub(super) insurance: Millionths,
    /// The value up to which no duty by rate is taken.
    pub(super) duty_free: Option<Coins>,
    pub(super) clearing: Coins,
    pub(super) clearing_taxed: bool,
    pub(super) tax: Millionths,
    /// Whether something was paid for a consignment of it: then nothing is certain.
    pub(super) settled: bool,
}

impl<'c> Sender<'c> {
    /// What is known of a supplier.
    ///
    /// # Errors
    /// Where an amount of it cannot be stated in the money of the bill.
    pub(super) fn new(
        picked: &Picked<'c>,
        supplier: &'c Supplier,
        currency: Currency,
    ) -> Result<Self, MoneyError> {
        let (catalogue, place) = (picked.catalogue, picked.destination);
        let turned = |amount: Decimal, from, what| {
            let factor = rate(catalogue, from, what, currency)?;
            let worth = amount.checked_mul(factor).ok_or(MoneyError::Overflow)?;
            Ok::<_, MoneyError>(down(worth, currency))
        };
        let own = |amount| turned(amount, supplier.currency, &supplier.id);
        let surcharge = supplier.long_surcharge.map(|entry| own(entry.likely));
        let least = supplier.minimum_order.map(own).transpose()?;
        let fee = supplier.small_order_fee.map(own).transpose()?;
        let free = place.duty_free_up_to;
        let free = free.map(|amount| turned(amount, place.currency, &place.id));
        let payments = picked.build.purchases.consignments.get(&supplier.id);
        Ok(Self {
            supplier,
            held: supplier.holds(place),
            parcel: own(supplier.freight.likely)?,
            surcharge: surcharge.transpose()?.unwrap_or_default(),
            free_from: supplier.free_from.map(own).transpose()?,
            small: least.zip(fee),
            parcel_grams: (units::kg::from(supplier.parcel) * 1000.0).ceil() as i64,
            insurance: millionths(supplier.insurance_percent),
            // Freight may count towards the value; one coin more is for rounding.
            duty_free: free.transpose()?.map(|free| free + 1),
            clearing: match supplier.abroad {
                true => turned(place.broker_fee.likely, place.currency, &place.id)?,
                false => 0,
            },
            clearing_taxed: place.broker_fee_taxed,
            tax: millionths(tax_percent(picked)),
            settled: payments.is_some_and(|one| !one.payments.is_empty()),
        })
    }
}
