//! How one figure came about: formula in words and in symbols, what went in and where that
//! comes from, the source, and where the model ends.

use std::ops::Range;

use ratatui::text::{Line, Span};

use super::page::Page;
use super::paint::{Pen, under_cursor};
use crate::build::choices::Choice;
use crate::explain::{Derivation, Input, Origin};
use crate::screen::origin;
use crate::screen::state::{Layer, State};

/// A page as it is drawn, and the lines that each input takes.
struct Whole {
    lines: Vec<Line<'static>>,
    inputs: Vec<Range<usize>>,
}

/// Where the cursor can rest: how far the page is scrolled there, and the input that is
/// under the cursor; none while only text goes by.
struct Stop {
    top: usize,
    input: Option<usize>,
}

/// Title, lines and scroll of a derivation, the cursor at one of its stops.
pub(super) fn page(
    state: &State,
    pen: &Pen,
    (width, body): (usize, Option<usize>),
    (path, at): (&str, usize),
) -> (String, Vec<Line<'static>>, usize) {
    let Some(derivation) = state.figures.get(path) else {
        let gone = Line::from(" This figure is gone.");
        return ("How it came about".to_owned(), vec![gone], 0);
    };
    let pen = &pen.metric();
    let mut whole = whole(state, pen, width, derivation);
    let title = "How it came about".to_owned();
    let Some(body) = body else {
        return (title, whole.lines, 0);
    };
    let stops = stops(&whole, body);
    let Some(stop) = stops.get(at).or(stops.last()) else {
        return (title, whole.lines, 0);
    };
    if let Some(lines) = stop.input.and_then(|input| whole.inputs.get(input)) {
        for (place, row) in lines.clone().enumerate() {
            let line = std::mem::take(&mut whole.lines[row]);
            whole.lines[row] = here(pen, line, place == 0);
        }
    }
    (title, whole.lines, stop.top)
}

/// A line of the input under the cursor; an arrow before the first one.
fn here(pen: &Pen, line: Line<'static>, first: bool) -> Line<'static> {
    let mut spans = line.spans;
    if let Some(start) = spans.first_mut().filter(|_| first) {
        let text = start
            .content
            .strip_prefix(' ')
            .map(|rest| format!(">{rest}"));
        if let Some(text) = text {
            start.content = text.into();
        }
    }
    under_cursor(Line::from(spans), pen.theme.selected)
}

fn whole(state: &State, pen: &Pen, width: usize, derivation: &Derivation) -> Whole {
    let mut page = Page::new(pen, width);
    let result = format!("{}: {}", derivation.title, derivation.result);
    for line in pen.wrap(&result, width.saturating_sub(2)) {
        let line = format!(" {line}");
        page.lines.push(Line::styled(line, pen.theme.marked));
    }
    if let Some(modelled) = derivation.modelled {
        let off = off_by(derivation.result.number(), modelled.number());
        page.text(&format!(
            "You measured this. The model says {modelled}{off}."
        ));
    }
    if !derivation.words.is_empty() {
        page.part("Formula", &derivation.words);
    }
    if !derivation.formula.is_empty() {
        page.text(derivation.formula);
    }
    let mut inputs = Vec::new();
    if !derivation.inputs.is_empty() {
        page.lines.push(Line::default());
        page.lines
            .push(Line::styled(" What went in", pen.theme.title));
    }
    for input in &derivation.inputs {
        let from = page.lines.len();
        page.lines
            .extend(lines_of(state, pen, width, input, &derivation.path));
        inputs.push(from..page.lines.len());
    }
    for (title, words) in [
        ("Where it comes from", derivation.source),
        ("Where the model ends", derivation.limits),
    ] {
        if !words.is_empty() {
            page.part(title, words);
        }
    }
    page.part("Its name in JSON and for the command why", &derivation.path);
    Whole {
        lines: page.lines,
        inputs,
    }
}

/// How far the model was off, in percent of what was measured.
fn off_by(measured: f64, modelled: f64) -> String {
    let share = (modelled / measured - 1.0) * 100.0;
    match share.is_finite() {
        true => format!(", {share:+.0} %"),
        false => String::new(),
    }
}

/// An input: symbol, value and title, then where it comes from.
fn lines_of(
    state: &State,
    pen: &Pen,
    width: usize,
    input: &Input,
    path: &str,
) -> Vec<Line<'static>> {
    let symbol = match input.symbol {
        "" => String::new(),
        // A bare number is its own symbol.
        symbol if symbol == input.value.to_string() => String::new(),
        symbol => format!("{symbol} = "),
    };
    let head = format!("{symbol}{}, {}", input.value, input.title);
    let mut lines = Vec::new();
    for (row, line) in pen.wrap(&head, width.saturating_sub(4)).iter().enumerate() {
        let indent = if row == 0 { "  " } else { "    " };
        lines.push(Line::from(pen.left(&format!("{indent}{line}"), width)));
    }
    let origin = origin::words(state, &input.origin, path);
    for line in pen.wrap(&origin, width.saturating_sub(6)) {
        let line = pen.left(&format!("     {line}"), width);
        lines.push(Line::from(Span::styled(line, pen.theme.muted)));
    }
    lines
}

/// The stops of a page in a room of so many lines. Each input is one; where the text before
/// the first or after the last is longer than the room, each further line is one more.
fn stops(whole: &Whole, body: usize) -> Vec<Stop> {
    let top_for = |end: usize| end.saturating_sub(body);
    let first = whole.inputs.first().map_or(0, |range| top_for(range.end));
    let before = (0..first).map(|top| Stop { top, input: None });
    let inputs = whole.inputs.iter().enumerate().map(|(place, range)| Stop {
        top: top_for(range.end),
        input: Some(place),
    });
    let mut stops: Vec<Stop> = before.chain(inputs).collect();
    if stops.is_empty() {
        let (top, input) = (0, None);
        stops.push(Stop { top, input });
    }
    let last = stops.last().map_or(0, |stop| stop.top);
    let after = last + 1..=top_for(whole.lines.len());
    stops.extend(after.map(|top| Stop { top, input: None }));
    stops
}

/// The derivation on top, its stops, and at which of them the cursor is.
fn on_top(state: &State) -> Option<(&Derivation, Vec<Stop>, usize)> {
    let Some(Layer::Derivation(path, at)) = state.layers.last() else {
        return None;
    };
    let derivation = state.figures.get(path)?;
    let left = state.layout()?.left;
    let pen = super::bare(state).metric();
    let whole = whole(state, &pen, left.width.into(), derivation);
    let stops = stops(&whole, super::body_of(left.height.into()));
    let at = (*at).min(stops.len().saturating_sub(1));
    Some((derivation, stops, at))
}

/// How many stops the derivation on top has.
pub fn stops_of_derivation(state: &State) -> usize {
    on_top(state).map_or(0, |(_, stops, _)| stops.len())
}

/// The input under the cursor.
pub fn input_pointed(state: &State) -> Option<&Input> {
    let (derivation, stops, at) = on_top(state)?;
    derivation.inputs.get(stops.get(at)?.input?)
}

/// Whether an input is a figure that can be opened.
pub(super) fn figure_of_input(state: &State, input: Option<&Input>) -> bool {
    match input.map(|input| &input.origin) {
        Some(Origin::Figure(path)) => state.figures.head(path).is_some(),
        _ => false,
    }
}

/// The choice behind an input of the derivation on top.
pub(super) fn choice_of_input(state: &State, input: Option<&Input>) -> Option<&'static Choice> {
    let Some(Layer::Derivation(path, _)) = state.layers.last() else {
        return None;
    };
    origin::choice(state, &input?.origin, path)
}
