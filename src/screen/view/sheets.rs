//! The pages of the sheets: which there are, one as it will be printed, and its formats.

use ratatui::text::Line;

use super::paint::Pen;
use super::pick;
use crate::screen::state::State;
use crate::sheets::{Format, SheetKind};
use crate::words::Words as _;

/// Columns of a sheet's or a format's name.
const NAME: usize = 18;

/// The list of sheets.
pub(super) fn list(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>, usize) {
    let answers = SheetKind::WORDS.iter().zip(SheetKind::ALL);
    let answers = answers.map(|(word, kind)| {
        let plain = match kind {
            SheetKind::Checklist => format!("{} {}.", word.plain, progress(state)),
            _ => word.plain.to_owned(),
        };
        (word.title.to_owned(), plain)
    });
    let answers: Vec<(String, String)> = answers.collect();
    let (mut lines, top) = pick::rows(pen, width, NAME, &answers, at, height);
    lines.push(Line::default());
    let words = "A sheet follows the build: write it anew when something was changed. All of them in one file are the dossier.";
    let words = pen.wrap(words, width.saturating_sub(3));
    lines.extend(
        words
            .into_iter()
            .map(|line| Line::styled(format!("  {line}"), pen.theme.muted)),
    );
    ("Sheets for the workshop".to_owned(), lines, top)
}

/// How much of the checklist is done.
pub(super) fn progress(state: &State) -> String {
    let tasks = &state.papers.tasks;
    let done = &state.build().done;
    let ticked = tasks
        .iter()
        .filter(|task| done.contains_key(task.id.as_str()));
    format!("{} of {} done", ticked.count(), tasks.len())
}

/// One sheet as plain text.
pub(super) fn sheet(state: &State, pen: &Pen, kind: SheetKind) -> (String, Vec<Line<'static>>) {
    let lines = state.papers.lines.iter().map(|line| {
        let style = match line.as_str() {
            rule if !rule.is_empty() && rule.chars().all(|c| "=- ".contains(c)) => pen.theme.line,
            group if group.starts_with("* ") => pen.theme.title,
            note if note.starts_with("Safety: ") => pen.theme.marked,
            _ => ratatui::style::Style::default(),
        };
        Line::styled(format!(" {line}"), style)
    });
    let place = kind.index() + 1;
    let title = format!(
        "Sheet {place} of {}: {}",
        SheetKind::ALL.len(),
        kind.title()
    );
    (title, lines.collect())
}

/// The formats in which a sheet can be written.
pub(super) fn formats(
    pen: &Pen,
    width: usize,
    (kind, at): (SheetKind, usize),
    height: Option<usize>,
) -> (String, Vec<Line<'static>>, usize) {
    let answers: Vec<(String, String)> = Format::WORDS
        .iter()
        .map(|word| (word.title.to_owned(), word.plain.to_owned()))
        .collect();
    let (lines, top) = pick::rows(pen, width, NAME, &answers, at, height);
    let title = format!("{}: write it as", kind.title());
    (title, lines, top)
}
