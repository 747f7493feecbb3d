//! Where nothing fits on the one circuit that is there: what a second one would allow.

use jiff::civil::Date;

use super::super::frame::World;
use super::super::plan::{self, InterviewError, Plan};
use super::super::prompts;
use super::Watch;
use super::quest::Quest;
use crate::build::Picked;
use crate::build::choices::working_area::SecondCircuit;
use crate::catalogue::Catalogue;
use crate::explore::find::FoundBuild;
use crate::words::Words as _;

/// A build that does what was answered, with a second circuit that is laid for it, however dear;
/// none where one is there already, or nothing does even so.
pub(super) fn with_a_second(
    catalogue: &Catalogue,
    plan: &Plan,
    today: Date,
    watch: Watch,
) -> Result<Option<FoundBuild>, InterviewError> {
    let there = Picked::new(catalogue, &plan.build).is_ok_and(|one| one.has_second_circuit());
    let Ok(prompt) = prompts::find(prompts::CIRCUITS) else {
        return Ok(None);
    };
    let mut eased = plan.answers.clone();
    let given = eased.give(prompt, SecondCircuit::Laid.id(), catalogue, &[]);
    if there || given.is_err() {
        return Ok(None);
    }
    let mut eased = plan::plan(catalogue, &eased, &plan.named, today)?;
    // With two circuits it is open which of them carries the motors.
    let motors = plan::motors_hang_on();
    let open = motors.filter(|motors| eased.free.iter().all(|one| one.id != motors.id));
    eased.free.extend(open);
    eased.wanted.retain(|one| !one.target.is_money());
    let world = World {
        catalogue,
        today,
        wanted: &eased.wanted,
    };
    Quest::new(world, &eased.free, watch).thrifty(&eased.build)
}
