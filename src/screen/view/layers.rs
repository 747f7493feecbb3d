//! What lies over the left side: menu, warnings, bill, help, fields and questions.

use ratatui::text::{Line, Span};
use tui_input::Input;

use super::paint::{Pen, under_cursor};
use super::{bill, help, warnings, words};
use crate::rules;
use crate::screen::state::{Layer, Question, State};
use crate::screen::text;
use crate::screen::update::{MENU, answers};

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
    // The heading and the line for messages take a row each.
    let body = height.map(|height| height.saturating_sub(2));
    let (title, mut lines, top) = match layer {
        Layer::Menu(cursor) => {
            let names: Vec<&str> = MENU.iter().map(|(name, _)| *name).collect();
            ("Menu".to_owned(), rows(pen, width, &names, *cursor), 0)
        }
        Layer::Warnings(cursor) => {
            let list = warnings::list(state, pen, width, *cursor, body);
            ("Warnings, worst first".to_owned(), list, 0)
        }
        Layer::Warning(place, top) => {
            let title = format!("Warning {} of {}", place + 1, state.now.findings.len());
            (title, warnings::whole(state, pen, width, *place), *top)
        }
        Layer::Bill(top) => (
            "Bill".to_owned(),
            bill::lines(&state.now.bill, pen, width, true),
            *top,
        ),
        Layer::Help(place, top) => ("Help".to_owned(), help::help(pen, width, *place), *top),
        Layer::Note(rule, input) => (
            "Accept a warning".to_owned(),
            note(pen, width, rule, input),
            0,
        ),
        Layer::Name(input, _) => ("Save".to_owned(), name(state, pen, width, input), 0),
        Layer::Question(question, cursor) => (
            "Question".to_owned(),
            ask(state, pen, width, question, *cursor),
            0,
        ),
    };
    if let Some(body) = body {
        let hidden = lines.len().saturating_sub(top + body);
        lines = lines.into_iter().skip(top).take(body).collect();
        lines.resize(body, Line::default());
        lines.push(foot(state, pen, width, hidden));
    }
    lines.insert(0, heading(&title));
    lines
}

/// The last row of a layer: a message, or that there is more below.
fn foot(state: &State, pen: &Pen, width: usize, hidden: usize) -> Line<'static> {
    match (&state.notice, hidden) {
        (None, 1..) => pen.heading(
            &format!("{hidden} more lines below"),
            width,
            pen.theme.muted,
        ),
        _ => words::notice(state, pen, width),
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
    let shown: String = input
        .value()
        .chars()
        .skip(input.visual_scroll(room))
        .collect();
    Line::from(vec![
        Span::raw(" "),
        Span::styled(pen.left(&shown, room), pen.theme.field),
    ])
}

fn paragraph(width: usize, words: &str) -> Vec<Line<'static>> {
    let lines = text::wrap(words, width.saturating_sub(2));
    lines
        .into_iter()
        .map(|line| Line::from(format!(" {line}")))
        .collect()
}

fn note(pen: &Pen, width: usize, rule: &str, input: &Input) -> Vec<Line<'static>> {
    let title = rules::find(rule).map_or(rule, |rule| rule.title);
    let mut lines = vec![
        Line::from(pen.cut(" Why do you accept it? (may stay empty)", width)),
        field(pen, width, input),
        Line::default(),
    ];
    lines.extend(paragraph(width, &format!("Accepts \"{title}\", for every axis that it is about. It stays listed as accepted; a danger goes on counting, since nothing should hide it.")));
    lines
}

fn name(state: &State, pen: &Pen, width: usize, input: &Input) -> Vec<Line<'static>> {
    let mut lines = vec![
        Line::from(" Save to which file?"),
        field(pen, width, input),
        Line::default(),
    ];
    let words = match &state.path {
        Some(path) => format!("Open now: {}.", path.display()),
        None => "This build has no file yet. The name may have a folder before it.".to_owned(),
    };
    lines.extend(paragraph(width, &words));
    lines
}

fn ask(
    state: &State,
    pen: &Pen,
    width: usize,
    question: &Question,
    cursor: usize,
) -> Vec<Line<'static>> {
    let words = match question {
        Question::Leave => {
            let changes = crate::build::edit::difference(&state.saved, state.build()).len();
            format!(
                "Some of this is not saved: {changes} {} changed.",
                if changes == 1 {
                    "choice is"
                } else {
                    "choices are"
                }
            )
        }
        Question::Replace(path, _) => {
            format!(
                "{} exists already. Replacing it loses what it holds.",
                path.display()
            )
        }
    };
    let mut lines = paragraph(width, &words);
    lines.push(Line::default());
    lines.extend(rows(pen, width, answers(question), cursor));
    lines
}
