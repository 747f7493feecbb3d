//! The value of a choice as files, commands and keys spell it, before and after it becomes
//! part of the typed [`Build`](super::Build).

use std::fmt;

use rust_decimal::Decimal;

use crate::catalogue::Id;
use crate::money::{self, Currency, Money};
use crate::units::entry::{self, Unread};
use crate::units::{Marks, Shown, marks};
use crate::words::Word;

/// What numbers a choice takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NumberKind {
    /// How its unit is written after a number; nothing for plain counts.
    pub unit: &'static str,
    /// Least value.
    pub least: f64,
    /// Greatest value.
    pub most: f64,
    /// What one press of an arrow changes.
    pub step: f64,
    /// Whether only whole numbers make sense.
    pub whole: bool,
    /// The only values on offer, rising; empty where any number in range will do.
    pub among: &'static [f64],
    /// What no value means, where it may be left out.
    pub unset: Option<&'static str>,
}

/// A value, as it is typed, stored and shown.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A part by its id, or none.
    Part(Option<Id>),
    /// Several entries of one kind.
    Parts(Vec<Id>),
    /// A word of a closed list.
    Word(&'static str),
    /// A number in the unit of the choice, or none.
    Number(Option<f64>),
    /// Yes or no.
    Flag(bool),
    /// An amount of money, or none.
    Amount(Option<Money>),
}

/// How files and commands spell "none".
pub const NONE: &str = "none";

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Part(Some(id)) => write!(f, "{id}"),
            Self::Part(None) | Self::Number(None) | Self::Amount(None) => f.write_str(NONE),
            Self::Parts(ids) if ids.is_empty() => f.write_str(NONE),
            Self::Parts(ids) => {
                let ids: Vec<&str> = ids.iter().map(Id::as_str).collect();
                f.write_str(&ids.join(","))
            }
            Self::Word(id) => f.write_str(id),
            Self::Number(Some(number)) => write!(f, "{number}"),
            Self::Flag(yes) => f.write_str(if *yes { "yes" } else { "no" }),
            Self::Amount(Some(money)) => write!(f, "{} {}", money.amount, money.currency),
        }
    }
}

/// What is wrong with a value, and what would be right.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{0}")]
pub struct BadValue(pub String);

/// Reads yes or no.
///
/// # Errors
/// Names both words.
pub fn flag(text: &str) -> Result<bool, BadValue> {
    match text.trim() {
        "yes" | "true" => Ok(true),
        "no" | "false" => Ok(false),
        other => Err(BadValue(format!("{other:?} is neither yes nor no"))),
    }
}

/// Reads a number as files and commands take it: with a decimal point or comma and, if one is
/// given, any unit of the kind that the choice takes.
///
/// # Errors
/// Says what the text is, or which range it must keep.
pub fn number(text: &str, kind: &NumberKind) -> Result<Option<f64>, BadValue> {
    number_as(text, kind, Shown::PLAIN)
}

/// The same as somebody types it who has marks and units of their own.
///
/// # Errors
/// As [`number`].
pub fn number_as(text: &str, kind: &NumberKind, shown: Shown) -> Result<Option<f64>, BadValue> {
    let text = text.trim();
    if let Some(unset) = kind.unset
        && (text.is_empty() || text == NONE || text == unset)
    {
        return Ok(None);
    }
    let value = entry::read(text, kind.unit, shown)
        .map_err(|error| BadValue(unread(text, kind, shown, &error)))?;
    in_range(value, kind).map(Some)
}

/// Why a text is no number of a choice, with one that would be.
fn unread(text: &str, kind: &NumberKind, shown: Shown, error: &Unread) -> String {
    let (behind, of) = match entry::unit_of(kind.unit, shown) {
        "" => (String::new(), String::new()),
        "in" => (" in".to_owned(), " in inches".to_owned()),
        unit => (format!(" {unit}"), format!(" in {unit}")),
    };
    match error {
        Unread::NoNumber => {
            let example = entry::typed(kind.least.max(1.0), kind.unit, shown);
            format!("{text:?} is not a number{of}, such as {example}{behind}")
        }
        Unread::Unit(message) => format!("{text:?}: {message}"),
        Unread::TwoMeanings { .. } => error.to_string(),
    }
}

/// Checks a number against the range of its choice.
///
/// # Errors
/// Names the range.
pub fn in_range(value: f64, kind: &NumberKind) -> Result<f64, BadValue> {
    let symbol = kind.unit;
    if !value.is_finite() || value < kind.least || value > kind.most {
        return Err(BadValue(
            format!(
                "{value} is out of range: it takes {} to {} {symbol}",
                kind.least, kind.most
            )
            .trim_end()
            .to_owned(),
        ));
    }
    if !kind.among.is_empty() && !kind.among.contains(&value) {
        let offered: Vec<String> = kind.among.iter().map(f64::to_string).collect();
        let offered = offered.join(", ");
        return Err(BadValue(format!(
            "{value} is not on offer: it takes {offered}"
        )));
    }
    if kind.whole && value.fract() != 0.0 {
        return Err(BadValue(format!("{value} must be a whole number")));
    }
    Ok(value)
}

/// Digits with a point where a comma may stand.
///
/// # Errors
/// A comma before three digits may part thousands or a fraction: refused rather than guessed.
pub fn pointed(digits: &str) -> Result<String, BadValue> {
    marks::pointed(digits, Marks::PLAIN).map_err(|either| {
        let typed = digits.to_owned();
        BadValue(Unread::TwoMeanings { typed, either }.to_string())
    })
}

/// Reads an amount with its currency, such as `3500 EUR`; a lone number takes `usual`.
///
/// # Errors
/// Shows how an amount is written.
pub fn amount(text: &str, usual: Option<Currency>) -> Result<Option<Money>, BadValue> {
    let text = text.trim();
    if text.is_empty() || text == NONE {
        return Ok(None);
    }
    let (bare, signed) = money::typed::without_sign(text, usual);
    let (digits, currency) = match bare.split_once(char::is_whitespace) {
        Some((digits, code)) => {
            let currency = code
                .trim()
                .parse()
                .map_err(|error: money::MoneyError| BadValue(error.to_string()))?;
            (digits, currency)
        }
        None => match signed.or(usual) {
            Some(currency) => (bare, currency),
            None => {
                return Err(BadValue(format!(
                    "{text:?} lacks its currency, as in \"3500 EUR\""
                )));
            }
        },
    };
    let digits = pointed(digits)?;
    let amount: Decimal = money::parse_amount(&digits).map_err(|error| {
        BadValue(match error {
            money::MoneyError::NotAnAmount(_) => {
                format!("{text:?} is not an amount: expected money, such as 3500 {currency}")
            }
            other => other.to_string(),
        })
    })?;
    Ok(Some(Money::new(amount, currency)))
}

/// Reads a word of a closed list.
///
/// # Errors
/// Names the nearest word.
pub fn word(text: &str, words: &'static [Word]) -> Result<&'static str, BadValue> {
    let text = text.trim();
    words
        .iter()
        .find(|word| word.id == text)
        .map(|word| word.id)
        .ok_or_else(|| {
            let ids = words.iter().map(|word| word.id);
            BadValue(format!(
                "{text:?} is not one of its options{}",
                super::nearest::options(text, ids)
            ))
        })
}
