//! Which price book prices what, and what one currency is worth in another.

use rust_decimal::Decimal;

use super::{Catalogue, Id, prices};
use crate::money::{Currency, Money};

impl Catalogue {
    /// What one unit of a currency is worth in another: by the rates of the last price book
    /// that has them, from its own currency, into it, or through it.
    pub fn rate(&self, from: Currency, into: Currency) -> Option<Decimal> {
        if from == into {
            return Some(Decimal::ONE);
        }
        let books = self.price_books.values().rev();
        books.into_iter().find_map(|book| book.rate(from, into))
    }

    /// An amount in another currency, to the last digit; none where no price book has a rate.
    pub fn converted(&self, money: Money, into: Currency) -> Option<Decimal> {
        money.amount.checked_mul(self.rate(money.currency, into)?)
    }

    /// Keeps some price books and forgets the others.
    pub fn retain_books(&mut self, keep: impl Fn(&prices::PriceBook) -> bool) {
        self.price_books.retain(|_, book| keep(book));
        self.index_prices();
    }

    /// Notes which book prices which part.
    pub(super) fn index_prices(&mut self) {
        let books = self.price_books.values().enumerate();
        let each = books.flat_map(|(place, book)| {
            let parts = book.prices.keys().enumerate();
            parts.map(move |(entry, part)| (*part, (place, entry)))
        });
        self.priced = each.collect();
    }

    /// The price book whose price of a part counts: the last that has it.
    pub fn book_of(&self, part: &Id) -> Option<&prices::PriceBook> {
        let (place, _) = *self.priced.get(part)?;
        Some(self.price_books.get_index(place)?.1)
    }

    /// What that book says of the part.
    pub fn offer_of(&self, part: &Id) -> Option<(&prices::PriceBook, &prices::Offer)> {
        let (place, entry) = *self.priced.get(part)?;
        let book = self.price_books.get_index(place)?.1;
        // Where entries were taken out of a book since, they stand at other places.
        match book.prices.get_index(entry) {
            Some((id, offer)) if id == part => Some((book, offer.value())),
            _ => Some((book, book.offer(part)?)),
        }
    }
}
