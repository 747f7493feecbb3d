//! What either way of buying costs: cut to length by the seller, or whole bars and one's own
//! saw. Both at today's likely prices and as if nothing were bought yet, so that they can be
//! compared at any time; a saw in hand costs nothing.

use rust_decimal::Decimal;

use super::SectionCuts;
use crate::bill::by_rules::needed;
use crate::bill::count::members;
use crate::bill::list::{Need, bought};
use crate::bill::pricing::Pricing;
use crate::catalogue::quantity::Count;
use crate::catalogue::{Id, Unit};
use crate::machine::Machine;
use crate::money::{Money, MoneyError};

/// One amount in a total.
#[derive(Clone, Debug)]
pub struct Term {
    /// The part.
    pub part: Id,
    /// How much of it.
    pub quantity: Decimal,
    /// Its unit.
    pub unit: Unit,
    /// What that costs, to the smallest coin.
    pub cost: Decimal,
    /// Whether it is at hand and costs nothing.
    pub at_hand: bool,
}

/// What either way of buying costs, in the currency of the bill.
#[derive(Clone, Debug, Default)]
pub struct Totals {
    /// Metres and cuts.
    pub cut_to_length: Vec<Term>,
    /// Bars and saw.
    pub whole_bars: Vec<Term>,
    /// What other cuts might save at most, where nobody proved that there are none better.
    pub at_most_less: Decimal,
}

impl Totals {
    /// What it costs where the seller saws.
    pub fn cut_to_length(&self) -> Decimal {
        self.cut_to_length.iter().map(|term| term.cost).sum()
    }

    /// What it costs where one saws whole bars.
    pub fn whole_bars(&self) -> Decimal {
        self.whole_bars.iter().map(|term| term.cost).sum()
    }
}

/// Adds both ways up.
pub(super) fn totals(
    pricing: &Pricing,
    machine: &Machine,
    needs: &[Need],
    sections: &[SectionCuts],
) -> Result<Totals, MoneyError> {
    let mut totals = Totals::default();
    for section in sections {
        let of = |need: &&Need| need.step == section.step && *need.part.id() == section.part;
        let Some(need) = needs.iter().find(of) else {
            continue;
        };
        let unit = need.part.unit();
        let metres = bought(need.needed, unit, need.pack).ok_or(MoneyError::Overflow)?;
        let bars = section.metres().ok_or(MoneyError::Overflow)?;
        let bars = bought(bars, unit, Decimal::ZERO).ok_or(MoneyError::Overflow)?;
        let part = &section.part;
        totals
            .cut_to_length
            .push(term(pricing, part, metres, unit)?);
        totals.whole_bars.push(term(pricing, part, bars, unit)?);
        if section.priced {
            totals.at_most_less += section.nesting.cost - section.nesting.bound;
        }
    }
    let less = Money::new(totals.at_most_less, pricing.currency).rounded();
    totals.at_most_less = less.amount;
    if sections.is_empty() {
        return Ok(totals);
    }
    let machines = Decimal::from(pricing.picked.build.area.machines);
    let cuts = members(machine).checked_mul(machines);
    let cuts = cuts.ok_or(MoneyError::Overflow)?;
    by_rules(pricing, Count::TubeCut, cuts, &mut totals.cut_to_length)?;
    by_rules(pricing, Count::OwnSaw, Decimal::ONE, &mut totals.whole_bars)?;
    for term in &mut totals.whole_bars {
        let purchase = pricing.picked.build.purchases.of(&term.part);
        let is_saw = !sections.iter().any(|section| section.part == term.part);
        if is_saw && purchase.is_some_and(|one| one.status().is_here()) {
            (term.cost, term.at_hand) = (Decimal::ZERO, true);
        }
    }
    Ok(totals)
}

/// What the quantity rules ask for so many of something.
fn by_rules(
    pricing: &Pricing,
    per: Count,
    counted: Decimal,
    terms: &mut Vec<Term>,
) -> Result<(), MoneyError> {
    let catalogue = pricing.picked.catalogue;
    for rule in catalogue.quantities.iter().filter(|rule| rule.per == per) {
        let needed = needed(rule, counted).ok_or(MoneyError::Overflow)?;
        let sundry = catalogue.sundries.get(&rule.part);
        let unit = sundry.map_or(Unit::Piece, |sundry| sundry.counted_in);
        let pack = sundry.map_or(Decimal::ZERO, |sundry| sundry.pack);
        let quantity = bought(needed, unit, pack).ok_or(MoneyError::Overflow)?;
        terms.push(term(pricing, &rule.part, quantity, unit)?);
    }
    Ok(())
}

/// What so much of a part costs; nothing where nobody named a price.
fn term(pricing: &Pricing, part: &Id, quantity: Decimal, unit: Unit) -> Result<Term, MoneyError> {
    let price = pricing.unit_price(part, quantity)?;
    let cost = match price {
        Some(price) => {
            Money::new(price.range.likely, pricing.currency)
                .times(quantity)?
                .rounded()
                .amount
        }
        None => Decimal::ZERO,
    };
    Ok(Term {
        part: *part,
        quantity,
        unit,
        cost,
        at_hand: false,
    })
}
