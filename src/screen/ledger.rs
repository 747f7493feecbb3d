//! The bill as a page to work in: which lines are listed, in which order, and where the cursor
//! is. Nothing of it is saved; what is written down about a line goes into the build.

use rust_decimal::Decimal;

use super::typed::Typed;
use crate::assessment::Assessment;
use crate::bill::{Consignment, Line, key};
use crate::build::Build;
use crate::build::purchases::{Payment, Purchase};
use crate::catalogue::{Catalogue, Id, Step};

mod list;

pub use list::supplier_of;

crate::words! {
    /// By what the lines stand together.
    Sort {
        ByStep = "step", "by step", "Step by step, as the choices are made.";
        BySupplier = "supplier", "by supplier", "What comes from one seller stands together, with its freight, duty and tax.";
        ByPrice = "price", "by price", "The dearest line first.";
        ByStatus = "status", "by status", "What was bought how far stands together.";
        ByTurn = "turn", "by what comes first", "In the order in which it is bought, what waits for what.";
        ByDoubt = "doubt", "by what to ask first", "The guessed prices that widen the range of the cost most first: ask sellers for those.";
    }
}

crate::words! {
    /// Which lines are listed.
    Show {
        All = "all", "all", "Every line.";
        ToBuy = "to-buy", "to buy", "What is still to be ordered or paid.";
        FirstCut = "first-cut", "needed for the first cut", "What the first cut cannot do without.";
        Workshop = "workshop", "tools and what a workshop has once", "Tools and other things that serve every machine: mark those that you have.";
        NoPrice = "no-price", "without a price", "What nobody named a price for.";
    }
}

crate::words! {
    /// What can be written down about a line.
    Asked {
        Price = "price", "Price", "What a seller asks for one unit. The last price counts; earlier ones are kept.";
        Payment = "payment", "Paid", "What was paid. Every payment is kept; money that came back has a minus in front.";
        Status = "status", "Status", "How far its purchase has come.";
        Have = "have", "In hand", "How much of it lies in your workshop already. Empty it to say that nothing is known.";
        Supplier = "supplier", "Supplier", "From whom it is or will be ordered: that parcel's freight, duty and tax hold for it.";
        Order = "order", "Order", "The number that the seller gave the order.";
        Arrived = "arrived", "Arrived", "How much of the order has arrived. Less than was ordered leaves it as part arrived, all of it as arrived, to be checked.";
        Expected = "expected", "Expected on", "The day on which it should arrive.";
        Note = "note", "Remark", "Anything worth remembering: where it lies, what is wrong with it.";
    }
}

/// What a row of the page stands for; found again by this after each change.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Entry {
    /// A part, needed in a step.
    Part(Id, Step),
    /// Freight, duty and tax of one supplier.
    Way(Id),
    /// Something paid for that no line needs: a part or a supplier.
    Unused(Id),
}

/// A row of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// A heading, with the sum of what stands under it.
    Head(String, Decimal),
    /// Something that the cursor can stand on.
    Entry(Entry),
}

/// What the page of the bill looks like.
#[derive(Clone, Debug)]
pub struct Ledger {
    /// By what it is sorted.
    pub sort: Sort,
    /// What is listed.
    pub show: Show,
    /// The word that is looked for.
    pub word: Typed,
    /// The rows.
    pub rows: Vec<Row>,
    /// The row under the cursor, among [`entries`](Self::entries).
    pub cursor: usize,
    /// Whether the cursor stays in its place at the next listing, wherever the line goes that it
    /// is on: whoever marks one line after the other goes on from there.
    pub stays: bool,
}

impl Default for Ledger {
    fn default() -> Self {
        Self {
            sort: Sort::ByStep,
            show: Show::All,
            word: Typed::default(),
            rows: Vec::new(),
            cursor: 0,
            stays: false,
        }
    }
}

impl Ledger {
    /// Lists anew; the cursor stays on what it was on, as long as the bill has that.
    pub fn follow(&mut self, catalogue: &Catalogue, now: &Assessment) {
        let here = self.current().cloned();
        let asking = list::Asking {
            sort: self.sort,
            show: self.show,
            word: &self.word.value().to_lowercase(),
            keep: here.as_ref(),
        };
        self.rows = list::rows(catalogue, &now.bill, &asking);
        let entries = self.entries();
        let same = here.and_then(|here| entries.iter().position(|entry| **entry == here));
        let last = entries.len().saturating_sub(1);
        let same = same.filter(|_| !self.stays);
        self.cursor = same.unwrap_or(self.cursor.min(last));
    }

    /// Goes to the top: what is listed next begins with its first row.
    pub fn to_top(&mut self) {
        self.rows.clear();
        self.cursor = 0;
    }

    /// The rows that the cursor can stand on.
    pub fn entries(&self) -> Vec<&Entry> {
        let each = self.rows.iter().filter_map(|row| match row {
            Row::Entry(entry) => Some(entry),
            Row::Head(..) => None,
        });
        each.collect()
    }

    /// What is under the cursor.
    pub fn current(&self) -> Option<&Entry> {
        self.entries().get(self.cursor).copied()
    }
}

impl Entry {
    /// What people call it.
    pub fn title(&self, catalogue: &Catalogue) -> String {
        let part = |id: &Id| catalogue.part(id.as_str()).map(|(_, part)| part.title());
        let supplier = |id: &Id| {
            let supplier = catalogue.suppliers.get(id);
            supplier.map(|one| one.title.as_str())
        };
        let title = match self {
            Self::Part(id, _) => part(id),
            Self::Way(id) => supplier(id),
            Self::Unused(id) => part(id).or_else(|| supplier(id)),
        };
        let title = title.unwrap_or(self.id().as_str());
        match self {
            Self::Way(_) => format!("On top: {title}"),
            _ => title.to_owned(),
        }
    }

    /// The id of the part or the supplier.
    pub fn id(&self) -> &Id {
        match self {
            Self::Part(id, _) | Self::Way(id) | Self::Unused(id) => id,
        }
    }

    /// Whether it is about a supplier's parcels and not about a part.
    pub fn is_way(&self, build: &Build) -> bool {
        match self {
            Self::Part(..) => false,
            Self::Way(_) => true,
            Self::Unused(id) => !build.purchases.parts.contains_key(id),
        }
    }

    /// What can be written down about it, in the order of its page.
    pub fn asked(&self, build: &Build) -> &'static [Asked] {
        match self {
            Self::Part(..) => &[
                Asked::Price,
                Asked::Payment,
                Asked::Status,
                Asked::Have,
                Asked::Supplier,
                Asked::Order,
                Asked::Expected,
                Asked::Arrived,
                Asked::Note,
            ],
            Self::Unused(_) if !self.is_way(build) => &[Asked::Payment, Asked::Status, Asked::Note],
            _ => &[Asked::Payment, Asked::Note],
        }
    }

    /// The place of its line in the bill; none where the bill has none for it.
    pub fn place(&self, now: &Assessment) -> Option<usize> {
        let Self::Part(id, step) = self else {
            return None;
        };
        let mut lines = now.bill.lines.iter();
        lines.position(|line| line.part == *id && line.step == *step)
    }

    /// Its line of the bill.
    pub fn line<'a>(&self, now: &'a Assessment) -> Option<&'a Line> {
        now.bill.lines.get(self.place(now)?)
    }

    /// What is still to be paid for its line, in the money of the bill; none where nothing is.
    pub fn open(&self, now: &Assessment) -> Option<Decimal> {
        let line = self.line(now)?;
        let open = line.total.likely - line.paid;
        (open > Decimal::ZERO).then_some(open)
    }

    /// The path of the figure that it comes to.
    pub fn figure(&self, now: &Assessment) -> Option<String> {
        match self {
            Self::Part(..) => {
                let line = key(&now.bill.lines, self.place(now)?);
                Some(format!("bill.{line}.total.likely"))
            }
            Self::Way(id) => Some(format!("consignments.{id}.freight")),
            Self::Unused(_) => None,
        }
    }

    /// From whom it would be ordered now. An order keeps that: an offer of somebody else that
    /// comes later must not send the parcel from there.
    pub fn sender(&self, now: &Assessment) -> Option<Id> {
        let price = self.line(now)?.price.as_ref()?;
        price.supplier
    }

    /// Its consignment: of a part, the one that it comes in.
    pub fn consignment<'a>(&self, now: &'a Assessment) -> Option<&'a Consignment> {
        let mut all = now.bill.consignments.iter();
        match self {
            Self::Way(id) => all.find(|one| one.supplier == *id),
            Self::Part(..) => {
                let place = self.place(now)?;
                all.find(|one| one.lines.contains(&place))
            }
            Self::Unused(_) => None,
        }
    }

    /// What was written down about its part.
    pub fn purchase<'b>(&self, build: &'b Build) -> Option<&'b Purchase> {
        match self {
            Self::Way(_) => None,
            Self::Part(id, _) | Self::Unused(id) => build.purchases.of(id),
        }
    }

    /// What was paid for it, oldest first.
    pub fn payments<'b>(&self, build: &'b Build) -> &'b [Payment] {
        let purchases = &build.purchases;
        if self.is_way(build) {
            let way = purchases.consignments.get(self.id());
            return way.map_or(&[], |way| &way.payments);
        }
        let part = purchases.parts.get(self.id());
        part.map_or(&[], |part| &part.payments)
    }

    /// The remark on it.
    pub fn note<'b>(&self, build: &'b Build) -> Option<&'b str> {
        let purchases = &build.purchases;
        if self.is_way(build) {
            return purchases.consignments.get(self.id())?.note.as_deref();
        }
        purchases.parts.get(self.id())?.note.as_deref()
    }
}
