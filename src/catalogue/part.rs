//! What every part of the catalogue has in common: an id, a title, a source.

use std::fmt;

use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer, de::Error as _};

use super::text::Text;
use crate::words::{self, Words as _};

/// The stable name of a part, plan, material, site or price book: lower-case letters,
/// digits, hyphens and points, such as `ball-screw-16x10`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id(Text);

impl Id {
    /// The longest id accepted, in bytes.
    pub const LONGEST: usize = 64;

    /// Checks and takes a name.
    ///
    /// # Errors
    /// A sentence on what an id looks like.
    pub fn new(text: &str) -> Result<Self, String> {
        let fits = !text.is_empty()
            && text.len() <= Self::LONGEST
            && text
                .bytes()
                .all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-' || b == b'.');
        if fits {
            Ok(Self(text.into()))
        } else {
            Err(format!(
                "{text:?} is not an id: expected up to {} lower-case letters, digits, hyphens and points, such as \"ball-screw-16x10\"",
                Self::LONGEST
            ))
        }
    }

    /// The text of the id.
    pub fn as_str(&self) -> &'static str {
        self.0.as_str()
    }
}

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl AsRef<str> for Id {
    fn as_ref(&self) -> &str {
        &self.0
    }
}

impl std::borrow::Borrow<str> for Id {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl<'de> Deserialize<'de> for Id {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        words::read(d, Self::new)?.map_err(D::Error::custom)
    }
}

crate::words! {
    /// By what a part is counted and priced.
    Unit {
        Piece = "piece", "pieces", "Counted one by one.";
        Metre = "m", "m", "Sold by length, in metres.";
        Kilogram = "kg", "kg", "Sold by mass, in kilograms.";
        Litre = "l", "l", "Sold by volume, in litres.";
        KilowattHour = "kWh", "kWh", "Electricity, in kilowatt-hours.";
    }
}

impl Unit {
    /// How it is written behind so many: a lone piece is no pieces.
    pub fn behind(self, count: Decimal) -> &'static str {
        match count == Decimal::ONE {
            true => self.id(),
            false => self.title(),
        }
    }
}

/// The most columns of a title, of a part, a task or a rule: one line of a list.
pub const TITLE_COLUMNS: usize = 60;

/// The most columns of a short name: what a list has left on the narrowest terminal.
pub const SHORT_COLUMNS: usize = 22;

/// What the catalogue asks of every kind of part.
pub trait Part: OfKind {
    /// The stable name.
    fn id(&self) -> &Id;
    /// How people call it: generic, with its decisive sizes.
    fn title(&self) -> &'static str;
    /// The short name that its record gives, where it gives one.
    fn own_short(&self) -> Option<&'static str>;
    /// How lists name it: the short name, else the title.
    fn short(&self) -> &'static str {
        self.own_short().unwrap_or_else(|| self.title())
    }
    /// Where its data come from.
    fn source(&self) -> &'static str;
    /// A remark for the buyer, where there is one.
    fn note(&self) -> Option<&'static str>;
    /// By what it is counted and priced.
    fn unit(&self) -> Unit;
}

/// A part that knows on which shelf it stands.
pub trait OfKind {
    /// Its kind.
    fn kind(&self) -> super::PartKind;
}

/// Declares a kind of part: the fields of its own, with the common ones put in front.
macro_rules! part {
    ($(#[$meta:meta])* $name:ident by $unit:ident { $($(#[$field_meta:meta])* $field:ident : $type:ty,)* }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, serde::Deserialize)]
        #[serde(deny_unknown_fields)]
        pub struct $name {
            /// The stable name.
            pub id: $crate::catalogue::part::Id,
            /// How people call it.
            pub title: $crate::catalogue::Text,
            /// A name for lists: at most 22 columns, decisive sizes first.
            #[serde(default)]
            pub short: Option<$crate::catalogue::Text>,
            /// Where the data come from.
            pub source: $crate::catalogue::Text,
            /// A remark for the buyer.
            #[serde(default)]
            pub note: Option<$crate::catalogue::Text>,
            $($(#[$field_meta])* pub $field: $type,)*
        }
        impl $crate::catalogue::part::Part for $name {
            fn id(&self) -> &$crate::catalogue::part::Id { &self.id }
            fn title(&self) -> &'static str { self.title.as_str() }
            fn own_short(&self) -> Option<&'static str> {
                self.short.map(|short| short.as_str())
            }
            fn source(&self) -> &'static str { self.source.as_str() }
            fn note(&self) -> Option<&'static str> {
                self.note.map(|note| note.as_str())
            }
            fn unit(&self) -> $crate::catalogue::part::Unit {
                $crate::catalogue::part::Unit::$unit
            }
        }
    };
}
pub(crate) use part;
