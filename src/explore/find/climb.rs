//! The way to a first build that does what is wanted, where the one at hand does not: by single
//! changes of free choices, with what must go along, each of which comes nearest to the targets.
//!
//! A walk through very many combinations begins with the cheapest options, and may meet nothing
//! that is good enough before it gives up. This way proves nothing, and leads nowhere where no
//! single change comes nearer; what it leads to is what the way down and the walk go out from.

use super::tally::Tally;
use super::target::cautions;
use super::{A_LOOK, Request, Space, Target};
use crate::assessment::Assessment;
use crate::build::{Axis, Build, Edit};
use crate::explore::reading::{Measure, Reading};
use crate::explore::trial::Bench;
use crate::order::Order as _;
use crate::units;

/// What is no larger is gone through as a whole before it takes long.
const SMALL: u128 = 100_000;

/// How many changes are made in turn at most.
const ROUNDS: usize = 8;

/// How many builds are looked at at most.
const LOOKS: u64 = 4000;

/// How many options that break something are mended for each change.
const MENDED: usize = 8;

/// What mending takes, in looks: remedies are tried one by one.
const MENDING: u64 = 8;

/// What counts as nearer: less is chance of the last digit.
const NEARER: f64 = 1e-6;

/// What a caution too many counts, against a target that is missed by its whole: little, since one
/// change more mostly lifts it. Counted as much, it kept the way from the cheap cures.
const A_CAUTION: f64 = 0.1;

/// How far a build is from what is wanted: its dangers and faults, and what it lacks of the
/// targets, each by the share of what is wanted.
#[derive(Clone, Copy)]
struct Gap {
    bad: usize,
    lacks: f64,
}

impl Gap {
    fn of(request: &Request, after: &Assessment) -> Self {
        let reading = Reading::of(after);
        let each = request.targets.iter();
        let missed = each.filter(|target| !target.is_met(after, &reading));
        Self {
            bad: after.grave().count(),
            lacks: missed.map(|one| lacks(one, after, &reading)).sum(),
        }
    }

    fn is_closed(self) -> bool {
        self.bad == 0 && self.lacks <= 0.0
    }

    fn is_less(self, than: Self) -> bool {
        let nearer = self.lacks < than.lacks - NEARER;
        self.bad < than.bad || self.bad == than.bad && nearer
    }
}

/// What a build lacks of a target that it misses, as a share of what is wanted; one where it
/// cannot be said how much. Of rapids each limit of the axes counts: where two hold an axis alike,
/// what lifts one of them is half of the way.
fn lacks(target: &Target, after: &Assessment, reading: &Reading) -> f64 {
    let share = |is: f64, wanted: f64| match wanted > 0.0 {
        true => (wanted - is).abs() / wanted,
        false => 1.0,
    };
    let slow = |axes: &[Axis], wanted: f64| -> f64 {
        let limits = axes
            .iter()
            .flat_map(|&axis| &after.machine.axes[axis].limits);
        let speeds = limits.map(|limit| units::m_per_min::from(limit.speed));
        let slow = speeds.filter(|speed| *speed < wanted);
        slow.map(|speed| share(speed, wanted)).sum()
    };
    match target {
        Target::Figure(Measure::Rapids, wanted) => slow(&[Axis::X, Axis::Y], *wanted),
        Target::Rapids(axis, wanted) => slow(&[*axis], *wanted),
        Target::Figure(measure, wanted) => {
            let value = reading.value(*measure);
            value.map_or(1.0, |value| share(value.number, *wanted))
        }
        Target::Cautions(most) => (cautions(reading) - *most) as f64 * A_CAUTION,
        _ => 1.0,
    }
}

/// A changed build on the way.
struct Step {
    build: Build,
    after: Assessment,
    gap: Gap,
}

/// A build that has no danger and no fault and meets every target; none where the one at hand
/// does so itself, where the space is small, or where the way leads to none.
pub(super) fn climbed(
    bench: &Bench,
    request: &Request,
    space: &Space,
    tally: &mut Tally,
) -> Option<Build> {
    let gap = Gap::of(request, bench.before);
    if gap.is_closed() || space.combinations() <= SMALL {
        return None;
    }
    let mut now = Step {
        build: bench.build.clone(),
        after: bench.before.clone(),
        gap,
    };
    // Half of the work is left for what comes after.
    let half = tally.effort.map_or(LOOKS, |effort| effort / A_LOOK / 2);
    let mut left = LOOKS.min(half);
    for _ in 0..ROUNDS {
        let at_hand = Bench {
            build: &now.build,
            before: &now.after,
            ..*bench
        };
        let climb = Climb {
            bench: at_hand,
            request,
            space,
            gap: now.gap,
        };
        let nearest = climb.nearest(tally, &mut left)?;
        if nearest.gap.is_closed() {
            return Some(nearest.build);
        }
        now = nearest;
    }
    None
}

/// What one change is looked for with.
struct Climb<'c> {
    bench: Bench<'c>,
    request: &'c Request,
    space: &'c Space,
    /// How far the build at hand is from what is wanted.
    gap: Gap,
}

impl Climb<'_> {
    /// The change that comes nearest; none where none comes nearer, or the work is used up.
    fn nearest(&self, tally: &mut Tally, left: &mut u64) -> Option<Step> {
        let mut best: Option<Step> = None;
        let mut broken: Vec<(Gap, Build)> = Vec::new();
        for free in &self.space.free {
            let is = (free.choice.get)(self.bench.build);
            for value in free.options.iter().filter(|value| **value != is) {
                if tally.is_over() || *left == 0 {
                    return best;
                }
                let (choice, value) = (free.choice, value.clone());
                let build = Edit { choice, value }.applied(self.bench.build);
                *left -= 1;
                let Some(step) = self.step(build, tally) else {
                    continue;
                };
                if step.gap.bad > self.gap.bad && step.gap.lacks < self.gap.lacks - NEARER {
                    broken.push((step.gap, step.build));
                } else {
                    better(&mut best, step, self.gap);
                }
            }
        }
        broken.order_by(|(a, _), (b, _)| a.bad.cmp(&b.bad).then(a.lacks.total_cmp(&b.lacks)));
        for (_, build) in broken.into_iter().take(MENDED) {
            if tally.is_over() || *left == 0 {
                break;
            }
            let is_free = |edit: &Edit| {
                let mut free = self.space.free.iter();
                free.any(|one| one.choice.id == edit.choice.id)
            };
            *left = left.saturating_sub(MENDING);
            // Each takes a while: whoever wants to stop need not wait for all.
            if tally.report() {
                break;
            }
            tally.spend(A_LOOK * MENDING);
            let settled = self.bench.settled_by(build, &is_free);
            if let Some(step) = self.step(settled, tally) {
                better(&mut best, step, self.gap);
            }
        }
        best
    }

    /// A changed build and how far it is from what is wanted; none where it cannot be assessed.
    fn step(&self, build: Build, tally: &mut Tally) -> Option<Step> {
        let after = self.bench.assess(&build).ok()?;
        tally.look();
        if tally.assessed.is_multiple_of(16) {
            tally.report();
        }
        let gap = Gap::of(self.request, &after);
        Some(Step { build, after, gap })
    }
}

/// Keeps the step that comes nearest; of those as near the one that costs less.
fn better(best: &mut Option<Step>, step: Step, now: Gap) {
    let is_better = match best {
        None => step.gap.is_less(now),
        Some(best) => {
            let cost = |of: &Step| of.after.bill.total.likely;
            let alike = !best.gap.is_less(step.gap);
            step.gap.is_less(best.gap) || alike && cost(&step) < cost(best)
        }
    };
    if is_better {
        *best = Some(step);
    }
}
