//! What if: builds side by side, variants, weighing, questions and the interview.

#[path = "../common/bench.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod bench;
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/what_if.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod standing;
#[path = "../common/interview.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod talk;

mod beside;
mod compare;
mod faster;
mod interview;
mod interview_answers;
mod interview_circuits;
mod interview_cures;
mod interview_money;
mod losses;
mod questions;
mod remedies;
mod variants;
mod weighing;
