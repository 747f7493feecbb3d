//! What the TOML reader says, in words for people who never saw a parser.

use std::ops::Range;

use super::file_error::FileError;
use crate::build::nearest;
use crate::catalogue::PartKind;
use crate::catalogue::fields::Takes;
use crate::catalogue::reader::ReadError;

/// The reader's error about a file, at its place.
pub(super) fn toml_error(file: &str, text: &str, error: impl Into<ReadError>) -> FileError {
    let error = error.into();
    let said = error.message();
    let span = error.place().unwrap_or(0..0);
    let place = text.get(span.clone()).unwrap_or_default();
    let rest = text.get(span.start..).unwrap_or_default();
    let message = single_table(said, line_at(text, span.start))
        .or_else(|| slip(said, place, rest))
        .unwrap_or_else(|| plain(said));
    let message = match message.strip_suffix(A_NUMBER) {
        Some(start) => {
            let before = text.get(..span.start).unwrap_or_default();
            start.to_owned() + &a_number(key_before(before))
        }
        None => message,
    };
    match error.place() {
        Some(span) => FileError::at(file, text, key_or_value(text, span), message),
        None => FileError::new(file, message),
    }
}

/// What is expected where a number is.
const A_NUMBER: &str = "a number without quotes";

/// The key in the last line of a text that ends before its value.
fn key_before(text: &str) -> &str {
    let line = text.lines().next_back().unwrap_or_default();
    line.split('=').next().unwrap_or_default().trim()
}

/// What is expected where a part has a number under a key: with its unit, where it has one.
fn a_number(key: &str) -> String {
    let mut fields = PartKind::ALL.iter().flat_map(|kind| kind.fields());
    match fields
        .find(|field| field.key == key)
        .map(|field| field.takes)
    {
        Some(Takes::Number(range)) if !range.unit.is_empty() => {
            format!("a number in {} without quotes", range.unit)
        }
        _ => A_NUMBER.to_owned(),
    }
}

/// The same about a file of the catalogue: what it cannot hold is told with all that it can.
pub(super) fn file_error(file: &str, text: &str, error: ReadError) -> FileError {
    let unknown = named(error.message().trim(), "unknown field `");
    let at_top = |known: &[String]| known.iter().any(|key| key == "price-book");
    let mut told = toml_error(file, text, error);
    if let Some((name, known)) = unknown.filter(|(_, known)| at_top(known)) {
        let end = match hint(&name, &known) {
            near if near.is_empty() => "; such".to_owned(),
            near => format!("{near} Such"),
        };
        let known = known.join(", ");
        told.message = format!("there is no [[{name}]]{end} a file may hold: {known}");
    }
    told
}

/// The reader points a missing key at the whole table; its first line is enough.
fn key_or_value(text: &str, span: Range<usize>) -> Range<usize> {
    let blank = text.get(span.clone()).unwrap_or_default();
    let skipped = blank.len() - blank.trim_start().len();
    if skipped == blank.len() {
        span
    } else {
        span.start + skipped..span.end
    }
}

/// The whole line in which a place lies.
fn line_at(text: &str, place: usize) -> &str {
    let before = text.get(..place).unwrap_or_default();
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    let rest = text.get(start..).unwrap_or_default();
    rest.lines().next().unwrap_or_default()
}

/// Single brackets around what there may be several of.
fn single_table(said: &str, line: &str) -> Option<String> {
    if !said.starts_with("invalid type: map, expected a sequence") {
        return None;
    }
    let inside = line.trim().strip_prefix('[')?;
    let (table, _) = inside
        .split_once(']')
        .filter(|_| !inside.starts_with('['))?;
    Some(match table.split_once('.') {
        Some((list, _)) => {
            format!("there is no [[{list}]] above it: write that first, in double brackets")
        }
        None => format!("write [[{table}]], in double brackets: a file may hold several"),
    })
}

/// Slips that everybody makes, told with what stands at their place.
fn slip(said: &str, place: &str, rest: &str) -> Option<String> {
    if said.starts_with("duplicate key") {
        return Some(format!(
            "the key {place:?} is there twice; keep one of the two"
        ));
    }
    if said.starts_with("string values must be quoted") || said.starts_with("invalid float") {
        let message = "this is neither a number nor a text in quotes; numbers stand without \
                       quotes or unit, texts in \"quotes\"";
        return Some(message.to_owned());
    }
    if said.starts_with("unexpected key or value") && rest.starts_with(',') {
        return Some("there is a comma; numbers take a point, as in 0.5".to_owned());
    }
    if said.contains("recurs") {
        return Some("lists or tables are nested too deeply; a build has two levels".to_owned());
    }
    None
}

/// So many keys are named where none is like the one that was typed.
const LISTED: usize = 14;

/// A message in plain words; what is not recognised stays as it is, on one line.
fn plain(message: &str) -> String {
    let message = message.trim();
    if let Some((name, known)) = named(message, "unknown field `") {
        let near = hint(&name, &known);
        let known = match near.is_empty() && known.len() <= LISTED {
            true => format!("; it takes {}", known.join(", ")),
            false => String::new(),
        };
        return format!("there is no key {name:?}{near}{known}");
    }
    if let Some((name, known)) = named(message, "unknown variant `") {
        return format!(
            "{name:?} is not one of its options{}",
            options(&name, &known)
        );
    }
    if let Some(name) = missing_key(message) {
        return format!("the key {name:?} is missing");
    }
    if let Some(types) = message.strip_prefix("invalid type: ")
        && let Some((found, expected)) = types.rsplit_once(", expected ")
    {
        return format!("this is {}; expected {}", thing(found), thing(expected));
    }
    message
        .lines()
        .map(str::trim)
        .collect::<Vec<_>>()
        .join("; ")
}

/// The key that is missing, where the reader says that one is.
pub(super) fn missing_key(message: &str) -> Option<&str> {
    let name = message.trim().strip_prefix("missing field `")?;
    Some(name.trim_end_matches('`'))
}

/// The name that a message quotes first, and all that it quotes as expected.
fn named(message: &str, start: &str) -> Option<(String, Vec<String>)> {
    let rest = message.strip_prefix(start)?;
    let (name, rest) = rest.split_once("`, ").or_else(|| rest.rsplit_once('`'))?;
    let known = rest
        .split('`')
        .skip(1)
        .step_by(2)
        .map(str::to_owned)
        .collect();
    Some((name.to_owned(), known))
}

fn options(name: &str, known: &[String]) -> String {
    nearest::options(name, known.iter().map(String::as_str))
}

fn hint(name: &str, known: &[String]) -> String {
    nearest::hint(name, known.iter().map(String::as_str))
}

/// A type of value as people call it.
fn thing(kind: &str) -> String {
    if let Some(text) = kind.strip_prefix("string ") {
        return format!("the text {text}");
    }
    for (start, name) in [
        ("integer ", "the number"),
        ("floating point ", "the number"),
        ("boolean ", "the word"),
    ] {
        if let Some(value) = kind.strip_prefix(start) {
            return format!("{name} {}", value.trim_matches('`'));
        }
    }
    match kind {
        "f64" => A_NUMBER.to_owned(),
        "u8" | "u16" | "u32" | "u64" | "i64" | "usize" => {
            "a whole number without quotes".to_owned()
        }
        "a string" | "a borrowed string" => "a text in quotes".to_owned(),
        "a boolean" => "true or false".to_owned(),
        "a sequence" | "sequence" => "a list in [brackets]".to_owned(),
        "map" | "a map" => "a table".to_owned(),
        // What a price book says of a part.
        "struct Offer" => {
            "three amounts in quotes, such as { low = \"38\", likely = \"42\", high = \"48\" }"
                .to_owned()
        }
        other if other.starts_with("struct ") => "a table".to_owned(),
        other => other.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_get_the_nearest_name() {
        assert_eq!(
            plain("unknown field `widht_mm`, expected one of `id`, `width_mm`"),
            "there is no key \"widht_mm\"; did you mean \"width_mm\"?"
        );
        assert_eq!(
            plain("unknown variant `stel`, expected `steel` or `plastic`"),
            "\"stel\" is not one of its options; did you mean \"steel\"? It takes steel, plastic"
        );
    }

    #[test]
    fn slips_of_spelling_are_told_at_their_place() {
        let said = |text: &str| match toml::from_str::<toml::Table>(text) {
            Ok(table) => panic!("{table} is fine"),
            Err(error) => toml_error("f", text, error).to_string(),
        };
        assert!(
            said("a = 1\nlong_key = 2\nlong_key = 3")
                .starts_with("f:3:1: the key \"long_key\" is there twice")
        );
        assert!(said("a = 600 mm").starts_with("f:1:5: this is neither a number nor"));
        assert!(said("a = 0,5").starts_with("f:1:6: there is a comma"));
        assert!(said(&format!("a = {}", "[".repeat(500))).contains("nested too deeply"));
        assert!(said(&format!("{}b = 1", "a.".repeat(100_000))).contains("nested too deeply"));
    }

    #[test]
    fn what_would_be_right_is_named() {
        #[derive(serde::Deserialize)]
        #[serde(rename_all = "kebab-case")]
        struct File {
            #[serde(default)]
            rule: Vec<toml::Table>,
            length_mm: f64,
        }
        let said = |text: &str| match toml::from_str::<File>(text) {
            Ok(file) => panic!("{:?} is fine", (file.rule, file.length_mm)),
            Err(error) => toml_error("f", text, error).to_string(),
        };
        for (text, want) in [
            ("[rule]\nid = 1", "write [[rule]], in double brackets"),
            ("[rule.when]\nid = 1", "there is no [[rule]] above it"),
            (
                "length-mm = \"8 mm\"",
                "the text \"8 mm\"; expected a number without quotes",
            ),
        ] {
            assert!(said(text).contains(want), "{}", said(text));
        }
        assert_eq!(a_number("dynamic_load_n"), "a number in N without quotes");
        assert_eq!(a_number("count"), A_NUMBER);
    }

    #[test]
    fn types_are_named_as_people_name_them() {
        assert_eq!(
            plain("invalid type: string \"80 mm\", expected f64"),
            "this is the text \"80 mm\"; expected a number without quotes"
        );
        assert_eq!(
            plain("missing field `wall_mm`"),
            "the key \"wall_mm\" is missing"
        );
    }
}
