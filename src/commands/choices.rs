//! `gantrywright choices`: everything that can be chosen.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::color::{ColorArgs, Paint};
use super::{Failure, Overlays, input, layout, output};
use crate::build::choices::{self, section};
use crate::build::value::{NONE, NumberKind};
use crate::build::{Build, Choice, Kind, nearest};
use crate::catalogue::{Catalogue, Step};
use crate::units::respell::Speller;
use crate::words::Words as _;

/// Lists everything that can be chosen, step by step.
#[derive(Args, Debug)]
pub(super) struct Choices {
    /// Only choices whose id, title or step holds this word.
    #[arg(value_name = "WORD")]
    word: Option<String>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) overlays: Overlays,
    #[command(flatten)]
    pub(super) color: ColorArgs,
}

pub(super) fn run(args: &Choices) -> Result<ExitCode, Failure> {
    let word = args.word.as_deref().unwrap_or_default().to_lowercase();
    let asked = |choice: &&Choice| {
        let names = [choice.id, choice.title, section(choice.step)];
        names.iter().any(|name| name.to_lowercase().contains(&word))
    };
    let found: Vec<&Choice> = choices::all().iter().filter(asked).collect();
    if found.is_empty() {
        let hint = nearest::hint(&word, choices::all().iter().map(|choice| choice.id));
        return Err(Failure::new(format!("there is no choice {word:?}{hint}")));
    }
    let catalogue = input::catalogue(&args.overlays)?;
    if args.json {
        let all = found.into_iter().map(|choice| json(choice, &catalogue));
        return output::answer_json(&Json::Array(all.collect()));
    }
    let look = args.color.look();
    let speller = look.speller(&catalogue);
    output::answer_page(&text(&found, look.paint(), &speller), &speller)
}

fn json(choice: &Choice, catalogue: &Catalogue) -> Json {
    let options = options(choice, catalogue);
    let mut row = json!({
        "id": choice.id,
        "step": section(choice.step),
        "title": choice.title,
        "why": choice.why,
        "poor": choice.poor,
        "kind": kind(&choice.kind),
        "default": (choice.get)(&Build::default()).to_string(),
        "options": options,
    });
    if let Kind::Number(number) = choice.kind {
        row["unit"] = number.unit.into();
        row["least"] = number.least.into();
        row["most"] = number.most.into();
        row["may_be_none"] = number.unset.is_some().into();
    }
    row
}

fn kind(kind: &Kind) -> &'static str {
    match kind {
        Kind::Part { .. } => "part",
        Kind::Parts(_) => "parts",
        Kind::Word(_) => "word",
        Kind::Number(_) => "number",
        Kind::Flag => "flag",
        Kind::Amount => "amount",
    }
}

/// What can be listed: for a choice of several parts, those that can be among them.
fn options(choice: &Choice, catalogue: &Catalogue) -> Vec<Json> {
    if let Kind::Parts(kind) = choice.kind {
        let parts = catalogue.of_kind(kind);
        return parts
            .iter()
            .map(|part| json!({ "value": part.id().as_str(), "title": part.title() }))
            .collect();
    }
    let options = choice.options(catalogue);
    options
        .iter()
        .map(|value| json!({ "value": value.to_string(), "title": choice.show(value, catalogue) }))
        .collect()
}

fn text(found: &[&Choice], paint: Paint, speller: &Speller) -> String {
    let mut text = String::new();
    for step in Step::ALL {
        let of_step: Vec<_> = found.iter().filter(|choice| choice.step == *step).collect();
        if of_step.is_empty() {
            continue;
        }
        if !text.is_empty() {
            text.push('\n');
        }
        let heading = format!("{}: {}", step.title(), step.word().plain);
        for line in layout::hanging("", 0, &heading).lines() {
            text.push_str(&format!("{}\n", paint.heading(line)));
        }
        for choice in of_step {
            let about = format!("{}. {}", choice.title, takes(choice));
            text.push('\n');
            let name = format!("  {}", choice.id);
            for (label, says) in [(&*name, &*about), ("", choice.why), ("", choice.poor)] {
                text.push_str(&layout::hanging(label, 26, &speller.spell(says)));
            }
        }
    }
    text
}

/// What a choice takes, in words.
fn takes(choice: &Choice) -> String {
    match &choice.kind {
        Kind::Part { kinds, unset } => {
            let keys: Vec<&str> = kinds.iter().map(|kind| kind.key()).collect();
            let none = unset
                .map(|unset| format!(", or {NONE}: {unset}"))
                .unwrap_or_default();
            format!(
                "Takes a part (see `gantrywright parts {}`){none}.",
                keys.join("`, `parts ")
            )
        }
        Kind::Parts(kind) => format!(
            "Takes any number of parts (see `gantrywright parts {}`), with commas between them.",
            kind.key()
        ),
        Kind::Word(words) => {
            let words: Vec<&str> = words.iter().map(|word| word.id).collect();
            format!("Takes one of {}.", words.join(", "))
        }
        Kind::Number(number) => range(number),
        Kind::Flag => "Takes yes or no.".to_owned(),
        Kind::Amount => format!("Takes an amount with its currency, such as 3500 EUR, or {NONE}."),
    }
}

fn range(number: &NumberKind) -> String {
    let what = if number.whole {
        "a whole number"
    } else {
        "a number"
    };
    let unit = number.unit;
    let range = format!(
        "Takes {what} from {} to {} {unit}",
        number.least, number.most
    );
    let none = number
        .unset
        .map(|unset| format!(", or {NONE}: {unset}"))
        .unwrap_or_default();
    format!("{}{none}.", range.trim_end())
}
