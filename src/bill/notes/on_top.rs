//! How freight, duty and tax came about, what was paid, and what the whole comes to in the end.

use rust_decimal::Decimal;

use super::{Amount, LIMITS, SUM};
use crate::bill::{Bill, Consignment, line};
use crate::build::Picked;
use crate::build::purchases::{Payment, Quote};
use crate::catalogue::Id;
use crate::catalogue::prices::Price;
use crate::explain::{Derivation, Input, Origin, Recorder, Worth};
use crate::money::{Currency, Money, PriceRange};
use crate::units;
use crate::words::Words as _;

/// Rules of customs, in general.
const CUSTOMS: &str = "customs value and import tax as in Directive 2006/112/EC, articles 85 and 86, and the WTO's customs valuation; rates and fees as the destination's record says";
const CHECK: &str =
    "Customs and tax rules change: check them with your own customs and tax office.";

/// How a price by a quote came about.
pub(super) fn quoted(
    picked: &Picked,
    note: Derivation,
    quote: &Quote,
    price: &Price,
    of: fn(&PriceRange) -> Decimal,
) -> Derivation {
    let into = price.range.currency;
    let rate = picked.catalogue.rate(quote.price.currency, into);
    let own = rate.and_then(|rate| quote.price.amount.checked_mul(rate));
    let firm = own == Some(of(&price.range));
    let (words, formula) = match firm {
        true => (
            "What the supplier named, in the currency of your site.",
            "p = q·r",
        ),
        false => (
            "What the supplier named, in the currency of your site. The offer has run out: it is as uncertain again as the price book thought, in proportion f.",
            "p = q·r·f",
        ),
    };
    let title = format!("offer of {}", quote.date);
    let mut note = note
        .by(words, formula)
        .with("q", title, quote.price, Origin::Purchases)
        .with(
            "r",
            format!("rate of {into} for one {}", quote.price.currency),
            Worth::Exact(rate.unwrap_or_default(), ""),
            Origin::Constant("the price books' rates"),
        );
    if !firm && let Some(own) = own.filter(|own| !own.is_zero()) {
        let share = of(&price.range).checked_div(own).unwrap_or_default();
        let title = "against the likely price in the book";
        note = note.with(
            "f",
            title,
            Worth::Exact(share.round_dp(6), ""),
            Origin::Here,
        );
    }
    note.from(
        "a supplier's offer",
        "Offers run out; ask again before you order.",
    )
}

/// Each payment as an input.
pub(super) fn payments<'p>(
    picked: &'p Picked,
    payments: &'p [Payment],
    what: &'p Id,
    currency: Currency,
) -> impl Iterator<Item = Input> + 'p {
    payments.iter().map(move |payment| {
        let own = line::in_currency(picked.catalogue, payment, what, currency);
        let own = own.unwrap_or_else(|_| Money::zero(currency));
        let by = payment.by.as_ref().map(|by| format!(", by {by}"));
        let title = format!(
            "a_i·r_i: {} {} on {}{}",
            payment.amount.amount,
            payment.amount.currency,
            payment.date,
            by.unwrap_or_default()
        );
        Input::new("a_i", title, own, Origin::Purchases)
    })
}

/// Freight, duty and tax as inputs of a sum.
pub(super) fn sums(bill: &Bill, Amount { name, of, .. }: Amount) -> Vec<Input> {
    let each = [
        ("F", "freight", &bill.freight),
        ("D", "duty", &bill.duty),
        ("V", "tax on top", &bill.tax),
    ];
    let input = |(symbol, title, range): (&'static str, &str, &PriceRange)| {
        let from = match name {
            "likely" => Origin::figure(format!("cost.{}", title.split(' ').next().unwrap_or(""))),
            _ => Origin::Here,
        };
        Input::new(symbol, title, Money::new(of(range), bill.currency), from)
    };
    each.map(input).into()
}

/// A sum over consignments: its word in paths, its title, what is summed, what it comes to.
type Summed = (
    &'static str,
    &'static str,
    fn(&Consignment) -> PriceRange,
    Decimal,
);

/// Notes what comes on top, by consignment and in all, and what is paid.
pub(super) fn note(picked: &Picked, bill: &Bill, notes: &mut impl Recorder) {
    let money = |amount| Money::new(amount, bill.currency);
    for one in &bill.consignments {
        consignment(picked, bill, one, notes);
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
    for (word, title, of, sum) in sums {
        notes.note(|| {
            let each = bill.consignments.iter().map(|one| {
                let from = Origin::figure(format!("consignments.{}.{word}", one.supplier));
                Input::new("x_i", one.title.clone(), money(of(one).likely), from)
            });
            Derivation::of(format!("cost.{word}"), title, money(sum))
                .by("The sum over the suppliers.", "S = Σ x_i")
                .with_each(each)
                .from(SUM, CHECK)
        });
    }
    notes.note(|| {
        let title = "Likely price of the goods";
        Derivation::of("cost.goods", title, money(bill.goods.likely))
            .by("The sum of all lines of the bill.", "G = Σ T_i")
            .with_each(super::lines(bill, |_| true, super::AMOUNTS[1]))
            .from(SUM, LIMITS)
    });
    notes.note(|| {
        let own = |line: &crate::bill::Line| line.first_cut;
        let goods: Decimal = (bill.lines.iter().filter(|line| own(line)))
            .map(|line| line.total.likely)
            .sum();
        let title = "What the first cut needs";
        Derivation::of("cost.first_cut", title, money(bill.first_cut))
            .by(
                "The lines that the first cut needs, with the freight, duty and tax of their own parcels.",
                "C = Σ T_i + L",
            )
            .with_each(super::lines(bill, own, super::AMOUNTS[1]))
            .with("L", "freight, duty and tax of these", money(bill.first_cut - goods), Origin::Here)
            .from(SUM, "What is merely nice to have at the first cut is left out; nobody will miss it that day.")
    });
    spent(picked, bill, notes);
}

fn spent(picked: &Picked, bill: &Bill, notes: &mut impl Recorder) {
    let money = |amount| Money::new(amount, bill.currency);
    notes.note(|| {
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
        Derivation::of("cost.spent", "Spent so far", money(bill.spent))
            .by(
                "Every payment at the rate of its day, for what is used and for what is not.",
                "S = Σ a_i·r_i",
            )
            .with_each(each)
            .from("the purchases in the build", "")
    });
    let lost: Decimal = bill.unchosen.iter().map(|one| one.paid).sum();
    notes.note(|| {
        Derivation::of("cost.to_spend", "Still to spend", money(bill.to_spend))
            .by(
                "The likely cost, less what was paid for what is used.",
                "R = C - (S - U)",
            )
            .with(
                "C",
                "likely cost",
                money(bill.total.likely),
                Origin::figure("cost.likely"),
            )
            .with(
                "S",
                "spent so far",
                money(bill.spent),
                Origin::figure("cost.spent"),
            )
            .with(
                "U",
                "of that for what is not used",
                money(lost),
                Origin::Purchases,
            )
            .from(SUM, LIMITS)
    });
    notes.note(|| {
        let title = "What it comes to in the end";
        Derivation::of("cost.forecast", title, money(bill.forecast))
            .by("What is spent and what is still to spend.", "E = S + R")
            .with(
                "S",
                "spent so far",
                money(bill.spent),
                Origin::figure("cost.spent"),
            )
            .with(
                "R",
                "still to spend",
                money(bill.to_spend),
                Origin::figure("cost.to_spend"),
            )
            .from(SUM, LIMITS)
    });
    if bill.machines > 1 {
        notes.note(|| {
            let title = "Likely cost of one machine";
            Derivation::of("cost.per_machine", title, money(bill.per_machine()))
                .by(
                    "The likely cost over the machines built together.",
                    "c = C / N",
                )
                .with(
                    "C",
                    "likely cost",
                    money(bill.total.likely),
                    Origin::figure("cost.likely"),
                )
                .with(
                    "N",
                    "machines built together",
                    Worth::Exact(Decimal::from(bill.machines), ""),
                    Origin::choice("machines"),
                )
                .from("plain ratio, rounded to the smallest coin", "")
        });
    }
}

/// Notes one consignment.
fn consignment(picked: &Picked, bill: &Bill, one: &Consignment, notes: &mut impl Recorder) {
    let Some(supplier) = picked.catalogue.suppliers.get(&one.supplier) else {
        return;
    };
    let path = |word: &str| format!("consignments.{}.{word}", one.supplier);
    let money = |amount| Money::new(amount, bill.currency);
    let seller = || Origin::Part(one.supplier.to_string());
    let place = || Origin::Part(picked.destination.id.to_string());
    notes.note(|| {
        let title = format!("Likely price of the goods from {}", one.title);
        let each = one.lines.iter().map(|&place| {
            let line = &bill.lines[place];
            let from = format!("bill.{}.total.likely", crate::bill::key(&bill.lines, place));
            let total = money(line.total.likely);
            Input::new("T_i", line.title.clone(), total, Origin::figure(from))
        });
        Derivation::of(path("goods"), title, money(one.goods.likely))
            .by("The lines that are bought there.", "G = Σ T_i")
            .with_each(each)
            .from(SUM, "")
    });
    notes.note(|| {
        let title = format!("Parcels from {}", one.title);
        Derivation::of(path("parcels"), title, Worth::Exact(one.parcels.into(), ""))
            .by(
                "As many as the mass fills, pieces past the long limit l apart from the rest; one at least.",
                "n = ⌈m / M⌉, long and short apart",
            )
            .with("m", "mass of the goods, as far as it is known", units::kg::amount(one.mass), Origin::Here)
            .with("M", "the most in one parcel", units::kg::amount(supplier.parcel), seller())
            .with("l", "long from", units::mm::amount(supplier.long_from), seller())
            .from("common practice of carriers", "Small parts have no mass here; a carrier counts volume as well.")
    });
    let settled = |what: &str| {
        let purchases = &picked.build.purchases.consignments;
        let payments = purchases
            .get(&one.supplier)
            .map_or(&[][..], |all| &all.payments);
        let own = payments
            .iter()
            .any(|payment| payment.what.map_or("freight", |what| what.id()) == what);
        own.then(|| payments.to_vec())
    };
    notes.note(|| {
        let title = format!("Freight from {}", one.title);
        let note = Derivation::of(path("freight"), title, money(one.freight.likely));
        if let Some(all) = settled("freight") {
            return from_payments(picked, note, &all, "freight", one, bill.currency);
        }
        let rate = |from| picked.catalogue.rate(from, bill.currency).unwrap_or_default();
        let long = supplier.long_surcharge.map_or(Decimal::ZERO, |entry| entry.likely);
        note.by(
            "So much a parcel (nothing where the goods are worth enough), so much more for each long one, insurance, a fee for a small order, and the carrier's fee for clearing at the border.",
            "F = n·f·r + l·s·r + i·G + k + b",
        )
        .with("n", "parcels", Worth::Exact(one.parcels.into(), ""), Origin::figure(path("parcels")))
        .with("f", "freight of one", Money::new(supplier.freight.likely, supplier.currency), seller())
        .with("l", "long ones", Worth::Exact(one.long.into(), ""), Origin::Here)
        .with("s", "more for a long one", Money::new(long, supplier.currency), seller())
        .with("r", "rate into your money", Worth::Exact(rate(supplier.currency), ""), Origin::Constant("the price books' rates"))
        .with("i", "insurance", Worth::Exact(supplier.insurance_percent, "%"), seller())
        .with("G", "goods", money(one.goods.likely), Origin::figure(path("goods")))
        .with("k", "fee for a small order, where the goods are below the least order", Money::new(supplier.small_order_fee.unwrap_or_default(), supplier.currency), seller())
        .with("b", "carrier's fee for clearing", money(one.clearing.likely), place())
        .from("the supplier's record", "Carriers count volume as well as mass.")
    });
    notes.note(|| {
        let title = format!("Duty on goods from {}", one.title);
        let note = Derivation::of(path("duty"), title, money(one.duty.likely));
        if let Some(all) = settled("duty") {
            return from_payments(picked, note, &all, "duty", one, bill.currency);
        }
        let value = money(one.customs_value.likely);
        let each = one.duties.iter().map(|(kind, percent, duty)| {
            let title = format!("d_i of {} at {percent} %", kind.title());
            Input::new("d_i", title, money(*duty), place())
        });
        note.by(
            "By kind of goods, so many percent of its share of the customs value V; a small consignment pays a fixed sum for each kind. Nothing where the seller is in the same customs area, or the price holds it.",
            "D = Σ d_i",
        )
        .with("V", "customs value", value, Origin::Here)
        .with_each(each)
        .from(CUSTOMS, CHECK)
    });
    notes.note(|| {
        let title = format!("Tax on goods from {}", one.title);
        let note = Derivation::of(path("tax"), title, money(one.tax.likely));
        if let Some(all) = settled("tax") {
            return from_payments(picked, note, &all, "tax", one, bill.currency);
        }
        note.by(
            "So many percent of the goods whose price does not hold it, their freight and duty, and of the carrier's fee where that is taxed.",
            "V = t·(G + F + D)",
        )
        .with("t", "tax", Worth::Exact(one.tax_percent, "%"), match picked.build.area.tax {
            Some(_) => Origin::choice("tax_percent"),
            None => place(),
        })
        .with("G", "goods that are taxed on top", money(one.untaxed.likely), Origin::Here)
        .with("F", "freight, the carrier's fee included", money(one.freight.likely), Origin::figure(path("freight")))
        .with("D", "duty", money(one.duty.likely), Origin::figure(path("duty")))
        .from(CUSTOMS, CHECK)
    });
}

fn from_payments(
    picked: &Picked,
    note: Derivation,
    all: &[Payment],
    what: &str,
    one: &Consignment,
    currency: Currency,
) -> Derivation {
    let own: Vec<Payment> = all
        .iter()
        .filter(|payment| payment.what.map_or("freight", |what| what.id()) == what)
        .cloned()
        .collect();
    note.by(
        "What was paid, each payment rounded to the smallest coin; no less than that while a rest is to be paid.",
        "P = Σ a_i·r_i",
    )
    .with_each(payments(picked, &own, &one.supplier, currency).collect::<Vec<_>>())
    .from("the purchases in the build", "")
}
