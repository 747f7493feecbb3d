//! What each axis adds at least, found out before all of them are gone through together.
//!
//! Whether drive, motor, coupling and driver of an axis go together hangs on little else. So
//! the cheapest that do are looked for axis by axis, everything else left open, once for each
//! combination of what they hang on. Two axes that leave too little money for the third are
//! then passed over without a look at it.

use std::collections::{HashMap, HashSet};

use super::floor::Partial;
use super::lessons::{is_numbered, key};
use super::order::axis_of;
use super::spares::{Spare, made_for};
use super::tally::Tally;
use super::walk::Walk;
use super::way::{Way, before, bit, bits};
use super::{Because, Space};
use crate::assessment::AssessError;
use crate::bill::floor::Coins;
use crate::catalogue::FastHash;

/// The choices of one axis that are made one after the other, and what is known of them.
struct Block {
    turns: Vec<usize>,
    /// The same with what its burden and strength hang on most.
    burden: Vec<usize>,
    /// Which combinations of these were looked at.
    seen: HashSet<u128, FastHash>,
    /// By the choices that it hangs on: what the axis adds at least.
    known: Vec<(Vec<usize>, HashMap<u128, Coins, FastHash>)>,
}

/// The axes that a walk goes through.
#[derive(Default)]
pub(super) struct Axes {
    /// The choices that are made before any of an axis.
    pub(super) first: usize,
    blocks: Vec<Block>,
}

impl Axes {
    pub(super) fn new(space: &Space) -> Self {
        let of = |turn: &usize| axis_of(space.free[*turn].choice.id);
        let mut blocks: Vec<Block> = Vec::new();
        let mut last = None;
        for turn in 0..space.free.len() {
            let own = of(&turn);
            if own.is_none() {
                last = None;
                continue;
            }
            match blocks.last_mut().filter(|_| own == last) {
                Some(block) => block.turns.push(turn),
                None => blocks.push(Block {
                    turns: vec![turn],
                    burden: Vec::new(),
                    seen: HashSet::default(),
                    known: Vec::new(),
                }),
            }
            last = own;
        }
        // Guides come before: one choice is no axis.
        blocks.retain(|block| block.turns.len() > 1);
        let first = blocks.first().map_or(usize::MAX, |block| block.turns[0]);
        for block in &mut blocks {
            let early =
                |turn: &usize| of(turn).is_some() || space.free[*turn].choice.id == "supply";
            block.burden = (0..first).filter(early).collect();
            block.burden.extend_from_slice(&block.turns);
        }
        Self { first, blocks }
    }
}

/// The search for the cheapest of one axis.
struct Cheapest<'p, 'f, 'a, 'c> {
    partial: &'p mut Partial<'f, 'a, 'c>,
    options: Vec<usize>,
    made: u128,
    /// What was added before the axis.
    from: Coins,
    best: Option<Coins>,
    blame: u128,
    steps: u64,
    /// The place of the axis.
    at: usize,
}

impl<'w, 'a, 'c> Walk<'w, 'a, 'c> {
    /// Finds out what each axis adds at least, with all made that comes before them.
    pub(super) fn foretell(
        &mut self,
        way: &mut Way<'_, '_, '_>,
        aside: &mut Partial<'_, 'a, 'c>,
        tally: &mut Tally,
    ) -> Result<(), AssessError> {
        let first = self.axes.first;
        let mut sum = Spare::default();
        for at in (0..self.axes.blocks.len()).rev() {
            let Some(one) = self.axis(at, way, aside, tally)? else {
                continue;
            };
            sum = Spare {
                least: sum.least + one.least,
                blame: sum.blame | one.blame,
            };
            let from = self.axes.blocks[at].turns[0];
            let scope: Vec<usize> = (0..first)
                .filter(|&turn| sum.blame & bit(turn) != 0)
                .collect();
            let made = made_for(&scope);
            self.spares.learn(from, scope, sum.least, &way.options);
            way.learn(from, sum, made);
        }
        Ok(())
    }

    /// What an axis adds at least; none where nothing goes together.
    fn axis(
        &mut self,
        at: usize,
        way: &Way<'_, '_, '_>,
        aside: &mut Partial<'_, 'a, 'c>,
        tally: &mut Tally,
    ) -> Result<Option<Spare>, AssessError> {
        let first = self.axes.first;
        let known = self.axes.blocks[at]
            .known
            .iter()
            .find_map(|(scope, known)| {
                let least = known.get(&key(&self.sizes, scope, &way.options))?;
                let blame = bits(scope.iter().copied());
                Some(Spare {
                    least: *least,
                    blame,
                })
            });
        if known.is_some() {
            return Ok(known);
        }
        let turns = self.axes.blocks[at].turns.clone();
        for turn in 0..first {
            aside.make(turn, way.options[turn]);
        }
        let mut search = Cheapest {
            from: aside.added(),
            partial: aside,
            options: way.options.clone(),
            made: before(first),
            best: None,
            blame: 0,
            steps: 0,
            at,
        };
        let done = self.cheapest(&turns, &mut search, tally);
        let Cheapest {
            best, blame, steps, ..
        } = search;
        (0..first).for_each(|_| aside.open());
        tally.spend(steps);
        done?;
        let Some(least) = best else { return Ok(None) };
        let context = turns.iter().map(|&turn| bits(self.floor.beside(turn)));
        let blame = (context.fold(blame, |all, one| all | one)) & before(first);
        let scope: Vec<usize> = (0..first).filter(|&turn| blame & bit(turn) != 0).collect();
        if !is_numbered(&self.sizes, &scope) {
            return Ok(Some(Spare { least, blame }));
        }
        let place = key(&self.sizes, &scope, &way.options);
        let shelves = &mut self.axes.blocks[at].known;
        match shelves.iter_mut().find(|(one, _)| *one == scope) {
            Some((_, known)) => {
                known.insert(place, least);
            }
            None => shelves.push((scope, std::iter::once((place, least)).collect())),
        }
        Ok(Some(Spare { least, blame }))
    }

    fn cheapest(
        &mut self,
        turns: &[usize],
        search: &mut Cheapest<'_, '_, 'a, 'c>,
        tally: &mut Tally,
    ) -> Result<(), AssessError> {
        let Some((&turn, later)) = turns.split_first() else {
            return self.whole(search, tally);
        };
        for place in 0..self.tried[turn].len() {
            let option = self.tried[turn][place];
            search.steps += 1;
            tally.step();
            search.options[turn] = option;
            search.made |= bit(turn);
            search.partial.make(turn, option);
            let added = search.partial.added() - search.from;
            if search.best.is_none_or(|best| added < best) {
                let mut out = self.out(turn, search, tally);
                if out.is_none()
                    && let Some(options) = self.early.next(turn, &search.options, search.made)
                {
                    self.study(&options, tally)?;
                    out = self.out(turn, search, tally);
                }
                match out {
                    Some(blame) => search.blame |= blame,
                    None => self.cheapest(later, search, tally)?,
                }
            }
            search.partial.open();
            search.made &= !bit(turn);
            if tally.is_over() {
                // What is found so far is no floor.
                search.best = Some(0);
                return Ok(());
            }
        }
        Ok(())
    }

    /// Looks at a whole axis that is cheaper than those before, with all else as it is at hand:
    /// it may be too weak, or wrong in another way that nobody met before.
    fn whole(
        &mut self,
        search: &mut Cheapest<'_, '_, 'a, 'c>,
        tally: &mut Tally,
    ) -> Result<(), AssessError> {
        let block = &mut self.axes.blocks[search.at];
        let last = block.turns.last().copied().unwrap_or_default();
        // With another spindle it may be too weak after all, and what has no number is not looked
        // at: that makes a floor lower, no more.
        let is_new = is_numbered(&self.sizes, &block.burden) && {
            let place = key(&self.sizes, &block.burden, &search.options);
            block.seen.insert(place)
        };
        if is_new {
            let options = self.early.beside(&search.options, search.made);
            self.study(&options, tally)?;
            if let Some(blame) = self.out(last, search, tally) {
                search.blame |= blame;
                return Ok(());
            }
        }
        search.best = Some(search.partial.added() - search.from);
        Ok(())
    }

    /// What is to blame for that an option of an axis is out whatever the other axes are.
    fn out(&self, turn: usize, search: &Cheapest, tally: &Tally) -> Option<u128> {
        if self.barred_at(turn, search.options[turn]).is_some() {
            return Some(bit(turn));
        }
        let holds = |because: &Because, value| {
            super::judge::holds(self.request, tally.above, because, value)
        };
        let found = (self.lessons).exclude(turn, &search.options, search.made, holds);
        found.map(|(_, blame)| blame)
    }
}
