//! A text that is typed: what stands in a field, and what keys and a paste make of it.
//!
//! Many fields begin with what is most likely meant. There the first character begins anew, so
//! that nobody has to delete a proposal first, while a key that moves or deletes keeps it, since
//! whoever presses one means to change it. That is so on every page or on none: each field holds a
//! [`Typed`], and says only how it begins.

use tui_input::{Input, InputRequest};

use super::action::TextMove;

/// The longest text that a field takes, in characters: more than any path or note needs.
const LONGEST: usize = 4096;

/// What stands in a field. One made from a text is added to; see [`Typed::proposed`].
#[derive(Clone, Debug, Default)]
pub struct Typed {
    input: Input,
    /// Whether nothing was typed yet: the first character replaces the text.
    fresh: bool,
}

impl<T: Into<String>> From<T> for Typed {
    fn from(text: T) -> Self {
        Self {
            input: Input::new(text.into()),
            fresh: false,
        }
    }
}

impl Typed {
    /// A text that the first character replaces.
    pub fn proposed(text: impl Into<String>) -> Self {
        Self {
            fresh: true,
            ..Self::from(text)
        }
    }

    /// Proposes another text, as long as nobody typed one.
    pub fn propose(&mut self, text: String) {
        if self.fresh {
            *self = Self::proposed(text);
        }
    }

    /// The text.
    pub fn value(&self) -> &str {
        self.input.value()
    }

    /// The text with its cursor, to be drawn.
    pub fn as_input(&self) -> &Input {
        &self.input
    }

    /// Types a character.
    pub fn insert(&mut self, c: char) {
        self.begin();
        self.put(c);
    }

    /// Types a pasted text, as one line.
    pub fn paste(&mut self, text: &str) {
        self.begin();
        for c in in_a_line(text).chars().take(LONGEST) {
            self.put(c);
        }
    }

    /// Moves or deletes; says whether that changed the text.
    pub fn edit(&mut self, by: TextMove) -> bool {
        self.keep();
        let request = match by {
            TextMove::Left => InputRequest::GoToPrevChar,
            TextMove::Right => InputRequest::GoToNextChar,
            TextMove::Start => InputRequest::GoToStart,
            TextMove::End => InputRequest::GoToEnd,
            TextMove::DeleteBefore => InputRequest::DeletePrevChar,
            TextMove::DeleteAfter => InputRequest::DeleteNextChar,
            TextMove::Clear => InputRequest::DeleteLine,
        };
        let before = self.value().to_owned();
        self.input.handle(request);
        self.value() != before
    }

    /// Keeps what stands there, whatever is typed next.
    pub fn keep(&mut self) {
        self.fresh = false;
    }

    /// Empties the field where what stands in it is only proposed.
    fn begin(&mut self) {
        if std::mem::take(&mut self.fresh) {
            self.input.reset();
        }
    }

    fn put(&mut self, c: char) {
        if self.value().chars().count() < LONGEST {
            self.input.handle(InputRequest::InsertChar(c));
        }
    }
}

/// A text as one line: what commands a terminal is left out, line ends and tabs become one
/// space.
fn in_a_line(text: &str) -> String {
    let mut line = String::new();
    let mut gap = false;
    let mut chars = text.chars().peekable();
    while let Some(c) = chars.next() {
        match c {
            // A whole sequence (ECMA-48, 5.4): parameters up to the letter that ends it.
            '\u{1b}' if chars.next_if_eq(&'[').is_some() => {
                chars.by_ref().find(|c| ('@'..='~').contains(c));
            }
            '\n' | '\r' | '\t' => gap = !line.is_empty(),
            c if c.is_control() => {}
            c => {
                if gap && c != ' ' && !line.ends_with(' ') {
                    line.push(' ');
                }
                gap = false;
                line.push(c);
            }
        }
    }
    line
}
