//! Text on a grid: cut, padded and wrapped by display width, control characters made
//! visible. Everything that comes from a file passes through here before it is drawn.

use std::borrow::Cow;

use tui_input::Input;
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

/// Columns that a text takes.
pub fn width(text: &str) -> usize {
    match text.bytes().all(|byte| matches!(byte, b' '..=b'~')) {
        true => text.len(),
        false => UnicodeWidthStr::width(text),
    }
}

/// Whether a letter takes one column on every terminal and stands by itself: ASCII, lines, blocks
/// and braille do; of other letters terminals may hold another opinion than the tables of Unicode.
pub fn is_surely_one(letter: char) -> bool {
    matches!(letter,
        ' '..='~'
        | '\u{a0}'..='\u{ac}' | '\u{ae}'..='\u{ff}' | '\u{3bc}'
        | '\u{2500}'..='\u{259f}' | '\u{2800}'..='\u{28ff}')
}

/// The text with characters that would command the terminal written out, such as `\u{1b}`.
pub fn clean(text: &str) -> Cow<'_, str> {
    crate::store::visible(text)
}

/// The longest beginning of a text that fits, without half a character.
fn head(text: &str, columns: usize) -> &str {
    let mut used = 0;
    for (place, grapheme) in text.grapheme_indices(true) {
        used += width(grapheme);
        if used > columns {
            return &text[..place];
        }
    }
    text
}

/// What of a field stands in so many columns: from where it is scrolled to, so that the cursor
/// is in view. Never half a character.
pub fn in_view(input: &Input, columns: usize) -> &str {
    let text = input.value();
    let hidden = input.visual_scroll(columns);
    let mut used = 0;
    for (place, grapheme) in text.grapheme_indices(true) {
        if used >= hidden {
            return &text[place..];
        }
        used += width(grapheme);
    }
    ""
}

/// The column of the cursor in that part.
pub fn column_in_view(input: &Input, columns: usize) -> usize {
    let hidden = width(input.value()).saturating_sub(width(in_view(input, columns)));
    input.visual_cursor().saturating_sub(hidden)
}

/// Cuts a text that is too wide and marks the cut, after a whole word where one is near.
pub fn cut(text: &str, columns: usize, mark: &str) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let room = columns.saturating_sub(width(mark));
    let fits = head(text, room);
    let at_word = match fits.rfind(' ') {
        _ if text[fits.len()..].starts_with(' ') => fits,
        Some(space) if space * 2 > fits.len() => &fits[..space],
        _ => fits,
    };
    let kept = at_word.trim_end_matches([' ', ',', ':', ';']);
    format!("{kept}{}", head(mark, columns))
}

/// Cuts the beginning of a text that is too wide and marks the cut: what a path ends with
/// tells more than what it begins with.
pub fn cut_front(text: &str, columns: usize, mark: &str) -> String {
    if width(text) <= columns {
        return text.to_owned();
    }
    let room = columns.saturating_sub(width(mark));
    let mut from = text.len();
    for (place, _) in text.grapheme_indices(true).rev() {
        if width(&text[place..]) > room {
            break;
        }
        from = place;
    }
    format!("{}{}", head(mark, columns), &text[from..])
}

/// Cuts or pads a text on the right to exactly so many columns.
pub fn left(text: &str, columns: usize, mark: &str) -> String {
    let (text, blanks) = padded(text, columns, mark);
    let mut row = String::with_capacity(text.len() + blanks);
    row.push_str(&text);
    pad(&mut row, blanks);
    row
}

/// Cuts or pads a text on the left to exactly so many columns.
pub fn right(text: &str, columns: usize, mark: &str) -> String {
    let (text, blanks) = padded(text, columns, mark);
    let mut row = String::with_capacity(text.len() + blanks);
    pad(&mut row, blanks);
    row.push_str(&text);
    row
}

/// A text cut where it is too wide, and the blanks that it lacks. Every cell of every table on the
/// screen is padded, at every key: so this is spared what it can be.
fn padded<'t>(text: &'t str, columns: usize, mark: &str) -> (Cow<'t, str>, usize) {
    let wide = width(text);
    match wide <= columns {
        true => (Cow::Borrowed(text), columns - wide),
        false => {
            let text = cut(text, columns, mark);
            let blanks = columns.saturating_sub(width(&text));
            (Cow::Owned(text), blanks)
        }
    }
}

fn pad(row: &mut String, blanks: usize) {
    const SOME: &str = "                                ";
    let mut left = blanks;
    while left > 0 {
        let some = left.min(SOME.len());
        row.push_str(&SOME[..some]);
        left -= some;
    }
}

/// Breaks a text into lines at spaces; a word longer than a line is broken inside. Neither
/// the space inside a grouped number (`10 000`) nor the one before a unit parts lines.
pub fn wrap(text: &str, columns: usize) -> Vec<String> {
    let mut lines = Vec::new();
    let mut line = String::new();
    let text = clean(text);
    let text = evened(&text);
    for mut word in words(&text) {
        if !line.is_empty() && width(&line) + 1 + width(word) > columns {
            lines.push(std::mem::take(&mut line));
        }
        while width(word) > columns {
            let fits = head(word, columns.max(1));
            if fits.is_empty() {
                break;
            }
            lines.push(fits.to_owned());
            word = &word[fits.len()..];
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    if !line.is_empty() {
        lines.push(line);
    }
    lines
}

/// Whether every word that is looked for, in small letters, stands in a text.
pub fn fits(text: &str, words: &str) -> bool {
    let text = text.to_lowercase();
    words.split_whitespace().all(|word| text.contains(word))
}

/// A sentence with a capital letter in front.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_uppercase().chain(letters).collect(),
        None => String::new(),
    }
}

/// What stays with the number before it. Metres are told from a word by the number.
const UNITS: &[&str] = &[
    "%", "A", "EUR", "GBP", "Hz", "K", "N", "N/um", "N/µm", "N·m", "USD", "V", "W", "cm3/min",
    "cm³/min", "deg", "degC", "h", "kHz", "kW", "kg", "km", "m", "m/min", "m/s", "m/s²", "mA",
    "mH", "min", "mm", "mm/min", "mm²", "ms", "m²", "rpm", "s", "µm", "°", "°C",
];

/// A text with one space between its words and none around them.
fn evened(text: &str) -> Cow<'_, str> {
    let is_odd = |letter: char| letter != ' ' && letter.is_whitespace();
    let is_even = !text.starts_with(' ') && !text.ends_with(' ') && !text.contains("  ");
    match is_even && !text.contains(is_odd) {
        true => Cow::Borrowed(text),
        false => Cow::Owned(text.split_whitespace().collect::<Vec<_>>().join(" ")),
    }
}

/// Words of an even text that no line may be broken in.
fn words(text: &str) -> impl Iterator<Item = &str> {
    let mut rest = text;
    std::iter::from_fn(move || {
        let mut end = next_word(rest, 0)?;
        let mut last = &rest[..end];
        while let Some(next) = next_word(rest, end + 1) {
            let word = &rest[end + 1..next];
            if !is_group(last, word) && !is_unit(last, word) {
                break;
            }
            end = next;
            last = &rest[..end];
        }
        rest = rest.get(end + 1..).unwrap_or_default();
        Some(last)
    })
}

/// Where the word ends that begins at a place; none where nothing does.
fn next_word(text: &str, from: usize) -> Option<usize> {
    let text = text.get(from..).filter(|text| !text.is_empty())?;
    Some(from + text.find(' ').unwrap_or(text.len()))
}

/// Whether a word goes on with the grouped number before it.
fn is_group(before: &str, word: &str) -> bool {
    let digits = before.trim_start_matches(['-', '+', '(']);
    word.chars().take_while(char::is_ascii_digit).count() == 3
        && digits.ends_with(|c: char| c.is_ascii_digit())
        && digits.chars().all(|c| c.is_ascii_digit() || c == ' ')
}

/// Whether a word is the unit of the number before it.
fn is_unit(before: &str, word: &str) -> bool {
    let bare = word.trim_end_matches(['.', ',', ';', ':', ')']);
    before.ends_with(|c: char| c.is_ascii_digit()) && UNITS.contains(&bare)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn control_characters_are_written_out() {
        assert_eq!(clean("a\u{1b}[2Jb"), "a\\u{1b}[2Jb");
        assert_eq!(clean("a\u{202e}b"), "a\\u{202e}b");
        assert_eq!(clean("plain µ"), "plain µ");
    }

    #[test]
    fn a_cut_falls_after_a_word() {
        assert_eq!(cut("ball screw 16x10, rolled", 12, "…"), "ball screw…");
        assert_eq!(
            cut("ball screw 16x10, rolled", 18, "…"),
            "ball screw 16x10…"
        );
        assert_eq!(cut("Donaudampfschiff", 8, ".."), "Donaud..");
        assert_eq!(cut("fits", 4, "…"), "fits");
        assert_eq!(cut("none", 0, "…"), "");
    }

    #[test]
    fn padding_counts_columns_not_letters() {
        assert_eq!(left("漢字", 5, "…"), "漢字 ");
        assert_eq!(right("漢字x", 3, "…"), " 漢…".trim_start());
    }

    #[test]
    fn a_grouped_number_stays_on_one_line() {
        assert_eq!(
            wrap("whips above 1 570 rpm here", 14),
            ["whips above", "1 570 rpm here"]
        );
        assert_eq!(wrap("abcdefgh", 3), ["abc", "def", "gh"]);
    }

    #[test]
    fn a_unit_stays_with_its_number() {
        assert_eq!(
            wrap("it gets 55 °C, at most", 11),
            ["it gets", "55 °C, at", "most"]
        );
        assert_eq!(wrap("held to 1 570 rpm.", 16), ["held to", "1 570 rpm."]);
        assert_eq!(wrap("the 2 m of it", 6), ["the", "2 m of", "it"]);
    }

    #[test]
    fn lines_have_one_space_between_words_whatever_stood_there() {
        assert_eq!(wrap(" it\u{a0}gets  55 °C ", 20), ["it gets 55 °C"]);
        assert_eq!(wrap("10  000\u{202f}mm or so", 9), ["10 000 mm", "or so"]);
        assert_eq!(wrap("   ", 9), [""; 0]);
    }

    #[test]
    fn a_path_is_cut_in_front() {
        assert_eq!(cut_front("/home/me/router.toml", 12, "…"), "…router.toml");
        assert_eq!(cut_front("short.toml", 12, "…"), "short.toml");
        assert_eq!(cut_front("漢字x", 3, "…"), "…x");
    }
}
