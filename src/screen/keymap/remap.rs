//! Keys of one's own: the usual table with the lines of the settings put over it. A line that
//! names nothing, or whose key means something else there already, is told with its place in the
//! file, and the usual key stays: no key ever means two things in one place, and no place loses
//! its way back, its help or its end.

use std::borrow::Cow;

use super::{ALL, Binding, Keymap, Place, TABLE, TEXT};
use crate::build::nearest;
use crate::order::Order as _;
use crate::screen::action::Action;
use crate::screen::key::Key;
use crate::store::FileError;
use crate::store::settings::{KeyLine, Named};
use crate::words::Words as _;

/// Keys that do the same in any program of a terminal: they stay, whatever else is asked.
const FIXED: [Key; 2] = [Key::Ctrl('c'), Key::Ctrl('z')];

/// A line and a column of the settings.
type At = (usize, usize);

/// A line of the settings whose names are known.
#[derive(Clone, Debug)]
struct Remap {
    /// The place it is for; none for every place.
    place: Option<Place>,
    action: Action,
    keys: Vec<Key>,
    /// Line and column in the file.
    at: At,
}

impl Keymap {
    /// The usual keys with those of the settings, and what is wrong with their lines; `file` is
    /// what messages call it.
    pub fn with(lines: &[KeyLine], file: &str) -> (Self, Vec<FileError>) {
        let mut errors = Vec::new();
        let mut remaps = Vec::new();
        for line in lines {
            match remap(line) {
                Ok(remap) => remaps.push(remap),
                Err((at, message)) => errors.push(told(file, at, message)),
            }
        }
        loop {
            let rows = table(&remaps);
            // A clash is between lines, or a line and the table.
            let clash = match remaps.is_empty() {
                true => None,
                false => clash(&rows, &remaps),
            };
            let Some((number, message)) = clash else {
                let rows = rows.into_iter().map(|(row, _)| row).collect();
                errors.order_by_key(|error: &FileError| error.place);
                let rows = Cow::Owned(rows);
                return (Self { rows }, errors);
            };
            let gone = remaps.remove(number);
            errors.push(told(file, gone.at, message));
        }
    }
}

fn told(file: &str, at: At, message: String) -> FileError {
    FileError {
        place: Some(at),
        ..FileError::new(file, message)
    }
}

/// A line with its names looked up.
fn remap(line: &KeyLine) -> Result<Remap, (At, String)> {
    let action = &line.action;
    let place = line.place.as_ref().map(place_of).transpose()?;
    let remap = Remap {
        place,
        action: Action::named(&action.name)
            .ok_or_else(|| unknown("action", action, Action::names()))?,
        keys: line.keys.iter().map(key_of).collect::<Result<_, _>>()?,
        at: action.at,
    };
    let mut rows = TABLE.iter().filter(|row| may_change(row, &remap));
    let there = rows.clone().next().is_some();
    if !there {
        let name = &action.name;
        let message = match place {
            Some(place) => format!("{name}: there is no such key to change in {:?}", place.id()),
            None => format!("{name}: its keys are those of every program of a terminal; they stay"),
        };
        return Err((action.at, message));
    }
    // Where text is typed a character is text. A line for all places leaves those out.
    let typed = |place: &Place| TEXT.contains(place);
    let only_typed = rows.all(|row| places(row, &remap).iter().all(typed));
    match line
        .keys
        .iter()
        .zip(&remap.keys)
        .find(|(_, key)| key.is_text())
    {
        Some((key, _)) if only_typed => Err((
            key.at,
            format!(
                "{}: {:?} is text where text is typed; take a key such as \"ctrl-x\" or \"F5\"",
                action.name, key.name
            ),
        )),
        _ => Ok(remap),
    }
}

fn place_of(place: &Named) -> Result<Place, (At, String)> {
    let ids = || Place::WORDS.iter().map(|word| word.id);
    Place::from_id(&place.name).ok_or_else(|| unknown("place", place, ids()))
}

/// That nothing is called so, and what was meant, or where to look.
fn unknown<'n>(
    what: &str,
    named: &Named,
    names: impl IntoIterator<Item = &'n str>,
) -> (At, String) {
    let hint = match nearest::hint(&named.name, names) {
        none if none.is_empty() => "; `gantrywright keys` lists them all".to_owned(),
        hint => hint,
    };
    let message = format!("there is no {what} {:?}{hint}", named.name);
    (named.at, message)
}

fn key_of(key: &Named) -> Result<Key, (At, String)> {
    let found = Key::named(&key.name).and_then(|found| match FIXED.contains(&found) {
        true => Err(format!(
            "{:?} ends or stops any program of a terminal; it stays what it is",
            key.name
        )),
        false => Ok(found),
    });
    found.map_err(|message| (key.at, message))
}

/// Whether a row is one that a line is about.
fn may_change(row: &Binding, remap: &Remap) -> bool {
    row.action == remap.action
        && remap.place.is_none_or(|place| row.places.contains(&place))
        && !row.keys.iter().any(|key| FIXED.contains(key))
}

/// The places of a row that a line is about.
fn places(row: &Binding, remap: &Remap) -> Vec<Place> {
    let here = |place: &&Place| remap.place.is_none_or(|only| only == **place);
    row.places.iter().filter(here).copied().collect()
}

/// The table with lines put over it; each row with the number of the line that changed it.
fn table(remaps: &[Remap]) -> Vec<(Binding, Option<usize>)> {
    let mut rows: Vec<(Binding, Option<usize>)> =
        TABLE.iter().map(|row| (row.clone(), None)).collect();
    // Lines for one place go over those for all, wherever they stand.
    let for_all = remaps
        .iter()
        .enumerate()
        .filter(|(_, one)| one.place.is_none());
    let for_one = remaps
        .iter()
        .enumerate()
        .filter(|(_, one)| one.place.is_some());
    for (number, remap) in for_all.chain(for_one) {
        let is_text = remap.keys.iter().any(|key| key.is_text());
        rows = rows
            .into_iter()
            .flat_map(|(row, by)| {
                if !may_change(&row, remap) {
                    return vec![(row, by)];
                }
                let changed = places(&row, remap);
                let (changed, kept): (Vec<Place>, Vec<Place>) =
                    row.places.iter().partition(|place| {
                        changed.contains(place) && !(is_text && TEXT.contains(place))
                    });
                let with = |places, keys| Binding {
                    places: Cow::Owned(places),
                    keys,
                    ..row.clone()
                };
                let changed = with(changed, Cow::Owned(remap.keys.clone()));
                let kept = with(kept, row.keys.clone());
                let both = [(changed, Some(number)), (kept, by)];
                let filled = both.into_iter().filter(|(row, _)| !row.places.is_empty());
                filled.collect()
            })
            .collect();
    }
    rows
}

/// The first line that makes a key mean two things in one place, the later of two lines; and
/// both sides of it in words.
fn clash(rows: &[(Binding, Option<usize>)], remaps: &[Remap]) -> Option<(usize, String)> {
    for &place in ALL {
        let here = rows.iter().filter(|(row, _)| row.places.contains(&place));
        let mut seen: Vec<(Key, Action, Option<usize>)> = Vec::new();
        for (row, by) in here {
            for &key in row.keys.iter() {
                let other = seen
                    .iter()
                    .find(|(known, action, _)| *known == key && *action != row.action);
                if let Some((_, action, other_by)) = other
                    && let Some(number) = (*by).max(*other_by)
                {
                    let (lost, stays, stays_by) = match *by == Some(number) {
                        true => (row.action, *action, *other_by),
                        false => (*action, row.action, *by),
                    };
                    let of = match stays_by.and_then(|by| remaps.get(by)) {
                        Some(line) => format!("by line {}", line.at.0),
                        None => "as usual".to_owned(),
                    };
                    return Some((
                        number,
                        format!(
                            "{}: \"{key}\" asks for {} in {:?} already, {of}; {} keeps its usual key",
                            lost.name(),
                            stays.name(),
                            place.id(),
                            lost.name()
                        ),
                    ));
                }
                seen.push((key, row.action, *by));
            }
        }
    }
    None
}

#[cfg(test)]
mod tests;
