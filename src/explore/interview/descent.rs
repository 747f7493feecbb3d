//! A quick way down to a cheap build that does what is wanted: one choice after the other takes
//! the option that serves best, over and over until none does better.
//!
//! It is no search: two changes that only pay together are not seen, but for those that mend what
//! the first one breaks, such as the coupling of another motor. So what it comes to is a build
//! that exists, and costs about what the cheapest does, never less.
//!
//! The search has a way down of its own before its walk (`find/descend.rs`), which is another
//! thing: that one begins only at a sound build, passes over what its floors exclude, and mends
//! nothing, but what it meets is counted and learned from. This one makes no floors first, and
//! leads out of a build that has faults.

use std::ops::ControlFlow;

use jiff::civil::Date;
use rust_decimal::Decimal;

use crate::assessment::{AssessError, Assessment, assess};
use crate::build::{Build, Choice, Edit, edit};
use crate::catalogue::Catalogue;
use crate::explore::effect::same;
use crate::explore::find::{self, FoundBuild, Request, Target};
use crate::explore::reading::Reading;
use crate::explore::remedy::candidates;
use crate::explore::trial::{Bench, is_bought};
use crate::units;

/// How often all choices are gone through at most.
const PASSES: usize = 4;

/// Options that break something are mended only where they save at least this part of the cost:
/// what must go along costs something too, and trying takes long.
const WORTH: u32 = 300;

/// How many remedies are made in turn.
const ROUNDS: usize = 8;

/// How much an option may break and still be mended.
const MENDED: usize = 2;

/// How much work the search for a beginning is worth, where the quick way leads nowhere.
const EFFORT: u64 = 600_000;

/// What draws from a circuit besides spindle and extractor, and on which circuit it hangs.
const DRAWING: &[&str] = &["motor_x", "motor_y", "motor_z", "supply", "motor_circuit"];

/// What a way down is led by.
pub(super) struct Slope<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) today: Date,
    pub(super) targets: &'a [Target],
    pub(super) free: &'a [&'static Choice],
}

/// What is told that a way down goes on, and may end it.
pub(super) type Heed<'a> = &'a mut dyn FnMut() -> ControlFlow<()>;

/// How well a build serves, the less the better: first by what is wrong with it.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Rank {
    /// Dangers, faults and missed targets, that of the money apart.
    wrong: usize,
    /// The current that is too much for its circuits, in milliamperes: several small steps may be
    /// needed until it fits.
    too_much: u64,
    /// What it costs.
    cost: Decimal,
}

/// A build on the way down.
type Stage = (Build, Assessment, Rank);

/// What flows on all circuits beyond what may, in milliamperes.
fn too_much(after: &Assessment) -> u64 {
    let circuits = after.machine.electrics.circuits.iter();
    let over = circuits.map(|one| units::ma::from(one.full() - one.allowed).max(0.0));
    over.sum::<f64>().ceil() as u64
}

impl Slope<'_> {
    fn rank(&self, after: &Assessment) -> Rank {
        let reading = Reading::of(after);
        // What it costs is what goes down: were it a target, a fault could be traded for it.
        let missed = self.targets.iter().filter(|target| !target.is_money());
        let missed = missed
            .filter(|target| !target.is_met(after, &reading))
            .count();

        Rank {
            wrong: after.grave().count() + missed,
            too_much: too_much(after),
            cost: after.bill.total.likely,
        }
    }

    /// Goes down from a build by single steps; where these lead to nothing that fits, by what
    /// draws from the circuits first, then from what a short search finds. None where all of that
    /// leads nowhere, or a break of `watch` ends it.
    pub(super) fn cheapest(
        &self,
        start: &Build,
        watch: Heed,
    ) -> Result<Option<FoundBuild>, AssessError> {
        if let Some(found) = self.down(start, watch)? {
            return Ok(Some(found));
        }
        // What overloads a circuit is lifted first, by that alone which draws from it.
        let drawing = self.free.iter().copied();
        let drawing: Vec<&'static Choice> =
            drawing.filter(|one| DRAWING.contains(&one.id)).collect();
        let lighter = Slope {
            free: &drawing,
            ..*self
        };
        if let Some(first) = lighter.down(start, watch)?
            && let Some(found) = self.down(&first.build, watch)?
        {
            return Ok(Some(found));
        }
        if watch().is_break() {
            return Ok(None);
        }
        // Where single steps lead nowhere, a short search finds where to begin.
        let before = assess(self.catalogue, start, self.today)?;
        let bench = Bench {
            catalogue: self.catalogue,
            build: start,
            before: &before,
            today: self.today,
        };
        let limits = self.targets.iter().filter(|target| !target.is_money());
        let request = Request {
            free: self.free.to_vec(),
            effort: Some(EFFORT),
            targets: limits.cloned().collect(),
            against: None,
        };
        let begun = find::find(&bench, &request, &mut |_| watch())?;
        match begun.answers.first() {
            Some(first) => self.down(&first.build, watch),
            None => Ok(None),
        }
    }

    /// Goes down from a build; the end of the way where that is sound and meets every target but
    /// that of the money.
    /// A break of `watch` ends it early.
    pub(super) fn down(
        &self,
        start: &Build,
        watch: &mut dyn FnMut() -> ControlFlow<()>,
    ) -> Result<Option<FoundBuild>, AssessError> {
        let mut build = start.clone();
        let mut now = assess(self.catalogue, &build, self.today)?;
        let mut rank = self.rank(&now);
        for _ in 0..PASSES {
            let before = rank;
            if let Some((better, after, its)) = self.mended(&build, &now, rank) {
                (build, now, rank) = (better, after, its);
            }
            for choice in self.free.iter().filter(|one| !is_bought(start, one)) {
                if watch().is_break() {
                    return Ok(None);
                }
                if let Some((better, after, its)) = self.best(choice, &build, &now, rank) {
                    (build, now, rank) = (better, after, its);
                }
            }
            if rank == before {
                break;
            }
        }
        let answer = FoundBuild {
            edits: edit::difference(start, &build),
            reading: Reading::of(&now),
            build,
            assessment: now,
        };
        Ok((rank.wrong == 0).then_some(answer))
    }

    /// A build whose dangers and faults are mended by remedies of free choices, as far as there
    /// are such: several choices at once, such as another spindle with its clamp and feed, which
    /// single steps never reach. None where nothing was mended.
    fn mended(&self, start: &Build, now: &Assessment, rank: Rank) -> Option<Stage> {
        let is_free = |edit: &Edit| {
            self.free.iter().any(|one| one.id == edit.choice.id) && !is_bought(start, edit.choice)
        };
        let mut best: Option<Stage> = None;
        for _ in 0..ROUNDS {
            let (build, now, rank) = match &best {
                Some((build, now, rank)) => (build, now, *rank),
                None => (start, now, rank),
            };
            let bench = Bench {
                catalogue: self.catalogue,
                build,
                before: now,
                today: self.today,
            };
            let mended = now.grave().find_map(|finding| {
                candidates(&bench, finding)
                    .into_iter()
                    .filter(|edits| edits.iter().all(is_free))
                    .find_map(|edits| {
                        let mut build = build.clone();
                        edits.iter().for_each(|edit| edit.apply(&mut build));
                        let after = bench.assess(&build).ok()?;
                        let gone = !after.findings.iter().any(|one| same(one, finding));
                        // One fault may take another's place that the next round mends.
                        let its = self.rank(&after);
                        (gone && its.wrong <= rank.wrong).then_some((build, after, its))
                    })
            });
            let Some(stage) = mended else { break };
            best = Some(stage);
        }
        best
    }

    /// The option of a choice that serves best, where one serves better than what is chosen.
    fn best(
        &self,
        choice: &'static Choice,
        build: &Build,
        now: &Assessment,
        rank: Rank,
    ) -> Option<Stage> {
        let bench = Bench {
            catalogue: self.catalogue,
            build,
            before: now,
            today: self.today,
        };
        let is = (choice.get)(build);
        let mut best: Option<Stage> = None;
        for value in choice.options(self.catalogue) {
            if value == is {
                continue;
            }
            let mut build = Edit { choice, value }.applied(build);
            let Ok(mut after) = bench.assess(&build) else {
                continue;
            };
            let mut its = self.rank(&after);
            let least = best.as_ref().map_or(rank, |(_, _, rank)| *rank);
            let saves = least.cost - its.cost;
            let worth = saves.saturating_mul(WORTH.into()) > least.cost;
            let breaks = its.wrong.saturating_sub(least.wrong);
            if (1..=MENDED).contains(&breaks) && worth {
                let along = bench.settled(build.clone());
                if along == build {
                    continue;
                }
                let Ok(settled) = bench.assess(&along) else {
                    continue;
                };
                (its, build, after) = (self.rank(&settled), along, settled);
            }
            if its < least {
                best = Some((build, after, its));
            }
        }
        best
    }
}
