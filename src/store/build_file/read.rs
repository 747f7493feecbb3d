//! From the text of a build file to the build, or to the one message that says why not.

use toml::Spanned;
use toml::de::DeTable;

use super::purchases::{self, Books};
use super::value::value;
use super::{
    ACCEPTED, BEHIND, CONSIGNMENTS, DONE, FORMAT, OFFCUTS, PURCHASES, RECORDED, TOP, VARIANTS,
};
use super::{older, variants};
use crate::build::choices::{self, section};
use crate::build::purchases::Payment;
use crate::build::{Build, Kind, Value, nearest};
use crate::catalogue::{Catalogue, Id, Step};
use crate::money::Currency;
use crate::rules;
use crate::store::plain_words::toml_error;
use crate::store::toml_value::{self, Bad, Raw, found, text, whole};
use crate::store::{FileError, limits};
use crate::words::Words as _;

/// Reads the text of a build file; `name` is what messages call it.
///
/// # Errors
/// Says where and what is wrong, and what would be right.
pub fn read(text: &str, name: &str, catalogue: &Catalogue) -> Result<Build, FileError> {
    let table = DeTable::parse(text).map_err(|error| toml_error(name, text, error))?;
    if is_older(table.get_ref()) {
        let newer = older::lifted(text).map_err(|why| FileError::new(name, why))?;
        // Places are those of the newer text from here on.
        let name = format!("{name} (as format {FORMAT})");
        let table = DeTable::parse(&newer).map_err(|error| toml_error(&name, &newer, error))?;
        return build(table.get_ref(), Some(catalogue)).map_err(|bad| bad.in_file(&name, &newer));
    }
    build(table.get_ref(), Some(catalogue)).map_err(|bad| bad.in_file(name, text))
}

/// The build of a text that was readable once: ids are not looked up.
pub(super) fn loose(text: &str) -> Option<Build> {
    let table = DeTable::parse(text).ok()?;
    build(table.get_ref(), None).ok()
}

fn build(table: &DeTable, catalogue: Option<&Catalogue>) -> Result<Build, Bad> {
    format(table)?;
    limits::texts_and_lists(table)?;
    let mut reader = Reader {
        catalogue,
        build: Build::default(),
        books: Books {
            catalogue,
            money: Vec::new(),
        },
        variants: variants::Read::default(),
    };
    for (key, value) in table {
        reader.top(key, value)?;
    }
    reader.finished()
}

/// Whether a file is of an older format that can be made a newer one.
fn is_older(table: &DeTable) -> bool {
    let number = table
        .get("format")
        .and_then(|format| whole(format.get_ref()));
    number.is_some_and(|number| (i64::from(older::OLDEST)..i64::from(FORMAT)).contains(&number))
}

/// The format comes first: what a newer one says, this program cannot judge.
fn format(table: &DeTable) -> Result<(), Bad> {
    let Some(format) = table.get("format") else {
        let message =
            format!("the key \"format\" is missing; begin the file with format = {FORMAT}");
        return Err(Bad::new(0..0, message));
    };
    let message = match whole(format.get_ref()) {
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
    books: Books<'c>,
    variants: variants::Read,
}

type Key<'k> = Spanned<std::borrow::Cow<'k, str>>;

impl Reader<'_> {
    fn top(&mut self, key: &Key, value: &Raw) -> Result<(), Bad> {
        let name = key.get_ref().as_ref();
        match name {
            "format" => Ok(()),
            "title" => text(name, value).map(|text| self.build.title = text.to_owned()),
            "note" => text(name, value).map(|text| self.build.note = text.to_owned()),
            variants::ACTIVE | variants::BASELINE => self.variants.top(name, value),
            VARIANTS => self.variants.section(value, self.catalogue),
            ACCEPTED => self.accepted(value),
            PURCHASES => self.purchases(value),
            CONSIGNMENTS => self.consignments(value),
            OFFCUTS => self.offcuts(value),
            DONE => self.done(value),
            // No part of the build, and never a reason not to open one.
            RECORDED => Ok(()),
            "bought" => Err(Bad::new(
                key.span(),
                "what was bought has a section for each part: [purchases.rail-15] with payments = [{ amount = \"240 EUR\", date = \"2026-11-20\" }]",
            )),
            _ => match Step::ALL.iter().find(|step| section(**step) == name) {
                Some(step) => self.step(*step, value),
                None => Err(Bad::new(key.span(), unknown_at_top(name))),
            },
        }
    }

    fn step(&mut self, step: Step, value: &Raw) -> Result<(), Bad> {
        for (key, raw) in toml_value::section(section(step), value)? {
            let name = key.get_ref().as_ref();
            let Some(choice) = choices::of_step(step).find(|choice| choice.id == name) else {
                return Err(Bad::new(key.span(), unknown_in(step, name)));
            };
            let value = self::value(choice, raw, self.catalogue)?;
            if let (Kind::Amount, Value::Amount(Some(money))) = (&choice.kind, &value) {
                let key = choice.id.to_owned();
                self.books.money.push((key, money.currency, raw.span()));
            }
            choice.put(&mut self.build, &value);
        }
        Ok(())
    }

    fn accepted(&mut self, value: &Raw) -> Result<(), Bad> {
        for (key, note) in toml_value::section(ACCEPTED, value)? {
            let name = key.get_ref().as_ref();
            if let Some(catalogue) = self.catalogue
                && !rules::ids(catalogue).any(|id| id == name)
            {
                let message = match nearest::nearest(name, rules::ids(catalogue)) {
                    Some(near) => format!("there is no rule {name:?}; did you mean {near:?}?"),
                    None => format!(
                        "there is no rule {name:?}; `gantrywright rules` lists them all; is it \
                         one of your own, its file is missing"
                    ),
                };
                return Err(Bad::new(key.span(), message));
            }
            let note = text(name, note)?.to_owned();
            self.build.accepted.insert(name.to_owned(), note);
        }
        Ok(())
    }

    fn purchases(&mut self, raw: &Raw) -> Result<(), Bad> {
        for (key, value) in toml_value::section(PURCHASES, raw)? {
            let name = key.get_ref().as_ref();
            let part = self.books.part(name);
            let part = part.map_err(|message| Bad::new(key.span(), message))?;
            let purchase = self.books.purchase(name, value)?;
            self.build.purchases.parts.insert(part, purchase);
        }
        Ok(())
    }

    fn consignments(&mut self, raw: &Raw) -> Result<(), Bad> {
        for (key, value) in toml_value::section(CONSIGNMENTS, raw)? {
            let name = key.get_ref().as_ref();
            let supplier = self.books.known_supplier(name);
            let supplier = supplier.map_err(|message| Bad::new(key.span(), message))?;
            let consignment = self.books.consignment(name, value)?;
            let all = &mut self.build.purchases.consignments;
            all.insert(supplier, consignment);
        }
        Ok(())
    }

    fn offcuts(&mut self, raw: &Raw) -> Result<(), Bad> {
        for (key, value) in toml_value::section(OFFCUTS, raw)? {
            let name = key.get_ref().as_ref();
            let part = self.books.part(name);
            let part = part.map_err(|message| Bad::new(key.span(), message))?;
            let lengths = purchases::lengths(name, value)?;
            self.build.purchases.offcuts.insert(part, lengths);
        }
        Ok(())
    }

    fn done(&mut self, raw: &Raw) -> Result<(), Bad> {
        for (key, value) in toml_value::section(DONE, raw)? {
            let name = key.get_ref().as_ref();
            Id::new(name).map_err(|message| Bad::new(key.span(), message))?;
            let day = purchases::date(name, value)?;
            self.build.done.insert(name.to_owned(), day);
        }
        Ok(())
    }

    /// The build, once the money in it is known to be of use.
    fn finished(self) -> Result<Build, Bad> {
        if let Some(catalogue) = self.catalogue {
            for (key, currency, span) in self.books.money {
                known_currency(currency, &self.build, catalogue)
                    .map_err(|message| Bad::new(span, format!("{key}: {message}")))?;
            }
        }
        self.variants.finish(self.build, self.catalogue)
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
    let known = TOP.into_iter().chain(sections).chain(BEHIND);
    let hint = nearest::or_all(name, known);
    format!("there is no {name:?} in a build{hint}")
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
    let purchases = &build.purchases;
    for (part, purchase) in &purchases.parts {
        let quotes = purchase.quotes.iter().map(|quote| quote.price.currency);
        let paid = purchase.payments.iter();
        for currency in quotes.chain(paid.filter_map(without_rate)) {
            known_currency(currency, build, catalogue)
                .map_err(|message| format!("{part}: {message}"))?;
        }
    }
    for (supplier, consignment) in &purchases.consignments {
        for currency in consignment.payments.iter().filter_map(without_rate) {
            known_currency(currency, build, catalogue)
                .map_err(|message| format!("{supplier}: {message}"))?;
        }
    }
    Ok(())
}

/// The currency of a payment that says no rate.
fn without_rate(payment: &Payment) -> Option<Currency> {
    payment.rate.is_none().then_some(payment.amount.currency)
}

fn known_currency(currency: Currency, build: &Build, catalogue: &Catalogue) -> Result<(), String> {
    let site = catalogue
        .sites
        .get(&build.area.site)
        .map(|site| site.currency);
    let books = catalogue.price_books.values();
    let of_books = books.flat_map(|book| book.rates.keys().copied().chain([book.currency]));
    let mut known: Vec<Currency> = site.into_iter().chain(of_books).collect();
    let into = site.and_then(|site| catalogue.rate(currency, site));
    if known.contains(&currency) || into.is_some() {
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
