//! The reference of rules, from the rules.

use gantrywright::build::Figure;
use gantrywright::catalogue::Step;
use gantrywright::rules::{self, Rule, Severity};
use gantrywright::words::Words as _;

/// What each severity means.
pub(crate) fn severities() -> String {
    let each = Severity::ALL.iter().map(|severity| {
        let word = severity.word();
        format!("- **{}**: {}\n", word.title, uncapped(word.plain))
    });
    each.collect()
}

/// The figures that a rule of one's own may ask for.
pub(crate) fn measures() -> String {
    let asked = Figure::ALL
        .iter()
        .filter(|figure| **figure != Figure::Warnings);
    let rows = asked.map(|figure| {
        let word = figure.word();
        let unit = figure.unit().unwrap_or("money");
        format!("| `{}` | {} | {unit} |\n", word.id, word.plain)
    });
    let rows: String = rows.collect();
    format!("| figure | what it is | in |\n| --- | --- | --- |\n{rows}")
}

/// A sentence as it goes on behind a colon.
fn uncapped(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().map(|letter| letter.to_ascii_lowercase());
    first.into_iter().chain(letters).collect()
}

/// Every rule, step by step.
pub(crate) fn reference() -> String {
    let mut text = String::new();
    for step in Step::ALL {
        text.push_str(&format!("\n## {}\n", step.title()));
        let of_step = rules::all().filter(|rule| rule.step == *step);
        of_step.for_each(|rule| text.push_str(&entry(rule)));
    }
    text
}

fn entry(rule: &Rule) -> String {
    let severities: Vec<&str> = rule.severities.iter().map(|one| one.title()).collect();
    let example = &rule.example;
    let choice = example.choice;
    let with: Vec<String> = (example.given.iter())
        .map(|(choice, value)| format!("`{choice}={value}`"))
        .collect();
    let with = match with.is_empty() {
        true => String::new(),
        false => format!(", with {}", with.join(", ")),
    };
    let example = match example.is_by_data() {
        true => String::new(),
        false => format!(
            "- Example: fires at `{choice}={}`, quiet at `{choice}={}`{with}\n",
            example.fires, example.quiet
        ),
    };
    format!(
        "\n### {}\n\n`{}`: {}. {}\n\n- Why: {}\n- Do: {}\n- Source: {}\n{example}",
        rule.title,
        rule.id,
        severities.join(" or "),
        rule.watches,
        rule.because,
        rule.instead,
        rule.from,
    )
}
