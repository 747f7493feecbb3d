//! How quantity, prices and total of each line of the bill came about.

use rust_decimal::Decimal;

use super::{AMOUNTS, Amount, SUM, machines, on_top, price, unit};
use crate::bill::list::Told;
use crate::bill::{Line, Lines, key};
use crate::build::Picked;
use crate::build::purchases::Status;
use crate::catalogue::Unit;
use crate::catalogue::prices::{Basis, Offer};
use crate::explain::{Derivation, Input, Origin, Recorder, Worth};
use crate::money::Money;

/// Notes quantity, price and total of each line.
pub(in crate::bill) fn note_lines(
    picked: &Picked,
    lines: &Lines,
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
                notes.note(|| price::of_one(picked, &path, line, price, amount));
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
    let of_line = |told: &&Told| told.part == line.part && told.step == line.step;
    let asked: Vec<&Told> = told.iter().filter(of_line).collect();
    let (book, offer) = picked.catalogue.offer_of(&line.part).unzip();
    let sold_in = offer.and_then(|offer| offer.pack);
    let own = asked.iter().map(|told| told.pack).max().unwrap_or_default();
    let pack = sold_in.unwrap_or(own);
    let symbol = unit(line.unit);
    let (words, formula) = rounding(line, &asked, offer, pack);
    let mut note = Derivation::of(path, title, Worth::Exact(line.buy, symbol))
        .by(words, formula)
        .with_each(asked.iter().flat_map(|told| told.inputs.iter().cloned()))
        .with_each([machines(picked.build.area.machines)])
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
        let from = match sold_in.and(book) {
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

/// How what is asked for becomes what is bought: in words, and as a formula.
fn rounding(
    line: &Line,
    asked: &[&Told],
    offer: Option<&Offer>,
    pack: Decimal,
) -> (String, &'static str) {
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
    let rule = if asked.iter().flat_map(|told| &told.inputs).any(of_rule) {
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
    let shared = match asked.iter().any(|told| told.shared) {
        true => " What a workshop needs once counts once.",
        false => "",
    };
    let words = format!("All that asks for it, less what is in hand, {words}.{rule}{more}{shared}");
    (words, formula)
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

/// How the total of a line follows from what is bought, its price, and what was paid.
fn line_total(path: &str, line: &Line, Amount { name, title, of }: Amount) -> Derivation {
    let currency = line.total.currency;
    let note = Derivation::of(
        format!("{path}.total.{name}"),
        format!("{title} price of all {}", line.title),
        Money::new(of(&line.total), currency),
    );
    let bought = match line.have.is_zero() {
        true => "quantity",
        false => "buy",
    };
    let quantity = Input::new(
        "Q",
        "what is bought",
        Worth::Exact(line.buy, unit(line.unit)),
        Origin::figure(format!("{path}.{bought}")),
    );
    let price = line.price.as_ref().map(|price| of(&price.range));
    let price = Input::new(
        "p",
        "price of one",
        Money::new(price.unwrap_or_default(), currency),
        Origin::figure(format!("{path}.unit_price.{name}")),
    );
    let from = match line.paid.is_zero() {
        true => Origin::Purchases,
        false => Origin::figure(format!("{path}.paid")),
    };
    let spent = Input::new("P", "paid", Money::new(line.paid, currency), from);
    let settled = line.price.as_ref().map(|price| price.basis) == Some(Basis::Paid);
    let paid = !line.paid.is_zero();
    let (words, formula, inputs) = match &line.price {
        Some(_) if settled => ("What was paid.", "T = P", vec![spent]),
        Some(_) if !paid => (
            "What is bought times unit price, rounded to the smallest coin.",
            "T = Q·p",
            vec![quantity, price],
        ),
        Some(_) if line.status == Status::Cancelled => (
            "What is bought times unit price, rounded to the smallest coin, and what was paid for the order that is off.",
            "T = Q·p + P",
            vec![quantity, price, spent],
        ),
        Some(_) => (
            "What is bought times unit price, rounded to the smallest coin; no less than was paid already.",
            "T = max(Q·p, P)",
            vec![quantity, price, spent],
        ),
        None if paid => ("What was paid.", "T = P", vec![spent]),
        None => (
            "Nobody named a price: it counts as nothing.",
            "T = 0·Q",
            vec![quantity],
        ),
    };
    note.by(words, formula).with_each(inputs).from(
        "plain product; halves of a coin go away from zero, as on invoices",
        "",
    )
}
