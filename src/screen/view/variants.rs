//! The pages of the variants: the list, the fields in which one is named, the comparison.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use crate::build::MAIN;
use crate::build::variants::LONGEST;
use crate::money::show as amounts;
use crate::rules::{Finding, Severity, tally};
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::side_by_side::{self, LineKind};
use crate::screen::state::State;
use crate::screen::theme::mark;
use crate::screen::typed::Typed;
use crate::screen::variants::{Named, Naming, Row};

/// Columns before the text of a row: arrow, mark, gap.
const INDENT: usize = 4;
/// Columns before the text of a field.
pub(super) const COLUMN: usize = 9;

/// The list: title, lines, and how far they are scrolled.
pub(super) fn list(
    state: &State,
    pen: &Pen,
    width: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>, usize) {
    let page = &state.variants;
    let mut lines = Vec::new();
    let (mut start, mut end) = (0, 0);
    for (place, row) in page.rows.iter().enumerate() {
        let here = place == page.cursor;
        let first = lines.len();
        lines.extend(block(state, pen, width, row, here));
        if here {
            (start, end) = (first, lines.len());
        }
    }
    lines.push(Line::default());
    let words = match state.build().variants.is_empty() {
        true => format!(
            "A variant is another way to build this machine: {} makes one and opens it. It keeps only what you change in it; the rest follows the one it came from. Purchases, ticks, accepted warnings and what was measured hold for all of them.",
            state.key_for(Place::Variants, Action::Branch)
        ),
        false => {
            "Purchases, ticks, accepted warnings and what was measured hold for all variants. What a variant does not set follows the one it came from.".to_owned()
        }
    };
    lines.extend(pen.paragraph(&words, width, pen.theme.muted));
    // At the last one the words below come into view, as far as its own rows stay there.
    if page.cursor + 1 == page.rows.len() {
        end = lines.len();
    }
    let top = height.map_or(0, |height| end.saturating_sub(height).min(start));
    let title = format!("Variants: {} of {}", page.cursor + 1, page.rows.len());
    (title, lines, top)
}

/// The lines of one variant: its name and cost, what it is, its note.
fn block(state: &State, pen: &Pen, width: usize, row: &Row, here: bool) -> Vec<Line<'static>> {
    let build = state.build();
    let room = width.saturating_sub(INDENT + 1);
    let arrow = if here { ">" } else { " " };
    let ticked = match state.variants.marked.contains(&row.name) {
        true => "x",
        false => " ",
    };
    let mut lines = Vec::new();
    let mut put = |text: &str, first: &str, style: Style| {
        let line = Line::styled(format!("{first}{}", pen.left(text, room + 1)), style);
        lines.push(match here {
            true => under_cursor(line, pen.theme.selected),
            false => line,
        });
    };
    let blank = " ".repeat(INDENT);
    let mut first = format!("{arrow} {ticked} ");
    for text in pen.wrap(&name(state, row), room) {
        put(&text, &first, pen.theme.title);
        first.clone_from(&blank);
    }
    for text in pen.wrap(&about(state, row), room) {
        let bad = row.assessment.is_err();
        let style = match bad {
            true => pen.theme.severity(Severity::Fault),
            false => Style::new(),
        };
        put(&text, &blank, style);
    }
    if let Some(worst) = worst(row) {
        let rule = worst.rule.title();
        let style = pen.theme.severity(worst.severity);
        for text in pen.wrap(&format!("{} {rule}", mark(worst.severity)), room) {
            put(&text, &blank, style);
        }
    }
    for text in pen.wrap(build.note_of(&row.name), room) {
        put(&text, &blank, pen.theme.muted);
    }
    lines
}

/// The name, and whether it is open or pinned.
fn name(state: &State, row: &Row) -> String {
    let build = state.build();
    let mut says = vec![row.name.as_str()];
    if row.name == build.variant() {
        says.push("open");
    }
    if build.variants.baseline() == Some(row.name.as_str()) {
        says.push("pinned");
    }
    says.join(", ")
}

/// The worst warning, where one is more than a hint.
fn worst(row: &Row) -> Option<&Finding> {
    let findings = &row.assessment.as_ref().ok()?.findings;
    let first = findings.iter().find(|finding| finding.counts())?;
    (first.severity < Severity::Hint).then_some(first)
}

/// What it costs, its warnings, and what it came from.
fn about(state: &State, row: &Row) -> String {
    let comes = match (state.build().came_from(&row.name), row.changes) {
        (None, _) => String::new(),
        (Some(from), 0) => format!("; as {from}"),
        (Some(from), 1) => format!("; from {from}, 1 choice differs"),
        (Some(from), many) => format!("; from {from}, {many} choices differ"),
    };
    match &row.assessment {
        Ok(one) => {
            let cost = amounts::money(one.bill.total.likely, one.bill.currency);
            let warnings = match one.findings.is_empty() {
                true => "no warnings".to_owned(),
                false => tally(&one.findings),
            };
            format!("{cost}; {warnings}{comes}")
        }
        Err(why) => format!("cannot be computed: {why}{comes}"),
    }
}

/// The fields in which a variant is named.
pub(super) fn naming(
    state: &State,
    pen: &Pen,
    width: usize,
    naming: &Naming,
) -> (String, Vec<Line<'static>>) {
    let room = width.saturating_sub(COLUMN + 1);
    let field = |name: &str, typed: &Typed, here: bool| {
        let arrow = if here { ">" } else { " " };
        let head = format!("{arrow} {} ", pen.left(name, COLUMN - 3));
        Line::from(vec![
            Span::styled(head, pen.theme.title),
            match here {
                true => pen.field(typed, room),
                false => Span::styled(pen.as_typed(typed.value(), room), pen.theme.field),
            },
        ])
    };
    let mut lines = vec![match naming.has_name() {
        true => field("Name", &naming.name, !naming.in_note),
        false => Line::from(format!("  {} {MAIN}", pen.left("Name", COLUMN - 3))),
    }];
    lines.push(field("Note", &naming.note, naming.in_note));
    lines.push(Line::default());
    let (title, words) = match &naming.of {
        Named::From(from) => (
            format!("New variant from {from}"),
            format!(
                "It begins as {from} is and is opened at once: what you choose from then on changes the new one alone."
            ),
        ),
        Named::Known(name) if name == MAIN => (
            "Note of the main build".to_owned(),
            "The main build keeps its name; its note is that of the whole file.".to_owned(),
        ),
        Named::Known(name) => (
            format!("Variant {name}"),
            "Variants that came from it follow the new name.".to_owned(),
        ),
    };
    let typed = naming.name.value().trim();
    let own = match &naming.of {
        Named::Known(name) => Some(name.as_str()),
        Named::From(_) => None,
    };
    let wrong = match naming.has_name() && !typed.is_empty() {
        true => state.build().is_free(typed, own).err(),
        false => None,
    };
    let range = format!("A name has 1 to {LONGEST} characters, and no comma.");
    let texts = [
        (words.as_str(), Style::new()),
        (range.as_str(), pen.theme.muted),
        (
            wrong.as_deref().unwrap_or_default(),
            pen.theme.severity(Severity::Fault),
        ),
    ];
    for (text, style) in texts {
        lines.extend(pen.paragraph(text, width, style));
    }
    (title, lines)
}

/// The comparison.
pub(super) fn compare(state: &State, pen: &Pen, width: usize) -> (String, Vec<Line<'static>>) {
    let page = &state.variants;
    let title = match page.all {
        true => "Side by side, everything",
        false => "Side by side, what differs",
    };
    let Some(comparison) = &page.comparison else {
        return (title.to_owned(), Vec::new());
    };
    let lines = side_by_side::lines(comparison, width, page.all, &state.speller);
    let lines = lines.into_iter().map(|line| {
        let style = match line.kind {
            LineKind::Names | LineKind::Group => pen.theme.title,
            LineKind::Gained(severity) => pen.theme.severity(severity),
            LineKind::Lost => pen.theme.good,
            LineKind::Same => pen.theme.muted,
            LineKind::Differs | LineKind::Words => Style::new(),
        };
        Line::styled(line.text, style)
    });
    (title.to_owned(), lines.collect())
}
