//! The two rows at the top: what is open, and the five steps.

use ratatui::text::{Line, Span};
use rust_decimal::Decimal;

use super::paint::Pen;
use crate::catalogue::Step;
use crate::catalogue::prices::Basis;
use crate::screen::state::State;
use crate::screen::text;
use crate::screen::theme::mark;
use crate::words::Words;

/// The title of the build, its file, and what must not be overlooked.
pub(super) fn title(state: &State, pen: &Pen, width: usize) -> Line<'static> {
    let mut marks = Vec::new();
    if state.is_unsaved() {
        marks.push("unsaved".to_owned());
    }
    marks.push(state.now.bill.currency.to_string());
    if state.now.bill.share_of(Basis::Invented) > Decimal::ZERO {
        marks.push("invented prices".to_owned());
    }
    let marks = format!("{} ", marks.join("   "));
    let room = width.saturating_sub(text::width(&marks) + 2);
    let title = pen.cut(&state.build().title, room);
    let file = match &state.path {
        Some(path) => pen.cut(
            &format!("   {}", path.display()),
            room.saturating_sub(text::width(&title)),
        ),
        None => String::new(),
    };
    let gap =
        width.saturating_sub(1 + text::width(&title) + text::width(&file) + text::width(&marks));
    Line::from(vec![
        Span::styled(format!(" {title}"), pen.theme.title),
        Span::styled(file, pen.theme.muted),
        Span::raw(" ".repeat(gap)),
        Span::raw(marks),
    ])
}

/// How much a step says of itself.
#[derive(Clone, Copy)]
enum Say {
    /// The severity as a word.
    Word,
    /// The severity as a mark.
    Mark,
    /// The mark, and only the first word of a title.
    Short,
}

/// The five steps, each with its worst warning: in words where there is room.
pub(super) fn steps(state: &State, pen: &Pen, width: usize) -> Line<'static> {
    let ways = [Say::Word, Say::Mark, Say::Short].map(|say| all(state, pen, say));
    let fits = |line: &Line| line.width() <= width;
    let [word, mark, short] = ways;
    if fits(&word) {
        word
    } else if fits(&mark) {
        mark
    } else {
        short
    }
}

fn all(state: &State, pen: &Pen, say: Say) -> Line<'static> {
    let mut spans = Vec::new();
    for (number, &step) in Step::ALL.iter().enumerate() {
        let here = state.step == step;
        let title = match (say, step) {
            (Say::Short, Step::WorkingArea) => "Area",
            _ => step.title(),
        };
        let arrow = if here { ">" } else { " " };
        let style = if here {
            pen.theme.selected
        } else {
            pen.theme.marked
        };
        spans.push(Span::styled(
            format!("{arrow}{} {title}", number + 1),
            style,
        ));
        if let Some(worst) = state.worst_of(step) {
            let text = match say {
                Say::Word => format!(" ({})", worst.title()),
                _ => format!(" {}", mark(worst)),
            };
            spans.push(Span::styled(text, pen.theme.severity(worst)));
        }
        spans.push(Span::raw(" "));
    }
    Line::from(spans)
}
