//! What was found, without changes that change nothing: beside a hand router any cable to a spindle
//! costs as much and does as much, and then the one that was chosen stays.

use super::Answer;
use crate::assessment::Assessment;
use crate::assessment::json::json;
use crate::build::{Build, edit};
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;

/// A build that was found, with each change taken back that moves no figure, no line of the bill and
/// no warning.
pub(super) fn tidied(bench: &Bench, answer: Answer) -> Answer {
    let told = |build: &Build, of: &Assessment| json(build, of, &[]);
    let (mut build, mut assessment) = (answer.build.clone(), None);
    let is = told(&build, &answer.assessment);
    for edit in &answer.edits {
        let mut back = build.clone();
        edit.choice.put(&mut back, &(edit.choice.get)(bench.build));
        if let Ok(after) = bench.assess(&back)
            && told(&back, &after) == is
        {
            (build, assessment) = (back, Some(after));
        }
    }
    match assessment {
        None => answer,
        Some(assessment) => Answer {
            edits: edit::difference(bench.build, &build),
            reading: Reading::of(&assessment),
            build,
            assessment,
        },
    }
}
