//! What comes on top of the goods: freight by the parcel, duty by the kind of goods, tax on all
//! of it. Lines of one supplier are one consignment, as an invoice and a customs form see it.
//!
//! Every amount is rounded to the smallest coin where an invoice or a customs bill would round
//! it: freight once, duty by kind of goods, tax once a consignment.

use rust_decimal::Decimal;

use super::Bill;
use super::line::Line;
use super::paying::rate;
use crate::build::Picked;
use crate::build::purchases::Payment;
use crate::catalogue::destination::{Destination, Goods};
use crate::catalogue::prices::{OnTop, PriceEntry};
use crate::catalogue::supplier::Supplier;
use crate::catalogue::{Catalogue, Id};
use crate::money::{Currency, MoneyError, PriceRange};
use crate::units::{self, Ratio};

mod consignment;
mod paid;
mod sent;

pub use consignment::{Consignment, DutyOn};
use paid::Paid;
pub(super) use sent::payments;
use sent::{Order, Sent, lacking, parcels};

/// A bill that is known, with the parts and choices that it is of.
pub(super) type Known<'a> = (&'a Picked<'a>, &'a Bill);

/// What consignments are worked out with.
#[derive(Clone, Copy)]
struct Customs<'a> {
    catalogue: &'a Catalogue,
    destination: &'a Destination,
    tax_percent: Decimal,
    currency: Currency,
}

/// The consignments of some lines, in the order in which their suppliers come up. One that
/// brings the same as in a known bill is taken from there.
///
/// # Errors
/// Where a supplier's money has no rate.
pub(super) fn all<'l>(
    picked: &Picked,
    lines: impl Iterator<Item = (usize, &'l Line)>,
    known: Option<Known>,
) -> Result<Vec<Consignment>, MoneyError> {
    let customs = Customs::of(picked);
    let known = known.filter(|(other, _)| customs.is_as(&Customs::of(other)));
    let mut orders: Vec<Order> = Vec::new();
    for (place, line) in lines {
        let Some(supplier) = supplier_of(line) else {
            continue;
        };
        let place_of = orders.iter().position(|one| one.supplier.id == *supplier);
        let order = match place_of {
            Some(order) => order,
            None => {
                let Some(supplier) = picked.catalogue.suppliers.get(supplier) else {
                    continue;
                };
                orders.push(Order {
                    supplier,
                    held: supplier.holds(picked.destination),
                    sent: Vec::with_capacity(32),
                    places: Vec::with_capacity(32),
                });
                orders.len() - 1
            }
        };
        let order = &mut orders[order];
        order.sent.push(Sent::of(line, order.held));
        order.places.push(place);
    }
    let of = |order: Order| {
        let payments = payments(picked, &order.supplier.id);
        let same = known.and_then(|known| order.known(known, payments));
        let one = match same {
            Some(same) => same.clone(),
            None => customs.consignment(order.supplier, &order.sent, payments)?,
        };
        Ok(Consignment {
            lines: order.places,
            ..one
        })
    };
    orders.into_iter().map(of).collect()
}

/// The tax on sales where the goods go, in percent.
pub(super) fn tax_percent(picked: &Picked) -> Decimal {
    let own = picked.build.area.tax;
    own.map_or(picked.destination.tax_percent, percent)
}

/// The supplier that a line is bought from; none where nothing is bought, or nobody knows.
fn supplier_of(line: &Line) -> Option<&Id> {
    if line.buy.is_zero() {
        return None;
    }
    line.price.as_ref()?.supplier.as_ref()
}

/// A share as an exact percentage, to the thousandth.
fn percent(share: Ratio) -> Decimal {
    super::count::decimal(units::percent::from(share))
}

impl<'a> Customs<'a> {
    fn of(picked: &Picked<'a>) -> Self {
        Self {
            catalogue: picked.catalogue,
            destination: picked.destination,
            tax_percent: tax_percent(picked),
            currency: picked.site.currency,
        }
    }

    /// Whether all of it is the same elsewhere, to the last digit.
    fn is_as(&self, other: &Customs) -> bool {
        let digits = |customs: &Customs| customs.tax_percent.serialize();
        std::ptr::eq(self.catalogue, other.catalogue)
            && std::ptr::eq(self.destination, other.destination)
            && self.currency == other.currency
            && digits(self) == digits(other)
    }

    /// What the lines of one supplier take to come here; as paid, where it was paid. Their
    /// places on the bill are not known here.
    fn consignment(
        &self,
        supplier: &Supplier,
        lines: &[Sent],
        payments: &[Payment],
    ) -> Result<Consignment, MoneyError> {
        let nothing = PriceRange::zero(self.currency);
        let goods = PriceRange::sum(lines.iter().map(|line| &line.total), self.currency)?;
        let untaxed = || lacking(lines, OnTop::Tax);
        // As a rule tax comes on top of all or nothing.
        let untaxed = match untaxed().count() == lines.len() {
            true => goods,
            false => PriceRange::sum(untaxed().map(|line| &line.total), self.currency)?,
        };
        let lacks = |what| lacking(lines, what).next().is_some();
        let (parcels, long) = parcels(supplier, lines);
        let carriage = match lacks(OnTop::Freight) {
            true => self.carriage(supplier, goods, parcels, long)?,
            false => nothing,
        };
        let dutiable = supplier.abroad && lacks(OnTop::Duty);
        let (customs_value, duty, duties) = match dutiable {
            true => self.duty(lacking(lines, OnTop::Duty), carriage)?,
            false => (nothing, nothing, Vec::new()),
        };
        let cleared = supplier.abroad && (dutiable || !untaxed.likely.is_zero());
        let clearing = match cleared {
            true => self.clearing(parcels)?,
            false => nothing,
        };
        let taxed = match (lacks(OnTop::Tax), self.destination.broker_fee_taxed) {
            (true, true) => carriage.plus(clearing)?,
            (true, false) => carriage,
            (false, _) => nothing,
        };
        let base = untaxed.plus(duty)?.plus(taxed)?;
        let tax = base.times(hundredth(self.tax_percent)?)?;
        let mut paid = Paid::new(self, supplier, payments);
        Ok(Consignment {
            supplier: supplier.id,
            title: supplier.title,
            lines: Vec::new(),
            goods,
            untaxed,
            customs_value,
            duties,
            mass: lines.iter().map(|line| line.mass).sum(),
            parcels,
            long,
            freight: paid.settle(carriage.plus(clearing)?, OnTop::Freight)?,
            clearing,
            taxed_freight: taxed.likely,
            duty: paid.settle(duty, OnTop::Duty)?,
            tax: paid.settle(tax, OnTop::Tax)?,
            tax_percent: self.tax_percent,
            settled: paid.touched,
            paid: paid.spent,
        })
    }

    /// The carrier's fee for clearing parcels at the border.
    fn clearing(&self, parcels: u32) -> Result<PriceRange, MoneyError> {
        let (fee, place) = (self.destination.broker_fee, self.destination);
        self.converted(fee, place.currency, &place.id, Decimal::from(parcels))
    }

    /// The way of the parcels, their insurance, and the fee for a small order.
    fn carriage(
        &self,
        supplier: &Supplier,
        goods: PriceRange,
        parcels: u32,
        long: u32,
    ) -> Result<PriceRange, MoneyError> {
        let own = |entry, times: u32| {
            self.converted(entry, supplier.currency, &supplier.id, Decimal::from(times))
        };
        let mut sum = own(supplier.freight, parcels)?;
        let free = self.amount(supplier.free_from, supplier)?;
        if free.is_some_and(|from| goods.likely >= from) {
            sum = PriceRange::zero(self.currency);
        }
        if let Some(surcharge) = supplier.long_surcharge {
            sum = sum.plus(own(surcharge, long)?)?;
        }
        sum = sum.plus(goods.times(hundredth(supplier.insurance_percent)?)?)?;
        let least = self.amount(supplier.minimum_order, supplier)?;
        let fee = self.amount(supplier.small_order_fee, supplier)?;
        if let (Some(least), Some(fee)) = (least, fee)
            && goods.likely < least
        {
            sum = sum.plus(PriceRange::certain(fee, self.currency))?;
        }
        Ok(sum)
    }

    /// The customs value, the duty on it, and the duty on each kind of goods. Whether a
    /// consignment is a small one goes by its likely value, so that a higher price never makes
    /// a lower duty.
    fn duty<'l>(
        &self,
        lines: impl Iterator<Item = &'l Sent> + Clone,
        carriage: PriceRange,
    ) -> Result<Valued, MoneyError> {
        let zero = PriceRange::zero(self.currency);
        let mut kinds: Vec<(Goods, PriceRange)> = Vec::new();
        for line in lines {
            let goods = line.goods;
            match kinds.iter_mut().find(|(kind, _)| *kind == goods) {
                Some((_, sum)) => *sum = sum.plus(line.total)?,
                None => kinds.push((goods, line.total)),
            }
        }
        let goods = PriceRange::sum(kinds.iter().map(|(_, sum)| sum), self.currency)?;
        let value = match self.destination.duty_on_freight {
            true => goods.plus(carriage)?,
            false => goods,
        };
        let free = self.destination.duty_free_up_to;
        let free = free.map(|free| self.own_money(free)).transpose()?;
        if free.is_some_and(|free| value.likely <= free) {
            let each = self.destination.small_duty_each.unwrap_or_default();
            let each = self.own_money(each)?;
            let duties: Vec<_> = kinds
                .iter()
                .map(|(goods, _)| DutyOn {
                    goods: *goods,
                    percent: Decimal::ZERO,
                    likely: each,
                })
                .collect();
            let all = PriceRange::certain(each, self.currency);
            return Ok((value, all.times(Decimal::from(duties.len()))?, duties));
        }
        let mut duty = zero;
        let mut duties = Vec::new();
        for (kind, sum) in kinds {
            let rate = self.destination.duty_on(kind);
            // Freight is spread over the kinds by their value.
            let part = sum.spread(value, goods)?.times(hundredth(rate)?)?;
            duties.push(DutyOn {
                goods: kind,
                percent: rate,
                likely: part.likely,
            });
            duty = duty.plus(part)?;
        }
        Ok((value, duty, duties))
    }

    fn converted(
        &self,
        entry: PriceEntry,
        from: Currency,
        what: &Id,
        times: Decimal,
    ) -> Result<PriceRange, MoneyError> {
        let rate = rate(self.catalogue, from, what, self.currency)?;
        let own = entry.range(self.currency)?;
        let factor = rate.checked_mul(times).ok_or(MoneyError::Overflow)?;
        own.times(factor)
    }

    /// An amount in a supplier's money.
    fn amount(
        &self,
        amount: Option<Decimal>,
        supplier: &Supplier,
    ) -> Result<Option<Decimal>, MoneyError> {
        let turned = |amount| self.turned(amount, supplier.currency, &supplier.id);
        amount.map(turned).transpose()
    }

    /// An amount in the destination's money.
    fn own_money(&self, amount: Decimal) -> Result<Decimal, MoneyError> {
        self.turned(amount, self.destination.currency, &self.destination.id)
    }

    fn turned(&self, amount: Decimal, from: Currency, what: &Id) -> Result<Decimal, MoneyError> {
        let entry = PriceEntry {
            low: amount,
            likely: amount,
            high: amount,
        };
        Ok(self.converted(entry, from, what, Decimal::ONE)?.likely)
    }
}

/// Customs value, duty on it, and the duty on each kind of goods.
type Valued = (PriceRange, PriceRange, Vec<DutyOn>);

fn hundredth(percent: Decimal) -> Result<Decimal, MoneyError> {
    percent
        .checked_div(Decimal::ONE_HUNDRED)
        .ok_or(MoneyError::Overflow)
}
