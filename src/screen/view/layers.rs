//! What lies over the left side: menu, warnings, bill, help, fields and questions.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use super::{
    derivation, entry, figure, figures, form, glossary, help, interview, ledger, own_part, pick,
    pictures, savings, seek, settings, sheets, tasks, variants, warnings, what_if, words,
};
use crate::rules::RuleId;
use crate::screen::menu::MENU;
use crate::screen::state::{Layer, Purpose, Question, State};
use crate::screen::text;
use crate::screen::typed::Typed;
use crate::words::Words as _;

mod question;

use question::ask;

/// The row of a text field in its layer.
pub(super) const FIELD_ROW: usize = 2;
/// The column in which its text begins.
pub(super) const FIELD_COLUMN: usize = 1;

/// The topmost layer; all of its lines where no height is given.
pub(super) fn lines(
    state: &State,
    pen: &Pen,
    width: usize,
    height: Option<usize>,
) -> Vec<Line<'static>> {
    let Some(layer) = state.layers.last() else {
        return Vec::new();
    };
    let heading = |title: &str| pen.heading(title, width, pen.theme.title);
    let notice = words::notice(state, pen, width);
    // The heading takes a row, messages take one or more.
    let body = height.map(|height| height.saturating_sub(1 + notice.len()));
    let (title, mut lines, top) = content(state, pen, width, body, layer);
    if let Some(body) = body {
        let hidden = lines.len().saturating_sub(top + body);
        lines = lines.into_iter().skip(top).take(body).collect();
        lines.resize(body, Line::default());
        match (&state.notice, hidden) {
            (None, 1..) => {
                let text = format!("{} below", more_lines(hidden));
                lines.push(pen.heading(&text, width, pen.theme.muted));
            }
            _ => lines.extend(notice),
        }
    }
    let title = match top {
        0 => title,
        above => {
            let whole = format!("{title}, {} above", more_lines(above));
            // A heading has two columns of line and a blank on either side.
            match text::width(&pen.spell(&whole)) + 6 <= width {
                true => whole,
                false => format!("{title}, {above} above"),
            }
        }
    };
    lines.insert(0, heading(&title));
    lines
}

/// A page that begins with its first line: it is short, or fits itself to its height.
fn from_top((title, lines): (String, Vec<Line<'static>>)) -> (String, Vec<Line<'static>>, usize) {
    (title, lines, 0)
}

/// A page that is as long as it is, scrolled so far.
fn scrolled(
    (title, lines): (String, Vec<Line<'static>>),
    top: usize,
) -> (String, Vec<Line<'static>>, usize) {
    (title, lines, top)
}

/// Title and lines of a layer, and how far it is scrolled.
fn content(
    state: &State,
    pen: &Pen,
    width: usize,
    body: Option<usize>,
    layer: &Layer,
) -> (String, Vec<Line<'static>>, usize) {
    match layer {
        Layer::Menu(cursor) => {
            let names: Vec<&str> = MENU.iter().map(|(name, _)| *name).collect();
            // On a low screen the rows scroll with the cursor.
            let top = body.map_or(0, |body| (cursor + 1).saturating_sub(body));
            ("Menu".to_owned(), rows(pen, width, &names, *cursor), top)
        }
        Layer::Warnings(cursor) => {
            let list = warnings::list(state, pen, width, *cursor, body);
            let place = match state.entry_number(*cursor) {
                (_, 0) => String::new(),
                (number, all) => format!(": {number} of {all}"),
            };
            (format!("Warnings, worst first{place}"), list, 0)
        }
        Layer::Figure(row, top) => scrolled(figure::figure(state, pen, width, *row), *top),
        Layer::Figures => from_top(figures::page(state, pen, width, body, false)),
        Layer::FigureFind => from_top(figures::page(state, pen, width, body, true)),
        Layer::Derivation(path, stop) => derivation::page(state, pen, (width, body), (path, *stop)),
        Layer::Warning(place, top) => {
            let (number, all) = state.entry_number(*place);
            let title = format!("Warning {number} of {all}");
            (title, warnings::whole(state, pen, width, *place), *top)
        }
        Layer::Bill => from_top(ledger::page(state, pen, width, body, false)),
        Layer::BillFind => from_top(ledger::page(state, pen, width, body, true)),
        Layer::Entry(entry, stop) => entry::page(state, pen, width, entry, *stop),
        Layer::Pick(entry, of, at) => pick::page(state, pen, width, (entry, *of, *at), body),
        Layer::Form(form) => from_top(form::page(state, pen, width, form)),
        Layer::Picture { kind, table, top } => {
            scrolled(pictures::page(state, pen, width, (*kind, *table)), *top)
        }
        Layer::Sheets(cursor) => sheets::list(state, pen, width, *cursor, body),
        Layer::Sheet(kind, top) => scrolled(sheets::sheet(state, pen, *kind), *top),
        Layer::Tasks(cursor) => from_top(tasks::page(state, pen, width, *cursor, body)),
        Layer::OwnPart(form) => from_top(own_part::page(state, pen, width, form, body)),
        Layer::Settings(at) => from_top(settings::page(state, pen, width, *at)),
        Layer::Export(kind, at) => sheets::formats(pen, width, (*kind, *at), body),
        Layer::Variants => variants::list(state, pen, width, body),
        Layer::Naming(naming) => from_top(variants::naming(state, pen, width, naming)),
        Layer::Compare(top) => scrolled(variants::compare(state, pen, width), *top),
        Layer::WhatIf(at) => from_top(what_if::page(pen, width, *at, body)),
        Layer::Answer(question, at) => {
            let of = (*question, *at);
            from_top(what_if::answer::page(state, pen, width, of, body))
        }
        Layer::Weigh {
            measure,
            order,
            cursor,
        } => {
            let of = (*measure, *order, *cursor);
            from_top(what_if::weigh::page(state, pen, width, of, body))
        }
        Layer::Sweep {
            choice,
            measure,
            table,
            cursor,
        } => {
            let of = (*choice, *measure, *table, *cursor);
            from_top(what_if::sweep::page(state, pen, width, of, body))
        }
        Layer::Range(choice, typed) => {
            from_top(what_if::sweep::range(state, pen, width, choice, typed))
        }
        Layer::Savings(at) => from_top(savings::page(state, pen, width, *at, body)),
        Layer::Seek(at) => from_top(seek::page(state, pen, width, *at, body)),
        Layer::Target(wanting) => from_top(seek::target(state, pen, width, wanting)),
        Layer::Freed(at) => from_top(seek::freed(state, pen, width, *at, body)),
        Layer::Found(at) => from_top(seek::found::page(state, pen, width, *at, body)),
        Layer::Interview(at) => from_top(interview::page(state, pen, width, *at, body)),
        Layer::Picking(picking) => from_top(interview::picking(state, pen, width, picking, body)),
        Layer::Saying(prompt, typed) => {
            from_top(interview::saying(state, pen, width, prompt, typed))
        }
        Layer::Proposed(at) => {
            from_top(interview::proposed::proposed(state, pen, width, *at, body))
        }
        Layer::Glossary => from_top(glossary::page(state, pen, width, body, false)),
        Layer::WordFind => from_top(glossary::page(state, pen, width, body, true)),
        Layer::Word(place, stop) => {
            from_top(glossary::word(state, pen, width, (*place, *stop), body))
        }
        Layer::Safety(top) => {
            let lines = warnings::safety(state, pen, width);
            ("Safety notes, deadliest first".to_owned(), lines, *top)
        }
        Layer::Help(place, page, top) => {
            let lines = help::help(state, pen, width, (*place, *page));
            (format!("Help: {}", page.title()), lines, *top)
        }
        Layer::Note(rule, typed) => {
            let lines = note(pen, width, rule, typed);
            ("Accept a warning".to_owned(), lines, 0)
        }
        Layer::Name(typed, purpose) => {
            let title = match (purpose, &state.file.path) {
                (Purpose::Export(kind, _), _) => format!("{}: write it to a file", kind.title()),
                (Purpose::Save { .. }, Some(_)) => "Save as another file".to_owned(),
                (Purpose::Save { .. }, None) => "Save".to_owned(),
            };
            (title, name(state, pen, width, typed, *purpose), 0)
        }
        Layer::Question(question, cursor) => {
            let title = match question {
                Question::Recover => "Changes that were not saved",
                _ => "Question",
            };
            let lines = ask(state, pen, (width, body), question, *cursor);
            // The answers stand last: they are seen even where all of it has no room.
            let top = body.map_or(0, |body| lines.len().saturating_sub(body));
            (title.to_owned(), lines, top)
        }
    }
}

fn more_lines(count: usize) -> String {
    match count {
        1 => "1 more line".to_owned(),
        many => format!("{many} more lines"),
    }
}

fn rows(pen: &Pen, width: usize, names: &[&str], cursor: usize) -> Vec<Line<'static>> {
    let rows = names.iter().enumerate().map(|(place, name)| {
        if place == cursor {
            under_cursor(
                Line::from(pen.left(&format!("> {name}"), width)),
                pen.theme.selected,
            )
        } else {
            Line::from(format!("  {name}"))
        }
    });
    rows.collect()
}

fn field(pen: &Pen, width: usize, typed: &Typed) -> Line<'static> {
    let room = width.saturating_sub(FIELD_COLUMN + 1);
    Line::from(vec![Span::raw(" "), pen.field(typed, room)])
}

fn note(pen: &Pen, width: usize, rule: &RuleId, typed: &Typed) -> Vec<Line<'static>> {
    let title = rule.title();
    let mut lines = vec![
        Line::from(pen.cut(" Why do you accept it? (may stay empty)", width)),
        field(pen, width, typed),
        Line::default(),
    ];
    let says = format!(
        "Accepts \"{title}\", for every axis that it is about. It stays listed as accepted; a danger goes on counting, since nothing should hide it."
    );
    lines.extend(pen.paragraph(&says, width, Style::new()));
    lines
}

fn name(
    state: &State,
    pen: &Pen,
    width: usize,
    typed: &Typed,
    purpose: Purpose,
) -> Vec<Line<'static>> {
    let asks = match purpose {
        Purpose::Save { .. } => " Save to which file?",
        Purpose::Export(..) => " Write the sheet to which file?",
    };
    let mut lines = vec![Line::from(asks), field(pen, width, typed), Line::default()];
    let here = match &state.file.folder {
        Some(folder) => format!("in the folder {}", folder.display()),
        None => "in the folder in which the program was started".to_owned(),
    };
    let words = match purpose {
        Purpose::Save { .. } => format!(
            "A name without a folder is saved {here}. Where the ending .toml is missing, it is added."
        ),
        Purpose::Export(_, format) => format!(
            "A name without a folder is written {here}. Where no ending says otherwise, it becomes {}. Nothing is replaced without asking.",
            format.title()
        ),
    };
    if let (Purpose::Save { .. }, Some(path)) = (purpose, &state.file.path) {
        let open = format!("Open now: {}.", path.display());
        lines.extend(pen.paragraph(&open, width, Style::new()));
    }
    lines.extend(pen.paragraph(&words, width, Style::new()));
    lines
}
