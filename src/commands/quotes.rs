//! `gantrywright quotes`: takes suppliers' offers into a build.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};
use serde_json::{Value as Json, json};

use super::{Failure, Overlays, input, output};
use crate::build::purchases::Status;
use crate::catalogue::{Id, Shelf};
use crate::store::quotes::{self, Outcome, Row, Terms};
use crate::store::{build_file, kept, visible};

const AFTER: &str = "\
The first line of the CSV file names its columns, as in:
  part,price,currency,supplier,valid_until
  rail-15,26.40,EUR,demo-guides,2026-12-18

part (its id or its title) and price (of one unit) must be there, or total and \
quantity in place of price. currency, quantity, supplier, date, valid_until, \
shipping and used may be there; used is yes or no. Comma, semicolon or tab \
between columns; decimal point or comma; days as 2026-11-30 or 30.11.2026.

Offers are added behind those that the build has: nothing is overwritten. \
Exit code 0 where every row was taken or is there already, 1 where some were \
not, 2 where nothing could be read.";

/// Takes suppliers' offers from a CSV file into a build.
#[derive(Args, Debug)]
#[command(after_help = AFTER)]
pub(super) struct Quotes {
    /// The build to add the offers to; it is saved.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// The offers, as CSV; - for standard input.
    #[arg(value_name = "QUOTES", value_hint = ValueHint::FilePath)]
    quotes: PathBuf,
    /// Only say what would be done.
    #[arg(long)]
    dry_run: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    /// Read prices without a currency in the money of this variant's site; the offers hold for
    /// all variants.
    #[arg(long, value_name = "NAME")]
    pub(super) variant: Option<String>,
    #[command(flatten)]
    pub(super) overlays: Overlays,
}

/// What became of a row, once the build was looked at.
struct Told {
    row: Row,
    known: bool,
}

/// What a build names.
fn named<'c, T>(shelf: &'c Shelf<T>, id: &Id, choice: &str) -> Result<&'c T, Failure> {
    let missing = || Failure::new(format!("{choice}: there is no {:?}", id.as_str()));
    shelf.get(id).ok_or_else(missing)
}

pub(super) fn run(args: &Quotes) -> Result<ExitCode, Failure> {
    if input::is_standard_input(&args.file) {
        let message = "the build is saved, so it must be a file; the offers may come from -";
        return Err(Failure::new(message));
    }
    // From before it is read until it is saved, so that nothing of somebody else's is lost.
    let lock = match args.dry_run {
        true => None,
        false => kept::held(&args.file)?,
    };
    let input::Opened {
        catalogue,
        mut loaded,
        bundle,
    } = input::open(&args.file, &args.overlays)?;
    let offers = input::read(&args.quotes)?;
    let mut asked = loaded.build.clone();
    input::take_variant(args.variant.as_deref(), &mut asked)?;
    let area = &asked.area;
    let site = named(&catalogue.sites, &area.site, "site")?;
    let destination = named(&catalogue.destinations, &area.destination, "destination")?;
    let today = input::today()?;
    let terms = Terms {
        catalogue: &catalogue,
        destination,
        currency: site.currency,
        today,
    };
    let rows = quotes::read(&offers, &input::name_of(&args.quotes), &terms)?;
    let mut told = Vec::new();
    for row in rows {
        let mut known = false;
        if let Outcome::Matched(id, quote) = &row.outcome {
            let purchase = loaded.build.purchases.parts.entry(*id).or_default();
            known = purchase.quotes.contains(quote);
            if !known {
                purchase.quotes.push(quote.clone());
                // Written out, it would stand over what the quote makes of it: quoted.
                if purchase.status == Some(Status::ToBuy) {
                    purchase.status = None;
                }
            }
        }
        told.push(Told { row, known });
    }
    let added = told.iter().any(|one| one.is_new());
    if added && !args.dry_run {
        let text = build_file::saved(Some(&loaded.text), &loaded.build, &catalogue, today);
        // A file has room for so many offers of a part: what is saved must open again.
        build_file::read(&text, &input::name_of(&args.file), &catalogue)?;
        let text = bundle.map_or(text.clone(), |bundle| bundle.with_build(&text));
        build_file::save(&args.file, &text)?;
    }
    drop(lock);
    let answer = match args.json {
        true => output::answer_json(&json(&told))?,
        false => output::answer(&report(&told, args.dry_run))?,
    };
    let all = told
        .iter()
        .all(|one| matches!(one.row.outcome, Outcome::Matched(..)));
    Ok(if all { answer } else { ExitCode::from(1) })
}

/// What may become of a row: the word of programs, and the heading that it stands under.
type Sort = (&'static str, &'static str);
const TAKEN: Sort = ("taken", "Taken");
const KNOWN: Sort = ("known", "There already");
const UNMATCHED: Sort = ("unmatched", "Unmatched: no part of that name");
const REFUSED: Sort = ("refused", "Refused");

impl Told {
    fn is_new(&self) -> bool {
        matches!(self.row.outcome, Outcome::Matched(..)) && !self.known
    }

    fn sort(&self) -> Sort {
        match (&self.row.outcome, self.known) {
            (Outcome::Matched(..), false) => TAKEN,
            (Outcome::Matched(..), true) => KNOWN,
            (Outcome::Unmatched(_), _) => UNMATCHED,
            (Outcome::Refused(_), _) => REFUSED,
        }
    }

    fn words(&self) -> String {
        match &self.row.outcome {
            Outcome::Matched(id, quote) => {
                let until = quote.valid_until.map(|day| format!(", valid until {day}"));
                let price = quote.price;
                let (amount, currency) = (price.amount, price.currency);
                format!(
                    "{id}: {amount} {currency} of {}{}",
                    quote.date,
                    until.unwrap_or_default()
                )
            }
            Outcome::Unmatched(why) => why.clone(),
            Outcome::Refused(why) => format!("{}: {why}", self.row.part),
        }
    }
}

fn report(told: &[Told], dry: bool) -> String {
    let mut out = String::new();
    for sort in [TAKEN, KNOWN, UNMATCHED, REFUSED] {
        let rows: Vec<&Told> = told.iter().filter(|one| one.sort() == sort).collect();
        if rows.is_empty() {
            continue;
        }
        let _ = writeln!(out, "{}: {}", sort.1, rows.len());
        for one in rows {
            let _ = writeln!(out, "  line {:<4} {}", one.row.line, visible(&one.words()));
        }
    }
    if told.is_empty() {
        out.push_str("No rows below the heading.\n");
    }
    if dry {
        out.push_str("Nothing was saved.\n");
    }
    out
}

fn json(told: &[Told]) -> Json {
    let each = told.iter().map(|one| {
        json!({
            "line": one.row.line,
            "part": one.row.part,
            "outcome": one.sort().0,
            "says": one.words(),
        })
    });
    Json::Array(each.collect())
}
