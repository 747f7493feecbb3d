//! What running the machines costs a year, beside what they cost.

use rust_decimal::Decimal;

use crate::bill::Bill;
use crate::bill::yearly::YearlyLine;
use crate::commands::layout::hanging;
use crate::money::show as amounts;
use crate::order::Order as _;
use crate::units::{self, show};

/// How many of the dearest things that are used up are named.
const NAMED: usize = 3;

/// The sum of a year, what it is made of, and what of it costs most.
pub(super) fn running(bill: &Bill) -> String {
    let yearly = &bill.yearly;
    let energy = show::number(units::kwh::from(yearly.energy), 0);
    let mut of = Vec::new();
    match yearly.power {
        Some(power) => of.push(format!("power {} ({energy} kWh)", amounts::whole(power))),
        None => of.push(format!("{energy} kWh of power without a price")),
    }
    of.push(format!("wear {}", amounts::whole(yearly.wear)));
    if let Some(licences) = yearly.licences {
        of.push(format!("licences {}", amounts::whole(licences)));
    }
    let text = format!(
        "Running it costs about {} a year, not counted above: {}.",
        amounts::money(yearly.total, bill.currency),
        of.join(", ")
    );
    hanging("", 2, &text) + &dearest(&yearly.lines)
}

/// What is used up that costs most, and what has no price.
fn dearest(lines: &[YearlyLine]) -> String {
    let mut priced: Vec<(&YearlyLine, Decimal)> = (lines.iter())
        .filter_map(|line| Some((line, line.total.filter(|total| !total.is_zero())?)))
        .collect();
    priced.order_by_key(|(_, total)| std::cmp::Reverse(*total));
    let named = priced.iter().take(NAMED);
    let named: Vec<String> = named
        .map(|(line, total)| format!("{} ({})", line.title, amounts::whole(*total)))
        .collect();
    let mut said = String::new();
    if !named.is_empty() {
        let text = format!("Most of the wear: {}.", named.join("; "));
        said.push_str(&hanging("", 2, &text));
    }
    let missing = lines.iter().filter(|line| line.total.is_none()).count();
    if missing > 0 {
        let text = format!("{missing} things that wear have no price and count as nothing.");
        said.push_str(&hanging("", 2, &text));
    }
    said
}
