//! What it costs: goods by step, what comes on top, what was spent, and what to order first.

use rust_decimal::Decimal;

use super::row;
use crate::bill::Bill;
use crate::bill::doubt;
use crate::bill::ordering::StageState;
use crate::commands::layout::{hanging, table};
use crate::money::{PriceRange, show as amounts};
use crate::screen::text::capital;
use crate::words::Words as _;

/// All of it.
pub(super) fn cost(bill: &Bill) -> String {
    let money = |amount: Decimal| amounts::exact(amount, bill.currency);
    let range = |sum: PriceRange| [sum.low, sum.likely, sum.high].map(money);
    let currency = bill.currency.code();
    let mut rows = vec![row([&format!("  in {currency}"), "low", "likely", "high"])];
    for &(step, sum) in bill.by_step() {
        let [low, likely, high] = range(sum);
        rows.push(row([&format!("  {}", step.title()), &low, &likely, &high]));
    }
    let on_top = bill.on_top_rows().map(|(_, title, sum)| (title, sum));
    let whole = [("Total", bill.total)];
    for (title, sum) in on_top.into_iter().chain(whole) {
        let [low, likely, high] = range(sum);
        rows.push(row([&format!("  {title}"), &low, &likely, &high]));
    }
    table("<>>>", &rows) + &expected(bill) + &purse(bill) + &order(bill) + &basis(bill) + &ask(bill)
}

/// What such a bill comes to on average, and the range that most stay in.
fn expected(bill: &Bill) -> String {
    let estimate = &bill.estimate;
    let text = format!(
        "To expect: {}; eight of ten such bills come to {} to {}.",
        amounts::money(estimate.expected, estimate.currency),
        amounts::whole(estimate.low),
        amounts::whole(estimate.high)
    );
    hanging("", 2, &text)
}

/// What the first cut needs, what one machine costs, what was spent and what it comes to.
fn purse(bill: &Bill) -> String {
    let money = |amount| amounts::money(amount, bill.currency);
    let mut said = String::new();
    if bill.first_cut != bill.total.likely {
        let first = money(bill.first_cut);
        said.push_str(&hanging(
            "",
            2,
            &format!("Needed for the first cut: {first}."),
        ));
    }
    if bill.machines > 1 {
        let text = format!(
            "That is {} for each of {} machines.",
            money(bill.per_machine()),
            bill.machines
        );
        said.push_str(&hanging("", 2, &text));
    }
    if !bill.spent.is_zero() {
        let text = format!(
            "Spent: {}; still to spend: {}; in the end: {}.",
            money(bill.spent),
            money(bill.to_spend),
            money(bill.forecast)
        );
        said.push_str(&hanging("", 2, &text));
    }
    said
}

/// What to order now, and what not yet.
fn order(bill: &Bill) -> String {
    let of = |state: StageState| {
        let stages = bill.ordering.stages.iter();
        let titles = stages.filter(move |stage| stage.state == state);
        let titles: Vec<String> = titles.map(|stage| stage.title.to_lowercase()).collect();
        titles.join("; ")
    };
    let mut said = String::new();
    for state in [StageState::Ask, StageState::Now, StageState::NotYet] {
        let titles = of(state);
        if !titles.is_empty() {
            let text = format!("{}: {titles}.", capital(state.title()));
            said.push_str(&hanging("", 2, &text));
        }
    }
    said
}

/// What the prices rest on.
fn basis(bill: &Bill) -> String {
    let mut said = String::new();
    if let Some(never) = bill.never_order() {
        said.push_str(&hanging("", 2, &format!("{never}.")));
    }
    let missing = bill.lines.iter().filter(|line| line.lacks_price()).count();
    if missing > 0 {
        let text = format!("{missing} lines have no price in any price book and count as nothing.");
        said.push_str(&hanging("", 2, &text));
    }
    if let Some(oldest) = bill
        .lines
        .iter()
        .filter_map(|line| line.price.as_ref())
        .map(|p| p.date)
        .min()
    {
        said.push_str(&hanging(
            "",
            2,
            &format!("The oldest price is of {oldest}."),
        ));
    }
    said
}

/// Which prices to ask sellers for first.
fn ask(bill: &Bill) -> String {
    let doubts = doubt::doubts(bill);
    let first = doubts.iter().take(doubt::FIRST);
    let first: Vec<String> = first
        .filter_map(|one| {
            let line = bill.lines.get(one.line)?;
            Some(format!("{} ({})", line.title, amounts::whole(one.width)))
        })
        .collect();
    if first.is_empty() {
        return String::new();
    }
    let share = doubt::percent_of_first(bill, &doubts);
    let text = format!(
        "Ask sellers for these prices first, which make {share} % of the range of all goods; in \
         brackets from low to high, in {}: {}.",
        bill.currency.code(),
        first.join("; ")
    );
    hanging("", 2, &text)
}
