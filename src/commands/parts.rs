//! `gantrywright parts [KIND]`: what exists, and what it may cost; one part as a file has it.

use std::process::ExitCode;

use clap::Args;
use serde_json::{Value as Json, json};

use super::color::ColorArgs;
use super::{Failure, Overlays, input, layout, output};
use crate::build::nearest;
use crate::catalogue::{Catalogue, Id, Part, PartKind};
use crate::store::own_parts;
use crate::words::Words as _;

mod fields;

/// Lists the parts of the catalogue with their prices.
#[derive(Args, Debug)]
pub(super) struct Parts {
    /// One kind only, such as ball-screw; or one part, such as ball-screw-16x10: it is printed as a
    /// file has it, to be copied into one of your own under another id.
    #[arg(value_name = "KIND")]
    kind: Option<String>,
    /// Only what is not built in: parts of your own and those of folders that you named.
    #[arg(long)]
    own: bool,
    /// Tells what a file says of one part of the kind: every key, and what it takes.
    #[arg(long, requires = "kind", conflicts_with_all = ["own", "json"])]
    fields: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) overlays: Overlays,
    #[command(flatten)]
    pub(super) color: ColorArgs,
}

/// What is said where there is no own part.
const NONE: &str =
    "no parts of your own yet: at the options of a part on the screen the key n makes one\n";

pub(super) fn run(args: &Parts) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.overlays)?;
    let (kinds, only) = match &args.kind {
        Some(name) => match (find(name), catalogue.part(name)) {
            (Err(_), Some((kind, part))) => (vec![kind], Some((kind, part.id()))),
            (found, _) => (vec![found?], None),
        },
        None => (PartKind::ALL.to_vec(), None),
    };
    let shown = |part: &&dyn Part| {
        let is_own = catalogue.own.contains_key(part.id());
        (!args.own || is_own) && only.is_none_or(|(_, id)| id == part.id())
    };
    if let (true, Some(kind)) = (args.fields, kinds.first()) {
        let speller = args.color.look().speller(&catalogue).metric();
        return output::answer_page(&fields::told(*kind, &catalogue)?, &speller);
    }
    if let (false, Some((kind, id))) = (args.json, only) {
        return output::answer(&as_a_file_has_it(&catalogue, kind, id)?);
    }
    if args.json {
        let parts = kinds.iter().flat_map(|kind| {
            let parts = catalogue.of_kind(*kind);
            parts
                .into_iter()
                .filter(shown)
                .map(|part| json(*kind, part, &catalogue))
                .collect::<Vec<_>>()
        });
        return output::answer_json(&Json::Array(parts.collect()));
    }
    let look = args.color.look();
    let paint = look.paint();
    let mut text = String::new();
    for kind in kinds {
        let parts = catalogue.of_kind(kind).into_iter();
        let parts: Vec<&dyn Part> = parts.filter(shown).collect();
        if parts.is_empty() && args.own {
            continue;
        }
        if !text.is_empty() {
            text.push('\n');
        }
        let heading = format!("{} ({})", kind.title(), kind.key());
        text.push_str(&format!("{}\n", paint.heading(&heading)));
        for part in parts {
            text.push_str(&entry(part, &catalogue));
        }
    }
    if text.is_empty() {
        text.push_str(NONE);
    }
    // A part keeps the size and the unit that it is sold by.
    let speller = look.speller(&catalogue).metric();
    output::answer_page(&text, &speller)
}

/// A part as the file that it stands in says it.
fn as_a_file_has_it(catalogue: &Catalogue, kind: PartKind, id: &Id) -> Result<String, Failure> {
    let entry = own_parts::entry(catalogue, kind, id);
    let entry = entry.ok_or_else(|| Failure::new(format!("the file of {id} cannot be read")))?;
    Ok(format!("[[{}]]\n{entry}", kind.key()))
}

fn find(name: &str) -> Result<PartKind, Failure> {
    PartKind::ALL
        .iter()
        .find(|kind| kind.key() == name)
        .copied()
        .ok_or_else(|| {
            let keys = PartKind::ALL.iter().map(|kind| kind.key());
            let hint = nearest::or_all(name, keys);
            Failure::new(format!("there is no kind of part {name:?}{hint}"))
        })
}

fn json(kind: PartKind, part: &dyn Part, catalogue: &Catalogue) -> Json {
    let price = catalogue.offer_of(part.id()).map(|(book, entry)| {
        json!({
            "low": entry.low.to_string(),
            "likely": entry.likely.to_string(),
            "high": entry.high.to_string(),
            "currency": book.currency.code(),
            "basis": book.basis.id(),
            "date": book.date.to_string(),
        })
    });
    json!({
        "id": part.id().as_str(),
        "kind": kind.key(),
        "title": part.title(),
        "note": part.note(),
        "unit": part.unit().id(),
        "source": part.source(),
        "own": catalogue.own.get(part.id()).map(|file| file.name.as_str()),
        "price": price,
    })
}

fn entry(part: &dyn Part, catalogue: &Catalogue) -> String {
    let mut text = layout::hanging(&format!("  {}", part.id()), 40, part.title());
    if let Some(file) = catalogue.own.get(part.id()) {
        text.push_str(&layout::hanging(
            "",
            40,
            &format!("your own, in {}", file.name),
        ));
    }
    if let Some((book, entry)) = catalogue.offer_of(part.id()) {
        let price = format!(
            "{} to {} {} for 1 {}, {} ({})",
            entry.low,
            entry.high,
            book.currency,
            part.unit().id(),
            book.basis.title(),
            book.date
        );
        text.push_str(&layout::hanging("", 40, &price));
    }
    text
}
