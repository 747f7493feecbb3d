//! Where nothing fits: which target stands in the way, and how far it would have to give way.
//!
//! Each target is left out in turn. Where something fits then, the target is tightened again,
//! halfway between what was found and what was wanted, until the best that it can be is known
//! to a hundredth, or as closely as a few halvings tell.

use std::ops::ControlFlow;

use super::search::once;
use super::target::cautions;
use super::{Found, FoundBuild, Progress, Relaxed, Request, Target};
use crate::assessment::AssessError;
use crate::explore::reading::Measure;
use crate::explore::trial::Bench;
use crate::machine::cutting::Verdict;
use crate::units;
use crate::words::Words as _;

/// How much work one of these searches is worth.
const EFFORT: u64 = 3_000_000;

/// How often a target is tightened.
const TIMES: usize = 7;

/// How close to the best a number is told, as a share.
const CLOSE: f64 = 0.01;

/// What every target by itself could be with all others kept; those that do not help are left
/// out. Whether it was stopped.
///
/// # Errors
/// As [`super::find`].
pub(super) fn relaxed(
    bench: &Bench,
    request: &Request,
    watch: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<(Vec<Relaxed>, bool), AssessError> {
    let mut found = Vec::new();
    for place in 0..request.targets.len() {
        let mut ease = Ease {
            bench,
            request,
            place,
            watch,
            stopped: false,
        };
        found.extend(ease.best()?);
        if ease.stopped {
            return Ok((found, true));
        }
    }
    Ok((found, false))
}

/// One target that gives way.
struct Ease<'e, 'w> {
    bench: &'e Bench<'e>,
    request: &'e Request,
    place: usize,
    watch: &'w mut dyn FnMut(&Progress) -> ControlFlow<()>,
    stopped: bool,
}

impl Ease<'_, '_> {
    /// The best that the target can be, and the cheapest build then.
    fn best(&mut self) -> Result<Option<Relaxed>, AssessError> {
        let Some(free) = self.with(None)? else {
            return Ok(None);
        };
        let wanted = self.request.targets[self.place].clone();
        let Some(mut to) = met(&wanted, &free) else {
            return Ok(Some(self.relaxed(wanted, free)));
        };
        let mut answer = free;
        let mut out = wanted;
        for _ in 0..TIMES {
            let Some(between) = between(&to, &out) else {
                break;
            };
            match self.with(Some(&between))? {
                Some(better) => {
                    to = met(&between, &better).unwrap_or(between);
                    answer = better;
                }
                None => out = between,
            }
            if self.stopped {
                break;
            }
        }
        Ok(Some(self.relaxed(to, answer)))
    }

    fn relaxed(&self, to: Target, answer: FoundBuild) -> Relaxed {
        Relaxed {
            target: self.place,
            to,
            answer,
        }
    }

    /// The cheapest build with another target in the place of this one, or with none.
    fn with(&mut self, other: Option<&Target>) -> Result<Option<FoundBuild>, AssessError> {
        let mut targets = self.request.targets.clone();
        match other {
            Some(other) => targets[self.place] = other.clone(),
            None => {
                targets.remove(self.place);
            }
        }
        let request = Request {
            targets,
            against: None,
            free: self.request.free.clone(),
            effort: Some(self.request.effort.map_or(EFFORT, |most| most.min(EFFORT))),
        };
        let Found {
            answers, cancelled, ..
        } = once(self.bench, &request, self.watch)?;
        self.stopped |= cancelled;
        Ok(answers.into_iter().next())
    }
}

/// A target just as well met as by a build; none where it is met or not.
fn met(target: &Target, answer: &FoundBuild) -> Option<Target> {
    let machine = &answer.assessment.machine;
    match target {
        Target::Figure(measure, _) => {
            let value = answer.reading.value(*measure)?;
            let digits = match measure {
                Measure::Cost => 2,
                _ => value.digits,
            };
            let shown = shown(value.number, digits, measure.more_is_better());
            Some(Target::Figure(*measure, shown))
        }
        Target::Rapids(axis, _) => {
            let value = answer.reading.rapid(*axis);
            Some(Target::Rapids(
                *axis,
                shown(value.number, value.digits, true),
            ))
        }
        Target::Cuts(material, _) => {
            let cut = machine.cutting.outlook(material)?;
            Some(Target::Cuts(*material, cut.verdict))
        }
        Target::Width(_) => Some(Target::Width(whole_mm(machine.geometry.footprint.x))),
        Target::Depth(_) => Some(Target::Depth(whole_mm(machine.geometry.footprint.y))),
        Target::Cautions(_) => Some(Target::Cautions(cautions(&answer.reading))),
        Target::Has(_) | Target::Without(_) => None,
    }
}

/// A number as it is shown, and so that whatever has the number itself meets it.
fn shown(number: f64, digits: usize, more_is_better: bool) -> f64 {
    let scale = 10_f64.powi(digits as i32);
    let scaled = number * scale;
    let whole = match more_is_better {
        true => scaled.floor(),
        false => scaled.ceil(),
    };
    whole / scale
}

fn whole_mm(length: units::Length) -> units::Length {
    units::mm::of(units::mm::from(length).ceil())
}

/// A target between one that can be met and one that cannot; none where they are as good as
/// alike. What a build costs is known to be the least already.
fn between(met: &Target, out: &Target) -> Option<Target> {
    let middle = |met: f64, out: f64| {
        let apart = (out - met).abs() > CLOSE * out.abs();
        apart.then_some((met + out) / 2.0)
    };
    match (met, out) {
        (Target::Figure(Measure::Cost, _), _) => None,
        (Target::Figure(measure, met), Target::Figure(_, out)) => {
            Some(Target::Figure(*measure, middle(*met, *out)?))
        }
        (Target::Rapids(axis, met), Target::Rapids(_, out)) => {
            Some(Target::Rapids(*axis, middle(*met, *out)?))
        }
        (Target::Width(met), Target::Width(out)) => {
            let middle = middle(units::mm::from(*met), units::mm::from(*out))?;
            Some(Target::Width(units::mm::of(middle)))
        }
        (Target::Depth(met), Target::Depth(out)) => {
            let middle = middle(units::mm::from(*met), units::mm::from(*out))?;
            Some(Target::Depth(units::mm::of(middle)))
        }
        (Target::Cautions(met), Target::Cautions(out)) => {
            // Where a search gave up, a later one may find less than what seemed out of reach.
            let apart = met.saturating_sub(*out);
            (apart > 1).then(|| Target::Cautions(out + apart / 2))
        }
        (Target::Cuts(material, met), Target::Cuts(_, out)) => {
            let above = |one: &&Verdict| **one > *met && **one < *out;
            let next = Verdict::ALL.iter().find(above)?;
            Some(Target::Cuts(*material, *next))
        }
        _ => None,
    }
}
