//! What a part costs in the end: whether its price is all there is to pay, whether it still
//! holds, and whether something that was paid for lies unused.

use rust_decimal::Decimal;

use super::say;
use super::{Example, Fact, Facts, Report, Rule, Severity};
use crate::bill::{Consignment, Line};
use crate::catalogue::prices::OnTop;
use crate::catalogue::{Id, Step};
use crate::money::Money;
use crate::order::Order as _;
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
        instead: "Name the supplier of the book, so that what comes on top is counted; or say what the prices hold: includes = [\"freight\", \"duty\", \"tax\"].",
        reads: &[Fact::Bill],
        decided_by: None,
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
        decided_by: None,
        check: unchosen,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "offer-ran-out",
        title: "Offer ran out before the order",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Offers in the build whose last day is past, of parts that are still to be ordered. Dates decide it, not choices.",
        because: "The supplier is no longer bound to that price, so the total may not hold.",
        from: "Last valid day < today, and neither ordered nor in hand.",
        instead: "Ask again before you order, and add the new offer.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: ran_out,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "small-order",
        title: "Order below the supplier's least",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Goods of one supplier that are still to be ordered, against the least order in its record. The suppliers' records decide it, not choices alone.",
        because: "A small order costs a fee that may be more than its goods, or is not taken at all.",
        from: "Likely price of the goods < least order of the supplier.",
        instead: "Order more from the same supplier at once, or buy these parts where other parts come from.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: small_order,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "customs-unchecked",
        title: "Customs rates are over a year old",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Consignments from abroad whose duty and tax are still to be paid, against the day on which the destination's rates were written down. Dates decide it, not choices.",
        because: "Thresholds, duties and fees change from year to year, and what is due at the door changes with them.",
        from: "Day of the destination's record + 365 days < today: common practice.",
        instead: "Ask your customs and tax office, and put your own destination with today's rates in your configuration folder.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: customs,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
];

/// Days after which a destination's rates should be looked up again (common practice).
const CUSTOMS_DAYS: i32 = 365;

fn landed(facts: &Facts, report: &mut Report) {
    let mut sum = Decimal::ZERO;
    let mut lacking = Vec::new();
    for line in &facts.bill.lines {
        // What a known supplier's price leaves open is reckoned with.
        let price = line.price.as_ref().filter(|price| price.supplier.is_none());
        let Some(price) = price else { continue };
        let mut open = false;
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
    lacking.order();
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
    let named = bill.unchosen.iter().map(|unused| {
        let title = short(facts, &unused.what);
        format!("{title} ({})", say::money(unused.paid, bill.currency))
    });
    if let Some(named) = first_and_rest(named) {
        report.say(
            Severity::Caution,
            format!("paid for, and the build does not use it: {named}"),
        );
    }
}

/// How a part is called in a message.
pub(super) fn short<'a>(facts: &Facts<'a>, id: &'a Id) -> &'a str {
    let part = facts.picked.catalogue.part(id.as_str());
    part.map_or(id.as_str(), |(_, part)| part.short())
}

/// The first of several in a message, and how many more there are; none where there is none.
pub(super) fn first_and_rest(mut named: impl Iterator<Item = String>) -> Option<String> {
    let first = named.next()?;
    Some(match named.count() {
        0 => first,
        more => format!("{first} and {}", say::count(more as u32, "other part")),
    })
}

fn ran_out(facts: &Facts, report: &mut Report) {
    let lines = facts.bill.lines.iter().filter(|line| line.is_to_order());
    let over = lines.filter_map(|line| {
        let quote = facts.picked.build.purchases.of(&line.part)?.quote()?;
        let day = quote.valid_until.filter(|day| *day < facts.today)?;
        Some(format!("{} ({day})", short(facts, &line.part)))
    });
    if let Some(named) = first_and_rest(over) {
        report.say(
            Severity::Hint,
            format!("an offer ran out before it was ordered by: {named}"),
        );
    }
}

/// Whether nothing of a consignment is ordered yet.
fn is_open(facts: &Facts, one: &Consignment) -> bool {
    let mut lines = one
        .lines
        .iter()
        .filter_map(|&place| facts.bill.lines.get(place));
    lines.all(|line: &Line| !line.status.is_committed())
}

fn small_order(facts: &Facts, report: &mut Report) {
    let bill = facts.bill;
    let (catalogue, currency) = (facts.picked.catalogue, bill.currency);
    for one in bill.consignments.iter().filter(|one| is_open(facts, one)) {
        let Some(supplier) = catalogue.suppliers.get(&one.supplier) else {
            continue;
        };
        let turned = |amount| catalogue.converted(Money::new(amount, supplier.currency), currency);
        let Some(least) = supplier.minimum_order.and_then(turned) else {
            continue;
        };
        if one.goods.likely >= least {
            continue;
        }
        let costs = match supplier.small_order_fee.and_then(turned) {
            Some(fee) => format!("cost {} more", say::money(fee, currency)),
            None => "may not be taken".to_owned(),
        };
        report.say(
            Severity::Hint,
            format!(
                "{}: goods for {}, and orders below {} {costs}",
                short(facts, &one.supplier),
                say::money(one.goods.likely, currency),
                say::money(least, currency),
            ),
        );
    }
}

fn customs(facts: &Facts, report: &mut Report) {
    let destination = facts.picked.destination;
    let old = destination
        .as_of
        .saturating_add(jiff::Span::new().days(CUSTOMS_DAYS));
    if facts.today <= old {
        return;
    }
    let suppliers = &facts.picked.catalogue.suppliers;
    let unpaid = |one: &&Consignment| {
        let abroad = suppliers.get(&one.supplier).is_some_and(|one| one.abroad);
        let duty = !one.duty.likely.is_zero() && !one.paid_for(OnTop::Duty);
        let tax = !one.tax.likely.is_zero() && !one.paid_for(OnTop::Tax);
        abroad && (duty || tax)
    };
    let many = facts.bill.consignments.iter().filter(unpaid).count();
    if many > 0 {
        let parcels = say::count(many as u32, "consignment");
        report.say(
            Severity::Hint,
            format!(
                "duty and tax of {parcels} from abroad rest on rates of {}: ask before you order",
                destination.as_of
            ),
        );
    }
}
