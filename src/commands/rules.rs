//! `gantrywright rules`: the rules behind the warnings, from the rules themselves.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::{Failure, layout, output};
use crate::build::choices::section;
use crate::catalogue::Step;
use crate::rules::{self, Rule};
use crate::words::Words;

/// Lists the rules behind the warnings, with their reasons and sources.
#[derive(Args, Debug)]
pub(super) struct Rules {
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Rules) -> Result<ExitCode, Failure> {
    if args.json {
        return output::answer_json(&Json::Array(rules::all().map(json).collect()));
    }
    output::answer(&text())
}

fn json(rule: &Rule) -> Json {
    json!({
        "id": rule.id,
        "severity": rule.severities.first().map(|severity| severity.id()),
        "severities": ids(rule.severities),
        "step": section(rule.step),
        "title": rule.title,
        "watches": rule.watches,
        "because": rule.because,
        "do": rule.instead,
        "source": rule.from,
        "reads": ids(rule.reads),
    })
}

fn ids(words: &[impl Words]) -> Vec<&'static str> {
    words.iter().map(|word| word.id()).collect()
}

fn text() -> String {
    let mut text = String::new();
    for step in Step::ALL {
        let mut heading = format!("{}\n", step.title());
        for rule in rules::all().filter(|rule| rule.step == *step) {
            text.push_str(&std::mem::take(&mut heading));
            text.push_str(&entry(rule));
        }
    }
    text
}

fn entry(rule: &Rule) -> String {
    const INDENT: usize = 14;
    let severities: Vec<&str> = rule.severities.iter().map(|one| one.title()).collect();
    let mut text = format!("\n  {} ({})\n", rule.id, severities.join(" or "));
    for (label, about) in [
        ("    problem", rule.title),
        ("    watches", rule.watches),
        ("    because", rule.because),
        ("    from", rule.from),
        ("    instead", rule.instead),
    ] {
        text.push_str(&layout::hanging(label, INDENT, about));
    }
    text.push('\n');
    text
}
