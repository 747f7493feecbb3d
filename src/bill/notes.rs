//! How quantities, prices and sums of the bill came about. All of it is exact: money and
//! quantities stay decimals.

use rust_decimal::Decimal;

use super::list::Told;
use super::{Bill, Line, key};
use crate::build::Picked;
use crate::build::choices::section;
use crate::build::purchases::{Purchase, Status};
use crate::catalogue::Unit;
use crate::catalogue::prices::{Basis, Price, PriceBook};
use crate::explain::{Derivation, Input, Origin, Recorder, Worth};
use crate::money::{Currency, Money, PriceRange};
use crate::words::Words as _;

mod on_top;

const SUM: &str = "plain sum";
const LIMITS: &str = "What nobody foresaw is not in it; a line without a price counts as nothing.";

/// The three amounts of a range, by their names in paths.
const AMOUNTS: [Amount; 3] = [
    Amount {
        name: "low",
        title: "Low",
        of: |range| range.low,
    },
    Amount {
        name: "likely",
        title: "Likely",
        of: |range| range.likely,
    },
    Amount {
        name: "high",
        title: "High",
        of: |range| range.high,
    },
];

/// One of the three amounts of a range.
#[derive(Clone, Copy)]
struct Amount {
    name: &'static str,
    title: &'static str,
    of: fn(&PriceRange) -> Decimal,
}

/// How the unit of a part is written behind its quantity.
pub(super) fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Piece => "pieces",
        _ => unit.id(),
    }
}

/// Notes quantity, price and total of each line.
pub(super) fn note_lines(
    picked: &Picked,
    lines: &[Line],
    told: &[Told],
    notes: &mut impl Recorder,
) {
    if !notes.listens() {
        return;
    }
    for (place, line) in lines.iter().enumerate() {
        let path = format!("bill.{}", key(lines, place));
        notes.note(|| quantity(picked, &path, line, told));
        if !line.have.is_zero() {
            notes.note(|| buy(picked, &path, line, told));
            notes.note(|| have(&path, line));
        }
        if !line.paid.is_zero() {
            notes.note(|| paid(picked, &path, line));
        }
        for amount in AMOUNTS {
            if let Some(price) = &line.price {
                notes.note(|| unit_price(picked, &path, line, price, amount));
            }
            notes.note(|| line_total(&path, line, amount));
        }
    }
}

/// What there will be of a part: what is bought, and what is in hand.
fn quantity(picked: &Picked, path: &str, line: &Line, told: &[Told]) -> Derivation {
    let title = format!("Quantity of {}", line.title);
    let symbol = unit(line.unit);
    if line.have.is_zero() {
        return bought(picked, format!("{path}.quantity"), title, line, told);
    }
    Derivation::of(
        format!("{path}.quantity"),
        title,
        Worth::Exact(line.quantity, symbol),
    )
    .by("What is in hand and what is bought.", "Q = H + B")
    .with(
        "H",
        "in hand",
        Worth::Exact(line.have, symbol),
        Origin::figure(format!("{path}.have")),
    )
    .with(
        "B",
        "bought",
        Worth::Exact(line.buy, symbol),
        Origin::figure(format!("{path}.buy")),
    )
    .from(SUM, "")
}

fn buy(picked: &Picked, path: &str, line: &Line, told: &[Told]) -> Derivation {
    let title = format!("What is bought of {}", line.title);
    bought(picked, format!("{path}.buy"), title, line, told)
}

fn have(path: &str, line: &Line) -> Derivation {
    let title = format!("What is in hand of {}", line.title);
    let amount = Worth::Exact(line.have, unit(line.unit));
    Derivation::of(format!("{path}.have"), title, amount)
        .by("As the build says, and no more than is needed.", "H = h")
        .with("h", "in hand of it", amount, Origin::Purchases)
        .from("the purchases in the build", "")
}

/// How what is bought follows from all that asks for it.
fn bought(picked: &Picked, path: String, title: String, line: &Line, told: &[Told]) -> Derivation {
    let asked = || {
        let of_line = |told: &&Told| told.part == line.part && told.step == line.step;
        told.iter().filter(of_line)
    };
    let offer = picked.catalogue.book_of(&line.part);
    let offer = offer.and_then(|book| book.offer(&line.part));
    let sold_in = offer.and_then(|offer| offer.pack);
    let own = asked().map(|told| told.pack).max().unwrap_or_default();
    let pack = sold_in.unwrap_or(own);
    let symbol = unit(line.unit);
    let (words, formula) = match line.unit {
        _ if pack > Decimal::ZERO => ("up to whole packs", "Q = P·⌈(Σ N·n_i - H) / P⌉"),
        Unit::Piece => ("up to whole pieces", "Q = ⌈Σ N·n_i - H⌉"),
        Unit::Metre => (
            "each of the lengths L_i, the sum up to the next hundredth",
            "Q = ⌈100·(Σ N·n_i - H)⌉ / 100",
        ),
        _ => ("up to the next hundredth", "Q = ⌈100·(Σ N·n_i - H)⌉ / 100"),
    };
    let of_rule = |input: &Input| matches!(input.origin, Origin::QuantityRule(_));
    let rule = if asked().flat_map(|told| &told.inputs).any(of_rule) {
        " A quantity rule asks for so many for each counted, so many besides, and spares: \
         n_i = (c_i·e_i + a_i)·(1 + s_i)."
    } else {
        ""
    };
    let more = match offer {
        Some(offer) if offer.minimum.is_some() || !offer.breaks.is_empty() => {
            " At least what the seller sells, and more where a lower price for more makes all of \
             it cheaper."
        }
        _ => "",
    };
    let shared = match asked().any(|told| told.shared) {
        true => " What a workshop needs once counts once.",
        false => "",
    };
    let mut note = Derivation::of(path, title, Worth::Exact(line.buy, symbol))
        .by(
            format!("All that asks for it, less what is in hand, {words}.{rule}{more}{shared}"),
            formula,
        )
        .with_each(asked().flat_map(|told| told.inputs.iter().cloned()))
        .with(
            "N",
            "machines built together",
            Worth::Exact(Decimal::from(picked.build.area.machines), ""),
            Origin::choice("machines"),
        )
        .with(
            "Σ N·n_i",
            "asked for in all",
            Worth::Exact(line.needed, symbol),
            Origin::Here,
        )
        .with(
            "H",
            "in hand",
            Worth::Exact(line.have, symbol),
            Origin::Purchases,
        );
    if pack > Decimal::ZERO {
        let from = match sold_in.and(picked.catalogue.book_of(&line.part)) {
            Some(book) => Origin::PriceBook(book.id.to_string()),
            None => Origin::Part(line.part.to_string()),
        };
        note = note.with("P", "in a pack", Worth::Exact(pack, symbol), from);
    }
    note.from(
        "geometry of the machine and the quantity rules; lengths and masses taken to the thousandth",
        "Offcuts are not counted where shops cut to order.",
    )
}

/// What was paid for a line already.
fn paid(picked: &Picked, path: &str, line: &Line) -> Derivation {
    let currency = line.total.currency;
    let title = format!("Paid for {}", line.title);
    let payments = picked.build.purchases.of(&line.part);
    let payments = payments.map_or(&[][..], |one| &one.payments);
    Derivation::of(
        format!("{path}.paid"),
        title,
        Money::new(line.paid, currency),
    )
    .by(
        "Every payment at the rate of its day, each rounded to the smallest coin.",
        "P = Σ a_i·r_i",
    )
    .with_each(on_top::payments(picked, payments, &line.part, currency))
    .from("the purchases in the build", "")
}

fn unit_price(
    picked: &Picked,
    path: &str,
    line: &Line,
    price: &Price,
    Amount { name, title, of }: Amount,
) -> Derivation {
    let currency = price.range.currency;
    let each = match line.unit {
        Unit::Piece => "piece",
        Unit::Metre => "metre",
        Unit::Kilogram => "kilogram",
        Unit::Litre => "litre",
        Unit::KilowattHour => "kilowatt-hour",
    };
    let title = format!("{title} price of one {each} of {}", line.title);
    let note = Derivation::of(
        format!("{path}.unit_price.{name}"),
        title,
        Money::new(of(&price.range), currency),
    );
    let purchase = picked.build.purchases.of(&line.part);
    if let Some(quote) = purchase.and_then(Purchase::quote) {
        return on_top::quoted(picked, note, quote, price, of);
    }
    let Some(book) = picked.catalogue.book_of(&line.part) else {
        return note;
    };
    let from_book = || Origin::PriceBook(book.id.to_string());
    let entry = Money::new(entry(book, line, of), book.currency);
    let title = format!(
        "entry of the book, {}, of {}",
        book.basis.title(),
        book.date
    );
    let note = match book.rates.get(&currency) {
        Some(rate) if book.currency != currency => note
            .by(
                "The price in the last price book that has the part, in the currency of your \
                 site.",
                "p = p_b·r",
            )
            .with("p_b", title, entry, from_book())
            .with(
                "r",
                format!("rate of {currency} for one {}", book.currency),
                Worth::Exact(rate.0, ""),
                from_book(),
            ),
        _ => note
            .by(
                "The price in the last price book that has the part.",
                "p = p_b",
            )
            .with("p_b", title, entry, from_book()),
    };
    note.from(
        basis_said(price.basis),
        "Prices change; ask again before you order.",
    )
}

/// One of the three amounts of a book's entry, for as many as are bought.
fn entry(book: &PriceBook, line: &Line, of: fn(&PriceRange) -> Decimal) -> Decimal {
    book.offer(&line.part).map_or(Decimal::ZERO, |offer| {
        let entry = offer.at(line.buy);
        of(&PriceRange {
            low: entry.low,
            likely: entry.likely,
            high: entry.high,
            currency: book.currency,
        })
    })
}

/// What a price rests on, as the source of its derivation.
fn basis_said(basis: Basis) -> &'static str {
    basis.word().plain
}

fn line_total(path: &str, line: &Line, Amount { name, title, of }: Amount) -> Derivation {
    let currency = line.total.currency;
    let note = Derivation::of(
        format!("{path}.total.{name}"),
        format!("{title} price of all {}", line.title),
        Money::new(of(&line.total), currency),
    );
    let quantity = Worth::Exact(line.buy, unit(line.unit));
    let from = match line.have.is_zero() {
        true => "quantity",
        false => "buy",
    };
    let quantity = Input::new(
        "Q",
        "what is bought",
        quantity,
        Origin::figure(format!("{path}.{from}")),
    );
    let spent = || {
        let spent = Money::new(line.paid, currency);
        let from = match line.paid.is_zero() {
            true => Origin::Purchases,
            false => Origin::figure(format!("{path}.paid")),
        };
        Input::new("P", "paid", spent, from)
    };
    let price = || {
        let price = line.price.as_ref().map(|price| of(&price.range));
        let price = Money::new(price.unwrap_or_default(), currency);
        let from = Origin::figure(format!("{path}.unit_price.{name}"));
        Input::new("p", "price of one", price, from)
    };
    let settled = line.price.as_ref().map(|price| price.basis) == Some(Basis::Paid);
    match &line.price {
        Some(_) if settled => note.by("What was paid.", "T = P").with_each([spent()]),
        Some(_) if line.paid.is_zero() => note
            .by(
                "What is bought times unit price, rounded to the smallest coin.",
                "T = Q·p",
            )
            .with_each([quantity, price()]),
        Some(_) if line.status == Status::Cancelled => note
            .by(
                "What is bought times unit price, rounded to the smallest coin, and what was paid for the order that is off.",
                "T = Q·p + P",
            )
            .with_each([quantity, price(), spent()]),
        Some(_) => note
            .by(
                "What is bought times unit price, rounded to the smallest coin; no less than was paid already.",
                "T = max(Q·p, P)",
            )
            .with_each([quantity, price(), spent()]),
        None if !line.paid.is_zero() => note.by("What was paid.", "T = P").with_each([spent()]),
        None => note
            .by("Nobody named a price: it counts as nothing.", "T = 0·Q")
            .with_each([quantity]),
    }
    .from(
        "plain product; halves of a coin go away from zero, as on invoices",
        "",
    )
}

/// Notes the sums of the bill.
pub(super) fn note(picked: &Picked, bill: &Bill, notes: &mut impl Recorder) {
    if !notes.listens() {
        return;
    }
    on_top::note(picked, bill, notes);
    for amount in AMOUNTS {
        let Amount { name, title, of } = amount;
        notes.note(|| {
            let note = Derivation::of(
                format!("cost.{name}"),
                format!("{title} cost of the whole"),
                Money::new(of(&bill.total), bill.currency),
            );
            let note = match name {
                "likely" => note
                    .by(
                        "The five steps, and what comes on top of their prices.",
                        "C = Σ C_i + F + D + V",
                    )
                    .with_each(bill.steps.iter().map(|(step, sum)| {
                        let path = format!("cost.by_step.{}", section(*step));
                        let sum = Money::new(sum.likely, bill.currency);
                        Input::new("C_i", step.title(), sum, Origin::figure(path))
                    })),
                _ => note
                    .by(
                        "All lines of the bill, and what comes on top of their prices.",
                        "C = Σ T_i + F + D + V",
                    )
                    .with_each(lines(bill, |_| true, amount)),
            };
            note.with_each(on_top::sums(bill, amount)).from(SUM, LIMITS)
        });
    }
    for (step, sum) in &bill.steps {
        notes.note(|| {
            Derivation::of(
                format!("cost.by_step.{}", section(*step)),
                format!("Likely cost of the step {}", step.title()),
                Money::new(sum.likely, bill.currency),
            )
            .by("The sum of this step's lines of the bill.", "C = Σ T_i")
            .with_each(lines(bill, |line| line.step == *step, AMOUNTS[1]))
            .from(SUM, LIMITS)
        });
    }
    notes.note(|| invented_share(bill));
}

/// The totals of some lines.
fn lines<'b>(
    bill: &'b Bill,
    wanted: impl Fn(&Line) -> bool + 'b,
    Amount { name, of, .. }: Amount,
) -> impl Iterator<Item = Input> + 'b {
    let each = bill.lines.iter().enumerate();
    each.filter(move |(_, line)| wanted(line))
        .map(move |(place, line)| {
            let path = format!("bill.{}.total.{name}", key(&bill.lines, place));
            let total = Money::new(of(&line.total), bill.currency);
            Input::new("T_i", line.title.clone(), total, Origin::figure(path))
        })
}

fn invented_share(bill: &Bill) -> Derivation {
    let money = |amount: Decimal, currency: Currency| Money::new(amount, currency);
    Derivation::of(
        "cost.invented_share",
        "Share of the goods' price that rests on invented prices",
        Worth::Exact(bill.invented_share(), ""),
    )
    .by(
        "The likely total of the lines whose price is invented, against that of all lines.",
        "s = I / G",
    )
    .with(
        "I",
        "lines with invented prices",
        money(bill.likely_of(Basis::Invented), bill.currency),
        Origin::Here,
    )
    .with(
        "G",
        "likely price of the goods",
        money(bill.goods.likely, bill.currency),
        Origin::figure("cost.goods"),
    )
    .from(
        "plain ratio, to four digits; nothing where nothing costs",
        "",
    )
}
