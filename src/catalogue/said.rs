//! What files say of parts, field by field as it stands there: for rules of one's own, which may
//! name any field. It is read only where such a rule does.

use std::collections::HashMap;
use std::fmt;

use serde::Deserialize;
use serde::de::{Deserializer, MapAccess, SeqAccess, Visitor};

use super::reader::{self, Parsed, ReadError};
use super::{Id, PartKind};

/// What a file says of one field.
#[derive(Clone, Debug, PartialEq)]
pub enum Said {
    /// A number.
    Number(f64),
    /// A text, or a word of a list.
    Text(String),
    /// Yes or no.
    Flag(bool),
    /// A list or a table.
    Other,
}

impl Said {
    /// How it is spelled where it is compared with a text.
    pub fn text(&self) -> Option<&str> {
        match self {
            Self::Text(text) => Some(text),
            Self::Flag(true) => Some("yes"),
            Self::Flag(false) => Some("no"),
            Self::Number(_) | Self::Other => None,
        }
    }

    /// Its number; money and counts are kept as texts.
    pub fn number(&self) -> Option<f64> {
        match self {
            Self::Number(number) => Some(*number),
            Self::Text(text) => text.trim().parse().ok(),
            Self::Flag(_) | Self::Other => None,
        }
    }
}

impl<'de> Deserialize<'de> for Said {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct Anything;
        impl<'de> Visitor<'de> for Anything {
            type Value = Said;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("anything")
            }
            fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Said, E> {
                Ok(Said::Text(text.to_owned()))
            }
            fn visit_i64<E: serde::de::Error>(self, whole: i64) -> Result<Said, E> {
                Ok(Said::Number(whole as f64))
            }
            fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<Said, E> {
                Ok(Said::Number(number))
            }
            fn visit_bool<E: serde::de::Error>(self, yes: bool) -> Result<Said, E> {
                Ok(Said::Flag(yes))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, _: A) -> Result<Said, A::Error> {
                Ok(Said::Other)
            }
            fn visit_map<A: MapAccess<'de>>(self, _: A) -> Result<Said, A::Error> {
                Ok(Said::Other)
            }
        }
        d.deserialize_any(Anything)
    }
}

/// What is said of one part, by key.
pub type Fields = HashMap<String, Said>;

/// A file as tables of tables.
type Tables = HashMap<String, Vec<Fields>>;

/// Each part in a text, with the fields of these keys.
///
/// # Errors
/// Where it is not TOML, or no file of the catalogue.
pub fn in_text(text: &str, keys: &[&str]) -> Result<Vec<(Id, Fields)>, ReadError> {
    reader::read(text).map(|tables| fields(tables, keys))
}

/// The same in a file that was parsed.
///
/// # Errors
/// Where it is no file of the catalogue.
pub fn in_parsed(file: Parsed, keys: &[&str]) -> Result<Vec<(Id, Fields)>, ReadError> {
    file.read().map(|tables| fields(tables, keys))
}

fn fields(mut tables: Tables, keys: &[&str]) -> Vec<(Id, Fields)> {
    let mut found = Vec::new();
    let kinds = PartKind::ALL.iter();
    for mut part in kinds.filter_map(|kind| tables.remove(kind.key())).flatten() {
        if let Some(Ok(id)) = part.get("id").and_then(Said::text).map(Id::new) {
            part.retain(|key, _| keys.contains(&key.as_str()));
            found.push((id, part));
        }
    }
    found
}
