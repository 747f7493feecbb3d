//! The rows of the form: from the fields of the kind, with the words that are said about them, and
//! what stands in them at the beginning.

use toml_edit::{Item, Table, Value};

use super::{Of, Opening, Row, price};
use crate::catalogue::fields::{Field, Takes, words_of};
use crate::catalogue::part::SHORT_COLUMNS;
use crate::catalogue::{Id, PartKind, Unit};
use crate::order::Order as _;
use crate::screen::form::Content;
use crate::screen::text;
use crate::screen::typed::Typed;
use crate::store::own_parts::{self, OwnPrice};
use crate::units::{Shown, entry};

/// The id behind yes.
pub(super) const YES: &str = "yes";
/// The first rows of the form.
const FIRST: [&str; 2] = ["title", "short"];
/// The last ones.
const LAST: [&str; 2] = ["note", "source"];
/// The longest title that a part may have, in characters.
const LONGEST_TITLE: usize = 60;

/// A copy as a new part begins: another name, no remark, a source that is true.
pub(super) fn as_new(part: &mut Table, title: &str, short: &str) {
    let mine: String = format!("My {title}").chars().take(LONGEST_TITLE).collect();
    let source = format!("copied from {title}");
    for (key, text) in [("title", mine), ("source", source)] {
        part.insert(key, toml_edit::value(text));
    }
    part.remove("note");
    let short = format!("my {short}");
    match text::width(&short) <= SHORT_COLUMNS {
        true => part.insert("short", toml_edit::value(short)),
        false => part.remove("short"),
    };
}

/// A name for lists: the words of the name that have room there.
pub(super) fn short_of(title: &str) -> String {
    let first = text::wrap(title, SHORT_COLUMNS).into_iter().next();
    let fits = first.filter(|first| text::width(first) <= SHORT_COLUMNS);
    let short = fits.unwrap_or_default();
    short.trim_end_matches([',', ';', ' ']).to_owned()
}

/// An id made from a name: `own-` and its letters and digits.
pub(super) fn name_of(title: &str) -> String {
    let lower = title.to_lowercase();
    let words = lower.split(|c: char| !c.is_ascii_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    // Room for a number behind it.
    let mut name: String = format!("own-{}", words.join("-"))
        .chars()
        .take(Id::LONGEST - 8)
        .collect();
    name.truncate(name.trim_end_matches('-').len());
    name
}

/// All rows; what an own part that is changed costs stands in its row.
pub(super) fn rows(
    opening: Opening,
    kind: PartKind,
    began: &Table,
    (cost, unit): (Option<&OwnPrice>, Unit),
) -> Vec<Row> {
    let mut fields = kind.fields();
    fields.retain(|field| field.key != "id");
    let place = |field: &Field| {
        let first = FIRST.iter().position(|key| *key == field.key);
        let last = LAST.iter().position(|key| *key == field.key);
        match (first, last) {
            (Some(at), _) => at,
            (_, Some(at)) => FIRST.len() + 1 + at,
            _ => FIRST.len(),
        }
    };
    fields.order_by_key(place);
    let needed = own_parts::needed(kind, began);
    let mut rows: Vec<Row> = fields
        .into_iter()
        .flat_map(|field| {
            let optional = !needed.iter().any(|key| key == field.key);
            of_field(opening, kind, field, (began, optional))
        })
        .collect();
    rows.extend(price::rows(opening, cost, unit));
    rows
}

pub(super) fn row(of: Of, label: &str, means: &str, text: String) -> Row {
    Row {
        of,
        label: label.to_owned(),
        means: means.to_owned(),
        find: String::new(),
        optional: true,
        before: text.clone(),
        content: Content::Text(Typed::proposed(text)),
        ids: Vec::new(),
    }
}

/// A row with answers: their ids and how they are called.
pub(super) fn pick(row: Row, answers: Vec<(String, String)>, picked: &str) -> Row {
    let (ids, titles): (Vec<String>, Vec<String>) = answers.into_iter().unzip();
    let at = ids.iter().position(|id| id == picked).unwrap_or(0);
    Row {
        before: titles.get(at).cloned().unwrap_or_default(),
        content: Content::Pick(titles, at),
        ids,
        ..row
    }
}

fn yes_or_no(row: Row, yes: bool) -> Row {
    let answers = [("", "no"), (YES, "yes")].map(|(id, word)| (id.to_owned(), word.to_owned()));
    pick(row, answers.to_vec(), if yes { YES } else { "" })
}

/// The rows of a field: one, or where several words may be ticked, one for each.
fn of_field(
    opening: Opening,
    kind: PartKind,
    field: Field,
    (began, optional): (&Table, bool),
) -> Vec<Row> {
    let Field { key, takes } = field;
    let said = opening.catalogue.field_text(kind, key);
    // Every field has its words; a test sees to it.
    let (label, means, find) = said.map_or((key, "", ""), |said| {
        (said.label.as_str(), said.means.as_str(), said.find.as_str())
    });
    let now = began.get(key);
    let make = |of: Of, label: &str, means: &str, text: String| Row {
        find: find.to_owned(),
        optional,
        ..row(of, label, means, text)
    };
    let text = || typed(now, &takes, opening.shown);
    let of = Of::Field(key, takes.clone());
    match takes {
        Takes::Words(ids) => {
            let words = words_of(ids).unwrap_or_default().iter();
            let each = words.map(|word| {
                let named = format!("{label}: {}", word.title);
                let told = format!("{means} {}: {}", word.title, word.plain);
                let row = make(Of::Member(key, word.id), &named, told.trim(), String::new());
                yes_or_no(row, holds(now, word.id))
            });
            each.collect()
        }
        Takes::Flag => {
            let yes = now.and_then(Item::as_bool).unwrap_or(false);
            vec![yes_or_no(make(of, label, means, String::new()), yes)]
        }
        Takes::Word(ids) => {
            let words = words_of(ids).unwrap_or_default().iter();
            let answers = words.map(|word| (word.id.to_owned(), word.title.to_owned()));
            let row = make(of, label, means, String::new());
            vec![of_answers(row, answers.collect(), now)]
        }
        Takes::Id => {
            let others = PartKind::ALL.iter().filter(|kind| kind.key() == key);
            let parts = others.flat_map(|kind| opening.catalogue.of_kind(*kind));
            let answers = parts.map(|part| (part.id().to_string(), part.title().to_owned()));
            let row = make(of, label, means, String::new());
            vec![of_answers(row, answers.collect(), now)]
        }
        _ => {
            let text = text();
            vec![make(of, label, means, text)]
        }
    }
}

/// A row of answers; where it may be left out, that is the first of them.
fn of_answers(row: Row, mut answers: Vec<(String, String)>, now: Option<&Item>) -> Row {
    if row.optional {
        answers.insert(0, (String::new(), "none".to_owned()));
    }
    pick(row, answers, now.and_then(Item::as_str).unwrap_or_default())
}

fn holds(list: Option<&Item>, word: &str) -> bool {
    let list = list.and_then(Item::as_array);
    list.is_some_and(|list| list.iter().any(|one| one.as_str() == Some(word)))
}

/// A value as it would be typed.
fn typed(item: Option<&Item>, takes: &Takes, shown: Shown) -> String {
    let number = |value: &Value, unit: &str| {
        match value {
            Value::Integer(whole) => whole.value().to_string().parse().ok(),
            Value::Float(number) => Some(*number.value()),
            _ => None,
        }
        .map_or_else(String::new, |number: f64| entry::typed(number, unit, shown))
    };
    match (item.and_then(Item::as_value), takes) {
        (Some(value), Takes::Number(range) | Takes::Whole(range)) => number(value, &range.unit),
        (Some(Value::Array(list)), Takes::Numbers(range)) => {
            let each: Vec<String> = list
                .iter()
                .map(|value| number(value, &range.unit))
                .collect();
            each.join("; ")
        }
        (Some(Value::String(text)), Takes::Exact) => text
            .value()
            .replace('.', &shown.marks.decimal().to_string()),
        (Some(Value::String(text)), _) => text.value().replace(['\n', '\r', '\t'], " "),
        _ => String::new(),
    }
}
