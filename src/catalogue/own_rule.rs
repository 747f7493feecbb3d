//! Rules of one's own: when a build should be warned of, and what is then said. Data, so that a
//! builder can add what the own workshop, club or socket asks for.
//!
//! What a condition is about (a choice, a figure) is known to rooms further down: they find out
//! what it asks and note that here ([`Asked`]), once, when the files are read.

use std::fmt;

use serde::Deserialize;
use serde::de::{Deserializer, Error as _, Visitor};

use super::Step;
use super::part::Id;
use super::reader::Placed;
use super::text::Text;
use crate::money::Money;

crate::words! {
    /// How bad a finding is, worst first.
    Severity {
        Danger = "danger", "danger", "Somebody can get hurt, or something can burn.";
        Fault = "fault", "fault", "It does not fit, does not work, or breaks.";
        Caution = "caution", "caution", "It works, but badly or not for long.";
        Hint = "hint", "hint", "Worth knowing.";
    }
}

/// The most rules of one's own: each is tried in every assessment.
pub const MOST: usize = 200;

/// The most conditions of a rule, and the most changes of its remedy.
pub const MOST_CONDITIONS: usize = 20;

/// A rule of one's own.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnRule {
    /// Its id: words that name the problem.
    pub id: Id,
    /// The problem in a few words.
    pub title: Text,
    /// How bad it is.
    pub severity: Severity,
    /// The step it belongs to.
    pub step: Step,
    /// What it says; `{1}` stands for what the first condition found, and so on.
    pub says: Placed<Text>,
    /// What to do instead.
    pub instead: Text,
    /// Why it matters.
    #[serde(default)]
    pub because: Option<Text>,
    /// Where it comes from.
    #[serde(default)]
    pub source: Option<Text>,
    /// What must all hold for it to speak.
    pub when: Placed<Vec<Placed<Condition>>>,
    /// The changes, made together, that may lift it.
    #[serde(default)]
    pub remedy: Vec<Placed<Change>>,
    /// What it watches, in words; found out from the conditions.
    #[serde(skip)]
    pub watches: String,
    /// Where it stands and comes from, in words.
    #[serde(skip)]
    pub from: String,
}

impl OwnRule {
    /// Notes the file that the rule stands in.
    pub(super) fn stands_in(&mut self, file: &str) {
        let source = self.source.as_deref().unwrap_or_default().trim();
        self.from = match source {
            "" => format!("a rule of yours, in {file}"),
            source => format!("{source} (a rule of yours, in {file})"),
        };
    }
}

/// One condition: what it is about, and one comparison.
#[derive(Clone, Debug, PartialEq, Default, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// The choice that it is about.
    #[serde(default)]
    pub choice: Option<Placed<Text>>,
    /// The field of the part that this choice picks, by its key in files.
    #[serde(default)]
    pub field: Option<Placed<Text>>,
    /// The figure that it is about, in place of a choice.
    #[serde(default)]
    pub figure: Option<Placed<Text>>,
    /// More than this.
    #[serde(default)]
    pub over: Option<Placed<Typed>>,
    /// Less than this.
    #[serde(default)]
    pub under: Option<Placed<Typed>>,
    /// This or more.
    #[serde(default)]
    pub at_least: Option<Placed<Typed>>,
    /// This or less.
    #[serde(default)]
    pub at_most: Option<Placed<Typed>>,
    /// Just this.
    #[serde(default)]
    pub is: Option<Placed<Typed>>,
    /// Anything else.
    #[serde(default)]
    pub is_not: Option<Placed<Typed>>,
    /// This is ticked on a list.
    #[serde(default)]
    pub has: Option<Placed<Typed>>,
    /// This is not ticked.
    #[serde(default)]
    pub lacks: Option<Placed<Typed>>,
    /// What it was found to ask.
    #[serde(skip)]
    pub asked: Option<Asked>,
}

/// How a condition compares.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum How {
    /// More than.
    Over,
    /// Less than.
    Under,
    /// As much or more.
    AtLeast,
    /// As much or less.
    AtMost,
    /// The same.
    Is,
    /// Something else.
    IsNot,
    /// Among those of a list.
    Has,
    /// Not among them.
    Lacks,
}

impl How {
    /// Its key in files.
    pub fn key(self) -> &'static str {
        match self {
            Self::Over => "over",
            Self::Under => "under",
            Self::AtLeast => "at_least",
            Self::AtMost => "at_most",
            Self::Is => "is",
            Self::IsNot => "is_not",
            Self::Has => "has",
            Self::Lacks => "lacks",
        }
    }

    /// How it is said.
    pub fn words(self) -> &'static str {
        match self {
            Self::Over => "over",
            Self::Under => "under",
            Self::AtLeast => "at least",
            Self::AtMost => "at most",
            Self::Is => "is",
            Self::IsNot => "is not",
            Self::Has => "has",
            Self::Lacks => "lacks",
        }
    }
}

impl Condition {
    /// Its comparisons, with what each is held against.
    pub fn comparisons(&self) -> Vec<(How, &Placed<Typed>)> {
        let all = [
            (How::Over, &self.over),
            (How::Under, &self.under),
            (How::AtLeast, &self.at_least),
            (How::AtMost, &self.at_most),
            (How::Is, &self.is),
            (How::IsNot, &self.is_not),
            (How::Has, &self.has),
            (How::Lacks, &self.lacks),
        ];
        let mut found = Vec::new();
        for (how, typed) in all {
            found.extend(typed.as_ref().map(|typed| (how, typed)));
        }
        found
    }
}

/// What a condition asks, found out from what it says and the whole catalogue.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The place of its choice in the table of choices, or of its figure among the figures.
    pub place: usize,
    /// How it compares.
    pub how: How,
    /// With what.
    pub with: With,
    /// The unit of the numbers; empty where they have none.
    pub unit: String,
    /// Whether it is about a yes or no of a part, which files may leave out for no.
    pub is_flag: bool,
    /// It in words.
    pub words: String,
}

/// What is compared with.
#[derive(Clone, Debug, PartialEq)]
pub enum With {
    /// A number, in the unit of what is compared.
    Number(f64),
    /// An amount of money.
    Money(Money),
    /// A part, a word, yes or no: as files spell it.
    Text(String),
}

/// A change that a remedy makes.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Change {
    /// The choice.
    pub choice: Placed<Text>,
    /// Its new value.
    pub value: Placed<Typed>,
}

/// Something that may stand with quotes or without: `500`, `"500 mm"`, `true`, `"plywood"`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed(pub String);

impl<'de> Deserialize<'de> for Typed {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct Plain;
        impl Visitor<'_> for Plain {
            type Value = Typed;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a number, a text in quotes, or true or false")
            }
            fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Typed, E> {
                Ok(Typed(text.to_owned()))
            }
            fn visit_i64<E: serde::de::Error>(self, whole: i64) -> Result<Typed, E> {
                Ok(Typed(whole.to_string()))
            }
            fn visit_f64<E: serde::de::Error>(self, number: f64) -> Result<Typed, E> {
                Ok(Typed(number.to_string()))
            }
            fn visit_bool<E: serde::de::Error>(self, yes: bool) -> Result<Typed, E> {
                Ok(Typed(if yes { "yes" } else { "no" }.to_owned()))
            }
        }
        let typed = d.deserialize_any(Plain)?;
        match typed.0.trim().is_empty() {
            false => Ok(typed),
            true => Err(D::Error::custom(
                "this is empty; write what is compared with",
            )),
        }
    }
}

/// A rule as the catalogue takes it in from a file.
pub(super) fn absorb(all: &mut Vec<std::sync::Arc<OwnRule>>, rule: OwnRule) {
    let rule = std::sync::Arc::new(rule);
    // A replaced rule keeps its place.
    match all.iter_mut().find(|old| old.id == rule.id) {
        Some(old) => *old = rule,
        None => all.push(rule),
    }
}
