//! How freight, duty and tax came about, what was paid, and what the whole comes to in the end.

use rust_decimal::Decimal;

use super::{Amount, LIKELY, LIMITS, SUM};
use crate::bill::{Bill, Consignment, paying};
use crate::build::Picked;
use crate::build::purchases::Payment;
use crate::catalogue::Id;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::money::{Currency, Money, PriceRange};

mod consignment;

const CHECK: &str =
    "Customs and tax rules change: check them with your own customs and tax office.";

/// Each payment as an input.
pub(super) fn payments<'p>(
    picked: &'p Picked,
    payments: impl IntoIterator<Item = &'p Payment> + 'p,
    what: &'p Id,
    currency: Currency,
) -> impl Iterator<Item = Input> + 'p {
    payments.into_iter().map(move |payment| {
        let own = paying::in_currency(picked.catalogue, payment, what, currency);
        let own = own.unwrap_or_else(|_| Money::zero(currency));
        let by = payment.by.as_ref().map(|by| format!(", by {by}"));
        let rate = payment.rate.map(|rate| format!(" at {}", rate.normalize()));
        let title = format!(
            "a_i·r_i: {} {}{} on {}{}",
            payment.amount.amount,
            payment.amount.currency,
            rate.unwrap_or_default(),
            payment.date,
            by.unwrap_or_default()
        );
        Input::new("a_i", title, own, Origin::Purchases)
    })
}

/// Freight, duty and tax as inputs of a sum.
pub(super) fn sums(bill: &Bill, Amount { name, of, .. }: Amount) -> Vec<Input> {
    let each = [
        ("F", "freight", "cost.freight", &bill.freight),
        ("D", "duty", "cost.duty", &bill.duty),
        ("V", "tax on top", "cost.tax", &bill.tax),
    ];
    let inputs = each.map(|(symbol, title, path, range)| {
        // Only the likely sums are figures of their own.
        let from = match name {
            "likely" => Origin::figure(path),
            _ => Origin::Here,
        };
        Input::new(symbol, title, Money::new(of(range), bill.currency), from)
    });
    inputs.into()
}

/// A sum over consignments: its word in paths, its title, what is summed, what it comes to.
type Summed = (
    &'static str,
    &'static str,
    fn(&Consignment) -> PriceRange,
    Decimal,
);

/// An input in money that is a figure of its own.
fn figure(
    symbol: &'static str,
    title: impl Into<String>,
    amount: Decimal,
    currency: Currency,
    path: impl Into<String>,
) -> Input {
    Input::new(
        symbol,
        title,
        Money::new(amount, currency),
        Origin::figure(path.into()),
    )
}

/// The likely cost, as an input of what follows from it.
fn likely(bill: &Bill) -> Input {
    figure(
        "C",
        "likely cost",
        bill.total.likely,
        bill.currency,
        "cost.likely",
    )
}

/// What is spent so far, as an input of what follows from it.
fn so_far(bill: &Bill) -> Input {
    figure("S", "spent so far", bill.spent, bill.currency, "cost.spent")
}

/// Notes what comes on top, by consignment and in all, and what is paid.
pub(super) fn note(picked: &Picked, bill: &Bill, notes: &mut impl Recorder) {
    for one in &bill.consignments {
        consignment::note(picked, bill, one, notes);
    }
    let sums: [Summed; 3] = [
        (
            "freight",
            "Freight of all parcels",
            |one| one.freight,
            bill.freight.likely,
        ),
        (
            "duty",
            "Duty on all that comes from abroad",
            |one| one.duty,
            bill.duty.likely,
        ),
        (
            "tax",
            "Tax on top of the prices",
            |one| one.tax,
            bill.tax.likely,
        ),
    ];
    for sum in sums {
        notes.note(|| summed(bill, sum));
    }
    notes.note(|| goods(bill));
    notes.note(|| first_cut(bill));
    notes.note(|| spent(picked, bill));
    notes.note(|| to_spend(bill));
    notes.note(|| forecast(bill));
    if bill.machines > 1 {
        notes.note(|| per_machine(bill));
    }
}

fn summed(bill: &Bill, (word, title, of, sum): Summed) -> Derivation {
    let each = bill.consignments.iter().map(|one| {
        let path = format!("consignments.{}.{word}", one.supplier);
        figure("x_i", one.title, of(one).likely, bill.currency, path)
    });
    Derivation::of(
        format!("cost.{word}"),
        title,
        Money::new(sum, bill.currency),
    )
    .by("The sum over the suppliers.", "S = Σ x_i")
    .with_each(each)
    .from(SUM, CHECK)
}

fn goods(bill: &Bill) -> Derivation {
    let title = "Likely price of the goods";
    Derivation::of(
        "cost.goods",
        title,
        Money::new(bill.goods.likely, bill.currency),
    )
    .by("The sum of all lines of the bill.", "G = Σ T_i")
    .with_each(super::lines(bill, |_| true, LIKELY))
    .from(SUM, LIMITS)
}

fn first_cut(bill: &Bill) -> Derivation {
    let money = |amount| Money::new(amount, bill.currency);
    let needed = bill.lines.iter().filter(|line| line.first_cut);
    let goods: Decimal = needed.map(|line| line.total.likely).sum();
    Derivation::of(
        "cost.first_cut",
        "What the first cut needs",
        money(bill.first_cut),
    )
    .by(
        "The lines that the first cut needs, with the freight, duty and tax of their own parcels.",
        "C = Σ T_i + L",
    )
    .with_each(super::lines(bill, |line| line.first_cut, LIKELY))
    .with(
        "L",
        "freight, duty and tax of these",
        money(bill.first_cut - goods),
        Origin::Here,
    )
    .from(
        SUM,
        "What is merely nice to have at the first cut is left out; nobody will miss it that day.",
    )
}

fn spent(picked: &Picked, bill: &Bill) -> Derivation {
    let purchases = &picked.build.purchases;
    let parts = purchases.parts.iter().map(|(id, one)| (id, &one.payments));
    let ways = purchases.consignments.iter();
    let ways = ways.map(|(id, one)| (id, &one.payments));
    let each = parts.chain(ways).flat_map(|(id, all)| {
        payments(picked, all, id, bill.currency).map(move |mut input| {
            input.title = format!("{id}, {}", input.title);
            input
        })
    });
    Derivation::of(
        "cost.spent",
        "Spent so far",
        Money::new(bill.spent, bill.currency),
    )
    .by(
        "Every payment at the rate of its day, for what is used and for what is not.",
        "S = Σ a_i·r_i",
    )
    .with_each(each)
    .from("the purchases in the build", "")
}

fn to_spend(bill: &Bill) -> Derivation {
    let money = |amount| Money::new(amount, bill.currency);
    let lost = bill.lost();
    Derivation::of("cost.to_spend", "Still to spend", money(bill.to_spend))
        .by(
            "The likely cost, less what was paid for what is used.",
            "R = C - (S - U)",
        )
        .with_each([likely(bill), so_far(bill)])
        .with(
            "U",
            "of that for what is not used",
            money(lost),
            Origin::Purchases,
        )
        .from(SUM, LIMITS)
}

fn forecast(bill: &Bill) -> Derivation {
    let title = "What it comes to in the end";
    let rest = figure(
        "R",
        "still to spend",
        bill.to_spend,
        bill.currency,
        "cost.to_spend",
    );
    Derivation::of(
        "cost.forecast",
        title,
        Money::new(bill.forecast, bill.currency),
    )
    .by("What is spent and what is still to spend.", "E = S + R")
    .with_each([so_far(bill), rest])
    .from(SUM, LIMITS)
}

fn per_machine(bill: &Bill) -> Derivation {
    let title = "Likely cost of one machine";
    Derivation::of(
        "cost.per_machine",
        title,
        Money::new(bill.per_machine(), bill.currency),
    )
    .by(
        "The likely cost over the machines built together.",
        "c = C / N",
    )
    .with_each([likely(bill), super::machines(bill.machines)])
    .from("plain ratio, rounded to the smallest coin", "")
}
