//! The warnings: each where it must be, and nowhere else.

#[path = "../common/bench.rs"]
mod bench;
#[path = "../common/mod.rs"]
mod common;

mod bad_own_rules;
mod cases;
mod each_rule;
mod of_frame_and_drive;
mod of_purchases;
mod own_rules;
mod own_rules_told;
mod scopes;
