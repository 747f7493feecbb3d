//! What a part costs in the end: whether its price is all there is to pay, and whether
//! something that was paid for lies unused.

use rust_decimal::Decimal;

use super::say;
use super::{Example, Fact, Facts, Report, Rule, Severity};
use crate::catalogue::Step;
use crate::words::Words;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "landed-incomplete",
        title: "Prices without freight, duty or tax",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "Lines of the bill whose price names no supplier and does not say that freight, duty and tax are in it. Prices decide it, not choices: the shipped books name suppliers.",
        because: "A cheap part from abroad may cost half as much again at the door, and the total is too low by it.",
        from: "The line \"includes\" of each price book; landed cost = price + freight + duty + tax (handbooks of purchasing).",
        instead: "Name the supplier of the book, so that what comes on top is reckoned with; or say what the prices hold: includes = [\"freight\", \"duty\", \"tax\"].",
        reads: &[Fact::Bill],
        check: landed,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "bought-but-unchosen",
        title: "Paid for and no longer used",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "Parts in the build's list of what was bought that no line of its bill needs. What was bought decides it, not choices alone.",
        because: "Its money is spent, and the part that took its place is paid for a second time.",
        from: "The purchases in the build, against the parts on its bill.",
        instead: "Choose the part again, sell it or send it back, and take it off the list of what was bought.",
        reads: &[Fact::Bill],
        check: unchosen,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
];

fn landed(facts: &Facts, report: &mut Report) {
    let mut sum = Decimal::ZERO;
    let mut lacking = Vec::new();
    for line in &facts.bill.lines {
        let Some(price) = &line.price else { continue };
        let mut open = false;
        // What a known supplier's price leaves open is reckoned with.
        if price.supplier.is_some() {
            continue;
        }
        for what in price.includes.lacking() {
            open = true;
            if !lacking.contains(&what) {
                lacking.push(what);
            }
        }
        if open {
            sum += line.total.likely;
        }
    }
    if sum.is_zero() {
        return;
    }
    lacking.sort();
    let names: Vec<&str> = lacking.into_iter().map(Words::title).collect();
    report.say(
        Severity::Caution,
        format!(
            "prices of {} leave open what comes on top: {}",
            say::money(sum, facts.bill.currency),
            say::list(&names)
        ),
    );
}

fn unchosen(facts: &Facts, report: &mut Report) {
    let bill = facts.bill;
    let mut parts = bill.unchosen.iter().map(|unused| {
        let title = facts.picked.catalogue.part(unused.what.as_str());
        let title = title.map_or(unused.what.as_str(), |(_, part)| part.short());
        format!("{title} ({})", say::money(unused.paid, bill.currency))
    });
    let Some(first) = parts.next() else { return };
    let rest = match parts.count() {
        0 => String::new(),
        more => format!(" and {}", say::count(more as u32, "other part")),
    };
    report.say(
        Severity::Caution,
        format!("paid for, and the build does not use it: {first}{rest}"),
    );
}
