//! Every figure of an assessment by its path in the JSON: how people and programs name one
//! of them, and where [`Notes`](crate::explain::Notes) keep its derivation.
//!
//! Elements of arrays are named by their own word (`bill.ball-screw-16x10.quantity`,
//! `cutting.softwood.mill-6mm-2f.slot.depth_mm`), or by their number (`cutting.12.depth_mm`).

use std::collections::HashMap;

use rust_decimal::Decimal;
use serde_json::{Map, Value};

use crate::explain::nth_key;

/// What at the top of the JSON are no figures.
const NO_FIGURES: &[&str] = &[
    "format", "title", "currency", "findings", "moved", "variant",
];

/// What at the top of the JSON holds exact decimals, which are strings there.
const DECIMALS: &[&str] = &["cost", "bill", "cuts", "consignments", "ordering"];

/// One step of a path.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Step {
    word: String,
    number: Option<usize>,
}

/// One figure in the JSON.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureAt {
    steps: Vec<Step>,
    /// Its value: a number, or an exact decimal as a string.
    pub value: Value,
}

/// How a path that somebody asks for meets a figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Meets {
    /// It is this figure.
    Whole,
    /// It is a group that the figure is in.
    Group,
    /// It leads elsewhere.
    Not,
}

impl FigureAt {
    /// A figure that has a derivation and is not in the JSON.
    pub fn beside(path: &str) -> Self {
        Self {
            steps: path.split('.').map(named).collect(),
            value: Value::Null,
        }
    }

    /// Its path with the words of array elements: where its derivation is kept.
    pub fn path(&self) -> String {
        let words: Vec<&str> = self.steps.iter().map(|step| step.word.as_str()).collect();
        words.join(".")
    }

    /// Its path with the numbers of array elements, from 0.
    pub fn numbered(&self) -> String {
        let words: Vec<String> = self
            .steps
            .iter()
            .map(|step| match step.number {
                Some(number) => number.to_string(),
                None => step.word.clone(),
            })
            .collect();
        words.join(".")
    }

    /// How a path as somebody typed it meets the figure.
    pub fn meets(&self, asked: &str) -> Meets {
        let asked = asked.replace('[', ".").replace(']', "");
        meets(&self.steps, asked.trim_matches('.'))
    }
}

fn meets(steps: &[Step], asked: &str) -> Meets {
    if asked.is_empty() {
        return match steps.is_empty() {
            true => Meets::Whole,
            false => Meets::Group,
        };
    }
    let Some((first, rest)) = steps.split_first() else {
        return Meets::Not;
    };
    let number = first.number.map(|number| number.to_string());
    for name in [Some(first.word.as_str()), number.as_deref()] {
        let Some(tail) = name.and_then(|name| asked.strip_prefix(name)) else {
            continue;
        };
        let further = match tail.strip_prefix('.') {
            Some(tail) => meets(rest, tail),
            None if tail.is_empty() => meets(rest, ""),
            None => Meets::Not,
        };
        if further != Meets::Not {
            return further;
        }
    }
    // A word of several, such as material, tool and engagement: its beginning is a group.
    let begun = first.word.strip_prefix(asked);
    match begun.is_some_and(|tail| tail.starts_with('.')) {
        true => Meets::Group,
        false => Meets::Not,
    }
}

/// Every figure in the JSON of an assessment, in its order.
pub fn all(json: &Value) -> Vec<FigureAt> {
    let mut found = Vec::new();
    for (key, value) in json.as_object().into_iter().flatten() {
        if !NO_FIGURES.contains(&key.as_str()) {
            let decimals = DECIMALS.contains(&key.as_str());
            let mut way = vec![named(key)];
            walk(value, decimals, &mut way, &mut found);
        }
    }
    found
}

fn named(word: &str) -> Step {
    Step {
        word: word.to_owned(),
        number: None,
    }
}

fn walk(value: &Value, decimals: bool, way: &mut Vec<Step>, found: &mut Vec<FigureAt>) {
    match value {
        Value::Object(map) => {
            for (key, value) in map {
                way.push(named(key));
                walk(value, decimals, way, found);
                way.pop();
            }
        }
        Value::Array(elements) => {
            let mut seen: HashMap<String, usize> = HashMap::new();
            for (number, element) in elements.iter().enumerate() {
                let word = word_of(element).unwrap_or_else(|| number.to_string());
                let earlier = seen.entry(word.clone()).or_default();
                way.push(Step {
                    word: nth_key(&word, *earlier),
                    number: Some(number),
                });
                *earlier += 1;
                walk(element, decimals, way, found);
                way.pop();
            }
        }
        leaf => {
            if is_figure(leaf, decimals, way) {
                found.push(FigureAt {
                    steps: way.clone(),
                    value: leaf.clone(),
                });
            }
        }
    }
}

/// Numbers are figures; so are the exact decimals ([`DECIMALS`]), which are strings.
fn is_figure(leaf: &Value, decimals: bool, way: &[Step]) -> bool {
    // Of a line's texts, a title might be all digits.
    let texts = [
        "part", "title", "why", "unit", "name", "section", "from", "marks",
    ];
    let is_text = |step: &Step| texts.contains(&step.word.as_str());
    match leaf {
        Value::Number(_) => true,
        Value::String(text) => {
            decimals && !way.last().is_some_and(is_text) && Decimal::from_str_exact(text).is_ok()
        }
        _ => false,
    }
}

/// The word by which an element of an array is known.
fn word_of(element: &Value) -> Option<String> {
    let map: &Map<String, Value> = element.as_object()?;
    let word = |key: &str| map.get(key).and_then(Value::as_str);
    for key in ["part", "run", "name", "section"] {
        if let Some(word) = word(key) {
            return Some(word.to_owned());
        }
    }
    let cut = [word("material")?, word("tool")?, word("engagement")?];
    Some(cut.join("."))
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn sample() -> Vec<FigureAt> {
        all(&json!({
            "format": 1,
            "cost": { "low": "12.50" },
            "cutting": [
                { "material": "oak", "tool": "mill-6.5mm", "engagement": "slot", "depth_mm": 2.5 },
                { "material": "oak", "tool": "mill-6.5mm", "engagement": "side", "depth_mm": 3 },
            ],
            "bill": [
                { "part": "tap", "title": "10", "quantity": "2", "date": "2026-11-01" },
                { "part": "tap", "title": "11", "quantity": "3" },
            ],
            "consignments": [{ "name": "yard", "title": "7", "freight": "39.00" }],
            "ordering": [
                { "name": "frame", "open": "0", "lead_days": 6, "here_by": "2026-12-04" },
            ],
            "machine": { "footprint_mm": [1.0, 2.0] },
            "findings": [{ "axis": 1 }],
        }))
    }

    #[test]
    fn figures_have_words_and_numbers() {
        let all = sample();
        let paths: Vec<String> = all.iter().map(FigureAt::path).collect();
        let mut sorted = paths.clone();
        sorted.sort();
        assert_eq!(
            sorted,
            [
                "bill.tap#2.quantity",
                "bill.tap.quantity",
                "consignments.yard.freight",
                "cost.low",
                "cutting.oak.mill-6.5mm.side.depth_mm",
                "cutting.oak.mill-6.5mm.slot.depth_mm",
                "machine.footprint_mm.0",
                "machine.footprint_mm.1",
                "ordering.frame.lead_days",
                "ordering.frame.open",
            ]
        );
        let numbered: Vec<String> = all.iter().map(FigureAt::numbered).collect();
        assert!(
            numbered.contains(&"cutting.1.depth_mm".to_owned()),
            "{numbered:?}"
        );
    }

    #[test]
    fn a_path_may_be_typed_in_several_ways() {
        let all = sample();
        let met = |asked: &str, wanted: Meets| {
            let figures = all.iter().filter(|figure| figure.meets(asked) == wanted);
            figures.map(FigureAt::path).collect::<Vec<_>>()
        };
        for asked in [
            "cutting.1.depth_mm",
            "cutting[1].depth_mm",
            "cutting.oak.mill-6.5mm.side.depth_mm",
        ] {
            assert_eq!(
                met(asked, Meets::Whole),
                ["cutting.oak.mill-6.5mm.side.depth_mm"]
            );
        }
        assert_eq!(met("cutting", Meets::Group).len(), 2);
        assert_eq!(met("cutting.oak", Meets::Group).len(), 2);
        assert_eq!(met("cutting.oak.mill-6.5mm.slot", Meets::Group).len(), 1);
        assert_eq!(met("cutting.0", Meets::Group).len(), 1);
        assert_eq!(met("", Meets::Group).len(), all.len());
        assert_eq!(met("cutting.oa", Meets::Group).len(), 0);
        assert_eq!(met("machine.footprint_mm[1]", Meets::Whole).len(), 1);
        assert_eq!(met("bill.tap#2.quantity", Meets::Whole).len(), 1);
        assert_eq!(FigureAt::beside("a.b").meets("a.b"), Meets::Whole);
    }
}
