//! What running the machines costs a year: what the yearly rules use up, electricity, licences.
//!
//! It is no part of the bill's total, but belongs to what one knows before buying: a machine
//! that is used every day spends its own price on cutters, filters and power within years. All
//! amounts are averages over many years at likely prices, with the tax on them and without
//! freight; all machines of the bill are counted together, a licence once for the workshop.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use self::energy::Drawn;
use self::used::Hours;
use super::pricing::Pricing;
use crate::catalogue::prices::OnTop;
use crate::catalogue::{Id, Part, Text, Unit};
use crate::explain::Recorder;
use crate::machine::Machine;
use crate::money::{Currency, Money, MoneyError};
use crate::units::{self, Energy};

mod energy;
mod tell;
mod used;

/// The part whose price is that of electricity.
pub const ELECTRICITY: &str = "electricity";

/// What is used up of one part in a year.
#[derive(Clone, Debug)]
pub struct YearlyLine {
    /// The part.
    pub part: Id,
    /// How people call it.
    pub title: Text,
    /// How much a year, on average over many.
    pub quantity: Decimal,
    /// The counting unit.
    pub unit: Unit,
    /// What that costs; none where nobody named a price.
    pub total: Option<Decimal>,
    /// Why so much, in words.
    pub why: Text,
}

/// What running the machines costs a year.
#[derive(Clone, Debug, Default)]
pub struct Yearly {
    /// What is used up, in the order of the rules.
    pub lines: Vec<YearlyLine>,
    /// Electricity of a year.
    pub energy: Energy,
    /// What that costs; none where nobody named a price for it.
    pub power: Option<Decimal>,
    /// All that is used up.
    pub wear: Decimal,
    /// The licences; none where none is chosen, or nobody named a price.
    pub licences: Option<Decimal>,
    /// All of it.
    pub total: Decimal,
}

impl Yearly {
    /// Works it out.
    ///
    /// # Errors
    /// Where a price cannot be stated in the site's currency, or a sum is past counting.
    pub(super) fn of(
        pricing: &Pricing,
        machine: &Machine,
        notes: &mut impl Recorder,
    ) -> Result<Self, MoneyError> {
        let picked = pricing.picked;
        let hours = Hours::of(picked);
        let mut lines: Vec<YearlyLine> = Vec::with_capacity(picked.catalogue.yearly.len());
        let mut told = Vec::new();
        used::each(picked, machine, &hours, |used| {
            let price = Price::of(pricing, used.part.id(), used.quantity)?;
            let total = price.as_ref().map(|price| price.cost(used.quantity));
            lines.push(YearlyLine {
                part: *used.part.id(),
                title: Text::known(used.part.title()),
                quantity: used.quantity,
                unit: used.part.unit(),
                total: total.transpose()?,
                why: used.rule.why,
            });
            if notes.listens() {
                told.push((used, price));
            }
            Ok(())
        })?;
        let drawn = Drawn::of(picked, machine);
        let counted = energy::counted(drawn.energy());
        // What is paid for is what the meter counted.
        let energy = units::kwh::of(counted.to_f64().unwrap_or_default());
        let electricity = match picked.catalogue.part(ELECTRICITY) {
            Some((_, part)) => Price::of(pricing, part.id(), counted)?,
            None => None,
        };
        let licence = match picked.licence {
            Some(licence) => Price::of(pricing, licence.id(), Decimal::ONE)?,
            None => None,
        };
        let power = electricity.as_ref().map(|price| price.cost(counted));
        let licences = licence.as_ref().map(|price| price.cost(Decimal::ONE));
        let (power, licences) = (power.transpose()?, licences.transpose()?);
        let wear = sum(lines.iter().filter_map(|line| line.total))?;
        let yearly = Self {
            energy,
            power,
            wear,
            licences,
            total: sum([Some(wear), power, licences].into_iter().flatten())?,
            lines,
        };
        if notes.listens() {
            tell::lines(picked, &yearly, &told, &hours, notes);
            tell::power(picked, &yearly, &drawn, electricity.as_ref(), notes);
            tell::sums(picked, &yearly, licence.as_ref(), notes);
        }
        Ok(yearly)
    }
}

/// The likely price of one unit, and the tax on it.
struct Price {
    each: Decimal,
    currency: Currency,
    /// The price book that it comes from; none where a supplier named it.
    book: Option<Id>,
    tax_percent: Decimal,
}

impl Price {
    /// The price of a part when so many are bought, as on the bill: as a supplier named it, else
    /// by the price book; none where nobody named one.
    fn of(pricing: &Pricing, part: &Id, quantity: Decimal) -> Result<Option<Self>, MoneyError> {
        let Some(price) = pricing.unit_price(part, quantity)? else {
            return Ok(None);
        };
        let picked = pricing.picked;
        let supplier = price.supplier.as_ref();
        let supplier = supplier.and_then(|id| picked.catalogue.suppliers.get(id));
        // Nobody takes a tax on top of a price of which nobody knows who asks it.
        let taxed = supplier.is_some_and(|one| {
            !price
                .includes
                .or(one.holds(picked.destination))
                .has(OnTop::Tax)
        });
        let tax_percent = match taxed {
            true => super::consignments::tax_percent(picked),
            false => Decimal::ZERO,
        };
        Ok(Some(Self {
            each: price.range.likely,
            currency: price.range.currency,
            book: pricing.book(part).cloned(),
            tax_percent,
        }))
    }

    /// What a quantity costs with the tax on it, to the smallest coin.
    fn cost(&self, quantity: Decimal) -> Result<Decimal, MoneyError> {
        let share = self.tax_percent.checked_div(Decimal::ONE_HUNDRED);
        let factor = share.and_then(|share| share.checked_add(Decimal::ONE));
        let factor = factor.ok_or(MoneyError::Overflow)?;
        let cost = Money::new(self.each, self.currency).times(quantity)?;
        Ok(cost.times(factor)?.rounded().amount)
    }
}

fn sum(amounts: impl IntoIterator<Item = Decimal>) -> Result<Decimal, MoneyError> {
    let mut each = amounts.into_iter();
    each.try_fold(Decimal::ZERO, |sum, one| sum.checked_add(one))
        .ok_or(MoneyError::Overflow)
}
