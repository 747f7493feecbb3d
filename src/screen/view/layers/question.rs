//! What is asked before something is lost: to leave, to replace, to remove, to take up.

use ratatui::style::Style;
use ratatui::text::Line;

use super::rows;
use crate::build::{Build, edit};
use crate::catalogue::Id;
use crate::screen::state::{Question, State};
use crate::screen::update::answers;
use crate::screen::view::beside;
use crate::screen::view::paint::Pen;

/// How much is not saved.
fn unsaved(state: &State) -> String {
    let (saved, build) = (&state.file.saved, state.build());
    let mut parts: Vec<String> = build
        .variant_names()
        .into_iter()
        .filter_map(|name| changed_in(saved, build, name))
        .collect();
    let gone = saved.variant_names().into_iter();
    let gone = gone.filter(|name| !build.variant_names().contains(name));
    parts.extend(gone.map(|name| format!("the variant {name} is removed")));
    if saved.variant() != build.variant() {
        parts.push(format!("the variant {} is open", build.variant()));
    }
    let bought = state.file.saved.purchases != state.build().purchases;
    if bought {
        parts.push("something was written down on the bill".to_owned());
    }
    if parts.is_empty() {
        parts.push("something else was written down".to_owned());
    }
    format!("Some of this is not saved: {}.", parts.join(", and "))
}

/// What a variant has that is not saved; none where nothing.
fn changed_in(saved: &Build, build: &Build, name: &str) -> Option<String> {
    let now = build.switched(name).ok()?;
    if !saved.variant_names().contains(&name) {
        return Some(format!("the variant {name} is new"));
    }
    let before = saved.switched(name).ok()?;
    let changed = match edit::difference(&before, &now).len() {
        0 => return None,
        1 => "1 choice is changed".to_owned(),
        many => format!("{many} choices are changed"),
    };
    Some(match build.variant_names().len() {
        1 => changed,
        _ => format!("{changed} in {name}"),
    })
}

/// What removing an own part does.
fn removes(state: &State, id: &Id) -> String {
    let title = state
        .catalogue
        .part(id.as_str())
        .map_or(id.as_str(), |(_, part)| part.title());
    format!(
        "{title} is taken out of its file, with the price that the form wrote down. Undo does not bring it back, and other builds that use it can no longer be opened."
    )
}

/// A question with its answers, the one under the cursor shown.
pub(super) fn ask(
    state: &State,
    pen: &Pen,
    (width, body): (usize, Option<usize>),
    question: &Question,
    cursor: usize,
) -> Vec<Line<'static>> {
    let words = match question {
        Question::Held => beside::held(state),
        Question::Changed(theirs, _) => beside::changed(theirs),
        Question::Recover => {
            let told = state.recovery.first().map(|offer| &offer.told);
            let told = told.into_iter().flatten();
            let mut lines: Vec<_> = told
                .flat_map(|text| pen.paragraph(text, width, Style::new()))
                .collect();
            lines.push(Line::default());
            lines.extend(rows(pen, width, &answers(question), cursor));
            return lines;
        }
        Question::Leave => unsaved(state),
        Question::RemoveOwn(_, id) => removes(state, id),
        Question::DropOwn => {
            "The part is not kept yet. What you typed in the form is gone when you leave it."
                .to_owned()
        }
        Question::Replace(path, _) => {
            format!(
                "{} exists already. Replacing it loses what it holds.",
                path.display()
            )
        }
    };
    let mut lines = pen.paragraph(&words, width, Style::new());
    lines.push(Line::default());
    lines.extend(rows(pen, width, &answers(question), cursor));
    if let Question::Changed(theirs, _) = question {
        let room = body.map(|body| body.saturating_sub(lines.len() + 1));
        lines.push(Line::default());
        lines.extend(beside::differences(state, pen, (width, room), theirs));
    }
    lines
}
