//! The subcommands, as a shell runs them.

#[path = "../common/bench.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod bench;
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/what_if.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod what_if;

mod answers;
mod effects;
mod find;
mod interview;
mod listings;
mod plain;
mod plain_doing;
mod quotes;
mod sheets;
mod why;
