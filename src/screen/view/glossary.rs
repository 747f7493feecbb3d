//! The page of words, and one word in full.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::Pen;
use super::split::{Split, named, row};
use crate::catalogue::glossary::Entry;
use crate::screen::glossary::{Row, next_words};
use crate::screen::state::State;

/// Lines that a definition takes on a narrow screen, so that the list does not jump.
const MOST: usize = 6;

/// The list, with the definition of the word under the cursor below it.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    height: Option<usize>,
    finding: bool,
) -> (String, Vec<Line<'static>>) {
    let glossary = &state.catalogue.glossary;
    let page = &state.glossary;
    let mut split = Split {
        most: MOST,
        ..Split::default()
    };
    if finding {
        split.head.push(pen.find_field(&page.field, width));
    }
    let mut count = 0;
    for one in page.rows() {
        match one {
            Row::Head(text) => split.heading(pen, text),
            Row::Word(place) => {
                let Some(entry) = glossary.get(*place) else {
                    continue;
                };
                let here = count == page.cursor;
                if here {
                    split.at = split.rows.len();
                    split.told = told(glossary, entry, pen, width);
                }
                let text = pen.cut(&entry.word, width.saturating_sub(3));
                split.rows.push(row(pen, &text, here));
                count += 1;
            }
        }
    }
    if count == 0 {
        let text = " No word speaks of that.";
        split.rows.push(Line::from(text));
    }
    let title = match page.field.value().trim() {
        "" => format!("Words: {} in all", glossary.len()),
        _ => format!("Words: {count} found"),
    };
    (title, split.lines(pen, width, height))
}

/// What a word means, by which standard, and what to read next.
fn told(glossary: &[Entry], entry: &Entry, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let mut lines = pen.paragraph(&entry.means, width, Style::new());
    let standard = entry.standard.as_deref().unwrap_or_default();
    if !standard.is_empty() {
        lines.extend(named(pen, width, "Standard", standard));
    }
    let see = entry.see.iter().filter_map(|id| {
        let other = glossary.iter().find(|other| other.id == *id);
        other.map(|other| other.word.as_str())
    });
    let see: Vec<&str> = see.collect();
    if !see.is_empty() {
        lines.extend(named(pen, width, "See", &see.join(", ")));
    }
    lines
}

/// One word in full, with the words to go on to.
pub(super) fn word(
    state: &State,
    pen: &Pen,
    width: usize,
    (place, stop): (usize, usize),
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let glossary = &state.catalogue.glossary;
    let Some(entry) = glossary.get(place) else {
        return ("Word".to_owned(), Vec::new());
    };
    let mut split = Split {
        head: pen.paragraph(&entry.word, width, pen.theme.marked),
        ..Split::default()
    };
    split
        .head
        .extend(pen.paragraph(&entry.means, width, Style::new()));
    let standard = entry.standard.as_deref().unwrap_or_default();
    for (name, text) in [
        ("Also", entry.also.join(", ").as_str()),
        ("Standard", standard),
    ] {
        if !text.is_empty() {
            split.head.extend(named(pen, width, name, text));
        }
    }
    let next = next_words(glossary, place);
    if next.is_empty() {
        return ("Word".to_owned(), split.head);
    }
    split.head.push(Line::default());
    split
        .head
        .push(Line::styled(" Words to go on to", pen.theme.title));
    for (at, other) in next.into_iter().enumerate() {
        let Some(other) = glossary.get(other) else {
            continue;
        };
        if at == stop {
            split.at = at;
            split.told = pen.paragraph(&other.means, width, pen.theme.muted);
        }
        let text = pen.cut(&other.word, width.saturating_sub(3));
        split.rows.push(row(pen, &text, at == stop));
    }
    ("Word".to_owned(), split.lines(pen, width, height))
}
