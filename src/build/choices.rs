//! The table of choices. Each row is a lens onto the [`Build`]: it knows its id, step,
//! title and options, why it matters, which figures it moves, and how to read and write
//! its place in the build.

use std::sync::LazyLock;

use super::value::{self, BadValue, NumberKind, Value};
use super::{Build, nearest};
use crate::catalogue::{Catalogue, Id, Part, PartKind, Step};
use crate::money::{Currency, show as amounts};
use crate::units::show;
use crate::words::Word;

pub mod control;
pub mod drive;
pub mod extras;
mod figure;
pub mod job;
pub mod measured;
mod rows;
pub mod spindle;
pub mod working_area;

pub use figure::Figure;
use rows::rows;

/// What a choice takes.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// One part of certain kinds.
    Part {
        /// The kinds offered together.
        kinds: &'static [PartKind],
        /// What no part means, where it may be left out.
        unset: Option<&'static str>,
    },
    /// Any number of entries of one kind.
    Parts(PartKind),
    /// A word of a closed list.
    Word(&'static [Word]),
    /// A number.
    Number(NumberKind),
    /// Yes or no.
    Flag,
    /// An amount of money, or none.
    Amount,
}

/// One row of the table.
pub struct Choice {
    /// Its key in build files and on the command line: words, and the unit of a number.
    pub id: &'static str,
    /// The step it belongs to.
    pub step: Step,
    /// How the screen names it, at most 18 columns.
    pub title: &'static str,
    /// What it takes.
    pub kind: Kind,
    /// What it is and why it matters: one plain sentence.
    pub why: &'static str,
    /// What a poor pick costs: one or two sentences.
    pub poor: &'static str,
    /// The figures it moves, the one it is mostly about first.
    pub moves: &'static [Figure],
    /// Reads its place in the build.
    pub get: fn(&Build) -> Value,
    /// Writes it; a value of another kind changes nothing.
    set: fn(&mut Build, &Value),
}

impl std::fmt::Debug for Choice {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.id)
    }
}

/// Every choice, step by step.
pub fn all() -> &'static [Choice] {
    static ALL: LazyLock<Vec<Choice>> = LazyLock::new(|| {
        let mut rows = working_area::rows();
        rows.extend(drive::rows());
        rows.extend(spindle::rows());
        rows.extend(control::rows());
        rows.extend(extras::rows());
        rows.extend(job::rows());
        rows.extend(measured::rows());
        rows
    });
    &ALL
}

/// The choices of one step, in their order.
pub fn of_step(step: Step) -> impl Iterator<Item = &'static Choice> {
    all().iter().filter(move |choice| choice.step == step)
}

/// The choice of an id, where there is one.
pub fn of_id(id: &str) -> Option<&'static Choice> {
    all().iter().find(|choice| choice.id == id)
}

/// The choice of an id.
///
/// # Errors
/// Names the nearest id, which takes far longer than to look for the choice, or where all are
/// listed.
pub fn find(id: &str) -> Result<&'static Choice, BadValue> {
    of_id(id).ok_or_else(|| {
        let hint = nearest::hint(id, all().iter().map(|choice| choice.id));
        let list = match hint.is_empty() {
            true => "; `gantrywright choices` lists them all",
            false => "",
        };
        BadValue(format!("there is no choice {id:?}{hint}{list}"))
    })
}

/// The key of a step's table in build files.
pub fn section(step: Step) -> &'static str {
    match step {
        Step::WorkingArea => "working_area",
        Step::Drive => "drive",
        Step::Spindle => "spindle",
        Step::Control => "control",
        Step::Extras => "extras",
    }
}

impl Choice {
    /// All that it says of itself: why it matters, then what a poor pick costs.
    pub fn about(&self) -> String {
        format!("{} {}", self.why, self.poor)
    }

    /// What is lost by going from one value to another that leaves something out which costs
    /// money: a part that is there no longer, or a yes that becomes a no.
    pub fn lost(&self, from: &Value, to: &Value) -> Option<&'static str> {
        let is_left_out = match (from, to) {
            (Value::Flag(true), Value::Flag(false)) => self.moves.contains(&Figure::Cost),
            // No part may also mean that another choice says which: the same, as the job says.
            (Value::Part(Some(_)), Value::Part(None)) => {
                matches!(self.kind, Kind::Part { unset: Some(none), .. } if none.starts_with("none"))
            }
            _ => false,
        };
        is_left_out.then_some(self.poor)
    }

    /// Whether it says what was measured on the machine.
    pub fn is_measured(&self) -> bool {
        self.id.starts_with("measured_")
    }

    /// Writes a value that was checked for this choice.
    pub fn put(&self, build: &mut Build, value: &Value) {
        (self.set)(build, value);
    }

    /// The figure that it is mostly about, apart from cost and warnings, which are told anyway.
    pub fn main_figure(&self) -> Option<Figure> {
        let mut moved = self.moves.iter().copied();
        moved.find(|figure| !matches!(figure, Figure::Cost | Figure::Warnings))
    }

    /// Reads a value as people type it, and checks it against the catalogue.
    ///
    /// # Errors
    /// Says what is wrong and what would be right.
    pub fn parse(
        &self,
        text: &str,
        catalogue: &Catalogue,
        usual: Option<Currency>,
    ) -> Result<Value, BadValue> {
        match self.kind {
            Kind::Part { kinds, unset } => part(text, kinds, unset, catalogue),
            Kind::Parts(kind) => parts(text, kind, catalogue),
            Kind::Word(words) => value::word(text, words).map(Value::Word),
            Kind::Number(kind) => value::number(text, &kind).map(Value::Number),
            Kind::Flag => value::flag(text).map(Value::Flag),
            Kind::Amount => value::amount(text, usual).map(Value::Amount),
        }
    }

    /// Every value that can be listed: parts, words, yes and no; none for numbers and
    /// money, which are typed.
    pub fn options(&self, catalogue: &Catalogue) -> Vec<Value> {
        match self.kind {
            Kind::Part { kinds, unset } => {
                let none = unset.map(|_| Value::Part(None));
                let parts = parts_of(kinds, catalogue).map(|part| Value::Part(Some(*part.id())));
                none.into_iter().chain(parts).collect()
            }
            Kind::Word(words) => words.iter().map(|word| Value::Word(word.id)).collect(),
            Kind::Flag => vec![Value::Flag(true), Value::Flag(false)],
            Kind::Parts(_) | Kind::Number(_) | Kind::Amount => Vec::new(),
        }
    }

    /// How a value of this choice is shown to people, parts by their full titles.
    pub fn show(&self, value: &Value, catalogue: &Catalogue) -> String {
        self.name(value, catalogue, |part| part.title())
    }

    /// How lists show a value of this choice: parts by their short names.
    pub fn show_short(&self, value: &Value, catalogue: &Catalogue) -> String {
        self.name(value, catalogue, |part| part.short())
    }

    fn name(&self, value: &Value, catalogue: &Catalogue, of: fn(&dyn Part) -> &str) -> String {
        let name = |id: &Id| match catalogue.part(id.as_str()) {
            Some((_, part)) => of(part).to_owned(),
            None => id.to_string(),
        };
        match (value, &self.kind) {
            (Value::Part(Some(id)), _) => name(id),
            (
                Value::Part(None),
                Kind::Part {
                    unset: Some(unset), ..
                },
            ) => (*unset).to_owned(),
            (Value::Parts(ids), _) if !ids.is_empty() => {
                ids.iter().map(name).collect::<Vec<_>>().join(", ")
            }
            (Value::Word(id), Kind::Word(words)) => words
                .iter()
                .find(|word| word.id == *id)
                .map_or_else(|| (*id).to_owned(), |word| word.title.to_owned()),
            _ => self.show_counted(value),
        }
    }

    /// How people read a number or an amount of this choice, thousands in groups; any other value
    /// as files have it.
    pub fn show_counted(&self, value: &Value) -> String {
        match (value, &self.kind) {
            (Value::Number(Some(number)), Kind::Number(kind)) => {
                format!("{} {}", show::typed(*number), kind.unit)
                    .trim_end()
                    .to_owned()
            }
            (
                Value::Number(None),
                Kind::Number(NumberKind {
                    unset: Some(unset), ..
                }),
            ) => (*unset).to_owned(),
            (Value::Amount(Some(money)), Kind::Amount) => {
                let amount = match money.amount.fract().is_zero() {
                    true => amounts::whole(money.amount),
                    false => amounts::exact(money.amount, money.currency),
                };
                format!("{amount} {}", money.currency)
            }
            (_, Kind::Amount) => "no limit".to_owned(),
            _ => value.to_string(),
        }
    }

    /// The plain sentence of an option, where it has one.
    pub fn plain(&self, value: &Value, catalogue: &Catalogue) -> Option<String> {
        match (value, &self.kind) {
            (Value::Part(Some(id)), _) => catalogue
                .part(id.as_str())
                .and_then(|(_, part)| part.note())
                .map(str::to_owned),
            (Value::Word(id), Kind::Word(words)) => words
                .iter()
                .find(|word| word.id == *id)
                .map(|word| word.plain.to_owned()),
            _ => None,
        }
    }
}

/// The id of a part that is built in, for the values that a new build begins with.
fn id(text: &str) -> Id {
    Id::new(text).unwrap_or_else(|error| unreachable!("{error}"))
}

fn parts_of<'c>(
    kinds: &[PartKind],
    catalogue: &'c Catalogue,
) -> impl Iterator<Item = &'c dyn Part> {
    kinds.iter().flat_map(|&kind| catalogue.of_kind(kind))
}

fn part(
    text: &str,
    kinds: &'static [PartKind],
    unset: Option<&'static str>,
    catalogue: &Catalogue,
) -> Result<Value, BadValue> {
    let text = text.trim();
    if text == value::NONE && unset.is_some() {
        return Ok(Value::Part(None));
    }
    if let Some((kind, part)) = catalogue.part(text)
        && kinds.contains(&kind)
    {
        return Ok(Value::Part(Some(*part.id())));
    }
    let kind = kinds
        .iter()
        .map(|kind| kind.title())
        .collect::<Vec<_>>()
        .join(" or ");
    if let Some((other, _)) = catalogue.part(text) {
        let other = other.title();
        return Err(BadValue(format!(
            "{text:?} is listed as {other}; it takes: {kind}"
        )));
    }
    let hint = part_hint(text, kinds, catalogue);
    Err(BadValue(format!("there is no {kind} {text:?}{hint}")))
}

/// The end of a message about an unknown part: the nearest, else where all are listed.
fn part_hint(text: &str, kinds: &[PartKind], catalogue: &Catalogue) -> String {
    let parts = parts_of(kinds, catalogue);
    let hint = nearest::hint(text, parts.map(|part| part.id().as_str()));
    if !hint.is_empty() {
        return hint;
    }
    let list = |kind: &PartKind| format!("`gantrywright parts {}`", kind.key());
    let lists: Vec<String> = kinds.iter().map(list).collect();
    format!("; see {}", lists.join(" or "))
}

fn parts(text: &str, kind: PartKind, catalogue: &Catalogue) -> Result<Value, BadValue> {
    let text = text.trim();
    if text.is_empty() || text == value::NONE {
        return Ok(Value::Parts(Vec::new()));
    }
    let mut ids: Vec<Id> = Vec::new();
    for name in text.split(',') {
        let known = catalogue.of_kind(kind);
        let Some(found) = known.iter().find(|part| part.id().as_str() == name.trim()) else {
            let hint = part_hint(name.trim(), &[kind], catalogue);
            return Err(BadValue(format!(
                "there is no {} {:?}{hint}",
                kind.title(),
                name.trim()
            )));
        };
        if !ids.contains(found.id()) {
            ids.push(*found.id());
        }
    }
    Ok(Value::Parts(ids))
}

/// Rounds what the way through SI units added to a number that people typed: twelve
/// significant digits are kept.
pub(crate) fn tidy(number: f64) -> f64 {
    format!("{number:.11e}").parse().unwrap_or(number)
}
