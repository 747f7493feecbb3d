//! Price books: what a unit of each part may cost, by whom it was said, and when.

use indexmap::IndexMap;
use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer};

use super::part::Id;
use super::reader::Placed;
use super::{Catalogue, Shelf, Text};
use crate::money::{self, Currency, MoneyError, PriceRange};
use crate::words::Words;

crate::words! {
    /// What a price rests on.
    Basis {
        Invented = "invented", "invented", "Made up for the demonstration: never order by it.";
        Estimate = "estimate", "estimate", "Somebody's informed guess.";
        Quote = "quote", "quote", "A supplier's offer.";
        Paid = "paid", "paid", "What was really paid.";
    }
}

crate::words! {
    /// What may come on top of a price, or be in it already.
    OnTop {
        Freight = "freight", "freight", "The way from the seller to your door.";
        Duty = "duty", "duty", "What customs take for goods from abroad.";
        Tax = "tax", "tax", "Sales or value-added tax.";
    }
}

/// What a book's prices hold already: all that a book does not name may come on top.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(from = "Vec<OnTop>")]
pub struct Includes([bool; OnTop::ALL.len()]);

impl Includes {
    /// All of it is in the price.
    pub const ALL: Self = Self([true; OnTop::ALL.len()]);

    /// Whether it is in the price.
    pub fn has(self, what: OnTop) -> bool {
        self.0[what.index()]
    }

    /// What is in one of both or the other.
    pub fn or(self, other: Self) -> Self {
        Self(std::array::from_fn(|place| self.0[place] || other.0[place]))
    }

    /// What may still come on top.
    pub fn lacking(self) -> impl Iterator<Item = OnTop> {
        let named = self.0;
        let each = OnTop::ALL.iter().copied();
        each.filter(move |what| !named[what.index()])
    }
}

impl From<Vec<OnTop>> for Includes {
    fn from(named: Vec<OnTop>) -> Self {
        let mut includes = Self::default();
        for what in named {
            includes.0[what.index()] = true;
        }
        includes
    }
}

/// Declares what a file prices by three amounts: the fields of its own, with the three put in
/// front. (A flattened struct would let misspelt keys pass.)
macro_rules! priced {
    ($(#[$meta:meta])* $name:ident { $($(#[$field_meta:meta])* $field:ident : $type:ty,)* }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            /// The least to hope for.
            #[serde(with = "money::amount")]
            pub low: Decimal,
            /// The most likely.
            #[serde(with = "money::amount")]
            pub likely: Decimal,
            /// The most to fear.
            #[serde(with = "money::amount")]
            pub high: Decimal,
            $($(#[$field_meta])* pub $field: $type,)*
        }

        impl $name {
            /// The three amounts alone.
            pub fn entry(&self) -> PriceEntry {
                PriceEntry {
                    low: self.low,
                    likely: self.likely,
                    high: self.high,
                }
            }
        }
    };
}

priced! {
    /// Three amounts, as a file spells them.
    #[derive(Copy)]
    PriceEntry {}
}

priced! {
    /// A lower price for larger quantities.
    #[derive(Copy)]
    Break {
        /// The quantity from which it holds.
        #[serde(deserialize_with = "how_many")]
        from: Decimal,
    }
}

priced! {
    /// One entry of a price book: the price of one unit, and how the part is sold.
    Offer {
        /// Lower prices for larger quantities, smallest first.
        #[serde(default)]
        breaks: Vec<Break>,
        /// What it is sold in: packs, reels. Quantities are whole multiples of it.
        #[serde(default, deserialize_with = "some_quantity")]
        pack: Option<Decimal>,
        /// The least quantity that is sold.
        #[serde(default, deserialize_with = "some_quantity")]
        minimum: Option<Decimal>,
        /// Who sells it, where that is not the book's supplier.
        #[serde(default)]
        supplier: Option<Id>,
        /// Whether it is second-hand.
        #[serde(default)]
        used: bool,
    }
}

impl PriceEntry {
    /// Whether the three stand in their order.
    pub fn is_in_order(&self) -> bool {
        self.low <= self.likely && self.likely <= self.high
    }

    /// The range of these amounts in a currency.
    ///
    /// # Errors
    /// [`MoneyError::OutOfOrder`] unless low <= likely <= high.
    pub fn range(&self, currency: Currency) -> Result<PriceRange, MoneyError> {
        PriceRange::new(self.low, self.likely, self.high, currency)
    }
}

impl Offer {
    /// The price of one unit when so many are bought.
    pub fn at(&self, quantity: Decimal) -> PriceEntry {
        let reached = self.breaks.iter().rfind(|step| step.from <= quantity);
        reached.map_or_else(|| self.entry(), Break::entry)
    }
}

fn how_many<'de, D: Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
    money::amount_within(d, Decimal::new(1, 3), Decimal::new(1_000_000, 0))
}

fn some_quantity<'de, D: Deserializer<'de>>(d: D) -> Result<Option<Decimal>, D::Error> {
    how_many(d).map(Some)
}

/// A price book.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PriceBook {
    /// The stable name.
    pub id: Id,
    /// How people call it.
    pub title: Text,
    /// What its prices rest on.
    pub basis: Basis,
    /// The currency of its prices.
    pub currency: Currency,
    /// Whose prices they are: the supplier of every part that names no other.
    #[serde(default)]
    pub supplier: Option<Id>,
    /// The day of its prices and rates.
    #[serde(deserialize_with = "super::day::deserialize")]
    pub date: jiff::civil::Date,
    /// What its prices hold already: freight, duty, tax. Name what will not come on top.
    #[serde(default)]
    pub includes: Includes,
    /// What one unit of its currency is worth in others.
    #[serde(default)]
    pub rates: IndexMap<Currency, Rate>,
    /// The prices, by part, each with its place in the book's file.
    #[serde(deserialize_with = "placed")]
    pub prices: Shelf<Placed<Offer>>,
}

/// Reads the prices. An entry stands where its key does: that is where its line begins, and
/// where the name of a part is mistyped.
fn placed<'de, D: Deserializer<'de>>(d: D) -> Result<Shelf<Placed<Offer>>, D::Error> {
    let entries = IndexMap::<Placed<Id>, Offer>::deserialize(d)?;
    Ok(entries
        .into_iter()
        .map(|(id, entry)| {
            let place = id.place();
            (id.into_value(), Placed::new(place, entry))
        })
        .collect())
}

/// A rate between two currencies, in quotes like every amount.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(transparent)]
pub struct Rate(#[serde(deserialize_with = "rate")] pub Decimal);

/// The weakest currencies stand at some tens of thousands to the strongest.
fn rate<'de, D: Deserializer<'de>>(d: D) -> Result<Decimal, D::Error> {
    money::amount_within(d, Decimal::new(1, 6), Decimal::new(1_000_000, 0))
}

/// A price with what it rests on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Price {
    /// The range for one unit.
    pub range: PriceRange,
    /// What it rests on.
    pub basis: Basis,
    /// The day it was true.
    pub date: jiff::civil::Date,
    /// What it holds already.
    pub includes: Includes,
    /// Who asks it, where that is known.
    pub supplier: Option<Id>,
    /// Whether the part is second-hand.
    pub used: bool,
}

impl PriceBook {
    /// What the book says of a part, where it has it.
    pub fn offer(&self, part: &Id) -> Option<&Offer> {
        self.prices.get(part).map(Placed::value)
    }

    /// What one unit of a currency is worth in another, by this book's rates: from its own
    /// currency, into it, or through it.
    pub fn rate(&self, from: Currency, into: Currency) -> Option<Decimal> {
        let own = |other: Currency| {
            if other == self.currency {
                return Some(Decimal::ONE);
            }
            self.rates.get(&other).map(|rate| rate.0)
        };
        own(into)?.checked_div(own(from)?)
    }

    /// What one unit of this book's currency is worth in another: by its own rates, else by those
    /// of the other books.
    pub fn rate_into(&self, catalogue: &Catalogue, into: Currency) -> Option<Decimal> {
        let own = self.rates.get(&into).map(|rate| rate.0);
        own.or_else(|| catalogue.rate(self.currency, into))
    }

    /// The price of one unit of a part by this book's offer of it, when so many are bought, in a
    /// currency to the last digit: only what is bought is rounded to coins, else a screw of three
    /// cents would cost a third more or less abroad.
    ///
    /// # Errors
    /// [`MoneyError`] where the entry is out of order, or no book of the catalogue has a rate.
    pub fn price(
        &self,
        catalogue: &Catalogue,
        (part, offer): (&Id, &Offer),
        quantity: Decimal,
        currency: Currency,
    ) -> Result<Price, MoneyError> {
        let own = offer.at(quantity).range(self.currency)?;
        let range = if currency == self.currency {
            own
        } else {
            let rate = self
                .rate_into(catalogue, currency)
                .ok_or_else(|| MoneyError::NoRate {
                    book: self.id.to_string(),
                    part: part.to_string(),
                    from: self.currency,
                    into: currency,
                })?;
            let mut range = own.map(|money| money.times(rate))?;
            range.currency = currency;
            range
        };
        Ok(Price {
            range,
            basis: self.basis,
            date: self.date,
            includes: self.includes,
            supplier: offer.supplier.as_ref().or(self.supplier.as_ref()).cloned(),
            used: offer.used,
        })
    }
}
