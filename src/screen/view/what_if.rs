//! The pages of "what if": the questions, an answer, what matters most, one choice over a
//! range. Each is a list with a cursor, and below it all about what is under the cursor.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::{Pen, under_cursor};
use crate::screen::state::{Layer, State};
use crate::screen::what_if::{Ask, asks};
use crate::words::Words as _;

pub(super) mod answer;
pub(super) mod sweep;
pub(super) mod weigh;

/// The least rows of most lists; what is said below it takes no more than what they leave.
const LEAST: usize = 3;

/// A page in the making: what stands above the list, the list, and what is said below it.
pub(super) struct Split {
    /// Above the list.
    pub(super) head: Vec<Line<'static>>,
    /// The list.
    pub(super) rows: Vec<Line<'static>>,
    /// Which of its lines the cursor is on.
    pub(super) at: usize,
    /// What is under the cursor.
    pub(super) told: Vec<Line<'static>>,
    /// Lines that the longest such text takes, so that the list does not jump.
    pub(super) most: usize,
    /// The least rows of the list, whatever is said below it.
    pub(super) least: usize,
}

impl Default for Split {
    fn default() -> Self {
        Self {
            head: Vec::new(),
            rows: Vec::new(),
            at: 0,
            told: Vec::new(),
            most: 0,
            least: LEAST,
        }
    }
}

impl Split {
    /// The lines of the page, fitted to its height: the list around its cursor, and of the text
    /// below as much as there is room for.
    pub(super) fn lines(
        self,
        pen: &Pen,
        width: usize,
        height: Option<usize>,
    ) -> Vec<Line<'static>> {
        let Self {
            head,
            rows,
            at,
            mut told,
            most,
            least,
        } = self;
        let Some(height) = height else {
            let rule = Line::styled(pen.glyphs.across().repeat(width), pen.theme.line);
            return [head, rows, vec![rule], told].concat();
        };
        let least = least.min(rows.len());
        let free = height.saturating_sub(head.len() + 1 + least);
        let most = most.max(told.len()).min(free);
        let more = told.len() > most;
        // What the list does not need belongs to the text.
        let room = height.saturating_sub(head.len() + 1 + most);
        told.resize(most, Line::default());
        let top = at
            .saturating_sub(room / 2)
            .min(rows.len().saturating_sub(room));
        let below = rows.len().saturating_sub(top + room);
        let mut lines = head;
        lines.extend(rows.into_iter().skip(top).take(room));
        lines.push(rule(pen, width, below, more));
        lines.extend(told);
        lines
    }
}

/// The line between a list and the text below it: how many rows are hidden, and whether there
/// is more to say than there is room for.
pub(super) fn rule(pen: &Pen, width: usize, below: usize, more: bool) -> Line<'static> {
    let mut words = Vec::new();
    match below {
        0 => {}
        1 => words.push("1 more row below".to_owned()),
        many => words.push(format!("{many} more rows below")),
    }
    if more {
        words.push(MORE.to_owned());
    }
    match words.is_empty() {
        true => Line::styled(pen.glyphs.across().repeat(width), pen.theme.line),
        false => pen.heading(&words.join("; "), width, pen.theme.muted),
    }
}

/// Where the text below a list is cut short.
const MORE: &str = "? shows all of it";

/// A row of a list, marked where it is under the cursor.
pub(super) fn row(pen: &Pen, text: &str, here: bool) -> Line<'static> {
    let arrow = if here { ">" } else { " " };
    let line = Line::from(format!("{arrow} {text}"));
    match here {
        true => under_cursor(line, pen.theme.selected),
        false => line,
    }
}

/// A text wrapped, one column from the left.
pub(super) fn words(pen: &Pen, width: usize, text: &str, style: Style) -> Vec<Line<'static>> {
    let lines = pen.wrap(text, width.saturating_sub(2)).into_iter();
    lines
        .map(|line| Line::styled(format!(" {line}"), style))
        .collect()
}

/// A name with what is said of it hanging behind.
pub(super) fn named(pen: &Pen, width: usize, name: &str, text: &str) -> Vec<Line<'static>> {
    /// Columns of a name.
    const NAME: usize = 10;
    let lines = pen.wrap(text, width.saturating_sub(NAME + 3)).into_iter();
    let lines = lines.enumerate().map(|(place, line)| {
        let name = if place == 0 { name } else { "" };
        Line::from(format!(" {} {line}", pen.left(name, NAME)))
    });
    lines.collect()
}

/// The list of questions.
pub(super) fn page(
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let order = "In the order of the steps; the cursor begins at the step that you come from.";
    let mut split = Split {
        head: words(pen, width, order, pen.theme.muted),
        ..Split::default()
    };
    let mut group = "";
    for (place, ask) in asks().into_iter().enumerate() {
        let title = group_of(ask);
        if group != title {
            group = title;
            split
                .rows
                .push(Line::styled(format!(" {title}"), pen.theme.title));
        }
        if place == at {
            split.at = split.rows.len();
            split.told = words(pen, width, why(ask), Style::new());
        }
        let most = words(pen, width, why(ask), Style::new()).len();
        split.most = split.most.max(most);
        split.rows.push(row(pen, self::title(ask), place == at));
    }
    let lines = split.lines(pen, width, height);
    ("What if".to_owned(), lines)
}

/// The heading that a row stands under.
fn group_of(ask: Ask) -> &'static str {
    match ask {
        Ask::Question(question) => question.step.title(),
        Ask::Weigh | Ask::Seek => "All together",
        Ask::Sweep(_) => "One choice over its range",
    }
}

fn title(ask: Ask) -> &'static str {
    match ask {
        Ask::Question(question) => question.title,
        Ask::Sweep(choice) => choice.title,
        Ask::Weigh => "What matters most?",
        Ask::Seek => "Which is the cheapest build that does what I want?",
    }
}

fn why(ask: Ask) -> &'static str {
    match ask {
        Ask::Question(question) => question.why,
        Ask::Sweep(choice) => choice.why,
        Ask::Seek => {
            "You say what the machine must do, such as rapids of at least 8 m/min. The search finds the cheapest build that does it, among all that drive, spindle and control allow."
        }
        Ask::Weigh => {
            "Every free choice of drive, spindle, control and frame, by how far it moves a figure and what it gives for its money."
        }
    }
}

/// All about what is under the cursor of the page that the help is about; nothing on others.
pub(super) fn told(state: &State, pen: &Pen, width: usize) -> Vec<Line<'static>> {
    let is_help = |layer: &&Layer| matches!(layer, Layer::Help(..));
    let mut below = state.layers.iter().rev().skip_while(is_help);
    match below.next() {
        Some(Layer::Answer(question, at)) => answer::told(state, pen, width, question, *at),
        Some(Layer::Weigh {
            measure,
            order,
            cursor,
        }) => weigh::told(state, pen, width, (*measure, *order, *cursor)),
        Some(Layer::Sweep { choice, cursor, .. }) => {
            sweep::told(state, pen, width, choice, *cursor)
        }
        Some(Layer::Found(at)) => super::seek::found::told(state, pen, width, *at),
        Some(Layer::Interview(at)) => super::interview::asked(state, pen, width, *at),
        Some(Layer::Proposed(at)) => super::interview::proposed::told_of(state, pen, width, *at),
        _ => Vec::new(),
    }
}
