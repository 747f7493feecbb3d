//! The warnings in the pane: how many, what the preview lifts and adds, the worst ones.

use ratatui::text::{Line, Span};

use crate::explore::effect::Effect;
use crate::rules::topics::{Topic, topics};
use crate::rules::{Finding, tally};
use crate::screen::state::{PaneRow, State};
use crate::screen::text;
use crate::screen::theme::mark;
use crate::screen::view::paint::{Pen, under_cursor};

/// Heading of the warnings.
const WARNINGS: &str = "WARNINGS";

/// Counts by severity, what the preview lifts and adds, then the worst ones.
pub(super) fn warnings(state: &State, pen: &Pen, width: usize, room: usize) -> Vec<Line<'static>> {
    let shown = state
        .preview
        .as_ref()
        .map_or(&state.now.findings, |effect| &effect.after.findings);
    let mut lines: Vec<Line> = Vec::new();
    for summary in summary(shown, pen, width) {
        lines.push(match summary.strip_prefix(WARNINGS) {
            Some(rest) => Line::from(vec![
                Span::styled(WARNINGS, pen.theme.title),
                Span::raw(rest.to_owned()),
            ]),
            None => Line::from(summary),
        });
    }
    if let Some(effect) = &state.preview
        && !(effect.added.is_empty() && effect.lifted.is_empty())
    {
        let left = room.saturating_sub(lines.len());
        lines.extend(fitting(changes(effect, pen, width), left, pen));
        return lines;
    }
    let room = room.saturating_sub(lines.len());
    lines.extend(listed(state, pen, width.saturating_sub(2), room));
    lines
}

/// How many there are of each severity.
fn summary(shown: &[Finding], pen: &Pen, width: usize) -> Vec<String> {
    let text = format!("{WARNINGS} {}", tally(shown));
    pen.wrap(&text, width.saturating_sub(2))
}

/// The rows that it takes to name the worst one: the counts, its title, and how many more. Those
/// of the build as it stands, so that the pane does not jump while options are looked at.
pub(super) fn least(state: &State, pen: &Pen, width: usize) -> usize {
    let order = state.entries_listed();
    let worst = order
        .first()
        .and_then(|place| state.about.topics().get(*place));
    let title = worst.map_or(0, |topic| {
        block(state, pen, topic, width.saturating_sub(2), false).len()
    });
    summary(&state.now.findings, pen, width).len() + title + usize::from(order.len() > 1)
}

/// The entries that fit, worst first; from the cursor's on where keys go to the pane.
fn listed(state: &State, pen: &Pen, width: usize, room: usize) -> Vec<Line<'static>> {
    let order = state.entries_listed();
    let cursor = match state.pane_row() {
        Some(PaneRow::Finding(place)) => order.iter().position(|other| *other == place),
        _ => None,
    };
    let topics = state.about.topics();
    let mut blocks: Vec<Vec<Line>> = Vec::new();
    for (row, place) in order.iter().enumerate() {
        blocks.push(block(
            state,
            pen,
            &topics[*place],
            width,
            cursor == Some(row),
        ));
    }
    // Every title comes before any message, and what follows from a cause before messages
    // too: the worst ones get theirs while there is room.
    let mut left = room.saturating_sub(blocks.iter().map(Vec::len).sum());
    let titles: Vec<usize> = blocks.iter().map(Vec::len).collect();
    for more in [followers, message] {
        let mut parts = Vec::new();
        for place in &order {
            let part = more(state, pen, *place, width);
            if part.len() > left {
                break;
            }
            left -= part.len();
            parts.push(part);
        }
        // A message stands right under its title.
        for ((block, title), part) in blocks.iter_mut().zip(&titles).zip(parts) {
            block.splice(*title..*title, part);
        }
    }
    // The cursor's row must be in view, with the one that counts the rest below it: leave
    // out rows above it until it is.
    let mut first = 0;
    if let Some(cursor) = cursor {
        let rest = usize::from(cursor + 1 < blocks.len());
        let height = |from: usize| blocks[from..=cursor].iter().map(Vec::len).sum::<usize>() + rest;
        while first < cursor && height(first) > room {
            first += 1;
        }
    }
    fitting(blocks.split_off(first), room, pen)
}

/// What an option adds and what it lifts, each worst first.
fn changes(effect: &Effect, pen: &Pen, width: usize) -> Vec<Vec<Line<'static>>> {
    let mut blocks = Vec::new();
    for (sign, findings) in [("+", &effect.added), ("-", &effect.lifted)] {
        for topic in topics(findings) {
            let Some(finding) = findings.get(topic.first()) else {
                continue;
            };
            let style = match sign {
                "+" => pen.theme.severity(finding.severity),
                _ => pen.theme.good,
            };
            let mark = format!("{sign}{}", mark(finding.severity));
            let texts = pen.wrap(&topic.title(findings), width.saturating_sub(6));
            let lines = texts.into_iter().enumerate().map(|(row, text)| {
                let mark = if row == 0 { mark.as_str() } else { "" };
                Line::styled(format!("{mark:<3} {text}"), style)
            });
            blocks.push(lines.collect());
        }
    }
    blocks
}

/// The blocks that fit whole; where some don't, the last row says how many.
fn fitting(blocks: Vec<Vec<Line<'static>>>, room: usize, pen: &Pen) -> Vec<Line<'static>> {
    let all = blocks.len();
    let mut lines: Vec<Line> = Vec::new();
    for (shown, block) in blocks.into_iter().enumerate() {
        let keep_row = usize::from(shown + 1 < all);
        if lines.len() + block.len() + keep_row > room {
            // Of the worst one at least the beginning.
            let begun = room.saturating_sub(keep_row).min(block.len());
            if shown == 0 && begun > 0 {
                lines.extend(block.into_iter().take(begun));
                if keep_row > 0 {
                    let more = format!("and {} more", all - 1);
                    lines.push(Line::styled(more, pen.theme.muted));
                }
                break;
            }
            if lines.len() < room {
                let more = format!("and {} more", all - shown);
                lines.push(Line::styled(more, pen.theme.muted));
            }
            break;
        }
        lines.extend(block);
    }
    lines
}

/// The title of an entry with its mark.
fn block(state: &State, pen: &Pen, topic: &Topic, width: usize, here: bool) -> Vec<Line<'static>> {
    let findings = &state.now.findings;
    let Some(finding) = findings.get(topic.first()) else {
        return Vec::new();
    };
    let arrow = if here { ">" } else { "" };
    let mark = format!("{arrow}{}", mark(finding.severity));
    let style = if finding.counts() {
        pen.theme.severity(finding.severity)
    } else {
        pen.theme.muted
    };
    let title = match &finding.accepted {
        Some(_) => format!("{} (accepted)", topic.title(findings)),
        None => topic.title(findings),
    };
    let texts = pen.wrap(&title, width.saturating_sub(4));
    let lines = texts.into_iter().enumerate().map(|(row, text)| {
        let mark = if row == 0 { mark.as_str() } else { "" };
        let gap = " ".repeat(4 - text::width(mark));
        let line = Line::from(vec![
            Span::styled(mark.to_owned(), style),
            Span::raw(format!("{gap}{text}")),
        ]);
        if here {
            under_cursor(line, pen.theme.selected)
        } else {
            line
        }
    });
    lines.collect()
}

/// How a line begins that tells what follows from a cause.
const ALSO: &str = "    also: ";

/// What follows from the cause at the head of an entry, one line each.
fn followers(state: &State, pen: &Pen, place: usize, width: usize) -> Vec<Line<'static>> {
    let topics = state.about.topics();
    let followers = state.followers(place).filter_map(|place| topics.get(place));
    let lines = followers.map(|topic| {
        let text = format!("{ALSO}{}", topic.title(&state.now.findings));
        Line::from(pen.cut(&text, width))
    });
    lines.collect()
}

/// The messages of an entry's head, under its title.
fn message(state: &State, pen: &Pen, place: usize, width: usize) -> Vec<Line<'static>> {
    let Some(topic) = state.about.topics().get(place) else {
        return Vec::new();
    };
    let counting = topic.of(&state.now.findings).filter(|one| one.counts());
    let texts = counting.flat_map(|one| pen.wrap(&one.message, width.saturating_sub(4)));
    let lines = texts.map(|text| Line::styled(format!("    {text}"), pen.theme.muted));
    lines.collect()
}
