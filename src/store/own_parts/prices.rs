//! Prices of one's own parts: in price books of the user's, one for each day, currency and basis,
//! so that no price ever looks younger than it is.

use jiff::civil::Date;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Table, TableLike, Value};

use super::{OwnPrice, by_hand_alone, document, set_apart, tables_of, take_out};
use crate::catalogue::prices::{Basis, OnTop};
use crate::catalogue::{Catalogue, Id};
use crate::money::Money;
use crate::store::FileError;
use crate::store::library::Overlay;
use crate::words::Words as _;

/// The key of price books.
const BOOKS: &str = "price-book";
/// How the ids of these books begin.
const OWN: &str = "own-";

/// The text of the file with this price of a part, and no older one of it, in the books that the
/// form keeps.
///
/// # Errors
/// Where the file is no TOML, or its price books stand in a form that only a text editor can
/// change, and one of them would have to be.
pub(super) fn changed(
    file: &Overlay,
    part: &Id,
    price: Option<&OwnPrice>,
    today: Date,
) -> Result<String, FileError> {
    let mut document = document(file)?;
    if price.is_some_and(|price| stands(&document, part, price)) {
        return Ok(file.text.clone());
    }
    forget(&mut document, part, &file.name)?;
    if let Some(price) = price {
        add(&mut document, part, price, (today, &file.name))?;
    }
    Ok(document.to_string())
}

/// The price of a part in the books that the form keeps.
pub fn price_of(catalogue: &Catalogue, part: &Id) -> Option<OwnPrice> {
    let (book, offer) = catalogue.offer_of(part)?;
    let own = book.id.as_str().starts_with(OWN);
    own.then(|| OwnPrice {
        money: Money::new(offer.likely, book.currency),
        supplier: offer.supplier,
        pack: offer.pack,
    })
}

/// The books that the form keeps, in whatever form they stand there by now.
fn books(document: &DocumentMut) -> impl Iterator<Item = &dyn TableLike> {
    let books = document.get(BOOKS);
    let tables = books.and_then(Item::as_array_of_tables).into_iter();
    let tables = tables.flat_map(ArrayOfTables::iter);
    let inline = books.and_then(Item::as_array).into_iter();
    let inline = inline.flat_map(Array::iter);
    let inline = inline.filter_map(Value::as_inline_table);
    tables
        .map(|book| book as &dyn TableLike)
        .chain(inline.map(|book| book as &dyn TableLike))
        .filter(|book| is_own(*book))
}

fn is_own(book: &dyn TableLike) -> bool {
    let id = book.get("id").and_then(Item::as_str);
    id.is_some_and(|id| id.starts_with(OWN))
}

/// Whether the price is written down already: its day then stays.
fn stands(document: &DocumentMut, part: &Id, price: &OwnPrice) -> bool {
    let written = |book: &dyn TableLike| {
        let offer = book.get("prices")?.get(part.as_str())?;
        let text = |item: Option<&Item>| item.and_then(Item::as_str).map(str::to_owned);
        let likely = text(offer.get("likely")) == Some(price.money.amount.to_string());
        let code = text(book.get("currency")).as_deref() == Some(price.money.currency.code());
        let seller =
            text(offer.get("supplier")).as_deref() == price.supplier.as_ref().map(Id::as_str);
        let pack = text(offer.get("pack")) == price.pack.map(|pack| pack.to_string());
        Some(likely && code && seller && pack)
    };
    books(document).any(|book| written(book) == Some(true))
}

/// Takes what the form wrote down about a part out of its books; a book that is empty goes.
///
/// # Errors
/// Where they stand in a form that only a text editor can change.
fn forget(document: &mut DocumentMut, part: &Id, name: &str) -> Result<(), FileError> {
    let holds = |book: &dyn TableLike| {
        let prices = book.get("prices").and_then(Item::as_table_like);
        prices.is_some_and(|prices| prices.contains_key(part.as_str()))
    };
    if !books(document).any(holds) {
        return Ok(());
    }
    let books = tables_of(document, BOOKS, name)?;
    let mut empty = Vec::new();
    for (place, book) in books.iter_mut().enumerate() {
        if !is_own(book) {
            continue;
        }
        let prices = book.get_mut("prices").and_then(Item::as_table_like_mut);
        let Some(prices) = prices else { continue };
        if prices.remove(part.as_str()).is_some() && prices.is_empty() {
            empty.push(place);
        }
    }
    for place in empty.into_iter().rev() {
        take_out(document, BOOKS, place);
    }
    Ok(())
}

/// Writes a price down in the book of the day, in a file of this name.
///
/// # Errors
/// As [`forget`].
fn add(
    document: &mut DocumentMut,
    part: &Id,
    price: &OwnPrice,
    (today, name): (Date, &str),
) -> Result<(), FileError> {
    let basis = match price.supplier {
        Some(_) => Basis::Quote,
        None => Basis::Estimate,
    };
    let code = price.money.currency.code();
    let id = format!("{OWN}{}-{}-{today}", basis.id(), code.to_lowercase());
    let apart = !document.is_empty();
    let books = tables_of(document, BOOKS, name)?;
    let known = |book: &Table| book.get("id").and_then(Item::as_str) == Some(id.as_str());
    if !books.iter().any(known) {
        let mut book = Table::new();
        let title = format!("own prices in {code}, {}, {today}", basis.title());
        let words = [("id", &id), ("title", &title)];
        for (key, text) in words {
            book.insert(key, Item::Value(text.as_str().into()));
        }
        book.insert("basis", Item::Value(basis.id().into()));
        book.insert("currency", Item::Value(code.into()));
        book.insert("date", Item::Value(today.to_string().into()));
        let all: Array = OnTop::ALL.iter().map(|what| what.id()).collect();
        book.insert("includes", Item::Value(Value::Array(all)));
        book.insert("prices", Item::Table(Table::new()));
        books.push(set_apart(book, apart));
    }
    let book = books.iter_mut().find(|book| known(book));
    let prices = book.and_then(|book| book.get_mut("prices")?.as_table_like_mut());
    let prices = prices.ok_or_else(|| by_hand_alone("prices", name))?;
    let mut offer = InlineTable::new();
    let amount = price.money.amount.to_string();
    for key in ["low", "likely", "high"] {
        offer.insert(key, amount.as_str().into());
    }
    if let Some(supplier) = &price.supplier {
        offer.insert("supplier", supplier.as_str().into());
    }
    if let Some(pack) = &price.pack {
        offer.insert("pack", pack.to_string().into());
    }
    prices.insert(part.as_str(), Item::Value(Value::InlineTable(offer)));
    Ok(())
}
