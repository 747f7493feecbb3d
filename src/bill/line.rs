//! One line of the bill: what is needed of a part, what is in hand, what is to be bought, and
//! at what price: as a price book guesses it, as a supplier named it, or as it was paid.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::list::{Need, bought};
use super::weight;
use crate::build::Picked;
use crate::build::purchases::{Payment, Purchase, Quote, Status};
use crate::catalogue::prices::{Basis, Includes, Offer, Price, PriceBook};
use crate::catalogue::{Catalogue, Id, PartKind, Step, Unit};
use crate::money::{Currency, Money, MoneyError, PriceRange};
use crate::units::{Length, Mass};

/// One line of the bill.
#[derive(Clone, Debug)]
pub struct Line {
    /// The part.
    pub part: Id,
    /// Its kind.
    pub kind: PartKind,
    /// How people call it.
    pub title: String,
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

/// What lines are priced with.
pub(super) struct Pricing<'a, 'c> {
    pub(super) picked: &'a Picked<'c>,
    pub(super) currency: Currency,
    pub(super) today: Date,
}

impl Pricing<'_, '_> {
    /// The line of a need. Where earlier lines are of the same part, `used` is how much of what
    /// is in hand they take: the payments are theirs.
    pub(super) fn line(&self, need: Need, used: Option<Decimal>) -> Result<Line, MoneyError> {
        let catalogue = self.picked.catalogue;
        let id = need.part.id();
        let unit = need.part.unit();
        let kind = need.part.kind();
        let purchase = self.picked.build.purchases.of(id);
        let listed = self.listed(id);
        let offer = listed.map(|(_, offer)| offer);
        let status = purchase.map_or(Status::ToBuy, Purchase::status);
        let in_hand = match purchase.map(|purchase| (purchase.have, status)) {
            Some((Some(have), _)) => {
                let left = have - used.unwrap_or_default();
                left.clamp(Decimal::ZERO, need.needed)
            }
            Some((None, Status::HaveIt)) => need.needed,
            _ => Decimal::ZERO,
        };
        let open = need.needed - in_hand;
        let pack = offer.and_then(|offer| offer.pack).unwrap_or(need.pack);
        let quoted = purchase.is_some_and(|one| one.quote().is_some());
        let buy = to_buy(open, unit, pack, offer, quoted).ok_or(MoneyError::Overflow)?;
        let mut price = self.priced(id, purchase, listed, buy)?;
        // Whoever it is ordered from sends it, whoever named the price.
        let sender = purchase.and_then(|purchase| purchase.supplier.as_ref());
        if let (Some(price), Some(sender)) = (price.as_mut(), sender) {
            price.supplier = Some(sender.clone());
        }
        let mut total = match &price {
            Some(price) => price.range.times(buy)?,
            None => PriceRange::zero(self.currency),
        };
        let mut spent = Decimal::ZERO;
        if let Some(purchase) = purchase.filter(|purchase| !purchase.payments.is_empty()) {
            if used.is_none() {
                spent = paid(catalogue, &purchase.payments, id, self.currency)?;
            }
            total = in_the_end(total, spent, purchase)?;
            if let Some(price) = price.as_mut().filter(|_| is_done(purchase)) {
                price.basis = Basis::Paid;
            }
        }
        Ok(Line {
            mass: weight::of_unit(catalogue, kind, id) * number(buy),
            part: id.clone(),
            kind,
            title: need.part.title().to_owned(),
            step: need.step,
            needed: need.needed,
            quantity: in_hand.checked_add(buy).ok_or(MoneyError::Overflow)?,
            have: in_hand,
            buy,
            unit,
            price,
            total,
            paid: spent,
            status,
            first_cut: need.first_cut,
            shared: need.shared,
            longest: need.longest,
            why: need.why,
            pack: need.pack,
        })
    }

    /// The price of one unit of a part when so many are bought: as quoted, else as the price
    /// book has it.
    pub(super) fn unit_price(&self, id: &Id, buy: Decimal) -> Result<Option<Price>, MoneyError> {
        let purchase = self.picked.build.purchases.of(id);
        self.priced(id, purchase, self.listed(id), buy)
    }

    /// What the price book that counts says of a part.
    fn listed(&self, id: &Id) -> Option<(&PriceBook, &Offer)> {
        self.picked.catalogue.offer_of(id)
    }

    fn priced(
        &self,
        id: &Id,
        purchase: Option<&Purchase>,
        listed: Option<(&PriceBook, &Offer)>,
        buy: Decimal,
    ) -> Result<Option<Price>, MoneyError> {
        let listed = listed.map(|(book, offer)| book.price_by(offer, id, buy, self.currency));
        let listed = listed.transpose()?;
        let Some((purchase, quote)) = purchase.and_then(|one| Some((one, one.quote()?))) else {
            return Ok(listed);
        };
        let status = purchase.status();
        Ok(Some(self.quoted(quote, id, listed.as_ref(), status)?))
    }

    /// The price by a quote. One that ran out before the order keeps its amount, but is as
    /// uncertain again as the price book thought.
    fn quoted(
        &self,
        quote: &Quote,
        id: &Id,
        listed: Option<&Price>,
        status: Status,
    ) -> Result<Price, MoneyError> {
        let catalogue = self.picked.catalogue;
        let rate = rate(catalogue, quote.price.currency, id, self.currency)?;
        let likely = quote.price.times(rate)?.amount;
        let over = quote.valid_until.is_some_and(|day| day < self.today);
        let mut range = PriceRange {
            low: likely,
            likely,
            high: likely,
            currency: self.currency,
        };
        if over
            && !status.is_committed()
            && let Some(listed) = listed.filter(|price| !price.range.likely.is_zero())
        {
            let scaled = |amount: Decimal| {
                let share = amount.checked_div(listed.range.likely)?;
                likely.checked_mul(share)
            };
            range.low = scaled(listed.range.low).ok_or(MoneyError::Overflow)?;
            range.high = scaled(listed.range.high).ok_or(MoneyError::Overflow)?;
        }
        let supplier = match &quote.supplier {
            Some(supplier) => Some(supplier.clone()),
            None if quote.used => None,
            None => listed.and_then(|price| price.supplier.clone()),
        };
        // What a private seller asks is all there is to pay.
        let includes = match &quote.includes {
            Some(named) => Includes::from(named.clone()),
            None if quote.used && supplier.is_none() => Includes::ALL,
            None => supplier
                .as_ref()
                .and_then(|id| catalogue.suppliers.get(id))
                .map_or_else(Includes::default, |supplier| supplier.includes),
        };
        Ok(Price {
            range,
            basis: Basis::Quote,
            date: quote.date,
            includes,
            supplier,
            used: quote.used,
        })
    }
}

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

/// A quantity as a factor for masses.
fn number(quantity: Decimal) -> f64 {
    use rust_decimal::prelude::ToPrimitive as _;
    quantity.to_f64().unwrap_or_default()
}

/// What is bought of what is open: whole packs, at least what is sold, and more where a lower
/// price for more makes all of it cheaper. What was quoted costs as much each, however much of it
/// is bought: then the book's lower prices make nothing cheaper.
fn to_buy(
    open: Decimal,
    unit: Unit,
    pack: Decimal,
    offer: Option<&Offer>,
    quoted: bool,
) -> Option<Decimal> {
    if open <= Decimal::ZERO {
        return Some(Decimal::ZERO);
    }
    let mut buy = bought(open, unit, pack)?;
    let Some(offer) = offer else {
        return Some(buy);
    };
    if let Some(minimum) = offer.minimum.filter(|least| *least > buy) {
        buy = bought(minimum, unit, pack)?;
    }
    if quoted || offer.breaks.is_empty() {
        return Some(buy);
    }
    let mut cost = offer.at(buy).likely.checked_mul(buy)?;
    for step in &offer.breaks {
        if step.from <= buy {
            continue;
        }
        let more = bought(step.from, unit, pack)?;
        let of_all = step.likely.checked_mul(more)?;
        if of_all < cost {
            (buy, cost) = (more, of_all);
        }
    }
    Some(buy)
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
        return Ok(fixed(paid, currency));
    }
    planned.map(|amount| Ok(Money::new(amount.amount.max(paid), currency)))
}

/// Whether a part's last payment closed its purchase.
fn is_done(purchase: &Purchase) -> bool {
    purchase.is_paid() && purchase.status() != Status::Cancelled
}

/// What a line costs of which some was paid.
fn in_the_end(
    planned: PriceRange,
    paid: Decimal,
    purchase: &Purchase,
) -> Result<PriceRange, MoneyError> {
    match purchase.status() {
        // What was paid for an order that is off comes on top of buying elsewhere.
        Status::Cancelled => planned.plus(fixed(paid, planned.currency)),
        _ => settled(planned, paid, is_done(purchase)),
    }
}

/// An amount that is certain.
pub(super) fn fixed(amount: Decimal, currency: Currency) -> PriceRange {
    PriceRange {
        low: amount,
        likely: amount,
        high: amount,
        currency,
    }
}
