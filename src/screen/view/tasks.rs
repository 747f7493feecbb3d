//! The checklist to tick: tasks under their stages, and below them how the one under the cursor
//! is done.

use ratatui::text::{Line, Span};

use super::paint::{Pen, under_cursor};
use super::sheets;
use super::split::rule;
use crate::catalogue::task::Task;
use crate::screen::action::Action;
use crate::screen::keymap::Place;
use crate::screen::state::State;
use crate::screen::text;
use crate::words::Words as _;

/// Columns of a day.
const DAY: usize = 10;

/// The least rows of tasks; what is said about one takes no more than what they leave.
const LEAST: usize = 3;

/// Title and lines of the page.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    width: usize,
    cursor: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let tasks = &state.papers.tasks;
    let title = format!("Checklist: {}", sheets::progress(state));
    let Some(task) = tasks.get(cursor) else {
        let none = Line::from(" This machine has no task.");
        return (title, vec![none]);
    };
    let mut told = about(pen, width, task);
    // So much for the longest of them that the list does not jump as the cursor moves.
    let most = tasks.iter().map(|task| about(pen, width, task).len()).max();
    let height = height.unwrap_or(usize::MAX);
    let most = most
        .unwrap_or_default()
        .min(height.saturating_sub(LEAST + 1));
    if told.len() > most {
        told.truncate(most.saturating_sub(1));
        let key = state.key_for(Place::Tasks, Action::Help);
        let words = format!(" There is more: {key} shows all of it.");
        told.push(Line::styled(words, pen.theme.muted));
    }
    told.resize(most, Line::default());
    let room = height.saturating_sub(most + 1);
    let (rows, at) = rows(state, pen, width, cursor);
    // The cursor stands in the middle: what comes before a task and after it stays in view.
    let top = at
        .saturating_sub(room / 2)
        .min(rows.len().saturating_sub(room));
    let below = rows.len().saturating_sub(top + room);
    let mut lines: Vec<Line> = rows.into_iter().skip(top).take(room).collect();
    lines.push(rule(pen, width, below, false));
    lines.extend(told);
    (title, lines)
}

/// The rows, stages among them, and which is under the cursor.
fn rows(state: &State, pen: &Pen, width: usize, cursor: usize) -> (Vec<Line<'static>>, usize) {
    let mut lines = Vec::new();
    let mut at = 0;
    let mut stage = None;
    for (place, task) in state.papers.tasks.iter().enumerate() {
        if stage != Some(task.stage) {
            stage = Some(task.stage);
            let title = format!(" {}", task.stage.title());
            lines.push(Line::styled(title, pen.theme.title));
        }
        if place == cursor {
            at = lines.len();
        }
        let day = state.build().done.get(task.id.as_str());
        let tick = if day.is_some() { "[x]" } else { "[ ]" };
        let arrow = if place == cursor { ">" } else { " " };
        let front = format!("{arrow} {tick} {:>2} ", place + 1);
        let name = width.saturating_sub(text::width(&front) + DAY + 2);
        let day = day.map_or_else(String::new, ToString::to_string);
        let line = Line::from(format!(
            "{front}{} {}",
            pen.left(&task.title, name),
            pen.left(&day, DAY)
        ));
        lines.push(match place == cursor {
            true => under_cursor(line, pen.theme.selected),
            false => line,
        });
    }
    (lines, at)
}

/// How a task is done, what to expect, and why.
fn about(pen: &Pen, width: usize, task: &Task) -> Vec<Line<'static>> {
    let parts = [
        ("How: ", &task.how),
        ("Expect: ", &task.expect),
        ("Why: ", &task.why),
    ];
    let mut lines = Vec::new();
    for (name, words) in parts {
        if words.is_empty() {
            continue;
        }
        let rows = pen.wrap(&format!("{name}{words}"), width.saturating_sub(2));
        for (row, words) in rows.into_iter().enumerate() {
            lines.push(match words.strip_prefix(name).filter(|_| row == 0) {
                Some(rest) => Line::from(vec![
                    Span::styled(format!(" {name}"), pen.theme.title),
                    Span::raw(rest.to_owned()),
                ]),
                None => Line::from(format!(" {words}")),
            });
        }
    }
    lines
}
