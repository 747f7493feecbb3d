//! What a machine is and does: figures by hand, and laws that hold for every build.

#[path = "../common/mod.rs"]
mod common;

mod cuts;
mod geometry;
mod job;
mod laws;
mod laws_of_cutting;
mod laws_of_every_build;
mod laws_of_motion;
mod laws_of_nesting;
mod laws_of_power;
mod laws_of_stiffness;
mod laws_of_symmetry;
mod measured;
mod power;
mod quantities;
mod stiffness;
mod why;
