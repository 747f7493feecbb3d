//! Files: what is read and refused, what is kept, and that nothing is lost or let in.

#[path = "../common/bench.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod bench;
#[path = "../common/mod.rs"]
mod common;
#[path = "../common/faulty.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod faulty;
#[path = "../common/pty.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod pty;
#[path = "../common/screen.rs"]
#[allow(dead_code, reason = "each group of tests uses a part of it")]
mod screen;
#[path = "../fuzz/targets.rs"]
#[allow(
    unreachable_pub,
    reason = "the package of the fuzz targets uses it as well, from outside"
)]
mod targets;

mod bad_figures;
mod bad_input;
mod bad_overlays;
mod build_files;
mod bundles;
mod formats;
mod fuzz_replay;
mod hostile;
mod hostile_output;
mod hostile_state;
mod journal;
mod own_parts;
mod saving;
mod settings;
