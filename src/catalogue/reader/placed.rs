//! A value that knows where it stands in its text.

use std::fmt;
use std::hash::{Hash, Hasher};
use std::marker::PhantomData;
use std::ops::Range;

use serde::de::{Deserialize, Deserializer, Error as _, SeqAccess, Visitor};

/// A value with its place in the text that it was read from, in bytes. Two are the same where
/// their values are.
#[derive(Clone, Debug)]
pub struct Placed<T> {
    value: T,
    place: Range<usize>,
}

impl<T> Placed<T> {
    /// A value that stands at a place.
    pub fn new(place: Range<usize>, value: T) -> Self {
        Self { value, place }
    }

    /// The value.
    pub fn value(&self) -> &T {
        &self.value
    }

    /// The value, to be changed.
    pub fn value_mut(&mut self) -> &mut T {
        &mut self.value
    }

    /// The value alone.
    pub fn into_value(self) -> T {
        self.value
    }

    /// Its place.
    pub fn place(&self) -> Range<usize> {
        self.place.clone()
    }
}

impl<T: PartialEq> PartialEq for Placed<T> {
    fn eq(&self, other: &Self) -> bool {
        self.value == other.value
    }
}

impl<T: Eq> Eq for Placed<T> {}

impl<T: Hash> Hash for Placed<T> {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.value.hash(state);
    }
}

/// By this name a [`Placed`] asks for its value and where that begins and ends.
const PLACED: &str = "a value and its place";

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Placed<T> {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct ThreeParts<T>(PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for ThreeParts<T> {
            type Value = Placed<T>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(PLACED)
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut parts: A) -> Result<Placed<T>, A::Error> {
                let lacking = || A::Error::custom(PLACED);
                let start = parts.next_element()?.ok_or_else(lacking)?;
                let end = parts.next_element()?.ok_or_else(lacking)?;
                let value = parts.next_element()?.ok_or_else(lacking)?;
                Ok(Placed::new(start..end, value))
            }
        }
        d.deserialize_tuple_struct(PLACED, 3, ThreeParts(PhantomData))
    }
}
