//! The page of words: which it lists, and where the cursor is. What was under the cursor when it
//! was opened comes first, since that is what somebody wants to understand.

use super::typed::Typed;
use crate::catalogue::glossary::{Entry, in_text};
use crate::order::Order as _;

/// One row of the page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Row {
    /// A heading.
    Head(&'static str),
    /// A word, by its place in the glossary.
    Word(usize),
}

/// The page of words.
#[derive(Debug, Default)]
pub struct WordPage {
    /// The words of the text from which the page was opened.
    here: Vec<usize>,
    /// What is looked for.
    pub field: Typed,
    /// Its rows.
    rows: Vec<Row>,
    /// The cursor among the words, headings left out.
    pub cursor: usize,
}

/// The heading above the words of the text.
const HERE: &str = "In what was under the cursor";
/// The heading above all words.
const ALL: &str = "All words";

impl WordPage {
    /// Opens the page on a text.
    pub fn open(&mut self, glossary: &[Entry], text: &str) {
        self.here = in_text(glossary, text)
            .into_iter()
            .filter_map(|found| glossary.iter().position(|entry| entry.id == found.id))
            .collect();
        self.field = Typed::default();
        self.list(glossary);
    }

    /// Lists what is looked for, or all, from the top.
    pub fn list(&mut self, glossary: &[Entry]) {
        self.cursor = 0;
        let text = self.field.value().trim().to_lowercase();
        let mut all: Vec<usize> = (0..glossary.len()).collect();
        all.order_by_key(|place| glossary[*place].word.to_lowercase());
        self.rows.clear();
        if text.is_empty() {
            if !self.here.is_empty() {
                self.rows.push(Row::Head(HERE));
                self.rows.extend(self.here.iter().copied().map(Row::Word));
                self.rows.push(Row::Head(ALL));
            }
            self.rows.extend(all.into_iter().map(Row::Word));
            return;
        }
        // What is called so stands before what only speaks of it.
        all.retain(|place| glossary[*place].speaks_of(&text));
        all.order_by_key(|place| {
            let entry = &glossary[*place];
            let begins = |one: &str| one.to_lowercase().starts_with(&text);
            (!entry.spellings().any(begins), !entry.is_called(&text))
        });
        self.rows.extend(all.into_iter().map(Row::Word));
    }

    /// Its rows.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// The words among the rows.
    pub fn words(&self) -> impl Iterator<Item = usize> + '_ {
        self.rows.iter().filter_map(|row| match row {
            Row::Word(place) => Some(*place),
            Row::Head(_) => None,
        })
    }

    /// The word under the cursor.
    pub fn current(&self) -> Option<usize> {
        self.words().nth(self.cursor)
    }
}

/// The words to go on to from a word, by their places: those that it names, then those that its
/// definition uses.
pub fn next_words(glossary: &[Entry], place: usize) -> Vec<usize> {
    let Some(entry) = glossary.get(place) else {
        return Vec::new();
    };
    let used = in_text(glossary, &entry.means);
    let ids = entry.see.iter().chain(used.iter().map(|one| &one.id));
    let mut found = Vec::new();
    for id in ids {
        let next = glossary.iter().position(|other| other.id == *id);
        found.extend(next.filter(|next| *next != place && !found.contains(next)));
    }
    found
}
