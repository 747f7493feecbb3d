//! The cheapest build that does what is wanted, among all that the free choices allow, or the
//! whole front of best trades of money against one figure.
//!
//! The answer is exact: every combination of options either was assessed, or was excluded by
//! something that holds for it for certain, and the count of both is the count of all. Two
//! things exclude. A *lesson*: an assessed build has a danger, a fault or too poor a figure,
//! and the choices that alone decide it are declared (see [`Rule::deciders`]); whatever else
//! is chosen, it stays. And a *floor*: what a build costs at least, with some choices made and
//! others open; where that is no less than the best found, nobody need look.
//!
//! [`Rule::deciders`]: crate::rules::Rule::deciders

use crate::assessment::Assessment;
use crate::build::{Build, Choice, Edit};
use crate::rules::{Finding, RuleId};

use super::reading::{Measure, Reading};

mod axes;
mod climb;
mod descend;
mod early;
mod floor;
mod judge;
mod lessons;
mod order;
pub mod probe;
mod relax;
mod search;
mod space;
mod spares;
mod tally;
pub mod target;
mod tidy;
pub mod told;
mod walk;
mod way;

pub use search::find;
pub use space::{Space, frame, usual};
pub use target::{Target, Wish};

/// What is looked for.
#[derive(Clone, Debug, Default)]
pub struct Request {
    /// What every answer must do; besides, no danger and no fault that nobody accepted.
    pub targets: Vec<Target>,
    /// The figure that money is traded for; none where only the cheapest build is wanted.
    pub against: Option<Measure>,
    /// The choices that may be changed; empty for the usual ones ([`usual`]). Whatever is
    /// bought stays.
    pub free: Vec<&'static Choice>,
    /// How much work is worth it: one for each step, [`A_LOOK`] for each build that is
    /// assessed. None to go on until it is proven that nothing is better.
    pub effort: Option<u64>,
}

/// So many choices can be free at once: each is a bit of 128, and so is the end behind the last.
/// The table of choices has fewer that have options.
pub const MOST_FREE: usize = 127;

/// What an assessment counts against a step.
pub const A_LOOK: u64 = 500;

/// How far the search has come.
#[derive(Clone, Debug)]
pub struct Progress<'a> {
    /// All combinations.
    pub combinations: u128,
    /// Of those, how many are assessed or excluded.
    pub covered: u128,
    /// How many were assessed.
    pub assessed: u64,
    /// The best so far.
    pub best: Option<&'a FoundBuild>,
}

impl Progress<'_> {
    /// How far a search is that has not begun, or a look that goes through no combinations.
    pub const BEGINNING: Self = Self {
        combinations: 0,
        covered: 0,
        assessed: 0,
        best: None,
    };
}

/// Why combinations needed no look.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Because {
    /// They cost no less than what was found.
    Dearer,
    /// They bring the finding of a rule.
    Rule(RuleId),
    /// They miss a target, by its place in the request.
    Target(usize),
    /// No option of a later choice is left, whatever these are.
    Follows,
    /// They are no better in the figure that money is traded for.
    NoBetter,
}

/// One build that was found.
#[derive(Clone, Debug)]
pub struct FoundBuild {
    /// The build.
    pub build: Build,
    /// The choices that differ from the build at hand, with their new values.
    pub edits: Vec<Edit>,
    /// Its assessment.
    pub assessment: Assessment,
    /// What is read off it.
    pub reading: Reading,
}

/// A target that stands in the way where nothing fits.
#[derive(Clone, Debug)]
pub struct Relaxed {
    /// Its place in the request.
    pub target: usize,
    /// The best that it can be with all others kept; itself changed so.
    pub to: Target,
    /// The cheapest build then.
    pub answer: FoundBuild,
}

/// What a search came to.
#[derive(Clone, Debug)]
pub struct Found {
    /// What was free.
    pub space: Space,
    /// How many builds were assessed.
    pub assessed: u64,
    /// How many of them were met on the way; the others were looked at besides.
    pub leaves: u128,
    /// How often all combinations were gone through: once, and once more for each build of a
    /// front.
    pub searches: u32,
    /// How many were excluded, and why; with those met on the way, all combinations so often,
    /// unless it was cancelled or findings stand whatever is chosen.
    pub excluded: Vec<(Because, u128)>,
    /// The cheapest build; of a front all builds, the cheapest first. Empty where nothing fits.
    pub answers: Vec<FoundBuild>,
    /// Where nothing fits: targets that alone, relaxed, let something fit.
    pub relaxed: Vec<Relaxed>,
    /// Findings that stand whatever is chosen, where those are why nothing fits.
    pub fixed: Vec<Finding>,
    /// Whether it was stopped before its end.
    pub cancelled: bool,
    /// Whether it was stopped while it asked which target stands in the way. That nothing fits is
    /// proven then, but not all targets were asked about.
    pub eased_in_part: bool,
    /// Whether it gave up, since it had been as much work as was worth it.
    pub gave_up: bool,
}

impl Found {
    /// Whether all combinations were settled: nothing is better than what was found.
    pub fn is_proven(&self) -> bool {
        !self.cancelled && !self.gave_up
    }

    /// Whether somebody stopped it, wherever it was.
    pub fn was_stopped(&self) -> bool {
        self.cancelled || self.eased_in_part
    }
}
