//! From a build to the text of its file. A text that was there before keeps its comments,
//! its order and its spacing: only what changed is touched.

use toml_edit::{
    Array, DocumentMut, Formatted, InlineTable, Item, Table, TableLike, Value as Toml,
};

use super::{BEHIND, FORMAT, TOP, books, list, older, read, variants};
use crate::build::choices::{self, section};
use crate::build::value::NONE;
use crate::build::{Build, Edit, Value, edit};
use crate::catalogue::{Id, Step};
use crate::words::Words as _;

/// The text of a build's file: the original with what changed since, or where there is none
/// (or one that cannot be read), a complete new document that names every choice.
pub fn write(original: Option<&str>, build: &Build) -> String {
    original
        .and_then(|text| updated(text, build))
        .unwrap_or_else(|| complete(build))
}

fn updated(text: &str, build: &Build) -> Option<String> {
    let newest = older::lifted(text).ok()?;
    let text = newest.as_ref();
    let old = read::loose(text)?;
    let mut document: DocumentMut = text.parse().ok()?;
    let root = document.as_table_mut();
    if old.title != build.title {
        set_top(root, "title", &build.title);
    }
    if old.note != build.note {
        set_top(root, "note", &build.note);
    }
    for edit in edit::difference(&old.main(), &build.main()) {
        set_choice(root, &edit);
    }
    variants::write(root, &old, build);
    books::set_books(root, &old, build);
    Some(with_same_ends(text, document.to_string()))
}

/// A new document with every choice.
fn complete(build: &Build) -> String {
    let mut document = DocumentMut::new();
    let root = document.as_table_mut();
    root.insert("format", Item::Value(i64::from(FORMAT).into()));
    root.insert("title", Item::Value(text_of(&build.title)));
    root.insert("note", Item::Value(text_of(&build.note)));
    if let Some(mut key) = root.key_mut("format") {
        let about = "# A build for gantrywright. Units are in the names of the keys;\n# `gantrywright choices` explains each.\n";
        key.leaf_decor_mut().set_prefix(about);
    }
    let main = build.main();
    for step in Step::ALL {
        let mut table = Table::new();
        table
            .decor_mut()
            .set_prefix(format!("\n# {}\n", step.word().plain));
        for choice in choices::of_step(*step) {
            table.insert(choice.id, Item::Value(toml(&(choice.get)(&main))));
        }
        root.insert(section(*step), Item::Table(table));
    }
    variants::write(root, &Build::default(), build);
    books::set_books(root, &Build::default(), build);
    document.to_string()
}

pub(super) fn set_top(root: &mut Table, key: &str, text: &str) {
    set(root, key, text_of(text), &top_order());
}

fn set_choice(root: &mut Table, edit: &Edit) {
    let step = edit.choice.step;
    let order: Vec<&str> = choices::of_step(step).map(|choice| choice.id).collect();
    set_value(section_of(root, section(step)), edit, &order);
}

/// Puts the value of a choice into a section.
pub(super) fn set_value(place: &mut Item, edit: &Edit, order: &[&str]) {
    if let Value::Parts(ids) = &edit.value
        && let Some(array) = item_of(place, edit.choice.id).and_then(Item::as_array_mut)
    {
        let ids: Vec<&str> = ids.iter().map(Id::as_str).collect();
        list::update(array, &ids);
        return;
    }
    set_in(place, edit.choice.id, toml(&edit.value), order);
}

/// The keys of the top level in their order.
fn top_order() -> Vec<&'static str> {
    let sections = Step::ALL.iter().map(|step| section(*step));
    TOP.into_iter().chain(sections).chain(BEHIND).collect()
}

/// The section of a name, made in its place where there is none.
pub(super) fn section_of<'t>(root: &'t mut Table, name: &str) -> &'t mut Item {
    if !root.contains_key(name) {
        let mut table = Table::new();
        table.decor_mut().set_prefix("\n");
        root.insert(name, Item::Table(table));
        let order = moved(root, name, &top_order());
        root.sort_values_by(|a, _, b, _| rank(&order, a).cmp(&rank(&order, b)));
    }
    &mut root[name]
}

fn item_of<'t>(section: &'t mut Item, key: &str) -> Option<&'t mut Item> {
    section.as_table_like_mut()?.get_mut(key)
}

fn set_in(section: &mut Item, key: &str, value: Toml, order: &[&str]) {
    match section {
        Item::Table(table) => set(table, key, value, order),
        Item::Value(Toml::InlineTable(table)) => set_inline(table, key, value, order),
        // Reading refuses every other shape.
        _ => {}
    }
}

pub(super) fn set(table: &mut Table, key: &str, value: Toml, order: &[&str]) {
    if !replaced(table, key, &value) {
        table.insert(key, Item::Value(value));
        let order = moved(table, key, order);
        table.sort_values_by(|a, _, b, _| rank(&order, a).cmp(&rank(&order, b)));
    }
}

fn set_inline(table: &mut InlineTable, key: &str, value: Toml, order: &[&str]) {
    if !replaced(table, key, &value) {
        table.insert(key, value);
        let order = moved(table, key, order);
        table.sort_values_by(|a, _, b, _| rank(&order, a).cmp(&rank(&order, b)));
        table.fmt();
    }
}

/// A text of TOML with another value for a key of its top level; everything else stays.
pub(in crate::store) fn with_value(text: &str, key: &str, value: Toml) -> String {
    let Ok(mut document) = text.parse::<DocumentMut>() else {
        return text.to_owned();
    };
    set(document.as_table_mut(), key, value, &[key]);
    with_same_ends(text, document.to_string())
}

/// Puts a value in place of the old one, whose spacing and trailing comment stay.
fn replaced(table: &mut dyn TableLike, key: &str, value: &Toml) -> bool {
    let Some(old) = table.get_mut(key).and_then(Item::as_value_mut) else {
        return false;
    };
    let decor = old.decor().clone();
    *old = value.clone();
    *old.decor_mut() = decor;
    true
}

/// The keys of a table as they stand, with the new last one moved behind the nearest key
/// that precedes it in the table of choices.
fn moved(table: &dyn TableLike, key: &str, order: &[&str]) -> Vec<String> {
    let mut keys: Vec<String> = table
        .iter()
        .map(|(name, _)| name.to_owned())
        .filter(|name| name != key)
        .collect();
    let own = order
        .iter()
        .position(|name| *name == key)
        .unwrap_or(order.len());
    let place = order[..own]
        .iter()
        .rev()
        .find_map(|name| keys.iter().position(|there| there == name));
    keys.insert(place.map_or(0, |place| place + 1), key.to_owned());
    keys
}

fn rank(order: &[String], key: &str) -> usize {
    order
        .iter()
        .position(|name| name == key)
        .unwrap_or(order.len())
}

/// A value as TOML writes it.
fn toml(value: &Value) -> Toml {
    match value {
        Value::Part(Some(id)) => id.as_str().into(),
        Value::Parts(ids) => Toml::Array(ids.iter().map(Id::as_str).collect::<Array>()),
        Value::Word(id) => (*id).into(),
        Value::Number(Some(number)) => number_of(*number),
        Value::Flag(yes) => (*yes).into(),
        Value::Amount(Some(_)) => value.to_string().into(),
        Value::Part(None) | Value::Number(None) | Value::Amount(None) => NONE.into(),
    }
}

/// A text of the user's. Line breaks are spelled out: in a file with other line ends they
/// would not come back as they were.
pub(super) fn text_of(text: &str) -> Toml {
    if !text.contains(['\n', '\r']) {
        return text.into();
    }
    // The escapes of JSON strings are among those of TOML; only DEL wants one besides.
    let quoted = serde_json::Value::from(text)
        .to_string()
        .replace('\u{7f}', "\\u007f");
    quoted.parse().unwrap_or_else(|_| text.into())
}

/// Whole numbers are written as people write them, without a point.
pub(super) fn number_of(number: f64) -> Toml {
    const EXACT: f64 = 1e15;
    if number.fract() == 0.0 && number.abs() < EXACT {
        Toml::Integer(Formatted::new(number as i64))
    } else {
        number.into()
    }
}

/// Line ends as the original has them, and its byte-order mark.
pub(super) fn with_same_ends(original: &str, text: String) -> String {
    const MARK: char = '\u{feff}';
    let mut text = text;
    if original.contains("\r\n") {
        text = text.replace("\r\n", "\n").replace('\n', "\r\n");
    }
    if original.starts_with(MARK) && !text.starts_with(MARK) {
        text.insert(0, MARK);
    }
    text
}

#[cfg(test)]
mod tests;
