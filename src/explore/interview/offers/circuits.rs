//! Where nothing fits on the one circuit that is there: what a second one would allow.

use jiff::civil::Date;

use super::super::descent::Slope;
use super::super::plan::{self, InterviewError, Plan};
use super::super::prompts;
use crate::build::Picked;
use crate::build::choices::working_area::SecondCircuit;
use crate::catalogue::Catalogue;
use crate::explore::find::Answer;
use crate::words::Words as _;

/// The question on it.
pub(super) const QUESTION: &str = "circuits";

/// A build that does what was answered, with a second circuit; none where one is there already,
/// or nothing does even so.
pub(super) fn with_a_second(
    catalogue: &Catalogue,
    plan: &Plan,
    today: Date,
) -> Result<Option<Answer>, InterviewError> {
    let there = Picked::new(catalogue, &plan.build).is_ok_and(|one| one.has_second_circuit());
    let Ok(prompt) = prompts::find(QUESTION) else {
        return Ok(None);
    };
    let mut eased = plan.answers.clone();
    let given = eased.give(prompt, SecondCircuit::There.id(), catalogue, &[]);
    if there || given.is_err() {
        return Ok(None);
    }
    let eased = plan::plan(catalogue, &eased, &plan.free, today)?;
    let targets = eased.targets();
    let slope = Slope {
        catalogue,
        today,
        targets: &targets,
        free: &eased.free,
    };
    let found = slope.down(&eased.build, &mut || std::ops::ControlFlow::Continue(()))?;
    let fits = |one: &Answer| {
        let each = targets.iter();
        each.clone()
            .all(|target| target.is_met(&one.assessment, &one.reading))
    };
    Ok(found.filter(fits))
}
