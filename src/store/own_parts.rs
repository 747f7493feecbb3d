//! Parts of one's own: written in a form, kept in a file of the user's folder. What is kept is
//! exactly what somebody would write by hand, and it is checked by the same reader, so that form
//! and file can never want different things.
//!
//! A change is tried before anything is written: the catalogue is loaded with the changed text in
//! place, and only where that makes sense does the text take the place of the old one.

use std::path::{Path, PathBuf};

use jiff::civil::Date;
use rust_decimal::Decimal;
use toml_edit::{ArrayOfTables, DocumentMut, Item, RawString, Table};

use super::FileError;
use super::library::{self, Overlay};
use super::text;
use crate::catalogue::{Catalogue, Id, PartKind};
use crate::money::Money;

mod check;
mod prices;
mod spell;

pub use check::{Fault, faults, needed};
pub use prices::price_of;
pub use spell::{entry, entry_of};

/// The file that new parts go to.
pub const FILE: &str = "own-parts.toml";

/// What stands above the first of them.
const ABOUT: &str = "# Parts of your own and what they cost. The form on the screen of gantrywright changes them\n# too; what you write here stays.\n\n";

/// What one costs, all told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OwnPrice {
    /// The price of one, with freight, duty and tax.
    pub money: Money,
    /// Who asks it; none where nobody does.
    pub supplier: Option<Id>,
    /// How much of it comes in one piece, where it is sold so.
    pub pack: Option<Decimal>,
}

/// A change of one's own parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The kind of the part.
    pub kind: PartKind,
    /// Its id.
    pub id: Id,
    /// What becomes of it.
    pub what: What,
}

/// What becomes of a part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum What {
    /// It is added, or takes the place of the one of its id.
    Put {
        /// Its keys and values, as a file has them.
        text: String,
        /// What it costs, where that is known.
        price: Option<OwnPrice>,
    },
    /// It is taken out.
    Remove,
}

/// What came of a change.
#[derive(Debug)]
pub struct Made {
    /// The catalogue with the change in it.
    pub catalogue: Catalogue,
    /// The file that was written.
    pub file: PathBuf,
}

/// Makes a change in the user's folder, beside which other folders were named, and loads the
/// catalogue anew.
///
/// # Errors
/// Where the catalogue would make no sense with it, or a file cannot be read or written; nothing
/// is changed then.
pub fn make(
    change: &Change,
    folder: &Path,
    named: &[PathBuf],
    today: Date,
) -> Result<Made, FileError> {
    let mut layers = match folder.is_dir() {
        true => library::layers(&[folder.to_owned()])?,
        false => vec![Vec::new()],
    };
    let mut own = layers.pop().unwrap_or_default();
    let at_home = file_in(&mut own, folder, FILE);
    let holds = |file: &Overlay| entry_of(&file.text, change.kind, &change.id).is_some();
    let at = own.iter().position(holds).unwrap_or(at_home);
    let before: Vec<String> = own.iter().map(|file| file.text.clone()).collect();
    own[at].text = changed(&own[at], change)?;
    let price = match &change.what {
        What::Put { price, .. } => price.as_ref(),
        What::Remove => None,
    };
    own[at_home].text = prices::changed(&own[at_home], &change.id, price, today)?;
    let written: Vec<Written> = own
        .iter()
        .zip(before)
        .filter(|(file, before)| file.text != *before)
        .map(|(file, before)| Written {
            path: folder.join(&file.inside),
            text: file.text.clone(),
            before,
        })
        .collect();
    let file = folder.join(&own[at].inside);
    let mut all = vec![own];
    all.extend(library::layers(named)?);
    let catalogue = library::over_built_in(all)?;
    std::fs::create_dir_all(folder)
        .map_err(|error| FileError::new(text::name_of(folder), text::reason(&error)))?;
    save_all(&written)?;
    Ok(Made { catalogue, file })
}

/// A file that is changed.
struct Written {
    path: PathBuf,
    text: String,
    /// What it holds; nothing where it is not there yet.
    before: String,
}

/// Saves all files, or none: where one cannot be saved, those before it get their text back.
fn save_all(all: &[Written]) -> Result<(), FileError> {
    for (place, one) in all.iter().enumerate() {
        let Err(error) = super::save(&one.path, &one.text) else {
            continue;
        };
        for done in &all[..place] {
            // Made by us a moment ago or not, an empty file says as little as none.
            let _ = super::save(&done.path, &done.before);
        }
        return Err(error);
    }
    Ok(())
}

/// The place of a file among those of a folder, where it is added if it is missing.
fn file_in(files: &mut Vec<Overlay>, folder: &Path, name: &str) -> usize {
    if let Some(at) = files.iter().position(|file| file.inside == name) {
        return at;
    }
    files.push(Overlay {
        name: text::name_of(&folder.join(name)),
        inside: name.to_owned(),
        text: String::new(),
    });
    files.len() - 1
}

/// The text of a file as something that can be changed.
fn document(file: &Overlay) -> Result<DocumentMut, FileError> {
    let parsed = file.text.parse();
    parsed.map_err(|_| FileError::new(&file.name, "this is no TOML that can be changed"))
}

/// The text of a file with the change in it; everything else in it stays as it is.
fn changed(file: &Overlay, change: &Change) -> Result<String, FileError> {
    let mut document = document(file)?;
    let key = change.kind.key();
    let tables = tables_of(&mut document, key, &file.name)?;
    let id = change.id.as_str();
    let place = place_of(tables, id);
    match (&change.what, place) {
        (What::Put { text, .. }, place) => {
            let new = spell::table(text, &file.name)?;
            match place.and_then(|place| tables.get_mut(place)) {
                Some(old) => spell::put_into(old, new),
                None => tables.push(set_apart(new, !file.text.is_empty())),
            }
        }
        (What::Remove, Some(place)) => take_out(&mut document, key, place),
        (What::Remove, None) => {
            let message = format!("there is no {key} {id:?} here");
            return Err(FileError::new(&file.name, message));
        }
    }
    let text = document.to_string();
    Ok(match file.text.is_empty() {
        true => format!("{ABOUT}{text}"),
        false => text,
    })
}

/// The tables of a key of a file of this name; none yet where it lacks the key.
///
/// # Errors
/// Where the key stands there in another form, such as `key = [{ … }]`.
fn tables_of<'d>(
    document: &'d mut DocumentMut,
    key: &str,
    name: &str,
) -> Result<&'d mut ArrayOfTables, FileError> {
    let tables = document
        .entry(key)
        .or_insert_with(|| Item::ArrayOfTables(ArrayOfTables::new()));
    tables
        .as_array_of_tables_mut()
        .ok_or_else(|| by_hand_alone(key, name))
}

/// That the program leaves something alone that stands otherwise than it writes it.
fn by_hand_alone(key: &str, name: &str) -> FileError {
    let message = format!("{key} stands here in a form that only a text editor can change");
    FileError::new(name, message)
}

/// A table with a blank line above it, where something stands above it.
fn set_apart(mut table: Table, apart: bool) -> Table {
    if apart {
        table.decor_mut().set_prefix("\n");
    }
    table
}

/// The place of the entry of an id in an array of tables.
fn place_of(tables: &ArrayOfTables, id: &str) -> Option<usize> {
    let mut ids = tables
        .iter()
        .map(|table| table.get("id").and_then(Item::as_str));
    ids.position(|one| one == Some(id))
}

/// Takes a table out of an array, and the array with its last one. What is written above it with
/// a blank line between is not about it, and stays.
fn take_out(document: &mut DocumentMut, key: &str, place: usize) {
    let Some(tables) = document.get_mut(key).and_then(Item::as_array_of_tables_mut) else {
        return;
    };
    let Some(gone) = tables.get(place).cloned() else {
        return;
    };
    tables.remove(place);
    if tables.is_empty() {
        document.remove(key);
    }
    let above = gone.decor().prefix().and_then(RawString::as_str);
    let kept = above.and_then(|above| above.rsplit_once("\n\n"));
    let Some(kept) = kept.map(|(kept, _)| format!("{kept}\n\n")) else {
        return;
    };
    if kept.trim().is_empty() {
        return;
    }
    match behind(document, gone.position()) {
        Some(next) => {
            let own = next.decor().prefix().and_then(RawString::as_str);
            let own = own.unwrap_or_default().trim_start_matches('\n').to_owned();
            next.decor_mut().set_prefix(format!("{kept}{own}"));
        }
        None => {
            let own = document.trailing().as_str().unwrap_or_default();
            let own = own.trim_start_matches('\n').to_owned();
            document.set_trailing(format!("{kept}{own}"));
        }
    }
}

/// The table that stands next behind a place in the file.
fn behind(document: &mut DocumentMut, place: Option<isize>) -> Option<&mut Table> {
    let mut all: Vec<&mut Table> = Vec::new();
    for (_, item) in document.iter_mut() {
        match item {
            Item::Table(table) => all.push(table),
            Item::ArrayOfTables(tables) => all.extend(tables.iter_mut()),
            _ => {}
        }
    }
    all.retain(|table| table.position() > place);
    all.into_iter().min_by_key(|table| table.position())
}

#[cfg(test)]
mod tests;
