//! Which keys a part in a file lacks. The reader stops at the first one; whoever writes a part is
//! told all of them, so that the program need not be run again for each.

use std::ops::Range;

use toml::de::{DeTable, DeValue};

use super::file_error::LONGEST;
use super::{own_parts, plain_words};
use crate::catalogue::reader::ReadError;
use crate::catalogue::{Catalogue, PartKind};

/// What is said of a part of a text that cannot be read because it lacks keys: all that it lacks,
/// and which command tells what each takes. None where the error is about something else, or where
/// the catalogue has no part of the kind, from which one learns which keys it needs.
pub(super) fn told(catalogue: &Catalogue, text: &str, error: &ReadError) -> Option<String> {
    let first = plain_words::missing_key(error.message())?;
    let file = DeTable::parse(text).ok()?;
    let (kind, part) = part_at(file.get_ref(), &error.place()?)?;
    let keys = lacked(catalogue, kind, part)?;
    if !keys.contains(&first) {
        return None;
    }
    let more = match kind.has_form() {
        true => format!(
            "; `gantrywright parts {} --fields` tells what each key takes",
            kind.key()
        ),
        false => String::new(),
    };
    let with_labels = keys.iter().map(|key| labelled(catalogue, kind, key));
    let labelled = sentence(with_labels.collect(), &more);
    Some(match labelled.chars().count() > LONGEST {
        // All keys are more worth than the names of some.
        true => sentence(keys.iter().map(|key| format!("{key:?}")).collect(), &more),
        false => labelled,
    })
}

/// The part that stands at a place, with its kind.
fn part_at<'t, 'i>(
    file: &'t DeTable<'i>,
    place: &Range<usize>,
) -> Option<(PartKind, &'t DeTable<'i>)> {
    PartKind::ALL.iter().find_map(|&kind| {
        let DeValue::Array(parts) = file.get(kind.key())?.get_ref() else {
            return None;
        };
        match parts.iter().find(|part| part.span() == *place)?.get_ref() {
            DeValue::Table(part) => Some((kind, part)),
            _ => None,
        }
    })
}

/// The keys without which no part of the kind can be read and which this one has not, in the order
/// in which the type declares them; none where no other part tells.
fn lacked(catalogue: &Catalogue, kind: PartKind, part: &DeTable) -> Option<Vec<&'static str>> {
    let whole = *catalogue.of_kind(kind).first()?;
    let whole = own_parts::entry(catalogue, kind, whole.id())?;
    let needed = own_parts::needed(kind, &whole);
    let keys = kind.fields().into_iter().map(|field| field.key);
    let is_lacked = |key: &&str| needed.iter().any(|one| one == key) && !part.contains_key(*key);
    Some(keys.filter(is_lacked).collect())
}

/// A key with its name in the form, where it has one.
fn labelled(catalogue: &Catalogue, kind: PartKind, key: &str) -> String {
    match catalogue.field_text(kind, key) {
        Some(text) => format!("{key:?} ({})", text.label),
        None => format!("{key:?}"),
    }
}

fn sentence(keys: Vec<String>, more: &str) -> String {
    match keys.as_slice() {
        [one] => format!("the key {one} is missing{more}"),
        all => format!("the keys {} are missing{more}", all.join(", ")),
    }
}
