//! Money: whether the budget holds, with its range and its reserve.

use rust_decimal::Decimal;

use super::remedy::{each_named, number, price_of};
use super::say;
use super::{Example, Fact, Facts, Remedies, Report, Rule, Severity};
use crate::bill::Line;
use crate::build::choices::working_area::Experience;
use crate::build::{Axis, Edit, Value, choices};
use crate::catalogue::Step;
use crate::catalogue::prices::Basis;
use crate::money::show;
use crate::order::Order as _;
use crate::units::{self, show::rounded};

/// Reserve for a first build, in percent (common practice).
const RESERVE_FIRST: u32 = 25;

/// Reserve of somebody who has built before, on estimates (common practice).
const RESERVE_ESTIMATED: u32 = 15;

/// Reserve where every price is quoted or paid (common practice).
const RESERVE_QUOTED: u32 = 10;

/// Longest message, in characters: it must fit two lines of a narrow screen.
const MESSAGE: usize = 140;

/// The rules of this topic.
pub(super) const RULES: &[Rule] = &[
    Rule {
        id: "over-budget",
        title: "Over budget",
        severities: &[Severity::Caution],
        step: Step::WorkingArea,
        watches: "The cost to expect of the whole, with what was paid for parts no longer used, against the budget.",
        because: "Half a machine cuts nothing: what is missing at the end is the spindle or the wiring.",
        from: "Expected total (low + 4 likely + high)/6 + paid for unused parts > budget; savings by the prices of the same kind of part.",
        instead: "Take a cheaper option of the dearest choices, build smaller, or raise the budget.",
        reads: &[Fact::Bill, Fact::Wishes],
        decided_by: None,
        check: over,
        remedies: cheaper,
        example: Example {
            given: &[],
            choice: "budget",
            fires: "6450 EUR",
            quiet: "6650 EUR",
        },
    },
    Rule {
        id: "range-straddles-budget",
        title: "Budget within the range of the cost",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Whether the budget holds the cost to expect, with what was paid for parts no longer used, and not the upper end of its range.",
        because: "More than one bill in ten, and up to half of them, come out above such a budget.",
        from: "Expected total ≤ budget < upper end of the 80 % range, prices moving together by 0.3, those of one supplier by 0.6 (common practice).",
        instead: "Ask for offers of the dearest parts, or keep more in hand.",
        reads: &[Fact::Bill, Fact::Wishes],
        decided_by: None,
        check: straddles,
        remedies: super::no_remedy,
        example: Example {
            given: &[],
            choice: "budget",
            fires: "6700 EUR",
            quiet: "7250 EUR",
        },
    },
    Rule {
        id: "budget-without-reserve",
        title: "Budget does not hold the reserve",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "Cost to expect and reserve together against the budget.",
        because: "A reserve that is not there when it is needed is none.",
        from: "Spent = expected total + paid for unused parts; spent ≤ budget < spent + reserve · expected total.",
        instead: "Build a little smaller, or set money for the reserve aside.",
        reads: &[Fact::Bill, Fact::Wishes],
        decided_by: None,
        check: no_room_for_reserve,
        remedies: super::no_remedy,
        example: Example {
            given: &[],
            choice: "budget",
            fires: "7200 EUR",
            quiet: "8400 EUR",
        },
    },
    Rule {
        id: "budget-in-other-money",
        title: "Budget in money without a rate",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "A budget in a currency for which no price book has a rate; a budget in the site's own money never is.",
        because: "It cannot be compared with the cost, so nothing warns before the money is gone.",
        from: "Rates of the price books.",
        instead: "State the budget in the currency of the site.",
        reads: &[Fact::Bill, Fact::Wishes],
        decided_by: Some(&[]),
        check: no_rate,
        remedies: super::no_remedy,
        example: Example {
            given: &[],
            choice: "budget",
            fires: "9000 CHF",
            quiet: "9000 USD",
        },
    },
    Rule {
        id: "reserve-too-small",
        title: "Reserve too small",
        severities: &[Severity::Hint],
        step: Step::WorkingArea,
        watches: "The reserve against experience and what the prices rest on.",
        because: "Small parts, freight and broken tools are always more than planned.",
        from: "25 % for a first build, 15 % on estimates, 10 % where every price is quoted: common practice.",
        instead: "Keep more money back.",
        reads: &[Fact::Bill, Fact::Wishes],
        decided_by: None,
        check: reserve,
        remedies: |facts, _| {
            number(
                facts,
                "reserve_percent",
                f64::from(reserve_wanted(facts)),
                true,
            )
        },
        example: Example {
            given: &[],
            choice: "reserve_percent",
            fires: "24",
            quiet: "25",
        },
    },
];

/// The budget in the currency of the bill; none where there is no budget, or no rate.
fn budget(facts: &Facts) -> Option<Decimal> {
    let budget = facts.picked.build.area.budget?;
    facts
        .picked
        .catalogue
        .converted(budget, facts.bill.currency)
}

/// Whether a line is of a chosen part; small parts and work come by themselves.
fn is_chosen(facts: &Facts, line: &Line) -> bool {
    !facts.picked.catalogue.sundries.contains_key(&line.part)
}

/// The dearest of the lines that count, the dearest first.
fn dearest<'a>(facts: &Facts<'a>, counts: impl Fn(&Line) -> bool) -> Vec<&'a Line> {
    let lines = facts.bill.lines.iter();
    let mut lines: Vec<&Line> = lines.filter(|line| counts(line)).collect();
    lines.order_by_key(|line| std::cmp::Reverse(line.total.likely));
    lines.truncate(3);
    lines
}

fn over(facts: &Facts, report: &mut Report) {
    let Some(budget) = budget(facts) else { return };
    let (expected, currency) = (facts.bill.expected_in_all(), facts.bill.currency);
    if expected <= budget {
        return;
    }
    let mut sums = format!(
        "expect {} for a budget of {}",
        say::money(expected, currency),
        say::money(budget, currency)
    );
    let lost = facts.bill.lost();
    if !lost.is_zero() {
        sums.push_str(&format!(
            ", {} of it spent on unused parts",
            show::whole(lost)
        ));
    }
    report.say(Severity::Caution, with_dearest(facts, sums));
}

/// A message with the three dearest lines of the bill behind it, and what the next cheaper option
/// of each saves where there is one, or as many of them as fit.
fn with_dearest(facts: &Facts, sums: String) -> String {
    let name = |line: &&Line| -> (String, bool) {
        let part = facts.picked.catalogue.part(line.part.as_str());
        let short = part.map_or(line.title.as_str(), |(_, part)| part.short());
        let cost = show::whole(line.total.likely);
        match next_cheaper_saves(facts, line) {
            Some(saving) => (format!("{short} {cost} (-{})", show::whole(saving)), true),
            None => (format!("{short} {cost}"), false),
        }
    };
    let lines = dearest(facts, |_| true);
    let (names, saves): (Vec<String>, Vec<bool>) = lines.iter().map(name).unzip();
    let message = |many: usize| {
        let behind = match saves[..many].contains(&true) {
            true => ", and what the next cheaper saves",
            false => "",
        };
        format!("{sums}; dearest{behind}: {}", say::list(&names[..many]))
    };
    let fits = (1..=names.len())
        .rev()
        .map(message)
        .find(|text| text.chars().count() <= MESSAGE);
    fits.unwrap_or(sums.clone())
}

/// What a line would save with the next cheaper part of its kind, in whole units of money; what
/// is in hand already saves nothing.
fn next_cheaper_saves(facts: &Facts, line: &Line) -> Option<Decimal> {
    if !is_chosen(facts, line) {
        return None;
    }
    let price = line.price.as_ref()?.range.likely;
    let (kind, _) = facts.picked.catalogue.part(line.part.as_str())?;
    let others = facts.picked.catalogue.of_kind(kind);
    let cheaper = others
        .iter()
        .filter_map(|part| price_of(facts, part.id()))
        .filter(|other| *other < price);
    let saving = cheaper
        .max()
        .and_then(|next| (price - next).checked_mul(line.buy))?;
    let saving = rounded(saving, 0);
    (saving > Decimal::ZERO).then_some(saving)
}

/// Other options of the dearest choices, those that save least first, then what can wait.
fn cheaper(facts: &Facts, _: Option<Axis>) -> Remedies {
    let mut found = Vec::new();
    for line in dearest(facts, |line| is_chosen(facts, line)) {
        let of_part = |choice: &&choices::Choice| {
            (choice.get)(facts.picked.build) == Value::Part(Some(line.part))
        };
        for choice in choices::all().iter().filter(of_part) {
            found.extend(each_named(facts, choice.id).into_iter().rev());
        }
    }
    let mut waiting = Vec::new();
    for leave_out in ["spares", "hand_tools", "paint"] {
        let edits = super::edit(facts, leave_out, "no");
        let changes = |edit: &Edit| (edit.choice.get)(facts.picked.build) != edit.value;
        waiting.extend(edits.into_iter().filter(changes));
        found.push(waiting.clone());
    }
    found
}

fn straddles(facts: &Facts, report: &mut Report) {
    let Some(budget) = budget(facts) else { return };
    let (sum, currency, lost) = (facts.bill.estimate, facts.bill.currency, facts.bill.lost());
    let expected = facts.bill.expected_in_all();
    let [low, high] = [sum.low, sum.high].map(|end| end.saturating_add(lost));
    if expected <= budget && budget < high {
        report.say(
            Severity::Hint,
            format!(
                "8 of 10 such machines cost {} to {}, {} on average; the budget is {}",
                say::money(low, currency),
                say::money(high, currency),
                say::money(expected, currency),
                say::money(budget, currency)
            ),
        );
    }
}

fn no_room_for_reserve(facts: &Facts, report: &mut Report) {
    let Some(budget) = budget(facts) else { return };
    let (expected, currency) = (facts.bill.expected_in_all(), facts.bill.currency);
    let planned = facts.bill.estimate.expected;
    let Some(kept) = planned.checked_mul(reserve_share(facts)) else {
        return;
    };
    if expected <= budget && budget < expected.saturating_add(kept) {
        report.say(
            Severity::Hint,
            format!(
                "{} and {} of reserve for a budget of {}",
                say::money(expected, currency),
                say::money(kept, currency),
                say::money(budget, currency)
            ),
        );
    }
}

fn reserve_share(facts: &Facts) -> Decimal {
    let percent = units::percent::from(facts.picked.build.area.reserve);
    crate::bill::count::decimal(percent) / Decimal::ONE_HUNDRED
}

fn no_rate(facts: &Facts, report: &mut Report) {
    if let Some(stated) = facts.picked.build.area.budget
        && budget(facts).is_none()
    {
        report.say(
            Severity::Hint,
            format!(
                "the budget is in {}, the bill in {}, and no price book has a rate",
                stated.currency, facts.bill.currency
            ),
        );
    }
}

/// Whether every price of what is bought is an offer or was paid.
fn all_quoted(facts: &Facts) -> bool {
    let firm = |basis| matches!(basis, Basis::Quote | Basis::Paid);
    let mut bought = facts.bill.lines.iter().filter(|line| !line.buy.is_zero());
    bought.all(|line| line.price.as_ref().is_some_and(|price| firm(price.basis)))
}

fn reserve_wanted(facts: &Facts) -> u32 {
    if all_quoted(facts) {
        RESERVE_QUOTED
    } else if facts.picked.build.area.experience == Experience::FirstBuild {
        RESERVE_FIRST
    } else {
        RESERVE_ESTIMATED
    }
}

fn reserve(facts: &Facts, report: &mut Report) {
    let wanted = reserve_wanted(facts);
    let kept = units::percent::from(facts.picked.build.area.reserve);
    // A millionth absorbs what the way through SI units adds to a whole percent.
    if kept < f64::from(wanted) - 1e-6 {
        let why = if wanted == RESERVE_FIRST {
            "for a first build"
        } else {
            "on prices like these"
        };
        report.say(
            Severity::Hint,
            format!(
                "{} % kept back, {wanted} % are usual {why}",
                say::at_most(kept, 1)
            ),
        );
    }
}
