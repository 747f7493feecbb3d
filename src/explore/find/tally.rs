//! What all walks of a search share: the best build so far, what is counted, and whoever
//! watches.

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use super::{A_LOOK, Because, FoundBuild, Progress, Request, Target};
use crate::bill::floor::{Coins, up};
use crate::explore::reading::Measure;
use crate::money::Currency;

/// So many steps are done in a blink.
const A_WHILE: u64 = 1024;

/// What is shared.
pub(super) struct Tally<'w> {
    pub(super) watch: &'w mut dyn FnMut(&Progress) -> ControlFlow<()>,
    pub(super) best: Option<FoundBuild>,
    /// The figure that money is traded for must be above this, in steps.
    pub(super) above: Option<i64>,
    /// The money of every bill.
    currency: Currency,
    pub(super) combinations: u128,
    pub(super) covered: u128,
    pub(super) assessed: u64,
    steps: u64,
    pub(super) leaves: u128,
    pub(super) excluded: BTreeMap<Because, u128>,
    pub(super) cancelled: bool,
    /// The work that is left; none where it does not matter.
    pub(super) effort: Option<u64>,
    pub(super) gave_up: bool,
    /// What is left of a scouting walk; none where a walk may go on.
    pub(super) scouting: Option<u64>,
}

/// How far a walk had come.
pub(super) struct Count {
    covered: u128,
    leaves: u128,
    excluded: BTreeMap<Because, u128>,
}

impl<'w> Tally<'w> {
    pub(super) fn new(
        combinations: u128,
        currency: Currency,
        watch: &'w mut dyn FnMut(&Progress) -> ControlFlow<()>,
    ) -> Self {
        Self {
            currency,
            watch,
            best: None,
            above: None,
            combinations,
            covered: 0,
            assessed: 0,
            steps: 0,
            leaves: 0,
            excluded: BTreeMap::new(),
            cancelled: false,
            effort: None,
            gave_up: false,
            scouting: None,
        }
    }

    /// What is counted so far, to come back to.
    pub(super) fn count(&self) -> Count {
        Count {
            covered: self.covered,
            leaves: self.leaves,
            excluded: self.excluded.clone(),
        }
    }

    /// Counts anew from there: a walk was only for scouting.
    pub(super) fn recount(&mut self, count: Count) {
        self.covered = count.covered;
        self.leaves = count.leaves;
        self.excluded = count.excluded;
    }

    /// Takes work off what is left.
    pub(super) fn spend(&mut self, work: u64) {
        if let Some(left) = &mut self.effort {
            *left = left.saturating_sub(work);
            self.gave_up = *left == 0;
        }
        if let Some(left) = &mut self.scouting {
            *left = left.saturating_sub(work);
        }
    }

    /// Counts a step of looking for the cheapest of an axis, and now and then tells how far it
    /// has come: with many options there are many steps between two of the walk.
    pub(super) fn step(&mut self) {
        self.steps += 1;
        if self.steps.is_multiple_of(A_WHILE) {
            self.report();
        }
    }

    /// Counts an assessment.
    pub(super) fn look(&mut self) {
        self.assessed += 1;
        self.spend(A_LOOK);
    }

    /// Whether a walk has nothing left to do.
    pub(super) fn is_over(&self) -> bool {
        self.cancelled || self.gave_up || self.scouting == Some(0)
    }

    /// Whether a scouting walk was broken off, so that the next one starts from what it found.
    pub(super) fn is_scouted(&self) -> bool {
        self.scouting == Some(0) && !self.cancelled && !self.gave_up
    }

    /// Counts combinations that are excluded.
    pub(super) fn exclude(&mut self, because: Because, combinations: u128) {
        if combinations > 0 {
            let excluded = self.excluded.entry(because).or_default();
            *excluded = excluded.saturating_add(combinations);
            self.covered = self.covered.saturating_add(combinations);
        }
    }

    /// Counts a combination that was met at the end of a way.
    pub(super) fn met(&mut self) {
        self.leaves += 1;
        self.covered = self.covered.saturating_add(1);
    }

    /// What a build must cost less than, and why.
    pub(super) fn cap(&self, request: &Request) -> Option<(Coins, Because)> {
        let best = self.best.as_ref().map(|best| {
            let cost = best.reading.cost;
            (up(cost.likely, cost.currency), Because::Dearer)
        });
        let targets = request.targets.iter().enumerate();
        let budget = targets.filter_map(|(place, target)| match target {
            Target::Figure(Measure::Cost, most) => {
                let coins = 10_f64.powf(f64::from(self.currency.decimals()));
                let cap = (most * coins).floor() as Coins + 1;
                Some((cap, Because::Target(place)))
            }
            _ => None,
        });
        best.into_iter().chain(budget).min()
    }

    /// Tells how far it has come; whether it is to stop.
    pub(super) fn report(&mut self) -> bool {
        let progress = Progress {
            combinations: self.combinations,
            covered: self.covered,
            assessed: self.assessed,
            best: self.best.as_ref(),
        };
        self.cancelled |= (self.watch)(&progress).is_break();
        self.cancelled
    }
}
