//! Plain words on what is under the cursor, and the line above them, in which messages and
//! the find field stand.

use ratatui::text::{Line, Span};

use super::paint::Pen;
use crate::build::Value;
use crate::build::choices::Kind;
use crate::build::choices::drive::GantryDrive;
use crate::build::value::NumberKind;
use crate::catalogue::{Catalogue, Id};
use crate::rules::{Finding, Severity, topics};
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::{Focus, Notice, State};
use crate::screen::text;
use crate::screen::theme::mark;
use crate::screen::typed::Typed;
use crate::screen::update::can_change_own;
use crate::words::Words;

/// How many warnings of an option are named beside it.
const NAMED: usize = 2;

/// Where the text of the find field begins.
pub(super) const FIELD_COLUMN: usize = 9;

/// The line above the words, as long as no message takes more room.
pub(super) fn above(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    match &state.find {
        Some(find) => vec![field(find, pen, width)],
        None => notice(state, pen, width),
    }
}

fn field(find: &Typed, pen: &Pen, width: usize) -> Line<'static> {
    let room = width.saturating_sub(FIELD_COLUMN + 1);
    Line::from(vec![
        Span::styled(
            format!("{} find: ", pen.glyphs.across().repeat(2)),
            pen.theme.title,
        ),
        pen.field(find, room),
    ])
}

/// The message in a line across; a longer one below it, whole, over what else stands there.
pub(super) fn notice(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let across = Line::styled(pen.glyphs.across().repeat(width), pen.theme.line);
    let (text, style) = match &state.notice {
        Some(Notice::Done(text)) => (text, pen.theme.good),
        Some(Notice::Failed(text)) => (text, pen.theme.severity(Severity::Fault)),
        Some(Notice::Idle(text)) => (text, pen.theme.muted),
        None => return vec![across],
    };
    if text::width(&pen.spell(text)) + 6 <= width {
        return vec![pen.heading(text, width, style)];
    }
    let mut lines = vec![across];
    for line in pen.wrap(text, width.saturating_sub(2)) {
        let line = pen.left(&format!(" {line}"), width);
        lines.push(Line::styled(line, style));
    }
    lines
}

/// The words: on a choice why it matters and what a poor pick costs; on an option what it would
/// bring, and what it is, each from a line of its own on where there is room. Where they are cut,
/// the mark of it says which key shows the whole.
pub(super) fn words(state: &State, pen: &Pen, width: usize, height: usize) -> Vec<Line<'static>> {
    let room = width.saturating_sub(2);
    let parts = plain(state);
    let apart = parts.iter().flat_map(|part| pen.wrap(part, room));
    let mut lines: Vec<String> = apart.collect();
    if lines.len() > height {
        lines = pen.wrap(&parts.join(" "), room);
    }
    if lines.len() > height && height > 0 {
        let rest = lines.split_off(height - 1).join(" ");
        let more = match state.keymap.key_of(state.place(), Action::Help) {
            Some(key) => format!("  ({key} shows all)"),
            None => String::new(),
        };
        let columns = room.saturating_sub(text::width(&more));
        lines.push(format!("{}{more}", pen.cut(&rest, columns)));
    }
    lines
        .into_iter()
        .map(|line| Line::from(format!(" {line}")))
        .collect()
}

/// What there is to say about the choice or the option under the cursor: the warnings that it
/// would bring and lift, then what it is.
fn plain(state: &State) -> Vec<String> {
    let Some(choice) = state.choice() else {
        return Vec::new();
    };
    let text = option(state).unwrap_or_else(|| choice.about());
    let text = match choice.kind {
        Kind::Number(NumberKind {
            unset: Some(unset), ..
        }) if state.focus == Focus::Options => format!("Left empty: {unset}. {text}"),
        _ => text,
    };
    consequences(state).into_iter().chain([text]).collect()
}

/// What the marks in the row under the cursor stand for, the worst first.
fn consequences(state: &State) -> Option<String> {
    let row = state
        .options
        .current()
        .filter(|_| state.focus == Focus::Options)?;
    let Some(Ok(glance)) = &row.glance else {
        return None;
    };
    let first = |verb: &str, sign: &str, findings: &[Finding]| {
        let heads = topics::heads(findings);
        let worst = heads.iter().map(|finding| finding.severity).min()?;
        let alike = heads.iter().filter(|finding| finding.severity == worst);
        let named = alike.clone().take(NAMED).map(|finding| finding.title());
        let mut named: Vec<String> = named.collect();
        let alike = alike.count();
        let more = heads.len().saturating_sub(named.len());
        if more > 0 {
            named.push(format!("{more} more"));
        }
        let word = match alike {
            1 => format!("a {}", worst.title()),
            many => format!("{many} {}s", worst.title()),
        };
        let (mark, named) = (mark(worst), named.join(", "));
        Some(format!("{sign}{mark} {verb} {word}: {named}."))
    };
    let parts: Vec<String> = [
        first("adds", "+", &glance.added),
        first("lifts", "-", &glance.lifted),
    ]
    .into_iter()
    .flatten()
    .collect();
    (!parts.is_empty()).then(|| parts.join(" "))
}

/// The warnings that the option under the cursor would bring and lift, in full.
pub(super) fn brought(state: &State) -> Vec<(&'static str, Vec<Finding>)> {
    let row = state.options.current();
    let row = row.filter(|row| state.focus == Focus::Options && !row.now);
    let Some(Ok(glance)) = row.and_then(|row| row.glance.as_ref()) else {
        return Vec::new();
    };
    let both = [
        ("Warnings that it would bring", glance.added.clone()),
        ("Warnings that it would lift", glance.lifted.clone()),
    ];
    both.into_iter()
        .filter(|(_, findings)| !findings.is_empty())
        .collect()
}

/// What there is to say about the option under the cursor, apart from its choice.
pub(super) fn option(state: &State) -> Option<String> {
    let said = about_option(state)?;
    let before = own(state).into_iter().chain(pair(state).map(str::to_owned));
    let all: Vec<String> = before.chain([said]).collect();
    Some(all.join(" "))
}

/// That of an option two are bought, since Y is driven on each side.
fn pair(state: &State) -> Option<&'static str> {
    let drive = &state.build().drive;
    let is_alike = match state.choice()?.id {
        "drive_y" => drive.second_drive.is_none(),
        "motor_y" | "driver_y" | "coupling_y" => true,
        _ => false,
    };
    let both = is_alike && drive.gantry == GantryDrive::EachSide;
    both.then_some("Two are needed, one on each side.")
}

/// What can be done to a part of one's own; none on any other.
fn own(state: &State) -> Option<String> {
    let row = state.options.current();
    let row = row.filter(|_| state.focus == Focus::Options)?;
    let file = state.catalogue.own.get(row.part.as_ref()?)?;
    if !can_change_own(state) {
        return Some(format!("* Your own part: change it in {}.", file.name));
    }
    let key = |action| state.key_for(Place::Options, action);
    Some(format!(
        "* Your own part: {} changes it, {} removes it.",
        key(Action::ChangeOwn),
        key(Action::Remove)
    ))
}

/// The words on the option, whoever it comes from.
fn about_option(state: &State) -> Option<String> {
    let choice = state.choice()?;
    let row = state
        .options
        .current()
        .filter(|_| state.focus == Focus::Options)?;
    let plain = match (&row.value, row.ticked) {
        (Value::Parts(_), Some(_)) => note_of(&state.catalogue, row.part.as_ref()?),
        _ => choice.plain(&row.value, &state.catalogue),
    };
    match plain {
        Some(plain)
            if row.ticked.is_some() || matches!(row.value, Value::Word(_) | Value::Part(_)) =>
        {
            Some(format!("{}: {plain}", row.full))
        }
        _ if matches!(row.value, Value::Part(Some(_))) => {
            Some(format!("{}. {}", row.full, choice.why))
        }
        _ => None,
    }
}

/// The remark on a part that a checklist lists.
fn note_of(catalogue: &Catalogue, id: &Id) -> Option<String> {
    let (_, part) = catalogue.part(id.as_str())?;
    part.note().map(str::to_owned)
}
