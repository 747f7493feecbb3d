//! A part as text: found in the file that it stands in, and put there with what stands around it
//! left alone.

use toml_edit::{DocumentMut, Item, Table};

use crate::catalogue::{Catalogue, Id, PartKind};
use crate::store::{FileError, embedded};

/// A part as its file has it: the own file where it has one, else the one that is built in.
pub fn entry(catalogue: &Catalogue, kind: PartKind, id: &Id) -> Option<Table> {
    if let Some(file) = catalogue.own.get(id) {
        return entry_of(&file.text, kind, id);
    }
    let files = embedded::catalogue().iter();
    // Most files are told apart without being parsed.
    let mut near = files.filter(|file| file.text().contains(id.as_str()));
    near.find_map(|file| entry_of(file.text(), kind, id))
}

/// A part in a text; none where the text has none of its id.
pub fn entry_of(text: &str, kind: PartKind, id: &Id) -> Option<Table> {
    if !text.contains(id.as_str()) {
        return None;
    }
    let document: DocumentMut = text.parse().ok()?;
    let item = document.get(kind.key())?;
    let is_it = |table: &&Table| table.get("id").and_then(Item::as_str) == Some(id.as_str());
    if let Some(tables) = item.as_array_of_tables() {
        return tables.iter().find(is_it).cloned();
    }
    let inline = item
        .as_array()?
        .iter()
        .filter_map(|value| value.as_inline_table());
    let mut tables = inline.map(|table| table.clone().into_table());
    tables.find(|table| is_it(&table))
}

/// Keys and values as a table of their own.
pub(super) fn table(text: &str, name: &str) -> Result<Table, FileError> {
    let document: Result<DocumentMut, _> = text.parse();
    let document = document.map_err(|error| FileError::new(name, error.message()))?;
    let mut table = Table::new();
    for (key, item) in document.as_table().iter() {
        table.insert(key, Item::Value(bare(item)?));
    }
    Ok(table)
}

/// A value without what stood around it in its file.
fn bare(item: &Item) -> Result<toml_edit::Value, FileError> {
    let value = item.clone().into_value();
    let mut value = value.map_err(|_| FileError::new(super::FILE, "a part has no tables"))?;
    value.decor_mut().clear();
    Ok(value)
}

/// Puts the values of a table into an older one: what is the same stays as it is written, and
/// remarks behind values stay.
pub(super) fn put_into(old: &mut Table, new: Table) {
    let gone: Vec<String> = old
        .iter()
        .map(|(key, _)| key.to_owned())
        .filter(|key| !new.contains_key(key))
        .collect();
    for key in gone {
        old.remove(&key);
    }
    for (key, item) in new {
        let Item::Value(mut value) = item else {
            continue;
        };
        let key = key.as_str();
        match old.get_mut(key) {
            Some(Item::Value(before)) => {
                let same = before.to_string().trim() == value.to_string().trim();
                if !same {
                    *value.decor_mut() = before.decor().clone();
                    *before = value;
                }
            }
            _ => {
                old.insert(key, Item::Value(value));
            }
        }
    }
}
