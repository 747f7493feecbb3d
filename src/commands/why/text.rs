//! Derivations as plain text for 80 columns.

use indexmap::IndexMap;
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
/// As many figures need no groups: a screenful.
const FEW: usize = 24;
/// The widest path beside which a value still stands.
const PATHS: usize = 58;

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
pub(in crate::commands) fn one(
    derivation: &Derivation,
    catalogue: &Catalogue,
    paint: Paint,
    width: usize,
) -> String {
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

/// Figures with their values, one to a line, in groups one level below the one asked for.
pub(super) fn list(asked: &str, figures: &[&FigureAt], notes: &Notes) -> String {
    let mut groups: IndexMap<String, Vec<(String, String)>> = IndexMap::new();
    for figure in figures {
        let path = figure.path();
        let value = match notes.get(&path) {
            Some(derivation) => derivation.result.to_string(),
            None => figure.value.to_string().trim_matches('"').to_owned(),
        };
        let row = (visible(&path).into_owned(), value);
        groups.entry(group_of(asked, &path)).or_default().push(row);
    }
    if groups.len() == 1 || figures.len() <= FEW {
        let rows: Vec<_> = groups.into_values().flatten().collect();
        return table_of(&rows, "");
    }
    let mut text = String::new();
    for (name, rows) in &groups {
        let count = match rows.len() {
            1 => "1 figure".to_owned(),
            many => format!("{many} figures"),
        };
        let gap = if text.is_empty() { "" } else { "\n" };
        text.push_str(&format!("{gap}{} ({count})\n", visible(name)));
        text.push_str(&table_of(rows, "  "));
    }
    text
}

/// The group in which a figure is listed: the next step of its path below what was asked for;
/// of axes and cuts one step more. Figures without such a step stand together.
fn group_of(asked: &str, path: &str) -> String {
    let above = asked.split('.').filter(|step| !step.is_empty()).count();
    let steps: Vec<&str> = path.split('.').collect();
    let wide = above == 0 && matches!(steps.first(), Some(&("axes" | "cutting")));
    let below = above + if wide { 2 } else { 1 };
    let named = if steps.len() > below {
        below
    } else {
        above.max(1)
    };
    steps[..named.min(steps.len())].join(".")
}

/// Paths and values, one to a line.
fn table_of(rows: &[(String, String)], indent: &str) -> String {
    let fitting = rows.iter().map(|(path, _)| path.width());
    let widest = fitting.filter(|width| *width <= PATHS).max().unwrap_or(0);
    let mut text = String::new();
    for (path, value) in rows {
        if path.width() > widest {
            let room = " ".repeat(widest);
            text.push_str(&format!("{indent}{path}\n{indent}{room}  {value}\n"));
        } else {
            text.push_str(&format!("{indent}{}  {value}\n", pad(path, widest)));
        }
    }
    text
}
