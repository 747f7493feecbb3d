//! The choices of a step, from the table of choices.

use gantrywright::build::choices::{self, Choice, section};
use gantrywright::build::{Build, Kind};
use gantrywright::catalogue::{Catalogue, Step};
use gantrywright::words::Words as _;

/// The choices of a step: a heading each, what it is, what a poor pick costs, what it takes.
pub(crate) fn of_step(id: &str, catalogue: &Catalogue) -> String {
    let step = Step::ALL.iter().find(|step| section(**step) == id);
    let step = *step.unwrap_or_else(|| panic!("there is no step {id}"));
    let rows = choices::of_step(step);
    rows.map(|choice| entry(choice, catalogue)).collect()
}

fn entry(choice: &Choice, catalogue: &Catalogue) -> String {
    let usual = choice.show(&(choice.get)(&Build::default()), catalogue);
    format!(
        "\n### {}\n\n`{}`: {} At first: {}.\n\n{}\n\n*A poor pick:* {}\n",
        choice.title,
        choice.id,
        takes(choice, catalogue),
        usual.trim_end_matches('.'),
        choice.why,
        choice.poor,
    )
}

/// What a choice takes, in words.
fn takes(choice: &Choice, catalogue: &Catalogue) -> String {
    match choice.kind {
        Kind::Number(kind) => {
            let unit = kind.unit;
            let range = format!("{} to {} {unit}", kind.least, kind.most);
            format!("a number, {}.", range.trim_end())
        }
        Kind::Flag => "yes or no.".to_owned(),
        Kind::Amount => "an amount of money, or none.".to_owned(),
        Kind::Word(words) => {
            let words: Vec<&str> = words.iter().map(|word| word.title).collect();
            format!("one of {}.", words.join("; "))
        }
        Kind::Parts(kind) => {
            let count = catalogue.of_kind(kind).len();
            format!("any of {count} entries of the list.")
        }
        Kind::Part { .. } => {
            let count = choice.options(catalogue).len();
            format!("one of {count} options.")
        }
    }
}

/// Pages of the steps call choices as the screen does.
#[test]
fn choices_are_called_as_on_the_screen() {
    let titles: Vec<&str> = choices::all().iter().map(|choice| choice.title).collect();
    let catalogue = crate::common::catalogue();
    let mut unknown = Vec::new();
    for page in crate::page::all() {
        if !page.name.starts_with("docs/steps/") {
            continue;
        }
        let plain = page.by_hand().replace("**", "");
        for called in plain.split('*').skip(1).step_by(2) {
            let axis = |title: &&&str| title.strip_suffix(" X") == Some(called);
            let known = titles.contains(&called) || titles.iter().any(|title| axis(&title));
            if !known && called != "mains %" {
                unknown.push(format!("{}: {called}", page.name));
            }
        }
    }
    assert!(unknown.is_empty(), "{unknown:#?}");
    assert!(of_step("drive", &catalogue).contains("### Microsteps"));
}
