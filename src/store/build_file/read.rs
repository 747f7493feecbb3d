//! From the text of a build file to the build, or to the one message that says why not.

use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::value::{Bad, found, value};
use super::{ACCEPTED, BOUGHT, FORMAT, TOP};
use crate::build::choices::{self, section};
use crate::build::value::amount;
use crate::build::{Build, Kind, Value, nearest};
use crate::catalogue::{Catalogue, Id, PartKind, Step};
use crate::money::Currency;
use crate::rules;
use crate::store::FileError;
use crate::store::plain_words::toml_error;
use crate::words::Words as _;

/// Reads the text of a build file; `name` is what messages call it.
///
/// # Errors
/// Says where and what is wrong, and what would be right.
pub fn read(text: &str, name: &str, catalogue: &Catalogue) -> Result<Build, FileError> {
    let table = DeTable::parse(text).map_err(|error| toml_error(name, text, &error))?;
    build(table.get_ref(), Some(catalogue))
        .map_err(|bad| FileError::at(name, text, bad.span, bad.message))
}

/// The build of a text that was readable once: ids are not looked up.
pub(super) fn loose(text: &str) -> Option<Build> {
    let table = DeTable::parse(text).ok()?;
    build(table.get_ref(), None).ok()
}

fn build(table: &DeTable, catalogue: Option<&Catalogue>) -> Result<Build, Bad> {
    format(table)?;
    let mut reader = Reader {
        catalogue,
        build: Build::default(),
        money: Vec::new(),
    };
    for (key, value) in table {
        reader.top(key, value)?;
    }
    reader.finished()
}

/// The format comes first: what a newer one says, this program cannot judge.
fn format(table: &DeTable) -> Result<(), Bad> {
    let Some(format) = table.get("format") else {
        let message =
            format!("the key \"format\" is missing; begin the file with format = {FORMAT}");
        return Err(Bad::new(0..0, message));
    };
    let number = match format.get_ref() {
        DeValue::Integer(whole) => i64::from_str_radix(whole.as_str(), whole.radix()).ok(),
        _ => None,
    };
    let message = match number {
        Some(number) if number == i64::from(FORMAT) => return Ok(()),
        Some(number) if number > i64::from(FORMAT) => format!(
            "format {number} is newer than this program, which reads format {FORMAT}; use a newer gantrywright"
        ),
        Some(number) => format!("there is no format {number}; write format = {FORMAT}"),
        None => format!(
            "format: this is {}; write format = {FORMAT}",
            found(format.get_ref())
        ),
    };
    Err(Bad::new(format.span(), message))
}

struct Reader<'c> {
    catalogue: Option<&'c Catalogue>,
    build: Build,
    /// The currencies that the file names, with their keys and places.
    money: Vec<(String, Currency, Range<usize>)>,
}

type Key<'k> = Spanned<std::borrow::Cow<'k, str>>;

impl Reader<'_> {
    fn top(&mut self, key: &Key, value: &Spanned<DeValue>) -> Result<(), Bad> {
        let name = key.get_ref().as_ref();
        match name {
            "format" => Ok(()),
            "title" => text(name, value).map(|text| self.build.title = text),
            "note" => text(name, value).map(|text| self.build.note = text),
            ACCEPTED => self.accepted(value),
            BOUGHT => self.bought(value),
            _ => match Step::ALL.iter().find(|step| section(**step) == name) {
                Some(step) => self.step(*step, value),
                None => Err(Bad::new(key.span(), unknown_at_top(name))),
            },
        }
    }

    fn step(&mut self, step: Step, value: &Spanned<DeValue>) -> Result<(), Bad> {
        let table = table(section(step), value)?;
        for (key, raw) in table {
            let name = key.get_ref().as_ref();
            let Some(choice) = choices::of_step(step).find(|choice| choice.id == name) else {
                return Err(Bad::new(key.span(), unknown_in(step, name)));
            };
            let value = self::value(choice, raw, self.catalogue)?;
            if let (Kind::Amount, Value::Amount(Some(money))) = (&choice.kind, &value) {
                let key = choice.id.to_owned();
                self.money.push((key, money.currency, raw.span()));
            }
            choice.put(&mut self.build, &value);
        }
        Ok(())
    }

    fn accepted(&mut self, value: &Spanned<DeValue>) -> Result<(), Bad> {
        for (key, note) in table(ACCEPTED, value)? {
            let name = key.get_ref().as_ref();
            if self.catalogue.is_some() && rules::find(name).is_none() {
                let message = match nearest::nearest(name, rules::all().map(|rule| rule.id)) {
                    Some(near) => format!("there is no rule {name:?}; did you mean {near:?}?"),
                    None => {
                        format!("there is no rule {name:?}; `gantrywright rules` lists them all")
                    }
                };
                return Err(Bad::new(key.span(), message));
            }
            let note = text(name, note)?;
            self.build.accepted.insert(name.to_owned(), note);
        }
        Ok(())
    }

    fn bought(&mut self, value: &Spanned<DeValue>) -> Result<(), Bad> {
        for (key, paid) in table(BOUGHT, value)? {
            let name = key.get_ref().as_ref();
            let part = bought_part(name, self.catalogue)
                .map_err(|message| Bad::new(key.span(), message))?;
            let text = text(name, paid)?;
            let money = amount(&text, None)
                .map_err(|error| Bad::new(paid.span(), format!("{name}: {error}")))?;
            let Some(money) = money else {
                let message = format!("{name}: say what was paid for it, such as \"240 EUR\"");
                return Err(Bad::new(paid.span(), message));
            };
            self.money
                .push((name.to_owned(), money.currency, paid.span()));
            self.build.bought.insert(part, money);
        }
        Ok(())
    }

    /// The build, once the money in it is known to be of use.
    fn finished(self) -> Result<Build, Bad> {
        if let Some(catalogue) = self.catalogue {
            for (key, currency, span) in self.money {
                known_currency(currency, &self.build, catalogue)
                    .map_err(|message| Bad::new(span, format!("{key}: {message}")))?;
            }
        }
        Ok(self.build)
    }
}

/// The part of a name, where it is one that somebody buys.
fn bought_part(name: &str, catalogue: Option<&Catalogue>) -> Result<Id, String> {
    let Some(catalogue) = catalogue else {
        return Id::new(name);
    };
    match catalogue.part(name) {
        Some((kind, part)) if kind.is_bought() => Ok(part.id().clone()),
        Some((kind, _)) => Err(format!("{name:?} is a {}: nobody buys that", kind.title())),
        None => {
            let kinds = PartKind::ALL.iter().filter(|kind| kind.is_bought());
            let parts = kinds.flat_map(|kind| catalogue.of_kind(*kind));
            let hint = nearest::hint(name, parts.map(|part| part.id().as_str()));
            Err(format!("there is no part {name:?}{hint}"))
        }
    }
}

fn text(key: &str, value: &Spanned<DeValue>) -> Result<String, Bad> {
    match value.get_ref() {
        DeValue::String(text) => Ok(text.to_string()),
        other => {
            let message = format!("{key}: this is {}; it takes a text in quotes", found(other));
            Err(Bad::new(value.span(), message))
        }
    }
}

fn table<'t, 'i>(name: &str, value: &'t Spanned<DeValue<'i>>) -> Result<&'t DeTable<'i>, Bad> {
    match value.get_ref() {
        DeValue::Table(table) => Ok(table),
        other => {
            let message = format!(
                "{name}: this is {}; it is a section, [{name}]",
                found(other)
            );
            Err(Bad::new(value.span(), message))
        }
    }
}

fn unknown_at_top(name: &str) -> String {
    if let Ok(choice) = choices::find(name) {
        return format!(
            "{name:?} stands above the sections; it belongs in [{}]",
            section(choice.step)
        );
    }
    if rules::find(name).is_some() {
        return format!("{name:?} stands above the sections; it belongs in [{ACCEPTED}]");
    }
    let sections = Step::ALL.iter().map(|step| section(*step));
    let known = TOP.into_iter().chain(sections).chain([ACCEPTED, BOUGHT]);
    match nearest::nearest(name, known.clone()) {
        Some(near) => format!("there is no {name:?} in a build; did you mean {near:?}?"),
        None => {
            let known: Vec<&str> = known.collect();
            format!(
                "there is no {name:?} in a build; known are {}",
                known.join(", ")
            )
        }
    }
}

fn unknown_in(step: Step, name: &str) -> String {
    let here = section(step);
    if let Ok(choice) = choices::find(name) {
        return format!(
            "{name:?} belongs in [{}], not in [{here}]",
            section(choice.step)
        );
    }
    if TOP.contains(&name) {
        return format!("{name:?} belongs at the top of the file, above the sections");
    }
    let near = nearest::nearest(name, choices::of_step(step).map(|choice| choice.id));
    if let Some(near) = near {
        return format!("there is no choice {name:?}; did you mean {near:?}?");
    }
    let near = nearest::nearest(name, choices::all().iter().map(|choice| choice.id));
    match near.and_then(|near| choices::find(near).ok()) {
        Some(other) => {
            let there = section(other.step);
            format!(
                "there is no choice {name:?}; did you mean {:?} in [{there}]?",
                other.id
            )
        }
        None => format!(
            "there is no choice {name:?} in [{here}]; `gantrywright choices` lists them all"
        ),
    }
}

/// Whether every amount in a build is in a currency that can be compared with its bill.
///
/// # Errors
/// Names the choice, and the currencies that can.
pub fn check_money(build: &Build, catalogue: &Catalogue) -> Result<(), String> {
    for choice in choices::all() {
        if let Value::Amount(Some(money)) = (choice.get)(build) {
            known_currency(money.currency, build, catalogue)
                .map_err(|message| format!("{}: {message}", choice.id))?;
        }
    }
    for (part, paid) in &build.bought {
        known_currency(paid.currency, build, catalogue)
            .map_err(|message| format!("{part}: {message}"))?;
    }
    Ok(())
}

fn known_currency(currency: Currency, build: &Build, catalogue: &Catalogue) -> Result<(), String> {
    let site = catalogue
        .sites
        .get(&build.area.site)
        .map(|site| site.currency);
    let books = catalogue.price_books.values();
    let of_books = books.flat_map(|book| book.rates.keys().copied().chain([book.currency]));
    let mut known: Vec<Currency> = site.into_iter().chain(of_books).collect();
    if known.contains(&currency) {
        return Ok(());
    }
    known.sort_unstable();
    known.dedup();
    let known: Vec<&str> = known.iter().map(Currency::code).collect();
    let known = known.join(", ");
    Err(format!(
        "no price book has a rate for {currency}; known are {known}"
    ))
}
