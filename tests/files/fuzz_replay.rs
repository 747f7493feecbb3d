//! The kept corpus of the fuzz targets and seeded mutations of it, through the same functions
//! that the fuzzer feeds: nothing panics, and nothing goes on for a minute.

use std::fs;
use std::panic::catch_unwind;
use std::path::Path;
use std::time::{Duration, Instant};

use crate::targets::{TARGETS, Target};
use rand::seq::IndexedRandom as _;
use rand::{RngExt as _, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// What one input may take, however busy the machine: far more than any needs. It tells work
/// that grows with a figure of the file, and judges no speed.
const LONGEST: Duration = Duration::from_secs(60);

/// Pieces that mean something to readers of TOML, CSV and numbers.
const PIECES: [&str; 32] = [
    "1e999",
    "-1e999",
    "nan",
    "-0.0",
    "9223372036854775808",
    "79228162514264337593543950335",
    "0.0000000000000000000000000001",
    "0xffffffffffffffffffff",
    "true",
    "\"none\"",
    "\"\"",
    "'''",
    "\"\"\"",
    "[[",
    "]]",
    "[",
    "{",
    "= ",
    "\n",
    "\r\n",
    "\t",
    ",",
    ";",
    "\u{feff}",
    "\u{202e}",
    "\u{1b}[",
    "9999-12-31",
    "0000-00-00",
    "\" EUR\"",
    "=1+1",
    "\\u0000",
    "\u{1f469}\u{200d}\u{1f527}",
];

/// The kept inputs of a target, in the order of their names.
fn corpus(target: &str) -> Vec<(String, Vec<u8>)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = root.join("tests/fuzz/corpus").join(target);
    let entries = fs::read_dir(&folder).unwrap_or_else(|error| panic!("{folder:?}: {error}"));
    let mut found: Vec<(String, Vec<u8>)> = entries
        .map(|entry| {
            let path = entry.expect("an entry").path();
            let bytes = fs::read(&path).expect("readable");
            (path.display().to_string(), bytes)
        })
        .collect();
    found.sort();
    assert!(found.len() >= 8, "{target}: the corpus is kept");
    found
}

/// One change of the bytes, as fuzzers make them.
fn mutate(bytes: &mut Vec<u8>, others: &[(String, Vec<u8>)], rng: &mut ChaCha8Rng) {
    let at = rng.random_range(0..bytes.len() + 1);
    let end = (at + rng.random_range(1..24)).min(bytes.len());
    match rng.random_range(0..7) {
        0 if at < bytes.len() => bytes[at] = rng.random(),
        1 if at < bytes.len() => bytes[at] ^= 1 << rng.random_range(0..8),
        2 => drop(bytes.drain(at..end)),
        3 => {
            let copy = bytes[at..end].to_vec();
            bytes.splice(at..at, copy);
        }
        4 => {
            let (_, other) = others.choose(rng).expect("some");
            let from = rng.random_range(0..other.len() + 1);
            let to = (from + rng.random_range(1..80)).min(other.len());
            bytes.splice(at..at, other[from..to].iter().copied());
        }
        5 => {
            let piece = PIECES.choose(rng).expect("some");
            bytes.splice(at..end, piece.bytes());
        }
        _ => {
            let piece = PIECES.choose(rng).expect("some");
            bytes.splice(at..at, piece.bytes());
        }
    }
}

fn feed(name: &str, target: Target, bytes: &[u8]) {
    let shown = String::from_utf8_lossy(bytes);
    let start = Instant::now();
    let done = catch_unwind(|| target(bytes));
    assert!(done.is_ok(), "{name} panics over {shown:?}");
    let took = start.elapsed();
    assert!(took <= LONGEST, "{name} takes {took:?} over {shown:?}");
}

fn replay(name: &str, mutations: usize) {
    let (_, target) = TARGETS
        .iter()
        .find(|(known, _)| *known == name)
        .expect("a target");
    let kept = corpus(name);
    for (file, bytes) in &kept {
        feed(file, *target, bytes);
    }
    let mut rng = ChaCha8Rng::seed_from_u64(7);
    for _ in 0..mutations {
        let (file, bytes) = kept.choose(&mut rng).expect("some");
        let mut bytes = bytes.clone();
        for _ in 0..rng.random_range(1..5) {
            mutate(&mut bytes, &kept, &mut rng);
        }
        feed(file, *target, &bytes);
    }
}

#[test]
fn build_files() {
    replay("build_file", 1500);
}

#[test]
fn overlays() {
    replay("overlay", 1500);
}

#[test]
fn offers() {
    replay("quotes", 1000);
}

#[test]
fn bundles() {
    replay("bundle", 1000);
}

#[test]
fn settings() {
    replay("settings", 1500);
}

#[test]
fn key_sequences() {
    replay("keys", 25);
}

#[test]
fn every_target_has_its_binary() {
    let manifest = include_str!("../fuzz/Cargo.toml");
    for (name, _) in TARGETS {
        assert!(manifest.contains(&format!("name = \"{name}\"")), "{name}");
    }
}
