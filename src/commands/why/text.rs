//! Derivations as plain text for 80 columns.

use unicode_width::UnicodeWidthStr as _;

use super::family::{Branch, Family};
use crate::assessment::figures::FigureAt;
use crate::catalogue::Catalogue;
use crate::commands::color::Paint;
use crate::commands::layout::{WIDTH, hanging, hanging_within, pad};
use crate::explain::{Derivation, Input, Notes, Origin};
use crate::store::visible;

/// The columns that labels take.
const LABELS: usize = 12;
/// How far each generation is indented, and at most.
const STEP: usize = 2;
const DEEPEST: usize = 12;
/// The widest path beside which a value still stands.
const PATHS: usize = 60;

/// A figure's derivation, and indented below it those of its inputs.
pub(super) fn family(family: &Family, catalogue: &Catalogue, paint: Paint) -> String {
    let mut page = String::new();
    branch(&mut page, &family.root, catalogue, paint, 0);
    if family.goes_on {
        page.push('\n');
        let more = "Further figures stand behind these: --deep explains them all, or ask for one of them by its path.";
        page.push_str(&hanging("", 0, more));
    }
    page
}

fn branch(page: &mut String, branch: &Branch, catalogue: &Catalogue, paint: Paint, depth: usize) {
    let indent = (depth * STEP).min(DEEPEST);
    if depth > 0 {
        page.push('\n');
    }
    let text = one(branch.derivation, catalogue, paint, WIDTH - indent);
    for line in text.lines() {
        page.push_str(&format!("{}{line}\n", " ".repeat(indent)));
    }
    for below in &branch.below {
        self::branch(page, below, catalogue, paint, depth + 1);
    }
}

/// One derivation within a width.
fn one(derivation: &Derivation, catalogue: &Catalogue, paint: Paint, width: usize) -> String {
    let title = format!("{}: {}", derivation.title, derivation.result);
    let mut text = String::new();
    for line in hanging_within(width, "", 0, &title).lines() {
        text.push_str(&paint.heading(line));
        text.push('\n');
    }
    let labelled =
        |label: &str, said: &str| hanging_within(width, &format!("  {label}"), LABELS, said);
    text.push_str(&labelled("path", &derivation.path));
    text.push_str(&labelled("in words", &derivation.words));
    text.push_str(&labelled("formula", derivation.formula));
    let (here, given): (Vec<&Input>, Vec<&Input>) = derivation
        .inputs
        .iter()
        .partition(|input| input.origin == Origin::Here);
    for (heading, inputs) in [("inputs", given), ("on the way", here)] {
        text.push_str(&table(heading, &inputs, catalogue, width));
    }
    if let Some(modelled) = derivation.modelled {
        let said = format!("Your measured value stands here; the model alone says {modelled}.");
        text.push_str(&labelled("measured", &said));
    }
    text.push_str(&labelled("source", derivation.source));
    text.push_str(&labelled("limits", derivation.limits));
    text
}

/// Inputs below their heading: symbol, value, and in words what it is and where from.
fn table(heading: &str, inputs: &[&Input], catalogue: &Catalogue, width: usize) -> String {
    if inputs.is_empty() {
        return String::new();
    }
    let values: Vec<String> = inputs.iter().map(|input| input.value.to_string()).collect();
    let symbols = inputs.iter().map(|input| input.symbol.width()).max();
    let symbols = symbols.unwrap_or_default();
    let widest = values.iter().map(|value| value.width()).max();
    let widest = widest.unwrap_or_default();
    let mut text = format!("  {heading}\n");
    for (input, value) in inputs.iter().zip(&values) {
        let room = " ".repeat(widest - value.width());
        let label = format!("    {}  {room}{value}", pad(input.symbol, symbols));
        let said = match input.origin {
            Origin::Here => input.title.clone(),
            _ => format!("{}; {}", input.title, input.origin.words(catalogue)),
        };
        let indent = label.width() + 2;
        text.push_str(&hanging_within(width, &label, indent, &said));
    }
    text
}

/// Figures with their values, one to a line.
pub(super) fn list(figures: &[&FigureAt], notes: &Notes) -> String {
    let rows: Vec<(String, String)> = figures
        .iter()
        .map(|figure| {
            let path = figure.path();
            let value = match notes.get(&path) {
                Some(derivation) => derivation.result.to_string(),
                None => figure.value.to_string().trim_matches('"').to_owned(),
            };
            (visible(&path).into_owned(), value)
        })
        .collect();
    let fitting = rows.iter().map(|(path, _)| path.width());
    let widest = fitting.filter(|width| *width <= PATHS).max().unwrap_or(0);
    let mut text = String::new();
    for (path, value) in rows {
        if path.width() > widest {
            text.push_str(&format!("{path}\n{}  {value}\n", " ".repeat(widest)));
        } else {
            text.push_str(&format!("{}  {value}\n", pad(&path, widest)));
        }
    }
    text
}
