//! `gantrywright rules`: the rules behind the warnings, from the rules themselves.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::{Failure, Overlays, input, layout, output};
use crate::build::choices::section;
use crate::build::{Build, nearest};
use crate::catalogue::Step;
use crate::catalogue::own_rule::OwnRule;
use crate::rules::{self, Rule, RuleId, Told};
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
    #[command(flatten)]
    pub(super) overlays: Overlays,
}

pub(super) fn run(args: &Rules) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.overlays)?;
    let word = args.word.as_deref().unwrap_or_default().to_lowercase();
    let holds = |id: &str, title: &str| id.contains(&word) || title.to_lowercase().contains(&word);
    let rules = rules::all().filter(|rule| holds(rule.id, rule.title));
    let rules: Vec<&Rule> = rules.collect();
    let own = catalogue.own_rules.iter().cloned();
    let own = own.filter(|rule| holds(rule.id.as_str(), &rule.title));
    let own: Vec<RuleId> = own.map(RuleId::Own).collect();
    if rules.is_empty() && own.is_empty() {
        let hint = nearest::hint(&word, rules::ids(&catalogue));
        return Err(Failure::new(format!("there is no rule {word:?}{hint}")));
    }
    if args.json {
        let own = own.iter().filter_map(own_json);
        return output::answer_json(&rules.into_iter().map(json).chain(own).collect());
    }
    output::answer(&(text(&rules) + &own_text(&own)))
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

/// One of one's own; no example stands with it.
fn own_json(id: &RuleId) -> Option<Json> {
    let (rule, told) = (id.own()?, id.told());
    Some(json!({
        "id": id.as_str(),
        "severity": rule.severity.id(),
        "severities": [rule.severity.id()],
        "step": section(rule.step),
        "title": told.title,
        "watches": told.watches,
        "because": told.because,
        "do": told.instead,
        "source": told.from,
        "reads": [],
        "decided_by": decided_by_own(rule),
        "example": Json::Null,
    }))
}

/// The choices that alone decide it; null where a figure does.
fn decided_by_own(rule: &OwnRule) -> Json {
    let choices = rules::own::deciders(rule);
    choices.map_or(Json::Null, |choices| {
        choices.iter().map(|choice| choice.id).collect()
    })
}

/// The choices of drive, spindle and control that alone decide it, over all axes, where two
/// drives of Y are alike, as they are at first; null where it is not declared.
fn decided_by(rule: &Rule) -> Json {
    let choices = rule.deciders_in(None, &Build::default());
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

/// The rules of one's own, under a heading of theirs.
fn own_text(own: &[RuleId]) -> String {
    let mut text = String::new();
    for id in own {
        if let Some(rule) = id.own() {
            if text.is_empty() {
                text.push_str("Rules of your own\n");
            }
            text.push_str(&about(id, rule.severity.title(), &id.told()));
            text.push('\n');
        }
    }
    text
}

/// What every rule says of itself.
fn about(id: &str, severities: &str, told: &Told) -> String {
    let mut text = format!("\n  {id} ({severities})\n");
    for (label, about) in [
        ("    problem", told.title),
        ("    watches", told.watches),
        ("    because", told.because),
        ("    from", told.from),
        ("    instead", told.instead),
    ] {
        text.push_str(&layout::hanging(label, INDENT, about));
    }
    text
}

/// The columns that labels take.
const INDENT: usize = 14;

fn entry(rule: &Rule) -> String {
    let severities: Vec<&str> = rule.severities.iter().map(|one| one.title()).collect();
    let mut text = about(rule.id, &severities.join(" or "), &rule.told());
    text.push_str(&layout::hanging(
        "    example",
        INDENT,
        &example_in_words(rule),
    ));
    text.push('\n');
    text
}
