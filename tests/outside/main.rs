//! What other programs make of the files that this one writes. They need programs that Rust does
//! not bring along, so they stand apart: `cargo test --test outside -- --ignored` runs them, and
//! `.ci/run` installs what they need. Where one is missing they fail and say so.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

mod browser;
mod spreadsheet;

/// Runs a program with its arguments.
fn run(program: &str, args: &[&str]) -> Output {
    let done = Command::new(program).args(args).output();
    let done = done.unwrap_or_else(|error| {
        panic!("{program} cannot be run ({error}): install it, or leave these tests out")
    });
    assert!(
        done.status.success(),
        "{program} {args:?}: {}",
        String::from_utf8_lossy(&done.stderr)
    );
    done
}

/// This program's answer.
fn answer(args: &[&str]) -> String {
    let program = env!("CARGO_BIN_EXE_gantrywright");
    let done = run(program, args);
    String::from_utf8(done.stdout).expect("text")
}

/// The example build of a name, in a folder of its own.
fn example(folder: &Path, name: &str) -> PathBuf {
    let path = folder.join("build.toml");
    std::fs::write(&path, answer(&["demo", name, "--print"])).expect("written");
    path
}
