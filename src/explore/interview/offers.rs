//! The three builds: what each is asked for, and what was found for it.

use std::ops::ControlFlow;

use jiff::civil::Date;

use super::cures::{Cured, Ward, cured};
use super::frame::{self, World};
use super::plan::{InterviewError, Plan};
use super::prompts::{self, Prompt};
use crate::build::{Build, Edit, edit};
use crate::catalogue::Catalogue;
use crate::explore::find::{Answer, Found, Progress, Target};
use crate::rules::Finding;

mod alike;
mod circuits;
mod quest;

pub use alike::Alike;
use quest::Quest;

crate::words! {
    /// One of the three builds that answer an interview.
    Level {
        Thrifty = "thrifty", "thrifty", "The cheapest that does what you asked.";
        Balanced = "balanced", "balanced", "Halfway from the thrifty one to the stiff one: the cheapest that is so stiff at the tip.";
        Stiff = "stiff", "stiff", "Four fifths stiffer at the tip than the thrifty one, or as near to that as your limits let it come, and the cheapest of those.";
    }
}

/// The search for one of the three.
#[derive(Clone, Debug)]
pub struct Searched {
    /// The build that it went out from, with its frame.
    pub start: Build,
    /// The limits, and from which question each comes; those of the level itself from none.
    pub wanted: Vec<(Target, Option<&'static str>)>,
    /// What it came to.
    pub found: Found,
    /// Where nothing fits: the questions without whose limits something does, and the cheapest
    /// build then.
    pub without: Vec<(&'static str, Answer)>,
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
    /// What was found, with the remedies that it got; none where it got none.
    pub cured: Option<Cured>,
    /// The cautions that are left though an answer alone brings them, and that answer.
    pub against: Vec<(Finding, &'static Prompt)>,
}

/// What an interview comes to.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// What the answers mean.
    pub plan: Plan,
    /// The builds, the thrifty one first; that one alone where nothing fits, and as far as it
    /// came where it was stopped.
    pub offers: Vec<Offer>,
    /// Whether it was stopped before its end.
    pub stopped: bool,
}

impl Searched {
    /// The build that fits; none where none does.
    pub fn answer(&self) -> Option<&Answer> {
        self.found.answers.first()
    }

    /// Where nothing fits, a build that only one answer forbids.
    pub fn nearest(&self) -> Option<&Answer> {
        let relaxed = self.found.relaxed.first().map(|one| &one.answer);
        relaxed.or_else(|| self.without.first().map(|(_, answer)| answer))
    }
}

impl Offer {
    /// The build that fits, with its remedies; none where none fits.
    pub fn fit(&self) -> Option<&Answer> {
        let cured = self.cured.as_ref().map(|cured| &cured.answer);
        cured.or_else(|| self.searched.answer())
    }

    /// The build: the one that fits, else the nearest.
    pub fn build(&self) -> Option<&Answer> {
        self.fit().or_else(|| self.searched.nearest())
    }
}

impl Proposal {
    /// The offer of a level.
    pub fn offer(&self, level: Level) -> Option<&Offer> {
        self.offers.iter().find(|offer| offer.level == level)
    }

    /// What the taken build says of itself: which questions were skipped, so that whoever opens
    /// it later knows what was only assumed.
    fn note(&self) -> String {
        let answers = &self.plan.answers;
        let skipped = prompts::all().iter();
        let skipped = skipped.filter(|prompt| answers.given(prompt.id).is_none());
        let names: Vec<&str> = skipped.map(|prompt| prompt.short).collect();
        match names.is_empty() {
            true => "planned by the interview".to_owned(),
            false => format!(
                "planned by the interview; assumed, not asked: {}",
                names.join(", ")
            ),
        }
    }

    /// The build to open or to save: the one of a level, the other two kept beside it as
    /// variants of their names, so that they can be compared later.
    pub fn taken(&self, level: Level) -> Option<Build> {
        let build = &self.offer(level)?.build()?.build;
        let mut taken = build.clone();
        taken.title = format!("First build, {}", crate::words::Words::title(level));
        taken.note = self.note();
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
}

/// What is told how far a search has come, and for which level; it may stop it.
pub type Watch<'a> = &'a mut dyn FnMut(Level, &Progress) -> ControlFlow<()>;

/// Looks for the three builds of a plan.
///
/// # Errors
/// Where a build cannot be assessed.
pub fn propose(
    catalogue: &Catalogue,
    plan: Plan,
    today: Date,
    watch: Watch,
) -> Result<Proposal, InterviewError> {
    let world = World {
        catalogue,
        today,
        wanted: &plan.wanted,
    };
    let mut quest = Quest::new(world, &plan.free, &mut *watch);
    let mut found = quest.all(&plan.build)?;
    let stopped = quest.is_stopped();
    if let Some((_, thrifty)) = found.first_mut()
        && thrifty.answer().is_none()
        && !stopped
    {
        let other = circuits::with_a_second(catalogue, &plan, today, watch)?;
        thrifty
            .without
            .extend(other.map(|answer| (circuits::QUESTION, answer)));
    }
    let base = found.first().map(|(_, thrifty)| thrifty.start.clone());
    let offers = found.into_iter().map(|(level, searched)| {
        let base = base.as_ref().unwrap_or(&searched.start);
        let changed = edit::difference(base, &searched.start).into_iter();
        let ward = Ward {
            catalogue,
            today,
            plan: &plan,
            wanted: &searched.wanted,
        };
        let cured = searched.answer().and_then(|found| cured(&ward, found));
        let fit = cured.as_ref().map(|cured| &cured.answer);
        let fit = fit.or_else(|| searched.answer());
        Offer {
            level,
            against: fit.map(|fit| ward.against(fit)).unwrap_or_default(),
            cured,
            frame: changed.filter(|edit| frame::is_of(edit.choice)).collect(),
            searched,
        }
    });
    let mut offers: Vec<Offer> = offers.collect();
    undercut(&mut offers);
    Ok(Proposal {
        plan,
        offers,
        stopped,
    })
}

/// Remedies may make the thrifty build dearer than one that is stiffer: then that is the thrifty
/// one as well.
fn undercut(offers: &mut [Offer]) {
    let cost = |offer: &Offer| offer.fit().map(|fit| fit.reading.cost.likely);
    let Some((thrifty, others)) = offers.split_first_mut() else {
        return;
    };
    let cheapest = others
        .iter()
        .filter(|one| one.fit().is_some())
        .min_by_key(|one| cost(one));
    let Some(other) = cheapest.filter(|one| cost(one) < cost(thrifty)) else {
        return;
    };
    let answer = other.fit().cloned();
    thrifty.cured = answer.map(|answer| Cured {
        answer,
        cures: other
            .cured
            .as_ref()
            .map_or_else(Vec::new, |cured| cured.cures.clone()),
    });
    thrifty.against = other.against.clone();
}
