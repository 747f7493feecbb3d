//! Trying changed builds: what a change leads to as a whole, and what goes along with it so
//! that it fits.
//!
//! A question such as "servo motors?" names the parts that it is about. Drivers and couplings
//! must follow, or the answer would be a machine that does not work. [`Bench::settled`] lets
//! the remedies of the new faults make those changes, but never touches what was asked about.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::effect::{Effect, is_sound, missing_in, turned};
use super::remedy::remedy;
use super::weigh::is_free;
use crate::assessment::{AssessError, Assessment, assess_beside};
use crate::build::{Build, Choice, Edit, Value, edit};
use crate::catalogue::Catalogue;
use crate::order::Order as _;
use crate::rules::{Finding, Severity};

/// How often remedies are asked for in turn: a remedy may need another one beside it.
const ROUNDS: usize = 8;

/// A build, its assessment, and what else changed ones are assessed with.
#[derive(Clone, Copy, Debug)]
pub struct Bench<'a> {
    /// What exists.
    pub catalogue: &'a Catalogue,
    /// The build as it stands.
    pub build: &'a Build,
    /// Its assessment.
    pub before: &'a Assessment,
    /// The day.
    pub today: Date,
}

/// A changed build and what comes of it.
#[derive(Clone, Debug)]
pub struct Trial {
    /// The changed build.
    pub build: Build,
    /// The choices that differ, with their new values.
    pub edits: Vec<Edit>,
    /// Its assessment.
    pub after: Assessment,
    /// Change of the likely total.
    pub price: Decimal,
    /// Findings that it brings, worst first.
    pub added: Vec<Finding>,
    /// Findings that it lifts, worst first.
    pub lifted: Vec<Finding>,
}

impl Trial {
    /// How many findings of a severity it brings.
    pub fn brings(&self, severity: Severity) -> usize {
        let alike = |finding: &&Finding| finding.severity == severity;
        self.added.iter().filter(alike).count()
    }

    /// Whether it brings no danger and no fault.
    pub fn is_sound(&self) -> bool {
        is_sound(&self.added)
    }
}

impl Bench<'_> {
    /// The assessment of a changed build: it takes what did not change from that of the build as
    /// it stands.
    ///
    /// # Errors
    /// As [`assess`](crate::assessment::assess).
    pub fn assess(&self, build: &Build) -> Result<Assessment, AssessError> {
        let known = (self.build, self.before);
        assess_beside(self.catalogue, build, self.today, known)
    }

    /// Assesses a changed build.
    ///
    /// # Errors
    /// As [`Bench::assess`].
    pub fn trial(&self, build: Build) -> Result<Trial, AssessError> {
        let Effect {
            after,
            price,
            added,
            lifted,
        } = turned(self.before, self.assess(&build)?);
        Ok(Trial {
            edits: edit::difference(self.build, &build),
            build,
            after,
            price,
            added,
            lifted,
        })
    }

    /// A changed build with what must go along: while it brings a danger or a fault that a
    /// remedy lifts, that remedy is made, unless it would undo what was changed, touch what is
    /// bought, or give up a wish.
    pub fn settled(&self, build: Build) -> Build {
        self.settled_by(build, &|edit| is_free(edit.choice))
    }

    /// The same, but by changes alone that `may` be made.
    pub(super) fn settled_by(&self, build: Build, may: &dyn Fn(&Edit) -> bool) -> Build {
        let asked: Vec<&str> = edit::difference(self.build, &build)
            .iter()
            .map(|edit| edit.choice.id)
            .collect();
        let bad = |after: &Assessment| {
            let mut new = missing_in(&after.findings, &self.before.findings);
            new.retain(|one| one.severity <= Severity::Fault);
            new
        };
        self.mended(build, ROUNDS, &bad, &|_, edit| {
            !asked.contains(&edit.choice.id) && may(edit) && !is_bought(self.build, edit.choice)
        })
    }

    /// A build with remedies made in turn, so often at most: while it has findings that are `bad`,
    /// the remedy of the first of them that has one all of whose changes `may` be made for it.
    pub(super) fn mended(
        &self,
        mut build: Build,
        rounds: usize,
        bad: &dyn Fn(&Assessment) -> Vec<Finding>,
        may: &dyn Fn(&Finding, &Edit) -> bool,
    ) -> Build {
        for _ in 0..rounds {
            let Ok(after) = self.assess(&build) else {
                return build;
            };
            let changed = Bench {
                build: &build,
                before: &after,
                ..*self
            };
            let next = bad(&after).into_iter().find_map(|finding| {
                let edits = remedy(&changed, &finding);
                let fine = !edits.is_empty() && edits.iter().all(|edit| may(&finding, edit));
                fine.then_some(edits)
            });
            let Some(edits) = next else {
                return build;
            };
            edits.iter().for_each(|edit| edit.apply(&mut build));
        }
        build
    }

    /// Of several builds the one that brings least harm, and among equals the cheapest; the
    /// first of those. None where none can be assessed, or none changes anything.
    ///
    /// Where there are many, only those are completed by remedies that bring least harm as they
    /// are: the remedies of the others would have more to mend.
    pub fn best(&self, builds: impl IntoIterator<Item = Build>) -> Option<Trial> {
        let changed = builds.into_iter().filter(|build| build != self.build);
        let mut raw: Vec<Trial> = changed.filter_map(|build| self.trial(build).ok()).collect();
        raw.order_by_key(rank);
        raw.truncate(COMPLETED);
        let settled = raw.into_iter().map(|trial| self.settled(trial.build));
        let trials = settled.filter_map(|build| self.trial(build).ok());
        trials.min_by_key(rank)
    }
}

/// How many builds are completed by remedies at most.
const COMPLETED: usize = 16;

/// The harm that a trial brings, the worst first, then its price.
fn rank(trial: &Trial) -> (usize, usize, usize, Decimal) {
    let count = |severity| trial.brings(severity);
    (
        count(Severity::Danger),
        count(Severity::Fault),
        count(Severity::Caution),
        trial.price,
    )
}

/// Whether the part that a choice names is bought: what was ordered stays.
pub fn is_bought(build: &Build, choice: &Choice) -> bool {
    let Value::Part(Some(part)) = (choice.get)(build) else {
        return false;
    };
    let Some(purchase) = build.purchases.of(&part) else {
        return false;
    };
    let status = purchase.status();
    let in_hand = purchase.have.is_some_and(|have| !have.is_zero());
    in_hand || status.is_committed() || status.is_here()
}
