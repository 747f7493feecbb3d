//! What was really asked, ordered, paid and received: the part of the build that goes on after
//! the choices are made. Nothing in it is thrown away by a change of choices, and no quote
//! overwrites an older one.

use indexmap::IndexMap;
use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::catalogue::Id;
use crate::catalogue::prices::OnTop;
use crate::money::Money;
use crate::units::Length;

crate::words! {
    /// How far the purchase of a part has come.
    Status {
        ToBuy = "to-buy", "to buy", "Nothing was done yet.";
        Quoted = "quoted", "quoted", "A supplier named a price.";
        HaveIt = "have-it", "have it", "It lies in your workshop and costs nothing more.";
        Ordered = "ordered", "ordered", "It is on its way.";
        PartArrived = "part-arrived", "part arrived", "Some of it arrived.";
        Arrived = "arrived", "arrived", "All of it arrived, unchecked.";
        Checked = "checked", "checked", "It was measured and is good.";
        Faulty = "faulty", "faulty", "It was measured and is not good: complain, or send it back.";
        Fitted = "fitted", "fitted", "It is in the machine.";
        Cancelled = "cancelled", "cancelled", "The order was called off: it must be bought elsewhere.";
    }
}

/// What happened about one part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Purchase {
    /// How far it has come; none where only quotes are known.
    pub status: Option<Status>,
    /// How much lies in the workshop already, in the part's unit; of a part in hand without a
    /// number, all that is needed.
    pub have: Option<Decimal>,
    /// The supplier it is or will be ordered from.
    pub supplier: Option<Id>,
    /// The order's number, as the supplier calls it.
    pub order: Option<String>,
    /// How much was ordered.
    pub ordered: Option<Decimal>,
    /// How much arrived.
    pub received: Option<Decimal>,
    /// The day it was ordered.
    pub ordered_on: Option<Date>,
    /// The day it is expected.
    pub expected: Option<Date>,
    /// A remark: what is wrong with it, where it lies.
    pub note: Option<String>,
    /// What suppliers named, oldest first; the last one counts.
    pub quotes: Vec<Quote>,
    /// What was paid, oldest first.
    pub payments: Vec<Payment>,
}

/// A price that a supplier named for one unit of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Quote {
    /// The price of one unit.
    pub price: Money,
    /// The day it was named.
    pub date: Date,
    /// The last day on which it holds.
    pub valid_until: Option<Date>,
    /// Who named it.
    pub supplier: Option<Id>,
    /// What is in the price already; none where that follows from the supplier.
    pub includes: Option<Vec<OnTop>>,
    /// Whether the part is second-hand.
    pub used: bool,
}

/// An amount that was paid.
#[derive(Clone, Debug, PartialEq)]
pub struct Payment {
    /// How much, in the money it was paid in.
    pub amount: Money,
    /// When.
    pub date: Date,
    /// What one unit of that money was worth in the site's, that day; none where it is the
    /// site's money, or the price books' rate serves.
    pub rate: Option<Decimal>,
    /// Of a consignment's payment, which of freight, duty and tax it was for.
    pub what: Option<OnTop>,
    /// Who paid, by whatever name the builders use.
    pub by: Option<String>,
    /// Whether more of the price is still to be paid.
    pub part_payment: bool,
}

/// What happened about one supplier's consignment: what was paid for freight, duty, tax and
/// fees.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Consignment {
    /// What was paid, oldest first.
    pub payments: Vec<Payment>,
    /// A remark.
    pub note: Option<String>,
}

/// Everything that was bought, and what lies about.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Purchases {
    /// By part.
    pub parts: IndexMap<Id, Purchase>,
    /// By supplier.
    pub consignments: IndexMap<Id, Consignment>,
    /// Lengths in hand, by the part they were cut from.
    pub offcuts: IndexMap<Id, Vec<Length>>,
}

impl Purchases {
    /// What happened about a part.
    pub fn of(&self, part: &Id) -> Option<&Purchase> {
        self.parts.get(part)
    }
}

impl Purchase {
    /// How far it has come, as far as that was said: quotes make it quoted.
    pub fn status(&self) -> Status {
        match self.status {
            Some(status) => status,
            None if !self.quotes.is_empty() => Status::Quoted,
            None => Status::ToBuy,
        }
    }

    /// The quote that counts: the last.
    pub fn quote(&self) -> Option<&Quote> {
        self.quotes.last()
    }

    /// Whether all of it was paid: something was, and the last payment leaves no rest.
    pub fn is_paid(&self) -> bool {
        let last = self.payments.last();
        last.is_some_and(|payment| !payment.part_payment)
    }
}

impl Payment {
    /// Whether it was for one of freight, duty and tax; where nobody said, for freight.
    pub fn is_for(&self, what: OnTop) -> bool {
        self.what.unwrap_or(OnTop::Freight) == what
    }
}

impl Status {
    /// Whether the part is bought: ordered or beyond.
    pub fn is_committed(self) -> bool {
        !matches!(
            self,
            Self::ToBuy | Self::Quoted | Self::HaveIt | Self::Cancelled
        )
    }

    /// Whether all of it lies in the workshop.
    pub fn is_here(self) -> bool {
        matches!(
            self,
            Self::HaveIt | Self::Arrived | Self::Checked | Self::Fitted
        )
    }
}
