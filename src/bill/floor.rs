//! What things cost at least, for a search that has not made all choices yet: a need at least
//! so large, and the freight, duty and tax that come on top of it for certain.
//!
//! Every amount here is a floor: no bill on which the need is as large or larger, whatever else
//! is on it, comes to less. What more goods could lift, freight that is free from a sum on and
//! the fee for a small order, is kept apart ([`Lifted`]). Amounts are whole coins, the
//! smallest of the money of the bill, to which the bill rounds; here they are rounded down.

mod basket;
mod coins;
mod least;
mod sender;

use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::cuts::bars_of;
use super::list::Need;
use super::pricing::Pricing;
use super::weight;
use crate::build::Picked;
use crate::catalogue::prices::{OnTop, Price};
use crate::catalogue::{Id, Part, Step, Unit};
use crate::money::MoneyError;
use crate::units::{self, Length};

pub use basket::{Basket, Lifted};
pub use coins::{Coins, up};
pub use least::{Least, Long, Pieces};

use coins::{MILLION, down, millionths};
use sender::Sender;

/// Prices for floors.
pub struct Shop<'a, 'c> {
    pricing: Pricing<'a, 'c>,
    senders: Vec<Sender<'c>>,
}

impl<'a, 'c> Shop<'a, 'c> {
    /// The prices of a day, for builds that share site, destination and purchases with a
    /// picked one.
    ///
    /// # Errors
    /// Where a supplier's money has no rate.
    pub fn new(picked: &'a Picked<'c>, today: Date) -> Result<Self, MoneyError> {
        let currency = picked.site.currency;
        let suppliers = picked.catalogue.suppliers.values();
        let senders = suppliers.map(|one| Sender::new(picked, one, currency));
        Ok(Self {
            senders: senders.collect::<Result<_, _>>()?,
            pricing: Pricing::of(picked, today),
        })
    }

    /// Coins as an amount of the money of the bill.
    pub fn money(&self, coins: Coins) -> Decimal {
        Decimal::new(coins, self.pricing.currency.decimals())
    }

    /// How many senders there are.
    pub fn senders(&self) -> usize {
        self.senders.len()
    }

    /// What so much of a part costs at least, as one line of the bill.
    ///
    /// # Errors
    /// Where its price cannot be stated in the money of the bill.
    pub fn line(
        &self,
        part: &'c dyn Part,
        step: Step,
        (needed, pack): (Decimal, Decimal),
        pieces: Pieces,
    ) -> Result<Least, MoneyError> {
        if needed <= Decimal::ZERO || self.has_offcuts(part) {
            return Ok(Least::default());
        }
        // Whole bars are longer than the pieces that are cut from them.
        let in_bars = !bars_of(self.pricing.picked.catalogue, part.id()).is_empty();
        let pieces = match pieces {
            Pieces::Certain(length) if in_bars => Pieces::AtLeast(length),
            pieces => pieces,
        };
        let need = Need {
            part,
            step,
            needed,
            pack,
            longest: Length::default(),
            first_cut: true,
            shared: false,
            why: String::new(),
        };
        let line = self.pricing.line(need, None)?;
        let grams = units::kg::from(line.mass) * 1000.0;
        let price = line.price.filter(|_| !line.buy.is_zero());
        let goods = down(line.total.likely, self.pricing.currency);
        Ok(self.least(part, price.as_ref(), goods, grams, pieces))
    }

    /// What so much of a part costs at least, however much of it is bought besides: at the
    /// lowest price that more of it may bring, packs not filled up. Nothing where some is in
    /// hand or paid for.
    ///
    /// # Errors
    /// As [`Shop::line`].
    pub fn share(
        &self,
        part: &'c dyn Part,
        needed: Decimal,
        pieces: Pieces,
    ) -> Result<Least, MoneyError> {
        let (id, picked) = (part.id(), self.pricing.picked);
        let purchase = picked.build.purchases.of(id);
        let settled = purchase.is_some_and(|one| {
            one.have.is_some() || one.status().is_here() || !one.payments.is_empty()
        });
        if settled || needed <= Decimal::ZERO || self.has_offcuts(part) {
            return Ok(Least::default());
        }
        // One long piece takes all others of its line into its parcel.
        let pieces = match pieces {
            Pieces::Certain(length) if part.unit() == Unit::Piece && length.value <= 0.0 => pieces,
            Pieces::Certain(length) => Pieces::AtLeast(length),
            other => other,
        };
        let mut lowest: Option<Price> = None;
        for quantity in self.turns(id) {
            let price = self.pricing.unit_price(id, quantity)?;
            let lower = |price: &Price| {
                let known = lowest.as_ref();
                known.is_none_or(|known| price.range.likely < known.range.likely)
            };
            if let Some(price) = price.filter(lower) {
                lowest = Some(price);
            }
        }
        let likely = lowest.as_ref().map(|price| price.range.likely);
        let goods = likely.unwrap_or_default().checked_mul(needed);
        let goods = goods.ok_or(MoneyError::Overflow)?;
        let unit = weight::of_unit(picked.catalogue, part.kind(), id);
        let grams = units::kg::from(unit) * 1000.0 * needed.to_f64().unwrap_or_default();
        // The bill rounds what is bought of it to the nearest coin.
        let goods = down(goods, self.pricing.currency) - 1;
        Ok(self.least(part, lowest.as_ref(), goods, grams, pieces))
    }

    /// Whether offcuts of a part are in hand: pieces cut from them are not bought.
    fn has_offcuts(&self, part: &dyn Part) -> bool {
        let offcuts = &self.pricing.picked.build.purchases.offcuts;
        offcuts.contains_key(part.id())
    }

    /// Whether a part can be paid for: anybody named a price of it, or there is word of it (it may
    /// be in hand or paid, which only the whole bill tells).
    pub fn has_price(&self, part: &dyn Part) -> bool {
        let named = self.pricing.unit_price(part.id(), Decimal::ONE);
        matches!(named, Ok(Some(_))) || self.pricing.picked.build.purchases.of(part.id()).is_some()
    }

    /// Whether every piece of a part costs as much as the one before: its price does not change
    /// with the quantity, and none is in hand or paid for.
    pub fn is_even(&self, part: &dyn Part) -> bool {
        let purchase = self.pricing.picked.build.purchases.of(part.id());
        purchase.is_none() && self.turns(part.id()).len() == 1
    }

    /// Quantities at which the price of a part changes.
    fn turns(&self, id: &Id) -> Vec<Decimal> {
        let offer = self.pricing.picked.catalogue.offer_of(id);
        let breaks = offer.iter().flat_map(|(_, offer)| &offer.breaks);
        let first = std::iter::once(Decimal::ONE);
        first.chain(breaks.map(|step| step.from)).collect()
    }

    fn least(
        &self,
        part: &dyn Part,
        price: Option<&Price>,
        goods: Coins,
        grams: f64,
        pieces: Pieces,
    ) -> Least {
        let goods = goods.max(0);
        let plain = Least {
            goods,
            ..Least::default()
        };
        let Some((price, id)) = price.and_then(|one| Some((one, one.supplier.as_ref()?))) else {
            return plain;
        };
        let known = |sender: &Sender| sender.supplier.id == *id;
        let Some(place) = self.senders.iter().position(known) else {
            return plain;
        };
        let supplier = self.senders[place].supplier;
        let held = price.includes.or(self.senders[place].held);
        let lacks = |what| !held.has(what);
        let dutiable = supplier.abroad && lacks(OnTop::Duty);
        let rate = self.pricing.picked.destination.duty_on(part.kind().goods());
        let duty = if dutiable {
            goods * millionths(rate) / MILLION
        } else {
            0
        };
        Least {
            goods,
            sender: Some(place),
            freight: lacks(OnTop::Freight),
            duty,
            dutiable,
            untaxed: if lacks(OnTop::Tax) { goods } else { 0 },
            foretold: false,
            grams: grams.floor() as i64,
            long: match pieces {
                Pieces::Certain(length) | Pieces::AtLeast(length)
                    if length >= supplier.long_from =>
                {
                    Long::Yes
                }
                Pieces::Certain(_) => Long::No,
                Pieces::AtLeast(_) | Pieces::Unknown => Long::Maybe,
            },
        }
    }

    /// What a basket comes to at least, with what is certain of freight, duty and tax.
    pub fn basket(&self, sender: usize, basket: &Basket) -> Coins {
        let sender = &self.senders[sender];
        if (basket.goods <= 0 && basket.freighted <= 0) || sender.settled {
            return basket.goods.max(0);
        }
        let (parcels, long) = basket.parcels(sender.parcel_grams);
        let mut carriage = 0;
        if basket.freighted > 0 {
            carriage += sender.surcharge * long + basket.goods * sender.insurance / MILLION;
            if sender.free_from.is_none() {
                carriage += sender.parcel * parcels;
            }
        }
        let by_rate = sender
            .duty_free
            .is_none_or(|free| basket.dutiable_goods > free);
        let duty = if by_rate { basket.duty } else { 0 };
        let cleared = sender.supplier.abroad && (basket.dutiable > 0 || basket.untaxed > 0);
        let clearing = if cleared {
            sender.clearing * parcels
        } else {
            0
        };
        let mut taxed = basket.untaxed;
        if basket.untaxed > 0 {
            taxed += duty + carriage;
            if sender.clearing_taxed {
                taxed += clearing;
            }
        }
        let tax = taxed * sender.tax / MILLION;
        // Freight, duty by kind and tax are rounded to the nearest coin each.
        let rounding = 6;
        (basket.goods + carriage + duty + clearing + tax - rounding).max(basket.goods)
    }

    /// What is added to that, unless more goods lift it.
    pub fn lifted(&self, sender: usize, basket: &Basket) -> Lifted {
        let sender = &self.senders[sender];
        if basket.freighted <= 0 || sender.settled {
            return Lifted::default();
        }
        let (parcels, _) = basket.parcels(sender.parcel_grams);
        // Rounding may take a coin of each.
        let freight = (sender.parcel * parcels - 1).max(0);
        let free = sender.free_from.map(|from| from - basket.goods);
        let small = sender
            .small
            .map(|(from, fee)| (fee - 1, from - basket.goods));
        // Where an order is small and yet nearly free, one of both is enough: together they
        // would fall by more than what comes.
        let small = small.filter(|(_, from)| free.is_none_or(|free| free - freight >= *from));
        Lifted {
            freight: free.map_or((0, 0), |from| (freight, from)),
            small: small.unwrap_or_default(),
        }
    }

    /// What more goods of a sender add at least to a basket that has some.
    pub fn added(&self, least: &Least) -> Coins {
        let Some(sender) = least.sender.map(|place| &self.senders[place]) else {
            return least.goods;
        };
        if sender.settled {
            return least.goods;
        }
        let insured = match least.freight {
            true => least.goods * sender.insurance / MILLION,
            false => 0,
        };
        let duty = match sender.duty_free {
            None => least.duty,
            Some(_) => 0,
        };
        let taxed = match least.untaxed > 0 {
            true => least.untaxed + duty + insured,
            false => 0,
        };
        (least.goods + insured + duty + taxed * sender.tax / MILLION - 2).max(0)
    }
}
