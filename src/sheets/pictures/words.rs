//! Text inside pictures: made harmless for markup, measured, and broken into lines.
//!
//! SVG breaks no lines by itself and knows no width before a browser draws it, so widths are
//! computed here on the safe side, after the widths of common sans-serif letters.

use crate::store::visible;

/// Text as markup may hold it: what marks up is escaped, what would steer instead of being read
/// is spelled out, and letters that XML forbids are left out.
pub(in crate::sheets) fn escaped(text: &str) -> String {
    let text = visible(text);
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\u{fffe}' | '\u{ffff}' => {}
            _ => safe.push(letter),
        }
    }
    safe
}

/// About how wide a text is at a size: rather too wide than too narrow.
pub(super) fn width(text: &str, size: f64) -> f64 {
    let of = |letter: char| match letter {
        'i' | 'j' | 'l' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' => 0.32,
        'f' | 'r' | 't' | '(' | ')' | '/' | '-' => 0.42,
        'm' | 'w' | 'M' | 'W' => 0.97,
        'A'..='Z' | '%' => 0.74,
        letter if letter.is_ascii() => 0.63,
        // Letters of other scripts may be as wide as high.
        'µ' | 'à'..='ÿ' => 0.65,
        _ => 1.0,
    };
    text.chars().map(of).sum::<f64>() * size
}

/// A text in lines of at most a width; a word that is longer than a line is broken.
pub(super) fn lines(text: &str, size: f64, most: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    // What steers is spelled out, and longer then.
    for word in visible(text).split_whitespace() {
        let fits = |line: &str| {
            let gap = if line.is_empty() { "" } else { " " };
            width(line, size) + width(gap, size) + width(word, size) <= most
        };
        let Some(line) = lines.last_mut() else { break };
        if fits(line) {
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
            continue;
        }
        if !line.is_empty() {
            lines.push(String::new());
        }
        broken(word, size, most, &mut lines);
    }
    lines
}

/// Adds a word to the last line, letter by letter, and goes on where it is full.
fn broken(word: &str, size: f64, most: f64, lines: &mut Vec<String>) {
    for letter in word.chars() {
        let mut one = [0; 4];
        let letter = &*letter.encode_utf8(&mut one);
        match lines.last_mut() {
            Some(line) if line.is_empty() || width(line, size) + width(letter, size) <= most => {
                line.push_str(letter);
            }
            _ => lines.push(letter.to_owned()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn markup_is_text_and_steering_characters_are_spelled_out() {
        let hostile = "</svg><script>\u{1b}[31m\"a\" & 'b'\u{ffff}";
        assert_eq!(
            escaped(hostile),
            "&lt;/svg&gt;&lt;script&gt;\\u{1b}[31m&quot;a&quot; &amp; &#39;b&#39;"
        );
    }

    #[test]
    fn every_line_keeps_within_its_width_and_no_letter_is_lost() {
        let text = "a rather long name of a load, and ane_endless_word_without_any_place_to_break";
        let found = lines(text, 12.0, 100.0);
        assert!(found.iter().all(|line| width(line, 12.0) <= 100.0));
        let letters = |text: &str| text.replace(' ', "");
        assert_eq!(letters(&found.concat()), letters(text));
    }
}
