//! The pages of "what if": the questions, an answer, what matters most, one choice over a
//! range. Each is a list with a cursor, and below it all about what is under the cursor.

use ratatui::style::Style;
use ratatui::text::Line;

use super::paint::Pen;
use super::split::{Split, row};
use crate::screen::state::{Layer, State};
use crate::screen::what_if::{Ask, asks};
use crate::words::Words as _;

pub(super) mod answer;
pub(super) mod sweep;
pub(super) mod weigh;

/// What stands there until it is worked out.
pub(super) const UNDER_WAY: &str =
    "Working it out: hundreds of builds are assessed, which takes a moment.";

/// The list of questions.
pub(super) fn page(
    pen: &Pen,
    width: usize,
    at: usize,
    height: Option<usize>,
) -> (String, Vec<Line<'static>>) {
    let order = "In the order of the steps; the cursor begins at the step that you come from.";
    let mut split = Split {
        head: pen.paragraph(order, width, pen.theme.muted),
        ..Split::default()
    };
    let mut group = "";
    for (place, ask) in asks().into_iter().enumerate() {
        let title = group_of(ask);
        if group != title {
            group = title;
            split.heading(pen, title);
        }
        if place == at {
            split.at = split.rows.len();
        }
        split.tell(pen.paragraph(why(ask), width, Style::new()), place == at);
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
    match state.below_help() {
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
