//! The section `[recorded]` of a build file: what the build's figures rested on when it was saved.
//!
//! The program writes it and nothing is computed from it, so an old or a hand-edited record is
//! never a reason not to open a build: what cannot be read in it is passed over, and what the
//! program does not know there stays when it is written again.

use std::str::FromStr;

use indexmap::IndexMap;
use jiff::civil::Date;
use toml_edit::{DocumentMut, Item, Table, TableLike};

use super::RECORDED;
use super::write::{section_of, set, text_of, with_same_ends, write};
use crate::assessment::{Assessment, moved};
use crate::build::Build;
use crate::build::mark::mark;
use crate::build::recorded::Recorded;
use crate::catalogue::{Catalogue, Id};
use crate::money::{Currency, Money, parse_amount};

/// The keys of the section in their order, its tables last.
const KEYS: [&str; 7] = [
    "on",
    "program",
    "catalogue",
    "build",
    "books",
    "figures",
    "prices",
];

/// The longest figure, in characters: a longer text is none of the program's.
const LONGEST: usize = 40;

const ABOUT: &str =
    "\n# Written when the file was saved, to tell what moved since; nothing is computed from it.\n";

/// The record of a build as it is assessed now.
pub fn of(catalogue: &Catalogue, build: &Build, assessment: &Assessment, today: Date) -> Recorded {
    let build = mark([write(None, build).as_str()]);
    moved::record(catalogue, build, assessment, today)
}

/// What moved since the record in a build file's text; none where it holds none.
pub fn moved_since(
    text: &str,
    catalogue: &Catalogue,
    build: &Build,
    assessment: &Assessment,
    today: Date,
) -> Option<moved::Moved> {
    let then = read(text)?;
    let now = of(catalogue, build, assessment, today);
    Some(moved::moved(catalogue, &then, &now, assessment))
}

/// The record in a build file's text, as far as it can be read; none where it has no day.
pub fn read(text: &str) -> Option<Recorded> {
    // Most files have none, and to parse one for that takes as long as to read the build in it.
    if !text.contains(RECORDED) {
        return None;
    }
    let document: DocumentMut = text.parse().ok()?;
    let section = document.get(RECORDED)?.as_table_like()?;
    let text = |key: &str| section.get(key)?.as_str();
    let named = |key: &str| text(key).unwrap_or_default().to_owned();
    Some(Recorded {
        on: text("on")?.parse().ok()?,
        program: named("program"),
        catalogue: named("catalogue"),
        build: named("build"),
        books: entries(section, "books", id, |text| text.parse().ok()),
        figures: entries(
            section,
            "figures",
            |path| Some(path.to_owned()),
            |text| (text.chars().count() <= LONGEST).then(|| text.to_owned()),
        ),
        prices: entries(section, "prices", id, money),
    })
}

/// The entries of a table whose key and value can be read.
fn entries<K: std::hash::Hash + Eq, V>(
    section: &dyn TableLike,
    name: &str,
    key: impl Fn(&str) -> Option<K>,
    value: impl Fn(&str) -> Option<V>,
) -> IndexMap<K, V> {
    let table = section.get(name).and_then(Item::as_table_like);
    let each = table.into_iter().flat_map(|table| table.iter());
    let each = each.filter_map(|(name, item)| Some((key(name)?, value(item.as_str()?)?)));
    each.collect()
}

fn id(text: &str) -> Option<Id> {
    Id::new(text).ok()
}

fn money(text: &str) -> Option<Money> {
    let (amount, currency) = text.split_once(' ')?;
    let currency = Currency::from_str(currency).ok()?;
    Some(Money::new(parse_amount(amount).ok()?, currency))
}

/// The text of a build file with another record in it; everything else stays as it is.
pub fn put(text: &str, record: &Recorded) -> String {
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return text.to_owned();
    };
    let root = document.as_table_mut();
    if root.get(RECORDED).is_none_or(|item| !item.is_table()) {
        root.remove(RECORDED);
        if let Some(fresh) = section_of(root, RECORDED).as_table_mut() {
            fresh.decor_mut().set_prefix(ABOUT);
        }
    }
    let Some(section) = root.get_mut(RECORDED).and_then(Item::as_table_mut) else {
        return text.to_owned();
    };
    let words = [
        ("on", record.on.to_string()),
        ("program", record.program.clone()),
        ("catalogue", record.catalogue.clone()),
        ("build", record.build.clone()),
    ];
    for (key, word) in &words {
        set(section, key, text_of(word), &KEYS);
    }
    let books = record.books.iter();
    let books = books.map(|(id, day)| (id.to_string(), day.to_string()));
    put_table(section, "books", books.collect());
    let figures = record.figures.iter();
    let figures = figures.map(|(path, value)| (path.clone(), value.clone()));
    put_table(section, "figures", figures.collect());
    let prices = record.prices.iter().map(|(id, money)| {
        let price = format!("{} {}", money.amount, money.currency);
        (id.to_string(), price)
    });
    put_table(section, "prices", prices.collect());
    with_same_ends(text, document.to_string())
}

/// Brings a table of texts up to date: entries that stay keep their place and their remarks.
fn put_table(section: &mut Table, name: &str, entries: Vec<(String, String)>) {
    if section.get(name).is_none_or(|item| !item.is_table()) {
        let mut fresh = Table::new();
        fresh.decor_mut().set_prefix("\n");
        section.insert(name, Item::Table(fresh));
    }
    let Some(table) = section.get_mut(name).and_then(Item::as_table_mut) else {
        return;
    };
    let old: Vec<String> = table.iter().map(|(key, _)| key.to_owned()).collect();
    let stays = |key: &String| entries.iter().any(|(new, _)| new == key);
    for key in old.iter().filter(|key| !stays(key)) {
        table.remove(key);
    }
    let order: Vec<&str> = entries.iter().map(|(key, _)| key.as_str()).collect();
    for (key, value) in &entries {
        if table.get(key).and_then(Item::as_str) != Some(value) {
            set(table, key, text_of(value), &order);
        }
    }
}

#[cfg(test)]
mod tests;
