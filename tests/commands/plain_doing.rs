//! `--plain` beside the five steps: questions, variants, sheets and payments through a pipe.

use std::process::Output;

use crate::bench::Bench;
use serde_json::Value as Json;

fn run(bench: &Bench, args: &[&str], lines: &str) -> Output {
    let output = bench.program().args(args).write_stdin(lines).output();
    output.expect("a run")
}

/// What is said, in one line.
fn said(output: &Output) -> String {
    let text = String::from_utf8(output.stdout.clone()).expect("text");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn assessed(bench: &Bench, args: &[&str]) -> Json {
    let output = run(bench, &[&["assess", "--json"], args].concat(), "");
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

/// Questions, variants, sheets and payments from a pipe: what is saved and written is what the
/// commands make of the same.
#[test]
fn a_variant_a_question_a_sheet_and_a_payment_go_through_a_pipe() {
    let bench = Bench::new();
    let lines = "clone longer\nquestions\n1\n1\nsheets\n2\ncuts.csv\npaid profile rail\n1\n100\n\
                 2026-11-30\n2\nsave longer.toml\n";
    let output = run(&bench, &["demo", "pier-allrounder", "--plain"], lines);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let text = said(&output);
    for words in [
        "New and open now: longer, like main so far.",
        "Written: cuts.csv.",
        "Spent so far: 100 EUR.",
        "Saved to longer.toml.",
    ] {
        assert!(text.contains(words), "{words}: {text}");
    }
    let json = assessed(&bench, &["longer.toml"]);
    assert_eq!(
        json["cost"]["spent"].as_str().map(|one| one.parse::<f64>()),
        Some(Ok(100.0))
    );
    assert!(json["axes"]["X"]["travel_mm"].as_f64() > Some(800.0));
    let main = assessed(&bench, &["longer.toml", "--variant", "main"]);
    assert_eq!(main["axes"]["X"]["travel_mm"].as_f64(), Some(800.0));
    let sheet = run(
        &bench,
        &["sheet", "longer.toml", "cuts", "--format", "csv"],
        "",
    );
    assert_eq!(
        std::fs::read(bench.path("cuts.csv")).expect("a sheet"),
        sheet.stdout
    );
    // A sheet that is there is kept unless somebody says so; a script then knows.
    let kept = run(&bench, &["--plain", "longer.toml"], "sheets\n1\ncuts.csv\n");
    assert_eq!(kept.status.code(), Some(2), "{kept:?}");
    assert_eq!(
        std::fs::read(bench.path("cuts.csv")).expect("a sheet"),
        sheet.stdout
    );
    let lines = "sheets\n1\ncuts.csv\nreplace\n";
    let replaced = run(&bench, &["--plain", "longer.toml"], lines);
    assert_eq!(replaced.status.code(), Some(0), "{replaced:?}");
    assert_ne!(
        std::fs::read(bench.path("cuts.csv")).expect("a sheet"),
        sheet.stdout
    );
}
