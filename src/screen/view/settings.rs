//! The page of settings: each with its answer, and what that does.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use crate::screen::state::{Layer, State};
use crate::screen::update::{Row, SETTINGS};
use crate::store::text::name_of;
use crate::units::System;
use crate::words::Words as _;

/// Columns of the names.
const NAME: usize = 26;

/// Title and lines of the page.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    cursor: usize,
) -> (String, Vec<Line<'static>>) {
    let mut lines = Vec::new();
    for (at, row) in SETTINGS.into_iter().enumerate() {
        let (name, answer) = told(state, row);
        let mark = if at == cursor { ">" } else { " " };
        let line = Line::from(vec![
            Span::raw(format!("{mark} {}", pen.left(name, NAME))),
            Span::raw(pen.left(&format!("< {answer} >"), width.saturating_sub(NAME + 2))),
        ]);
        lines.push(match at == cursor {
            true => under_cursor(line, pen.theme.selected),
            false => line,
        });
    }
    let row = SETTINGS.get(cursor).copied().unwrap_or(Row::Units);
    let example = "So a length and a price look now: 1234.5 mm, 12 345.60.";
    let file = match &state.wishes.file {
        Some(file) => format!(
            "Each change is saved at once in {}. Keys of your own go there too, in a section [keys]: gantrywright keys lists them all.",
            name_of(file)
        ),
        None => "There is no home folder to save this in: it holds until you leave.".to_owned(),
    };
    for text in [plain(state, row).as_str(), example, &file] {
        lines.push(Line::default());
        lines.extend(pen.paragraph(text, width, Style::new()));
    }
    ("Settings".to_owned(), lines)
}

/// The setting under the cursor in full, where the page is open: its name, and what it does.
pub(super) fn in_full(state: &State) -> Option<(&'static str, String)> {
    let at = state.layers.iter().find_map(|layer| match layer {
        Layer::Settings(at) => Some(*at),
        _ => None,
    })?;
    let row = SETTINGS.get(at).copied()?;
    Some((told(state, row).0, plain(state, row)))
}

/// A setting by its name, and its answer.
fn told(state: &State, row: Row) -> (&'static str, String) {
    let settings = &state.wishes.settings;
    let marks = state.shown.marks;
    let beside = &state.wishes.beside;
    let by = match beside.locale {
        Some(_) => "by your language",
        None => "as usual",
    };
    match row {
        Row::Units => ("Units", state.shown.system.title().to_owned()),
        Row::Decimal => (
            "Mark before the fraction",
            match (beside.marks, settings.decimal) {
                (None, None) => format!("{}, {by}", sign(Some(marks.decimal()))),
                _ => sign(Some(marks.decimal())).to_owned(),
            },
        ),
        Row::Thousands => (
            "Mark between thousands",
            match (beside.marks, settings.thousands) {
                (None, None) => format!("{}, {by}", sign(marks.thousands())),
                _ => sign(marks.thousands()).to_owned(),
            },
        ),
        Row::Theme => ("Colours", state.wishes.theme().title().to_owned()),
        Row::Mouse => {
            let answer = if state.wishes.mouse() { "on" } else { "off" };
            ("Mouse", answer.to_owned())
        }
    }
}

fn sign(mark: Option<char>) -> &'static str {
    match mark {
        Some('.') => "point",
        Some(',') => "comma",
        Some('\'') => "apostrophe",
        Some(_) => "space",
        None => "none",
    }
}

/// What the setting under the cursor does.
fn plain(state: &State, row: Row) -> String {
    match row {
        Row::Units => {
            let words = System::word(state.shown.system).plain;
            format!(
                "{words} In a number field a lone number is of the unit beside it; any other may be typed behind a number. Formulas and files stay metric."
            )
        }
        Row::Decimal => "What stands before the fraction of a number. Both marks are understood when you type; where a number could mean two things, you are asked.".to_owned(),
        Row::Thousands => "What stands between thousands.".to_owned(),
        Row::Theme => state.wishes.theme().word().plain.to_owned(),
        Row::Mouse => "The wheel moves the cursor; a click points at a row, a second one opens it. Steps and keys can be clicked too. While it is on, most terminals mark text only with Shift held.".to_owned(),
    }
}
