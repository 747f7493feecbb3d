//! The texts of entries: names, reasons, sources.
//!
//! There are some four thousand of them, and most stand in the program itself. Those are shown
//! from where they stand: copied one by one they would be a tenth of what a start does before its
//! first frame, and memory that nobody else can share. What somebody wrote is kept once for each
//! text, for as long as the program runs: so nobody needs to count who still shows it, and a copy
//! costs nothing, wherever figures that are worked out at every keypress name parts by the hundred.

use std::borrow::Borrow;
use std::collections::HashSet;
use std::fmt;
use std::ops::Deref;
use std::sync::{Mutex, PoisonError};

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::reader::in_built_in;
use crate::words;

/// A text of an entry.
#[derive(Clone, Copy, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Text(&'static str);

impl Text {
    /// A text of the program itself, or one that was kept before.
    pub fn known(text: &'static str) -> Self {
        Self(text)
    }

    /// The text.
    pub fn as_str(&self) -> &'static str {
        self.0
    }
}

/// What somebody wrote, each text once.
static WRITTEN: Mutex<Option<HashSet<&'static str>>> = Mutex::new(None);

impl From<&str> for Text {
    fn from(text: &str) -> Self {
        Self(in_built_in(text).unwrap_or_else(|| kept(text)))
    }
}

#[inline(never)]
fn kept(text: &str) -> &'static str {
    let mut written = WRITTEN.lock().unwrap_or_else(PoisonError::into_inner);
    let written = written.get_or_insert_default();
    written.get(text).copied().unwrap_or_else(|| {
        let text: &'static str = Box::leak(text.into());
        written.insert(text);
        text
    })
}

impl From<Text> for String {
    fn from(text: Text) -> Self {
        text.0.to_owned()
    }
}

impl Deref for Text {
    type Target = str;

    fn deref(&self) -> &str {
        self.0
    }
}

impl AsRef<str> for Text {
    fn as_ref(&self) -> &str {
        self.0
    }
}

impl Borrow<str> for Text {
    fn borrow(&self) -> &str {
        self.0
    }
}

impl fmt::Debug for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(self.0, f)
    }
}

impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self.0, f)
    }
}

impl PartialEq<str> for Text {
    fn eq(&self, other: &str) -> bool {
        self.0 == other
    }
}

impl PartialEq<&str> for Text {
    fn eq(&self, other: &&str) -> bool {
        self.0 == *other
    }
}

impl PartialEq<String> for Text {
    fn eq(&self, other: &String) -> bool {
        self.0 == other
    }
}

impl PartialEq<Text> for String {
    fn eq(&self, other: &Text) -> bool {
        self == other.0
    }
}

impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        words::read(d, |text| Self::from(text))
    }
}

impl Serialize for Text {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        s.serialize_str(self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::CatalogueFile;
    use crate::catalogue::reader::built_in;

    fn is_built_in(text: Text) -> bool {
        in_built_in(text.as_str()).is_some()
    }

    #[test]
    fn what_is_built_in_is_not_copied_and_what_somebody_wrote_is_kept_once() {
        let mut titles = 0;
        for file in built_in() {
            let file: CatalogueFile = file.read().expect("what is built in");
            for task in &file.tasks {
                let title = task.value().title;
                assert!(is_built_in(title), "{title}");
                let own = [
                    Text::from(&*title.to_string()),
                    Text::from(&*title.to_string()),
                ];
                assert!(!is_built_in(own[0]) && own[0] == title);
                assert_eq!(own[0].as_ptr(), own[1].as_ptr());
                titles += 1;
            }
        }
        assert!(titles > 20, "{titles}");
    }

    #[test]
    fn a_part_of_a_text_that_is_built_in_is_not_copied_either() {
        let word = |file: CatalogueFile| file.words.first().map(|one| one.value().word);
        let mut files = built_in().map(|file| file.read().expect("what is built in"));
        let word = files.find_map(word).expect("a word");
        let part = Text::from(&word[..word.len() - 1]);
        assert!(is_built_in(part) && word.starts_with(part.as_str()));
        assert_eq!(Text::from(""), Text::default());
    }
}
