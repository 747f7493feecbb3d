//! The README stays true: its table of keys comes from the keymap, its picture from the
//! program. After a change that is meant: `UPDATE_README=1 cargo test --test readme`.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use gantrywright::screen::keymap::{TABLE, TEXT};
use gantrywright::words::Words;

fn file(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join(name)
}

/// Compares with what stands in the file, or writes it where that is wished.
fn keep(name: &str, wanted: &str) {
    if std::env::var_os("UPDATE_README").is_some() {
        std::fs::write(file(name), wanted).expect("a writable file");
    }
    let there = std::fs::read_to_string(file(name)).unwrap_or_default();
    assert!(
        there == wanted,
        "{name} is out of date: UPDATE_README=1 cargo test --test readme"
    );
}

/// One row for each key and what it does, with the places where it does so.
fn table() -> String {
    let mut rows: BTreeMap<usize, (String, String, Vec<&str>)> = BTreeMap::new();
    for (place, binding) in TABLE.iter().enumerate() {
        let keys: Vec<String> = binding.keys.iter().map(|key| format!("`{key}`")).collect();
        let (keys, long) = (keys.join(", "), binding.long.to_owned());
        let known = rows.iter().find(|(_, row)| row.0 == keys && row.1 == long);
        let at = known.map_or(place, |(at, _)| *at);
        let row = rows.entry(at).or_insert((keys, long, Vec::new()));
        row.2
            .extend(binding.places.iter().map(|place| place.title()));
    }
    let mut text = String::from("| keys | do | where |\n| --- | --- | --- |\n");
    for (keys, long, places) in rows.into_values() {
        let everywhere = places.len() >= 10;
        let typed: Vec<&str> = TEXT.iter().map(|place| place.title()).collect();
        let places = if everywhere && places.iter().all(|place| typed.contains(place)) {
            "wherever text is typed".to_owned()
        } else if everywhere {
            "almost everywhere".to_owned()
        } else {
            places.join(", ")
        };
        text.push_str(&format!("| {keys} | {long} | {places} |\n"));
    }
    text
}

#[test]
fn the_table_of_keys_is_the_keymaps() {
    let readme = std::fs::read_to_string(file("README.md")).expect("a README");
    let (head, rest) = readme
        .split_once("<!-- keys -->\n")
        .expect("a place for the keys");
    let (_, tail) = rest
        .split_once("<!-- end of keys -->")
        .expect("an end of the keys");
    keep(
        "README.md",
        &format!("{head}<!-- keys -->\n{}<!-- end of keys -->{tail}", table()),
    );
}

#[test]
fn the_picture_is_what_the_program_draws() {
    let run = Command::new(env!("CARGO_BIN_EXE_gantrywright"))
        .args([
            "picture",
            "pier-allrounder",
            "--keys",
            "2,down,down,down,enter,down",
        ])
        .env("GANTRYWRIGHT_TODAY", "2026-11-25")
        .env_remove("XDG_CONFIG_HOME")
        .env("HOME", env!("CARGO_TARGET_TMPDIR"))
        .output()
        .expect("the program");
    assert!(
        run.status.success(),
        "{}",
        String::from_utf8_lossy(&run.stderr)
    );
    keep(
        "docs/screen.svg",
        &String::from_utf8(run.stdout).expect("text"),
    );
}

/// The two commands stand where a newcomer looks, each alone on its line.
#[test]
fn the_two_commands_stand_first() {
    let readme = std::fs::read_to_string(file("README.md")).expect("a README");
    let commands: Vec<&str> = readme
        .lines()
        .filter(|line| line.starts_with("cargo "))
        .collect();
    assert_eq!(
        commands,
        ["cargo run --release -- demo", "cargo test --no-fail-fast"]
    );
}
