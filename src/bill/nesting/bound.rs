//! What bars must cost at least: enough of them to hold all widths, however those may be cut
//! up. Where a bar cannot be filled by any choice of the pieces, only what can be filled counts.

use super::problem::{Problem, common};

/// So many bars of the shortest kind at most: beyond, the bars' best price for a length is
/// bound enough.
const MOST_BARS: u64 = 64;

/// So many words of 64 bits at most for the set of sums that pieces can make.
const MOST_WORDS: u64 = 4096;

/// What bars cost that hold a width.
#[derive(Clone, Debug)]
pub(super) struct Cover {
    /// Capacity and price of sets of bars, both rising: each the cheapest that holds as much.
    steps: Vec<(u64, u128)>,
    /// The best price for a capacity: price and capacity.
    best: Option<(u128, u64)>,
    /// Every price is a multiple of it.
    coin: u128,
    /// What the offcuts hold, bin by bin.
    offcuts: Vec<u64>,
}

impl Cover {
    /// The least prices, where each kind of bar holds so much.
    pub(super) fn of(problem: &Problem, capacities: &[u64]) -> Self {
        let bars = || (problem.offcuts..problem.bins.len()).filter(|&bin| capacities[bin] > 0);
        let ratio = |a: &(u128, u64), b: &(u128, u64)| {
            (a.0 * u128::from(b.1)).cmp(&(b.0 * u128::from(a.1)))
        };
        let priced = bars().map(|bin| (problem.bins[bin].price, capacities[bin]));
        let best = priced.min_by(ratio);
        let wanted = problem.wanted();
        let shortest = bars().map(|bin| capacities[bin]).min().unwrap_or(1);
        let mut steps = vec![(0, 0)];
        if wanted / shortest <= MOST_BARS {
            for bin in bars() {
                add(
                    &mut steps,
                    (capacities[bin], problem.bins[bin].price),
                    wanted,
                );
            }
        }
        let offcuts = capacities[..problem.offcuts].to_vec();
        let prices = bars().map(|bin| problem.bins[bin].price);
        Self {
            steps,
            best,
            coin: prices.fold(0, common).max(1),
            offcuts,
        }
    }

    /// The least price of a width.
    pub(super) fn price(&self, width: u64) -> u128 {
        if width == 0 {
            return 0;
        }
        let place = self.steps.partition_point(|step| step.0 < width);
        match (self.steps.get(place), self.best) {
            (Some(step), _) => step.1,
            (None, Some((price, capacity))) => {
                let least = (price * u128::from(width)).div_ceil(u128::from(capacity));
                least.next_multiple_of(self.coin)
            }
            (None, None) => 0,
        }
    }

    /// What an offcut holds.
    pub(super) fn offcut(&self, bin: usize) -> u64 {
        self.offcuts[bin]
    }

    /// What all offcuts hold.
    pub(super) fn all_offcuts(&self, problem: &Problem) -> u64 {
        let each = self.offcuts.iter().zip(&problem.bins);
        each.map(|(capacity, bin)| capacity * u64::from(bin.count()))
            .sum()
    }

    /// The least price of the whole problem.
    pub(super) fn root(&self, problem: &Problem) -> u128 {
        let wanted = problem.wanted();
        self.price(wanted.saturating_sub(self.all_offcuts(problem)))
    }
}

/// Adds a kind of bar to the sets, and leaves out those that a cheaper one outdoes.
fn add(steps: &mut Vec<(u64, u128)>, bar: (u64, u128), wanted: u64) {
    let mut place = 0;
    while place < steps.len() {
        let (capacity, price) = steps[place];
        if capacity < wanted {
            steps.push((capacity + bar.0, price + bar.1));
        }
        place += 1;
    }
    steps.sort_unstable_by(|a, b| a.1.cmp(&b.1).then(b.0.cmp(&a.0)));
    let mut most = None;
    steps.retain(|step| {
        let more = most.is_none_or(|most| step.0 > most);
        if more {
            most = Some(step.0);
        }
        more
    });
}

/// The most that each bin can be filled to with the pieces that there are.
pub(super) fn reachable(problem: &Problem) -> Vec<u64> {
    let mut capacities = problem.capacities();
    let largest = capacities.iter().copied().max().unwrap_or(0);
    let words = largest / 64 + 1;
    if words > MOST_WORDS {
        return capacities;
    }
    let mut sums = Sums::none(words as usize);
    for size in &problem.sizes {
        // Bundles of 1, 2, 4, … pieces make every count.
        let mut left = u64::from(size.count).min(largest / size.width.max(1));
        let mut bundle = 1;
        while left > 0 {
            let taken = bundle.min(left);
            sums.add(taken * size.width);
            left -= taken;
            bundle *= 2;
        }
    }
    for capacity in &mut capacities {
        *capacity = sums.up_to(*capacity);
    }
    capacities
}

/// The set of sums that pieces can make, a bit for each.
struct Sums(Vec<u64>);

impl Sums {
    fn none(words: usize) -> Self {
        let mut bits = vec![0; words];
        if let Some(first) = bits.first_mut() {
            *first = 1;
        }
        Self(bits)
    }

    /// Takes in whatever comes of adding a width to what there is.
    fn add(&mut self, width: u64) {
        let (words, bits) = ((width / 64) as usize, (width % 64) as u32);
        for place in (words..self.0.len()).rev() {
            let from = place - words;
            let mut shifted = self.0[from] << bits;
            if bits > 0 && from > 0 {
                shifted |= self.0[from - 1] >> (64 - bits);
            }
            self.0[place] |= shifted;
        }
    }

    /// The largest sum up to a limit.
    fn up_to(&self, limit: u64) -> u64 {
        let is_there = |sum: &u64| {
            let word = self.0.get((*sum / 64) as usize).copied().unwrap_or(0);
            word >> (*sum % 64) & 1 == 1
        };
        (0..=limit).rev().find(is_there).unwrap_or(0)
    }
}
