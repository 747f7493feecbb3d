//! What the house promises about itself: which room may use which, what it is built from, that its
//! words are explained, its colours readable, its catalogue and examples sound.

#[path = "../common/mod.rs"]
mod common;
#[path = "../common/paper.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod paper;
#[path = "../common/screen.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod screen;

mod architecture;
mod catalogue;
mod contrast;
mod demos;
mod dependencies;
mod words;
