//! Plain words on what is under the cursor, and the line above them, in which messages and
//! the find field stand.

use ratatui::text::{Line, Span};

use super::paint::Pen;
use crate::build::Value;
use crate::catalogue::Catalogue;
use crate::rules::Severity;
use crate::screen::state::{Focus, Notice, State};
use crate::screen::text;

/// Where the text of the find field begins.
pub(super) const FIELD_COLUMN: usize = 9;

/// The line above the words.
pub(super) fn notice(state: &State, pen: &Pen, width: usize) -> Line<'static> {
    if let Some(find) = &state.find {
        let room = width.saturating_sub(FIELD_COLUMN + 1);
        let shown: String = find
            .value()
            .chars()
            .skip(find.visual_scroll(room))
            .collect();
        return Line::from(vec![
            Span::styled(
                format!("{} find: ", pen.glyphs.across().repeat(2)),
                pen.theme.title,
            ),
            Span::styled(pen.left(&shown, room), pen.theme.field),
        ]);
    }
    match &state.notice {
        Some(Notice::Done(text)) => pen.heading(text, width, pen.theme.good),
        Some(Notice::Failed(text)) => pen.heading(text, width, pen.theme.severity(Severity::Fault)),
        None => Line::styled(pen.glyphs.across().repeat(width), pen.theme.line),
    }
}

/// The words: on a choice why it matters; on an option what it is.
pub(super) fn words(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    let Some(choice) = state.choice() else {
        return Vec::new();
    };
    let option = state
        .options
        .current()
        .filter(|_| state.focus == Focus::Options);
    let text = match option {
        Some(row) => {
            let plain = match (&row.value, row.ticked) {
                (Value::Parts(_), Some(_)) => note_of(&state.catalogue, &row.full),
                _ => choice.plain(&row.value, &state.catalogue),
            };
            match plain {
                Some(plain)
                    if row.ticked.is_some()
                        || matches!(row.value, Value::Word(_) | Value::Part(_)) =>
                {
                    format!("{}: {plain}", row.full)
                }
                _ if matches!(row.value, Value::Part(Some(_))) => {
                    format!("{}. {}", row.full, choice.why)
                }
                _ => choice.why.to_owned(),
            }
        }
        None => choice.why.to_owned(),
    };
    let mut lines = text::wrap(&text, width.saturating_sub(2));
    if lines.len() > height && height > 0 {
        let rest = lines.split_off(height - 1).join(" ");
        lines.push(pen.cut(&rest, width.saturating_sub(2)));
    }
    lines
        .into_iter()
        .map(|line| Line::from(format!(" {line}")))
        .collect()
}

/// The note of a material, found by its title.
fn note_of(catalogue: &Catalogue, title: &str) -> Option<String> {
    let material = catalogue
        .materials
        .values()
        .find(|material| material.title == title)?;
    material.note.clone()
}
