//! Text from files is data: nothing in it may steer the terminal that shows it.

use std::borrow::Cow;
use std::fmt::Write as _;

pub use crate::words::hidden::is_hidden;

/// The text with every character that could steer a terminal or reorder what stands beside
/// it (control characters, escape sequences, marks of writing direction, invisible ones)
/// spelled out, such as `\u{1b}`.
pub fn visible(text: &str) -> Cow<'_, str> {
    // Most texts are plain ASCII: that is seen without looking at letters.
    let is_plain = || text.bytes().all(|byte| matches!(byte, b' '..=b'~'));
    if is_plain() || !text.contains(is_hidden) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for letter in text.chars() {
        match letter {
            _ if !is_hidden(letter) => shown.push(letter),
            '\n' => shown.push_str("\\n"),
            '\r' => shown.push_str("\\r"),
            '\t' => shown.push_str("\\t"),
            _ => {
                // Writing to a string cannot fail.
                let _ = write!(shown, "\\u{{{:x}}}", u32::from(letter));
            }
        }
    }
    Cow::Owned(shown)
}

/// How a text begins that a spreadsheet program takes for a formula; the last four are the wide
/// forms that some take for the narrow ones.
const FORMULA: [char; 10] = [
    '=', '+', '-', '@', '\t', '\r', '\u{ff1d}', '\u{ff0b}', '\u{ff0d}', '\u{ff20}',
];

/// The text as a cell of a table that is no formula to any spreadsheet program: visible, and with
/// an apostrophe in front, which such programs take for "this is text", where it begins like one.
/// What is a number stays a number.
pub fn visible_cell(text: &str) -> Cow<'_, str> {
    let number = || text.parse::<f64>().is_ok();
    match text.starts_with(FORMULA) && !number() {
        true => Cow::Owned(format!("'{}", visible(text))),
        false => visible(text),
    }
}

/// JSON with the same characters spelled as `\u` escapes, which readers of JSON undo. Only
/// strings can hold them once the document is written, so it means the same as before.
pub fn visible_json(json: &str) -> String {
    let mut shown = String::with_capacity(json.len());
    let mut units = [0; 2];
    for letter in json.chars() {
        if letter == '\n' || !is_hidden(letter) {
            shown.push(letter);
            continue;
        }
        for unit in letter.encode_utf16(&mut units) {
            let _ = write!(shown, "\\u{unit:04x}");
        }
    }
    shown
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escape_sequences_and_direction_marks_are_spelled_out() {
        assert_eq!(visible("a\u{1b}[31mb"), "a\\u{1b}[31mb");
        assert_eq!(visible("one\u{202e}two"), "one\\u{202e}two");
        assert_eq!(visible("one\ntwo\t\u{9b}"), "one\\ntwo\\t\\u{9b}");
        assert_eq!(visible("Fräse für 600 mm²"), "Fräse für 600 mm²");
    }

    #[test]
    fn no_cell_is_a_formula_and_numbers_stay_numbers() {
        for text in [
            "=1",
            "+x",
            "-2+3",
            "@s",
            "\u{ff1d}1",
            "-",
            "+",
            "-1 mm",
            "--1",
        ] {
            assert_eq!(visible_cell(text), format!("'{text}"));
        }
        assert_eq!(visible_cell("\t=1"), "'\\t=1");
        for text in ["-1.50", "+2", "-1e3", "a=1", "", "1-2", "'=1"] {
            assert_eq!(visible_cell(text), text);
        }
    }

    #[test]
    fn json_means_the_same_after_it_is_made_visible() {
        let title = "a\u{9b}b\u{202e}c\u{e0041}d\u{7f}";
        let json = serde_json::json!({ "title": title });
        let shown = visible_json(&serde_json::to_string_pretty(&json).expect("plain data"));
        assert!(
            !shown
                .chars()
                .any(|letter| letter != '\n' && is_hidden(letter))
        );
        let back: serde_json::Value = serde_json::from_str(&shown).expect("still JSON");
        assert_eq!(back, json);
    }
}
