//! What suppliers send: all that a consignment depends on of the lines in it, so that one whose
//! lines are the same can be told.

use super::{Consignment, Known};
use crate::bill::line::Line;
use crate::build::Picked;
use crate::build::purchases::Payment;
use crate::catalogue::Id;
use crate::catalogue::destination::Goods;
use crate::catalogue::prices::{Includes, OnTop};
use crate::catalogue::supplier::Supplier;
use crate::money::PriceRange;
use crate::units::{Length, Mass};

/// All of a line that a consignment depends on.
#[derive(Clone, Copy)]
pub(super) struct Sent {
    pub(super) total: PriceRange,
    /// What its price holds already, as its supplier states prices; none where it has no price.
    pub(super) includes: Option<Includes>,
    pub(super) goods: Goods,
    pub(super) mass: Mass,
    pub(super) longest: Length,
}

impl Sent {
    /// A line whose supplier's prices hold something already.
    pub(super) fn of(line: &Line, held: Includes) -> Self {
        Self {
            total: line.total,
            includes: line.price.as_ref().map(|price| price.includes.or(held)),
            goods: line.kind.goods(),
            mass: line.mass,
            longest: line.longest,
        }
    }

    /// Whether another one is the same, to the last digit.
    fn is_as(&self, other: &Self) -> bool {
        let rest = |sent: &Self| (sent.includes, sent.goods, sent.mass, sent.longest);
        rest(self) == rest(other) && self.total.is_exactly(&other.total)
    }
}

/// What a supplier sends, and the places on the bill of its lines.
pub(super) struct Order<'a> {
    pub(super) supplier: &'a Supplier,
    /// What its prices hold already.
    pub(super) held: Includes,
    pub(super) sent: Vec<Sent>,
    pub(super) places: Vec<usize>,
}

impl Order<'_> {
    /// The consignment of a known bill that brings the same, paid for in the same way.
    pub(super) fn known<'k>(
        &self,
        (picked, bill): Known<'k>,
        paid: &[Payment],
    ) -> Option<&'k Consignment> {
        let mut known = bill.consignments.iter();
        let one = known.find(|one| one.supplier == self.supplier.id)?;
        let lines = one
            .lines
            .iter()
            .map(|&line| Sent::of(&bill.lines[line], self.held));
        let same = one.lines.len() == self.sent.len()
            && lines.zip(&self.sent).all(|(known, sent)| known.is_as(sent))
            && paid == payments(picked, &one.supplier);
        same.then_some(one)
    }
}

/// What was paid of a supplier's consignment.
pub(in crate::bill) fn payments<'b>(picked: &Picked<'b>, supplier: &Id) -> &'b [Payment] {
    let bought = picked.build.purchases.consignments.get(supplier);
    bought.map_or(&[], |bought| &bought.payments)
}

/// The lines whose price does not hold something yet.
pub(super) fn lacking(lines: &[Sent], what: OnTop) -> impl Iterator<Item = &Sent> + Clone {
    let lacks = move |held: Includes| !held.has(what);
    lines
        .iter()
        .filter(move |line| line.includes.is_some_and(lacks))
}

/// How many parcels, and how many of them are long: as many as the masses fill, the long
/// pieces apart from the rest, and one at least.
pub(super) fn parcels(supplier: &Supplier, lines: &[Sent]) -> (u32, u32) {
    let is_long = |line: &Sent| line.longest >= supplier.long_from;
    let filled = |long: bool| {
        let own = || lines.iter().filter(|line| is_long(line) == long);
        if own().next().is_none() {
            return 0;
        }
        let mass: Mass = own().map(|line| line.mass).sum();
        (mass / supplier.parcel).value.ceil().max(1.0) as u32
    };
    let long = filled(true);
    (filled(false).saturating_add(long), long)
}
