//! `gantrywright rules`: the rules behind the warnings, from the rules themselves.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::{Failure, layout, output};
use crate::build::choices::section;
use crate::build::{Build, nearest};
use crate::catalogue::Step;
use crate::rules::{self, Rule};
use crate::words::Words;

/// Lists the rules behind the warnings, with their reasons and sources.
#[derive(Args, Debug)]
pub(super) struct Rules {
    /// Only rules whose id or title holds this word.
    #[arg(value_name = "WORD")]
    word: Option<String>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(args: &Rules) -> Result<ExitCode, Failure> {
    let word = args.word.as_deref().unwrap_or_default().to_lowercase();
    let asked = |rule: &&Rule| rule.id.contains(&word) || rule.title.to_lowercase().contains(&word);
    let rules: Vec<&Rule> = rules::all().filter(asked).collect();
    if rules.is_empty() {
        let hint = nearest::hint(&word, rules::all().map(|rule| rule.id));
        return Err(Failure::new(format!("there is no rule {word:?}{hint}")));
    }
    if args.json {
        return output::answer_json(&Json::Array(rules.into_iter().map(json).collect()));
    }
    output::answer(&text(&rules))
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
        "decided_by": decided_by(rule),
        "example": example(rule),
    })
}

/// The choices of drive, spindle and control that alone decide it, over all axes, where two
/// drives of Y are alike, as they are at first; null where it is not declared.
fn decided_by(rule: &Rule) -> Json {
    let choices = rule.decided_in(None, &Build::default());
    choices.map_or(Json::Null, |choices| {
        choices.iter().map(|choice| choice.id).collect()
    })
}

/// The two builds on either side of the threshold; null where prices and dates alone move it.
fn example(rule: &Rule) -> Json {
    let example = rule.example;
    if example.is_by_data() {
        return Json::Null;
    }
    json!({
        "given": given(rule),
        "fires": format!("{}={}", example.choice, example.fires),
        "quiet": format!("{}={}", example.choice, example.quiet),
    })
}

/// The same in words.
fn example_in_words(rule: &Rule) -> String {
    let example = rule.example;
    if example.is_by_data() {
        return "prices and dates alone move it".to_owned();
    }
    let given = given(rule);
    let with = match given.is_empty() {
        true => String::new(),
        false => format!(" (with {})", given.join(", ")),
    };
    format!(
        "fires at {}={}, quiet at {}{with}",
        example.choice, example.fires, example.quiet
    )
}

/// What both builds of the example have in common besides the default.
fn given(rule: &Rule) -> Vec<String> {
    let each = rule.example.given.iter();
    each.map(|(choice, value)| format!("{choice}={value}"))
        .collect()
}

fn ids(words: &[impl Words]) -> Vec<&'static str> {
    words.iter().map(|word| word.id()).collect()
}

fn text(rules: &[&Rule]) -> String {
    let mut text = String::new();
    for step in Step::ALL {
        let mut heading = format!("{}\n", step.title());
        for rule in rules.iter().filter(|rule| rule.step == *step) {
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
    text.push_str(&layout::hanging(
        "    example",
        INDENT,
        &example_in_words(rule),
    ));
    text.push('\n');
    text
}
