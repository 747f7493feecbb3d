//! The three builds: what each is asked for, and the search for it.

use std::ops::ControlFlow;

use jiff::civil::Date;

use super::frame::{self, World};
use super::plan::{InterviewError, Plan, Wanted};
use crate::assessment::assess;
use crate::build::{Build, Choice, Edit, edit};
use crate::catalogue::Catalogue;
use crate::explore::find::{self, Answer, Found, Progress, Request, Target};
use crate::explore::reading::Measure;
use crate::explore::trial::Bench;

crate::words! {
    /// One of the three builds that answer an interview.
    Level {
        Thrifty = "thrifty", "thrifty", "The cheapest that does what you asked.";
        Balanced = "balanced", "balanced", "A third stiffer at the tip than the thrifty one, and the cheapest of those.";
        Stiff = "stiff", "stiff", "Four fifths stiffer at the tip than the thrifty one, and the cheapest of those.";
    }
}

impl Level {
    /// How many times as stiff as the thrifty build its tip must be. By how much the three should
    /// lie apart is a matter of taste: a third is felt in the cut, less is hardly worth a choice.
    pub fn stiffer(self) -> f64 {
        match self {
            Self::Thrifty => 1.0,
            Self::Balanced => 4.0 / 3.0,
            Self::Stiff => 1.8,
        }
    }
}

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
    let mut quest = Quest { world, free, watch };
    let mut offers = Vec::with_capacity(3);
    let mut thrifty = quest.search(Level::Thrifty, plan.build.clone(), own(&plan.wanted))?;
    let mut balanced = quest.stiffer(Level::Balanced, &thrifty, &thrifty)?;
    for _ in 0..AGAIN {
        // A frame step can save money together with other parts: then the balanced build is
        // the thriftier one, and what is stiffer is looked for beyond it.
        let cheaper = balanced
            .as_ref()
            .is_some_and(|one| is_cheaper(one, &thrifty));
        if !cheaper {
            break;
        }
        let start = balanced.map_or(plan.build.clone(), |one| one.start);
        thrifty = quest.search(Level::Thrifty, start, own(&plan.wanted))?;
        balanced = quest.stiffer(Level::Balanced, &thrifty, &thrifty)?;
    }
    let before = balanced.as_ref().filter(|one| one.answer().is_some());
    let stiff = match balanced.is_some() {
        true => quest.stiffer(Level::Stiff, &thrifty, before.unwrap_or(&thrifty))?,
        false => None,
    };
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

/// Whether one search found a build that costs less than another's.
fn is_cheaper(one: &Searched, than: &Searched) -> bool {
    match (one.answer(), than.answer()) {
        (Some(one), Some(than)) => one.reading.cost.likely < than.reading.cost.likely,
        _ => false,
    }
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
        let found = find::find(&bench, &request, &mut |progress| watch(level, progress))?;
        Ok(Searched {
            start,
            wanted,
            found,
        })
    }

    /// A build that is stiffer than the thrifty one as its level says, on the frame that a
    /// build before it leads to. None where there is no thrifty one, or it was stopped.
    fn stiffer(
        &mut self,
        level: Level,
        thrifty: &Searched,
        from: &Searched,
    ) -> Result<Option<Searched>, InterviewError> {
        let stopped = thrifty.found.cancelled || from.found.cancelled;
        let (Some(base), Some(before)) = (thrifty.answer(), from.answer()) else {
            return Ok(None);
        };
        if stopped {
            return Ok(None);
        }
        let World {
            catalogue, today, ..
        } = self.world;
        let wish = frame::stiffness(&base.reading) * level.stiffer();
        let start = frame::stiffened(&self.world, before.build.clone(), wish)?;
        let witness = assess(catalogue, &start, today)?;
        let reading = crate::explore::reading::Reading::of(&witness);
        let least = shown(wish.min(frame::stiffness(&reading)));
        let mut wanted = own(self.world.wanted);
        for (target, _) in &mut wanted {
            // No material may be cut worse than by the thrifty build.
            if let Target::Cuts(material, verdict) = target {
                let cutting = &base.assessment.machine.cutting;
                let was = cutting.outlook(material).map(|cut| cut.verdict);
                *verdict = was.map_or(*verdict, |was| was.max(*verdict));
            }
        }
        wanted.push((Target::Figure(Measure::Stiffness, least), None));
        self.search(level, start, wanted).map(Some)
    }
}

/// A stiffness without the digits that nobody is shown; downwards, so that it can be met.
fn shown(stiffness: f64) -> f64 {
    let digits = 10_f64.powi(DIGITS);
    (stiffness * digits).floor() / digits
}
