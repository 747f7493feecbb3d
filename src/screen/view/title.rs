//! The two rows at the top: what is open, and the five steps.

use ratatui::text::{Line, Span};
use rust_decimal::Decimal;

use super::paint::Pen;
use crate::build::MAIN;
use crate::catalogue::Step;
use crate::catalogue::prices::Basis;
use crate::money::Currency;
use crate::screen::state::{Layer, State};
use crate::screen::text;
use crate::screen::theme::mark;
use crate::words::Words;

/// Between the title and the path.
const GAP: &str = "   ";
/// Columns that a title keeps whatever the path takes.
const TITLE: usize = 20;

/// The title of the build, its file, and what must not be overlooked.
pub(super) fn title(state: &State, pen: &Pen, width: usize) -> Line<'static> {
    let mut marks = Vec::new();
    if state.is_unsaved() {
        marks.push("unsaved".to_owned());
    }
    if state.file.theirs.is_some() {
        marks.push("file changed".to_owned());
    }
    if state.file.held.is_some() {
        marks.push("look only".to_owned());
    }
    marks.push(money(state).to_string());
    if state.now.bill.share_of(Basis::Invented) > Decimal::ZERO {
        marks.push("invented prices".to_owned());
    }
    let marks = format!("{} ", marks.join("   "));
    let room = width.saturating_sub(text::width(&marks) + 2);
    let title = match state.build().title.trim() {
        "" => "untitled",
        title => title,
    };
    // Which variant is open must not be overlooked: the title gives way to it.
    let variant = match state.build().variant() {
        MAIN => String::new(),
        name => pen.cut(&format!(" ({name})"), room),
    };
    let room = room.saturating_sub(text::width(&variant));
    let path = state
        .file
        .path
        .as_ref()
        .map(|path| path.display().to_string());
    let path = path.map_or_else(String::new, |path| pen.spell(&path));
    // A long title gives way to the path, down to a part by which it is known.
    let wanted = match path.as_str() {
        "" => 0,
        path => text::width(path) + GAP.len(),
    };
    let title = pen.cut(title, room.saturating_sub(wanted).max(room.min(TITLE)));
    let title = format!("{title}{variant}");
    let left = (room + text::width(&variant)).saturating_sub(text::width(&title) + GAP.len());
    let file = match path.as_str() {
        "" => String::new(),
        // Less would not be known as a path.
        _ if left < 5 => String::new(),
        path => format!("{GAP}{}", pen.cut_front(path, left)),
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

/// The money that the page in view counts in: in the interview that of the answers, which may
/// be for another country than the build that is open.
fn money(state: &State) -> Currency {
    let asks = |layer: &Layer| matches!(layer, Layer::Interview(_));
    match state.layers.iter().any(asks) {
        true => state.interview.answers.currency(&state.catalogue),
        false => state.now.bill.currency,
    }
}

/// How much a step says of itself.
#[derive(Clone, Copy)]
enum Say {
    /// The severity as a word.
    Word,
    /// The severity as a mark.
    Mark,
    /// The mark, and only the last word of a title, with no room between.
    Short,
}

/// The five steps, each with its worst warning: in words where there is room.
pub(super) fn steps(state: &State, pen: &Pen, width: usize) -> Line<'static> {
    let spans = told(state, pen, width)
        .into_iter()
        .flat_map(|(_, spans)| spans);
    Line::from(spans.collect::<Vec<_>>())
}

/// The step that stands in a column of the row of steps.
pub(super) fn step_at(state: &State, pen: &Pen, width: usize, column: usize) -> Option<Step> {
    let mut end = 0;
    let steps = told(state, pen, width).into_iter().map(|(step, spans)| {
        end += columns(&spans);
        (step, end)
    });
    steps
        .into_iter()
        .find(|(_, end)| column < *end)
        .map(|(step, _)| step)
}

/// Each step and how it is told.
type Told = Vec<(Step, Vec<Span<'static>>)>;

fn columns(spans: &[Span]) -> usize {
    spans.iter().map(Span::width).sum()
}

fn told(state: &State, pen: &Pen, width: usize) -> Told {
    // One form for each width, so that the row does not change while one works.
    let fits = |told: &Told| told.iter().map(|(_, spans)| columns(spans)).sum::<usize>() <= width;
    let ways: &[Say] = match width {
        120.. => &[Say::Word, Say::Mark],
        _ => &[Say::Mark],
    };
    let mut ways = ways.iter().map(|say| all(state, pen, *say));
    ways.find(fits)
        .unwrap_or_else(|| all(state, pen, Say::Short))
}

fn all(state: &State, pen: &Pen, say: Say) -> Told {
    let mut told = Vec::new();
    for (number, &step) in Step::ALL.iter().enumerate() {
        let mut spans = Vec::new();
        let here = state.step == step;
        let title = match (say, step) {
            (Say::Short, Step::WorkingArea) => "Area",
            _ => step.title(),
        };
        // The arrow's column parts the steps where there is no room for more.
        let gap = match say {
            Say::Short => "",
            _ => " ",
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
        if let Some(worst) = state.about.worst_of(step) {
            let text = match say {
                Say::Word => format!("({})", worst.title()),
                _ => mark(worst).to_owned(),
            };
            // The blank keeps the frame of a mark apart from that of the step.
            spans.push(Span::raw(" "));
            spans.push(Span::styled(text, pen.theme.severity(worst)));
        }
        spans.push(Span::raw(gap));
        told.push((step, spans));
    }
    told
}
