//! Price books: what a unit of each part may cost, by whom it was said, and when.

use indexmap::IndexMap;
use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer};
use toml::Spanned;

use super::part::Id;
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

/// One entry of a price book, as a file spells it.
#[derive(Clone, Copy, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PriceEntry {
    /// The least to hope for.
    #[serde(with = "money::amount")]
    pub low: Decimal,
    /// The most likely.
    #[serde(with = "money::amount")]
    pub likely: Decimal,
    /// The most to fear.
    #[serde(with = "money::amount")]
    pub high: Decimal,
}

/// A price book.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PriceBook {
    /// The stable name.
    pub id: Id,
    /// How people call it.
    pub title: String,
    /// What its prices rest on.
    pub basis: Basis,
    /// The currency of its prices.
    pub currency: Currency,
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
    pub prices: IndexMap<Id, Spanned<PriceEntry>>,
}

/// Reads the prices. An entry stands where its key does: that is where its line begins, and
/// where the name of a part is mistyped.
fn placed<'de, D: Deserializer<'de>>(d: D) -> Result<IndexMap<Id, Spanned<PriceEntry>>, D::Error> {
    let entries = IndexMap::<Spanned<Id>, PriceEntry>::deserialize(d)?;
    Ok(entries
        .into_iter()
        .map(|(id, entry)| {
            let place = id.span();
            (id.into_inner(), Spanned::new(place, entry))
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
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Price {
    /// The range for one unit.
    pub range: PriceRange,
    /// What it rests on.
    pub basis: Basis,
    /// The day it was true.
    pub date: jiff::civil::Date,
    /// What it holds already.
    pub includes: Includes,
}

impl PriceBook {
    /// What the book says of a part, where it has it.
    pub fn entry(&self, part: &Id) -> Option<PriceEntry> {
        self.prices.get(part).map(|entry| *entry.get_ref())
    }

    /// The price of a part in a currency, where the book has it.
    ///
    /// # Errors
    /// [`MoneyError`] where the entry is out of order, or the book has no rate.
    pub fn price(&self, part: &Id, currency: Currency) -> Option<Result<Price, MoneyError>> {
        let entry = self.entry(part)?;
        Some(self.converted(part, entry, currency))
    }

    /// The price in a currency, to the last digit: only what is bought is rounded to coins,
    /// else a screw of three cents would cost a third more or less abroad.
    fn converted(
        &self,
        part: &Id,
        entry: PriceEntry,
        currency: Currency,
    ) -> Result<Price, MoneyError> {
        let own = PriceRange::new(entry.low, entry.likely, entry.high, self.currency)?;
        let range = if currency == self.currency {
            own
        } else {
            let rate = self
                .rates
                .get(&currency)
                .ok_or_else(|| MoneyError::NoRate {
                    book: self.id.to_string(),
                    part: part.to_string(),
                    from: self.currency,
                    into: currency,
                })?;
            let mut range = own.map(|money| money.times(rate.0))?;
            range.currency = currency;
            range
        };
        Ok(Price {
            range,
            basis: self.basis,
            date: self.date,
            includes: self.includes,
        })
    }
}
