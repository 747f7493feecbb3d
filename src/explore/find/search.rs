//! The search itself.

use std::ops::ControlFlow;

use super::{Answer, Found, Progress, Request, Space, usual};
use crate::assessment::{AssessError, assess};
use crate::build::edit;
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;

/// See [`super::find`].
pub(super) fn run(
    bench: &Bench,
    request: &Request,
    watch: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Found, AssessError> {
    let choices = match request.free.is_empty() {
        true => usual(bench.catalogue),
        false => request.free.clone(),
    };
    let space = Space::new(bench.catalogue, bench.build, &choices);
    let mut found = Found {
        assessed: 0,
        excluded: Vec::new(),
        answers: Vec::new(),
        relaxed: Vec::new(),
        fixed: Vec::new(),
        cancelled: false,
        space,
    };
    let combinations = found.space.combinations();
    let mut places = vec![0; found.space.free.len()];
    let mut best: Option<Answer> = None;
    loop {
        let mut build = bench.build.clone();
        for (free, &place) in found.space.free.iter().zip(&places) {
            free.choice.put(&mut build, &free.options[place]);
        }
        let assessment = assess(bench.catalogue, &build, bench.today)?;
        found.assessed += 1;
        let reading = Reading::of(&assessment);
        let meets = |target: &super::Target| target.is_met(&assessment, &reading);
        let dearer = best
            .as_ref()
            .is_some_and(|one| one.reading.cost.likely <= reading.cost.likely);
        if !assessment.is_unsound() && request.targets.iter().all(meets) && !dearer {
            best = Some(Answer {
                edits: edit::difference(bench.build, &build),
                build,
                reading,
                assessment,
            });
        }
        let progress = Progress {
            combinations,
            covered: u128::from(found.assessed),
            assessed: found.assessed,
            best: best.as_ref(),
        };
        if watch(&progress).is_break() {
            found.cancelled = true;
            break;
        }
        let free = &found.space.free;
        let next = (0..places.len())
            .rev()
            .find(|&at| places[at] + 1 < free[at].options.len());
        let Some(at) = next else { break };
        places[at] += 1;
        places[at + 1..].fill(0);
    }
    found.answers = best.into_iter().collect();
    Ok(found)
}
