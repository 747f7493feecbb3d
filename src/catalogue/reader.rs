//! Reads the text of a file as a value of a type, each fault at its place.
//!
//! The text is parsed by `toml`; what it gives (`reader/baked.rs` writes it, `reader/values.rs`
//! reads it) is handed to the readers that serde derives. That crate has its own way of doing so,
//! which prepares for dates and for places at every table and so makes each reader three times:
//! with the many types of the catalogue that was a tenth of the program. Here each reader is made
//! once, and what it asks for decides what it may be given.

use serde::de::value::StrDeserializer;
use serde::de::{
    DeserializeOwned, DeserializeSeed, Deserializer, Error as _, Expected, MapAccess, SeqAccess,
    Unexpected, Visitor,
};

use baked::Kind;
use values::{Baked, Values, bits};

mod baked;
mod built_in;
mod error;
mod placed;
mod values;

pub use built_in::built_in;
pub(super) use built_in::in_built_in;
pub use error::ReadError;
pub use placed::Placed;

/// Reads a text.
///
/// # Errors
/// Where it is not TOML, or says something that the type cannot be.
pub fn read<T: DeserializeOwned>(text: &str) -> Result<T, ReadError> {
    let baked = baked::bake(text)?;
    match parsed(&baked).next() {
        Some(file) => file.read(),
        None => Err(ReadError::custom("this is no file")),
    }
}

/// A file that was parsed.
#[derive(Clone, Copy)]
pub struct Parsed<'b>(Baked<'b>);

/// Files that were parsed, one after the other.
fn parsed(baked: &str) -> impl Iterator<Item = Parsed<'_>> {
    let mut files = Values::new(baked, 0);
    std::iter::from_fn(move || {
        let file = files.next()?;
        files.end = 0;
        Some(Parsed(file))
    })
}

impl Parsed<'_> {
    /// Reads it.
    ///
    /// # Errors
    /// Where it says something that the type cannot be.
    pub fn read<T: DeserializeOwned>(self) -> Result<T, ReadError> {
        T::deserialize(Node::Value(self.0)).map_err(|error| error.at(&self.0.place()))
    }
}

/// Something that a reader is given.
#[derive(Clone, Copy)]
enum Node<'b> {
    /// A value, the name of a field, or a file as a whole.
    Value(Baked<'b>),
    /// Where something begins or ends.
    Place(usize),
}

impl<'b> Node<'b> {
    /// What it says, where it is of a kind.
    fn of(self, kind: Kind) -> Option<&'b str> {
        match self {
            Self::Value(value) if value.kind == kind => Some(value.says),
            _ => None,
        }
    }

    /// Its values, where it is a list or a table.
    fn values(self, kind: Kind) -> Option<Values<'b>> {
        match self {
            Self::Value(value) if value.kind == kind => Some(value.values()),
            _ => None,
        }
    }

    fn text(self) -> Option<&'b str> {
        self.of(Kind::Text)
    }

    fn whole(self) -> Option<i64> {
        match self {
            Self::Place(at) => i64::try_from(at).ok(),
            Self::Value(_) => Some(bits(self.of(Kind::Whole)?) as i64),
        }
    }

    fn float(self) -> Option<f64> {
        Some(f64::from_bits(bits(self.of(Kind::Float)?)))
    }

    fn flag(self) -> Option<bool> {
        Some(bits(self.of(Kind::Flag)?) != 0)
    }

    /// That this is something else than what is asked for.
    fn other(self, asked: &dyn Expected) -> ReadError {
        let Self::Value(value) = self else {
            return ReadError::invalid_type(Unexpected::Other("a place"), asked);
        };
        let found = match value.kind {
            Kind::Table => Unexpected::Map,
            Kind::List => Unexpected::Seq,
            Kind::Text => Unexpected::Str(value.says),
            Kind::Whole => Unexpected::Signed(self.whole().unwrap_or_default()),
            Kind::Float => Unexpected::Float(self.float().unwrap_or_default()),
            Kind::Flag => Unexpected::Bool(self.flag().unwrap_or_default()),
            Kind::Date => Unexpected::Other("a date without quotes"),
            Kind::Unfit => return ReadError::custom(value.says),
        };
        ReadError::invalid_type(found, asked)
    }
}

/// Readers of whole numbers, whatever their size.
macro_rules! whole {
    ($($name:ident)+) => {$(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
            match self.whole() {
                Some(whole) => visitor.visit_i64(whole),
                None => Err(self.other(&visitor)),
            }
        }
    )+};
}

/// Readers of texts, whoever owns them.
macro_rules! text {
    ($($name:ident)+) => {$(
        fn $name<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
            match self.text() {
                Some(text) => visitor.visit_str(text),
                None => Err(self.other(&visitor)),
            }
        }
    )+};
}

impl<'de> Deserializer<'de> for Node<'de> {
    type Error = ReadError;

    whole! {
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64
        deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64
    }
    text! { deserialize_str deserialize_string deserialize_identifier }

    fn deserialize_f64<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        match (self.float(), self.whole()) {
            (Some(float), _) => visitor.visit_f64(float),
            (_, Some(whole)) => visitor.visit_i64(whole),
            _ => Err(self.other(&visitor)),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        match self.flag() {
            Some(flag) => visitor.visit_bool(flag),
            None => Err(self.other(&visitor)),
        }
    }

    /// A field that may be absent is there.
    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        visitor.visit_some(self)
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        match self.values(Kind::List) {
            Some(list) => visitor.visit_seq(Elements(list)),
            None => Err(self.other(&visitor)),
        }
    }

    fn deserialize_tuple<V: Visitor<'de>>(
        self,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        self.deserialize_seq(visitor)
    }

    fn deserialize_tuple_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: usize,
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        let Self::Value(value) = self else {
            return Err(self.other(&visitor));
        };
        let parts = [Self::Place(value.start), Self::Place(value.end), self];
        visitor.visit_seq(Parts(parts.into_iter()))
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        match self.values(Kind::Table) {
            Some(table) => visitor.visit_map(Fields(table)),
            None => Err(self.other(&visitor)),
        }
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        self.deserialize_map(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, ReadError> {
        match self.text() {
            Some(text) => visitor.visit_enum(StrDeserializer::new(text)),
            None => Err(self.other(&visitor)),
        }
    }

    /// What may be several things, such as what a rule of one's own compares with.
    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, ReadError> {
        let Self::Value(value) = self else {
            return Err(self.other(&visitor));
        };
        match value.kind {
            Kind::Table => self.deserialize_map(visitor),
            Kind::List => self.deserialize_seq(visitor),
            Kind::Text => self.deserialize_str(visitor),
            Kind::Whole => self.deserialize_i64(visitor),
            Kind::Float => self.deserialize_f64(visitor),
            Kind::Flag => self.deserialize_bool(visitor),
            Kind::Date | Kind::Unfit => Err(self.other(&visitor)),
        }
    }

    serde::forward_to_deserialize_any! {
        i128 u128 f32 char bytes byte_buf unit unit_struct ignored_any
    }
}

/// The next of some values, where there is one, each fault at its place.
fn next<'de, S: DeserializeSeed<'de>>(
    values: &mut Values<'de>,
    seed: S,
) -> Result<Option<S::Value>, ReadError> {
    let Some(value) = values.next() else {
        return Ok(None);
    };
    let read = seed.deserialize(Node::Value(value));
    read.map(Some).map_err(|error| error.at(&value.place()))
}

/// The elements of a list.
struct Elements<'b>(Values<'b>);

impl<'de> SeqAccess<'de> for Elements<'de> {
    type Error = ReadError;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, ReadError> {
        next(&mut self.0, seed)
    }
}

/// What a [`Placed`] consists of.
struct Parts<'b>(std::array::IntoIter<Node<'b>, 3>);

impl<'de> SeqAccess<'de> for Parts<'de> {
    type Error = ReadError;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, ReadError> {
        self.0.next().map(|part| seed.deserialize(part)).transpose()
    }
}

/// The fields of a table: a name, its value, and so on.
struct Fields<'b>(Values<'b>);

impl<'de> MapAccess<'de> for Fields<'de> {
    type Error = ReadError;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, ReadError> {
        next(&mut self.0, seed)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, ReadError> {
        let value = next(&mut self.0, seed)?;
        value.ok_or_else(|| ReadError::custom("a key without a value"))
    }
}

#[cfg(test)]
mod tests;
