//! How the sums of one consignment came about: what one supplier sends.

use rust_decimal::Decimal;

use super::{CHECK, figure, payments};
use crate::bill::notes::SUM;
use crate::bill::{Bill, Consignment, consignments, key};
use crate::build::Picked;
use crate::catalogue::prices::OnTop;
use crate::catalogue::supplier::Supplier;
use crate::explain::{Derivation, Input, Origin, Recorder, Worth};
use crate::money::{Money, PriceRange};
use crate::units;
use crate::words::Words as _;

/// Rules of customs, in general.
const CUSTOMS: &str = "customs value and import tax as in Directive 2006/112/EC, articles 85 and 86, and the WTO's customs valuation; rates and fees as the destination's record says";

/// Notes one consignment; there is nothing to tell of a supplier that the catalogue lacks.
pub(super) fn note(picked: &Picked, bill: &Bill, one: &Consignment, notes: &mut impl Recorder) {
    let Some(supplier) = picked.catalogue.suppliers.get(&one.supplier) else {
        return;
    };
    let sent = Sent {
        picked,
        bill,
        one,
        supplier,
    };
    notes.note(|| sent.goods());
    notes.note(|| sent.parcels());
    notes.note(|| sent.freight());
    notes.note(|| sent.duty());
    notes.note(|| sent.tax());
}

/// A consignment with all that its figures follow from.
struct Sent<'a, 'c> {
    picked: &'a Picked<'c>,
    bill: &'a Bill,
    one: &'a Consignment,
    supplier: &'c Supplier,
}

impl Sent<'_, '_> {
    fn path(&self, word: &str) -> String {
        format!("consignments.{}.{word}", self.one.supplier)
    }

    fn money(&self, amount: Decimal) -> Money {
        Money::new(amount, self.bill.currency)
    }

    /// The supplier's record.
    fn seller(&self) -> Origin {
        Origin::Part(self.one.supplier.to_string())
    }

    /// The destination's record.
    fn place(&self) -> Origin {
        Origin::Part(self.picked.destination.id.to_string())
    }

    fn goods(&self) -> Derivation {
        let title = format!("Likely price of the goods from {}", self.one.title);
        let each = self.one.lines.iter().map(|&place| {
            let line = &self.bill.lines[place];
            let from = format!("bill.{}.total.likely", key(&self.bill.lines, place));
            figure(
                "T_i",
                line.title,
                line.total.likely,
                self.bill.currency,
                from,
            )
        });
        Derivation::of(self.path("goods"), title, self.money(self.one.goods.likely))
            .by("The lines that are bought there.", "G = Σ T_i")
            .with_each(each)
            .from(SUM, "")
    }

    fn parcels(&self) -> Derivation {
        let title = format!("Parcels from {}", self.one.title);
        let number = Worth::Exact(self.one.parcels.into(), "");
        Derivation::of(self.path("parcels"), title, number)
            .by(
                "As many as the mass fills, pieces past the long limit l apart from the rest; one at least.",
                "n = ⌈m / M⌉, long and short apart",
            )
            .with("m", "mass of the goods, as far as it is known", units::kg::amount(self.one.mass), Origin::Here)
            .with("M", "the most in one parcel", units::kg::amount(self.supplier.parcel), self.seller())
            .with("l", "long from", units::mm::amount(self.supplier.long_from), self.seller())
            .from("common practice of carriers", "Small parts have no mass here; a carrier counts volume as well.")
    }

    /// Begins the derivation of what comes on top; where some of it is paid already, that is
    /// all there is to tell.
    fn on_top(
        &self,
        what: OnTop,
        title: &str,
        sum: &PriceRange,
        computed: impl FnOnce(Derivation) -> Derivation,
    ) -> Derivation {
        let title = format!("{title} from {}", self.one.title);
        let note = Derivation::of(self.path(what.id()), title, self.money(sum.likely));
        if !self.one.paid_for(what) {
            return computed(note);
        }
        let paid = consignments::payments(self.picked, &self.one.supplier);
        let own = paid.iter().filter(move |payment| payment.is_for(what));
        note.by(
            "What was paid, each payment rounded to the smallest coin; no less than that while a rest is to be paid.",
            "P = Σ a_i·r_i",
        )
        .with_each(payments(self.picked, own, &self.one.supplier, self.bill.currency))
        .from("the purchases in the build", "")
    }

    fn freight(&self) -> Derivation {
        let (one, supplier) = (self.one, self.supplier);
        let price = |amount| Money::new(amount, supplier.currency);
        let rate = self
            .picked
            .catalogue
            .rate(supplier.currency, self.bill.currency);
        let rate = Worth::Exact(rate.unwrap_or_default(), "");
        let long = supplier
            .long_surcharge
            .map_or(Decimal::ZERO, |entry| entry.likely);
        let small = supplier.small_order_fee.unwrap_or_default();
        self.on_top(OnTop::Freight, "Freight", &one.freight, |note| {
            note.by(
                "So much a parcel (nothing where the goods are worth enough), so much more for each long one, insurance, a fee for a small order, and the carrier's fee for clearing at the border.",
                "F = n·f·r + l·s·r + i·G + k + b",
            )
            .with("n", "parcels", Worth::Exact(one.parcels.into(), ""), Origin::figure(self.path("parcels")))
            .with("f", "freight of one", price(supplier.freight.likely), self.seller())
            .with("l", "long ones", Worth::Exact(one.long.into(), ""), Origin::Here)
            .with("s", "more for a long one", price(long), self.seller())
            .with("r", "rate into your money", rate, Origin::Constant("the price books' rates"))
            .with("i", "insurance", Worth::Exact(supplier.insurance_percent, "%"), self.seller())
            .with("G", "goods", self.money(one.goods.likely), Origin::figure(self.path("goods")))
            .with("k", "fee for a small order, where the goods are below the least order", price(small), self.seller())
            .with("b", "carrier's fee for clearing", self.money(one.clearing.likely), self.place())
            .from("the supplier's record", "Carriers count volume as well as mass.")
        })
    }

    fn duty(&self) -> Derivation {
        let each = self.one.duties.iter().map(|duty| {
            let title = format!("d_i of {} at {} %", duty.goods.title(), duty.percent);
            Input::new("d_i", title, self.money(duty.likely), self.place())
        });
        self.on_top(OnTop::Duty, "Duty on goods", &self.one.duty, |note| {
            note.by(
                "By kind of goods, so many percent of its share of the customs value V; a small consignment pays a fixed sum for each kind. Nothing where the seller is in the same customs area, or the price holds it.",
                "D = Σ d_i",
            )
            .with("V", "customs value", self.money(self.one.customs_value.likely), Origin::Here)
            .with_each(each)
            .from(CUSTOMS, CHECK)
        })
    }

    fn tax(&self) -> Derivation {
        let one = self.one;
        let rate = match self.picked.build.area.tax {
            Some(_) => Origin::choice("tax_percent"),
            None => self.place(),
        };
        self.on_top(OnTop::Tax, "Tax on goods", &one.tax, |note| {
            note.by(
                "So many percent of the goods whose price does not hold it, their freight and duty, and of the carrier's fee where that is taxed.",
                "V = t·(G + F + D)",
            )
            .with("t", "tax", Worth::Exact(one.tax_percent, "%"), rate)
            .with("G", "goods that are taxed on top", self.money(one.untaxed.likely), Origin::Here)
            .with("F", "what is taxed of freight and carrier's fee", self.money(one.taxed_freight), Origin::Here)
            .with("D", "duty as customs compute it", self.money(one.computed_duty()), Origin::Here)
            .from(CUSTOMS, CHECK)
        })
    }
}
