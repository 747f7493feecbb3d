//! Puts respelled numbers into their text, so that columns stay where they are.

use super::KEPT;
use super::numbers::Number;

/// Spaces before the first words of a paragraph, at most.
const MARGIN: usize = 4;

/// A line while its numbers are respelled. Columns stay where they are: what a number grows by
/// is taken from the spaces before it, or from those behind it, where there are several.
pub(super) struct Line<'t> {
    text: &'t str,
    at: usize,
    done: String,
}

impl<'t> Line<'t> {
    pub(super) fn new(text: &'t str) -> Self {
        Self {
            text,
            at: 0,
            done: String::with_capacity(text.len() + 8),
        }
    }

    /// Puts a number in another unit in.
    pub(super) fn put(&mut self, number: &Number, digits: &str, unit: &str) {
        let space = if unit.is_empty() { "" } else { " " };
        let new = format!("{digits}{space}{unit}");
        let old = self.text[number.start..number.unit_end].chars().count();
        self.replace(number.start, number.unit_end, &new, old);
    }

    /// Puts a number in that keeps its unit.
    pub(super) fn keep(&mut self, number: &Number, digits: &str, is_kept: bool) {
        let behind = &self.text[number.end..number.unit_end];
        let behind = match is_kept {
            true => behind.replace(' ', &KEPT.to_string()),
            false => behind.to_owned(),
        };
        let old = self.text[number.start..number.unit_end].chars().count();
        self.replace(
            number.start,
            number.unit_end,
            &format!("{digits}{behind}"),
            old,
        );
    }

    fn replace(&mut self, start: usize, end: usize, new: &str, old: usize) {
        self.done.push_str(&self.text[self.at..start]);
        self.at = end;
        let before = self.done.len() - self.done.trim_end_matches(' ').len();
        let rest = &self.text[end..];
        let behind = rest.len() - rest.trim_start_matches(' ').len();
        let length = new.chars().count();
        let grown = length.saturating_sub(old);
        let shrunk = old.saturating_sub(length);
        let is_line_end = behind == rest.len();
        // The first words of a paragraph are in no column.
        let before = match before == self.done.len() && before <= MARGIN {
            true => 0,
            false => before,
        };
        if before > 2 + grown || (before > 1 && (is_line_end || behind < 2)) {
            // It stands right in its column.
            let gone = grown.min(before.saturating_sub(2));
            self.done.truncate(self.done.len() - gone);
            self.done.extend(std::iter::repeat_n(' ', shrunk));
            self.done.push_str(new);
        } else {
            self.done.push_str(new);
            if behind > 1 {
                self.at += grown.min(behind - 1);
                self.done.extend(std::iter::repeat_n(' ', shrunk));
            }
        }
    }

    pub(super) fn finish(mut self) -> String {
        self.done.push_str(&self.text[self.at..]);
        self.done
    }
}
