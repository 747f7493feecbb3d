//! Lines of a bill that is known, for one that differs little from it. Where nothing was noted
//! of a part, neither quote nor payment nor piece in hand, its line follows from the catalogue,
//! the currency, and how much is needed in what packs: all of that is compared.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::Bill;
use super::line::Line;
use super::list::Need;
use super::pricing::Pricing;
use crate::build::Picked;

/// How many lines around the expected one are looked at.
const NEAR: usize = 4;

/// The lines of a known bill.
pub(super) struct Before<'a> {
    picked: &'a Picked<'a>,
    lines: &'a [Arc<Line>],
    /// Where the next one is expected: most follow each other as they did.
    next: usize,
}

impl<'a> Before<'a> {
    /// None where prices come from elsewhere, or are in other money.
    pub(super) fn of(pricing: &Pricing, known: Option<(&'a Picked, &'a Bill)>) -> Option<Self> {
        let (picked, bill) = known?;
        let same = std::ptr::eq(pricing.picked.catalogue, picked.catalogue)
            && pricing.currency == bill.currency;
        same.then_some(Self {
            picked,
            lines: &bill.lines.0,
            next: 0,
        })
    }

    /// The line of a need of whose part nothing is noted, where it was the same.
    pub(super) fn line(&mut self, need: &Need) -> Option<Arc<Line>> {
        let id = need.part.id();
        let of_it = |line: &Arc<Line>| line.step == need.step && line.part == *id;
        let from = self.next.saturating_sub(NEAR);
        let near = self.lines.get(self.next..).unwrap_or_default();
        let ahead = near.iter().take(NEAR).position(of_it);
        let place = match ahead {
            Some(ahead) => self.next + ahead,
            None => from + self.lines.get(from..self.next)?.iter().position(of_it)?,
        };
        self.next = place + 1;
        let line = &self.lines[place];
        let same = exactly(line.needed, need.needed)
            && exactly(line.pack, need.pack)
            && self.picked.build.purchases.of(id).is_none();
        same.then(|| match line.says(need) {
            true => Arc::clone(line),
            false => Arc::new(line.again(need)),
        })
    }
}

impl Line {
    /// Whether all that it takes from a need unseen is as that need says.
    fn says(&self, need: &Need) -> bool {
        (self.first_cut, self.shared, self.longest) == (need.first_cut, need.shared, need.longest)
            && self.why == need.why
    }

    /// The same line for another need of as much.
    fn again(&self, need: &Need) -> Self {
        Self {
            part: self.part,
            kind: self.kind,
            title: self.title,
            step: self.step,
            needed: self.needed,
            quantity: self.quantity,
            have: self.have,
            buy: self.buy,
            unit: self.unit,
            price: self.price.clone(),
            total: self.total,
            paid: self.paid,
            status: self.status,
            first_cut: need.first_cut,
            shared: need.shared,
            longest: need.longest,
            mass: self.mass,
            why: need.why.clone(),
            pack: self.pack,
        }
    }
}

/// Whether two numbers are the same to the last digit that they are written with.
fn exactly(one: Decimal, other: Decimal) -> bool {
    (one.scale(), one.mantissa()) == (other.scale(), other.mantissa())
}
