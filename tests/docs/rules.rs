//! The reference of rules, from the rules.

use gantrywright::catalogue::Step;
use gantrywright::rules::{self, Rule};
use gantrywright::words::Words as _;

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
    format!(
        "\n### {}\n\n`{}`: {}. {}\n\n- Why: {}\n- Do: {}\n- Source: {}\n",
        rule.title,
        rule.id,
        severities.join(" or "),
        rule.watches,
        rule.because,
        rule.instead,
        rule.from,
    )
}
