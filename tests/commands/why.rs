//! `gantrywright why`: what it prints, how a figure is named, and what it says to a wrong name.

use crate::bench::Bench;
use predicates::prelude::*;
use serde_json::Value;

const BUILD: &str = "format = 1\n";

fn said(args: &[&str]) -> String {
    let bench = Bench::new();
    let mut program = bench.program();
    let assert = program
        .args(["why", "-"])
        .args(args)
        .write_stdin(BUILD)
        .assert();
    let output = assert.success().stderr("").get_output().stdout.clone();
    String::from_utf8(output).expect("text")
}

/// 600 mm of travel, 130 between carriages, 61 of carriage, two margins of 15: 821, up to 14
/// pitches of 60.
#[test]
fn a_figure_is_explained_with_all_that_went_in() {
    let text = said(&["axes.X.rail_mm"]);
    for part in [
        "Length of one rail of X: 840 mm",
        "L0 = t + s + c + 2·m",
        "t  600 mm  travel that you wish; your choice: Travel X (travel_x_mm)",
        "frame plan: moving gantry on raised sides",
        "part: 15 mm rail, wide carriage",
        "L0  821 mm  least length",
        "source",
        "limits",
    ] {
        assert!(text.contains(part), "{part} is not in:\n{text}");
    }
    let edited = said(&["axes.X.rail_mm", "--set", "travel_x_mm=800"]);
    assert!(
        edited.starts_with("Length of one rail of X: 1 080 mm"),
        "{edited}"
    );
}

#[test]
fn figures_are_named_by_word_or_number_and_groups_are_listed() {
    let by_word = said(&["bill.tube-80x80x4.total.likely"]);
    let numbered = |text: &str| {
        let json: Value = serde_json::from_str(text).expect("JSON");
        json["path"].as_str().map(str::to_owned)
    };
    let json = said(&["bill[0].total.likely", "--json"]);
    assert_eq!(
        numbered(&json),
        numbered(&said(&["bill.0.total.likely", "--json"]))
    );
    assert!(by_word.contains("T = Q·p"), "{by_word}");
    let all = said(&[]);
    assert!(all.contains("cost.likely"), "{all}");
    let group = said(&["machine"]);
    let paths: Vec<&str> = group
        .lines()
        .filter_map(|line| line.split_whitespace().next())
        .filter(|path| path.starts_with("machine."))
        .filter(|path| *path != "machine.footprint_mm")
        .collect();
    let mut sorted = paths.clone();
    sorted.sort_unstable();
    assert_eq!(
        sorted,
        [
            "machine.base_wall_mm",
            "machine.beam_wall_mm",
            "machine.chain_m",
            "machine.footprint_mm.0",
            "machine.footprint_mm.1",
            "machine.footprint_mm.2",
            "machine.mass_kg"
        ]
    );
    assert!(all.lines().count() > 500);
}

/// What stands behind a sum of many lines is left for those who ask.
#[test]
fn depth_is_a_choice() {
    let shallow = said(&["cost.likely"]);
    let deep = said(&["cost.likely", "--deep"]);
    assert!(shallow.contains("--deep explains them all"), "{shallow}");
    assert!(deep.contains("Quantity of") && deep.len() > 20 * shallow.len());
    let wide = deep
        .lines()
        .chain(shallow.lines())
        .find(|line| unicode_width::UnicodeWidthStr::width(*line) > 80);
    assert_eq!(wide, None);
    let heading = "\n  Likely cost of the step Drive:";
    assert_eq!(deep.matches(heading).count(), 1, "each figure once");
}

#[test]
fn money_is_exact_in_json_too() {
    let json: Value = serde_json::from_str(&said(&["cost.likely", "--json"])).expect("JSON");
    let amount = json["value"].as_str().expect("a decimal string");
    assert!(amount.contains('.'), "{amount}");
    assert_eq!(json["unit"], "EUR");
    let inputs = json["inputs"].as_array().expect("inputs");
    // Five steps, and freight, duty and tax on top.
    assert_eq!(inputs.len(), 8);
    assert_eq!(inputs[0]["origin"]["kind"], "figure");
}

#[test]
fn a_wrong_name_is_answered_with_the_nearest() {
    let bench = Bench::new();
    let wrong = |figure: &str| {
        let mut program = bench.program();
        program
            .args(["why", "-", figure])
            .write_stdin(BUILD)
            .assert()
    };
    wrong("machine.mas_kg")
        .code(2)
        .stdout("")
        .stderr(predicate::str::contains(
            "did you mean \"machine.mass_kg\"?",
        ));
    wrong("quite.another.thing")
        .code(2)
        .stderr(predicate::str::contains("lists them all"));
}

#[test]
fn manual_and_completions_know_the_command() {
    let bench = Bench::new();
    for args in [&["manual"][..], &["completions", "bash"], &["--help"]] {
        let assert = bench.program().args(args).assert().success();
        let output = String::from_utf8_lossy(&assert.get_output().stdout).to_lowercase();
        assert!(output.contains("why"), "{args:?}");
    }
}
