//! `gantrywright parts KIND --fields`: what a file says of one part of a kind. The keys, units and
//! ranges are asked of the type itself, the words are those of the form on the screen.

use crate::catalogue::fields::{Field, Range, Takes};
use crate::catalogue::{Catalogue, Part, PartKind, Unit};
use crate::commands::{Failure, layout};
use crate::screen::form::each;
use crate::store::own_parts;

/// Columns before what is said about a key.
const KEYS: usize = 26;
/// What is said about the key that the form makes by itself.
const ID: &str =
    "A name of its own by which builds call it: lower-case letters, digits, hyphens and points.";

/// The fields of a kind, in lines.
pub(super) fn told(kind: PartKind, catalogue: &Catalogue) -> Result<String, Failure> {
    let parts = catalogue.of_kind(kind);
    // A part that makes sense tells what it cannot do without.
    let example = parts.first().filter(|_| kind.has_form());
    let entry = example.and_then(|part| own_parts::entry(catalogue, kind, part.id()));
    let (Some(example), Some(entry)) = (example, entry) else {
        let title = kind.title();
        return Err(Failure::new(format!(
            "a {title} is no part that is bought: copy one from the files of the program and change that"
        )));
    };
    let needed = own_parts::needed(kind, &entry);
    let mut text = format!("[[{}]]\n", kind.key());
    for field in kind.fields() {
        let must = needed.iter().any(|key| key == field.key);
        text.push_str(&line(kind, catalogue, &field, must));
    }
    text.push_str(&format!("\n{}", example_of(*example)));
    Ok(text)
}

fn line(kind: PartKind, catalogue: &Catalogue, field: &Field, needed: bool) -> String {
    let must = if needed { "needed" } else { "may be left out" };
    let (label, rest) = match catalogue.field_text(kind, field.key) {
        // What may stay empty in the form is what may be left out here.
        Some(about) => {
            let means = about.means.replace(" May stay empty.", "");
            (about.label.as_str(), format!("{means} {}", about.find))
        }
        None => ("Id", ID.to_owned()),
    };
    let said = format!("{label} ({must}): {}. {rest}", takes(field));
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    layout::hanging(field.key, KEYS, &said)
}

/// What stands behind the key.
fn takes(field: &Field) -> String {
    let within = |range: &Range| match (range.told.as_str(), range.unit.as_str()) {
        ("", "") => String::new(),
        ("", unit) => format!(" in {unit}"),
        (told, _) => format!(", {told}"),
    };
    match &field.takes {
        Takes::Number(range) => format!("a number{}", within(range)),
        Takes::Whole(range) if range.told.is_empty() => "a whole number".to_owned(),
        Takes::Whole(range) => range.told.clone(),
        Takes::Numbers(range) => format!("a list of numbers in [ ]{}", within(range)),
        Takes::Exact => "a number in quotes".to_owned(),
        Takes::Flag => "true or false".to_owned(),
        Takes::Text => "a text in quotes".to_owned(),
        Takes::Id => match field.key {
            "id" => "a text in quotes".to_owned(),
            other => format!("the id of a {other}, in quotes"),
        },
        Takes::Word(words) => format!("one of {}, in quotes", words.join(", ")),
        Takes::Words(words) => format!("a list in [ ] of some of {}, in quotes", words.join(", ")),
        Takes::Other => "a table".to_owned(),
    }
}

/// Where the price goes, with the part's own unit.
fn example_of(part: &dyn Part) -> String {
    let of = match part.unit() {
        Unit::Metre => "a metre, not of a whole piece",
        unit => each(unit),
    };
    layout::hanging(
        "",
        0,
        &format!(
            "Its price stands under [price-book.prices] of a price book, behind the part's id: {{ low = \"38\", likely = \"42\", high = \"48\" }}. It is the price of {of}."
        ),
    )
}
