//! Closed lists of words: small enumerations that a file spells with an id and a person
//! reads with a title and a sentence. One macro, so that the id in a file, the option on
//! the screen and the explanation beside it can never drift apart.

use std::fmt;

use serde::de::{Deserializer, Visitor};

pub mod hidden;
pub mod nearest;

/// Reads a text of a file and makes something of it: a catalogue has thousands of ids, words and
/// amounts, and none of them need be a text of its own first.
pub fn read<'de, D: Deserializer<'de>, T>(
    d: D,
    make: impl FnOnce(&str) -> T,
) -> Result<T, D::Error> {
    struct Text<F>(F);
    impl<T, F: FnOnce(&str) -> T> Visitor<'_> for Text<F> {
        type Value = T;
        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str("a string")
        }
        fn visit_str<E>(self, text: &str) -> Result<T, E> {
            Ok((self.0)(text))
        }
    }
    d.deserialize_str(Text(make))
}

/// One word of a closed list, as data.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Word {
    /// How files and commands spell it: kebab-case.
    pub id: &'static str,
    /// How the screen names it.
    pub title: &'static str,
    /// One plain sentence on what it is and when to take it.
    pub plain: &'static str,
}

/// An enumeration declared with [`words!`](crate::words!).
pub trait Words: Copy + PartialEq + Sized + 'static {
    /// Every value, in the order in which it is offered.
    const ALL: &'static [Self];
    /// Every word, in the same order.
    const WORDS: &'static [Word];

    /// The place of this value in the list.
    fn index(self) -> usize;
    /// The word of this value.
    fn word(self) -> &'static Word {
        &Self::WORDS[self.index()]
    }
    /// How files spell it.
    fn id(self) -> &'static str {
        self.word().id
    }
    /// How the screen names it.
    fn title(self) -> &'static str {
        self.word().title
    }
    /// The value that files spell so.
    fn from_id(id: &str) -> Option<Self> {
        let place = Self::WORDS.iter().position(|word| word.id == id)?;
        Some(Self::ALL[place])
    }
}

/// Declares an enumeration whose values have an id, a title and a plain sentence.
#[macro_export]
macro_rules! words {
    ($(#[$meta:meta])* $name:ident { $($(#[$value_meta:meta])* $value:ident = $id:literal, $title:literal, $plain:literal;)+ }) => {
        $(#[$meta])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
        pub enum $name {
            $(#[doc = $plain] $(#[$value_meta])* $value,)+
        }
        impl $crate::words::Words for $name {
            const ALL: &'static [Self] = &[$(Self::$value),+];
            const WORDS: &'static [$crate::words::Word] =
                &[$($crate::words::Word { id: $id, title: $title, plain: $plain }),+];
            fn index(self) -> usize {
                self as usize
            }
        }
        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
                let known = <Self as $crate::words::Words>::from_id;
                $crate::words::read(d, |text| known(text).ok_or_else(|| text.to_owned()))?
                    .map_err(|text| serde::de::Error::unknown_variant(&text, &[$($id),+]))
            }
        }
    };
}
