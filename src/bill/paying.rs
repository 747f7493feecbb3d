//! What was paid, in the money of the bill, and what a purchase costs of which some was paid.

use rust_decimal::Decimal;

use crate::build::purchases::{Payment, Purchase, Status};
use crate::catalogue::{Catalogue, Id};
use crate::money::{Currency, Money, MoneyError, PriceRange};

/// What one unit of a currency is worth in another.
///
/// # Errors
/// Where no price book says; `what` is what it was asked for.
pub(super) fn rate(
    catalogue: &Catalogue,
    from: Currency,
    what: &Id,
    into: Currency,
) -> Result<Decimal, MoneyError> {
    let known = catalogue.rate(from, into);
    known.ok_or_else(|| MoneyError::NoRateFor {
        what: what.to_string(),
        from,
        into,
    })
}

/// The sum of some payments in a currency, each rounded to its smallest coin.
///
/// # Errors
/// Where a payment's money has no rate.
pub(super) fn paid(
    catalogue: &Catalogue,
    payments: &[Payment],
    what: &Id,
    currency: Currency,
) -> Result<Decimal, MoneyError> {
    let mut sum = Money::zero(currency);
    for payment in payments {
        sum = sum.plus(in_currency(catalogue, payment, what, currency)?)?;
    }
    Ok(sum.amount)
}

/// A payment in a currency, rounded to its smallest coin.
///
/// # Errors
/// Where its money has no rate.
pub fn in_currency(
    catalogue: &Catalogue,
    payment: &Payment,
    what: &Id,
    currency: Currency,
) -> Result<Money, MoneyError> {
    let money = payment.amount;
    let rate = match payment.rate {
        Some(rate) if money.currency != currency => rate,
        _ => rate(catalogue, money.currency, what, currency)?,
    };
    let converted = money.times(rate)?;
    Ok(Money::new(converted.amount, currency).rounded())
}

/// What something costs of which some was paid: just that where nothing is left to pay, else
/// as before, and never less than what was paid.
pub(super) fn settled(
    planned: PriceRange,
    paid: Decimal,
    done: bool,
) -> Result<PriceRange, MoneyError> {
    let currency = planned.currency;
    if done {
        return Ok(PriceRange::certain(paid, currency));
    }
    planned.map(|amount| Ok(Money::new(amount.amount.max(paid), currency)))
}

/// Whether a part's last payment closed its purchase.
pub(super) fn is_done(purchase: &Purchase) -> bool {
    purchase.is_paid() && purchase.status() != Status::Cancelled
}

/// What a line costs of which some was paid.
pub(super) fn in_the_end(
    planned: PriceRange,
    paid: Decimal,
    purchase: &Purchase,
) -> Result<PriceRange, MoneyError> {
    match purchase.status() {
        // What was paid for an order that is off comes on top of buying elsewhere.
        Status::Cancelled => planned.plus(PriceRange::certain(paid, planned.currency)),
        _ => settled(planned, paid, is_done(purchase)),
    }
}
