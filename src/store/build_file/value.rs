//! One value of a build file: from what TOML has to what the choice takes.

use std::ops::Range;

use toml::de::DeValue;

use crate::build::value::{BadValue, NONE, NumberKind, in_range};
use crate::build::{Build, Choice, Kind, Value};
use crate::catalogue::{Catalogue, Id};
use crate::store::toml_value::{Bad, Raw, number, other};
use crate::words::Word;

/// The value of a choice. Without a catalogue ids are taken as they are: that suffices to
/// see what changed since a file was read.
pub(super) fn value(
    choice: &Choice,
    raw: &Raw,
    catalogue: Option<&Catalogue>,
) -> Result<Value, Bad> {
    let bad = |error: BadValue| Bad::new(raw.span(), format!("{}: {error}", choice.id));
    match (raw.get_ref(), &choice.kind) {
        (DeValue::String(text), Kind::Part { unset, .. }) => match catalogue {
            Some(catalogue) => choice
                .parse(text, catalogue, None)
                .map_err(|error| bad(elsewhere(error, text, catalogue))),
            None if text.trim() == NONE && unset.is_some() => Ok(Value::Part(None)),
            None => loose_id(text, raw.span()).map(|id| Value::Part(Some(id))),
        },
        (DeValue::String(text), Kind::Word(_) | Kind::Amount) => {
            choice.parse(text, &Catalogue::default(), None).map_err(bad)
        }
        (DeValue::String(text), Kind::Number(kind)) if means_none(text, kind) => {
            Ok(Value::Number(None))
        }
        (DeValue::Boolean(yes), Kind::Flag) => Ok(Value::Flag(*yes)),
        (DeValue::Array(items), Kind::Parts(_)) => parts(choice, items, catalogue),
        (DeValue::Integer(_) | DeValue::Float(_), Kind::Number(kind)) => {
            let number = number(raw.get_ref());
            ranged(number, kind)
                .map(|number| Value::Number(Some(number)))
                .map_err(bad)
        }
        (_, kind) => Err(other(
            choice.id,
            raw,
            &format!("it takes {}", right(choice, kind)),
        )),
    }
}

fn loose_id(text: &str, span: Range<usize>) -> Result<Id, Bad> {
    Id::new(text.trim()).map_err(|message| Bad::new(span, message))
}

fn means_none(text: &str, kind: &NumberKind) -> bool {
    kind.unset
        .is_some_and(|unset| text.trim() == NONE || text.trim() == unset)
}

fn ranged(number: f64, kind: &NumberKind) -> Result<f64, BadValue> {
    if number.is_finite() {
        return in_range(number, kind);
    }
    let range = format!("{} to {} {}", kind.least, kind.most, kind.unit);
    Err(BadValue(format!(
        "this is no ordinary number; it takes {}",
        range.trim_end()
    )))
}

fn parts(choice: &Choice, items: &[Raw], catalogue: Option<&Catalogue>) -> Result<Value, Bad> {
    let mut ids: Vec<Id> = Vec::new();
    for item in items {
        let DeValue::String(text) = item.get_ref() else {
            return Err(other(choice.id, item, "it takes ids in quotes"));
        };
        let id = match catalogue {
            None => loose_id(text, item.span())?,
            Some(catalogue) => one_part(choice, text, catalogue)
                .map_err(|error| Bad::new(item.span(), format!("{}: {error}", choice.id)))?,
        };
        if ids.contains(&id) {
            let message = format!("{}: {:?} is named twice", choice.id, id.as_str());
            return Err(Bad::new(item.span(), message));
        }
        ids.push(id);
    }
    Ok(Value::Parts(ids))
}

/// Of a part that nobody knows: where those of one's own come from, since a build that was saved with
/// one is easily opened without.
fn elsewhere(error: BadValue, text: &str, catalogue: &Catalogue) -> BadValue {
    if catalogue.part(text.trim()).is_some() {
        return error;
    }
    let said = error.to_string();
    let one = match said.ends_with('?') {
        true => " One",
        false => "; one",
    };
    BadValue(format!(
        "{said}{one} of your own is read with --configs FOLDER"
    ))
}

/// One id of a list: neither the word for an empty list nor two ids in one pair of quotes.
fn one_part(choice: &Choice, text: &str, catalogue: &Catalogue) -> Result<Id, BadValue> {
    match choice.parse(text, catalogue, None)? {
        Value::Parts(mut ids) if ids.len() == 1 => Ok(ids.remove(0)),
        _ => Err(BadValue(format!(
            "{text:?} is not one id; each goes in quotes of its own"
        ))),
    }
}

/// What the choice takes, with an example: the default, which is always a good value.
fn right(choice: &Choice, kind: &Kind) -> String {
    let usual = (choice.get)(&Build::default());
    match kind {
        Kind::Part { kinds, .. } => {
            let kinds: Vec<&str> = kinds.iter().map(|kind| kind.title()).collect();
            format!(
                "the id of one part ({}) in quotes, such as \"{usual}\"",
                kinds.join(", ")
            )
        }
        Kind::Parts(_) => "a list of ids, such as [\"softwood\", \"plywood\"]".to_owned(),
        Kind::Word(words) => quoted(words),
        Kind::Number(kind) => number_wanted(kind, &usual),
        Kind::Flag => "true or false, without quotes".to_owned(),
        Kind::Amount => "an amount with its currency in quotes, such as \"3500 EUR\"".to_owned(),
    }
}

fn quoted(words: &[Word]) -> String {
    let words: Vec<String> = words.iter().map(|word| format!("{:?}", word.id)).collect();
    format!("one word of {}", words.join(", "))
}

fn number_wanted(kind: &NumberKind, usual: &Value) -> String {
    let unit = match kind.unit {
        "" => String::new(),
        symbol => format!(" in {symbol}"),
    };
    match (usual, kind.unset) {
        (Value::Number(Some(usual)), _) => {
            format!("a number{unit} without quotes or unit, such as {usual}")
        }
        _ => format!("a number{unit} without quotes or unit, or \"{NONE}\""),
    }
}
