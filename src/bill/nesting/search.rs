//! Branch and bound: the widest piece that is left must come out of some bar, so every filling
//! of every bar that holds it is tried, the fullest first, and whatever cannot become cheaper
//! than the best plan is left alone.
//!
//! Only fillings into which no other piece goes are tried: moving a piece into a bar that has
//! room for it never costs more. And only the cheapest bar that holds a filling.

use std::collections::HashMap;

use super::bound::Cover;
use super::greedy;
use super::problem::{Cut, Plan, Problem};

/// So many steps at most: about a millisecond.
const STEPS: u32 = 30_000;

/// So many pieces and lengths at most: beyond, steps would run out long before anything was
/// proven, and each bar on the way there is a call inside the one before it.
const MOST_PIECES: u64 = 240;
const MOST_SIZES: usize = 16;

/// Looks for a plan that costs less than the best; true where none is left to be found.
pub(super) fn improve(problem: &Problem, cover: &Cover, least: u128, best: &mut Plan) -> bool {
    let pieces: u64 = problem.sizes.iter().map(|size| u64::from(size.count)).sum();
    if pieces > MOST_PIECES || problem.sizes.len() > MOST_SIZES {
        return false;
    }
    let bins = problem.bins.iter();
    let Some((weights, state)) = weights(problem) else {
        return false;
    };
    let mut search = Search {
        problem,
        cover,
        left: problem.counts(),
        width: problem.wanted(),
        offcuts: bins.take(problem.offcuts).map(|bin| bin.count()).collect(),
        offcut_room: cover.all_offcuts(problem),
        cuts: Vec::new(),
        state,
        weights,
        seen: HashMap::new(),
        steps: STEPS,
        least,
        best,
    };
    search.open(0);
    search.steps > 0 || search.best.price <= least
}

/// What one piece of each size, and one of each offcut, counts in a number that no two sets of
/// them share, and the number of all of them; none where it would be too large.
fn weights(problem: &Problem) -> Option<(Vec<u128>, u128)> {
    let sizes = problem.sizes.iter().map(|size| size.count);
    let offcuts = problem.bins.iter().take(problem.offcuts);
    let counts = sizes.chain(offcuts.map(|bin| bin.count()));
    let (mut weight, mut all) = (1_u128, 0_u128);
    let mut weights = Vec::new();
    for count in counts {
        weights.push(weight);
        all += weight * u128::from(count);
        weight = weight.checked_mul(u128::from(count) + 1)?;
    }
    Some((weights, all))
}

struct Search<'a> {
    problem: &'a Problem,
    cover: &'a Cover,
    /// How many of each size are left.
    left: Vec<u32>,
    /// Their widths together.
    width: u64,
    /// How many of each offcut are left.
    offcuts: Vec<u32>,
    /// What those hold.
    offcut_room: u64,
    cuts: Vec<Cut>,
    /// How many of each size and offcut are left, as one number.
    state: u128,
    /// What one of each counts in that number: sizes first, then offcuts.
    weights: Vec<u128>,
    /// The least price at which so many were left.
    seen: HashMap<u128, u128>,
    steps: u32,
    least: u128,
    best: &'a mut Plan,
}

impl Search<'_> {
    fn is_over(&self) -> bool {
        self.steps == 0 || self.best.price <= self.least
    }

    /// Whether a plan with so much spent, and so much width left, may become the best.
    fn may_win(&self, spent: u128, width: u64) -> bool {
        let rest = width.saturating_sub(self.offcut_room);
        spent + self.cover.price(rest) < self.best.price
    }

    /// Opens the next bar.
    fn open(&mut self, spent: u128) {
        let Some(widest) = self.left.iter().position(|&left| left > 0) else {
            if spent < self.best.price {
                self.best.cuts.clone_from(&self.cuts);
                greedy::settle(self.problem, self.best);
            }
            return;
        };
        if !self.may_win(spent, self.width) {
            return;
        }
        if self
            .seen
            .get(&self.state)
            .is_some_and(|&seen| seen <= spent)
        {
            return;
        }
        self.seen.insert(self.state, spent);
        let mut counts = vec![0; self.left.len()];
        counts[widest] = 1;
        for bin in 0..self.problem.bins.len() {
            let Some(room) = self.room(bin, widest) else {
                continue;
            };
            self.take(widest, 1);
            self.fill(bin, widest, room, &mut counts, spent);
            self.give(widest, 1);
        }
    }

    /// What is left of a bar with a piece of a size in it; none where it is not to be had.
    fn room(&self, bin: usize, size: usize) -> Option<u64> {
        let there = self.offcuts.get(bin).is_none_or(|&count| count > 0);
        let room = self.problem.bins[bin].capacity;
        room.checked_sub(self.problem.sizes[size].width)
            .filter(|_| there)
    }

    /// Fills a bar with pieces of this size and narrower ones, as many as go in first.
    fn fill(&mut self, bin: usize, from: usize, room: u64, counts: &mut [u32], spent: u128) {
        if self.is_over() {
            return;
        }
        self.steps -= 1;
        let problem = self.problem;
        let fits = |&size: &usize| self.left[size] > 0 && problem.sizes[size].width <= room;
        let Some(size) = (from..self.left.len()).find(fits) else {
            self.close(bin, room, counts, spent);
            return;
        };
        let width = problem.sizes[size].width;
        let most = u64::from(self.left[size]).min(room / width.max(1)) as u32;
        for count in (0..=most).rev() {
            counts[size] += count;
            self.take(size, count);
            let room = room - width * u64::from(count);
            self.fill(bin, size + 1, room, counts, spent);
            self.give(size, count);
            counts[size] -= count;
        }
    }

    /// Takes a bar as it was filled, where nothing else would go in and no cheaper one would do.
    fn close(&mut self, bin: usize, room: u64, counts: &[u32], spent: u128) {
        let problem = self.problem;
        let is_narrow = |size: usize| self.left[size] > 0 && problem.sizes[size].width <= room;
        if (0..self.left.len()).any(is_narrow) {
            return;
        }
        let price = problem.bins[bin].price;
        let is_offcut = bin < problem.offcuts;
        if !is_offcut && problem.cheapest(problem.bins[bin].capacity - room) != Some(bin) {
            return;
        }
        if is_offcut {
            self.offcuts[bin] -= 1;
            self.state -= self.weights[self.left.len() + bin];
            self.offcut_room -= self.cover.offcut(bin);
        }
        if self.may_win(spent + price, self.width) {
            self.cuts.push(Cut {
                bin,
                counts: counts.to_vec(),
                times: 1,
            });
            self.open(spent + price);
            self.cuts.pop();
        }
        if is_offcut {
            self.offcuts[bin] += 1;
            self.state += self.weights[self.left.len() + bin];
            self.offcut_room += self.cover.offcut(bin);
        }
    }

    fn take(&mut self, size: usize, count: u32) {
        self.left[size] -= count;
        self.state -= self.weights[size] * u128::from(count);
        self.width -= self.problem.sizes[size].width * u64::from(count);
    }

    fn give(&mut self, size: usize, count: u32) {
        self.left[size] += count;
        self.state += self.weights[size] * u128::from(count);
        self.width += self.problem.sizes[size].width * u64::from(count);
    }
}
