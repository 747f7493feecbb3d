//! Whether the bill can be trusted: nothing forgotten, nothing without a price, no old or
//! invented price taken for an offer.

use rust_decimal::Decimal;

use super::decided::DRAWS;
use super::remedy::set;
use super::say;
use super::{Example, Fact, Facts, Report, Rule, Severity};
use crate::bill::Line;
use crate::build::choices::control::EmergencyStop;
use crate::catalogue::Step;
use crate::catalogue::prices::Basis;
use crate::order::Order as _;

/// Days after which a price is old (common practice).
const STALE_DAYS: i32 = 60;

/// A pack this many times the need is larger than needed.
const PACK_TIMES: Decimal = Decimal::TWO;

/// Share of the total from which left-overs of packs are worth a word: 1 % (common practice).
const LEFT_OVER_SHARE: Decimal = Decimal::from_parts(1, 0, 0, false, 2);

/// What no machine does without, by the names of the small parts.
const ALWAYS: [(&str, &str); 6] = [
    ("breaker", "breaker"),
    ("main-switch", "main switch"),
    ("fuse-cartridge", "fuses"),
    ("cable-gland", "cable glands"),
    ("ferrule-mixed", "ferrules"),
    ("earth-strap", "earth straps"),
];

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "bill-incomplete",
        title: "Small parts missing from the bill",
        severities: &[Severity::Fault],
        step: Step::Control,
        watches: "Fuses, glands, ferrules, earth straps, breaker, main switch and emergency stop on the bill.",
        because: "They are the parts that first-time builders forget, and the machine is neither safe nor allowed without them.",
        from: "IEC 60204-1 for switch, stop, fuses and earth; the rest common practice.",
        instead: "Choose an emergency stop, and set the quantity rules of the others above zero.",
        reads: &[Fact::Bill, Fact::Controller],
        decided_by: Some(DRAWS),
        check: incomplete,
        remedies: |facts, _| set(facts, "emergency_stop", "hard-wired"),
        example: Example {
            given: &[],
            choice: "emergency_stop",
            fires: "none",
            quiet: "software-input",
        },
    },
    Rule {
        id: "pack-larger-than-need",
        title: "Packs that hold far more than is used",
        severities: &[Severity::Hint],
        step: Step::Extras,
        watches: "What is left over of packs more than twice as large as the need, in money.",
        because: "It lies in the drawer, paid for.",
        from: "Pack > 2 · need; left-overs above 1 % of the likely total: common practice.",
        instead: "Ask for smaller packs, or share them with another builder.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: packs,
        remedies: super::no_remedy,
        example: Example {
            given: &[("travel_x_mm", "300"), ("travel_y_mm", "300")],
            choice: "rail_seat",
            fires: "epoxy-bed",
            quiet: "shims",
        },
    },
    Rule {
        id: "price-missing",
        title: "Part without a price",
        severities: &[Severity::Fault],
        step: Step::WorkingArea,
        watches: "Lines of the bill that are to be bought and that have no price. Prices decide it, not choices: the shipped book has one for every part.",
        because: "The line counts as nothing, and the total is too low by it.",
        from: "The price books.",
        instead: "Add the part's price to your price book.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: priceless,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "prices-invented",
        title: "Prices made up for the demonstration",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "The share of the likely total that rests on invented prices. Prices decide it, not choices: with the shipped book alone it is all of it.",
        because: "They show how the program works, not what a shop asks.",
        from: "Basis of each price.",
        instead: "Put real prices into a price book of your own before you order.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: invented,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
    Rule {
        id: "price-stale",
        title: "Prices are out of date",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Estimates and offers older than 60 days; invented prices have a rule of their own. Dates decide it, not choices.",
        because: "Offers lapse, and metal and freight change from month to month.",
        from: "60 days: common practice.",
        instead: "Ask again, and date the new price.",
        reads: &[Fact::Bill],
        decided_by: None,
        check: stale,
        remedies: super::no_remedy,
        example: Example::BY_DATA,
    },
];

fn on_bill(facts: &Facts, part: &str) -> bool {
    facts
        .bill
        .line(part)
        .is_some_and(|line| line.quantity > Decimal::ZERO)
}

fn incomplete(facts: &Facts, report: &mut Report) {
    let stop = facts.picked.build.control.emergency_stop;
    let mut missing: Vec<&str> = ALWAYS
        .iter()
        .filter(|(part, _)| !on_bill(facts, part))
        .map(|(_, name)| *name)
        .collect();
    if !on_bill(facts, "emergency-stop") {
        missing.push("emergency stop");
    }
    if stop == EmergencyStop::HardWired && !on_bill(facts, "contactor") {
        missing.push("contactor");
    }
    if !missing.is_empty() {
        report.say(
            Severity::Fault,
            format!("the bill has no {}", missing.join(", no ")),
        );
    }
}

/// Whether a part is sold in packs, or in no less than so many: by the price book, else by its
/// own data. What is sold one by one is rounded up to a whole one, and nobody can help that.
fn comes_in_packs(facts: &Facts, line: &Line) -> bool {
    let catalogue = facts.picked.catalogue;
    let offer = catalogue.offer_of(&line.part).map(|(_, offer)| offer);
    let own = catalogue.sundries.get(&line.part).map(|part| part.pack);
    let pack = offer.and_then(|offer| offer.pack).or(own);
    let least = offer.and_then(|offer| offer.minimum);
    pack.is_some_and(|pack| pack != Decimal::ONE) || least.is_some_and(|least| least > Decimal::ONE)
}

/// Money for what is left over of a line's packs, where they are far larger than the need.
fn left_over(facts: &Facts, line: &Line) -> Option<Decimal> {
    let large = line.quantity > line.needed * PACK_TIMES && comes_in_packs(facts, line);
    let price = line.price.as_ref().filter(|_| large)?;
    (line.quantity - line.needed).checked_mul(price.range.likely)
}

fn packs(facts: &Facts, report: &mut Report) {
    let over = |line| left_over(facts, line).map(|money| (money, line));
    let mut left: Vec<(Decimal, &Line)> = facts.bill.lines.iter().filter_map(over).collect();
    left.order_by_key(|(money, _)| std::cmp::Reverse(*money));
    let sum: Decimal = left.iter().map(|(money, _)| *money).sum();
    if sum > facts.bill.total.likely * LEFT_OVER_SHARE {
        let dearest: Vec<&str> = left
            .iter()
            .take(3)
            .map(|(_, line)| line.title.as_str())
            .collect();
        report.say(
            Severity::Hint,
            format!(
                "{} lie in packs more than twice the need, most in {}",
                say::money(sum, facts.bill.currency),
                say::list(&dearest)
            ),
        );
    }
}

fn priceless(facts: &Facts, report: &mut Report) {
    let without = facts.bill.lines.iter().filter(|line| line.lacks_price());
    let names: Vec<&str> = without.map(|line| line.title.as_str()).collect();
    if let Some(first) = names.first() {
        let rest = match names.len() {
            1 => String::new(),
            many => format!(" and {} more", many - 1),
        };
        report.say(
            Severity::Fault,
            format!("no price for {first}{rest}: the total is too low"),
        );
    }
}

fn invented(facts: &Facts, report: &mut Report) {
    if let Some(never) = facts.bill.never_order() {
        report.say(Severity::Hint, never);
    }
}

fn stale(facts: &Facts, report: &mut Report) {
    // What is ordered, paid or in hand is asked for no more.
    let old = |line: &&Line| {
        let price = line.price.as_ref().filter(|_| line.is_to_order());
        price.is_some_and(|price| {
            let told = matches!(price.basis, Basis::Estimate | Basis::Quote);
            told && age(facts, price.date) > STALE_DAYS
        })
    };
    let lines: Vec<&Line> = facts.bill.lines.iter().filter(old).collect();
    let oldest = lines
        .iter()
        .filter_map(|line| line.price.as_ref())
        .map(|price| price.date)
        .min();
    if let Some(oldest) = oldest {
        let total: Decimal = lines.iter().map(|line| line.total.likely).sum();
        report.say(
            Severity::Hint,
            format!(
                "prices of {} are more than {STALE_DAYS} days old, the oldest of {oldest}",
                say::money(total, facts.bill.currency)
            ),
        );
    }
}

/// Days since a price was true; a date in the future counts as fresh.
fn age(facts: &Facts, date: jiff::civil::Date) -> i32 {
    date.until(facts.today).map_or(0, |span| span.get_days())
}
