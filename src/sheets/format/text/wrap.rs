//! Lines of text in columns as a terminal counts them.

use unicode_segmentation::UnicodeSegmentation as _;
use unicode_width::UnicodeWidthStr as _;

/// A text in lines of so many columns at most, broken between words, and within a word only
/// where it is longer than a line.
pub(super) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let width = width.max(1);
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
        let mut rest = word;
        if !line.is_empty() {
            if line.width() + 1 + word.width() <= width {
                line.push(' ');
                line.push_str(word);
                continue;
            }
            lines.push(std::mem::take(&mut line));
        }
        while rest.width() > width {
            let (head, tail) = split(rest, width);
            lines.push(head.to_owned());
            rest = tail;
        }
        line.push_str(rest);
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

/// As much of a word as so many columns hold, one character at least, and the rest.
fn split(word: &str, width: usize) -> (&str, &str) {
    let mut columns = 0;
    for (place, grapheme) in word.grapheme_indices(true) {
        columns += grapheme.width();
        if columns > width && place > 0 {
            return word.split_at(place);
        }
    }
    (word, "")
}

/// A text filled up with spaces behind it.
pub(super) fn padded(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(text.width())))
}

/// A text filled up with spaces in front.
pub(super) fn right(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(text.width())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stay_whole_where_they_can() {
        assert_eq!(wrapped("one two three", 8), ["one two", "three"]);
        assert_eq!(wrapped("abcdefghij k", 4), ["abcd", "efgh", "ij k"]);
        assert_eq!(wrapped("", 4), [""]);
        // Wide characters take two columns.
        assert_eq!(wrapped("漢字漢字", 4), ["漢字", "漢字"]);
    }
}
