//! The three builds: what each is asked for, and what was found for it.

use super::cures::Cured;
use super::frame;
use super::lesser::{Lesser, Reach};
use super::plan::{Limit, Plan};
use super::prompts::{self, Prompt};
use crate::build::{Build, Edit, MAIN, edit};
use crate::explore::find::{Found, FoundBuild};
use crate::rules::Finding;
use crate::words::Words as _;

mod alike;
mod assessed;
mod circuits;
mod near;
mod propose;
mod quest;

pub use alike::Alike;
pub use assessed::Assessed;
pub use near::Near;
pub use propose::{Watch, propose};

crate::words! {
    /// One of the three builds that answer an interview.
    Level {
        Thrifty = "thrifty", "thrifty", "The cheapest found that does what you asked.";
        Balanced = "balanced", "balanced", "Halfway from the thrifty one to the stiff one: the cheapest that is so stiff at the tip.";
        Stiff = "stiff", "stiff", "Four fifths stiffer at the tip than the thrifty one, or as near to that as your limits let it come, and the cheapest of those.";
    }
}

/// The search for one of the three.
#[derive(Clone, Debug)]
pub struct Searched {
    /// The build that it went out from, with its frame.
    pub start: Build,
    /// The limits, those of the level itself among them.
    pub wanted: Vec<Limit>,
    /// What it came to.
    pub found: Found,
    /// Where nothing fits: the questions without whose limits something does, and the cheapest
    /// build then.
    pub without: Vec<(&'static str, FoundBuild)>,
}

/// One of the three builds.
#[derive(Clone, Debug)]
pub struct Offer {
    /// Which.
    pub level: Level,
    /// How it was found.
    pub searched: Searched,
    /// What was found, else the nearest, with the remedies that it got; none where it got none. Of
    /// the thrifty one also a stiffer build that is cheaper once remedies are made, with those
    /// that it got, if any.
    pub cured: Option<Cured>,
    /// The cautions that are left though an answer alone brings them, and that answer.
    pub against: Vec<(Finding, &'static Prompt)>,
    /// Where nothing fits: what keeps the nearest build from it.
    pub near: Option<Near>,
}

/// What an interview comes to.
#[derive(Clone, Debug)]
pub struct Proposal {
    /// What the answers mean.
    pub plan: Plan,
    /// The builds, the thrifty one first; that one alone where nothing fits, and as far as it
    /// came where it was stopped.
    pub offers: Vec<Offer>,
    /// Where the money does not buy what was asked: what it buys where answers give way.
    pub lesser: Vec<Lesser>,
    /// How many builds were assessed by all searches together, as far as they told.
    pub assessed: u64,
    /// Whether it was stopped before its end.
    pub stopped: bool,
}

impl Searched {
    /// The build that fits; none where none does.
    pub fn answer(&self) -> Option<&FoundBuild> {
        self.found.answers.first()
    }

    /// Where nothing fits, a build that only one answer forbids.
    pub fn nearest(&self) -> Option<&FoundBuild> {
        let relaxed = self.found.relaxed.first().map(|one| &one.answer);
        relaxed.or_else(|| self.without.first().map(|(_, answer)| answer))
    }

    /// Whether nothing fits, and the nearest costs more than there is.
    pub fn lacks_money(&self) -> bool {
        let nearest = self.nearest().filter(|_| self.answer().is_none());
        nearest.is_some_and(|near| {
            let mut limits = self.wanted.iter().map(|one| &one.target);
            limits.any(|one| one.is_money() && !one.is_met(&near.assessment, &near.reading))
        })
    }
}

impl Offer {
    /// The build that fits, with its remedies; none where none fits.
    pub fn fit(&self) -> Option<&FoundBuild> {
        let found = self.searched.answer()?;
        let cured = self.cured.as_ref().map(|cured| &cured.answer);
        cured.or(Some(found))
    }

    /// The build: the one that fits, else the nearest.
    pub fn build(&self) -> Option<&FoundBuild> {
        let cured = self.cured.as_ref().map(|cured| &cured.answer);
        cured
            .or_else(|| self.fit())
            .or_else(|| self.searched.nearest())
    }
}

impl Proposal {
    /// The offer of a level.
    pub fn offer(&self, level: Level) -> Option<&Offer> {
        self.offers.iter().find(|offer| offer.level == level)
    }

    /// What the frame of an offered build has other than that of the thrifty one.
    pub fn frame(&self, offer: &Offer) -> Vec<Edit> {
        let thrifty = self.offers.first().and_then(Offer::build);
        let both = thrifty.zip(offer.build());
        let each = both.map(|(thrifty, own)| edit::difference(&thrifty.build, &own.build));
        let frame = each.into_iter().flatten();
        frame.filter(|edit| frame::is_of(edit.choice)).collect()
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

    /// The build to open where answers give way so that the money does: what was asked of them
    /// stays as the milder answers say.
    pub fn taken_lesser(&self, place: usize) -> Option<Build> {
        let lesser = self.lesser.get(place)?;
        let mut taken = lesser.answer.build.clone();
        // The money is still what it was: it was left out while it was looked for.
        let money = |edit: &&Edit| edit.choice.id == "budget";
        let answers = &self.plan.answers;
        answers
            .edits()
            .filter(money)
            .for_each(|edit| edit.apply(&mut taken));
        taken.title = match lesser.reach {
            Reach::Money => "First build, for the money",
            Reach::Saves => "First build, with one answer less",
            Reach::Least => "First build, the least that was tried",
        }
        .to_owned();
        let gave = lesser.gives.iter().map(|prompt| prompt.short);
        let gave = gave.collect::<Vec<_>>().join(", ");
        taken.note = format!("{}; gave way to the money: {gave}", self.note());
        Some(taken)
    }

    /// The build to open or to save: the one of a level, the other two kept beside it as
    /// variants of their names, so that they can be compared later. It is the one that was shown
    /// and priced: where the nearest build takes something else than was answered, a second circuit
    /// that is not there, it keeps that, and its note says so.
    pub fn taken(&self, level: Level) -> Option<Build> {
        let offer = self.offer(level)?;
        let build = &offer.build()?.build;
        let mut taken = build.clone();
        taken.title = format!("First build, {}", level.title());
        taken.note = self.note();
        let changed = offer.near.iter().flat_map(|near| &near.changed);
        let changed: Vec<&str> = changed.map(|prompt| prompt.short).collect();
        if !changed.is_empty() {
            let changed = changed.join(", ");
            taken.note = format!("{}; not as answered: {changed}", taken.note);
        }
        for other in self.offers.iter().filter(|other| other.level != level) {
            let word = other.level.word();
            let Some(answer) = other.build() else {
                continue;
            };
            let Ok(mut branched) = taken.branched(MAIN, word.id, word.plain) else {
                continue;
            };
            let edits = edit::difference(build, &answer.build);
            edits.iter().for_each(|edit| edit.apply(&mut branched));
            taken = branched.main();
        }
        Some(taken)
    }
}
