//! How the price of one unit came about: by a supplier's offer, or by a price book.

use rust_decimal::Decimal;

use super::Amount;
use crate::bill::Line;
use crate::build::Picked;
use crate::build::purchases::{Purchase, Quote};
use crate::catalogue::Unit;
use crate::catalogue::prices::{Price, PriceBook};
use crate::explain::{Derivation, Origin, Worth};
use crate::money::{Money, PriceRange};
use crate::words::Words as _;

/// Where the price of one unit comes from: the quote, else the price book.
pub(super) fn of_one(
    picked: &Picked,
    path: &str,
    line: &Line,
    price: &Price,
    Amount { name, title, of }: Amount,
) -> Derivation {
    let currency = price.range.currency;
    let each = match line.unit {
        Unit::Piece => "piece",
        Unit::Metre => "metre",
        Unit::Kilogram => "kilogram",
        Unit::Litre => "litre",
        Unit::KilowattHour => "kilowatt-hour",
    };
    let title = format!("{title} price of one {each} of {}", line.title);
    let note = Derivation::of(
        format!("{path}.unit_price.{name}"),
        title,
        Money::new(of(&price.range), currency),
    );
    let purchase = picked.build.purchases.of(&line.part);
    if let Some(quote) = purchase.and_then(Purchase::quote) {
        return quoted(picked, note, quote, price, of);
    }
    match picked.catalogue.offer_of(&line.part) {
        Some((book, offer)) => {
            let entry = offer.at(line.buy).range(book.currency).ok();
            let entry = entry.map_or(Decimal::ZERO, |range| of(&range));
            in_book(picked, note, (book, entry), price)
        }
        None => note,
    }
}

/// How a price follows from what a price book's entry says for as many as are bought.
fn in_book(
    picked: &Picked,
    note: Derivation,
    (book, entry): (&PriceBook, Decimal),
    price: &Price,
) -> Derivation {
    let currency = price.range.currency;
    let from_book = || Origin::PriceBook(book.id.to_string());
    let entry = Money::new(entry, book.currency);
    let title = format!(
        "entry of the book, {}, of {}",
        book.basis.title(),
        book.date
    );
    let rate = book.rate_into(picked.catalogue, currency);
    let rate_from = match book.rates.contains_key(&currency) {
        true => from_book(),
        false => Origin::Constant("the price books' rates"),
    };
    let note = match rate.filter(|_| book.currency != currency) {
        Some(rate) => note
            .by(
                "The price in the last price book that has the part, in the currency of your \
                 site.",
                "p = p_b·r",
            )
            .with("p_b", title, entry, from_book())
            .with(
                "r",
                format!("rate of {currency} for one {}", book.currency),
                Worth::Exact(rate, ""),
                rate_from,
            ),
        None => note
            .by(
                "The price in the last price book that has the part.",
                "p = p_b",
            )
            .with("p_b", title, entry, from_book()),
    };
    note.from(
        price.basis.word().plain,
        "Prices change; ask again before you order.",
    )
}

/// How a price by a quote came about.
fn quoted(
    picked: &Picked,
    note: Derivation,
    quote: &Quote,
    price: &Price,
    of: fn(&PriceRange) -> Decimal,
) -> Derivation {
    let into = price.range.currency;
    let rate = picked.catalogue.rate(quote.price.currency, into);
    let own = rate.and_then(|rate| quote.price.amount.checked_mul(rate));
    let firm = own == Some(of(&price.range));
    let (words, formula) = match firm {
        true => (
            "What the supplier named, in the currency of your site.",
            "p = q·r",
        ),
        false => (
            "What the supplier named, in the currency of your site. The offer has run out: it is as uncertain again as the price book thought, in proportion f.",
            "p = q·r·f",
        ),
    };
    let title = format!("offer of {}", quote.date);
    let mut note = note
        .by(words, formula)
        .with("q", title, quote.price, Origin::Purchases)
        .with(
            "r",
            format!("rate of {into} for one {}", quote.price.currency),
            Worth::Exact(rate.unwrap_or_default(), ""),
            Origin::Constant("the price books' rates"),
        );
    if !firm && let Some(own) = own.filter(|own| !own.is_zero()) {
        let share = of(&price.range).checked_div(own).unwrap_or_default();
        let title = "against the likely price in the book";
        note = note.with(
            "f",
            title,
            Worth::Exact(share.round_dp(6), ""),
            Origin::Here,
        );
    }
    note.from(
        "a supplier's offer",
        "Offers run out; ask again before you order.",
    )
}
