//! The frame of each build, settled before the search: tube and plate, one change at a time, each
//! the one that gives most stiffness for its money.
//!
//! Stiffness is that of the tip in its softest direction, as everywhere that one number stands
//! for it. A step counts only if it gives a twentieth more, brings no danger and no fault, and
//! breaks no limit of the place. It is the best first step, not the best of all ways: two steps
//! that only pay together are not seen.

use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::plan::{InterviewError, Wanted};
use crate::assessment::{Assessment, assess};
use crate::build::{Build, Choice, Edit, choices};
use crate::catalogue::Catalogue;
use crate::explore::find::Target;
use crate::explore::reading::{Measure, Reading};
use crate::explore::trial::{Bench, is_bought};
use crate::machine::cutting::CutLimit;

/// The choices of the frame that are stepped through.
const FRAME: &[&str] = &["beam_tube", "base_tube", "plate"];

/// The share that a step adds to the stiffness at least: less is not worth the work.
const NOTICEABLE: f64 = 0.05;

/// The most steps: each goes to a stiffer frame, so that it ends anyway.
const STEPS: usize = 12;

/// What steps are judged with.
#[derive(Clone, Copy)]
pub(super) struct World<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) today: Date,
    pub(super) wanted: &'a [Wanted],
}

/// A change of the frame.
struct Step {
    build: Build,
    after: Assessment,
    price: Decimal,
    gain: f64,
}

impl Step {
    /// Newtons a micrometre for each unit of money; without end where it costs nothing.
    fn worth(&self) -> f64 {
        match self.price.to_f64() {
            Some(price) if price > 0.0 => self.gain / price,
            Some(_) => f64::INFINITY,
            None => 0.0,
        }
    }
}

/// Whether a choice is one of the frame.
pub(super) fn is_of(choice: &Choice) -> bool {
    FRAME.contains(&choice.id)
}

/// The stiffness of the tip in its softest direction, in N/µm.
pub(super) fn stiffness(reading: &Reading) -> f64 {
    let value = reading.value(Measure::Stiffness);
    value.map_or(0.0, |value| value.number)
}

/// The frame of the thrifty build: steps that cost nothing are made, and those without which
/// something wanted cannot be cut for want of stiffness.
pub(super) fn ready(world: &World, build: Build) -> Result<Build, InterviewError> {
    climbed(world, build, |after, step| {
        step.price <= Decimal::ZERO || is_too_soft(world, after)
    })
}

/// The build on a frame with which its tip is so stiff, in N/µm, or as near as steps lead.
pub(super) fn stiffened(world: &World, build: Build, least: f64) -> Result<Build, InterviewError> {
    climbed(world, build, |now, _| stiffness(&Reading::of(now)) < least)
}

/// Makes the best step while it is wanted.
fn climbed(
    world: &World,
    mut build: Build,
    wants: impl Fn(&Assessment, &Step) -> bool,
) -> Result<Build, InterviewError> {
    let mut now = assess(world.catalogue, &build, world.today)?;
    for _ in 0..STEPS {
        let Some(step) = best(world, &build, &now) else {
            break;
        };
        if !wants(&now, &step) {
            break;
        }
        build = step.build;
        now = step.after;
    }
    Ok(build)
}

/// Whether something wanted is cut too badly because the machine is too soft.
fn is_too_soft(world: &World, now: &Assessment) -> bool {
    world.wanted.iter().any(|one| match &one.target {
        Target::Cuts(material, least) => {
            let cut = now.machine.cutting.outlook(material);
            cut.is_some_and(|cut| {
                let soft = matches!(cut.limited_by, CutLimit::Chatter | CutLimit::Stiffness);
                cut.verdict < *least && soft
            })
        }
        _ => false,
    })
}

/// The step that gives most stiffness for its money.
fn best(world: &World, build: &Build, now: &Assessment) -> Option<Step> {
    let bench = Bench {
        catalogue: world.catalogue,
        build,
        before: now,
        today: world.today,
    };
    let before = stiffness(&Reading::of(now));
    let known = FRAME.iter().filter_map(|id| choices::find(id).ok());
    let open = known.filter(|choice| !is_bought(build, choice));
    let edits = open.flat_map(|choice| {
        let options = choice.options(world.catalogue).into_iter();
        options.map(move |value| Edit { choice, value })
    });
    let steps = edits.filter_map(|edit| {
        let trial = bench.trial(edit.applied(build)).ok()?;
        let gain = stiffness(&Reading::of(&trial.after)) - before;
        let good = gain > before * NOTICEABLE && trial.is_sound();
        (good && !is_out_of_place(world, now, &trial.after)).then_some(Step {
            build: trial.build,
            after: trial.after,
            price: trial.price,
            gain,
        })
    });
    // Of equals the first, so that the same answers always lead to the same frame.
    steps.fold(None, |best: Option<Step>, step| match best {
        Some(best) if !is_better(&step, &best) => Some(best),
        _ => Some(step),
    })
}

fn is_better(step: &Step, than: &Step) -> bool {
    let by_worth = step.worth().total_cmp(&than.worth());
    by_worth.then(step.gain.total_cmp(&than.gain)).is_gt()
}

/// Whether a step leaves the place that the machine kept before.
fn is_out_of_place(world: &World, before: &Assessment, after: &Assessment) -> bool {
    let (was, is) = (Reading::of(before), Reading::of(after));
    world.wanted.iter().any(|one| {
        let place = matches!(one.target, Target::Width(_) | Target::Depth(_));
        place && one.target.is_met(before, &was) && !one.target.is_met(after, &is)
    })
}
