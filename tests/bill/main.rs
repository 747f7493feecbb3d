//! What it costs: landed, estimated, bought, and to run.

#[path = "../common/mod.rs"]
mod common;

mod estimates_of_bills;
mod landed_cost;
mod ordering;
mod purchases;
mod running_cost;
