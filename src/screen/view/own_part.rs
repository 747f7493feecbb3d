//! The form of a part of one's own: its fields, then all about the one under the cursor, in lines
//! that are always there.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use crate::rules::Severity;
use crate::screen::action::Action;
use crate::screen::form::Content;
use crate::screen::keymap::Place;
use crate::screen::own_part::{OwnPart, Row};
use crate::screen::state::State;
use crate::screen::text;
use crate::units::entry;

/// Columns before the text of a field: arrow, mark, name, gap.
pub(super) const COLUMN: usize = 36;
/// The most columns of a field with a unit behind it.
const BEFORE_UNIT: usize = 14;
/// Lines that are kept for the text below the fields where there is room.
const FOOT: usize = 7;
/// The fewest fields in view.
const LEAST: usize = 4;

/// Title, lines, and none of them scrolled: the list scrolls in itself.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    form: &OwnPart,
    body: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let told = told(state, pen, width, form);
    let rows = rows_of(form, told.len(), body);
    let top = top_of(form, rows);
    let shown = form.rows.iter().enumerate().skip(top).take(rows);
    let mut lines: Vec<Line> = shown
        .map(|(at, row)| line(state, pen, width, form, (at, row)))
        .collect();
    lines.extend(told);
    if let Some(body) = body.filter(|body| lines.len() > *body) {
        lines.truncate(body.saturating_sub(1));
        let key = state.keymap.key_of(Place::OwnPart, Action::Help);
        let key = key.map(|key| key.to_string()).unwrap_or_default();
        lines.push(Line::styled(format!(" ({key} shows all)"), pen.theme.muted));
    }
    let kind = form.kind.title();
    let title = match &form.changes {
        Some(_) => format!("Your own {kind}: {}", form.like),
        None => format!("A part of your own: {kind}"),
    };
    (
        format!("{title}, {} of {}", form.at + 1, form.rows.len()),
        lines,
    )
}

/// How many rows of fields there is room for.
fn rows_of(form: &OwnPart, told: usize, body: Option<usize>) -> usize {
    let all = form.rows.len();
    // The list stays as long while the text below it grows and shrinks, as far as it can.
    let below = |body: usize| told.max(FOOT.min(body / 3));
    body.map_or(all, |body| {
        body.saturating_sub(below(body)).clamp(LEAST.min(body), all)
    })
}

/// The first row in view.
fn top_of(form: &OwnPart, rows: usize) -> usize {
    let half = rows / 2;
    let most = form.rows.len().saturating_sub(rows);
    form.at.saturating_sub(half).min(most)
}

/// The line of the cursor's row, below the heading.
pub(super) fn cursor_row(
    state: &State,
    pen: &Pen,
    width: usize,
    form: &OwnPart,
    body: usize,
) -> usize {
    let told = told(state, pen, width, form);
    let rows = rows_of(form, told.len(), Some(body));
    form.at - top_of(form, rows) + 1
}

fn line(
    state: &State,
    pen: &Pen,
    width: usize,
    form: &OwnPart,
    (at, row): (usize, &Row),
) -> Line<'static> {
    let here = at == form.at;
    let arrow = if here { ">" } else { " " };
    let wrong = form.fault(at).is_some();
    let fault = pen.theme.severity(Severity::Fault);
    let (mark, marked) = match wrong {
        true => ("!", fault),
        false if form.is_copied(at) => ("=", pen.theme.muted),
        false if form.far_off(at).is_some() => ("?", pen.theme.severity(Severity::Caution)),
        false => (" ", fault),
    };
    let style = if wrong { fault } else { pen.theme.title };
    let name = vec![
        Span::raw(arrow),
        Span::styled(mark, marked),
        Span::styled(format!("{} ", pen.left(&row.label, COLUMN - 3)), style),
    ];
    let room = width.saturating_sub(COLUMN + 1);
    match &row.content {
        Content::Text(typed) => {
            let columns = field_columns(state, row, width);
            let field = match here {
                true => pen.field(typed, columns),
                false => Span::styled(pen.as_typed(typed.value(), columns), pen.theme.field),
            };
            let unit = Span::styled(format!(" {}", unit(state, row)), pen.theme.muted);
            Line::from([name, vec![field, unit]].concat())
        }
        Content::Pick(..) => {
            let text = format!("< {} >", row.shown());
            let line = Line::from([name, vec![Span::raw(pen.left(&text, room))]].concat());
            match here {
                true => under_cursor(line, pen.theme.selected),
                false => line,
            }
        }
    }
}

/// Columns of the text of a field: a short one where a unit stands behind it.
pub(super) fn field_columns(state: &State, row: &Row, width: usize) -> usize {
    let room = width.saturating_sub(COLUMN + 1);
    let unit = unit(state, row);
    match unit.is_empty() {
        true => room,
        false => room.saturating_sub(text::width(&unit) + 1).min(BEFORE_UNIT),
    }
}

/// The unit behind a field, as numbers are typed.
fn unit(state: &State, row: &Row) -> String {
    entry::unit_of(row.range().0, state.shown).to_owned()
}

/// All about the row under the cursor, in lines.
fn told(state: &State, pen: &Pen, width: usize, form: &OwnPart) -> Vec<Line<'static>> {
    let across = Line::styled(pen.glyphs.across().repeat(width), pen.theme.line);
    let mut lines = vec![across];
    let mut say = |words: &str, style: Style| {
        let wrapped = pen.wrap(words, width.saturating_sub(2)).into_iter();
        lines.extend(wrapped.map(|line| Line::styled(format!(" {line}"), style)));
    };
    let fault = pen.theme.severity(Severity::Fault);
    let wrong = form.fault(form.at).or_else(|| form.fault_of_all());
    if let Some(wrong) = wrong {
        say(&form.spoken(wrong), fault);
    }
    if let Some(far) = form.far_off(form.at) {
        say(&far, pen.theme.severity(Severity::Caution));
    }
    for text in sentences(state, form) {
        say(&text, Style::new());
    }
    if let Some(said) = form.worked_out().filter(|_| wrong.is_none()) {
        say(&said, pen.theme.good);
    }
    if wrong.is_none() && !form.faults.is_empty() {
        let text = match form.faults.len() {
            1 => "One field is wrong: ! stands before it.".to_owned(),
            many => format!("{many} fields are wrong: ! stands before them."),
        };
        say(&text, fault);
    }
    if let Some(copied) = form.copied_told() {
        say(&format!("= {copied}."), pen.theme.muted);
    }
    lines
}

/// What the row under the cursor means, what the word that is picked means, where it is read, what
/// it takes.
pub(super) fn sentences(state: &State, form: &OwnPart) -> Vec<String> {
    let Some(row) = form.rows.get(form.at) else {
        return Vec::new();
    };
    let mut all = vec![row.means.clone()];
    all.extend(row.word().map(|word| format!("{}: {word}", row.shown())));
    if !row.find.is_empty() {
        all.push(format!("Where: {}", row.find));
    }
    let takes = takes(state, row);
    all.extend((!takes.is_empty()).then_some(takes));
    all
}

/// What a field takes, in a sentence or two.
fn takes(state: &State, row: &Row) -> String {
    let (unit, range) = row.range();
    let other = match (range.is_empty(), unit.is_empty()) {
        (true, _) => String::new(),
        (false, true) => format!("It takes {range}."),
        (false, false) if state.speller.unit(unit) != unit || entry::is_unit(unit) => {
            format!("It takes {range}; other units are turned into this one.")
        }
        (false, false) => format!("It takes {range}."),
    };
    let empty = match (&row.content, row.optional, row.means.contains("mpty")) {
        (Content::Text(_), true, false) => " It may stay empty.",
        _ => "",
    };
    let picks = match row.content {
        Content::Pick(..) => "Left and right change it.",
        Content::Text(_) => "",
    };
    format!("{other}{empty}{picks}").trim().to_owned()
}
