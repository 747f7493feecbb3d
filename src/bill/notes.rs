//! How quantities, prices and sums of the bill came about. All of it is exact: money and
//! quantities stay decimals.

use rust_decimal::Decimal;

use super::list::{Told, price_book};
use super::{Bill, Line, key};
use crate::build::Picked;
use crate::build::choices::section;
use crate::catalogue::prices::{Basis, Price, PriceBook};
use crate::catalogue::{Id, Unit};
use crate::explain::{Derivation, Input, Origin, Recorder, Worth};
use crate::money::{Currency, Money, PriceRange};
use crate::words::Words as _;

const SUM: &str = "plain sum";
const LIMITS: &str = "Transport, customs and what nobody foresaw are not in it; a line without a price counts as nothing.";

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
        notes.note(|| quantity(&path, line, told));
        for amount in AMOUNTS {
            if let Some(price) = &line.price {
                notes.note(|| unit_price(picked, &path, line, price, amount));
            }
            notes.note(|| line_total(&path, line, amount));
        }
    }
}

fn quantity(path: &str, line: &Line, told: &[Told]) -> Derivation {
    let asked = || {
        let of_line = |told: &&Told| told.part == line.part && told.step == line.step;
        told.iter().filter(of_line)
    };
    let pack = asked().next_back().map_or(Decimal::ZERO, |told| told.pack);
    let title = format!("Quantity of {}", line.title);
    let symbol = unit(line.unit);
    let (words, formula) = match line.unit {
        _ if pack > Decimal::ZERO => ("up to whole packs", "Q = P·⌈Σ n_i / P⌉"),
        Unit::Piece => ("up to whole pieces", "Q = ⌈Σ n_i⌉"),
        Unit::Metre => (
            "each of the lengths L_i, the sum up to the next hundredth",
            "Q = ⌈100·Σ n_i⌉ / 100",
        ),
        _ => ("up to the next hundredth", "Q = ⌈100·Σ n_i⌉ / 100"),
    };
    let of_rule = |input: &Input| matches!(input.origin, Origin::QuantityRule(_));
    let rule = if asked().flat_map(|told| &told.inputs).any(of_rule) {
        " A quantity rule asks for so many for each counted, so many besides, and spares: \
         n_i = (c_i·e_i + a_i)·(1 + s_i)."
    } else {
        ""
    };
    let note = Derivation::of(
        format!("{path}.quantity"),
        title,
        Worth::Exact(line.quantity, symbol),
    )
    .by(format!("All that asks for it, {words}.{rule}"), formula)
    .with_each(asked().flat_map(|told| told.inputs.iter().cloned()))
    .with(
        "Σ n_i",
        "asked for in all",
        Worth::Exact(line.needed, symbol),
        Origin::Here,
    );
    let note = match pack > Decimal::ZERO {
        true => note.with(
            "P",
            "pieces in a pack",
            Worth::Exact(pack, symbol),
            Origin::Part(line.part.to_string()),
        ),
        false => note,
    };
    note.from(
        "geometry of the machine and the quantity rules; lengths and masses taken to the thousandth",
        "Offcuts are not counted: shops cut lengths and plates to order.",
    )
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
    };
    let title = format!("{title} price of one {each} of {}", line.title);
    let note = Derivation::of(
        format!("{path}.unit_price.{name}"),
        title,
        Money::new(of(&price.range), currency),
    );
    let Some(book) = price_book(picked, &line.part) else {
        return note;
    };
    let from_book = || Origin::PriceBook(book.id.to_string());
    let entry = Money::new(entry(book, &line.part, of), book.currency);
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

/// One of the three amounts of a book's entry.
fn entry(book: &PriceBook, part: &Id, of: fn(&PriceRange) -> Decimal) -> Decimal {
    book.entry(part).map_or(Decimal::ZERO, |entry| {
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
    let quantity = Worth::Exact(line.quantity, unit(line.unit));
    let quantity = Input::new(
        "Q",
        "quantity",
        quantity,
        Origin::figure(format!("{path}.quantity")),
    );
    match &line.price {
        Some(price) => note
            .by(
                "Quantity times unit price, rounded to the smallest coin.",
                "T = Q·p",
            )
            .with_each([quantity])
            .with(
                "p",
                "price of one",
                Money::new(of(&price.range), currency),
                Origin::figure(format!("{path}.unit_price.{name}")),
            ),
        None => note
            .by("No price book has it: it counts as nothing.", "T = 0")
            .with_each([quantity]),
    }
    .from(
        "plain product; halves of a coin go away from zero, as on invoices",
        "",
    )
}

/// Notes the sums of the bill.
pub(super) fn note(bill: &Bill, notes: &mut impl Recorder) {
    for amount in AMOUNTS {
        let Amount { name, title, of } = amount;
        notes.note(|| {
            let note = Derivation::of(
                format!("cost.{name}"),
                format!("{title} cost of the whole machine"),
                Money::new(of(&bill.total), bill.currency),
            );
            match name {
                "likely" => note
                    .by("The sum of the five steps.", "C = Σ C_i")
                    .with_each(bill.steps.iter().map(|(step, sum)| {
                        let path = format!("cost.by_step.{}", section(*step));
                        let sum = Money::new(sum.likely, bill.currency);
                        Input::new("C_i", step.title(), sum, Origin::figure(path))
                    })),
                _ => note
                    .by("The sum of all lines of the bill.", "C = Σ T_i")
                    .with_each(lines(bill, |_| true, amount)),
            }
            .from(SUM, LIMITS)
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
        "Share of the likely cost that rests on invented prices",
        Worth::Exact(bill.invented_share(), ""),
    )
    .by(
        "The likely total of the lines whose price is invented, against the likely cost.",
        "s = I / C",
    )
    .with(
        "I",
        "lines with invented prices",
        money(bill.likely_of(Basis::Invented), bill.currency),
        Origin::Here,
    )
    .with(
        "C",
        "likely cost",
        money(bill.total.likely, bill.currency),
        Origin::figure("cost.likely"),
    )
    .from(
        "plain ratio, to four digits; nothing where nothing costs",
        "",
    )
}
