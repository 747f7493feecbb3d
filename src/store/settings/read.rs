//! From the text of the settings to their values, or to the one message that says why not.

use std::borrow::Cow;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{KeyLine, Named, Settings, ThemeWish};
use crate::build::nearest;
use crate::order::Order as _;
use crate::store::build_file::found;
use crate::store::file_error::line_and_column;
use crate::store::plain_words::toml_error;
use crate::store::{FileError, limits};
use crate::units::{Marks, System};
use crate::words::Words;

/// The keys at the top of the file.
pub(super) const TOP: [&str; 5] = ["units", "decimal_mark", "thousands_mark", "theme", "mouse"];

/// The section of keys.
const KEYS: &str = "keys";

/// How the mark between thousands is spelled where it is no sign.
pub(super) const WORDS: [(&str, Option<char>); 2] = [("space", Some(' ')), ("none", None)];

/// What is wrong, and where.
type Bad = (Range<usize>, String);

type Key<'k> = Spanned<Cow<'k, str>>;

/// Reads settings; `name` is what messages call their file.
///
/// # Errors
/// Says where and what is wrong, and what would be right.
pub fn read(text: &str, name: &str) -> Result<Settings, FileError> {
    let table = DeTable::parse(text).map_err(|error| toml_error(name, text, error))?;
    limits::texts_and_lists(table.get_ref())
        .and_then(|()| settings(table.get_ref(), text))
        .map_err(|(span, message)| FileError::at(name, text, span, message))
}

fn settings(table: &DeTable, file: &str) -> Result<Settings, Bad> {
    let mut settings = Settings::default();
    for (key, value) in table {
        let name = key.get_ref().as_ref();
        match name {
            "units" => settings.units = Some(word::<System>(name, value)?),
            "theme" => settings.theme = Some(word::<ThemeWish>(name, value)?),
            "mouse" => settings.mouse = Some(yes_or_no(name, value)?),
            "decimal_mark" => settings.decimal = Some(decimal(value)?),
            "thousands_mark" => settings.thousands = Some(thousands(value)?),
            KEYS => settings.keys = keys(value, file)?,
            _ => return Err((key.span(), unknown(name))),
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
        return Err((place, message));
    }
    Ok(settings)
}

fn unknown(name: &str) -> String {
    let known = TOP.into_iter().chain([KEYS]);
    format!("there is no setting {name:?}{}", nearest::hint(name, known))
}

fn text<'t>(name: &str, value: &'t Spanned<DeValue>, such_as: &str) -> Result<&'t str, Bad> {
    match value.get_ref() {
        DeValue::String(text) => Ok(text),
        other => {
            let found = found(other);
            let message = format!("{name}: this is {found}; it takes a text in quotes, {such_as}");
            Err((value.span(), message))
        }
    }
}

fn word<W: Words>(name: &str, value: &Spanned<DeValue>) -> Result<W, Bad> {
    let ids: Vec<&str> = W::WORDS.iter().map(|word| word.id).collect();
    let such_as = format!("such as {:?}", ids[0]);
    let text = text(name, value, &such_as)?;
    W::from_id(text).ok_or_else(|| {
        let known = ids.join(", ");
        (value.span(), format!("{name}: {text:?} is none of {known}"))
    })
}

fn yes_or_no(name: &str, value: &Spanned<DeValue>) -> Result<bool, Bad> {
    match value.get_ref() {
        DeValue::Boolean(yes) => Ok(*yes),
        other => {
            let found = found(other);
            let message = format!("{name}: this is {found}; it is true or false, without quotes");
            Err((value.span(), message))
        }
    }
}

fn decimal(value: &Spanned<DeValue>) -> Result<char, Bad> {
    match text("decimal_mark", value, "\".\" or \",\"")? {
        "." => Ok('.'),
        "," => Ok(','),
        other => {
            let message = format!("decimal_mark: {other:?} is neither \".\" nor \",\"");
            Err((value.span(), message))
        }
    }
}

fn thousands(value: &Spanned<DeValue>) -> Result<Option<char>, Bad> {
    let text = text("thousands_mark", value, "such as \"space\" or \"none\"")?;
    mark(text).ok_or_else(|| {
        let message = format!(
            "thousands_mark: {text:?} is none of \"space\", \".\", \",\", \"'\" and \"none\""
        );
        (value.span(), message)
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
fn keys(value: &Spanned<DeValue>, file: &str) -> Result<Vec<KeyLine>, Bad> {
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

fn section<'t, 'i>(name: &str, value: &'t Spanned<DeValue<'i>>) -> Result<&'t DeTable<'i>, Bad> {
    match value.get_ref() {
        DeValue::Table(table) => Ok(table),
        other => {
            let found = found(other);
            let message = format!("{name}: this is {found}; it is a section, [{name}]");
            Err((value.span(), message))
        }
    }
}

/// One key in quotes, or a list of them.
fn names(action: &Key, value: &Spanned<DeValue>, file: &str) -> Result<Vec<Named>, Bad> {
    let name = action.get_ref().as_ref();
    let one = |value: &Spanned<DeValue>| {
        let text = text(name, value, "such as \"W\" or [\"W\", \"ctrl-w\"]")?;
        Ok(Named {
            name: text.to_owned(),
            at: line_and_column(file, value.span().start),
        })
    };
    match value.get_ref() {
        DeValue::Array(items) if items.is_empty() => {
            let message = format!("{name}: the list is empty; leave the line out for the usual");
            Err((value.span(), message))
        }
        DeValue::Array(items) => items.iter().map(one).collect(),
        _ => one(value).map(|key| vec![key]),
    }
}
