//! The warnings: each where it must be, and nowhere else.

#[path = "../common/mod.rs"]
mod common;

mod cases;
mod each_rule;
mod of_frame_and_drive;
mod of_purchases;
mod scopes;
