//! Greedy ways: bar after bar, each filled with the widest pieces that still go in, or as full
//! as it gets; in the end each bar is swapped for the cheapest that holds its pieces.

use super::problem::{Cut, Plan, Problem};

/// So many steps at most in looking for the fullest bar.
const FULLEST_STEPS: u32 = 400;

/// How a bar is filled.
#[derive(Clone, Copy)]
enum Filling {
    /// With the widest piece that goes in, again and again.
    WidestFirst,
    /// As full as it gets with the widest piece in it.
    Fullest,
}

/// Which bar is opened next.
#[derive(Clone, Copy)]
enum Opening {
    /// Always this one.
    Always(usize),
    /// The one whose filling costs least for its widths.
    Cheapest,
}

/// The best of the quick ways.
pub(super) fn quick(problem: &Problem) -> Plan {
    let mut best = plan(problem, Opening::Cheapest, Filling::WidestFirst);
    try_bars(problem, Filling::WidestFirst, &mut best);
    best
}

/// The best of the slower ways too.
pub(super) fn thorough(problem: &Problem, best: &mut Plan) {
    let found = plan(problem, Opening::Cheapest, Filling::Fullest);
    if found.beats(best) {
        *best = found;
    }
    try_bars(problem, Filling::Fullest, best);
}

fn try_bars(problem: &Problem, filling: Filling, best: &mut Plan) {
    for bin in problem.offcuts..problem.bins.len() {
        let found = plan(problem, Opening::Always(bin), filling);
        if found.beats(best) {
            *best = found;
        }
    }
}

fn plan(problem: &Problem, opening: Opening, filling: Filling) -> Plan {
    let mut left = problem.counts();
    let mut cuts = Vec::new();
    for bin in 0..problem.offcuts {
        for _ in 0..problem.bins[bin].count() {
            let counts = fill(problem, problem.bins[bin].capacity, &left, filling);
            if counts.iter().any(|&count| count > 0) {
                take(&mut left, &counts, 1);
                cuts.push(Cut {
                    bin,
                    counts,
                    times: 1,
                });
            }
        }
    }
    while left.iter().any(|&count| count > 0) {
        let Some((bin, counts)) = next(problem, &left, opening, filling) else {
            break;
        };
        let repeated = left.iter().zip(&counts);
        let times = repeated
            .filter(|(_, count)| **count > 0)
            .map(|(left, count)| left / count)
            .min()
            .unwrap_or(1);
        take(&mut left, &counts, times);
        cuts.push(Cut { bin, counts, times });
    }
    let mut plan = Plan {
        cuts,
        ..Plan::default()
    };
    settle(problem, &mut plan);
    plan
}

/// Swaps each new bar for the cheapest that holds its pieces, and adds everything up.
pub(super) fn settle(problem: &Problem, plan: &mut Plan) {
    (plan.price, plan.stock) = (0, 0);
    for cut in &mut plan.cuts {
        if cut.bin >= problem.offcuts {
            let load = problem.load(&cut.counts);
            cut.bin = problem.cheapest(load).unwrap_or(cut.bin);
        }
        let bin = &problem.bins[cut.bin];
        let times = u128::from(cut.times);
        plan.price += bin.price * times;
        plan.stock += u128::from(bin.capacity) * times;
    }
}

/// The next bar to open, and what goes into it.
fn next(
    problem: &Problem,
    left: &[u32],
    opening: Opening,
    filling: Filling,
) -> Option<(usize, Vec<u32>)> {
    let widest = left.iter().position(|&count| count > 0)?;
    let holds = |bin: usize| problem.bins[bin].capacity >= problem.sizes[widest].width;
    if let Opening::Always(bin) = opening
        && holds(bin)
    {
        return Some((
            bin,
            fill(problem, problem.bins[bin].capacity, left, filling),
        ));
    }
    let mut best: Option<(usize, Vec<u32>, u64)> = None;
    for bin in (problem.offcuts..problem.bins.len()).filter(|&bin| holds(bin)) {
        let counts = fill(problem, problem.bins[bin].capacity, left, filling);
        let load = problem.load(&counts);
        let cheaper = best.as_ref().is_none_or(|(other, _, other_load)| {
            let (one, other) = (problem.bins[bin].price, problem.bins[*other].price);
            one * u128::from(*other_load) < other * u128::from(load)
        });
        if cheaper {
            best = Some((bin, counts, load));
        }
    }
    best.map(|(bin, counts, _)| (bin, counts))
}

fn take(left: &mut [u32], counts: &[u32], times: u32) {
    for (left, count) in left.iter_mut().zip(counts) {
        *left -= count * times;
    }
}

/// How many of each size go into a capacity.
fn fill(problem: &Problem, capacity: u64, left: &[u32], filling: Filling) -> Vec<u32> {
    match filling {
        Filling::WidestFirst => widest_first(problem, capacity, left),
        Filling::Fullest => fullest(problem, capacity, left),
    }
}

fn widest_first(problem: &Problem, capacity: u64, left: &[u32]) -> Vec<u32> {
    let mut room = capacity;
    let each = problem.sizes.iter().zip(left);
    each.map(|(size, &left)| {
        let count = u64::from(left).min(room / size.width.max(1)) as u32;
        room -= size.width * u64::from(count);
        count
    })
    .collect()
}

fn fullest(problem: &Problem, capacity: u64, left: &[u32]) -> Vec<u32> {
    let mut counts = vec![0; left.len()];
    let fits = |&at: &usize| left[at] > 0 && problem.sizes[at].width <= capacity;
    let Some(widest) = (0..left.len()).find(fits) else {
        return counts;
    };
    counts[widest] = 1;
    let mut looking = Looking {
        problem,
        left,
        counts,
        best: widest_first(problem, capacity, left),
        room: u64::MAX,
        steps: FULLEST_STEPS,
    };
    looking.room = capacity - problem.load(&looking.best);
    looking.from(widest, capacity - problem.sizes[widest].width);
    looking.best
}

/// The search for the fullest bar.
struct Looking<'a> {
    problem: &'a Problem,
    left: &'a [u32],
    counts: Vec<u32>,
    best: Vec<u32>,
    /// What the best leaves empty.
    room: u64,
    steps: u32,
}

impl Looking<'_> {
    fn from(&mut self, at: usize, room: u64) {
        if room < self.room {
            self.room = room;
            self.best.clone_from(&self.counts);
        }
        if self.room == 0 || self.steps == 0 {
            return;
        }
        self.steps -= 1;
        for next in at..self.left.len() {
            let width = self.problem.sizes[next].width;
            if self.counts[next] < self.left[next] && width <= room {
                self.counts[next] += 1;
                self.from(next, room - width);
                self.counts[next] -= 1;
            }
        }
    }
}
