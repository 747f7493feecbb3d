//! The reference of figures, from the derivations of the example builds: what each means, how it
//! is computed, the source, and where the model ends.

use gantrywright::assessment::figures::{self as paths, FigureAt};
use gantrywright::assessment::{explain, json};
use gantrywright::catalogue::Catalogue;
use gantrywright::explain::Derivation;
use gantrywright::store::examples;
use indexmap::IndexMap;

/// The ways in which one kind of figure comes about, by formula and source.
type Ways = IndexMap<(&'static str, &'static str), Derivation>;

/// Every kind of figure in the JSON of `assess`, group by group.
pub(crate) fn reference(catalogue: &Catalogue) -> String {
    let mut kinds: IndexMap<String, Ways> = IndexMap::new();
    for example in examples::all() {
        let build = example.build(catalogue).expect("an example");
        let (assessment, notes) =
            explain(catalogue, &build, crate::common::today()).expect("an assessment");
        for figure in paths::all(&json::json(&build, &assessment, &[])) {
            let derivation = notes.get(&figure.path()).expect("a derivation");
            let ways = kinds.entry(kind(&figure)).or_default();
            let key = (derivation.formula, derivation.source);
            ways.entry(key).or_insert_with(|| derivation.clone());
        }
    }
    let mut groups: IndexMap<&str, String> = IndexMap::new();
    for (kind, ways) in &kinds {
        let group = kind.split('.').next().unwrap_or(kind);
        groups
            .entry(group)
            .or_default()
            .push_str(&entry(kind, ways));
    }
    let groups = groups.into_iter();
    groups
        .map(|(group, text)| format!("\n## {group}\n{text}"))
        .collect()
}

/// The path with a word in capitals for each element of a list.
fn kind(figure: &FigureAt) -> String {
    let path = figure.numbered();
    let words: Vec<&str> = path.split('.').collect();
    let group = words.first().copied().unwrap_or_default();
    let named = |(place, word): (usize, &&str)| -> String {
        if ["X", "Y", "Z"].contains(word) {
            return "AXIS".to_owned();
        }
        if word.parse::<usize>().is_err() {
            return (*word).to_owned();
        }
        let name = match (group, place) {
            ("bill", 1) => "PART",
            ("cutting", 1) => "CUT",
            ("cables", 1) => "CABLE",
            ("consignments", 1) => "SUPPLIER",
            _ => "N",
        };
        name.to_owned()
    };
    let words: Vec<String> = words.iter().enumerate().map(named).collect();
    words.join(".")
}

fn entry(kind: &str, ways: &Ways) -> String {
    let mut text = format!("\n### `{kind}`\n");
    for way in ways.values() {
        let unit = match way.result.unit() {
            "" => String::new(),
            unit => format!(", in {unit}"),
        };
        let words = way.words.trim_end_matches('.');
        text.push_str(&format!("\n{}{unit}: {words}.\n\n", capital(&way.title)));
        text.push_str(&format!("    {}\n\n", way.formula));
        text.push_str(&symbols(way));
        text.push_str(&format!("Source: {}.", way.source.trim_end_matches('.')));
        if !way.limits.is_empty() {
            text.push_str(&format!(" Where it ends: {}", way.limits));
        }
        text.push('\n');
    }
    text
}

/// A text that begins with a capital letter.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first = letters.next().into_iter().flat_map(char::to_uppercase);
    first.chain(letters).collect()
}

/// What the symbols mean; of several with one symbol, the first.
fn symbols(way: &Derivation) -> String {
    let mut lines: IndexMap<&str, String> = IndexMap::new();
    for input in &way.inputs {
        let unit = match input.value.unit() {
            "" => String::new(),
            unit => format!(", {unit}"),
        };
        let many = input.symbol.ends_with("_i") || input.symbol.ends_with("_j");
        let each = if many { "each, such as " } else { "" };
        let line = format!("- `{}` {each}{}{unit}\n", input.symbol, input.title);
        lines.entry(input.symbol).or_insert(line);
    }
    let mut text: String = lines.into_values().collect();
    if !text.is_empty() {
        text.push('\n');
    }
    text
}
