//! How the three builds are come by: the searches first; where nothing fits, what a second
//! circuit would allow and what the money buys; last the remedies of what was found.

use std::ops::ControlFlow;

use jiff::civil::Date;

use super::quest::Quest;
use super::{Assessed, Level, Near, Offer, Proposal, Searched, circuits, near};
use crate::catalogue::Catalogue;
use crate::explore::find::Progress;
use crate::explore::interview::cures::{self, Cured, Ward};
use crate::explore::interview::frame::World;
use crate::explore::interview::lesser::{Lesser, lesser};
use crate::explore::interview::plan::{InterviewError, Plan};
use crate::explore::interview::prompts;

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
    let mut ear = Ear {
        watch,
        assessed: Assessed::default(),
        stopped: false,
    };
    let asked = Asked {
        catalogue,
        plan: &plan,
        today,
    };
    let searched = asked.searched(&mut ear)?;
    let lesser = asked.lesser(&searched, &mut ear)?;
    let offers = searched.into_iter();
    // Whoever stops it wants to see what there is, and remedies and savings take seconds.
    let offers = offers.map(|(level, one)| asked.offer(level, one, !ear.stopped));
    let mut offers: Vec<Offer> = offers.collect();
    undercut(&mut offers);
    Ok(Proposal {
        offers,
        lesser,
        assessed: ear.assessed.all(),
        stopped: ear.stopped,
        plan,
    })
}

/// What every search tells how far it is: once one was stopped, it stays so for all.
struct Ear<'w> {
    watch: Watch<'w>,
    assessed: Assessed,
    stopped: bool,
}

impl Ear<'_> {
    fn hear(&mut self, level: Level, progress: &Progress) -> ControlFlow<()> {
        self.assessed.heard(progress);
        // Whoever stopped it is not asked again.
        self.stopped = self.stopped || (self.watch)(level, progress).is_break();
        match self.stopped {
            true => ControlFlow::Break(()),
            false => ControlFlow::Continue(()),
        }
    }
}

/// What builds are looked for.
struct Asked<'a> {
    catalogue: &'a Catalogue,
    plan: &'a Plan,
    today: Date,
}

impl Asked<'_> {
    /// The searches for the three; where nothing fits, also with a second circuit.
    fn searched(&self, ear: &mut Ear) -> Result<Vec<(Level, Searched)>, InterviewError> {
        let world = World {
            catalogue: self.catalogue,
            today: self.today,
            wanted: &self.plan.wanted,
        };
        let mut watch = |level: Level, progress: &Progress| ear.hear(level, progress);
        let mut quest = Quest::new(world, &self.plan.free, &mut watch);
        let mut found = quest.all(&self.plan.build)?;
        if let Some((_, thrifty)) = found.first_mut()
            && thrifty.answer().is_none()
            && !ear.stopped
        {
            let mut watch = |level: Level, progress: &Progress| ear.hear(level, progress);
            let other = circuits::with_a_second(self.catalogue, self.plan, self.today, &mut watch)?;
            let other = other.map(|answer| (prompts::CIRCUITS, answer));
            thrifty.without.extend(other);
        }
        Ok(found)
    }

    /// What the money buys, where it does not buy what was asked.
    fn lesser(
        &self,
        searched: &[(Level, Searched)],
        ear: &mut Ear,
    ) -> Result<Vec<Lesser>, InterviewError> {
        let thrifty = searched.first().map(|(_, thrifty)| thrifty);
        let Some(thrifty) = thrifty.filter(|one| one.lacks_money() && !ear.stopped) else {
            return Ok(Vec::new());
        };
        let known = thrifty.nearest().map(|near| &near.build);
        let (answers, free) = (&self.plan.answers, &self.plan.named);
        let mut go_on = || ear.hear(Level::Thrifty, &Progress::BEGINNING);
        let found = lesser(self.catalogue, answers, free, self.today, known, &mut go_on)?;
        Ok(found.unwrap_or_default())
    }

    /// What was found for a level; where nothing fits, what is nearest, and what keeps it from
    /// being one that does. With remedies and savings only where it is to be told in full.
    fn offer(&self, level: Level, searched: Searched, in_full: bool) -> Offer {
        let ward = Ward {
            catalogue: self.catalogue,
            today: self.today,
            plan: self.plan,
            wanted: &searched.wanted,
        };
        let found = searched.answer().or_else(|| searched.nearest());
        let cured = found.filter(|_| in_full);
        let cured = cured.and_then(|found| cures::cured(&ward, found));
        let build = cured.as_ref().map(|cured| &cured.answer).or(found);
        let nearest = build.filter(|_| searched.answer().is_none());
        let near = nearest.map(|build| Near {
            savings: match in_full && searched.lacks_money() {
                true => near::savings(&ward, build),
                false => Vec::new(),
            },
            ..near::near(&ward, &searched, build)
        });
        Offer {
            level,
            near,
            against: build.map(|build| ward.against(build)).unwrap_or_default(),
            cured,
            searched,
        }
    }
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
