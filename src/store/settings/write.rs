//! From changed settings to the text of their file: only what changed is touched.

use toml_edit::{DocumentMut, Item, Value};

use super::Settings;
use super::read::{TOP, WORDS, read};
use crate::store::FileError;
use crate::words::Words as _;

/// What stands above new settings.
const ABOUT: &str = "# Settings of gantrywright; its page of settings changes them too.\n";

/// The text of a file with other settings: comments, order and the section of keys stay.
///
/// # Errors
/// Where the text cannot be read: what it means must not be lost.
pub fn changed(old: &str, name: &str, settings: &Settings) -> Result<String, FileError> {
    let before = read(old, name)?;
    let mut document: DocumentMut = old
        .parse()
        .map_err(|_| FileError::new(name, "this is no TOML that can be changed"))?;
    let values = spelled(settings);
    let is_new = old.trim().is_empty();
    for (key, (value, was)) in TOP
        .into_iter()
        .zip(values.into_iter().zip(spelled(&before)))
    {
        if text(value.as_ref()) != text(was.as_ref()) {
            put(&mut document, key, value);
        }
    }
    let text = document.to_string();
    Ok(match is_new && !text.is_empty() {
        true => format!("{ABOUT}{text}"),
        false => text,
    })
}

/// A value as it stands in a file: values themselves cannot be compared.
fn text(value: Option<&Value>) -> Option<String> {
    value.map(ToString::to_string)
}

/// The settings in the order of the keys at the top.
fn spelled(settings: &Settings) -> [Option<Value>; 5] {
    let thousands = settings.thousands.map(|mark| {
        let word = WORDS.iter().find(|(_, known)| *known == mark);
        let sign = mark.map(String::from).unwrap_or_default();
        word.map_or(sign, |(word, _)| (*word).to_owned())
    });
    [
        settings.units.map(|units| Value::from(units.id())),
        settings.decimal.map(|mark| Value::from(String::from(mark))),
        thousands.map(Value::from),
        settings.theme.map(|theme| Value::from(theme.id())),
        settings.mouse.map(Value::from),
    ]
}

fn put(document: &mut DocumentMut, key: &str, value: Option<Value>) {
    let Some(mut value) = value else {
        document.remove(key);
        return;
    };
    // A remark behind the value stays behind it.
    if let Some(old) = document.get(key).and_then(Item::as_value) {
        *value.decor_mut() = old.decor().clone();
    }
    match document.get_mut(key) {
        Some(old) => *old = Item::Value(value),
        None => {
            document.insert(key, Item::Value(value));
        }
    }
}
