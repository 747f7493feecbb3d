//! `gantrywright words`: what the words of the trade mean.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::{Failure, Overlays, input, layout, output};
use crate::build::nearest;
use crate::catalogue::glossary::{Entry, find, sorted};

/// Says what the words of the trade mean.
#[derive(Args, Debug)]
pub(super) struct Words {
    /// The word; where no entry bears it, every entry that speaks of it. Without one, all.
    #[arg(value_name = "WORD")]
    word: Vec<String>,
    /// Every word in whose spellings or definition this text stands.
    #[arg(long, value_name = "TEXT", conflicts_with = "word")]
    find: Option<String>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) overlays: Overlays,
}

pub(super) fn run(args: &Words) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.overlays)?;
    let glossary = &catalogue.glossary;
    // More than one word needs no quotes: `words ball screw`.
    let word = args.word.join(" ");
    let found = match &args.find {
        Some(text) => speaking_of(glossary, text)?,
        None if word.trim().is_empty() => sorted(glossary),
        None => meant(glossary, &word)?,
    };
    if args.json {
        let all = found.into_iter().map(json);
        return output::answer_json(&Json::Array(all.collect()));
    }
    output::answer(&match found.as_slice() {
        [one] => whole(glossary, one),
        many => list(many),
    })
}

/// The entry of a word; else those that are called so in part, else those that speak of it.
fn meant<'g>(glossary: &'g [Entry], word: &str) -> Result<Vec<&'g Entry>, Failure> {
    if let Some(entry) = find(glossary, word) {
        return Ok(vec![entry]);
    }
    let text = word.trim().to_lowercase();
    let called = holding(glossary, |entry| entry.is_called(&text));
    match called.is_empty() {
        true => speaking_of(glossary, word),
        false => Ok(called),
    }
}

fn speaking_of<'g>(glossary: &'g [Entry], text: &str) -> Result<Vec<&'g Entry>, Failure> {
    let lower = text.trim().to_lowercase();
    let found = holding(glossary, |entry| entry.speaks_of(&lower));
    if !found.is_empty() {
        return Ok(found);
    }
    let known = glossary.iter().flat_map(Entry::spellings);
    let hint = nearest::hint(&lower, known);
    Err(Failure::new(format!(
        "no word of the glossary speaks of {text:?}{hint}"
    )))
}

fn holding(glossary: &[Entry], fits: impl Fn(&Entry) -> bool) -> Vec<&Entry> {
    let mut found = sorted(glossary);
    found.retain(|entry| fits(entry));
    found
}

fn json(entry: &Entry) -> Json {
    let see: Vec<&str> = entry.see.iter().map(|id| id.as_str()).collect();
    json!({
        "id": entry.id.as_str(),
        "word": entry.word,
        "also": entry.also,
        "means": entry.means,
        "standard": entry.standard,
        "see": see,
    })
}

/// Columns of the words in a list.
const WORDS: usize = 24;

fn list(entries: &[&Entry]) -> String {
    let rows = entries
        .iter()
        .map(|entry| layout::hanging(&entry.word, WORDS, &entry.means));
    rows.collect()
}

/// Columns of what stands before the lines of a single word.
const LABELS: usize = 10;

fn whole(glossary: &[Entry], entry: &Entry) -> String {
    let mut text = layout::hanging("", 0, &entry.word);
    text.push_str(&layout::hanging("", 2, &entry.means));
    let names = |id| glossary.iter().find(|other| other.id == id);
    let see: Vec<&str> = entry
        .see
        .iter()
        .cloned()
        .filter_map(names)
        .map(|one| one.word.as_str())
        .collect();
    let standard = entry.standard.as_deref().unwrap_or_default();
    for (label, about) in [
        ("  also", entry.also.join(", ").as_str()),
        ("  standard", standard),
        ("  see", see.join(", ").as_str()),
    ] {
        text.push_str(&layout::hanging(label, LABELS + 2, about));
    }
    text
}
