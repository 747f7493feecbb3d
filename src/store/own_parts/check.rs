//! Whether a part makes sense: told by the reader of files, and by the checks of the catalogue
//! that it would stand in. Several fields may be wrong; each gets what the reader says of it.

use toml_edit::{ArrayOfTables, DocumentMut, Item, Table};

use crate::catalogue::check::{self, Record};
use crate::catalogue::{Catalogue, CatalogueFile, PartKind};
use crate::store::FileError;
use crate::store::plain_words::toml_error;

/// What is wrong with a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The key of the field that it is about; none where it is about the part.
    pub key: Option<String>,
    /// What is wrong, and what would be right: as for a file.
    pub message: String,
}

/// Everything that is wrong with a part, which began as another that makes sense.
pub fn faults(catalogue: &Catalogue, kind: PartKind, part: &Table, began: &Table) -> Vec<Fault> {
    let mut found: Vec<Fault> = Vec::new();
    let mut tried = part.clone();
    // The reader stops at the first fault: what was wrong is put back, and it is asked again.
    let file = loop {
        let text = text_of(kind, &tried);
        let error = match CatalogueFile::read(&text) {
            Ok(file) => break file,
            Err(error) => toml_error(super::FILE, &text, error),
        };
        let key = key_of(&error, &text);
        let seen = found.iter().any(|fault| fault.key == key);
        if !seen {
            found.push(Fault {
                key: key.clone(),
                message: error.message,
            });
        }
        let Some(key) = key.filter(|_| !seen) else {
            return found;
        };
        match began.get(&key) {
            Some(item) => tried.insert(&key, item.clone()),
            None => tried.remove(&key),
        };
    };
    if !found.is_empty() {
        return found;
    }
    let id = part.get("id").and_then(Item::as_str).unwrap_or_default();
    let mut with = catalogue.clone();
    with.absorb(file);
    let flaws = check::flaws(&with).into_iter();
    found.extend(flaws.map(|flaw| match &flaw.record {
        Record::Part(of) if of.as_str() == id => Fault {
            key: named(&flaw.message, part),
            message: flaw.message,
        },
        _ => Fault {
            key: None,
            message: format!("{}: {}", flaw.record, flaw.message),
        },
    }));
    found
}

/// The keys of a part that makes sense which it cannot do without.
pub fn needed(kind: PartKind, part: &Table) -> Vec<String> {
    let without = |key: &str| {
        let mut tried = part.clone();
        tried.remove(key);
        let read = CatalogueFile::read(&text_of(kind, &tried));
        read.is_err_and(|error| error.message().contains("missing field"))
    };
    let keys = part.iter().map(|(key, _)| key.to_owned());
    keys.filter(|key| without(key)).collect()
}

/// The part as a file of its own.
fn text_of(kind: PartKind, part: &Table) -> String {
    let mut tables = ArrayOfTables::new();
    let mut part = part.clone();
    part.decor_mut().clear();
    part.set_position(None);
    tables.push(part);
    let mut document = DocumentMut::new();
    document.insert(kind.key(), Item::ArrayOfTables(tables));
    document.to_string()
}

/// The key of the field that a message of the reader is about: the one on its line, or the one
/// that is missing.
fn key_of(error: &FileError, text: &str) -> Option<String> {
    let line = error.place.and_then(|(line, _)| text.lines().nth(line - 1));
    let key = line.and_then(|line| line.split_once('='));
    if let Some((key, _)) = key {
        return Some(key.trim().to_owned());
    }
    let missing = error.message.strip_prefix("the key \"")?;
    let (key, _) = missing.split_once('"')?;
    Some(key.to_owned())
}

/// The field that a message names first, among those of the part; else the first that it names.
fn named(message: &str, part: &Table) -> Option<String> {
    let mut words = message.split(|c: char| !(c.is_ascii_alphanumeric() || c == '_'));
    let key = words.find(|word| part.contains_key(word))?;
    Some(key.to_owned())
}
