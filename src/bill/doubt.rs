//! Which prices to ask sellers for first: what is still to be bought at a guessed price, by how
//! far the guess reaches from low to high. A few lines make most of the range of a whole bill.

use rust_decimal::Decimal;

use super::{Bill, Line};
use crate::catalogue::prices::Basis;
use crate::order::Order as _;
use crate::units::show::rounded;

/// How many prices are named as those to ask first.
pub const FIRST: usize = 10;

/// A line whose price is a guess, as far as it is still to be bought.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Doubt {
    /// Its place among the lines of the bill.
    pub line: usize,
    /// From low to high, for all of the line.
    pub width: Decimal,
}

/// The lines whose prices are guesses, the one that widens the range most first; lines that
/// widen it alike in the order of the bill.
pub fn doubts(bill: &Bill) -> Vec<Doubt> {
    let lines = bill.lines.iter().enumerate();
    let mut found: Vec<Doubt> = lines
        .filter(|(_, line)| is_guess(line))
        .filter_map(|(place, line)| {
            let width = line.total.high.checked_sub(line.total.low)?;
            let wide = width > Decimal::ZERO;
            wide.then_some(Doubt { line: place, width })
        })
        .collect();
    found.order_by_key(|one| std::cmp::Reverse(one.width));
    found
}

/// How much of the range of all goods the first of these prices make, in percent, rounded.
pub fn percent_of_first(bill: &Bill, doubts: &[Doubt]) -> Decimal {
    let width = |line: &Line| line.total.high.checked_sub(line.total.low);
    let all: Decimal = bill.lines.iter().filter_map(width).sum();
    let first: Decimal = doubts.iter().take(FIRST).map(|one| one.width).sum();
    let share = first.checked_mul(Decimal::ONE_HUNDRED);
    let share = share.and_then(|share| share.checked_div(all));
    rounded(share.unwrap_or_default(), 0)
}

/// Whether nobody asked for the price yet of something that is still to be ordered.
fn is_guess(line: &Line) -> bool {
    let guessed = |basis| matches!(basis, Basis::Invented | Basis::Estimate);
    let price = line.price.as_ref();
    line.is_to_order() && price.is_some_and(|price| guessed(price.basis))
}
