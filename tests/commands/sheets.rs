//! `gantrywright sheet`: every sheet of every example in every format.

use std::fs;
use std::path::Path;

use assert_cmd::Command;
use gantrywright::sheets::{Format, SheetKind};
use gantrywright::words::Words as _;
use predicates::str::contains;

const EXAMPLES: [&str; 5] = [
    "attic-starter",
    "barn-find",
    "bell-foundry",
    "pier-allrounder",
    "sail-loft-sheet",
];

fn program() -> Command {
    let mut command = Command::cargo_bin("gantrywright").expect("the program");
    command.env("GANTRYWRIGHT_TODAY", "2026-11-25");
    command.env("XDG_CONFIG_HOME", "/nonexistent");
    command
}

fn written(build: &str, kind: &str, format: &str) -> Vec<u8> {
    let mut command = program();
    command.args(["sheet", build, kind, "--format", format]);
    let done = command.output().expect("run");
    let error = String::from_utf8_lossy(&done.stderr).into_owned();
    assert!(done.status.success(), "{build} {kind} {format}: {error}");
    done.stdout
}

#[test]
fn every_sheet_of_every_example_says_something_in_80_columns() {
    for example in EXAMPLES {
        for kind in SheetKind::WORDS {
            let path = format!("demo/builds/{example}.toml");
            let text = String::from_utf8(written(&path, kind.id, "text")).expect("text");
            assert!(text.lines().count() > 8, "{example} {}: {text}", kind.id);
            for line in text.lines() {
                let columns = unicode_width::UnicodeWidthStr::width(line.trim_matches('\u{c}'));
                assert!(columns <= 80, "{example} {}: {line:?}", kind.id);
            }
        }
    }
}

#[test]
fn every_sheet_is_written_in_every_format() {
    for kind in SheetKind::WORDS {
        for format in Format::WORDS {
            let bytes = written("demo/builds/pier-allrounder.toml", kind.id, format.id);
            assert!(bytes.len() > 300, "{} {}", kind.id, format.id);
            if format.id == "json" {
                let value: serde_json::Value = serde_json::from_slice(&bytes).expect("JSON");
                let one = value.get(0).unwrap_or(&value);
                assert!(
                    !one["tables"].as_array().expect("tables").is_empty(),
                    "{}",
                    kind.id
                );
            }
        }
    }
}

/// The parts sheet, line by line, is the bill to the cent.
#[test]
fn the_parts_sheet_adds_up() {
    let bytes = written("demo/builds/bell-foundry.toml", "parts", "json");
    let value: serde_json::Value = serde_json::from_slice(&bytes).expect("JSON");
    let tables = value["tables"].as_array().expect("tables");
    let table = |id: &str| {
        let found = tables
            .iter()
            .find(|table| table["id"] == id)
            .expect("a table");
        found["rows"].as_array().expect("rows").clone()
    };
    let amount = |value: &serde_json::Value| {
        rust_decimal::Decimal::from_str_exact(value.as_str().expect("an amount")).expect("a number")
    };
    let entries = |id: &str| table(id).into_iter().filter(|row| row.get("sum").is_none());
    let sum = |id: &str, column: &str| -> rust_decimal::Decimal {
        entries(id).map(|row| amount(&row[column])).sum()
    };
    let totals = table("totals");
    let total =
        |row: &str| amount(&totals.iter().find(|one| one["row"] == row).expect("a row")["amount"]);
    assert_eq!(sum("parts", "total"), total("goods"));
    for column in ["freight", "duty", "tax"] {
        assert_eq!(sum("suppliers", column), total(column));
    }
    let whole = total("goods") + total("freight") + total("duty") + total("tax");
    assert_eq!(whole, total("likely"));
}

#[test]
fn a_file_that_is_there_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("parts.csv");
    let write = |path: &Path| {
        let mut command = program();
        command.args([
            "sheet",
            "demo/builds/attic-starter.toml",
            "parts",
            "--output",
        ]);
        command.arg(path);
        command
    };
    fs::write(&path, "mine").expect("written");
    write(&path)
        .assert()
        .code(2)
        .stderr(contains("there already"));
    assert_eq!(fs::read_to_string(&path).expect("read"), "mine");
    write(&path).arg("--force").assert().success();
    assert!(
        fs::read_to_string(&path)
            .expect("read")
            .starts_with("table,")
    );
    write(&folder.path().join("parts.pdf"))
        .assert()
        .code(2)
        .stderr(contains("names no format"));
}

#[test]
fn machines_are_rolled_up() {
    let mut command = program();
    command.args([
        "sheet",
        "demo/builds/attic-starter.toml",
        "parts",
        "--machines",
        "3",
    ]);
    command
        .assert()
        .success()
        .stdout(contains("for 3 machines"))
        .stdout(contains("One machine"));
    let mut command = program();
    command.args([
        "assess",
        "demo/builds/attic-starter.toml",
        "--machines",
        "0",
    ]);
    command.assert().code(2).stderr(contains("--machines"));
}
