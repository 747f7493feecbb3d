//! Words of the trade and what they mean: data, so that screen, commands and tests know the same
//! ones, and a workshop can add its own. Here too stands how a word is found: by what somebody
//! typed, or in a text that is on the screen.

use serde::Deserialize;

use super::part::Id;
use super::text::Text;
use crate::order::Order as _;

/// A word with its definition.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Its name.
    pub id: Id,
    /// The word as people say it.
    pub word: Text,
    /// Other spellings; a plural with s or es is known by itself.
    #[serde(default)]
    pub also: Vec<Text>,
    /// What it means, in one or two plain sentences.
    pub means: Text,
    /// The standard that defines the word or the thing.
    #[serde(default)]
    pub standard: Option<Text>,
    /// Words to read next, by their ids.
    #[serde(default)]
    pub see: Vec<Id>,
}

impl Entry {
    /// The word and its other spellings.
    pub fn spellings(&self) -> impl Iterator<Item = &str> {
        let also = self.also.iter().copied();
        std::iter::once(self.word)
            .chain(also)
            .map(|word| word.as_str())
    }

    /// Whether every part of a text that is looked for stands in the word or in its other
    /// spellings; in lower case.
    pub fn is_called(&self, text: &str) -> bool {
        let names = self.spellings().map(str::to_lowercase);
        holds(&names.collect::<Vec<_>>().join(" "), text)
    }

    /// The same with the definition.
    pub fn speaks_of(&self, text: &str) -> bool {
        let all = self.spellings().chain([self.means.as_str()]);
        holds(
            &all.map(str::to_lowercase).collect::<Vec<_>>().join(" "),
            text,
        )
    }
}

/// Adds the words of a file; those of a known id take the place of the older ones.
pub(super) fn absorb(glossary: &mut Vec<Entry>, words: Vec<Entry>) {
    let before = glossary.len();
    for entry in words {
        // No file says an id twice.
        let old = glossary.iter_mut().take(before);
        match old.into_iter().find(|old| old.id == entry.id) {
            Some(old) => *old = entry,
            None => glossary.push(entry),
        }
    }
}

fn holds(text: &str, looked_for: &str) -> bool {
    looked_for
        .split_whitespace()
        .all(|part| text.contains(part))
}

/// The entry that somebody means by a word: by its id or a spelling, one or many of it.
pub fn find<'g>(glossary: &'g [Entry], text: &str) -> Option<&'g Entry> {
    let text = text.trim().to_lowercase();
    let is = |spelling: &str| {
        let spelling = spelling.to_lowercase();
        text.strip_prefix(&spelling).is_some_and(is_plural)
    };
    let by_id = glossary.iter().find(|entry| entry.id.as_str() == text);
    by_id.or_else(|| glossary.iter().find(|entry| entry.spellings().any(is)))
}

/// Every entry in the order of the alphabet.
pub fn sorted(glossary: &[Entry]) -> Vec<&Entry> {
    let mut all: Vec<&Entry> = glossary.iter().collect();
    all.order_by_key(|entry| entry.word.to_lowercase());
    all
}

/// The words of the glossary that occur in a text, in the order in which they do. Of spellings
/// that begin at the same place the longest counts: `ball screw` is not `screw` as well.
pub fn in_text<'g>(glossary: &'g [Entry], text: &str) -> Vec<&'g Entry> {
    let known: Vec<(Vec<&str>, &Entry)> = glossary
        .iter()
        .flat_map(|entry| entry.spellings().map(move |one| (tokens(one), entry)))
        .filter(|(spelling, _)| !spelling.is_empty())
        .collect();
    let text = tokens(text);
    let mut found: Vec<&Entry> = Vec::new();
    let mut at = 0;
    while at < text.len() {
        let here = known
            .iter()
            .filter(|(spelling, _)| begins(&text[at..], spelling));
        match here.max_by_key(|(spelling, _)| spelling.len()) {
            Some((spelling, entry)) => {
                if !found.iter().any(|known| known.id == entry.id) {
                    found.push(entry);
                }
                at += spelling.len();
            }
            None => at += 1,
        }
    }
    found
}

/// The words of a text: letters and digits, and marks that stand between them as in `N/µm`.
pub fn tokens(text: &str) -> Vec<&str> {
    let inside = |c: char| c.is_alphanumeric() || matches!(c, '-' | '/');
    text.split(|c: char| !inside(c))
        .map(|token| token.trim_matches(['-', '/']))
        .filter(|token| !token.is_empty())
        .collect()
}

fn begins(text: &[&str], spelling: &[&str]) -> bool {
    let Some((last, before)) = spelling.split_last() else {
        return false;
    };
    let Some(text) = text.get(..spelling.len()) else {
        return false;
    };
    before.iter().zip(text).all(|(one, other)| same(one, other))
        && text.last().is_some_and(|token| same_or_plural(last, token))
}

/// A spelling with a capital letter is meant so: NO is no `no`.
fn same(spelling: &str, token: &str) -> bool {
    match spelling.chars().any(char::is_uppercase) {
        true => spelling == token,
        false => spelling.eq_ignore_ascii_case(token),
    }
}

fn same_or_plural(spelling: &str, token: &str) -> bool {
    same(spelling, token)
        || token.get(..spelling.len()).is_some_and(|start| {
            same(spelling, start) && token.get(spelling.len()..).is_some_and(is_plural)
        })
}

fn is_plural(ending: &str) -> bool {
    matches!(ending, "" | "s" | "es")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(id: &str, word: &str, also: &[&str]) -> Entry {
        Entry {
            id: Id::new(id).expect("an id"),
            word: word.into(),
            also: also.iter().map(|&one| one.into()).collect(),
            means: "What it means.".into(),
            standard: None,
            see: Vec::new(),
        }
    }

    #[test]
    fn the_longest_spelling_counts_and_capitals_are_meant() {
        let glossary = [
            entry("screw", "screw", &[]),
            entry("ball-screw", "ball screw", &["ballscrew"]),
            entry("normally-open", "normally open", &["NO"]),
            entry("axis", "axis", &["axes", "X"]),
            entry("stiffness", "stiffness", &["N/µm"]),
        ];
        let ids = |text: &str| -> Vec<String> {
            let found = in_text(&glossary, text);
            found.iter().map(|entry| entry.id.to_string()).collect()
        };
        assert_eq!(ids("Ball screws, not screws."), ["ball-screw", "screw"]);
        assert_eq!(ids("There is no screwdriver for x."), Vec::<String>::new());
        assert_eq!(
            ids("X: a NO switch; 100 N/µm"),
            ["axis", "normally-open", "stiffness"]
        );
        assert_eq!(ids(""), Vec::<String>::new());
    }

    #[test]
    fn a_word_is_found_by_id_spelling_and_plural() {
        let glossary = [
            entry("ball-screw", "ball screw", &[]),
            entry("direct-current", "direct current", &["DC"]),
        ];
        let id = |text: &str| find(&glossary, text).map(|entry| entry.id.to_string());
        assert_eq!(id("Ball Screws ").as_deref(), Some("ball-screw"));
        assert_eq!(id("ball-screw").as_deref(), Some("ball-screw"));
        assert_eq!(id("dc").as_deref(), Some("direct-current"));
        assert_eq!(id("ball"), None);
        assert_eq!(id(""), None);
    }
}
