//! The search for the cheapest build, against brute force, a general solver and chance.

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/what_if.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod what_if;

mod bounds;
mod lessons;
mod rapids;
mod solver;
mod stopping;
mod targets;
mod threads;
mod truth;
