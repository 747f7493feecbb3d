//! Edits: a choice and its new value, made from a key on the screen, from `--set` or from
//! a remedy.

use std::fmt;

use super::Build;
use super::choices::{self, Choice};
use super::value::{BadValue, Value};
use crate::catalogue::Catalogue;
use crate::money::Currency;

/// One change to a build.
#[derive(Clone)]
pub struct Edit {
    /// What is changed.
    pub choice: &'static Choice,
    /// To what.
    pub value: Value,
}

impl Edit {
    /// An edit of a choice by its id and a value as people type it.
    ///
    /// # Errors
    /// Says what is wrong with the id or the value.
    pub fn parse(id: &str, value: &str, catalogue: &Catalogue) -> Result<Self, BadValue> {
        Self::parse_with(id, value, catalogue, None)
    }

    fn parse_with(
        id: &str,
        value: &str,
        catalogue: &Catalogue,
        usual: Option<Currency>,
    ) -> Result<Self, BadValue> {
        let choice = choices::find(id)?;
        let value = choice
            .parse(value, catalogue, usual)
            .map_err(|error| BadValue(format!("{id}: {error}")))?;
        Ok(Self { choice, value })
    }

    /// An edit of a build, spelled `CHOICE=VALUE`; an amount without a currency is in the
    /// money of the build's site.
    ///
    /// # Errors
    /// As [`Edit::parse`], or where the equals sign is missing.
    pub fn parse_pair(pair: &str, catalogue: &Catalogue, build: &Build) -> Result<Self, BadValue> {
        let (id, value) = pair.split_once('=').ok_or_else(|| {
            BadValue(format!(
                "{pair:?} is not an edit: expected CHOICE=VALUE, such as travel_x_mm=800"
            ))
        })?;
        let usual = catalogue
            .sites
            .get(&build.area.site)
            .map(|site| site.currency);
        Self::parse_with(id.trim(), value, catalogue, usual)
    }

    /// Changes the build.
    pub fn apply(&self, build: &mut Build) {
        self.choice.put(build, &self.value);
    }

    /// The build with the change made.
    pub fn applied(&self, build: &Build) -> Build {
        let mut changed = build.clone();
        self.apply(&mut changed);
        changed
    }
}

/// As people type it: `CHOICE=VALUE`, which [`Edit::parse_pair`] reads.
impl fmt::Display for Edit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}={}", self.choice.id, self.value)
    }
}

impl fmt::Debug for Edit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl PartialEq for Edit {
    fn eq(&self, other: &Self) -> bool {
        self.choice.id == other.choice.id && self.value == other.value
    }
}

/// The choices in which two builds differ, with the values of the second.
pub fn difference(from: &Build, to: &Build) -> Vec<Edit> {
    choices::all()
        .iter()
        .filter(|choice| (choice.get)(from) != (choice.get)(to))
        .map(|choice| Edit {
            choice,
            value: (choice.get)(to),
        })
        .collect()
}
