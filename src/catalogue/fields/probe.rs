//! How the fields of a type are found out: its own reader is asked. It is handed one field after
//! the other, sees what it asks for, and is given something so odd that it says what would be
//! right. So neither names nor ranges stand anywhere a second time.

use std::fmt;

use serde::de::value::BorrowedStrDeserializer;
use serde::de::{
    self, DeserializeOwned, DeserializeSeed, Deserializer, MapAccess, SeqAccess, Visitor,
};

use super::{Field, Range, Takes};

/// A number that no part has.
const ODD_NUMBER: f64 = 1e300;
/// A text that is neither an id, nor a number, nor a word of a list.
const ODD_TEXT: &str = "\u{1}";

/// The fields of a type, in the order in which it declares them.
pub(in crate::catalogue) fn fields_of<T: DeserializeOwned>() -> Vec<Field> {
    let keys = asked::<T>(None).keys;
    let field = |key: &&'static str| Field {
        key,
        takes: asked::<T>(Some(key)).takes(),
    };
    keys.iter().map(field).collect()
}

fn asked<T: DeserializeOwned>(key: Option<&'static str>) -> Found {
    let mut found = Found::default();
    let read = T::deserialize(Probe {
        key,
        found: &mut found,
    });
    found.said = read.err();
    found
}

/// What came out.
#[derive(Default)]
struct Found {
    keys: &'static [&'static str],
    asked: Option<Asked>,
    in_list: bool,
    said: Option<Said>,
}

/// What a reader asks for.
#[derive(Clone, Copy)]
enum Asked {
    Number,
    Whole,
    Flag,
    Text,
    Other,
}

impl Found {
    fn takes(self) -> Takes {
        let range = || match &self.said {
            Some(Said::Message(message)) => range(message),
            _ => Range::default(),
        };
        match (self.asked, &self.said, self.in_list) {
            (Some(Asked::Number), _, false) => Takes::Number(range()),
            (Some(Asked::Number), _, true) => Takes::Numbers(range()),
            (Some(Asked::Whole), _, false) => Takes::Whole(range()),
            (Some(Asked::Flag), _, false) => Takes::Flag,
            (Some(Asked::Text), Some(Said::Words(ids)), false) => Takes::Word(ids),
            (Some(Asked::Text), Some(Said::Words(ids)), true) => Takes::Words(ids),
            (Some(Asked::Text), Some(Said::Message(said)), false) if said.contains("not an id") => {
                Takes::Id
            }
            (Some(Asked::Text), Some(Said::Message(said)), false)
                if said.contains("not an amount") =>
            {
                Takes::Exact
            }
            (Some(Asked::Text), None | Some(Said::Nothing), false) => Takes::Text,
            _ => Takes::Other,
        }
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

/// What a reader says of something odd.
#[derive(Debug)]
enum Said {
    /// The words that it knows.
    Words(&'static [&'static str]),
    /// What would be right.
    Message(String),
    /// Nothing about this field.
    Nothing,
}

impl fmt::Display for Said {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self, f)
    }
}

impl std::error::Error for Said {}

impl de::Error for Said {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::Message(message.to_string())
    }

    fn unknown_variant(_: &str, known: &'static [&'static str]) -> Self {
        Self::Words(known)
    }

    fn missing_field(_: &'static str) -> Self {
        Self::Nothing
    }
}

/// The part as a whole.
struct Probe<'p> {
    key: Option<&'static str>,
    found: &'p mut Found,
}

impl<'de> Deserializer<'de> for Probe<'_> {
    type Error = Said;

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Said> {
        Err(Said::Nothing)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        keys: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Said> {
        self.found.keys = keys;
        visitor.visit_map(One {
            key: self.key,
            found: self.found,
        })
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option
        unit unit_struct newtype_struct seq tuple tuple_struct map enum identifier ignored_any
    }
}

/// One field, as a table would give it.
struct One<'p> {
    key: Option<&'static str>,
    found: &'p mut Found,
}

impl<'de> MapAccess<'de> for One<'_> {
    type Error = Said;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Said> {
        let key = self.key.take();
        let key = key.map(|key| seed.deserialize(BorrowedStrDeserializer::new(key)));
        key.transpose()
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Said> {
        seed.deserialize(Odd { found: self.found })
    }
}

/// A list of one value.
struct Once<'p> {
    found: Option<&'p mut Found>,
}

impl<'de> SeqAccess<'de> for Once<'_> {
    type Error = Said;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Said> {
        let Some(found) = self.found.take() else {
            return Ok(None);
        };
        seed.deserialize(Odd { found }).map(Some)
    }
}

/// A value that nothing has.
struct Odd<'p> {
    found: &'p mut Found,
}

/// Notes what is asked for, and gives something odd of that sort.
macro_rules! odd {
    ($($name:ident = $asked:ident, $visit:ident($value:expr);)+) => {$(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Said> {
            self.found.asked = Some(Asked::$asked);
            visitor.$visit($value)
        }
    )+};
}

impl<'de> Deserializer<'de> for Odd<'_> {
    type Error = Said;

    odd! {
        deserialize_f64 = Number, visit_f64(ODD_NUMBER);
        deserialize_i64 = Whole, visit_i64(i64::MAX);
        deserialize_u32 = Whole, visit_u64(u64::MAX);
        deserialize_bool = Flag, visit_bool(true);
        deserialize_string = Text, visit_str(ODD_TEXT);
        deserialize_str = Text, visit_str(ODD_TEXT);
    }

    fn deserialize_any<V: Visitor<'de>>(self, _: V) -> Result<V::Value, Said> {
        self.found.asked = Some(Asked::Other);
        Err(Said::Nothing)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Said> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Said> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Said> {
        // A list within a list is more than a field holds.
        if self.found.in_list {
            return self.deserialize_any(visitor);
        }
        self.found.in_list = true;
        visitor.visit_seq(Once {
            found: Some(self.found),
        })
    }

    serde::forward_to_deserialize_any! {
        i8 i16 i32 i128 u8 u16 u64 u128 f32 char bytes byte_buf unit unit_struct tuple
        tuple_struct map struct enum identifier ignored_any
    }
}
