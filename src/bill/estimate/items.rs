//! What makes a bill uncertain: its lines, and the freight of its consignments.
//!
//! Duty and tax are shares of prices and freight, so they move with these and not on their
//! own: each amount counts with all that comes on top of it.

use rust_decimal::Decimal;

use super::super::{Consignment, Line, Lines};
use super::{Group, Item};
use crate::build::Picked;
use crate::catalogue::prices::{Includes, OnTop};
use crate::money::MoneyError;

/// The uncertain amounts of a bill.
///
/// # Errors
/// [`MoneyError::Overflow`] past counting.
pub fn items(
    picked: &Picked,
    lines: &Lines,
    consignments: &[Consignment],
) -> Result<Vec<Item>, MoneyError> {
    let mut items: Vec<Item> = lines.iter().map(|line| Item::alone(line.total)).collect();
    for (place, one) in consignments.iter().enumerate() {
        let group = u16::try_from(place).ok().map(Group);
        let supplier = picked.catalogue.suppliers.get(&one.supplier);
        let held = supplier.map(|supplier| supplier.holds(picked.destination));
        let rates = Rates::of(one).ok_or(MoneyError::Overflow)?;
        let mut last: Option<(Borne, Decimal)> = None;
        for &line in &one.lines {
            items[line].group = group;
            if let Some(held) = held {
                let borne = rates.borne(one, held, &lines[line]);
                // Most lines of a consignment bear the same.
                let known = last.filter(|(other, _)| *other == borne);
                let factor = known.map(|(_, factor)| factor);
                let factor = factor.or_else(|| rates.on_goods(borne));
                let factor = factor.ok_or(MoneyError::Overflow)?;
                last = Some((borne, factor));
                items[line].factor = factor;
            }
        }
        let duty_on_freight = picked.destination.duty_on_freight;
        items.push(Item {
            range: one.freight,
            group,
            factor: rates
                .on_freight(one, duty_on_freight)
                .ok_or(MoneyError::Overflow)?,
        });
    }
    Ok(items)
}

/// What a line's price bears.
#[derive(Clone, Copy, PartialEq)]
struct Borne {
    /// The rate of its duty in percent, where duty moves with its price.
    duty: Option<Decimal>,
    /// Whether tax comes on top.
    taxed: bool,
}

/// Shares that come on top within one consignment; nothing where they were paid, for what was
/// paid moves no more.
struct Rates {
    /// Tax.
    tax: Decimal,
    /// Duty on the customs value, all goods taken together.
    mean_duty: Decimal,
    /// Whether duty moves with the prices.
    duty: bool,
}

impl Rates {
    fn of(one: &Consignment) -> Option<Self> {
        let tax = match one.paid_for(OnTop::Tax) {
            true => Decimal::ZERO,
            false => one.tax_percent.checked_div(Decimal::ONE_HUNDRED)?,
        };
        let duty = !one.paid_for(OnTop::Duty);
        // A duty at a fixed amount for small consignments has no rate.
        let rated = one.duties.iter().filter(|duty| !duty.percent.is_zero());
        let likely: Decimal = rated.map(|duty| duty.likely).sum();
        let mean_duty = match duty {
            true => likely.checked_div(one.customs_value.likely),
            false => None,
        };
        Some(Self {
            tax,
            mean_duty: mean_duty.unwrap_or_default(),
            duty,
        })
    }

    /// What comes on top of a line's price, where its supplier's prices hold something already.
    fn borne(&self, one: &Consignment, held: Includes, line: &Line) -> Borne {
        let lacks = |what: OnTop| {
            let price = line.price.as_ref();
            price.is_some_and(|price| !price.includes.or(held).has(what))
        };
        let goods = line.kind.goods();
        let of_kind = one.duties.iter().find(|duty| duty.goods == goods);
        let moves = self.duty && lacks(OnTop::Duty);
        Borne {
            duty: of_kind.filter(|_| moves).map(|duty| duty.percent),
            taxed: lacks(OnTop::Tax),
        }
    }

    /// What a line's price counts, with the duty and tax on it.
    fn on_goods(&self, borne: Borne) -> Option<Decimal> {
        let duty = match borne.duty {
            Some(rate) => rate.checked_div(Decimal::ONE_HUNDRED)?,
            None => Decimal::ZERO,
        };
        let taxed = match borne.taxed {
            true => Decimal::ONE.checked_add(duty)?,
            false => duty,
        };
        let tax = self.tax.checked_mul(taxed)?;
        Decimal::ONE.checked_add(duty)?.checked_add(tax)
    }

    /// What the freight counts, with the duty and tax on it. Of a carrier's fee, which neither
    /// may be taken from, the consignment holds no more than its share of the likely freight.
    fn on_freight(&self, one: &Consignment, duty_on_freight: bool) -> Option<Decimal> {
        if one.paid_for(OnTop::Freight) || one.freight.likely.is_zero() {
            return Some(Decimal::ONE);
        }
        let carriage = one.freight.likely.checked_sub(one.clearing.likely)?;
        let carried = carriage.checked_div(one.freight.likely)?;
        let duty = match duty_on_freight {
            true => self.mean_duty.checked_mul(carried)?,
            false => Decimal::ZERO,
        };
        let share = one.taxed_freight.checked_div(one.freight.likely)?;
        let tax = self.tax.checked_mul(share.checked_add(duty)?)?;
        Decimal::ONE.checked_add(duty)?.checked_add(tax)
    }
}
