//! Offers of suppliers from a CSV file, as spreadsheet programs write them: with commas,
//! semicolons or tabs between, decimal points or commas, quotes and a byte-order mark.
//!
//! The first line names the columns, in any order: `part` and `price` (of one unit) or `total`
//! (with `quantity`) must be there; `currency`, `quantity`, `supplier`, `date`, `valid_until`,
//! `shipping` and `used` may. Each row becomes a [`Quote`] of a part, or a reason why not.

use csv::{ReaderBuilder, StringRecord, Trim};
use jiff::civil::Date;
use rust_decimal::Decimal;

use super::FileError;
use crate::build::nearest;
use crate::build::purchases::Quote;
use crate::catalogue::destination::Destination;
use crate::catalogue::prices::OnTop;
use crate::catalogue::{Catalogue, Id, Part, PartKind};
use crate::money::{Currency, Money, MoneyError};

mod figures;

pub use figures::{day, decimal};

/// The columns that are known.
const COLUMNS: [&str; 10] = [
    "part",
    "price",
    "total",
    "currency",
    "quantity",
    "supplier",
    "date",
    "valid_until",
    "shipping",
    "used",
];

/// The most rows that are read: a machine has some hundred parts.
const MOST_ROWS: usize = 2000;

/// The most characters of a cell: ids, suppliers and figures are shorter.
const LONGEST: usize = 200;

/// What became of a row.
#[derive(Clone, Debug)]
pub enum Outcome {
    /// It is an offer for a part.
    Matched(Id, Quote),
    /// Nothing is known by that name; the nearest that is.
    Unmatched(String),
    /// It cannot be used, and why.
    Refused(String),
}

/// One row of the file.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its line in the file.
    pub line: u64,
    /// What it calls the part.
    pub part: String,
    /// What became of it.
    pub outcome: Outcome,
}

/// What rows are read with.
pub struct Terms<'c> {
    /// What exists.
    pub catalogue: &'c Catalogue,
    /// Where the parts are sent.
    pub destination: &'c Destination,
    /// The money of rows that name none.
    pub currency: Currency,
    /// The day of rows that name none.
    pub today: Date,
}

/// Reads the rows of a text.
///
/// # Errors
/// Where it has no usable heading, or is no CSV.
pub fn read(text: &str, name: &str, terms: &Terms) -> Result<Vec<Row>, FileError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader = ReaderBuilder::new()
        .delimiter(delimiter(text))
        .trim(Trim::All)
        .flexible(true)
        .from_reader(text.as_bytes());
    let bad = |error: csv::Error| {
        let line = error
            .position()
            .map_or(1, |place| Lines::of(text).at(place));
        at(name, line, format!("this is no CSV: {error}"))
    };
    let heading = reader.headers().map_err(bad)?.clone();
    let columns = columns(&heading, name)?;
    let mut rows = Vec::new();
    let mut lines = Lines::of(text);
    for record in reader.records() {
        let record = record.map_err(bad)?;
        if record.iter().all(str::is_empty) {
            continue;
        }
        let line = record.position().map_or(1, |place| lines.at(place));
        if rows.len() == MOST_ROWS {
            let message = format!("more than {MOST_ROWS} rows; split the file");
            return Err(at(name, line, message));
        }
        let cells = Cells {
            record: &record,
            columns: &columns,
        };
        let part = cells.get("part").unwrap_or_default();
        let part: String = part.chars().take(LONGEST).collect();
        let long = record.iter().any(|cell| cell.chars().count() > LONGEST);
        rows.push(Row {
            line,
            outcome: match long {
                true => {
                    Outcome::Refused(format!("a cell of it has more than {LONGEST} characters"))
                }
                false => outcome(&cells, &part, terms),
            },
            part,
        });
    }
    Ok(rows)
}

/// Counts the lines on which records begin, from one record to the next.
struct Lines<'t> {
    text: &'t str,
    byte: usize,
    line: u64,
}

impl<'t> Lines<'t> {
    fn of(text: &'t str) -> Self {
        Self {
            text,
            byte: 0,
            line: 1,
        }
    }

    /// The line of a record no earlier than the last one. The reader gives the place where the
    /// record before ended: in a file whose lines end in CR and LF that is between the two, and
    /// empty lines may follow.
    fn at(&mut self, place: &csv::Position) -> u64 {
        let byte = usize::try_from(place.byte()).unwrap_or(usize::MAX);
        let rest = self.text.get(byte..).unwrap_or_default();
        let start = self.text.len() - rest.trim_start_matches(['\r', '\n']).len();
        let passed = self.text.as_bytes().get(self.byte..start);
        let ends = passed.unwrap_or_default().iter();
        self.line += ends.filter(|byte| **byte == b'\n').count() as u64;
        self.byte = self.byte.max(start);
        self.line
    }
}

fn at(name: &str, line: u64, message: String) -> FileError {
    FileError {
        place: Some((usize::try_from(line).unwrap_or(usize::MAX), 1)),
        ..FileError::new(name, message)
    }
}

/// What stands between the columns: whichever of semicolon, tab and comma the heading has most
/// of outside quotes.
fn delimiter(text: &str) -> u8 {
    let heading = text.lines().find(|line| !line.trim().is_empty());
    let mut counts = [(b';', 0), (b'\t', 0), (b',', 0)];
    let mut quoted = false;
    for byte in heading.unwrap_or_default().bytes() {
        quoted ^= byte == b'"';
        if let Some((_, count)) = counts.iter_mut().find(|(one, _)| *one == byte && !quoted) {
            *count += 1;
        }
    }
    // Of equals the last wins: the comma.
    counts
        .iter()
        .max_by_key(|(_, count)| *count)
        .map_or(b',', |(byte, _)| *byte)
}

/// The place of each known column.
fn columns(
    heading: &StringRecord,
    name: &str,
) -> Result<[Option<usize>; COLUMNS.len()], FileError> {
    let mut places = [None; COLUMNS.len()];
    for (place, title) in heading.iter().enumerate() {
        let title = title.to_lowercase().replace([' ', '-'], "_");
        if let Some(known) = COLUMNS.iter().position(|column| *column == title) {
            if places[known].replace(place).is_some() {
                let message = format!("the column {title:?} is there twice; keep one");
                return Err(at(name, 1, message));
            }
        } else if !title.is_empty() {
            let hint = nearest::hint(&title, COLUMNS);
            let message = format!(
                "there is no column {title:?}{hint}; known are {}",
                COLUMNS.join(", ")
            );
            return Err(at(name, 1, message));
        }
    }
    let has = |column: &str| {
        let known = COLUMNS.iter().position(|one| *one == column);
        known.is_some_and(|known| places[known].is_some())
    };
    if !has("part") || !(has("price") || has("total")) {
        let message = "the first line must name the columns, at least part and price, such as: part,price,currency,supplier,date";
        return Err(at(name, 1, message.to_owned()));
    }
    Ok(places)
}

/// The cells of a row, by the names of their columns; empty ones are none.
struct Cells<'r> {
    record: &'r StringRecord,
    columns: &'r [Option<usize>; COLUMNS.len()],
}

impl<'r> Cells<'r> {
    fn get(&self, column: &str) -> Option<&'r str> {
        let known = COLUMNS.iter().position(|one| *one == column)?;
        let text = self.record.get(self.columns[known]?)?;
        (!text.is_empty()).then_some(text)
    }

    fn decimal(&self, column: &str) -> Result<Option<Decimal>, String> {
        let Some(text) = self.get(column) else {
            return Ok(None);
        };
        let value = decimal(text).map_err(|error| format!("{column}: {error}"))?;
        Ok(Some(value))
    }

    fn day(&self, column: &str) -> Result<Option<Date>, String> {
        let Some(text) = self.get(column) else {
            return Ok(None);
        };
        let day = figures::day(text);
        day.map(Some).ok_or_else(|| {
            format!("{column}: {text:?} is not a day; write it as 2026-11-30 or 30.11.2026")
        })
    }
}

fn outcome(cells: &Cells, part: &str, terms: &Terms) -> Outcome {
    if part.is_empty() {
        return Outcome::Refused("it names no part".to_owned());
    }
    let id = match part_of(part, terms.catalogue) {
        Ok(id) => id,
        Err(hint) => return Outcome::Unmatched(hint),
    };
    match quote(cells, terms) {
        Ok(quote) => Outcome::Matched(id, quote),
        Err(why) => Outcome::Refused(why),
    }
}

/// The part of a name: its id, its title or its short name, whatever the case.
fn part_of(name: &str, catalogue: &Catalogue) -> Result<Id, String> {
    if let Some((kind, part)) = catalogue.part(name)
        && kind.is_bought()
    {
        return Ok(*part.id());
    }
    let parts = || {
        let kinds = PartKind::ALL.iter().filter(|kind| kind.is_bought());
        kinds.flat_map(|kind| catalogue.of_kind(*kind))
    };
    let same = |text: &str| text.to_lowercase() == name.to_lowercase();
    let named =
        |part: &&dyn Part| same(part.id().as_str()) || same(part.title()) || same(part.short());
    let mut found = parts().filter(named);
    match (found.next(), found.next()) {
        (Some(part), None) => Ok(*part.id()),
        (Some(_), Some(_)) => Err(format!("several parts are called {name:?}; give the id")),
        (None, _) => {
            let hint = nearest::hint(name, parts().map(|part| part.id().as_str()));
            Err(format!("there is no part {name:?}{hint}"))
        }
    }
}

fn quote(cells: &Cells, terms: &Terms) -> Result<Quote, String> {
    let quantity = cells.decimal("quantity")?;
    if quantity.is_some_and(|quantity| quantity <= Decimal::ZERO) {
        return Err("quantity: it must be above nothing".to_owned());
    }
    let money = |error: MoneyError| error.to_string();
    let currency = match cells.get("currency") {
        Some(code) => code.to_uppercase().parse().map_err(money)?,
        None => terms.currency,
    };
    if terms.catalogue.rate(currency, terms.currency).is_none() {
        return Err(format!(
            "currency: no price book has a rate from {currency} to {}",
            terms.currency
        ));
    }
    let share = |total: Decimal, what: &str| {
        let quantity = quantity.ok_or_else(|| format!("{what} needs a quantity beside it"))?;
        let share = total.checked_div(quantity);
        share.ok_or_else(|| format!("{what}: too large to reckon with"))
    };
    let mut price = match (cells.decimal("price")?, cells.decimal("total")?) {
        (Some(price), _) => price,
        (None, Some(total)) => share(total, "total")?,
        (None, None) => return Err("it names no price".to_owned()),
    };
    let mut includes = None;
    let supplier = match cells.get("supplier") {
        Some(name) => Some(supplier(name, terms.catalogue)?),
        None => None,
    };
    if let Some(shipping) = cells.decimal("shipping")? {
        price = price
            .checked_add(share(shipping, "shipping")?)
            .ok_or("shipping: too large to reckon with")?;
        let known = supplier
            .as_ref()
            .and_then(|id| terms.catalogue.suppliers.get(id));
        let taxed = known.is_some_and(|known| known.holds(terms.destination).has(OnTop::Tax));
        let mut held = vec![OnTop::Freight];
        if taxed {
            held.push(OnTop::Tax);
        }
        includes = Some(held);
    }
    if price > crate::money::MOST {
        return Err(format!("price: {price} is more than a machine can cost"));
    }
    let mut price = price.round_dp(6).normalize();
    if price.scale() < currency.decimals() {
        price.rescale(currency.decimals());
    }
    Ok(Quote {
        price: Money::new(price, currency),
        date: cells.day("date")?.unwrap_or(terms.today),
        valid_until: cells.day("valid_until")?,
        supplier,
        includes,
        used: used(cells.get("used"))?,
    })
}

fn used(text: Option<&str>) -> Result<bool, String> {
    match text.map(str::to_lowercase).as_deref() {
        None | Some("no" | "false" | "0" | "new") => Ok(false),
        Some("yes" | "true" | "1" | "used") => Ok(true),
        Some(other) => Err(format!("used: {other:?} is neither yes nor no")),
    }
}

fn supplier(name: &str, catalogue: &Catalogue) -> Result<Id, String> {
    let same = |text: &str| text.to_lowercase() == name.to_lowercase();
    let mut all = catalogue.suppliers.values();
    let found = all.find(|one| same(one.id.as_str()) || same(one.title()) || same(one.short()));
    found.map(|one| one.id).ok_or_else(|| {
        let hint = nearest::hint(name, catalogue.suppliers.keys().map(Id::as_str));
        format!("there is no supplier {name:?}{hint}; add a [[supplier]] of that id to your configuration folder, or leave the cell empty")
    })
}

#[cfg(test)]
mod tests;
