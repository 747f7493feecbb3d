//! The pages of the search for the cheapest build: what is wanted, the fields of one target, the
//! choices that may change.

use std::time::Duration;

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use super::split::{Split, row};
use crate::build::Choice;
use crate::explore::find::{self, target};
use crate::explore::reading::Reading;
use crate::explore::trial::is_bought;
use crate::rules::Severity;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::seek::{LONGER, Row, Wanting, as_well_as_now, freeable};
use crate::screen::state::State;
use crate::words::Words as _;

pub(super) mod found;

/// Columns before the text of a field.
pub(super) const COLUMN: usize = 10;

/// What is wanted, and the row that begins the search.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let mut split = Split::default();
    if let Some(key) = state.keymap.key_of(Place::Seek, Action::Spend) {
        let changes = match frame_kept(state).is_empty() {
            true => "It changes together what is ticked under \"What may change\".",
            false => {
                "It changes drive, spindle and control; frame, extras, computer and circuits stay."
            }
        };
        let text = format!("{changes} {key} shows the other ways to spend less.");
        split.head = pen.paragraph(&text, width, pen.theme.muted);
    }
    split.passing(pen, "What the machine must do");
    for (place, one) in state.seek.rows().into_iter().enumerate() {
        let here = place == at;
        let why = why(state, one);
        match one {
            Row::Against => split.passing(pen, "What money is traded for"),
            Row::Free => split.passing(pen, "What may change"),
            Row::Start => split.rows.push(Line::default()),
            Row::Cuts => split.passing(pen, "What it must keep"),
            Row::Target(_) | Row::Add | Row::Cautions => {}
        }
        let first = split.rows.len();
        let lines = pen.wrap(&said(state, one), width.saturating_sub(3));
        for (line, text) in lines.into_iter().enumerate() {
            split.rows.push(match line {
                0 => row(pen, &text, here),
                _ => Line::from(format!("  {text}")),
            });
        }
        if here {
            split.at = first;
        }
        split.tell(pen.paragraph(&why, width, Style::new()), here);
    }
    let title = "The cheapest build for what you want".to_owned();
    (title, split.lines(pen, width, height))
}

/// A row in words.
fn said(state: &State, row: Row) -> String {
    match row {
        Row::Target(place) => {
            let target = state.seek.targets.get(place);
            let words =
                target.map(|one| find::told::wanted(one, &state.catalogue, state.cost().currency));
            words.unwrap_or_default()
        }
        Row::Add if state.seek.targets.is_empty() => "add a target".to_owned(),
        Row::Add => "add another target".to_owned(),
        Row::Cuts => {
            let cut = as_well_as_now(&state.catalogue, &state.now).len();
            let text = format!(
                "cuts all {cut} materials that it cuts now, as well as now; it may be slower"
            );
            ticked(state.seek.keeps_cuts, &text)
        }
        Row::Cautions => {
            let text = match target::cautions(&Reading::of(&state.now)) {
                0 => "no new cautions: there is none now".to_owned(),
                1 => "no new cautions: at most the 1 of now".to_owned(),
                many => format!("no new cautions: at most the {many} of now"),
            };
            ticked(!state.seek.more_cautions, &text)
        }
        Row::Against => match state.seek.against {
            None => "nothing: the cheapest build alone".to_owned(),
            Some(measure) => format!("{}: every trade that is worth it", measure.title()),
        },
        Row::Free => {
            let space = state.seek.space(&state.catalogue, state.build());
            let kind = match state.seek.free {
                None => "the usual ",
                Some(_) => "",
            };
            let choices = match space.free.len() {
                1 => "1 choice".to_owned(),
                many => format!("{kind}{many} choices"),
            };
            let frame = match frame_kept(state).is_empty() {
                true => "",
                false => "; the frame stays",
            };
            let builds = find::told::count(space.combinations());
            format!("{choices}: {builds} builds{frame}")
        }
        Row::Start => "Search".to_owned(),
    }
}

/// A text with a tick before it, or with none.
fn ticked(is: bool, text: &str) -> String {
    format!("[{}] {text}", if is { "x" } else { " " })
}

/// What a row is about.
fn why(state: &State, row: Row) -> String {
    let text = match row {
        Row::Start => return how_long(state),
        Row::Target(_) => {
            "Enter changes it, x removes it. Every build that is found does all that stands here; besides, it has no danger, and no fault that is not accepted."
        }
        Row::Add => {
            "Rapids, stiffness, removal, mains current or cost; a material cut so well; room on the floor; a part that it must have or must not have; how many cautions may stand. Without any, the cheapest build is found that has no danger and no fault."
        }
        Row::Against => {
            "With a figure here, not one build is found but all that no other one beats in both cost and that figure. Enter goes on to the next figure."
        }
        Row::Free => {
            let usual = "All of drive, spindle and control that has a list of options, but for what protects people, wiring and settings. Bought parts stay.";
            return format!("{usual} {}", stays(state));
        }
        Row::Cuts => {
            "Each material goes at least as well as now: easily stays easily. How fast is another matter: what is found says where a cut becomes slower. Enter ticks it, or takes the tick away."
        }
        Row::Cautions => {
            "Cautions count, not which ones: as many may stand as now, no more. Without the tick the search may bring any number of them; dangers and faults it never brings. Enter ticks it, or takes the tick away."
        }
    };
    text.to_owned()
}

/// The choices of the frame that the search keeps as they are.
fn frame_kept(state: &State) -> Vec<&'static Choice> {
    find::told::frame_kept(&state.seek.free(&state.catalogue), &state.catalogue)
}

/// Which choices of the frame stay, and how they are freed.
fn stays(state: &State) -> String {
    let kept = frame_kept(state);
    let names: Vec<String> = kept.iter().map(|one| one.title.to_lowercase()).collect();
    match names.as_slice() {
        [] => "Enter shows them, to keep some, or to let the frame change as well.".to_owned(),
        names => format!(
            "The frame stays: {}. Enter shows them all; a tick lets one change.",
            names.join(", ")
        ),
    }
}

/// What the search does, and how long that may take.
fn how_long(state: &State) -> String {
    let space = state.seek.space(&state.catalogue, state.build());
    let builds = find::told::count(space.combinations());
    let before = state.seek.outcome().and_then(|outcome| {
        let found = outcome.found.as_ref().ok()?;
        let all = find::told::count(found.space.combinations());
        let took = seconds(outcome.took);
        Some(if found.gave_up {
            format!("The last one gave up after {took}; again it works {LONGER} times as long.")
        } else if found.was_stopped() {
            format!("You stopped the last one after {took}, of {all} builds.")
        } else {
            format!("The last one took {took} for {all} builds.")
        })
    });
    let before = before
        .unwrap_or_else(|| "That takes seconds, or it gives up after some minutes.".to_owned());
    format!(
        "Of {builds} builds each is assessed, or excluded since it is certain to cost more or to miss something. {before} Nothing changes until you take what was found; esc stops it and keeps the best so far."
    )
}

/// That a search was asked to stop and has not yet.
pub(super) const STOPPING: &str =
    "Stopping, and showing what was found; esc again leaves without it.";

/// A time in words.
pub(super) fn seconds(time: Duration) -> String {
    match time.as_secs() {
        0 => "less than a second".to_owned(),
        1 => "1 second".to_owned(),
        few @ 2..120 => format!("{few} seconds"),
        many => format!("{} minutes", (many + 30) / 60),
    }
}

/// The fields of one target.
pub(super) fn target(
    state: &State,
    pen: &Pen,
    width: usize,
    wanting: &Wanting,
) -> (String, Vec<Line<'static>>) {
    let room = width.saturating_sub(COLUMN + 1);
    let head = |name: &str, here: bool| {
        let arrow = if here { ">" } else { " " };
        let head = format!("{arrow} {} ", pen.left(name, COLUMN - 3));
        Span::styled(head, pen.theme.title)
    };
    let pick = |name: &str, text: &str, here: bool| {
        let text = pen.left(&format!("< {text} >"), room);
        let line = Line::from(vec![head(name, here), Span::raw(text)]);
        match here {
            true => under_cursor(line, pen.theme.selected),
            false => line,
        }
    };
    let what = wanting.what(&state.catalogue);
    let mut lines = vec![pick("What", &what, !wanting.in_amount)];
    let unit = wanting.unit(state.build(), &state.catalogue);
    lines.push(match wanting.picked() {
        Some(answer) => pick("How", answer, wanting.in_amount),
        None => {
            let name = match (unit.is_empty(), wanting.is_count()) {
                (_, true) => "Number",
                (true, false) => "Part",
                (false, false) => unit.as_str(),
            };
            let typed = &wanting.text;
            Line::from(vec![
                head(name, wanting.in_amount),
                match wanting.in_amount {
                    true => pen.field(typed, room),
                    false => Span::styled(pen.as_typed(typed.value(), room), pen.theme.field),
                },
            ])
        }
    });
    lines.push(Line::default());
    lines.extend(pen.paragraph(wanting.plain(), width, Style::new()));
    let currency = state.cost().currency;
    lines.extend(match wanting.read(&state.catalogue) {
        Ok(target) => {
            let target = find::told::wanted(&target, &state.catalogue, currency);
            pen.paragraph(&format!("Read as: {target}."), width, pen.theme.good)
        }
        Err(why) => pen.paragraph(&why, width, pen.theme.severity(Severity::Fault)),
    });
    let title = match wanting.place {
        Some(_) => "Change a target",
        None => "Another target",
    };
    (title.to_owned(), lines)
}

/// The choices that may change, ticked.
pub(super) fn freed(
    state: &State,
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let free = state.seek.free(&state.catalogue);
    let mut split = Split::default();
    let mut step = None;
    let all = freeable(&state.catalogue);
    for (place, choice) in all.iter().enumerate() {
        if step != Some(choice.step) {
            step = Some(choice.step);
            split.heading(pen, choice.step.title());
        }
        if place == at {
            split.at = split.rows.len();
            split.told = pen.paragraph(choice.why, width, Style::new());
        }
        let is_free = free.iter().any(|one| one.id == choice.id);
        let mark = if is_free { "x" } else { " " };
        let bought = match is_bought(state.build(), choice) {
            true => " (bought: it stays)",
            false => "",
        };
        let text = pen.cut(
            &format!("[{mark}] {}{bought}", choice.title),
            width.saturating_sub(3),
        );
        split.rows.push(row(pen, &text, place == at));
    }
    split.most = 3;
    let title = format!("What may change: {} of {}", free.len(), all.len());
    (title, split.lines(pen, width, height))
}
