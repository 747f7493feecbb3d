//! Nesting: which pieces come out of which bar, so that the bars cost least.
//!
//! The saw takes its kerf between two pieces, and both ends of a new bar are trimmed first. So
//! pieces l₁ … lₙ fit a bar of length B with trim t and kerf k where
//!
//! Σ lᵢ + (n - 1)·k ≤ B - 2·t
//!
//! or, with a kerf added on both sides, where the widths lᵢ + k fill no more than B - 2·t + k:
//! the cutting-stock problem of operations research. Offcuts in hand are not trimmed again,
//! cost nothing, and are filled first.
//!
//! Everything is whole tenths of a millimetre, so nothing is lost by rounding. A few greedy
//! ways (`greedy`) are compared with what bars must cost at least (`bound`); as a rule that
//! proves the cheapest of them at once. Else branch and bound (`search`) looks on, for a
//! counted number of steps, so that the same build always gives the same answer in a bounded
//! time; where the steps run out, what bars cost at least is told instead of a proof.

use rust_decimal::Decimal;

use crate::units::{self, Length};

mod bound;
mod greedy;
mod problem;
mod search;
mod told;

use bound::Cover;
use problem::{Plan, Problem};

/// A length in whole tenths of a millimetre.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tenths(u32);

impl Tenths {
    /// What is lost or gained by binary fractions, in tenths.
    const NOISE: f64 = 1e-3;

    /// A length that must be reached: rounded up.
    pub fn up(length: Length) -> Self {
        Self((units::mm::from(length) * 10.0 - Self::NOISE).ceil() as u32)
    }

    /// A length that must not be exceeded: rounded down.
    pub fn down(length: Length) -> Self {
        Self((units::mm::from(length) * 10.0 + Self::NOISE).floor() as u32)
    }

    /// The length.
    pub fn length(self) -> Length {
        units::mm::of(f64::from(self.0) / 10.0)
    }

    /// In millimetres, exactly.
    pub fn millimetres(self) -> Decimal {
        Decimal::new(i64::from(self.0), 1).normalize()
    }

    /// In metres, exactly.
    pub fn metres(self) -> Decimal {
        Decimal::new(i64::from(self.0), 4)
    }
}

/// Pieces of one length and mark.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// Length of one.
    pub length: Tenths,
    /// How many.
    pub count: u32,
}

/// A length of bar that is on offer, as many as one likes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct OnOffer {
    /// Length of the bar.
    pub length: Tenths,
    /// Price of one bar.
    pub price: Decimal,
}

/// What the saw takes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saw {
    /// Width of its cut.
    pub kerf: Tenths,
    /// What is cut off at each end of a new bar.
    pub trim: Tenths,
}

/// What is to be cut from what.
#[derive(Clone, Copy, Debug)]
pub struct Task<'a> {
    /// The pieces.
    pub pieces: &'a [Wanted],
    /// The bars on offer.
    pub bars: &'a [OnOffer],
    /// The offcuts in hand.
    pub offcuts: &'a [Tenths],
    /// The saw.
    pub saw: Saw,
}

/// What a bar is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Stock {
    /// A new bar, by its place among those on offer.
    New(usize),
    /// An offcut in hand, by its place among them.
    Offcut(usize),
}

/// One bar and what is cut from it; or several that are cut alike.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NestedBar {
    /// What bar it is.
    pub stock: Stock,
    /// Its length.
    pub length: Tenths,
    /// The pieces, by their place in the task, and how many of each.
    pub pieces: Vec<(usize, u32)>,
    /// What is left in one length, without kerfs and trimmed ends.
    pub left: Tenths,
    /// How many bars are cut so.
    pub times: u32,
}

/// All bars, and what is known about them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Nesting {
    /// The bars.
    pub bars: Vec<NestedBar>,
    /// Pieces longer than every bar and offcut, by their place in the task, and how many.
    pub too_long: Vec<(usize, u32)>,
    /// What the new bars cost.
    pub cost: Decimal,
    /// What they cost at least, however one cuts: the same as `cost` where that is proven.
    pub bound: Decimal,
}

impl Nesting {
    /// Whether no way costs less.
    pub fn is_proven(&self) -> bool {
        self.cost == self.bound
    }

    /// How many bars there are.
    pub fn count(&self) -> u64 {
        self.bars.iter().map(|bar| u64::from(bar.times)).sum()
    }
}

/// Nests the pieces; none where the figures are past counting.
pub fn nest(task: &Task) -> Option<Nesting> {
    let problem = Problem::new(task)?;
    let (plan, mut least) = solve(&problem);
    if problem.holds_any() {
        // Which offcut takes a piece that no bar holds was settled beforehand: what follows is
        // proven only as far as it would be with those offcuts still whole.
        least = least.min(problem.least_with_whole_offcuts());
    }
    problem.told(task, &plan, least)
}

/// The cheapest plan that was found, and the least price that any has.
fn solve(problem: &Problem) -> (Plan, u128) {
    if problem.sizes.is_empty() {
        return (Plan::default(), 0);
    }
    let mut best = greedy::quick(problem);
    let rough = Cover::of(problem, &problem.capacities());
    let least = rough.root(problem);
    if best.price <= least {
        return (best, least);
    }
    let tight = Cover::of(problem, &bound::reachable(problem));
    let least = tight.root(problem).max(least);
    if best.price <= least {
        return (best, least);
    }
    greedy::thorough(problem, &mut best);
    if best.price <= least {
        return (best, least);
    }
    let finished = search::improve(problem, &tight, least, &mut best);
    let least = if finished { best.price } else { least };
    (best, least)
}
