//! Values of a file of TOML as build files and settings take them, each slip with its place: what
//! is there, and what would be right.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::FileError;
use crate::words::Words;

/// A value with its place.
pub(super) type Raw<'i> = Spanned<DeValue<'i>>;

/// What is wrong, and where in the text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Bad {
    /// The place in bytes.
    pub(super) span: Range<usize>,
    /// What is wrong; what would be right.
    pub(super) message: String,
}

impl Bad {
    pub(super) fn new(span: Range<usize>, message: impl Into<String>) -> Self {
        Self {
            span,
            message: message.into(),
        }
    }

    /// The same about a file of this name and text.
    pub(super) fn in_file(self, name: &str, text: &str) -> FileError {
        FileError::at(name, text, self.span, self.message)
    }
}

/// A text in quotes.
pub(super) fn text<'t>(key: &str, raw: &'t Raw) -> Result<&'t str, Bad> {
    text_such_as(key, raw, "")
}

/// The same, with what may be told of it behind a comma.
pub(super) fn text_such_as<'t>(key: &str, raw: &'t Raw, such_as: &str) -> Result<&'t str, Bad> {
    match raw.get_ref() {
        DeValue::String(text) => Ok(text),
        _ => Err(other(
            key,
            raw,
            &format!("it takes a text in quotes{such_as}"),
        )),
    }
}

/// A word of a closed list.
pub(super) fn word<W: Words>(key: &str, raw: &Raw) -> Result<W, Bad> {
    let ids: Vec<&str> = W::WORDS.iter().map(|word| word.id).collect();
    let text = text_such_as(key, raw, &format!(", such as {:?}", ids[0]))?;
    W::from_id(text).ok_or_else(|| {
        let known = ids.join(", ");
        Bad::new(raw.span(), format!("{key}: {text:?} is none of {known}"))
    })
}

/// Yes or no.
pub(super) fn flag(key: &str, raw: &Raw) -> Result<bool, Bad> {
    match raw.get_ref() {
        DeValue::Boolean(yes) => Ok(*yes),
        _ => Err(other(key, raw, "it is true or false, without quotes")),
    }
}

/// The keys of a section.
pub(super) fn section<'t, 'i>(name: &str, raw: &'t Raw<'i>) -> Result<&'t DeTable<'i>, Bad> {
    match raw.get_ref() {
        DeValue::Table(table) => Ok(table),
        _ => Err(other(name, raw, &format!("it is a section, [{name}]"))),
    }
}

/// The keys of a table that has no name of its own.
pub(super) fn table<'t, 'i>(name: &str, raw: &'t Raw<'i>) -> Result<&'t DeTable<'i>, Bad> {
    match raw.get_ref() {
        DeValue::Table(table) => Ok(table),
        _ => Err(other(name, raw, "it is a table of keys")),
    }
}

/// The elements of a list.
pub(super) fn list<'t, 'i>(name: &str, raw: &'t Raw<'i>) -> Result<&'t [Raw<'i>], Bad> {
    match raw.get_ref() {
        DeValue::Array(items) => Ok(items),
        _ => Err(other(name, raw, "it is a list in brackets")),
    }
}

/// A number; NaN where this is something else. TOML's numbers come as text: one too large for its
/// type becomes infinite, and so out of every range.
pub(super) fn number(value: &DeValue) -> f64 {
    match value {
        DeValue::Integer(_) => whole(value).map_or(f64::INFINITY, |whole| whole as f64),
        DeValue::Float(float) => float.as_str().parse().unwrap_or(f64::NAN),
        _ => f64::NAN,
    }
}

/// A whole number that a machine counts to; none where this is something else.
pub(super) fn whole(value: &DeValue) -> Option<i64> {
    match value {
        DeValue::Integer(whole) => i64::from_str_radix(whole.as_str(), whole.radix()).ok(),
        _ => None,
    }
}

/// That something else is there than what is taken.
pub(super) fn other(name: &str, raw: &Raw, takes: &str) -> Bad {
    let found = found(raw.get_ref());
    Bad::new(raw.span(), format!("{name}: this is {found}; {takes}"))
}

/// What TOML has there, in plain words.
pub(super) fn found(value: &DeValue) -> String {
    match value {
        DeValue::String(text) => {
            format!("the text {:?}", text.chars().take(60).collect::<String>())
        }
        DeValue::Integer(whole) => format!("the number {whole}"),
        DeValue::Float(float) => format!("the number {float}"),
        DeValue::Boolean(yes) => format!("the word {yes}"),
        DeValue::Datetime(_) => "a date".to_owned(),
        DeValue::Array(_) => "a list".to_owned(),
        DeValue::Table(_) => "a table".to_owned(),
    }
}
