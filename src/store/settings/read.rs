//! From the text of the settings to their values, or to the one message that says why not.

use std::borrow::Cow;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{KeyLine, Named, Settings, ThemeWish};
use crate::build::nearest;
use crate::order::Order as _;
use crate::store::file_error::line_and_column;
use crate::store::plain_words::toml_error;
use crate::store::toml_value::{Bad, Raw, flag, section, text_such_as, word};
use crate::store::{FileError, limits};
use crate::units::{Marks, System};

/// The keys at the top of the file.
pub(super) const TOP: [&str; 5] = ["units", "decimal_mark", "thousands_mark", "theme", "mouse"];

/// The section of keys.
const KEYS: &str = "keys";

/// How the mark between thousands is spelled where it is no sign.
pub(super) const WORDS: [(&str, Option<char>); 2] = [("space", Some(' ')), ("none", None)];

type Key<'k> = Spanned<Cow<'k, str>>;

/// Reads settings; `name` is what messages call their file.
///
/// # Errors
/// Says where and what is wrong, and what would be right.
pub fn read(text: &str, name: &str) -> Result<Settings, FileError> {
    let table = DeTable::parse(text).map_err(|error| toml_error(name, text, error))?;
    limits::texts_and_lists(table.get_ref())
        .and_then(|()| settings(table.get_ref(), text))
        .map_err(|bad| bad.in_file(name, text))
}

fn settings(table: &DeTable, file: &str) -> Result<Settings, Bad> {
    let mut settings = Settings::default();
    for (key, value) in table {
        let name = key.get_ref().as_ref();
        match name {
            "units" => settings.units = Some(word::<System>(name, value)?),
            "theme" => settings.theme = Some(word::<ThemeWish>(name, value)?),
            "mouse" => settings.mouse = Some(flag(name, value)?),
            "decimal_mark" => settings.decimal = Some(decimal(value)?),
            "thousands_mark" => settings.thousands = Some(thousands(value)?),
            KEYS => settings.keys = keys(value, file)?,
            _ => return Err(Bad::new(key.span(), unknown(name))),
        }
    }
    let both = settings.decimal.zip(settings.thousands);
    if let Some((decimal, thousands)) = both
        && Marks::new(decimal, thousands).is_none()
    {
        let place = table.get("thousands_mark").map_or(0..0, Spanned::span);
        let message = format!(
            "thousands_mark: {decimal:?} is the decimal mark already; take another, or \"space\""
        );
        return Err(Bad::new(place, message));
    }
    Ok(settings)
}

fn unknown(name: &str) -> String {
    let known = TOP.into_iter().chain([KEYS]);
    format!("there is no setting {name:?}{}", nearest::hint(name, known))
}

fn decimal(value: &Raw) -> Result<char, Bad> {
    match text_such_as("decimal_mark", value, ", \".\" or \",\"")? {
        "." => Ok('.'),
        "," => Ok(','),
        other => {
            let message = format!("decimal_mark: {other:?} is neither \".\" nor \",\"");
            Err(Bad::new(value.span(), message))
        }
    }
}

fn thousands(value: &Raw) -> Result<Option<char>, Bad> {
    let text = text_such_as("thousands_mark", value, ", such as \"space\" or \"none\"")?;
    mark(text).ok_or_else(|| {
        let message = format!(
            "thousands_mark: {text:?} is none of \"space\", \".\", \",\", \"'\" and \"none\""
        );
        Bad::new(value.span(), message)
    })
}

/// A mark between thousands by its spelling: the sign itself, or a word for it.
pub fn mark(text: &str) -> Option<Option<char>> {
    let word = WORDS.iter().find(|(word, _)| *word == text);
    match text {
        " " | "." | "," | "'" => Some(text.chars().next()),
        _ => word.map(|(_, mark)| *mark),
    }
}

/// The section of keys: actions with their keys, and places with such lines of their own.
fn keys(value: &Raw, file: &str) -> Result<Vec<KeyLine>, Bad> {
    let named = |key: &Key| Named {
        name: key.get_ref().to_string(),
        at: line_and_column(file, key.span().start),
    };
    let mut lines = Vec::new();
    for (key, value) in section(KEYS, value)? {
        match value.get_ref() {
            DeValue::Table(inner) => {
                for (action, value) in inner {
                    lines.push(KeyLine {
                        place: Some(named(key)),
                        action: named(action),
                        keys: names(action, value, file)?,
                    });
                }
            }
            _ => lines.push(KeyLine {
                place: None,
                action: named(key),
                keys: names(key, value, file)?,
            }),
        }
    }
    // In the order of the file: of two lines that clash the later one gives way.
    lines.order_by_key(|line| line.action.at);
    Ok(lines)
}

/// One key in quotes, or a list of them.
fn names(action: &Key, value: &Raw, file: &str) -> Result<Vec<Named>, Bad> {
    let name = action.get_ref().as_ref();
    let one = |value: &Raw| {
        let text = text_such_as(name, value, ", such as \"W\" or [\"W\", \"ctrl-w\"]")?;
        Ok(Named {
            name: text.to_owned(),
            at: line_and_column(file, value.span().start),
        })
    };
    match value.get_ref() {
        DeValue::Array(items) if items.is_empty() => {
            let message = format!("{name}: the list is empty; leave the line out for the usual");
            Err(Bad::new(value.span(), message))
        }
        DeValue::Array(items) => items.iter().map(one).collect(),
        _ => one(value).map(|key| vec![key]),
    }
}
