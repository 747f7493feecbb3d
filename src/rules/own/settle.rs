//! What rules of one's own ask, found out once when files are read: each condition's choice or
//! figure, its comparison and its bound in the right unit. What is wrong is told at its place.

use std::ops::Range;
use std::sync::Arc;

use unicode_width::UnicodeWidthStr as _;

use super::super::find;
use crate::build::Edit;
use crate::build::choices::{self, Choice, Figure, Kind};
use crate::build::value::{self, NumberKind};
use crate::catalogue::check::{Flaw, Record};
use crate::catalogue::fields::{Field, Takes};
use crate::catalogue::own_rule::{Asked, Condition, How, MOST_CONDITIONS, OwnRule, Typed, With};
use crate::catalogue::part::TITLE_COLUMNS;
use crate::catalogue::reader::Placed;
use crate::catalogue::{Catalogue, PartKind, Text};
use crate::units::Shown;
use crate::units::entry::{self, Unread};
use crate::words::Words as _;

mod wrong;

/// What is wrong, and where in bytes; nowhere else than where the rule begins, if not told.
type Bad = (Option<Range<usize>>, String);

/// Numbers are compared, the least first.
const BOUNDS: &[How] = &[How::Over, How::Under, How::AtLeast, How::AtMost];
/// Parts and words are the same or not.
const SAME: &[How] = &[How::Is, How::IsNot];
/// Lists have something ticked or not.
const TICKED: &[How] = &[How::Has, How::Lacks];

/// Finds out what every rule of one's own asks, and notes it there; says what is wrong.
pub fn settle(catalogue: &mut Catalogue) -> Vec<Flaw> {
    let mut found = Vec::new();
    let mut rules = std::mem::take(&mut catalogue.own_rules);
    for rule in &mut rules {
        let rule = Arc::make_mut(rule);
        let id = rule.id;
        let flaw = |(place, message): Bad| Flaw {
            record: Record::OwnRule(id),
            message,
            place,
        };
        found.extend(settled(rule, catalogue).into_iter().map(flaw));
    }
    catalogue.own_rules = rules;
    found
}

/// The fields of parts that rules of one's own name.
pub fn fields_named(catalogue: &Catalogue) -> Vec<&str> {
    let rules = catalogue.own_rules.iter();
    let all = rules.flat_map(|rule| rule.when.value());
    let mut keys: Vec<&str> = all
        .filter_map(|one| Some(one.value().field.as_ref()?.value().as_str()))
        .collect();
    keys.sort_unstable();
    keys.dedup();
    keys
}

/// Finds out what a rule asks; what is wrong with it.
fn settled(rule: &mut OwnRule, catalogue: &Catalogue) -> Vec<Bad> {
    let mut bad = wrong::texts(rule);
    if find(rule.id.as_str()).is_some() {
        bad.push((None, wrong::taken()));
    }
    let when = rule.when.place();
    let conditions = rule.when.value_mut();
    let many = conditions.len();
    if many == 0 || many > MOST_CONDITIONS {
        let message = format!(
            "when takes 1 to {MOST_CONDITIONS} conditions, such as {{ choice = \"travel_x_mm\", over = \"500 mm\" }}"
        );
        bad.push((Some(when), message));
        return bad;
    }
    for one in conditions.iter_mut() {
        let place = one.place();
        match asked(one.value(), &place, catalogue) {
            Ok(asked) => one.value_mut().asked = Some(asked),
            Err(wrong) => bad.push(wrong),
        }
    }
    if bad.is_empty() {
        let conditions = rule.when.value().iter();
        let words = conditions.filter_map(|one| Some(one.value().asked.as_ref()?.words.as_str()));
        let words: Vec<&str> = words.collect();
        rule.watches = match words.as_slice() {
            [only] => format!("Whether this holds: {only}."),
            all => format!("Whether all of this holds: {}.", all.join("; ")),
        };
    }
    for change in &rule.remedy {
        let change = change.value();
        let (id, value) = (&change.choice, &change.value);
        let place = match choices::find(id.value()) {
            Ok(_) => value.place(),
            Err(_) => id.place(),
        };
        if let Err(error) = Edit::parse(id.value(), &value.value().0, catalogue) {
            bad.push((Some(place), error.to_string()));
        }
    }
    bad
}

/// What a condition asks.
fn asked(condition: &Condition, place: &Range<usize>, catalogue: &Catalogue) -> Result<Asked, Bad> {
    let whole = |message: String| (Some(place.clone()), message);
    let comparisons = condition.comparisons();
    let (how, typed) = match comparisons.as_slice() {
        [(how, typed)] => (*how, *typed),
        [] => return Err(whole(wrong::compares_nothing())),
        [_, (how, second), ..] => {
            let message = format!(
                "one comparison is there already; write {:?} as a condition of its own",
                how.key()
            );
            return Err((Some(second.place()), message));
        }
    };
    match (&condition.choice, &condition.figure, &condition.field) {
        (Some(choice), None, field) => {
            let found = choices::find(choice.value()).map_err(|error| {
                let message = wrong::no_choice(choice.value(), error);
                (Some(choice.place()), message)
            })?;
            match field {
                None => of_choice(found, how, typed, catalogue),
                Some(field) => of_field(found, field, how, typed, catalogue),
            }
        }
        (None, Some(figure), None) => of_figure(figure, how, typed),
        (None, Some(_), Some(field)) => {
            let message = "a field is one of a part: it goes with a choice, not with a figure";
            Err((Some(field.place()), message.to_owned()))
        }
        (None, None, _) => Err(whole(wrong::about_nothing())),
        (Some(_), Some(figure), _) => {
            let message =
                "this is about a choice already; write the figure as a condition of its own";
            Err((Some(figure.place()), message.to_owned()))
        }
    }
}

fn place_of(choice: &Choice) -> usize {
    let found = choices::all().iter().position(|one| one.id == choice.id);
    found.unwrap_or_default()
}

/// Refuses a comparison that makes no sense here.
fn fits(how: How, typed: &Placed<Typed>, takes: &[How], what: &str) -> Result<(), Bad> {
    match takes.contains(&how) {
        true => Ok(()),
        false => Err((Some(typed.place()), wrong::other_kind(how, takes, what))),
    }
}

fn of_choice(
    choice: &'static Choice,
    how: How,
    typed: &Placed<Typed>,
    catalogue: &Catalogue,
) -> Result<Asked, Bad> {
    let text = typed.value().0.as_str();
    let at = |error: value::BadValue| (Some(typed.place()), format!("{}: {error}", choice.id));
    let what = |kind: &str| format!("{} is {kind}", choice.id);
    let mut unit = "";
    let with = match choice.kind {
        Kind::Number(kind) => {
            fits(how, typed, BOUNDS, &what("a number"))?;
            // A bound may lie between what is on offer.
            let kind = NumberKind {
                among: &[],
                whole: false,
                unset: None,
                ..kind
            };
            unit = kind.unit;
            With::Number(value::number(text, &kind).map_err(at)?.unwrap_or_default())
        }
        Kind::Amount => {
            fits(how, typed, BOUNDS, &what("an amount of money"))?;
            With::Money(money(typed, choice.id)?)
        }
        Kind::Parts(_) => {
            fits(how, typed, TICKED, &what("a list with ticks"))?;
            let value = choice.parse(text, catalogue, None).map_err(at)?;
            match &value {
                value::Value::Parts(ids) if ids.len() == 1 => With::Text(value.to_string()),
                _ => {
                    let message = "name one entry; another one is a condition of its own";
                    return Err((Some(typed.place()), message.to_owned()));
                }
            }
        }
        Kind::Part { .. } | Kind::Word(_) | Kind::Flag => {
            let kind = match choice.kind {
                Kind::Flag => "a yes or no",
                Kind::Word(_) => "a word of a list",
                _ => "a part",
            };
            fits(how, typed, SAME, &what(kind))?;
            let value = choice.parse(text, catalogue, None).map_err(at)?;
            With::Text(value.to_string())
        }
    };
    let shown = match &with {
        With::Number(number) => format!("{number} {unit}").trim_end().to_owned(),
        With::Money(money) => format!("{} {}", money.amount, money.currency),
        With::Text(text) => {
            let value = choice.parse(text, catalogue, None);
            value.map_or_else(|_| text.clone(), |value| choice.show(&value, catalogue))
        }
    };
    Ok(Asked {
        place: place_of(choice),
        how,
        with,
        unit: unit.to_owned(),
        is_flag: false,
        words: format!("{} {} {shown}", choice.title, how.words()),
    })
}

/// A field of a kind of part; none where no kind that the choice takes has it.
fn field_of(kinds: &[PartKind], key: &str) -> Option<(PartKind, Field)> {
    let each = kinds.iter();
    let mut all = each.flat_map(|&kind| kind.fields().into_iter().map(move |field| (kind, field)));
    all.find(|(_, field)| field.key == key)
}

fn of_field(
    choice: &'static Choice,
    field: &Placed<Text>,
    how: How,
    typed: &Placed<Typed>,
    catalogue: &Catalogue,
) -> Result<Asked, Bad> {
    let key = field.value().as_str();
    let Kind::Part { kinds, .. } = choice.kind else {
        let message = format!(
            "{} picks no part, so that there is no field of it",
            choice.id
        );
        return Err((Some(field.place()), message));
    };
    let Some((kind, found)) = field_of(kinds, key) else {
        return Err((Some(field.place()), wrong::unknown_field(kinds, key)));
    };
    let text = typed.value().0.trim();
    let what = |kind: &str| format!("{key} is {kind}");
    let mut unit = String::new();
    let with = match &found.takes {
        Takes::Number(range) | Takes::Whole(range) => {
            fits(how, typed, BOUNDS, &what("a number"))?;
            unit.clone_from(&range.unit);
            With::Number(number(typed, key, &unit)?)
        }
        Takes::Exact => {
            fits(how, typed, BOUNDS, &what("a number"))?;
            With::Number(number(typed, key, "")?)
        }
        Takes::Flag => {
            fits(how, typed, SAME, &what("a yes or no"))?;
            let yes = value::flag(text);
            let yes = yes.map_err(|error| (Some(typed.place()), format!("{key}: {error}")))?;
            With::Text(if yes { "yes" } else { "no" }.to_owned())
        }
        Takes::Word(ids) => {
            fits(how, typed, SAME, &what("a word of a list"))?;
            if !ids.contains(&text) {
                return Err((Some(typed.place()), wrong::unknown_word(key, text, ids)));
            }
            With::Text(text.to_owned())
        }
        Takes::Text | Takes::Id => {
            fits(how, typed, SAME, &what("a text"))?;
            With::Text(text.to_owned())
        }
        Takes::Words(_) | Takes::Numbers(_) | Takes::Other => {
            let message = format!("{key} is a list; a condition takes a number, a text or a word");
            return Err((Some(field.place()), message));
        }
    };
    let label = catalogue
        .field_text(kind, key)
        .map(|text| small(&text.label));
    let label = label.unwrap_or_else(|| key.to_owned());
    let shown = match &with {
        With::Number(number) => format!("{number} {unit}").trim_end().to_owned(),
        _ => text.to_owned(),
    };
    Ok(Asked {
        place: place_of(choice),
        how,
        with,
        unit,
        is_flag: found.takes == Takes::Flag,
        words: format!("{}, {label}: {} {shown}", choice.title, how.words()),
    })
}

/// The figures that a condition may be about.
fn figures() -> impl Iterator<Item = &'static Figure> {
    Figure::ALL.iter().filter(|one| **one != Figure::Warnings)
}

fn of_figure(figure: &Placed<Text>, how: How, typed: &Placed<Typed>) -> Result<Asked, Bad> {
    let id = figure.value().as_str();
    let Some(found) = figures().find(|one| one.id() == id) else {
        return Err((Some(figure.place()), wrong::no_figure(id)));
    };
    fits(how, typed, BOUNDS, &format!("{id} is a number"))?;
    let unit = found.unit().unwrap_or_default();
    let with = match found {
        Figure::Cost => With::Money(money(typed, id)?),
        _ => With::Number(number(typed, id, unit)?),
    };
    let shown = match &with {
        With::Money(money) => format!("{} {}", money.amount, money.currency),
        With::Number(number) => format!("{number} {unit}"),
        With::Text(text) => text.clone(),
    };
    Ok(Asked {
        place: found.index(),
        how,
        with,
        unit: unit.to_owned(),
        is_flag: false,
        words: format!("{} {} {shown}", found.title(), how.words()),
    })
}

fn money(typed: &Placed<Typed>, what: &str) -> Result<crate::money::Money, Bad> {
    let text = typed.value().0.as_str();
    let bad = |message: String| (Some(typed.place()), format!("{what}: {message}"));
    let read = value::amount(text, None).map_err(|error| bad(error.to_string()))?;
    read.ok_or_else(|| bad(format!("{text:?} is no amount, such as \"3500 EUR\"")))
}

fn number(typed: &Placed<Typed>, what: &str, unit: &str) -> Result<f64, Bad> {
    let text = typed.value().0.as_str();
    let bad = |message: String| (Some(typed.place()), format!("{what}: {message}"));
    let read = entry::read(text, unit, Shown::PLAIN).map_err(|error| {
        bad(match (error, unit) {
            (Unread::NoNumber, "") => format!("{text:?} is no number"),
            (Unread::NoNumber, unit) => format!("{text:?} is no number of {unit}"),
            (other, _) => other.to_string(),
        })
    })?;
    match read.is_finite() {
        true => Ok(read),
        false => Err(bad(format!("{text:?} is no number that is compared with"))),
    }
}

/// A label as it stands within a sentence.
fn small(label: &str) -> String {
    let mut letters = label.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if second.is_lowercase() => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => label.to_owned(),
    }
}

/// Whether a title fits a line.
fn is_title(text: &str) -> bool {
    !text.trim().is_empty() && text.width() <= TITLE_COLUMNS
}
