//! The one message that an unusable file gives: where, what is wrong, what would be right.

use std::fmt;
use std::ops::Range;

use super::visible::visible;

/// The longest message shown, in characters: a file may hold a word of a megabyte.
pub(super) const LONGEST: usize = 600;

/// Why a file cannot be used. Prints as `FILE:LINE:COLUMN: what is wrong; what would be
/// right`, or without the place where the trouble has none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileError {
    /// The file as the user named it.
    pub file: String,
    /// Line and column, from one; columns count characters.
    pub place: Option<(usize, usize)>,
    /// What is wrong; what would be right.
    pub message: String,
    /// What else is wrong, where it is worth saying at once.
    pub more: Vec<FileError>,
}

impl FileError {
    /// An error about a file as a whole.
    pub fn new(file: impl Into<String>, message: impl Into<String>) -> Self {
        Self {
            file: file.into(),
            place: None,
            message: message.into(),
            more: Vec::new(),
        }
    }

    /// An error at a place of the file's text, given in bytes.
    pub fn at(
        file: impl Into<String>,
        text: &str,
        span: Range<usize>,
        message: impl Into<String>,
    ) -> Self {
        Self {
            place: Some(line_and_column(text, span.start)),
            ..Self::new(file, message)
        }
    }

    /// The place as the message begins with it: `FILE:LINE:COLUMN`.
    pub fn origin(&self) -> String {
        let file = visible(&self.file);
        match self.place {
            Some((line, column)) => format!("{file}:{line}:{column}"),
            None => file.into_owned(),
        }
    }
}

impl fmt::Display for FileError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.origin(), clipped(&self.message))?;
        for other in &self.more {
            write!(f, "\n{other}")?;
        }
        Ok(())
    }
}

impl std::error::Error for FileError {}

/// A message made safe for the terminal and cut to a length that can be read.
pub fn clipped(message: &str) -> String {
    let cut: String = message.chars().take(LONGEST).collect();
    let dots = if cut.len() < message.len() {
        " [...]"
    } else {
        ""
    };
    format!("{}{dots}", visible(&cut))
}

/// Line and column of a byte, both from one. Columns count characters, as editors do.
pub fn line_and_column(text: &str, byte: usize) -> (usize, usize) {
    let before = text.get(..byte.min(text.len())).unwrap_or(text);
    let line = before.matches('\n').count() + 1;
    let start = before.rfind('\n').map_or(0, |newline| newline + 1);
    let column = before[start..]
        .trim_start_matches('\u{feff}')
        .chars()
        .count()
        + 1;
    (line, column)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_count_characters_from_one() {
        let text = "erste = 1\nzwölf = \"x\"\n";
        assert_eq!(line_and_column(text, 0), (1, 1));
        let byte = text.find("\"x\"").expect("there");
        assert_eq!(line_and_column(text, byte), (2, 9));
        assert_eq!(line_and_column(text, 1000), (3, 1));
    }

    #[test]
    fn a_message_is_one_safe_line_of_bounded_length() {
        let error = FileError::at("a\u{1b}.toml", "x", 0..1, "wrong\u{202e}".repeat(500));
        let shown = error.to_string();
        assert!(shown.starts_with("a\\u{1b}.toml:1:1: wrong\\u{202e}wrong"));
        assert!(shown.ends_with("[...]") && shown.chars().count() < 2000);
    }
}
