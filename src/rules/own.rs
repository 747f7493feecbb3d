//! Rules of one's own: whether their conditions hold, what they say, and what may lift them.
//! They come from files (`catalogue::own_rule`); [`settle()`] finds out what they ask.

use std::sync::Arc;

use super::remedy::{Remedies, each_option, number};
use super::{Facts, Finding, RuleId, say};
use crate::build::choices::{self, Choice, Figure, Kind};
use crate::build::{Build, Edit, Picked, Value};
use crate::catalogue::own_rule::{Asked, Condition, How, OwnRule, With};
use crate::money::Money;
use crate::units::show;
use crate::words::Words as _;

mod settle;

pub use settle::{fields_named, settle};

/// A figure of the machine, as rules of one's own read it.
pub type Read<'a> = &'a dyn Fn(Figure) -> Option<f64>;

/// What a condition finds in a build.
#[derive(Clone, Debug, PartialEq)]
enum Seen {
    Number(f64),
    Money(Money),
    Text(String),
    Texts(Vec<String>),
    Nothing,
}

/// What every rule of one's own has to say.
pub(super) fn findings(facts: &Facts, read: Read) -> Vec<Finding> {
    let picked = facts.picked;
    let rules = picked.catalogue.own_rules.iter();
    let speaks = |rule: &&Arc<OwnRule>| {
        let when = rule.when.value();
        let mut each = when.iter().map(|one| one.value());
        !when.is_empty() && each.all(|one| holds(one, facts, read))
    };
    let speaking = rules.filter(speaks);
    speaking
        .map(|rule| Finding {
            rule: RuleId::Own(Arc::clone(rule)),
            severity: rule.severity,
            step: rule.step,
            axis: None,
            message: message(rule, facts, read),
            accepted: picked.build.accepted.get(rule.id.as_str()).cloned(),
            cause: None,
        })
        .collect()
}

/// What it says, each `{1}` replaced by what the condition of that number found.
fn message(rule: &OwnRule, facts: &Facts, read: Read) -> String {
    let mut text = rule.says.value().to_string();
    for (place, condition) in rule.when.value().iter().enumerate() {
        let sign = format!("{{{}}}", place + 1);
        if text.contains(&sign) {
            text = text.replace(&sign, &shown(condition.value(), facts, read));
        }
    }
    text
}

fn holds(condition: &Condition, facts: &Facts, read: Read) -> bool {
    let Some(asked) = &condition.asked else {
        return false;
    };
    let seen = match condition.figure {
        Some(_) => of_figure(asked, facts, read),
        None => of_choice(condition, asked, facts.picked),
    };
    is_so(&seen, asked, facts.picked)
}

fn of_figure(asked: &Asked, facts: &Facts, read: Read) -> Seen {
    match Figure::ALL.get(asked.place) {
        Some(Figure::Cost) => Seen::Money(Money::new(facts.bill.total.likely, facts.bill.currency)),
        Some(figure) => read(*figure).map_or(Seen::Nothing, Seen::Number),
        None => Seen::Nothing,
    }
}

/// The choice that a condition is about; none where it is about a figure.
pub(super) fn choice_of(condition: &Condition) -> Option<&'static Choice> {
    condition.choice.as_ref()?;
    choices::all().get(condition.asked.as_ref()?.place)
}

fn of_choice(condition: &Condition, asked: &Asked, picked: &Picked) -> Seen {
    let Some(choice) = choice_of(condition) else {
        return Seen::Nothing;
    };
    let value = (choice.get)(picked.build);
    let Some(field) = &condition.field else {
        return match value {
            Value::Number(number) => number.map_or(Seen::Nothing, Seen::Number),
            Value::Amount(money) => money.map_or(Seen::Nothing, Seen::Money),
            Value::Parts(ids) => Seen::Texts(ids.iter().map(ToString::to_string).collect()),
            other => Seen::Text(other.to_string()),
        };
    };
    let Value::Part(Some(part)) = value else {
        return Seen::Nothing;
    };
    let fields = picked.catalogue.said.get(&part);
    let said = fields.and_then(|fields| fields.get(field.value().as_str()));
    match (&asked.with, said) {
        (With::Number(_), said) => {
            let number = said.and_then(|said| said.number());
            number.map_or(Seen::Nothing, Seen::Number)
        }
        // What a file leaves out is no yes, and no word.
        (_, None) if asked.is_flag => Seen::Text("no".to_owned()),
        (_, said) => {
            let text = said.and_then(|said| said.text());
            Seen::Text(text.unwrap_or_default().to_owned())
        }
    }
}

/// Whether what was found is as the condition asks.
fn is_so(seen: &Seen, asked: &Asked, picked: &Picked) -> bool {
    let ordered = |order: Option<std::cmp::Ordering>| {
        order.is_some_and(|order| match asked.how {
            How::Over => order.is_gt(),
            How::Under => order.is_lt(),
            How::AtLeast => order.is_ge(),
            How::AtMost => order.is_le(),
            How::Is | How::IsNot | How::Has | How::Lacks => false,
        })
    };
    match (seen, &asked.with) {
        (Seen::Number(number), With::Number(bound)) => ordered(number.partial_cmp(bound)),
        (Seen::Money(money), With::Money(bound)) => {
            let amount = picked.catalogue.converted(*money, bound.currency);
            ordered(amount.map(|amount| amount.cmp(&bound.amount)))
        }
        (Seen::Text(text), With::Text(other)) => match asked.how {
            How::Is => text == other,
            How::IsNot => text != other,
            _ => false,
        },
        (Seen::Texts(texts), With::Text(other)) => match asked.how {
            How::Has => texts.contains(other),
            How::Lacks => !texts.contains(other),
            _ => false,
        },
        _ => false,
    }
}

/// What a condition found, as people read it.
fn shown(condition: &Condition, facts: &Facts, read: Read) -> String {
    let Some(asked) = &condition.asked else {
        return String::new();
    };
    let picked = facts.picked;
    let seen = match condition.figure {
        Some(_) => of_figure(asked, facts, read),
        None => of_choice(condition, asked, picked),
    };
    match (choice_of(condition), &condition.field, seen) {
        (Some(choice), None, _) => choice.show(&(choice.get)(picked.build), picked.catalogue),
        (_, _, Seen::Number(number)) => with_unit(number, &asked.unit),
        (_, _, Seen::Money(money)) => say::money(money.amount, money.currency),
        (_, _, Seen::Text(text)) => text,
        (_, _, Seen::Texts(texts)) => say::list(&texts),
        (_, _, Seen::Nothing) => String::new(),
    }
}

/// A number with its unit: three digits that count, and no zeros at the end.
fn with_unit(number: f64, unit: &str) -> String {
    let digits = match number.abs() {
        most if most >= 100.0 => 0,
        some if some >= 10.0 => 1,
        some if some >= 1.0 => 2,
        _ => 3,
    };
    let text = match digits {
        0 => show::number(number, 0),
        _ => say::at_most(number, digits),
    };
    format!("{text} {unit}").trim_end().to_owned()
}

/// The choices that a rule of one's own is about: those of its conditions, then those that its
/// remedy changes.
pub fn choices_of(rule: &OwnRule) -> Vec<&'static Choice> {
    let when = rule.when.value().iter();
    let asked = when.filter_map(|one| choice_of(one.value()));
    let changed = rule.remedy.iter();
    let changed = changed.filter_map(|one| choices::find(one.value().choice.value()).ok());
    let mut found: Vec<&'static Choice> = Vec::new();
    for choice in asked.chain(changed) {
        if found.iter().all(|known| known.id != choice.id) {
            found.push(choice);
        }
    }
    found
}

/// The choices that alone decide whether a rule of one's own speaks; none where a figure does.
pub fn deciders(rule: &OwnRule) -> Option<Vec<&'static Choice>> {
    let when = rule.when.value().iter();
    when.map(|one| choice_of(one.value())).collect()
}

/// What may lift a finding of a rule of one's own, best first: what the rule itself names; where it
/// names nothing, for each condition the values of its choice with which it no longer holds.
pub(super) fn remedies(rule: &OwnRule, facts: &Facts) -> Remedies {
    let catalogue = facts.picked.catalogue;
    let named = rule.remedy.iter().map(|one| {
        let change = one.value();
        Edit::parse(change.choice.value(), &change.value.value().0, catalogue).ok()
    });
    let named: Option<Vec<Edit>> = named.collect();
    // Whoever names a remedy means that one, and not another wall socket.
    if let Some(named) = named.filter(|edits| !edits.is_empty()) {
        return vec![named];
    }
    let mut found = Remedies::new();
    for condition in rule.when.value() {
        let condition = condition.value();
        if let (Some(choice), Some(asked)) = (choice_of(condition), &condition.asked) {
            found.extend(away(choice, condition, asked, facts));
        }
    }
    found
}

/// Values of a choice with which a condition on it no longer holds.
fn away(choice: &'static Choice, condition: &Condition, asked: &Asked, facts: &Facts) -> Remedies {
    let picked = facts.picked;
    match (&choice.kind, &asked.with) {
        (Kind::Number(kind), With::Number(bound)) => {
            let (value, up) = match asked.how {
                How::Over => (*bound, false),
                How::AtLeast => (bound - kind.step, false),
                How::Under => (*bound, true),
                _ => (bound + kind.step, true),
            };
            number(facts, choice.id, value, up)
        }
        (Kind::Parts(_), With::Text(id)) => {
            let Value::Parts(mut ids) = (choice.get)(picked.build) else {
                return Vec::new();
            };
            match asked.how {
                How::Has => ids.retain(|one| one.as_str() != id),
                _ => ids.extend(crate::catalogue::Id::new(id)),
            }
            let value = Value::Parts(ids);
            vec![vec![Edit { choice, value }]]
        }
        (Kind::Part { .. } | Kind::Word(_) | Kind::Flag, _) => {
            let mut options = each_option(facts, choice.id);
            options.retain(|edits| {
                let mut build = picked.build.clone();
                edits.iter().for_each(|edit| edit.apply(&mut build));
                !still(condition, asked, &build, picked)
            });
            options
        }
        _ => Vec::new(),
    }
}

/// Whether a condition on a choice holds for a changed build.
fn still(condition: &Condition, asked: &Asked, build: &Build, picked: &Picked) -> bool {
    let changed = Picked {
        build,
        ..picked.clone()
    };
    is_so(&of_choice(condition, asked, &changed), asked, picked)
}
