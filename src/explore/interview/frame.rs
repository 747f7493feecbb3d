//! How far a build can be stiffened, and the frame that this takes, settled before the search:
//! one change at a time, each the one that gives most stiffness for its money.
//!
//! Stiffness is that of the tip in its softest direction, as everywhere that one number stands
//! for it. A step counts only if it gives a fiftieth more, brings no danger, fault or caution,
//! and breaks no limit that was kept before. It is the best next step, not the best of all ways:
//! two steps that only pay together are not seen.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::plan::{InterviewError, Limit};
use crate::assessment::{Assessment, assess};
use crate::build::{Build, Choice, Edit, choices};
use crate::catalogue::Catalogue;
use crate::explore::find::Target;
use crate::explore::reading::{Measure, Reading};
use crate::explore::stiffer;
use crate::explore::trial::{Bench, is_bought};
use crate::explore::weigh;
use crate::machine::cutting::CutLimit;
use crate::rules::Severity;

/// The choices of the frame that are stepped through.
const FRAME: &[&str] = &["beam_tube", "base_tube", "plate"];

/// The share that a step adds to the stiffness at least. Less is lost among what the model does
/// not know.
const NOTICEABLE: f64 = 0.02;

/// The most steps: each goes to a stiffer frame, so that it ends anyway.
const STEPS: usize = 12;

/// What steps are judged with.
#[derive(Clone, Copy)]
pub(super) struct World<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) today: Date,
    pub(super) wanted: &'a [Limit],
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
        weigh::worth(self.gain, self.price)
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
pub(super) fn ready(world: &World, mut build: Build) -> Result<Build, InterviewError> {
    let choices: Vec<&'static Choice> = of_frame().collect();
    let mut now = assess(world.catalogue, &build, world.today)?;
    for _ in 0..STEPS {
        let Some(step) = best(world, &choices, &build, &now) else {
            break;
        };
        if step.price > Decimal::ZERO && !is_too_soft(world, &now) {
            break;
        }
        build = step.build;
        now = step.after;
    }
    Ok(build)
}

/// A place on the way to a stiffer build.
pub(super) struct Stage {
    /// The build there.
    pub(super) build: Build,
    /// Its stiffness, in N/µm.
    pub(super) stiffness: f64,
}

/// The way from a build to one that is so stiff, in N/µm, or as near as steps lead: every build
/// on it, the first one included. The parts of the drive that stiffen it are stepped through as
/// well as the frame, as far as they are free: the search may then find cheaper ones.
pub(super) fn way(
    world: &World,
    build: &Build,
    free: &[&'static Choice],
    least: f64,
) -> Result<Vec<Stage>, InterviewError> {
    let is_free = |choice: &&'static Choice| free.iter().any(|one| one.id == choice.id);
    let drive = stiffer::relevant().into_iter().filter(is_free);
    let drive = drive.filter(|choice| !is_of(choice));
    let choices: Vec<&'static Choice> = of_frame().chain(drive).collect();
    let mut now = assess(world.catalogue, build, world.today)?;
    let mut way = vec![Stage {
        stiffness: stiffness(&Reading::of(&now)),
        build: build.clone(),
    }];
    for _ in 0..STEPS {
        let Some(last) = way.last().filter(|last| last.stiffness < least) else {
            break;
        };
        let Some(step) = best(world, &choices, &last.build, &now) else {
            break;
        };
        now = step.after;
        way.push(Stage {
            stiffness: stiffness(&Reading::of(&now)),
            build: step.build,
        });
    }
    Ok(way)
}

/// The choices of the frame.
fn of_frame() -> impl Iterator<Item = &'static Choice> {
    FRAME.iter().filter_map(|id| choices::find(id).ok())
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
fn best(
    world: &World,
    choices: &[&'static Choice],
    build: &Build,
    now: &Assessment,
) -> Option<Step> {
    let bench = Bench {
        catalogue: world.catalogue,
        build,
        before: now,
        today: world.today,
    };
    let before = stiffness(&Reading::of(now));
    let open = choices.iter().copied();
    let open = open.filter(|choice| !is_bought(build, choice));
    let edits = open.flat_map(|choice| {
        let options = choice.options(world.catalogue).into_iter();
        options.map(move |value| Edit { choice, value })
    });
    let steps = edits.filter_map(|edit| {
        let trial = bench.trial(edit.applied(build)).ok()?;
        let gain = stiffness(&Reading::of(&trial.after)) - before;
        let calm = trial
            .added
            .iter()
            .all(|new| new.severity > Severity::Caution);
        let good = gain > before * NOTICEABLE && calm;
        (good && !breaks_a_limit(world, now, &trial.after)).then_some(Step {
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

/// Whether a step breaks a limit that was kept before it.
fn breaks_a_limit(world: &World, before: &Assessment, after: &Assessment) -> bool {
    let (was, is) = (Reading::of(before), Reading::of(after));
    world
        .wanted
        .iter()
        .any(|one| one.target.is_met(before, &was) && !one.target.is_met(after, &is))
}
