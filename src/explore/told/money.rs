//! Where the money of a change goes or comes from: a cheaper extractor may save most by the
//! electrician who need not come.

use rust_decimal::Decimal;

use crate::assessment::Assessment;
use crate::catalogue::Id;
use crate::money::show;
use crate::order::Order as _;
use crate::units::show::rounded;

/// How many parts are named.
const NAMED: usize = 3;

/// The parts whose sum on the bill changes most, each with by how much, without freight and tax.
/// None where it is one part at most: then that is the change itself.
pub fn money(before: &Assessment, after: &Assessment) -> Option<String> {
    let (was, is) = (&before.bill, &after.bill);
    if was.currency != is.currency {
        return None;
    }
    let sum = |of: &Assessment, part: &Id| {
        let line = of.bill.line(part.as_str());
        line.map_or(Decimal::ZERO, |line| line.total.likely)
    };
    let gone = was
        .lines
        .iter()
        .filter(|line| is.line(line.part.as_str()).is_none());
    let changes = is.lines.iter().chain(gone).map(|line| {
        let change = sum(after, &line.part) - sum(before, &line.part);
        (rounded(change, 0), line.title.as_str())
    });
    let mut changes: Vec<(Decimal, &str)> = changes.filter(|(sum, _)| !sum.is_zero()).collect();
    changes.order_by_key(|(sum, _)| std::cmp::Reverse(sum.abs()));
    let each = changes.iter().take(NAMED).map(|(sum, title)| {
        let sign = if sum.is_sign_negative() { "-" } else { "+" };
        format!("{title} {sign}{}", show::money(sum.abs(), is.currency))
    });
    let mut words = each.collect::<Vec<_>>().join("; ");
    match changes.len().saturating_sub(NAMED) {
        0 => {}
        more => words.push_str(&format!("; {more} more, each by less")),
    }
    (changes.len() > 1).then_some(words)
}
