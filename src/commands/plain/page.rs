//! What is said, as short paragraphs in the order in which they are heard: no tables, no
//! columns side by side, nothing that must be seen.

use super::talk::Way;
use crate::commands::layout::hanging_within;

/// The widest line: with its end it stays within 80 columns on every terminal.
pub(in crate::commands) const WIDTH: usize = 78;
/// Lines that are said at a time where somebody listens: a screenful with its prompt.
const PAGE: usize = 20;
/// Columns in front of an entry of a numbered list.
const NUMBER: usize = 5;

/// Paragraphs, each kept whole when a long list is told in parts. They are words until they are
/// said: in whose units and marks, and in which lines, is settled there.
#[derive(Clone, Debug, Default)]
pub(super) struct Page {
    blocks: Vec<Vec<Said>>,
}

/// A paragraph.
#[derive(Clone, Debug)]
struct Said {
    /// What stands in front, and how far in what follows is set.
    label: String,
    indent: usize,
    text: String,
    look: Look,
}

/// What a paragraph is.
#[derive(Clone, Copy, Debug)]
enum Look {
    Words,
    /// Painted, and set apart by an empty line.
    Heading,
    /// A line that is made already, in units that stay.
    Made,
}

impl Page {
    /// A page of one paragraph.
    pub(super) fn of(text: impl AsRef<str>) -> Self {
        let mut page = Self::default();
        page.text(text);
        page
    }

    /// A heading, set apart by an empty line.
    pub(super) fn heading(&mut self, text: &str) {
        self.put("", 0, text, Look::Heading);
    }

    /// A paragraph.
    pub(super) fn text(&mut self, text: impl AsRef<str>) {
        self.put("", 0, text.as_ref(), Look::Words);
    }

    /// An entry of a numbered list.
    pub(super) fn item(&mut self, number: usize, text: &str) {
        self.put(&format!("{number}."), NUMBER, text, Look::Words);
    }

    /// More about the entry before: kept together with it.
    pub(super) fn under(&mut self, text: impl AsRef<str>) {
        let said = Said {
            label: String::new(),
            indent: NUMBER,
            text: text.as_ref().to_owned(),
            look: Look::Words,
        };
        match self.blocks.last_mut() {
            Some(block) => block.push(said),
            None => self.blocks.push(vec![said]),
        }
    }

    /// Text whose lines are made already, such as formulas: they keep their units.
    pub(super) fn made(&mut self, text: &str) {
        text.lines()
            .for_each(|line| self.put("", 0, line, Look::Made));
    }

    fn put(&mut self, label: &str, indent: usize, text: &str, look: Look) {
        self.blocks.push(vec![Said {
            label: label.to_owned(),
            indent,
            text: text.to_owned(),
            look,
        }]);
    }

    /// Puts another page behind.
    pub(super) fn then(&mut self, other: Self) {
        self.blocks.extend(other.blocks);
    }

    /// All of it, in the paint, units and marks of the talk.
    pub(super) fn told(&self, way: &Way) -> String {
        self.blocks
            .iter()
            .map(|block| block_of(block, way))
            .collect()
    }

    /// All of it as the program writes it.
    #[cfg(test)]
    pub(super) fn whole(&self) -> String {
        self.told(&Way::plain())
    }

    /// As much as is said at a time, and what is left.
    pub(super) fn begun(mut self, way: &Way) -> (String, Self) {
        let mut lines = 0;
        let fits = self.blocks.iter().position(|block| {
            lines += block_of(block, way).lines().count();
            lines > PAGE
        });
        // One that is longer than a page by itself is said as a whole, or nothing ever would be.
        let rest = match fits {
            Some(place) => self.blocks.split_off(place.max(1)),
            None => Vec::new(),
        };
        (self.told(way), Self { blocks: rest })
    }

    /// Whether there is nothing in it.
    pub(super) fn is_empty(&self) -> bool {
        self.blocks.is_empty()
    }
}

fn block_of(block: &[Said], way: &Way) -> String {
    block.iter().map(|said| said.lines(way)).collect()
}

impl Said {
    fn lines(&self, way: &Way) -> String {
        let speller = &way.speller;
        let text = match self.look {
            Look::Made => speller.metric().spell(&self.text).into_owned() + "\n",
            Look::Words | Look::Heading => {
                let text = speller.spell(&self.text);
                hanging_within(WIDTH, &self.label, self.indent, &text)
            }
        };
        let text = speller.finish(&text);
        match self.look {
            Look::Heading => {
                let lines = text.lines().map(|line| way.paint.heading(line) + "\n");
                format!("\n{}", lines.collect::<String>())
            }
            Look::Words | Look::Made => text.into_owned(),
        }
    }
}
