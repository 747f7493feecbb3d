//! Checks against what stands outside the project: published tables, beam theory solved
//! numerically, published curves. Every expected value carries its source beside it.

#[path = "../common/mod.rs"]
mod common;

mod copper;
mod motion;
mod practice;
mod stepper;
mod tubes;
mod whirl;
