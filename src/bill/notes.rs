//! How quantities, prices and sums of the bill came about: the sums here; each line, the price
//! of one, and what comes on top in files of their own. All of it is exact: money and quantities
//! stay decimals.

use rust_decimal::Decimal;

use super::{Bill, Line, key};
use crate::build::Picked;
use crate::build::choices::section;
use crate::catalogue::Unit;
use crate::catalogue::prices::Basis;
use crate::explain::{Derivation, Input, Origin, Recorder, Worth};
use crate::money::{Money, PriceRange};
use crate::words::Words as _;

mod each_line;
mod on_top;
mod price;

pub(super) use each_line::note_lines;

const SUM: &str = "plain sum";
const LIMITS: &str = "What nobody foresaw is not in it; a line without a price counts as nothing.";

/// The three amounts of a range, by their names in paths.
const AMOUNTS: [Amount; 3] = [
    Amount {
        name: "low",
        title: "Low",
        of: |range| range.low,
    },
    LIKELY,
    Amount {
        name: "high",
        title: "High",
        of: |range| range.high,
    },
];

const LIKELY: Amount = Amount {
    name: "likely",
    title: "Likely",
    of: |range| range.likely,
};

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

/// The machines built together, as an input.
pub(super) fn machines(machines: u32) -> Input {
    Input::new(
        "N",
        "machines built together",
        Worth::Exact(Decimal::from(machines), ""),
        Origin::choice("machines"),
    )
}

/// Notes the sums of the bill.
pub(super) fn note(picked: &Picked, bill: &Bill, notes: &mut impl Recorder) {
    if !notes.listens() {
        return;
    }
    on_top::note(picked, bill, notes);
    for amount in AMOUNTS {
        notes.note(|| whole(bill, amount));
    }
    for (step, sum) in &bill.steps {
        notes.note(|| {
            Derivation::of(
                format!("cost.by_step.{}", section(*step)),
                format!("Likely cost of the step {}", step.title()),
                Money::new(sum.likely, bill.currency),
            )
            .by("The sum of this step's lines of the bill.", "C = Σ T_i")
            .with_each(lines(bill, |line| line.step == *step, LIKELY))
            .from(SUM, LIMITS)
        });
    }
    notes.note(|| invented_share(bill));
}

/// One of the three amounts of the cost.
fn whole(bill: &Bill, amount: Amount) -> Derivation {
    let Amount { name, title, of } = amount;
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
            Input::new("T_i", line.title, total, Origin::figure(path))
        })
}

fn invented_share(bill: &Bill) -> Derivation {
    let money = |amount| Money::new(amount, bill.currency);
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
        money(bill.likely_of(Basis::Invented)),
        Origin::Here,
    )
    .with(
        "G",
        "likely price of the goods",
        money(bill.goods.likely),
        Origin::figure("cost.goods"),
    )
    .from(
        "plain ratio, to four digits; nothing where nothing costs",
        "",
    )
}
