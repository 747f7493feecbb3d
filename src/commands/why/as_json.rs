//! Derivations as JSON, for programs.

use serde_json::{Value, json};

use super::family::Family;
use crate::assessment::figures::FigureAt;
use crate::assessment::json::n;
use crate::catalogue::Catalogue;
use crate::explain::{Derivation, Input, Notes, Worth};

/// A figure's derivation with those behind it.
pub(super) fn family(family: &Family, catalogue: &Catalogue) -> Value {
    let behind = family.all().into_iter().skip(1);
    let behind: Vec<Value> = behind.map(|one| derivation(one, catalogue)).collect();
    let mut root = derivation(family.root.derivation, catalogue);
    root["behind"] = behind.into();
    root["goes_on"] = family.goes_on.into();
    root
}

fn derivation(derivation: &Derivation, catalogue: &Catalogue) -> Value {
    let inputs: Vec<Value> = derivation
        .inputs
        .iter()
        .map(|one| input(one, catalogue))
        .collect();
    let mut row = json!({
        "path": derivation.path,
        "title": derivation.title,
        "value": value(&derivation.result),
        "unit": derivation.result.unit(),
        "words": derivation.words,
        "formula": derivation.formula,
        "inputs": inputs,
        "source": derivation.source,
        "limits": derivation.limits,
    });
    if let Some(modelled) = &derivation.modelled {
        row["modelled"] = value(modelled);
    }
    row
}

fn input(input: &Input, catalogue: &Catalogue) -> Value {
    let mut origin = json!({ "kind": input.origin.kind() });
    if !input.origin.names().is_empty() {
        origin["names"] = input.origin.names().into();
    }
    if let Some(title) = input.origin.title(catalogue) {
        origin["title"] = title.into();
    }
    json!({
        "symbol": input.symbol,
        "title": input.title,
        "value": value(&input.value),
        "unit": input.value.unit(),
        "origin": origin,
    })
}

/// As in the JSON of `assess`: six digits of what is computed, exact decimals as strings.
fn value(worth: &Worth) -> Value {
    match worth {
        Worth::Amount(amount) => n(amount.number),
        Worth::Exact(number, _) => Value::String(number.normalize().to_string()),
        Worth::Money(money) => Value::String(money.amount.to_string()),
    }
}

/// Figures with their values.
pub(super) fn list(figures: &[&FigureAt], notes: &Notes) -> Value {
    let each = figures.iter().map(|figure| {
        let path = figure.path();
        match notes.get(&path) {
            Some(derivation) => json!({
                "path": path,
                "title": derivation.title,
                "value": value(&derivation.result),
                "unit": derivation.result.unit(),
            }),
            None => json!({ "path": path, "value": figure.value }),
        }
    });
    Value::Array(each.collect())
}
