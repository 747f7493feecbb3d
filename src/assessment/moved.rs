//! What moved since a build was last saved: its record of then against the assessment of now.
//!
//! Unit prices can always be compared. Figures only tell something about parts, prices and
//! program while the build itself is the same: after a change by hand they are left out, and
//! that is said.

use indexmap::IndexMap;
use jiff::civil::Date;
use rust_decimal::Decimal;

use super::Assessment;
use super::json::n;
use crate::bill::Line;
use crate::build::Axis;
use crate::build::recorded::Recorded;
use crate::catalogue::prices::Basis;
use crate::catalogue::{Catalogue, Id};
use crate::money::{Currency, Money};
use crate::order::Order as _;
use crate::units;
use crate::words::Words as _;

mod tell;

/// Digits after the point to which unit prices are compared: a rate has no end.
const PLACES: u32 = 6;

/// What moved since a record.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// The day of the record.
    pub since: Date,
    /// The program's version then, where another one computes now.
    pub program: Option<String>,
    /// Whether parts or prices changed in any way, in this build or elsewhere.
    pub data_changed: bool,
    /// Whether the build itself was changed since, other than by saving.
    pub build_changed: bool,
    /// Price books with another day, or none: then and now.
    pub books: Vec<(Id, Option<Date>, Option<Date>)>,
    /// Unit prices, those first that move the bill most.
    pub prices: Vec<PriceMove>,
    /// Parts that no catalogue has any more, or that the same build no longer takes.
    pub gone: Vec<Id>,
    /// Parts that the same build takes now and did not take then.
    pub new: Vec<Id>,
    /// Figures.
    pub figures: Vec<FigureMove>,
    /// What the prices that moved do to the bill, in its currency.
    pub effect: Money,
}

/// A unit price that moved.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceMove {
    /// The part.
    pub part: Id,
    /// How people call it in short.
    pub title: String,
    /// The price then.
    pub was: Money,
    /// The price now; none where no price book has one any more.
    pub is: Option<Money>,
    /// By how many percent, to the tenth; none where it cannot be said.
    pub percent: Option<Decimal>,
    /// What it does to the bill.
    pub effect: Decimal,
}

/// A figure that moved.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FigureMove {
    /// Its path in the JSON.
    pub path: String,
    /// How people call it.
    pub title: String,
    /// Then.
    pub was: String,
    /// Now.
    pub is: String,
}

/// The record of an assessment; `build` is the mark of the build.
pub fn record(
    catalogue: &Catalogue,
    build: String,
    assessment: &Assessment,
    today: Date,
) -> Recorded {
    let bill = &assessment.bill;
    let open = || bill.lines.iter().filter(|line| !is_paid(line));
    let prices = open().filter_map(|line| Some((line.part, unit_price(line)?)));
    let books = open().filter_map(|line| catalogue.book_of(&line.part));
    let mut books: IndexMap<Id, Date> = books.map(|book| (book.id, book.date)).collect();
    books.sort_keys();
    let figures = figures(assessment).into_iter();
    Recorded {
        on: today,
        program: env!("CARGO_PKG_VERSION").to_owned(),
        catalogue: catalogue.mark.clone(),
        build,
        books,
        figures: figures.map(|one| (one.path, one.is)).collect(),
        prices: prices.collect(),
    }
}

/// What moved between a record and an assessment; `now` is the record of that.
pub fn moved(
    catalogue: &Catalogue,
    then: &Recorded,
    now: &Recorded,
    assessment: &Assessment,
) -> Moved {
    let bill = &assessment.bill;
    let line_of = |part: &Id| bill.lines.iter().find(|line| line.part == *part);
    let build_changed = then.build != now.build;
    let mut prices: Vec<PriceMove> = Vec::new();
    let mut gone = Vec::new();
    for (part, was) in &then.prices {
        match line_of(part) {
            Some(line) => prices.extend(price_move(catalogue, assessment, line, *was)),
            None if !build_changed || catalogue.part(part.as_str()).is_none() => {
                gone.push(*part);
            }
            None => {}
        }
    }
    prices.order_by_key(|one| std::cmp::Reverse((one.effect.abs(), one.percent.map(|p| p.abs()))));
    let sum = prices.iter().map(|one| one.effect);
    let sum = sum.fold(Decimal::ZERO, Decimal::saturating_add);
    let fresh = now
        .prices
        .keys()
        .filter(|part| !then.prices.contains_key(*part));
    let figures = figures(assessment).into_iter().filter_map(|mut one| {
        one.was = then.figures.get(&one.path)?.clone();
        (one.was != one.is).then_some(one)
    });
    Moved {
        since: then.on,
        program: (then.program != now.program).then(|| then.program.clone()),
        data_changed: then.catalogue != now.catalogue,
        build_changed,
        books: books(then, now),
        prices,
        gone,
        new: match build_changed || then.prices.is_empty() {
            true => Vec::new(),
            false => fresh.cloned().collect(),
        },
        figures: match build_changed {
            true => Vec::new(),
            false => figures.collect(),
        },
        effect: Money::new(sum, bill.currency).rounded(),
    }
}

impl Moved {
    /// Whether nothing moved that this build would notice.
    pub fn is_empty(&self) -> bool {
        self.prices.is_empty()
            && self.gone.is_empty()
            && self.new.is_empty()
            && self.figures.is_empty()
    }
}

/// Books that both records may know, where their days differ.
fn books(then: &Recorded, now: &Recorded) -> Vec<(Id, Option<Date>, Option<Date>)> {
    let fresh = now.books.keys().filter(|id| !then.books.contains_key(*id));
    let each = then.books.keys().chain(fresh).map(|id| {
        let day = |record: &Recorded| record.books.get(id).copied();
        (*id, day(then), day(now))
    });
    each.filter(|(_, was, is)| was != is).collect()
}

/// What was paid no longer moves.
fn is_paid(line: &Line) -> bool {
    let price = line.price.as_ref();
    price.is_some_and(|price| price.basis == Basis::Paid)
}

/// The likely price of one unit, as a record keeps it.
fn unit_price(line: &Line) -> Option<Money> {
    let range = line.price.as_ref()?.range;
    let mut amount = range.likely.round_dp(PLACES).normalize();
    if amount.scale() < range.currency.decimals() {
        amount.rescale(range.currency.decimals());
    }
    Some(Money::new(amount, range.currency))
}

fn price_move(
    catalogue: &Catalogue,
    assessment: &Assessment,
    line: &Line,
    was: Money,
) -> Option<PriceMove> {
    let is = unit_price(line);
    // Another site has other money: that is no move of the price.
    let currency = assessment.bill.currency;
    if is_paid(line) || is == Some(was) || was.currency != currency {
        return None;
    }
    let more = is.map_or(-was.amount, |is| is.amount - was.amount);
    let percent = is.and_then(|_| {
        let share = more.checked_div(was.amount)?;
        Some(
            share
                .checked_mul(Decimal::ONE_HUNDRED)?
                .round_dp(1)
                .normalize(),
        )
    });
    let lines = assessment.bill.lines.iter();
    let bought = lines
        .filter(|other| other.part == line.part)
        .map(|line| line.buy);
    let bought: Decimal = bought.fold(Decimal::ZERO, Decimal::saturating_add);
    let effect = more.checked_mul(bought).unwrap_or_default();
    let part = catalogue.part(line.part.as_str());
    Some(PriceMove {
        title: part
            .map_or(line.title.as_str(), |(_, part)| part.short())
            .to_owned(),
        part: line.part,
        was,
        is,
        percent,
        effect: Money::new(effect, currency).rounded().amount,
    })
}

/// The figures that are recorded, as they are now.
fn figures(assessment: &Assessment) -> Vec<FigureMove> {
    let (machine, bill) = (&assessment.machine, &assessment.bill);
    let mut found = Vec::new();
    let mut put = |path: String, title: String, is: String| {
        let was = String::new();
        found.push(FigureMove {
            path,
            title,
            was,
            is,
        });
    };
    let money = |amount: Decimal, currency: Currency| format!("{amount} {currency}");
    let number = |value: f64| n(value).as_f64().unwrap_or_default().to_string();
    put(
        "cost.likely".to_owned(),
        "likely cost".to_owned(),
        money(bill.total.likely, bill.currency),
    );
    put(
        "cost.expected".to_owned(),
        "cost to expect".to_owned(),
        money(bill.estimate.expected, bill.estimate.currency),
    );
    for (axis, figures) in machine.axes.iter() {
        let rapid = number(units::m_per_min::from(figures.rapid));
        put(
            format!("axes.{}.rapid_m_per_min", axis.id()),
            format!("rapids {}", axis.title()),
            format!("{rapid} m/min"),
        );
    }
    for axis in Axis::EACH {
        let stiffness = number(units::n_per_um::from(machine.stiffness.collet[axis]));
        put(
            format!("stiffness.collet_n_per_um.{}", axis.id()),
            format!("stiffness {}", axis.title()),
            format!("{stiffness} N/µm"),
        );
    }
    put(
        "machine.mass_kg".to_owned(),
        "mass".to_owned(),
        format!("{} kg", number(units::kg::from(machine.masses.total))),
    );
    if let Some(circuit) = machine.electrics.fullest() {
        put(
            format!("power.circuits.{}.current_a", circuit.which.id()),
            format!("current of the {}", circuit.which.title()),
            format!("{} A", number(units::a::from(circuit.full()))),
        );
    }
    found
}
