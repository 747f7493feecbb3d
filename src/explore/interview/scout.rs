//! What the looks of an interview have in common, those between the questions and those for what
//! the money buys: they plan for some answers, go down from there, and can be stopped.

use std::ops::ControlFlow;

use jiff::civil::Date;

use super::answers::Answers;
use super::cures::{self, Ward};
use super::descent::{Heed, Slope};
use super::plan::{self, InterviewError, Limit, Plan};
use crate::assessment::AssessError;
use crate::build::{Build, Choice};
use crate::catalogue::Catalogue;
use crate::explore::find::{FoundBuild, Target};

/// What looks around for the answers of an interview: it plans, and goes down from there.
pub(super) struct Scout<'a, 'w> {
    pub(super) catalogue: &'a Catalogue,
    /// The choices that may be changed, as [`plan`](plan::plan) takes them.
    pub(super) free: &'a [&'static Choice],
    pub(super) today: Date,
    /// Told now and then that it still looks; may stop it.
    pub(super) watch: &'w mut dyn FnMut() -> ControlFlow<()>,
    /// Whether it was stopped: nothing is looked for any more.
    pub(super) stopped: bool,
}

impl Scout<'_, '_> {
    /// What answers mean.
    ///
    /// # Errors
    /// As [`plan`](plan::plan).
    pub(super) fn plan(&self, answers: &Answers) -> Result<Plan, InterviewError> {
        plan::plan(self.catalogue, answers, self.free, self.today)
    }

    /// The end of the way down from a build within the limits of a plan; none where it leads to
    /// nothing that fits, or was stopped.
    ///
    /// # Errors
    /// Where the build cannot be assessed.
    pub(super) fn down(
        &mut self,
        plan: &Plan,
        from: &Build,
    ) -> Result<Option<FoundBuild>, AssessError> {
        self.on_slope(plan, |slope, watch| slope.down(from, watch))
    }

    /// The end of the way down from the start of a plan, by every way that a slope knows; none
    /// as there.
    ///
    /// # Errors
    /// Where the build cannot be assessed.
    pub(super) fn cheapest(&mut self, plan: &Plan) -> Result<Option<FoundBuild>, AssessError> {
        self.on_slope(plan, |slope, watch| slope.cheapest(&plan.build, watch))
    }

    /// A build with the remedies that the money allows, where it is limited.
    pub(super) fn mended(
        &self,
        plan: &Plan,
        limit: &Option<Target>,
        found: &FoundBuild,
    ) -> FoundBuild {
        let own = plan.targets().into_iter().chain(limit.clone());
        let wanted: Vec<_> = own.map(Limit::own).collect();
        let ward = Ward {
            catalogue: self.catalogue,
            today: self.today,
            plan,
            wanted: &wanted,
        };
        cures::cured(&ward, found).map_or_else(|| found.clone(), |cured| cured.answer)
    }

    fn on_slope(
        &mut self,
        plan: &Plan,
        go: impl FnOnce(&Slope, Heed) -> Result<Option<FoundBuild>, AssessError>,
    ) -> Result<Option<FoundBuild>, AssessError> {
        if self.stopped {
            return Ok(None);
        }
        let targets = plan.targets();
        let slope = Slope {
            catalogue: self.catalogue,
            today: self.today,
            targets: &targets,
            free: &plan.free,
        };
        go(&slope, &mut || self.go_on())
    }

    /// Asks whether to go on; once stopped, it stays so.
    pub(super) fn go_on(&mut self) -> ControlFlow<()> {
        if !self.stopped && (self.watch)().is_break() {
            self.stopped = true;
        }
        match self.stopped {
            true => ControlFlow::Break(()),
            false => ControlFlow::Continue(()),
        }
    }
}
