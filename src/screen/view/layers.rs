//! What lies over the left side: menu, warnings, bill, help, fields and questions.

use ratatui::text::{Line, Span};
use tui_input::Input;

use super::paint::{Pen, under_cursor};
use super::{
    all_figures, bill, derivation, entry, figure, form, glossary, help, interview, ledger,
    own_part, pick, pictures, savings, seek, settings, sheets, tasks, variants, warnings, what_if,
    words,
};
use crate::rules::RuleId;
use crate::screen::help::HelpPage;
use crate::screen::keymap::Place;
use crate::screen::state::{Layer, Purpose, Question, State};
use crate::screen::text;
use crate::screen::update::MENU;
use crate::words::Words as _;

mod question;

use question::ask;

/// The row of a text field in its layer.
pub(super) const FIELD_ROW: u16 = 2;
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
        Layer::Figure(row, top) => {
            let (title, lines) = figure::figure(state, pen, width, *row);
            (title, lines, *top)
        }
        Layer::Figures | Layer::FigureFind => {
            let finding = matches!(layer, Layer::FigureFind);
            let (title, lines) = all_figures::page(state, pen, width, body, finding);
            (title, lines, 0)
        }
        Layer::Derivation(path, stop) => derivation::page(state, pen, (width, body), (path, *stop)),
        Layer::Warning(place, top) => {
            let (number, all) = state.entry_number(*place);
            let title = format!("Warning {number} of {all}");
            (title, warnings::whole(state, pen, width, *place), *top)
        }
        Layer::Bill | Layer::BillFind => {
            let finding = matches!(layer, Layer::BillFind);
            let (title, lines) = ledger::page(state, pen, width, body, finding);
            (title, lines, 0)
        }
        Layer::Entry(entry, stop) => entry::page(state, pen, width, entry, *stop),
        Layer::Pick(entry, of, at) => pick::page(state, pen, width, (entry, *of, *at), body),
        Layer::Form(form) => {
            let (title, lines) = form::page(state, pen, width, form);
            (title, lines, 0)
        }
        Layer::Picture { kind, table, top } => {
            let (title, lines) = pictures::page(state, pen, width, (*kind, *table));
            (title, lines, *top)
        }
        Layer::Sheets(cursor) => sheets::list(state, pen, width, *cursor, body),
        Layer::Sheet(kind, top) => {
            let (title, lines) = sheets::sheet(state, pen, *kind);
            (title, lines, *top)
        }
        Layer::Tasks(cursor) => {
            let (title, lines) = tasks::page(state, pen, width, *cursor, body);
            (title, lines, 0)
        }
        Layer::OwnPart(form) => {
            let (title, lines) = own_part::page(state, pen, width, form, body);
            (title, lines, 0)
        }
        Layer::Settings(at) => {
            let (title, lines) = settings::page(state, pen, width, *at);
            (title, lines, 0)
        }
        Layer::Export(kind, at) => sheets::formats(pen, width, (*kind, *at), body),
        Layer::Variants => variants::list(state, pen, width, body),
        Layer::Naming(naming) => {
            let (title, lines) = variants::naming(state, pen, width, naming);
            (title, lines, 0)
        }
        Layer::Compare(top) => {
            let (title, lines) = variants::compare(state, pen, width);
            (title, lines, *top)
        }
        Layer::WhatIf(at) => {
            let (title, lines) = what_if::page(pen, width, *at, body);
            (title, lines, 0)
        }
        Layer::Answer(question, at) => {
            let (title, lines) = what_if::answer::page(state, pen, width, (question, *at), body);
            (title, lines, 0)
        }
        Layer::Weigh {
            measure,
            order,
            cursor,
        } => {
            let of = (*measure, *order, *cursor);
            let (title, lines) = what_if::weigh::page(state, pen, width, of, body);
            (title, lines, 0)
        }
        Layer::Sweep {
            choice,
            measure,
            table,
            cursor,
        } => {
            let of = (*choice, *measure, *table, *cursor);
            let (title, lines) = what_if::sweep::page(state, pen, width, of, body);
            (title, lines, 0)
        }
        Layer::Range(choice, input) => {
            let (title, lines) = what_if::sweep::range(state, pen, width, choice, input);
            (title, lines, 0)
        }
        Layer::Savings(at) => {
            let (title, lines) = savings::page(state, pen, width, *at, body);
            (title, lines, 0)
        }
        Layer::Seek(at) => {
            let (title, lines) = seek::page(state, pen, width, *at, body);
            (title, lines, 0)
        }
        Layer::Target(wanting) => {
            let (title, lines) = seek::target(state, pen, width, wanting);
            (title, lines, 0)
        }
        Layer::Freed(at) => {
            let (title, lines) = seek::freed(state, pen, width, *at, body);
            (title, lines, 0)
        }
        Layer::Found(at) => {
            let (title, lines) = seek::found::page(state, pen, width, *at, body);
            (title, lines, 0)
        }
        Layer::Interview(at) => {
            let (title, lines) = interview::page(state, pen, width, *at, body);
            (title, lines, 0)
        }
        Layer::Picking(picking) => {
            let (title, lines) = interview::picking(state, pen, width, picking, body);
            (title, lines, 0)
        }
        Layer::Saying(prompt, input) => {
            let (title, lines) = interview::saying(state, pen, width, prompt, input);
            (title, lines, 0)
        }
        Layer::Proposed(at) => {
            let (title, lines) = interview::proposed::proposed(state, pen, width, *at, body);
            (title, lines, 0)
        }
        Layer::Words | Layer::WordFind => {
            let finding = matches!(layer, Layer::WordFind);
            let (title, lines) = glossary::page(state, pen, width, body, finding);
            (title, lines, 0)
        }
        Layer::Word(place, stop) => {
            let (title, lines) = glossary::word(state, pen, width, (*place, *stop), body);
            (title, lines, 0)
        }
        Layer::Cautions(top) => (
            "Cautions, deadliest first".to_owned(),
            warnings::cautions(state, pen, width),
            *top,
        ),
        Layer::Help(place, page, top) => {
            let mut lines = help::help(state, pen, width, (*place, *page));
            if (*place, *page) == (Place::Bill, HelpPage::Here) {
                let mut since = bill::moved(state, pen, width);
                since.append(&mut lines);
                lines = since;
            }
            (format!("Help: {}", page.title()), lines, *top)
        }
        Layer::Note(rule, input) => (
            "Accept a warning".to_owned(),
            note(pen, width, rule, input),
            0,
        ),
        Layer::Name(input, purpose) => {
            let title = match (purpose, &state.path) {
                (Purpose::Export(kind, _), _) => format!("{}: write it to a file", kind.title()),
                (Purpose::Save { .. }, Some(_)) => "Save as another file".to_owned(),
                (Purpose::Save { .. }, None) => "Save".to_owned(),
            };
            (title, name(state, pen, width, input, *purpose), 0)
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

fn field(pen: &Pen, width: usize, input: &Input) -> Line<'static> {
    let room = width.saturating_sub(FIELD_COLUMN + 1);
    Line::from(vec![Span::raw(" "), pen.field(input, room)])
}

pub(super) fn paragraph(pen: &Pen, width: usize, words: &str) -> Vec<Line<'static>> {
    let lines = pen.wrap(words, width.saturating_sub(2));
    lines
        .into_iter()
        .map(|line| Line::from(format!(" {line}")))
        .collect()
}

fn note(pen: &Pen, width: usize, rule: &RuleId, input: &Input) -> Vec<Line<'static>> {
    let title = rule.title();
    let mut lines = vec![
        Line::from(pen.cut(" Why do you accept it? (may stay empty)", width)),
        field(pen, width, input),
        Line::default(),
    ];
    lines.extend(paragraph(pen, width, &format!("Accepts \"{title}\", for every axis that it is about. It stays listed as accepted; a danger goes on counting, since nothing should hide it.")));
    lines
}

fn name(
    state: &State,
    pen: &Pen,
    width: usize,
    input: &Input,
    purpose: Purpose,
) -> Vec<Line<'static>> {
    let asks = match purpose {
        Purpose::Save { .. } => " Save to which file?",
        Purpose::Export(..) => " Write the sheet to which file?",
    };
    let mut lines = vec![Line::from(asks), field(pen, width, input), Line::default()];
    let here = match &state.folder {
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
    if let (Purpose::Save { .. }, Some(path)) = (purpose, &state.path) {
        let open = format!("Open now: {}.", path.display());
        lines.extend(paragraph(pen, width, &open));
    }
    lines.extend(paragraph(pen, width, &words));
    lines
}
