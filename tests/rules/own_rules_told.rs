//! What the program says of rules of one's own: on the command line, in JSON, line by line and from
//! a bundle.

use crate::bench::Bench;
use crate::own_rules::documented;
use serde_json::Value;

const ID: &str = "too-long-for-the-club";

fn bench() -> Bench {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    bench.write("club/rules.toml", documented());
    bench
}

/// What a run prints, with its exit code.
fn run(bench: &Bench, args: &[&str], input: &str) -> (Option<i32>, String) {
    let output = bench.program().args(args).write_stdin(input).output();
    let output = output.expect("a run");
    let said = [output.stdout, output.stderr].concat();
    (output.status.code(), String::from_utf8(said).expect("text"))
}

fn json(bench: &Bench, args: &[&str]) -> Value {
    let (_, said) = run(bench, args, "");
    serde_json::from_str(&said).unwrap_or_else(|error| panic!("{error}: {said}"))
}

fn finding(assessed: &Value) -> Option<&Value> {
    let findings = assessed["findings"].as_array().expect("findings");
    findings.iter().find(|one| one["rule"] == ID)
}

#[test]
fn assess_tells_it_in_text_and_json() {
    let bench = bench();
    let (code, said) = run(&bench, &["assess", "b.toml", "--configs", "club"], "");
    assert_eq!(code, Some(0), "{said}");
    for part in [
        "caution   X travels 600 mm and the spindle has 1.5 kW: our club's table is too",
        "  remedy  --set travel_x_mm=500\n",
        "  rule    too-long-for-the-club\n",
    ] {
        assert!(said.contains(part), "{part} is not in {said}");
    }
    let assessed = json(&bench, &["assess", "--json", "b.toml", "--configs", "club"]);
    let found = finding(&assessed).expect("a finding");
    assert_eq!(found["severity"], "caution");
    assert_eq!(found["step"], "working_area");
    assert_eq!(found["remedy"][0]["choice"], "travel_x_mm");
    let source = found["source"].as_str().expect("a source");
    assert!(
        source.ends_with("(a rule of yours, in club/rules.toml)"),
        "{source}"
    );
    let without = json(&bench, &["assess", "--json", "b.toml"]);
    assert!(finding(&without).is_none());
}

#[test]
fn a_fault_of_ones_own_is_an_exit_code() {
    let bench = bench();
    let text = documented().replace("severity = \"caution\"", "severity = \"fault\"");
    bench.write("club/rules.toml", text);
    let args = ["assess", "b.toml", "--configs", "club"];
    assert_eq!(run(&bench, &args, "").0, Some(1));
}

#[test]
fn the_list_of_rules_has_them_last() {
    let bench = bench();
    let (_, said) = run(&bench, &["rules", "--configs", "club"], "");
    let (_, own) = said.split_once("\nRules of your own\n").expect("a heading");
    assert!(own.contains("  too-long-for-the-club (caution)\n"), "{own}");
    assert!(own.contains("  too-heavy-to-carry (hint)\n"), "{own}");
    let listed = json(&bench, &["--configs", "club", "rules", "club", "--json"]);
    assert_eq!(listed[0]["id"], ID);
    assert_eq!(listed[0]["decided_by"][1], "spindle");
    let (code, said) = run(&bench, &["rules", "too-long"], "");
    assert_eq!(code, Some(2), "{said}");
    // In the user's own folder they are read by themselves.
    bench.write("config/gantrywright/club.toml", documented());
    let (_, said) = run(&bench, &["rules", "too-long"], "");
    assert!(said.starts_with("Rules of your own\n"), "{said}");
}

#[test]
fn a_build_accepts_it_by_its_id() {
    let bench = bench();
    let text = format!("format = 1\n[accepted]\n{ID} = \"it stays at home\"\n");
    bench.write("b.toml", text);
    let assessed = json(&bench, &["assess", "--json", "b.toml", "--configs", "club"]);
    let found = finding(&assessed).expect("a finding");
    assert_eq!(found["accepted"], "it stays at home");
    let (code, said) = run(&bench, &["assess", "b.toml"], "");
    assert_eq!(code, Some(2));
    assert!(said.starts_with("b.toml:3:1: there is no rule"), "{said}");
    assert!(
        said.contains("is it one of your own, its file is missing"),
        "{said}"
    );
}

#[test]
fn line_by_line_it_is_read_fixed_and_accepted() {
    let bench = bench();
    let args = ["--plain", "b.toml", "--configs", "club"];
    let lines = "warnings\n1\naccept the table grows\nquit\nyes\n";
    let (_, said) = run(&bench, &args, lines);
    for part in [
        "Too long for the club's table",
        "Why it matters: The table is 900 mm long",
        "What is watched: Whether all of this holds",
        "a rule of yours, in club/rules.toml",
        "Accepted; it stays listed.",
    ] {
        assert!(said.contains(part), "{part} is not in {said}");
    }
}

#[test]
fn a_bundle_takes_them_along() {
    let bench = bench();
    let args = [
        "bundle",
        "b.toml",
        "--configs",
        "club",
        "--output",
        "out.toml",
    ];
    let (code, said) = run(&bench, &args, "");
    assert_eq!(code, Some(0), "{said}");
    std::fs::remove_file(bench.path("club/rules.toml")).expect("gone");
    let assessed = json(&bench, &["assess", "--json", "out.toml"]);
    let found = finding(&assessed).expect("a finding");
    let source = found["source"].as_str().expect("a source");
    assert!(
        source.contains("a rule of yours, in out.toml: rules.toml"),
        "{source}"
    );
}
