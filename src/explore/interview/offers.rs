//! The three builds: what each is asked for, and the search for it.

use std::ops::ControlFlow;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::frame::{self, World};
use super::plan::{InterviewError, Plan, Wanted};
use crate::assessment::assess;
use crate::build::{Build, Choice, Edit, edit};
use crate::catalogue::Catalogue;
use crate::explore::find::{self, Answer, Found, Progress, Request, Space, Target};
use crate::explore::reading::Measure;
use crate::explore::trial::Bench;

crate::words! {
    /// One of the three builds that answer an interview.
    Level {
        Thrifty = "thrifty", "thrifty", "The cheapest that does what you asked.";
        Balanced = "balanced", "balanced", "Halfway from the thrifty one to the stiff one: the cheapest that is so stiff at the tip.";
        Stiff = "stiff", "stiff", "Four fifths stiffer at the tip than the thrifty one, or as near to that as your limits let it come, and the cheapest of those.";
    }
}

/// How many times as stiff as the thrifty build the stiff one should be at the tip. How far the
/// three should lie apart is a matter of taste: so much is seen in the depth of every cut.
const STIFF: f64 = 1.8;

/// How often the thrifty build is looked for again on the frame of the balanced one, where that
/// came out cheaper.
const AGAIN: usize = 2;

/// Digits of the stiffness behind the point, as it is shown; a limit has no more.
const DIGITS: i32 = 2;

/// The search for one of the three.
#[derive(Clone, Debug)]
pub struct Searched {
    /// The build that it went out from, with its frame.
    pub start: Build,
    /// The limits, and from which question each comes; those of the level itself from none.
    pub wanted: Vec<(Target, Option<&'static str>)>,
    /// What it came to.
    pub found: Found,
}

/// One of the three builds.
#[derive(Clone, Debug)]
pub struct Offer {
    /// Which.
    pub level: Level,
    /// How it was found.
    pub searched: Searched,
    /// What its frame has other than that of the thrifty one.
    pub frame: Vec<Edit>,
}

/// What an interview comes to.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// What the answers mean.
    pub plan: Plan,
    /// The builds, the thrifty one first; that one alone where nothing fits, and as far as it
    /// came where it was stopped.
    pub offers: Vec<Offer>,
}

impl Searched {
    /// The build that fits; none where none does.
    pub fn answer(&self) -> Option<&Answer> {
        self.found.answers.first()
    }

    /// Where nothing fits, the build that misses only one limit: the first of those found.
    pub fn nearest(&self) -> Option<&Answer> {
        self.found.relaxed.first().map(|one| &one.answer)
    }
}

impl Offer {
    /// The build: the one that fits, else the nearest.
    pub fn build(&self) -> Option<&Answer> {
        let searched = &self.searched;
        searched.answer().or_else(|| searched.nearest())
    }
}

impl Proposal {
    /// The offer of a level.
    pub fn offer(&self, level: Level) -> Option<&Offer> {
        self.offers.iter().find(|offer| offer.level == level)
    }

    /// The build to open or to save: the one of a level, the other two kept beside it as
    /// variants of their names, so that they can be compared later.
    pub fn taken(&self, level: Level) -> Option<Build> {
        let build = &self.offer(level)?.build()?.build;
        let mut taken = build.clone();
        taken.title = format!("First build, {}", crate::words::Words::title(level));
        taken.note = "planned by the interview".to_owned();
        for other in self.offers.iter().filter(|other| other.level != level) {
            let word = crate::words::Words::word(other.level);
            let Some(answer) = other.build() else {
                continue;
            };
            let Ok(mut branched) = taken.branched(crate::build::MAIN, word.id, word.plain) else {
                continue;
            };
            let edits = edit::difference(build, &answer.build);
            edits.iter().for_each(|edit| edit.apply(&mut branched));
            taken = branched.main();
        }
        Some(taken)
    }

    /// Whether a search was stopped before its end.
    pub fn is_cancelled(&self) -> bool {
        let stopped = |offer: &Offer| offer.searched.found.cancelled;
        self.offers.iter().any(stopped)
    }
}

/// What is told how far a search has come, and for which level; it may stop it.
pub type Watch<'a> = &'a mut dyn FnMut(Level, &Progress) -> ControlFlow<()>;

/// Looks for the three builds of a plan. `free` are the choices that may change; where there are
/// none, all that a search usually goes over.
///
/// # Errors
/// Where a build cannot be assessed.
pub fn propose(
    catalogue: &Catalogue,
    plan: Plan,
    free: &[&'static Choice],
    today: Date,
    watch: Watch,
) -> Result<Proposal, InterviewError> {
    let world = World {
        catalogue,
        today,
        wanted: &plan.wanted,
    };
    let usual = find::usual(catalogue);
    let free = if free.is_empty() { &usual } else { free };
    let mut quest = Quest { world, free, watch };
    let mut offers = Vec::with_capacity(3);
    let mut thrifty = quest.search(Level::Thrifty, plan.build.clone(), own(&plan.wanted))?;
    let (mut balanced, mut stiff) = quest.stiffer(&thrifty)?;
    for _ in 0..AGAIN {
        // A step can save money once other parts go with it: then the build beyond it is the
        // thriftier one, and what is stiffer is looked for beyond that.
        let beyond = [&balanced, &stiff].into_iter().flatten();
        let Some(beyond) = beyond
            .filter(|one| is_cheaper(one, &thrifty))
            .min_by_key(cost)
        else {
            break;
        };
        let start = beyond.start.clone();
        thrifty = quest.search(Level::Thrifty, start, own(&plan.wanted))?;
        (balanced, stiff) = quest.stiffer(&thrifty)?;
    }
    let base = thrifty.start.clone();
    let all = [
        (Level::Thrifty, Some(thrifty)),
        (Level::Balanced, balanced),
        (Level::Stiff, stiff),
    ];
    for (level, searched) in all {
        let Some(searched) = searched else { continue };
        offers.push(Offer {
            level,
            frame: edit::difference(&base, &searched.start)
                .into_iter()
                .filter(|edit| frame::is_of(edit.choice))
                .collect(),
            searched,
        });
    }
    Ok(Proposal { plan, offers })
}

/// The limits of the answers.
fn own(wanted: &[Wanted]) -> Vec<(Target, Option<&'static str>)> {
    let each = wanted
        .iter()
        .map(|one| (one.target.clone(), Some(one.prompt)));
    each.collect()
}

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
struct Quest<'a, 'w> {
    world: World<'a>,
    free: &'a [&'static Choice],
    watch: Watch<'w>,
}

impl Quest<'_, '_> {
    /// The cheapest build on the frame of another one, within limits.
    fn search(
        &mut self,
        level: Level,
        start: Build,
        wanted: Vec<(Target, Option<&'static str>)>,
    ) -> Result<Searched, InterviewError> {
        let World {
            catalogue, today, ..
        } = self.world;
        let before = assess(catalogue, &start, today)?;
        let bench = Bench {
            catalogue,
            build: &start,
            before: &before,
            today,
        };
        let request = Request {
            targets: wanted.iter().map(|(target, _)| target.clone()).collect(),
            against: None,
            free: self.free.to_vec(),
        };
        let watch = &mut self.watch;
        // A search may be over before it tells anything: whoever wants to stop can do so here.
        let found = match watch(level, &BEGINNING) {
            ControlFlow::Break(()) => stopped(&bench, &request),
            ControlFlow::Continue(()) => {
                find::find(&bench, &request, &mut |progress| watch(level, progress))?
            }
        };
        Ok(Searched {
            start,
            wanted,
            found,
        })
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
        let mut wanted = own(self.world.wanted);
        for (target, _) in &mut wanted {
            // No material may be cut worse than by the thrifty build.
            if let Target::Cuts(material, verdict) = target {
                let cutting = &base.assessment.machine.cutting;
                let was = cutting.outlook(material).map(|cut| cut.verdict);
                *verdict = was.map_or(*verdict, |was| was.max(*verdict));
            }
        }
        let mut level = |level, least: f64| {
            let least = shown(least);
            let stage = way.iter().find(|stage| stage.stiffness >= least);
            let Some(stage) = stage else { return Ok(None) };
            let mut wanted = wanted.clone();
            wanted.push((Target::Figure(Measure::Stiffness, least), None));
            self.search(level, stage.build.clone(), wanted).map(Some)
        };
        let balanced = level(Level::Balanced, (first + most) / 2.0)?;
        if balanced.as_ref().is_some_and(|one| one.found.cancelled) {
            return Ok((balanced, None));
        }
        Ok((balanced, level(Level::Stiff, most)?))
    }
}

/// How far a search is that has not begun.
const BEGINNING: Progress = Progress {
    combinations: 0,
    covered: 0,
    assessed: 0,
    best: None,
};

/// What a search comes to that was stopped before it began.
fn stopped(bench: &Bench, request: &Request) -> Found {
    Found {
        space: Space::new(bench.catalogue, bench.build, &request.free),
        assessed: 0,
        excluded: Vec::new(),
        answers: Vec::new(),
        relaxed: Vec::new(),
        fixed: Vec::new(),
        cancelled: true,
    }
}

/// A stiffness without the digits that nobody is shown; downwards, so that it can be met.
fn shown(stiffness: f64) -> f64 {
    let digits = 10_f64.powi(DIGITS);
    (stiffness * digits).floor() / digits
}
