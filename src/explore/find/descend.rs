//! The way down that goes before the walk: from the build at hand by single changes, as long as
//! one of them saves money and nothing else stands against it.
//!
//! It proves nothing, and finds only what single changes reach. But whoever stops a search after
//! a few seconds has that much of it, and the walk that follows passes over all that is dearer.
//! The interview has another way down (`interview/descent.rs`), which leads out of faults too.

use super::floor::Partial;
use super::tally::Tally;
use super::walk::Walk;
use crate::assessment::AssessError;
use crate::bill::floor::Coins;
use crate::build::Build;

impl Walk<'_, '_, '_> {
    /// Goes down from a build, where that is one of the space and nothing but its cost stands
    /// against it.
    pub(super) fn descend(&mut self, from: &Build, tally: &mut Tally) -> Result<(), AssessError> {
        let Some(mut options) = self.options_of(from) else {
            return Ok(());
        };
        let (lessons, mut cost) = self.judge(from, tally)?;
        if !lessons.is_empty() {
            return Ok(());
        }
        let floor = self.floor;
        let mut partial = Partial::new(floor, self.space);
        loop {
            let before = cost;
            for turn in 0..options.len() {
                let found = self.cheaper(turn, &options, (&mut partial, cost), tally)?;
                if let Some((option, its)) = found {
                    (options[turn], cost) = (option, its);
                }
                if tally.is_over() {
                    return Ok(());
                }
            }
            if cost == before {
                return Ok(());
            }
        }
    }

    /// The cheapest option of a choice that costs less with all others as they are, and brings
    /// nothing that stands against it; with the cost.
    fn cheaper(
        &mut self,
        turn: usize,
        options: &[usize],
        (partial, most): (&mut Partial, Coins),
        tally: &mut Tally,
    ) -> Result<Option<(usize, Coins)>, AssessError> {
        let others = options.iter().enumerate();
        let others = others.filter(|(one, _)| *one != turn);
        others.for_each(|(one, &option)| partial.make(one, option));
        let mut priced: Vec<(Coins, usize)> = Vec::new();
        for &option in self.tried[turn].iter().filter(|one| **one != options[turn]) {
            partial.make(turn, option);
            priced.push((partial.least(), option));
            partial.open();
        }
        (1..options.len()).for_each(|_| partial.open());
        priced.retain(|(least, option)| *least < most && self.barred_at(turn, *option).is_none());
        priced.sort_unstable();
        let mut best: Option<(usize, Coins)> = None;
        for (least, option) in priced {
            if tally.is_over() || best.is_some_and(|(_, cost)| cost <= least) {
                break;
            }
            let mut changed = options.to_vec();
            changed[turn] = option;
            let (lessons, cost) = self.study(&changed, tally)?;
            let lower = best.map_or(most, |(_, cost)| cost);
            if lessons.is_empty() && cost < lower {
                best = Some((option, cost));
            }
        }
        Ok(best)
    }

    /// The options that a build has, by their place; none where it is not of the space.
    fn options_of(&self, build: &Build) -> Option<Vec<usize>> {
        let each = self.space.free.iter().map(|free| {
            let value = (free.choice.get)(build);
            free.options.iter().position(|one| *one == value)
        });
        let options: Vec<usize> = each.collect::<Option<_>>()?;
        (self.build(&options) == *build).then_some(options)
    }
}
