//! Others who work on the same file: who they are, and what they changed.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::Pen;
use crate::screen::state::State;
use crate::screen::theirs::{Theirs, Told};

/// Who works on the file that was opened.
pub(super) fn held(state: &State) -> String {
    let told = state.file.held.as_deref().unwrap_or_default();
    format!(
        "Open elsewhere: {told}. Until it is closed there, nothing can be saved under this name."
    )
}

/// That somebody changed the file, and what follows from each way to go on.
pub(super) fn changed(theirs: &Theirs) -> String {
    // The whole path stands above, and would take the room of the answers.
    let name = theirs.path.file_name().unwrap_or(theirs.path.as_os_str());
    let path = name.to_string_lossy();
    match &theirs.held {
        Some(told) => format!("Not saved: {path} was changed since you opened it; {told}."),
        None => format!("Not saved: {path} was changed by somebody else since you opened it."),
    }
}

/// What differs, as far as there is room, with what is left out counted.
pub(super) fn differences(
    state: &State,
    pen: &Pen,
    (width, room): (usize, Option<usize>),
    theirs: &Theirs,
) -> Vec<Line<'static>> {
    let told = theirs.told(&state.catalogue, &state.file.saved, state.build());
    let all = told.len();
    let mut lines = Vec::new();
    for (place, one) in told.into_iter().enumerate() {
        let more = match one {
            Told::Heading(text) => pen.paragraph(&text, width, Style::new()),
            Told::Row(text) => pen
                .paragraph(&text, width.saturating_sub(2), Style::new())
                .into_iter()
                .map(|mut line| {
                    line.spans.insert(0, "  ".into());
                    line
                })
                .collect(),
        };
        // A row is kept for the count.
        let last = usize::from(place + 1 < all);
        if room.is_some_and(|room| lines.len() + more.len() + last > room) {
            let text = format!(
                "and {} more lines; keep both, then compare the files",
                all - place
            );
            let text = pen.paragraph(&text, width, Style::new());
            lines.extend(text.into_iter().take(1));
            break;
        }
        lines.extend(more);
    }
    lines
}
