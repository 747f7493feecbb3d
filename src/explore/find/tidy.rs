//! What was found, without changes that change nothing: where no inverter is in use a choke before
//! it costs nothing and does nothing, and then what was chosen stays.

use super::FoundBuild;
use crate::assessment::Assessment;
use crate::assessment::json::json;
use crate::build::{Build, edit};
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;

/// A build that was found, with each change taken back that moves no figure, no line of the bill and
/// no warning.
pub(super) fn tidied(bench: &Bench, answer: FoundBuild) -> FoundBuild {
    let told = |build: &Build, of: &Assessment| json(build, of, &[]);
    let (mut build, mut assessment) = (answer.build.clone(), None);
    let is = told(&build, &answer.assessment);
    let mut edits = answer.edits.clone();
    loop {
        let before = edits.len();
        edits.retain(|edit| {
            let mut back = build.clone();
            edit.choice.put(&mut back, &(edit.choice.get)(bench.build));
            let after = bench.assess(&back).ok();
            let Some(after) = after.filter(|after| told(&back, after) == is) else {
                return true;
            };
            (build, assessment) = (back, Some(after));
            false
        });
        // One that was taken back may leave another one without a use.
        if edits.len() == before {
            break;
        }
    }
    match assessment {
        None => answer,
        Some(assessment) => FoundBuild {
            edits: edit::difference(bench.build, &build),
            reading: Reading::of(&assessment),
            build,
            assessment,
        },
    }
}
