//! The rows of options under a choice: what can be listed, the entries of a checklist, and
//! for numbers the values around the one in the field.

use rust_decimal::Decimal;

use super::preview::Glanced;
use crate::build::choices::{self, Choice, Kind};
use crate::build::value::{self, NumberKind};
use crate::build::{Build, Value};
use crate::catalogue::{Catalogue, Id};
use crate::money::{Currency, Money};
use crate::order::Order as _;
use crate::units::{Shown, System, entry, show};

mod amount;

/// One option.
#[derive(Clone, Debug)]
pub struct OptionRow {
    /// The value that taking it gives the choice.
    pub value: Value,
    /// Its full name.
    pub full: String,
    /// Its name where there is little room.
    pub short: String,
    /// Whether it is what the build has now.
    pub now: bool,
    /// Whether it is ticked, in a checklist.
    pub ticked: Option<bool>,
    /// The part that it stands for, where it stands for one.
    pub part: Option<Id>,
    /// What it tells of taking it; none while out of view.
    pub glance: Option<Glanced>,
}

/// The rows of a choice that lists its options.
pub fn listed(choice: &Choice, build: &Build, catalogue: &Catalogue) -> Vec<OptionRow> {
    let now = (choice.get)(build);
    if let (Kind::Parts(kind), Value::Parts(chosen)) = (choice.kind, &now) {
        let rows = catalogue.of_kind(kind).into_iter().map(|part| {
            let ticked = chosen.contains(part.id());
            let mut after = chosen.clone();
            after.retain(|id| id != part.id());
            if !ticked {
                after.push(*part.id());
            }
            OptionRow {
                value: Value::Parts(after),
                full: part.title().to_owned(),
                short: part.short().to_owned(),
                now: false,
                ticked: Some(ticked),
                part: Some(*part.id()),
                glance: None,
            }
        });
        return own_first(rows.collect(), catalogue);
    }
    let rows = choice
        .options(catalogue)
        .into_iter()
        .map(|value| OptionRow {
            now: value == now,
            full: choice.show(&value, catalogue),
            short: choice.show_short(&value, catalogue),
            part: match &value {
                Value::Part(id) => *id,
                _ => None,
            },
            value,
            ticked: None,
            glance: None,
        });
    own_first(rows.collect(), catalogue)
}

/// The parts of one's own first, those that are built in behind them.
fn own_first(mut rows: Vec<OptionRow>, catalogue: &Catalogue) -> Vec<OptionRow> {
    rows.order_by_key(|row| {
        let own = row
            .part
            .as_ref()
            .is_some_and(|id| catalogue.own.contains_key(id));
        !own
    });
    rows
}

/// The value a number of steps from another: up or down the grid of the choice's step,
/// within its range. Below the least stands "none" where the choice may be left out. The
/// first amount above none is the next one above what everything costs.
pub fn stepped(
    choice: &Choice,
    from: &Value,
    steps: i32,
    cost: Money,
    shown: Shown,
) -> Option<Value> {
    match (choice.kind, from) {
        // The next value would be one that nobody measured.
        (Kind::Number(kind), Value::Number(number))
            if choice.is_measured() && kind.unset.is_some() =>
        {
            (steps < 0 && number.is_some()).then_some(Value::Number(None))
        }
        (Kind::Number(kind), Value::Number(number)) => {
            let step = entry::step(kind.step, kind.unit, shown);
            stepped_number(&NumberKind { step, ..kind }, *number, steps)
        }
        (Kind::Amount, Value::Amount(amount)) => {
            let before = match amount {
                Some(money) => money.amount,
                None if steps > 0 => (cost.amount / STEP_OF_MONEY).floor() * STEP_OF_MONEY,
                None => Decimal::ZERO,
            };
            let after = before.checked_add(Decimal::from(steps) * STEP_OF_MONEY)?;
            let currency = amount.map_or(cost.currency, |money| money.currency);
            match after {
                fits if fits > Decimal::ZERO => {
                    Some(Value::Amount(Some(Money::new(fits, currency))))
                }
                _ if before.is_zero() => None,
                _ => Some(Value::Amount(None)),
            }
        }
        _ => None,
    }
}

/// What one press of an arrow changes in an amount.
const STEP_OF_MONEY: Decimal = Decimal::ONE_HUNDRED;

fn stepped_number(kind: &NumberKind, from: Option<f64>, steps: i32) -> Option<Value> {
    if let (Some(from), false) = (from, kind.among.is_empty()) {
        return among(kind.among, from, steps).map(|number| Value::Number(Some(number)));
    }
    let Some(from) = from else {
        return (steps > 0).then(|| {
            let above = kind.least + f64::from(steps - 1) * kind.step;
            Value::Number(Some(choices::tidy(above.min(kind.most))))
        });
    };
    let place = from / kind.step;
    // A number off the grid goes to the next line of it first.
    let grid = if steps > 0 {
        (place + 1e-9).floor()
    } else {
        (place - 1e-9).ceil()
    };
    let wanted = choices::tidy((grid + f64::from(steps)) * kind.step);
    if wanted < kind.least {
        let at_least = from <= kind.least;
        return match kind.unset {
            Some(_) if at_least => Some(Value::Number(None)),
            _ if at_least => None,
            _ => Some(Value::Number(Some(kind.least))),
        };
    }
    match wanted > kind.most {
        true if from >= kind.most => None,
        true => Some(Value::Number(Some(kind.most))),
        false => Some(Value::Number(Some(wanted))),
    }
}

/// The value so many places up or down a list, or its end; none where that is where it is.
fn among(offered: &[f64], from: f64, steps: i32) -> Option<f64> {
    let last = offered.len().checked_sub(1)?;
    let far = steps.unsigned_abs() as usize;
    let place = if steps > 0 {
        let above = offered.iter().position(|one| *one > from)?;
        above.saturating_add(far - 1).min(last)
    } else {
        let below = offered.iter().rposition(|one| *one < from)?;
        below.saturating_sub(far - 1)
    };
    offered.get(place).copied()
}

/// The values around one, the greatest first, so that the arrow up goes up.
pub fn ladder(
    choice: &Choice,
    middle: &Value,
    rungs: usize,
    build: &Build,
    (cost, read_as): (Money, Shown),
) -> (Vec<OptionRow>, usize) {
    let now = (choice.get)(build);
    let half = rungs.saturating_sub(1) / 2;
    let climb = |by: i32| {
        let mut values = Vec::new();
        let mut value = middle.clone();
        while values.len() < half {
            let Some(next) = stepped(choice, &value, by, cost, read_as) else {
                break;
            };
            values.push(next.clone());
            value = next;
        }
        values
    };
    let mut values = climb(1);
    values.reverse();
    let cursor = values.len();
    values.push(middle.clone());
    values.extend(climb(-1));
    let rows = values.into_iter().map(|value| {
        let full = match (choice.kind, read_as.system) {
            (Kind::Number(kind), System::Inch) if value != Value::Number(None) => {
                let unit = entry::unit_of(kind.unit, read_as);
                format!("{} {unit}", typed(choice, &value, read_as))
            }
            _ => choice.show_counted(&value),
        };
        OptionRow {
            now: value == now,
            short: full.clone(),
            full,
            value,
            ticked: None,
            part: None,
            glance: None,
        }
    });
    (rows.collect(), cursor)
}

/// A value as it stands in a field before anything is typed.
pub fn typed(choice: &Choice, value: &Value, shown: Shown) -> String {
    match (choice.kind, value) {
        (Kind::Number(kind), Value::Number(Some(number))) => {
            entry::typed(*number, kind.unit, shown)
        }
        (_, Value::Amount(Some(money))) => {
            let amount = money.amount.normalize().to_string();
            amount.replace('.', &shown.marks.decimal().to_string())
        }
        _ => String::new(),
    }
}

/// What a field takes: its range and unit, or how an amount is written.
pub fn taken(choice: &Choice, currency: Currency) -> String {
    let (range, unset) = bounds(choice, currency);
    match unset {
        Some(unset) => format!("{range}; empty: {unset}"),
        None => range,
    }
}

/// Between which bounds it takes one, and what an empty field means, where it may stay empty.
pub fn bounds(choice: &Choice, currency: Currency) -> (String, Option<&'static str>) {
    match choice.kind {
        Kind::Number(kind) => (range(&kind), kind.unset),
        _ => (format!("in {currency}"), Some("no limit")),
    }
}

/// What a text in the field of a choice means.
///
/// # Errors
/// Says what to type instead.
pub fn read(
    choice: &Choice,
    text: &str,
    currency: Currency,
    read_as: Shown,
) -> Result<Value, String> {
    let bare = text.trim();
    match choice.kind {
        Kind::Number(kind) if bare.is_empty() && kind.unset.is_none() => {
            let example = Value::Number(Some(kind.least.max(kind.step)));
            Err(format!(
                "type a number, such as {}",
                choice.show_counted(&example)
            ))
        }
        Kind::Number(kind) => value::number_as(bare, &kind, read_as)
            .map(Value::Number)
            .map_err(|error| {
                out_of_range(bare, &kind, read_as).unwrap_or_else(|| error.to_string())
            }),
        _ => {
            // People group thousands as the screen does.
            let spaces = |c: &char| !matches!(c, '\u{a0}' | '\u{202f}');
            let bare: String = bare.chars().filter(spaces).collect();
            amount::read(&ungrouped(&bare), currency).map(Value::Amount)
        }
    }
}

/// What a number misses its range by, spelled as the range beside the field is. (Files have
/// no groups of thousands, and so the messages about them neither.)
fn out_of_range(text: &str, kind: &NumberKind, shown: Shown) -> Option<String> {
    let number = entry::read(text, kind.unit, shown).ok()?;
    // What is turned into inches on its way to the screen needs its unit for that.
    let unit = match shown.system {
        System::Metric => String::new(),
        System::Inch => format!(" {}", kind.unit),
    };
    let misses = number.is_finite() && !(kind.least..=kind.most).contains(&number);
    misses.then(|| {
        format!(
            "{}{unit} is out of range: it takes {}",
            show::typed(number),
            range(kind)
        )
    })
}

/// Least and greatest, with their unit.
fn range(kind: &NumberKind) -> String {
    let (least, most) = (show::typed(kind.least), show::typed(kind.most));
    format!("{least} to {most} {}", kind.unit)
        .trim_end()
        .to_owned()
}

/// Takes the spaces out from between digits: `10 000 mm` becomes `10000 mm`.
fn ungrouped(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let inside = |place: usize| {
        place > 0
            && chars[place - 1].is_ascii_digit()
            && chars.get(place + 1).is_some_and(char::is_ascii_digit)
    };
    let kept = chars
        .iter()
        .enumerate()
        .filter(|(place, c)| **c != ' ' || !inside(*place));
    kept.map(|(_, c)| *c).collect()
}

#[cfg(test)]
mod tests;
