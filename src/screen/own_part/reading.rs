//! What the text of a row means in a file, or why it means nothing.

use toml_edit::{Array, Item, Value, value};

use super::{Of, Row};
use crate::catalogue::fields::{Range, Takes};
use crate::store::quotes::decimal;
use crate::units::entry::Unread;
use crate::units::{Shown, entry};

/// The greatest whole number that a binary fraction holds exactly.
const EXACT: f64 = 9_007_199_254_740_992.0;

/// The value of a row; none where it is left out.
pub(super) fn item(row: &Row, shown: Shown) -> Result<Option<Item>, String> {
    let text = row.shown().trim();
    let Of::Field(_, takes) = &row.of else {
        return Ok(None);
    };
    match takes {
        Takes::Flag => Ok(Some(value(row.picked() == Some(super::rows::YES)))),
        Takes::Word(_) | Takes::Id => Ok(row.picked().map(value)),
        _ if text.is_empty() => Ok(None),
        Takes::Number(range) => number(text, range, shown).map(|one| Some(Item::Value(one))),
        Takes::Whole(_) => whole(text, shown).map(|one| Some(Item::Value(one))),
        Takes::Numbers(range) => numbers(text, range, shown).map(|all| Some(value(all))),
        Takes::Exact => decimal(text).map(|one| Some(value(one.to_string()))),
        Takes::Text | Takes::Words(_) | Takes::Other => Ok(Some(value(text))),
    }
}

/// The words that are ticked.
pub(super) fn members<'r>(rows: impl Iterator<Item = &'r Row>) -> Item {
    let ticked = rows.filter(|row| row.picked() == Some(super::rows::YES));
    let words = ticked.filter_map(|row| match row.of {
        Of::Member(_, word) => Some(word),
        _ => None,
    });
    value(words.collect::<Array>())
}

/// A number with any unit of its kind. A whole one is written without a point, as by hand.
pub(super) fn number(text: &str, range: &Range, shown: Shown) -> Result<Value, String> {
    let number = entry::read(text, &range.unit, shown).map_err(|why| {
        match (range.unit.as_str(), &why) {
            // What has a wrong unit is told the right ones already.
            ("", _) | (_, Unread::Unit(_)) => why.to_string(),
            (unit, _) => format!("{why}; type it in {}", entry::unit_of(unit, shown)),
        }
    })?;
    Ok(spelled(number))
}

fn spelled(number: f64) -> Value {
    match number.fract() == 0.0 && number.abs() < EXACT {
        // Checked above: it is whole and small enough.
        true => Value::from(number as i64),
        false => Value::from(number),
    }
}

fn whole(text: &str, shown: Shown) -> Result<Value, String> {
    let number = entry::read(text, "", shown).map_err(|why| why.to_string())?;
    match number.fract() == 0.0 {
        true => Ok(spelled(number)),
        false => Err("type a whole number".to_owned()),
    }
}

/// Several numbers, with semicolons between, or with commas that are followed by a space.
fn numbers(text: &str, range: &Range, shown: Shown) -> Result<Array, String> {
    let parts: Vec<&str> = match text.contains(';') {
        true => text.split(';').collect(),
        false => text.split(", ").collect(),
    };
    // The unit may stand behind the last one alone.
    let last = parts.last().copied().unwrap_or_default();
    let each = parts
        .iter()
        .map(|part| part.trim())
        .filter(|part| !part.is_empty());
    each.map(|part| number(&entry::sharing(part, last), range, shown))
        .collect()
}
