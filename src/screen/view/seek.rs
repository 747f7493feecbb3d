//! The pages of the search for the cheapest build: what is wanted, the fields of one target, the
//! choices that may change.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use super::what_if::{Split, row, words};
use crate::explore::find::told;
use crate::explore::trial::is_bought;
use crate::rules::Severity;
use crate::screen::seek::{Row, Wanting, freeable};
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
    let heading = |text: &str| Line::styled(format!(" {text}"), pen.theme.title);
    split.rows.push(heading("What the machine must do"));
    for (place, one) in state.seek.rows().into_iter().enumerate() {
        let here = place == at;
        match one {
            Row::Against => split.rows.push(heading("What money is traded for")),
            Row::Free => split.rows.push(heading("What may change")),
            Row::Start => split.rows.push(Line::default()),
            Row::Target(_) | Row::Add => {}
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
            split.told = words(pen, width, why(one), Style::new());
        }
        let most = words(pen, width, why(one), Style::new()).len();
        split.most = split.most.max(most);
    }
    let title = "The cheapest build that does what you want".to_owned();
    (title, split.lines(pen, width, height))
}

/// A row in words.
fn said(state: &State, row: Row) -> String {
    match row {
        Row::Target(place) => {
            let target = state.seek.targets.get(place);
            let words =
                target.map(|one| told::wanted(one, &state.catalogue, state.cost().currency));
            words.unwrap_or_default()
        }
        Row::Add if state.seek.targets.is_empty() => "add a target".to_owned(),
        Row::Add => "add another target".to_owned(),
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
            format!("{choices}: {} builds", told::count(space.combinations()))
        }
        Row::Start => "Search".to_owned(),
    }
}

/// What a row is about.
fn why(row: Row) -> &'static str {
    match row {
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
            "All of drive, spindle and control that has a list of options, but for what protects people, wiring and settings. Enter shows them, to keep some or to let the frame change as well. Bought parts stay."
        }
        Row::Start => {
            "Every build is assessed, or excluded because it is certain that it costs more or misses something. Nothing changes until you take what was found; esc stops the search."
        }
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
            let input = &wanting.text;
            Line::from(vec![
                head(name, wanting.in_amount),
                match wanting.in_amount {
                    true => pen.field(input, room),
                    false => Span::styled(pen.as_typed(input.value(), room), pen.theme.field),
                },
            ])
        }
    });
    lines.push(Line::default());
    lines.extend(words(pen, width, wanting.plain(), Style::new()));
    let currency = state.cost().currency;
    lines.extend(match wanting.read(&state.catalogue) {
        Ok(target) => {
            let target = told::wanted(&target, &state.catalogue, currency);
            words(pen, width, &format!("Read as: {target}."), pen.theme.good)
        }
        Err(why) => words(pen, width, &why, pen.theme.severity(Severity::Fault)),
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
            let title = format!(" {}", choice.step.title());
            split.rows.push(Line::styled(title, pen.theme.title));
        }
        if place == at {
            split.at = split.rows.len();
            split.told = words(pen, width, choice.why, Style::new());
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
