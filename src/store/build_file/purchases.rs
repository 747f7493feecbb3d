//! The part of a build file that goes on after the choices: what was offered, ordered, paid and
//! received, by part; what was paid for the way of a supplier's parcels; lengths in hand; tasks
//! that are done.
//!
//! ```toml
//! [purchases.rail-15]
//! status = "ordered"
//! order = "17"
//! expected = "2026-12-10"
//! quotes = [{ price = "26.40 EUR", date = "2026-11-18", valid_until = "2026-12-18" }]
//! payments = [{ amount = "84.48 USD", date = "2026-11-20", rate = "0.91", by = "the club" }]
//!
//! [consignments.demo-guides]
//! payments = [{ amount = "38 EUR", date = "2026-12-10", what = "duty" }]
//!
//! [offcuts_mm]
//! tube-80x80x4 = [1200, 640]
//!
//! [done]
//! frame-square = "2026-12-20"
//! ```

use std::borrow::Cow;
use std::ops::Range;

use jiff::civil::Date;
use rust_decimal::Decimal;
use toml::Spanned;

use crate::build::nearest;
use crate::build::purchases::{Consignment, Payment, Purchase, Quote, Status};
use crate::build::value::{amount, pointed};
use crate::catalogue::prices::OnTop;
use crate::catalogue::{Catalogue, Id, PartKind};
use crate::money::{self, Currency, Money};
use crate::store::toml_value::{Bad, Raw, flag, list, number, table, text, word};
use crate::units::{self, Length};

/// The keys of a part's purchase, in their order.
pub(super) const PURCHASE: [&str; 11] = [
    "status",
    "have",
    "supplier",
    "order",
    "ordered",
    "received",
    "ordered_on",
    "expected",
    "note",
    "quotes",
    "payments",
];

/// The keys of a quote.
const QUOTE: [&str; 6] = [
    "price",
    "date",
    "valid_until",
    "supplier",
    "includes",
    "used",
];

/// The keys of a payment.
const PAYMENT: [&str; 6] = ["amount", "date", "rate", "what", "by", "part_payment"];

/// The longest offcut, in millimetres.
const LONGEST_MM: f64 = 20_000.0;

/// Reads what a section says, and remembers the currencies that it names.
pub(super) struct Books<'c> {
    pub(super) catalogue: Option<&'c Catalogue>,
    /// The currencies that the file names, with their keys and places.
    pub(super) money: Vec<(String, Currency, Range<usize>)>,
}

impl Books<'_> {
    /// One part's purchase.
    pub(super) fn purchase(&mut self, name: &str, raw: &Raw) -> Result<Purchase, Bad> {
        let mut purchase = Purchase::default();
        for (key, value) in table(name, raw)? {
            match key.get_ref().as_ref() {
                "status" => purchase.status = Some(word::<Status>("status", value)?),
                "have" => purchase.have = Some(quantity("have", value)?),
                "supplier" => purchase.supplier = Some(self.supplier(value)?),
                "order" => purchase.order = Some(text("order", value)?.to_owned()),
                "ordered" => purchase.ordered = Some(quantity("ordered", value)?),
                "received" => purchase.received = Some(quantity("received", value)?),
                "ordered_on" => purchase.ordered_on = Some(date("ordered_on", value)?),
                "expected" => purchase.expected = Some(date("expected", value)?),
                "note" => purchase.note = Some(text("note", value)?.to_owned()),
                "quotes" => {
                    let each = list("quotes", value)?.iter();
                    purchase.quotes = each.map(|one| self.quote(one)).collect::<Result<_, _>>()?;
                }
                "payments" => purchase.payments = self.payments(value, false)?,
                _ => return Err(unknown(key, "a purchase", &PURCHASE)),
            }
        }
        Ok(purchase)
    }

    /// One supplier's consignment.
    pub(super) fn consignment(&mut self, name: &str, raw: &Raw) -> Result<Consignment, Bad> {
        let mut consignment = Consignment::default();
        for (key, value) in table(name, raw)? {
            match key.get_ref().as_ref() {
                "payments" => consignment.payments = self.payments(value, true)?,
                "note" => consignment.note = Some(text("note", value)?.to_owned()),
                _ => return Err(unknown(key, "a consignment", &["payments", "note"])),
            }
        }
        Ok(consignment)
    }

    fn quote(&mut self, raw: &Raw) -> Result<Quote, Bad> {
        let (mut price, mut day) = (None, None);
        let (mut valid_until, mut supplier, mut includes, mut used) = (None, None, None, false);
        for (key, value) in table("a quote", raw)? {
            match key.get_ref().as_ref() {
                "price" => price = Some(self.money("price", value, false)?),
                "date" => day = Some(date("date", value)?),
                "valid_until" => valid_until = Some(date("valid_until", value)?),
                "supplier" => supplier = Some(self.supplier(value)?),
                "includes" => {
                    let each = list("includes", value)?.iter();
                    let each = each.map(|one| word::<OnTop>("includes", one));
                    includes = Some(each.collect::<Result<_, _>>()?);
                }
                "used" => used = flag("used", value)?,
                _ => return Err(unknown(key, "a quote", &QUOTE)),
            }
        }
        Ok(Quote {
            price: price.ok_or_else(|| missing(raw, "a quote", "price = \"26.40 EUR\""))?,
            date: day.ok_or_else(|| missing(raw, "a quote", "date = \"2026-11-18\""))?,
            valid_until,
            supplier,
            includes,
            used,
        })
    }

    fn payments(&mut self, raw: &Raw, on_top: bool) -> Result<Vec<Payment>, Bad> {
        let each = list("payments", raw)?.iter();
        each.map(|one| self.payment(one, on_top)).collect()
    }

    fn payment(&mut self, raw: &Raw, on_top: bool) -> Result<Payment, Bad> {
        let (mut amount, mut day, mut rate) = (None, None, None);
        let (mut what, mut by, mut part_payment) = (None, None, false);
        for (key, value) in table("a payment", raw)? {
            match key.get_ref().as_ref() {
                "amount" => amount = Some((self.money("amount", value, true)?, value.span())),
                "date" => day = Some(date("date", value)?),
                "rate" => rate = Some(positive("rate", value)?),
                "what" if on_top => what = Some(word::<OnTop>("what", value)?),
                "by" => by = Some(text("by", value)?.to_owned()),
                "part_payment" => part_payment = flag("part_payment", value)?,
                _ if on_top => return Err(unknown(key, "a payment", &PAYMENT)),
                _ => {
                    let known: Vec<&str> =
                        PAYMENT.into_iter().filter(|key| *key != "what").collect();
                    return Err(unknown(key, "a payment for a part", &known));
                }
            }
        }
        let (amount, span) =
            amount.ok_or_else(|| missing(raw, "a payment", "amount = \"84.48 EUR\""))?;
        if rate.is_none() {
            // A payment with a rate of its own needs no price book's.
            self.money
                .push(("amount".to_owned(), amount.currency, span));
        }
        Ok(Payment {
            amount,
            date: day.ok_or_else(|| missing(raw, "a payment", "date = \"2026-11-20\""))?,
            rate,
            what,
            by,
            part_payment,
        })
    }

    /// An amount with its currency; money that came back has a minus in front.
    fn money(&mut self, key: &str, raw: &Raw, signed: bool) -> Result<Money, Bad> {
        let text = text(key, raw)?;
        let bad = |error: String| Bad::new(raw.span(), format!("{key}: {error}"));
        let (digits, minus) = match text.trim().strip_prefix('-') {
            Some(rest) if signed => (rest, true),
            _ => (text, false),
        };
        let money = amount(digits, None).map_err(|error| bad(error.to_string()))?;
        let mut money = money.ok_or_else(|| bad("say how much, such as \"240 EUR\"".to_owned()))?;
        if minus {
            money.amount = -money.amount;
        }
        if !signed {
            let place = (key.to_owned(), money.currency, raw.span());
            self.money.push(place);
        }
        Ok(money)
    }

    /// A supplier that the catalogue knows.
    pub(super) fn supplier(&self, raw: &Raw) -> Result<Id, Bad> {
        let name = text("supplier", raw)?;
        self.known_supplier(name)
            .map_err(|message| Bad::new(raw.span(), message))
    }

    /// The same by its name.
    pub(super) fn known_supplier(&self, name: &str) -> Result<Id, String> {
        let Some(catalogue) = self.catalogue else {
            return Id::new(name);
        };
        if let Some(supplier) = catalogue.suppliers.get(name) {
            return Ok(supplier.id);
        }
        let known = catalogue.suppliers.keys().map(Id::as_str);
        let hint = nearest::hint(name, known);
        Err(format!("there is no supplier {name:?}{hint}"))
    }

    /// The part of a name, where it is one that somebody buys.
    pub(super) fn part(&self, name: &str) -> Result<Id, String> {
        let Some(catalogue) = self.catalogue else {
            return Id::new(name);
        };
        match catalogue.part(name) {
            Some((kind, part)) if kind.is_bought() => Ok(*part.id()),
            Some((kind, _)) => Err(format!("{name:?} is a {}: nobody buys that", kind.title())),
            None => {
                let kinds = PartKind::ALL.iter().filter(|kind| kind.is_bought());
                let parts = kinds.flat_map(|kind| catalogue.of_kind(*kind));
                let hint = nearest::hint(name, parts.map(|part| part.id().as_str()));
                Err(format!("there is no part {name:?}{hint}"))
            }
        }
    }
}

/// The lengths in hand of a part.
pub(super) fn lengths(name: &str, raw: &Raw) -> Result<Vec<Length>, Bad> {
    let each = list(name, raw)?.iter();
    each.map(|one| {
        let length = number(one.get_ref());
        if length > 0.0 && length <= LONGEST_MM {
            return Ok(units::mm::of(length));
        }
        let message = format!("{name}: expected lengths in mm, such as [1200, 640]");
        Err(Bad::new(one.span(), message))
    })
    .collect()
}

/// The day of a key.
pub(super) fn date(key: &str, raw: &Raw) -> Result<Date, Bad> {
    let text = text(key, raw)?;
    text.trim().parse().map_err(|_| {
        let message = format!("{key}: {text:?} is not a day; write it as \"2026-11-30\"");
        Bad::new(raw.span(), message)
    })
}

fn quantity(key: &str, raw: &Raw) -> Result<Decimal, Bad> {
    let text = text(key, raw)?;
    let bad = |message| Bad::new(raw.span(), message);
    let digits = pointed(text).map_err(|error| bad(format!("{key}: {error}")))?;
    money::parse_amount(&digits).map_err(|error| {
        bad(format!(
            "{key}: {error}; write a quantity in quotes, such as \"4\""
        ))
    })
}

fn positive(key: &str, raw: &Raw) -> Result<Decimal, Bad> {
    let rate = quantity(key, raw)?;
    if rate.is_zero() {
        let message =
            format!("{key}: a rate of nothing; write what one unit is worth, such as \"0.91\"");
        return Err(Bad::new(raw.span(), message));
    }
    Ok(rate)
}

fn unknown(key: &Spanned<Cow<str>>, of: &str, known: &[&str]) -> Bad {
    let name = key.get_ref().as_ref();
    let hint = nearest::or_all(name, known.iter().copied());
    Bad::new(key.span(), format!("there is no {name:?} in {of}{hint}"))
}

fn missing(raw: &Raw, of: &str, such: &str) -> Bad {
    Bad::new(raw.span(), format!("{of} lacks a key; add {such}"))
}
