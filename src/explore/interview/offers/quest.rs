//! The searches: the thrifty build first, then what is stiffer.

use rust_decimal::Decimal;

use super::super::descent::Slope;
use super::super::frame::{self, World};
use super::super::plan::{InterviewError, Limit};
use super::{Level, Searched, Watch};
use crate::assessment::assess;
use crate::build::{Build, Choice};
use crate::explore::find::{self, Found, FoundBuild, Progress, Request, Target};
use crate::explore::reading::Measure;
use crate::explore::trial::Bench;

/// How many times as stiff as the thrifty build the stiff one should be at the tip. How far the
/// three should lie apart is a matter of taste: so much is seen in the depth of every cut.
const STIFF: f64 = 1.8;

/// How often the thrifty build is looked for again on the frame of the balanced one, where that
/// came out cheaper.
const AGAIN: usize = 2;

/// How much work one search is worth, a few seconds: somebody waits for the answer. What is
/// cheapest by then is told with the remark that something cheaper may exist.
const EFFORT: u64 = 3_000_000;

/// Digits of the stiffness behind the point, as it is shown; a limit has no more.
const DIGITS: i32 = 2;

/// What the found build costs; none where there is none.
fn cost(one: &&Searched) -> Option<Decimal> {
    one.answer().map(|answer| answer.reading.cost.likely)
}

/// Whether one search found a build that costs less than another's.
fn is_cheaper(one: &Searched, than: &Searched) -> bool {
    cost(&one)
        .zip(cost(&than))
        .is_some_and(|(one, than)| one < than)
}

/// What the searches share.
pub(super) struct Quest<'a, 'w> {
    world: World<'a>,
    free: &'a [&'static Choice],
    watch: Watch<'w>,
    stopped: bool,
}

impl<'a, 'w> Quest<'a, 'w> {
    /// A quest that goes over some free choices.
    pub(super) fn new(world: World<'a>, free: &'a [&'static Choice], watch: Watch<'w>) -> Self {
        Self {
            world,
            free,
            watch,
            stopped: false,
        }
    }

    /// All three, as far as there are such and nobody stops it.
    pub(super) fn all(&mut self, start: &Build) -> Result<Vec<(Level, Searched)>, InterviewError> {
        let limits = self.world.wanted;
        let start = self.cheap(start, limits)?;
        let Some(mut thrifty) = self.search(Level::Thrifty, start, limits.to_vec())? else {
            return Ok(Vec::new());
        };
        let (mut balanced, mut stiff) = self.stiffer(&thrifty)?;
        for _ in 0..AGAIN {
            // A step can save money once other parts go with it: then the build beyond it is
            // the thriftier one, and what is stiffer is looked for beyond that.
            let beyond = [&balanced, &stiff].into_iter().flatten();
            let beyond = beyond
                .filter(|one| is_cheaper(one, &thrifty))
                .min_by_key(cost);
            let Some(start) = beyond.map(|one| one.start.clone()) else {
                break;
            };
            // One that was stopped, or found nothing cheaper, takes no place of what is there.
            let again = self.search(Level::Thrifty, start, limits.to_vec())?;
            let cheaper = again.filter(|again| !self.stopped && is_cheaper(again, &thrifty));
            let Some(again) = cheaper else { break };
            thrifty = again;
            (balanced, stiff) = self.stiffer(&thrifty)?;
        }
        let all = [
            (Level::Thrifty, Some(thrifty)),
            (Level::Balanced, balanced),
            (Level::Stiff, stiff),
        ];
        let found = all
            .into_iter()
            .filter_map(|(level, one)| Some((level, one?)));
        Ok(found.collect())
    }

    /// The cheapest build that the answers let be, alone; none where there is none, or somebody
    /// stops it.
    pub(super) fn thrifty(&mut self, start: &Build) -> Result<Option<FoundBuild>, InterviewError> {
        let limits = self.world.wanted;
        let start = self.cheap(start, limits)?;
        let found = self.find(Level::Thrifty, &start, limits)?;
        Ok(found.and_then(|found| found.answers.into_iter().next()))
    }

    /// A build on the same frame that is cheap and fits, for the search to go out from: what costs
    /// more is out from the beginning. It is found as the looks between the questions find
    /// theirs, so that the search comes to nothing dearer. The build itself where the way down
    /// leads to none.
    fn cheap(&mut self, start: &Build, limits: &[Limit]) -> Result<Build, InterviewError> {
        let targets: Vec<Target> = limits.iter().map(|one| one.target.clone()).collect();
        let mut looked = self.down(start, &targets)?;
        if looked.is_none() {
            // Money that buys nothing is no reason to begin far away: what is asked costs what it
            // costs.
            let others = targets.iter().filter(|one| !one.is_money());
            let others: Vec<Target> = others.cloned().collect();
            if others.len() < targets.len() {
                looked = self.down(start, &others)?;
            }
        }
        Ok(looked.unwrap_or_else(|| start.clone()))
    }

    /// The cheapest build that a quick way down leads to; none where it leads to none.
    fn down(&mut self, start: &Build, targets: &[Target]) -> Result<Option<Build>, InterviewError> {
        let slope = Slope {
            catalogue: self.world.catalogue,
            today: self.world.today,
            targets,
            free: self.free,
        };
        let watch = &mut self.watch;
        let found = slope.cheapest(start, &mut || watch(Level::Thrifty, &Progress::BEGINNING))?;
        Ok(found.map(|found| found.build))
    }

    /// The cheapest build on the frame of another one, within limits; where there is none,
    /// which question's limits forbid it. None where somebody stops it before it begins.
    fn search(
        &mut self,
        level: Level,
        start: Build,
        wanted: Vec<Limit>,
    ) -> Result<Option<Searched>, InterviewError> {
        let Some(found) = self.find(level, &start, &wanted)? else {
            return Ok(None);
        };
        let mut without = Vec::new();
        let mut prompts: Vec<&'static str> = wanted.iter().filter_map(|one| one.prompt).collect();
        prompts.dedup();
        if !found.answers.is_empty() || self.stopped {
            prompts.clear();
        }
        for id in prompts {
            let others = wanted.iter().filter(|one| one.prompt != Some(id));
            let others: Vec<Limit> = others.cloned().collect();
            let Some(eased) = self.find(level, &start, &others)? else {
                break;
            };
            without.extend(eased.answers.into_iter().next().map(|answer| (id, answer)));
        }
        Ok(Some(Searched {
            start,
            wanted,
            found,
            without,
        }))
    }

    /// One search; none where somebody stops it before it begins.
    fn find(
        &mut self,
        level: Level,
        start: &Build,
        wanted: &[Limit],
    ) -> Result<Option<Found>, InterviewError> {
        let World {
            catalogue, today, ..
        } = self.world;
        let before = assess(catalogue, start, today)?;
        let bench = Bench {
            catalogue,
            build: start,
            before: &before,
            today,
        };
        let request = Request {
            targets: wanted.iter().map(|one| one.target.clone()).collect(),
            against: None,
            free: self.free.to_vec(),
            effort: Some(EFFORT),
        };
        let watch = &mut self.watch;
        // A search may be over before it tells anything: whoever wants to stop can do so here.
        if watch(level, &Progress::BEGINNING).is_break() {
            self.stopped = true;
            return Ok(None);
        }
        let mut told = 0;
        let found = find::find(&bench, &request, &mut |progress| {
            told = told.max(progress.assessed);
            watch(level, progress)
        })?;
        // A short search is over before it tells how far it is.
        if told < found.assessed {
            let assessed = found.assessed;
            let ended = Progress {
                assessed,
                ..Progress::BEGINNING
            };
            self.stopped |= watch(level, &ended).is_break();
        }
        self.stopped |= found.was_stopped();
        Ok(Some(found))
    }

    /// The balanced and the stiff build beyond a thrifty one. None where there is no thrifty
    /// one, nothing stiffer is within the limits, or it was stopped.
    fn stiffer(
        &mut self,
        thrifty: &Searched,
    ) -> Result<(Option<Searched>, Option<Searched>), InterviewError> {
        let Some(base) = thrifty.answer().filter(|_| !thrifty.found.cancelled) else {
            return Ok((None, None));
        };
        let first = frame::stiffness(&base.reading);
        let way = frame::way(&self.world, &base.build, self.free, first * STIFF)?;
        let reached = way.last().map_or(first, |last| last.stiffness);
        if way.len() < 2 {
            return Ok((None, None));
        }
        let most = reached.min(first * STIFF);
        let mut wanted = self.world.wanted.to_vec();
        for limit in &mut wanted {
            // No material may be cut worse than by the thrifty build.
            if let Target::Cuts(material, verdict) = &mut limit.target {
                let cutting = &base.assessment.machine.cutting;
                *verdict = cutting.verdict(material).max(*verdict);
            }
        }
        let halfway = (Level::Balanced, (first + most) / 2.0);
        let balanced = self.level(&way, wanted.clone(), halfway)?;
        match self.stopped {
            true => Ok((balanced, None)),
            false => {
                let stiff = self.level(&way, wanted, (Level::Stiff, most))?;
                Ok((balanced, stiff))
            }
        }
    }

    /// The cheapest build with so stiff a tip, on the first frame of the way that leads there.
    fn level(
        &mut self,
        way: &[frame::Stage],
        mut wanted: Vec<Limit>,
        (level, least): (Level, f64),
    ) -> Result<Option<Searched>, InterviewError> {
        let least = shown(least);
        let Some(stage) = way.iter().find(|stage| stage.stiffness >= least) else {
            return Ok(None);
        };
        wanted.push(Limit::own(Target::Figure(Measure::Stiffness, least)));
        self.search(level, stage.build.clone(), wanted)
    }
}

/// A stiffness without the digits that nobody is shown; downwards, so that it can be met.
fn shown(stiffness: f64) -> f64 {
    let digits = 10_f64.powi(DIGITS);
    (stiffness * digits).floor() / digits
}
