//! What a part costs: as a supplier named it, else as the price book that counts guesses it. The
//! lines of the bill, the running cost and the rules all ask here.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::line::Line;
use super::list::{Need, bought};
use super::paying::{in_the_end, is_done, paid, rate};
use super::weight;
use crate::build::Picked;
use crate::build::purchases::{Purchase, Quote, Status};
use crate::catalogue::prices::{Basis, Includes, Offer, Price, PriceBook};
use crate::catalogue::{Id, Text, Unit};
use crate::money::{Currency, MoneyError, PriceRange};

/// What parts of a build are priced with.
pub struct Pricing<'a, 'c> {
    /// The choices and their parts.
    pub(super) picked: &'a Picked<'c>,
    /// The money of the bill: that of the site.
    pub(super) currency: Currency,
    /// The day of the assessment: an offer may have run out by then.
    pub(super) today: Date,
}

/// What is said of the price of a part.
#[derive(Clone, Copy)]
struct Said<'p> {
    /// What is written down of buying it.
    purchase: Option<&'p Purchase>,
    /// What a supplier quoted last.
    quote: Option<&'p Quote>,
    /// What the price book that counts says of it.
    listed: Option<(&'p PriceBook, &'p Offer)>,
}

impl<'a, 'c> Pricing<'a, 'c> {
    /// The prices for a build on a day.
    pub fn of(picked: &'a Picked<'c>, today: Date) -> Self {
        Self {
            picked,
            currency: picked.site.currency,
            today,
        }
    }

    /// The line of a need. Where earlier lines are of the same part, `used` is how much of what
    /// is in hand they take: the payments are theirs.
    pub(super) fn line(&self, need: Need, used: Option<Decimal>) -> Result<Line, MoneyError> {
        let catalogue = self.picked.catalogue;
        let id = need.part.id();
        let unit = need.part.unit();
        let kind = need.part.kind();
        let said = self.said(id);
        let purchase = said.purchase;
        let offer = said.listed.map(|(_, offer)| offer);
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
        let quoted = said.quote.is_some();
        let buy = to_buy(open, unit, pack, offer, quoted).ok_or(MoneyError::Overflow)?;
        let mut price = self.priced(id, said, buy)?;
        // Whoever it is ordered from sends it, whoever named the price.
        let sender = purchase.and_then(|purchase| purchase.supplier.as_ref());
        if let (Some(price), Some(sender)) = (price.as_mut(), sender) {
            price.supplier = Some(*sender);
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
            part: *id,
            kind,
            title: Text::known(need.part.title()),
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
    /// book has it; none where nobody named one.
    ///
    /// # Errors
    /// Where it cannot be stated in the money of the bill.
    pub fn unit_price(&self, id: &Id, buy: Decimal) -> Result<Option<Price>, MoneyError> {
        self.priced(id, self.said(id), buy)
    }

    /// The price book from which the price of a part comes; none where a supplier named it.
    pub(super) fn book(&self, id: &Id) -> Option<&Id> {
        let said = self.said(id);
        let listed = said.listed.filter(|_| said.quote.is_none());
        listed.map(|(book, _)| &book.id)
    }

    fn said(&self, id: &Id) -> Said<'_> {
        let purchase = self.picked.build.purchases.of(id);
        Said {
            purchase,
            quote: purchase.and_then(Purchase::quote),
            listed: self.picked.catalogue.offer_of(id),
        }
    }

    fn priced(&self, id: &Id, said: Said, buy: Decimal) -> Result<Option<Price>, MoneyError> {
        let listed = said.listed.map(|(book, offer)| {
            book.price(self.picked.catalogue, (id, offer), buy, self.currency)
        });
        let listed = listed.transpose()?;
        let Some(quote) = said.quote else {
            return Ok(listed);
        };
        let status = said.purchase.map_or(Status::ToBuy, Purchase::status);
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
        let mut range = PriceRange::certain(likely, self.currency);
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
            Some(supplier) => Some(*supplier),
            None if quote.used => None,
            None => listed.and_then(|price| price.supplier),
        };
        // What a private seller asks is all there is to pay.
        let includes = match &quote.includes {
            Some(named) => Includes::from(named.clone()),
            None if quote.used && supplier.is_none() => Includes::ALL,
            None => supplier
                .as_ref()
                .and_then(|id| catalogue.suppliers.get(id))
                .map_or_else(Includes::default, |supplier| {
                    supplier.holds(self.picked.destination)
                }),
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
