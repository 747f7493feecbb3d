//! The walk through all combinations: one choice after the other, in the order in which masses
//! and forces flow, the cheapest option first. What the floor or a lesson excludes is counted
//! and passed over; what is left at the end of a way is assessed.
//!
//! Where no option of a choice is left, the walk goes back to the last choice that is to blame
//! for that, and passes over all between: they would change nothing. What was found out on the
//! way is kept, as a lesson or as a floor of what comes ([`super::spares`]).

use super::axes::Axes;
use super::early::Early;
use super::floor::{Floor, Partial};
use super::judge::{barred, holds};
use super::lessons::{Lesson, Lessons};
use super::order::lightest;
use super::spares::{Spare, Spares, made_for};
use super::tally::Tally;
use super::way::{Exit, Way, before, bit, bits};
use super::{Because, Request, Space};
use crate::assessment::AssessError;
use crate::bill::floor::Coins;
use crate::build::{Build, PerAxis};
use crate::explore::trial::Bench;
use crate::rules::Finding;

/// How many steps of the walk go by between two reports.
const REPORT: u64 = 4096;

/// Derived lessons of more choices than this are not kept: they seldom hold again.
const FEW: u32 = 9;

/// The same of what is known of costs.
const MANY: u32 = 14;

/// Lessons of so many choices at most are small.
const SMALL: usize = 4;

/// A walk with all that it knows.
pub(super) struct Walk<'w, 'a, 'c> {
    pub(super) bench: &'w Bench<'w>,
    pub(super) request: &'w Request,
    /// The build whose free choices are made.
    pub(super) base: &'w Build,
    pub(super) space: &'w Space,
    pub(super) floor: &'w Floor<'a, 'c>,
    pub(super) lessons: Lessons,
    pub(super) spares: Spares,
    pub(super) sizes: Vec<usize>,
    pub(super) early: Early,
    pub(super) axes: Axes,
    /// Options that are out by themselves, and why.
    barred: Vec<((usize, usize), Because)>,
    /// For each axis ways to make its load lighter: all that it carries, and of that what
    /// weighs least.
    pub(super) light: PerAxis<Vec<Vec<(usize, usize)>>>,
    /// The choices that share a named need with one from a turn on, a bit for each.
    context: Vec<u128>,
    /// The options of each choice in the order in which they are tried.
    pub(super) tried: Vec<Vec<usize>>,
    /// Combinations of all choices from a turn on; `u128::MAX` where they are more.
    behind: Vec<u128>,
    /// Findings that stand whatever is chosen.
    pub(super) fixed: Vec<Finding>,
}

impl<'w, 'a, 'c> Walk<'w, 'a, 'c> {
    pub(super) fn new(
        bench: &'w Bench<'w>,
        request: &'w Request,
        base: &'w Build,
        space: &'w Space,
        floor: &'w Floor<'a, 'c>,
    ) -> Self {
        let mut behind = vec![1; space.free.len() + 1];
        for (turn, one) in space.free.iter().enumerate().rev() {
            behind[turn] = u128::saturating_mul(behind[turn + 1], one.options.len() as u128);
        }
        let mut context = vec![0; space.free.len()];
        for turn in (0..space.free.len()).rev() {
            context[turn] = bits(floor.beside(turn)) | context.get(turn + 1).unwrap_or(&0);
        }
        let mut partial = Partial::new(floor, space);
        let tried = (space.free.iter().enumerate()).map(|(turn, one)| {
            let mut priced: Vec<(Coins, usize)> = Vec::new();
            for option in 0..one.options.len() {
                partial.make(turn, option);
                priced.push((partial.least(), option));
                partial.open();
            }
            priced.sort_unstable();
            priced.into_iter().map(|(_, option)| option).collect()
        });
        Self {
            tried: tried.collect(),
            lessons: Lessons::new(space),
            spares: Spares::new(space),
            sizes: space.sizes(),
            early: Early::new(space, base),
            axes: Axes::new(space),
            barred: barred(request, space, floor),
            light: PerAxis::from_fn(|axis| lightest(bench.catalogue, floor, space, axis)),
            context,
            bench,
            request,
            base,
            space,
            floor,
            behind,
            fixed: Vec::new(),
        }
    }

    /// Looks for the cheapest build; what earlier walks learned is kept.
    pub(super) fn go(&mut self, tally: &mut Tally) -> Result<(), AssessError> {
        let turns = self.space.free.len();
        let mut way = Way::new(Partial::new(self.floor, self.space), turns);
        self.spares.add(0, &way.options, &mut way.known[0]);
        let mut aside = Partial::new(self.floor, self.space);
        if turns == 0 {
            tally.met();
            return self.judge(self.base, tally).map(|_| ());
        }
        let mut steps = 0_u64;
        loop {
            steps += 1;
            if steps.is_multiple_of(REPORT) {
                tally.spend(REPORT);
                if tally.report() || tally.is_over() {
                    return Ok(());
                }
            }
            let turn = way.turn;
            if turn == self.axes.first && way.places[turn] == 0 {
                self.foretell(&mut way, &mut aside, tally)?;
            }
            let Some(&option) = self.tried[turn].get(way.places[turn]) else {
                if !self.back(&mut way, &mut aside, tally) {
                    return Ok(());
                }
                continue;
            };
            way.make(option);
            way.know(&self.spares);
            let mut exit = self.exit(&way, tally);
            if exit.is_none()
                && turn + 1 < turns
                && let Some(options) = self.early.next(turn, &way.options, before(turn + 1))
            {
                self.study(&options, tally)?;
                exit = self.exit(&way, tally);
            }
            let exit = match exit {
                None if turn + 1 < turns => {
                    way.turn += 1;
                    continue;
                }
                None => self.leaf(&way, tally)?,
                Some(exit) => {
                    tally.exclude(exit.because.clone(), self.behind[turn + 1]);
                    exit
                }
            };
            way.partial.open();
            way.places[turn] += 1;
            if tally.is_over() {
                return Ok(());
            }
            way.take(&exit);
            if exit.spare.is_none() && exit.blame & bit(turn) == 0 {
                // No other option here helps, and what was tried before is beside the point.
                self.skip(tally, &way, turn, &exit.because);
                way.places[turn] = self.tried[turn].len();
                way.blame[turn] = exit.blame;
                way.spare[turn] = None;
            }
        }
    }

    /// Goes back to the last choice that is to blame for that no option is left: the others
    /// between would change nothing. Whether there is any.
    fn back(&mut self, way: &mut Way<'_, '_, '_>, aside: &mut Partial, tally: &mut Tally) -> bool {
        let from = way.turn;
        let (mut blame, spare) = (way.blame[from], way.spare[from]);
        way.clear();
        if spare.is_some() {
            blame |= self.context[from] & before(from);
        }
        self.keep(from, blame, spare, way);
        let reach = match spare {
            None => blame,
            Some(spare) => self.reach(way, aside, (from, blame, spare), tally),
        };
        loop {
            if way.turn == 0 {
                return false;
            }
            way.turn -= 1;
            let gained = way.gained();
            way.partial.open();
            way.places[way.turn] += 1;
            if reach & bit(way.turn) != 0 {
                if spare.is_some() && way.turn + 1 < from {
                    self.keep(way.turn + 1, blame, spare, way);
                }
                // The choices between are open: what they could add is left out.
                way.take(&Exit {
                    because: Because::Follows,
                    blame,
                    spare: spare.map(|spare| gained + spare),
                });
                return true;
            }
            self.skip(tally, way, way.turn, &Because::Follows);
            way.clear();
        }
    }

    /// Keeps what was found out about all that comes from a turn on.
    fn keep(&mut self, turn: usize, blame: u128, spare: Option<Coins>, way: &mut Way) {
        let options = &way.options;
        let scope = (0..turn).filter(|&one| blame & bit(one) != 0);
        match spare {
            None if blame.count_ones() <= FEW => {
                let lesson = Lesson::plain(Because::Follows, scope.collect());
                self.lessons.learn(&lesson, options);
            }
            Some(least) if blame.count_ones() <= MANY => {
                let scope: Vec<usize> = scope.collect();
                let blame = bits(scope.iter().copied());
                let made = made_for(&scope);
                self.spares.learn(turn, scope, least, options);
                way.learn(turn, Spare { least, blame }, made);
            }
            _ => {}
        }
    }

    /// The choices before a turn that are to blame for that nothing from it on is cheap
    /// enough: those that raised the floor, where they alone, all others open, leave too
    /// little; else all.
    fn reach(
        &self,
        way: &Way<'_, '_, '_>,
        aside: &mut Partial,
        (turn, blame, spare): (usize, u128, Coins),
        tally: &Tally,
    ) -> u128 {
        let blamed = blame | (way.raised & before(turn));
        // What makes no difference to the cost, and is not to blame for anything else, would
        // lead to the same end with every option.
        let idle = way.partial.idle() & !blame;
        let differs = (0..turn).rev().find(|&one| idle & bit(one) == 0);
        let differs = differs.map_or(0, |last| before(last + 1));
        let Some(last) = turn.checked_sub(1).filter(|&last| blamed & bit(last) == 0) else {
            return differs;
        };
        let Some((cap, _)) = tally.cap(self.request).filter(|_| idle & bit(last) == 0) else {
            return differs;
        };
        let mut made = 0;
        for one in (0..turn).filter(|&one| blamed & bit(one) != 0) {
            aside.make(one, way.options[one]);
            made += 1;
        }
        let enough = aside.least_with(spare) >= cap;
        (0..made).for_each(|_| aside.open());
        if enough { blamed } else { differs }
    }

    /// Counts the options that are left at a turn as excluded.
    fn skip(&self, tally: &mut Tally, way: &Way<'_, '_, '_>, turn: usize, because: &Because) {
        let left = self.tried[turn].len() - way.places[turn];
        let many = u128::saturating_mul(left as u128, self.behind[turn + 1]);
        tally.exclude(because.clone(), many);
    }

    /// Why an option is out by itself, where it is.
    pub(super) fn barred_at(&self, turn: usize, option: usize) -> Option<&Because> {
        let mut barred = self.barred.iter();
        let found = barred.find(|(one, _)| *one == (turn, option));
        found.map(|(_, because)| because)
    }

    /// Why every build with the options that are made is out, where it is.
    fn exit(&self, way: &Way<'_, '_, '_>, tally: &Tally) -> Option<Exit> {
        let (turn, options) = (way.turn, &way.options);
        if let Some(because) = self.barred_at(turn, options[turn]) {
            return Some(Exit {
                because: because.clone(),
                blame: bit(turn),
                spare: None,
            });
        }
        let holds = |because: &Because, value| holds(self.request, tally.above, because, value);
        if let Some((because, blame)) = self.lessons.exclude(turn, options, before(turn + 1), holds)
        {
            return Some(Exit {
                because: because.clone(),
                blame,
                spare: None,
            });
        }
        let (cap, because) = tally.cap(self.request)?;
        let gained = way.gained();
        if way.partial.least() >= cap {
            return Some(Exit {
                because,
                blame: 0,
                spare: Some(gained),
            });
        }
        let spare = way.spare();
        let is_enough = spare.least > 0 && way.partial.least_with(spare.least) >= cap;
        is_enough.then(|| Exit {
            because,
            blame: spare.blame,
            spare: Some(gained + spare.least),
        })
    }

    /// The build of some options.
    pub(super) fn build(&self, options: &[usize]) -> Build {
        let mut build = self.base.clone();
        for (free, &option) in self.space.free.iter().zip(options) {
            free.choice.put(&mut build, &free.options[option]);
        }
        build
    }

    /// Assesses a whole combination. Where it is out, of several reasons the one that reaches
    /// back farthest; where it is sound, whatever comes now must be cheaper.
    fn leaf(&mut self, way: &Way<'_, '_, '_>, tally: &mut Tally) -> Result<Exit, AssessError> {
        tally.met();
        let (lessons, _) = self.study(&way.options, tally)?;
        let first = lessons
            .iter()
            .min_by_key(|one| one.scope.last().map(|last| last + 1));
        let exit = match first {
            Some(one) => Exit {
                because: one.because.clone(),
                blame: bits(one.scope.iter().copied()),
                spare: None,
            },
            None => Exit {
                because: Because::Dearer,
                blame: 0,
                spare: Some(way.gained()),
            },
        };
        Ok(exit)
    }

    /// Assesses a build, keeps it where it is the best so far, and learns why it is out; with
    /// what it costs.
    pub(super) fn study(
        &mut self,
        options: &[usize],
        tally: &mut Tally,
    ) -> Result<(Vec<Lesson>, Coins), AssessError> {
        let build = self.build(options);
        let (mut lessons, cost) = self.judge(&build, tally)?;
        // A lesson of few choices is worth more than all others together.
        if lessons.iter().any(|one| one.scope.len() <= SMALL) {
            lessons.retain(|one| one.scope.len() <= SMALL);
        } else {
            for lesson in &mut lessons {
                self.narrow(lesson, options, tally)?;
            }
        }
        for lesson in &lessons {
            self.lessons.learn(lesson, options);
        }
        if tally.assessed.is_multiple_of(16) {
            tally.report();
        }
        Ok((lessons, cost))
    }
}
