//! How the fields of a type are found out: its own reader is asked. It is handed one field after
//! the other with something so odd that it says what would be right. So neither names nor ranges
//! stand anywhere a second time.

use serde::de::DeserializeOwned;

use super::{Field, Range, Takes};
use crate::catalogue::reader::{self, ReadError};

/// A key that no part has.
const ODD_KEY: &str = "\"\"";
/// What no field takes: its reader says what it would take.
const ODD: &str = "1979-05-27";
/// A number that no part has.
const ODD_NUMBER: &str = "1e300";
/// A whole number that no part has.
const ODD_WHOLE: &str = "9223372036854775807";
/// A text that is neither an id, nor a number, nor a word of a list.
const ODD_TEXT: &str = "\"\\u0001\"";

/// The fields of a type, in the order in which it declares them.
pub(in crate::catalogue) fn fields_of<T: DeserializeOwned>() -> Vec<Field> {
    let keys = said::<T>(ODD_KEY, ODD).map_or(&[][..], |error| error.known());
    let field = |key: &&'static str| Field {
        key,
        takes: takes::<T>(key),
    };
    keys.iter().map(field).collect()
}

/// What the reader says of one field; nothing where it takes it and all the others may be absent.
fn said<T: DeserializeOwned>(key: &str, value: &str) -> Option<ReadError> {
    reader::read::<T>(&format!("{key} = {value}")).err()
}

/// What it would take instead of a value.
fn asked<T: DeserializeOwned>(key: &str, value: &str) -> String {
    let error = said::<T>(key, value);
    let message = error.as_ref().map_or("", ReadError::message);
    let (_, asked) = message.rsplit_once(", expected ").unwrap_or_default();
    asked.to_owned()
}

fn takes<T: DeserializeOwned>(key: &str) -> Takes {
    let answer = |odd: &str| said::<T>(key, odd);
    let range = |odd: &str| answer(odd).map_or_else(Range::default, |error| range(error.message()));
    match asked::<T>(key, ODD).as_str() {
        "f64" => Takes::Number(range(ODD_NUMBER)),
        "i64" | "u8" | "u16" | "u32" => Takes::Whole(range(ODD_WHOLE)),
        "a boolean" => Takes::Flag,
        "a string" => match answer(ODD_TEXT) {
            Some(error) if !error.known().is_empty() => Takes::Word(error.known()),
            Some(error) if error.message().contains("not an id") => Takes::Id,
            Some(error) if error.message().contains("not an amount") => Takes::Exact,
            // What is said now, if anything, is that the other fields are missing.
            _ => Takes::Text,
        },
        "a sequence" => match asked::<T>(key, &format!("[{ODD}]")).as_str() {
            "f64" => Takes::Numbers(range(&format!("[{ODD_NUMBER}]"))),
            "a string" => match answer(&format!("[{ODD_TEXT}]")) {
                Some(error) if !error.known().is_empty() => Takes::Words(error.known()),
                _ => Takes::Other,
            },
            _ => Takes::Other,
        },
        _ => Takes::Other,
    }
}

/// The range in a refusal: `expected 0.001 to 10000 mm, found 1e300 mm`.
fn range(message: &str) -> Range {
    let told = message.strip_prefix("expected ");
    let told = told.and_then(|rest| rest.rsplit_once(", found"));
    let Some((told, _)) = told else {
        return Range::default();
    };
    let unit = match told.split_once(" to ") {
        Some((_, most)) => most.split_once(' ').map_or("", |(_, unit)| unit),
        None => "",
    };
    Range {
        told: told.to_owned(),
        unit: unit.to_owned(),
    }
}
