//! Candidates for remedies: edits that may lift a finding. `explore::remedy` tries each and
//! offers only one that lifts the finding and brings nothing worse.

use rust_decimal::Decimal;

use super::Facts;
use crate::bill::pricing::Pricing;
use crate::build::{Axis, Choice, Edit, Value, choices};
use crate::catalogue::{Id, Shelf};
use crate::order::Order as _;
use crate::units::{self, Length};

/// Candidates, best first; each is a set of edits made together.
pub type Remedies = Vec<Vec<Edit>>;

/// One candidate: a choice set to a value.
pub fn set(facts: &Facts, choice: &str, value: &str) -> Remedies {
    let edit = super::edit(facts, choice, value);
    if edit.is_empty() {
        Vec::new()
    } else {
        vec![edit]
    }
}

/// A candidate for every other option of a choice, the cheapest first; entries without a
/// price keep the catalogue's order behind the priced ones.
pub fn each_option(facts: &Facts, choice: &str) -> Remedies {
    let Ok(choice) = choices::find(choice) else {
        return Vec::new();
    };
    let now = (choice.get)(facts.picked.build);
    let mut options: Vec<(bool, Decimal, Value)> = choice
        .options(facts.picked.catalogue)
        .into_iter()
        .filter(|value| *value != now)
        .map(|value| {
            let price = likely(facts, &value);
            (price.is_none(), price.unwrap_or_default(), value)
        })
        .collect();
    options.order_by_key(|(unpriced, price, _)| (*unpriced, *price));
    options
        .into_iter()
        .map(|(_, _, value)| vec![Edit { choice, value }])
        .collect()
}

/// The same without leaving the choice empty.
pub fn each_named(facts: &Facts, choice: &str) -> Remedies {
    let mut found = each_option(facts, choice);
    found.retain(|edits| edits.iter().all(|edit| edit.value != Value::Part(None)));
    found
}

/// The options of a choice that pass a test, the cheapest first.
pub(super) fn options_where(facts: &Facts, choice: &str, fits: impl Fn(&Id) -> bool) -> Remedies {
    let named = |edit: &Edit| matches!(&edit.value, Value::Part(Some(id)) if fits(id));
    let passes = |edits: &Vec<Edit>| edits.iter().all(named);
    each_option(facts, choice)
        .into_iter()
        .filter(passes)
        .collect()
}

/// The candidates of several sources, one after the other.
pub(super) fn in_turn(sources: impl IntoIterator<Item = Remedies>) -> Remedies {
    sources.into_iter().flatten().collect()
}

/// Every candidate of one list together with every one of another.
pub(super) fn together(ones: &[Vec<Edit>], others: &[Vec<Edit>]) -> Remedies {
    let with_each = |one: &Vec<Edit>| -> Remedies {
        let pairs = others.iter();
        pairs
            .map(|other| [one.as_slice(), other.as_slice()].concat())
            .collect()
    };
    ones.iter().flat_map(with_each).collect()
}

/// Another travel of an axis, rounded down to a step of its choice.
pub(super) fn travel(facts: &Facts, axis: Axis, to: Length) -> Remedies {
    let choice = axis.choice("travel") + "_mm";
    number(facts, &choice, units::mm::from(to), false)
}

/// Less travel on an axis, by so much.
pub(super) fn less_travel(facts: &Facts, axis: Axis, by: Length) -> Remedies {
    travel(facts, axis, facts.picked.build.area.travel[axis] - by)
}

/// The part that an edit picks, from its shelf.
pub fn part_of<'c, T>(edit: &Edit, shelf: &'c Shelf<T>) -> Option<&'c T> {
    match &edit.value {
        Value::Part(Some(id)) => shelf.get(id),
        _ => None,
    }
}

/// The likely price of a unit of an option, in the currency of the bill.
fn likely(facts: &Facts, value: &Value) -> Option<Decimal> {
    let Value::Part(Some(id)) = value else {
        return None;
    };
    price_of(facts, id)
}

/// The likely price of a unit of a part, in the currency of the bill, as the bill has it: as
/// quoted, else by the book that wins.
pub fn price_of(facts: &Facts, part: &Id) -> Option<Decimal> {
    let pricing = Pricing::of(facts.picked, facts.today);
    let price = pricing.unit_price(part, Decimal::ONE).ok()??;
    Some(price.range.likely)
}

/// A candidate: a number choice set to a value, kept inside its range and rounded to its
/// step towards the safe side (`up` or down).
pub fn number(facts: &Facts, choice: &str, value: f64, up: bool) -> Remedies {
    let Ok(choice) = choices::find(choice) else {
        return Vec::new();
    };
    let choices::Kind::Number(kind) = choice.kind else {
        return Vec::new();
    };
    if !kind.among.is_empty() {
        let mut fitting = kind.among.iter().copied();
        let offered = if up {
            fitting.find(|offered| *offered >= value)
        } else {
            fitting.rfind(|offered| *offered <= value)
        };
        return offered.map_or_else(Vec::new, |offered| changed(facts, choice, offered));
    }
    let steps = value / kind.step;
    let rounded = if up { steps.ceil() } else { steps.floor() } * kind.step;
    // Where a whole step overshoots the range, a finer one may still lie inside.
    let fitted = if rounded < kind.least || rounded > kind.most {
        value
    } else {
        rounded
    };
    if fitted < kind.least || fitted > kind.most {
        return Vec::new();
    }
    changed(facts, choice, choices::tidy(fitted))
}

/// A candidate that sets a number, unless it stands so already.
fn changed(facts: &Facts, choice: &'static Choice, number: f64) -> Remedies {
    let value = Value::Number(Some(number));
    if value == (choice.get)(facts.picked.build) {
        return Vec::new();
    }
    vec![vec![Edit { choice, value }]]
}
