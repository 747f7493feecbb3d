//! What is said, as short paragraphs in the order in which they are heard: no tables, no
//! columns side by side, nothing that must be seen.

use crate::commands::color::Paint;
use crate::commands::layout::hanging_within;

/// The widest line: with its end it stays within 80 columns on every terminal.
pub(super) const WIDTH: usize = 78;
/// Lines that are said at a time where somebody listens: a screenful with its prompt.
const PAGE: usize = 20;
/// Columns in front of an entry of a numbered list.
const NUMBER: usize = 5;

/// Paragraphs, each kept whole when a long list is told in parts.
#[derive(Clone, Debug, Default)]
pub(super) struct Page {
    blocks: Vec<String>,
}

impl Page {
    /// A page of one paragraph.
    pub(super) fn of(text: impl AsRef<str>) -> Self {
        let mut page = Self::default();
        page.text(text);
        page
    }

    /// A heading, set apart by an empty line.
    pub(super) fn heading(&mut self, text: &str, paint: Paint) {
        let lines = hanging_within(WIDTH, "", 0, text);
        let lines = lines.lines().map(|line| paint.heading(line) + "\n");
        self.blocks.push(format!("\n{}", lines.collect::<String>()));
    }

    /// A paragraph.
    pub(super) fn text(&mut self, text: impl AsRef<str>) {
        self.blocks
            .push(hanging_within(WIDTH, "", 0, text.as_ref()));
    }

    /// An entry of a numbered list.
    pub(super) fn item(&mut self, number: usize, text: &str) {
        let label = format!("{number}.");
        self.blocks
            .push(hanging_within(WIDTH, &label, NUMBER, text));
    }

    /// More about the entry before: kept together with it.
    pub(super) fn under(&mut self, text: impl AsRef<str>) {
        let text = hanging_within(WIDTH, "", NUMBER, text.as_ref());
        match self.blocks.last_mut() {
            Some(block) => block.push_str(&text),
            None => self.blocks.push(text),
        }
    }

    /// Text whose lines are made already.
    pub(super) fn made(&mut self, text: &str) {
        let lines = text.lines().map(|line| format!("{line}\n"));
        self.blocks.extend(lines);
    }

    /// Puts another page behind.
    pub(super) fn then(&mut self, other: Self) {
        self.blocks.extend(other.blocks);
    }

    /// All of it.
    pub(super) fn whole(self) -> String {
        self.blocks.concat()
    }

    /// As much as is said at a time, and what is left.
    pub(super) fn begun(mut self) -> (String, Self) {
        let mut lines = 0;
        let fits = self.blocks.iter().position(|block| {
            lines += block.lines().count();
            lines > PAGE
        });
        // One that is longer than a page by itself is said as a whole, or nothing ever would be.
        let rest = match fits {
            Some(place) => self.blocks.split_off(place.max(1)),
            None => Vec::new(),
        };
        (self.whole(), Self { blocks: rest })
    }

    /// Whether there is nothing in it.
    pub(super) fn is_empty(&self) -> bool {
        self.blocks.is_empty()
    }
}

/// A sentence with its first letter large.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}
