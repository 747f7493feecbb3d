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

/// What this program prints, on one day and with nothing of the user's around it; a danger or a
/// fault ends `assess` with 1, which is no failure here.
fn answer(args: &[&str]) -> String {
    let done = Command::new(env!("CARGO_BIN_EXE_gantrywright"))
        .args(args)
        .env("XDG_CONFIG_HOME", env!("CARGO_TARGET_TMPDIR"))
        .env("GANTRYWRIGHT_TODAY", "2026-11-30")
        .output()
        .expect("this program runs");
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(
        matches!(done.status.code(), Some(0 | 1)),
        "{args:?}: {said}"
    );
    String::from_utf8(done.stdout).expect("text")
}

/// The example build of a name, in a folder of its own.
fn example(folder: &Path, name: &str) -> PathBuf {
    let path = folder.join("build.toml");
    std::fs::write(&path, answer(&["demo", name, "--print"])).expect("written");
    path
}
