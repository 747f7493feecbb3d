//! `gantrywright quotes`: offers from a spreadsheet end up in the build, and nothing is lost.

use std::fs;

use assert_cmd::Command;
use predicates::str::contains;

const BUILD: &str = "format = 1\n# mine\n[purchases.rail-15] # rails\nquotes = [\n    { price = \"30.00 EUR\", date = \"2026-10-01\" }, # the first\n]\n";

fn program() -> Command {
    let mut command = Command::cargo_bin("gantrywright").expect("the program");
    command.env("GANTRYWRIGHT_TODAY", "2026-11-25");
    command.env("XDG_CONFIG_HOME", "/nonexistent");
    command
}

#[test]
fn offers_are_added_behind_older_ones_and_once_only() {
    let folder = tempfile::tempdir().expect("a folder");
    let build = folder.path().join("b.toml");
    let offers = folder.path().join("q.csv");
    fs::write(&build, BUILD).expect("written");
    let text = "\u{feff}Part;Price;Currency;Supplier;Date\r\n\"rail-15\";\"26,40\";USD;demo-guides;2026-11-20\r\nrail-51;3;;;\r\nswitch;x;;;\r\n";
    fs::write(&offers, text).expect("written");
    let take = || {
        let mut command = program();
        command.arg("quotes").arg(&build).arg(&offers);
        command
    };
    take()
        .arg("--dry-run")
        .assert()
        .code(1)
        .stdout(contains("Taken: 1"))
        .stdout(contains("Nothing was saved."));
    assert_eq!(fs::read_to_string(&build).expect("read"), BUILD);
    take()
        .assert()
        .code(1)
        .stdout(contains("Taken: 1"))
        .stdout(contains("line 3"))
        .stdout(contains("did you mean \"rail-15\"?"));
    let saved = fs::read_to_string(&build).expect("read");
    for kept in ["# mine", "# rails", "# the first", "30.00 EUR", "26.40 USD"] {
        assert!(saved.contains(kept), "{kept}: {saved}");
    }
    take().assert().stdout(contains("There already: 1"));
    assert_eq!(fs::read_to_string(&build).expect("read"), saved);
    program()
        .args(["assess", "--json"])
        .arg(&build)
        .assert()
        .stdout(contains("\"basis\": \"quote\""));
}

#[test]
fn offers_that_cannot_be_read_change_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let build = folder.path().join("b.toml");
    fs::write(&build, BUILD).expect("written");
    program()
        .arg("quotes")
        .arg(&build)
        .arg("-")
        .write_stdin("a,b\n1,2\n")
        .assert()
        .code(2)
        .stderr(contains("standard input:1:1: "));
    program()
        .args(["quotes", "-", "-"])
        .assert()
        .code(2)
        .stderr(contains("must be a file"));
    assert_eq!(fs::read_to_string(&build).expect("read"), BUILD);
}
