//! What is wrong with a text that was to be read, where, and what would be known.

use std::fmt;
use std::ops::Range;

use serde::de::value::Error as Plain;

/// Why a text cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReadError(Box<Fault>);

#[derive(Clone, Debug, PartialEq, Eq)]
struct Fault {
    message: String,
    place: Option<Range<usize>>,
    known: &'static [&'static str],
}

impl ReadError {
    fn new(message: String, place: Option<Range<usize>>) -> Self {
        Self(Box::new(Fault {
            message,
            place,
            known: &[],
        }))
    }

    /// What is wrong, as the reader puts it.
    pub fn message(&self) -> &str {
        &self.0.message
    }

    /// Where, in bytes.
    pub fn place(&self) -> Option<Range<usize>> {
        self.0.place.clone()
    }

    /// The fields or words that the reader knows, where it met one that it does not.
    pub(in crate::catalogue) fn known(&self) -> &'static [&'static str] {
        self.0.known
    }

    /// An error as the library words it, with what the reader knows.
    fn knowing(error: &Plain, known: &'static [&'static str]) -> Self {
        let mut error = Self::new(error.to_string(), None);
        error.0.known = known;
        error
    }

    /// The same, at a place unless it has a closer one.
    pub(super) fn at(mut self, place: &Range<usize>) -> Self {
        self.0.place.get_or_insert_with(|| place.clone());
        self
    }
}

impl From<toml::de::Error> for ReadError {
    fn from(error: toml::de::Error) -> Self {
        Self::new(error.message().to_owned(), error.span())
    }
}

impl fmt::Display for ReadError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.message)
    }
}

impl std::error::Error for ReadError {}

impl serde::de::Error for ReadError {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self::new(message.to_string(), None)
    }

    fn unknown_field(field: &str, known: &'static [&'static str]) -> Self {
        Self::knowing(&Plain::unknown_field(field, known), known)
    }

    fn unknown_variant(variant: &str, known: &'static [&'static str]) -> Self {
        Self::knowing(&Plain::unknown_variant(variant, known), known)
    }
}
