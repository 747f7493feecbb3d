//! `gantrywright quantities [WORD]`: how many of each small part a machine takes, and why, from
//! the rules themselves. They are data: what is listed here can be replaced by a file.

use std::process::ExitCode;

use clap::Args;
use rust_decimal::Decimal;
use serde_json::{Value as Json, json};

use super::color::{ColorArgs, Paint};
use super::{Failure, Overlays, input, layout, output};
use crate::build::choices::section;
use crate::build::nearest;
use crate::catalogue::quantity::QuantityRule;
use crate::catalogue::{Catalogue, Part, Step};
use crate::units::respell::Speller;
use crate::words::Words as _;

/// Lists how many small parts a machine takes, and why.
#[derive(Args, Debug)]
pub(super) struct Quantities {
    /// Only rules whose part, name or count holds this word.
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

/// A rule with the part that it names.
struct Entry<'c> {
    rule: &'c QuantityRule,
    part: &'c dyn Part,
    /// Units in a pack, where it is sold in packs.
    pack: Option<Decimal>,
}

impl<'c> Entry<'c> {
    fn of(rule: &'c QuantityRule, catalogue: &'c Catalogue) -> Option<Self> {
        let (_, part) = catalogue.part(rule.part.as_str())?;
        let sold = catalogue.offer_of(&rule.part);
        let sold = sold.and_then(|(_, offer)| offer.pack);
        let usual = catalogue.sundries.get(&rule.part).map(|one| one.pack);
        let pack = sold.or(usual);
        Some(Self { rule, part, pack })
    }

    fn holds(&self, word: &str) -> bool {
        let per = self.rule.per;
        [
            self.rule.part.as_str(),
            self.part.title(),
            per.id(),
            per.title(),
        ]
        .iter()
        .any(|text| text.to_lowercase().contains(word))
    }
}

pub(super) fn run(args: &Quantities) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.overlays)?;
    let word = args.word.as_deref().unwrap_or_default().to_lowercase();
    let all = catalogue.quantities.iter();
    let all = all.filter_map(|rule| Entry::of(rule, &catalogue));
    let asked: Vec<Entry> = all.filter(|entry| entry.holds(&word)).collect();
    if asked.is_empty() {
        let parts = catalogue.quantities.iter().map(|rule| rule.part.as_str());
        let hint = nearest::hint(&word, parts);
        return Err(Failure::new(format!(
            "no quantity rule is about {word:?}{hint}"
        )));
    }
    if args.json {
        return output::answer_json(&Json::Array(asked.iter().map(json).collect()));
    }
    let look = args.color.look();
    let speller = look.speller(&catalogue);
    let page = text(&asked, look.paint(), &speller);
    output::answer_page(&page, &speller)
}

fn json(entry: &Entry) -> Json {
    let rule = entry.rule;
    json!({
        "part": rule.part.as_str(),
        "title": entry.part.title(),
        "step": section(rule.step),
        "per": rule.per.id(),
        "each": rule.each.normalize().to_string(),
        "plus": rule.plus.normalize().to_string(),
        "spare_percent": rule.spare_percent.normalize().to_string(),
        "unit": entry.part.unit().id(),
        "pack": entry.pack.map(|pack| pack.normalize().to_string()),
        "first_cut": rule.first_cut,
        "shared": rule.shared,
        "why": rule.why,
        "source": rule.source,
    })
}

fn text(entries: &[Entry], paint: Paint, speller: &Speller) -> String {
    let mut text = String::new();
    for step in Step::ALL {
        let gap = if text.is_empty() { "" } else { "\n" };
        let mut heading = format!("{gap}{}\n", paint.heading(step.title()));
        for entry in entries.iter().filter(|entry| entry.rule.step == *step) {
            text.push_str(&std::mem::take(&mut heading));
            text.push_str(&paragraph(entry, speller));
        }
    }
    text
}

fn paragraph(entry: &Entry, speller: &Speller) -> String {
    const INDENT: usize = 14;
    let rule = entry.rule;
    let name = format!("{} ({})", rule.part, entry.part.title());
    let mut text = format!("\n{}", layout::hanging("", 2, &name));
    let per = format!(
        "{} ({}): {}",
        rule.per.title(),
        rule.per.id(),
        rule.per.word().plain
    );
    for (label, about) in [
        ("    counted by", per),
        // What is counted and sold by the metre stays so.
        (
            "    how many",
            speller.metric().spell(&how_many(entry)).into_owned(),
        ),
        ("    needed", when(rule)),
        ("    because", rule.why.to_string()),
        ("    from", rule.source.to_string()),
    ] {
        text.push_str(&layout::hanging(label, INDENT + 2, &speller.spell(&about)));
    }
    text
}

/// How many for what is counted, in words: `2 each, 1 more, 15 % to spare, in packs of 50`.
fn how_many(entry: &Entry) -> String {
    let rule = entry.rule;
    let unit = match entry.part.unit().id() {
        "piece" => String::new(),
        unit => format!(" {unit}"),
    };
    let plain = |number: Decimal| number.normalize().to_string();
    let mut said = vec![format!("{}{unit} for each", plain(rule.each))];
    if !rule.plus.is_zero() {
        said.push(format!("{}{unit} more", plain(rule.plus)));
    }
    if !rule.spare_percent.is_zero() {
        said.push(format!("{} % to spare", plain(rule.spare_percent)));
    }
    if let Some(pack) = entry.pack.filter(|pack| *pack != Decimal::ONE) {
        said.push(format!("in packs of {}{unit}", plain(pack)));
    }
    said.join(", ")
}

fn when(rule: &QuantityRule) -> String {
    let when = match rule.first_cut {
        true => "for the first cut",
        false => "later: the first cut does not wait for it",
    };
    match rule.shared {
        true => format!("{when}; once for the workshop, however many machines are built"),
        false => when.to_owned(),
    }
}
