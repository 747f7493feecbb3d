//! The command `find`: as text of eighty columns, JSON and CSV, what it saves, and how it ends.

use crate::common::{self, assert_narrow};
use crate::what_if;
use std::process::Output;

use crate::bench::Bench;
use gantrywright::assessment::assess;
use gantrywright::build::choices;
use gantrywright::explore::reading::Reading;
use rust_decimal::Decimal;
use serde_json::Value;

const BUILD: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/demo/builds/pier-allrounder.toml"
);

/// Two choices that leave sixty builds or so.
const FREE: [&str; 2] = ["--free", "motor_x,ends_x"];

fn run(bench: &Bench, args: &[&str]) -> Output {
    let mut program = bench.program();
    program.args(["find", BUILD]).args(args);
    program.output().expect("run")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("text")
}

/// What is printed where something is found.
fn found(args: &[&str]) -> String {
    let output = run(&Bench::new(), args);
    assert_eq!(output.status.code(), Some(0), "{args:?}: {output:?}");
    text(&output.stdout)
}

fn json(args: &[&str]) -> Value {
    let args = [args, &["--json"]].concat();
    serde_json::from_str(&found(&args)).expect("JSON")
}

/// The cost of every sound build that the two choices allow, each with its rapids.
fn by_hand() -> Vec<(Decimal, f64)> {
    let catalogue = common::catalogue();
    let examples = what_if::examples(&catalogue);
    let (_, build) = examples
        .iter()
        .find(|(name, _)| name.ends_with("pier-allrounder.toml"))
        .expect("the example");
    let (motor, ends) = (
        choices::find("motor_x").expect("a choice"),
        choices::find("ends_x").expect("a choice"),
    );
    let mut sound = Vec::new();
    for one in motor.options(&catalogue) {
        for other in ends.options(&catalogue) {
            let mut build = build.clone();
            motor.put(&mut build, &one);
            ends.put(&mut build, &other);
            let day = jiff::civil::date(2026, 11, 30);
            let assessment = assess(&catalogue, &build, day).expect("an assessment");
            if !assessment.is_unsound() {
                let reading = Reading::of(&assessment);
                let rapids = reading.value(gantrywright::explore::reading::Measure::Rapids);
                sound.push((reading.cost.likely, rapids.expect("rapids").number));
            }
        }
    }
    sound
}

fn cost(build: &Value) -> Decimal {
    let likely = build["cost"]["likely"].as_str().expect("an amount");
    likely.parse().expect("a number")
}

#[test]
fn the_cheapest_is_the_cheapest_of_all() {
    let sound = by_hand();
    let every = json(&FREE);
    let least = sound.iter().map(|(cost, _)| *cost).min();
    assert_eq!(Some(cost(&every["builds"][0])), least);
    let fast = json(&[&FREE[..], &["--want", "rapids>=15"]].concat());
    let least = sound.iter().filter(|(_, rapids)| *rapids >= 15.0);
    let least = least.map(|(cost, _)| *cost).min();
    assert_eq!(Some(cost(&fast["builds"][0])), least);
    assert!(cost(&fast["builds"][0]) > cost(&every["builds"][0]));
    // Every combination is accounted for, as text, since the count may be larger than 2^53.
    let number = |value: &Value| {
        value
            .as_str()
            .expect("text")
            .parse::<u128>()
            .expect("a count")
    };
    let excluded = fast["excluded"].as_array().expect("a list").iter();
    let excluded: u128 = excluded.map(|one| number(&one["combinations"])).sum();
    let assessed = fast["assessed"].as_u64().expect("a count");
    assert!(number(&fast["combinations"]) <= excluded + u128::from(assessed));
    assert_eq!(fast["proven"], true);
    assert_eq!(fast["targets"][0], "rapids>=15");
}

/// The edits that are told lead to the figures that are told.
#[test]
fn the_edits_of_an_answer_lead_to_its_figures() {
    let all = json(&FREE);
    let best = &all["builds"][0];
    let bench = Bench::new();
    let mut program = bench.program();
    program.args(["assess", BUILD, "--json"]);
    for edit in best["edits"].as_array().expect("a list") {
        let (choice, value) = (&edit["choice"], &edit["value"]);
        let pair = format!(
            "{}={}",
            choice.as_str().expect("an id"),
            value.as_str().expect("a value")
        );
        program.args(["--set", &pair]);
    }
    let output = program.output().expect("run");
    let assessed: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(assessed["cost"]["likely"], best["cost"]["likely"]);
}

#[test]
fn an_answer_is_told_in_eighty_columns() {
    let page = found(&[&FREE[..], &["--want", "rapids>=5"]].concat());
    assert_narrow(&page);
    for words in [
        "The cheapest build that does it",
        "rapids of at least 5 m/min",
        "2 free choices with",
        "it saves",
        "Motor X: ",
        "cost range",
        "stiffness",
        "mains",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
    // Who names what is free needs not be told what is kept.
    assert!(!page.contains("the frame, as it is"), "{page}");
    let same = found(&["--free", "motor_x", "--want", "rapids>=19.8"]);
    assert!(same.contains("none: it is the build at hand"), "{same}");
}

#[test]
fn a_front_has_no_build_that_another_one_beats() {
    let args = [&FREE[..], &["--against", "rapids"]].concat();
    let all = json(&args);
    let builds = all["builds"].as_array().expect("a list");
    let trades: Vec<(Decimal, f64)> = builds
        .iter()
        .map(|build| {
            let rapids = |axis: &str| {
                let told = &build["figures"]["rapids"][axis]["m_per_min"];
                told.as_f64().expect("a number")
            };
            (cost(build), rapids("X").min(rapids("Y")))
        })
        .collect();
    assert!(!trades.is_empty());
    for pair in trades.windows(2) {
        assert!(pair[0].0 < pair[1].0 && pair[0].1 < pair[1].1, "{trades:?}");
    }
    let page = found(&args);
    assert_narrow(&page);
    assert!(page.contains("Cost against rapids"), "{page}");
    let csv = found(&[&args[..], &["--format", "csv"]].concat());
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let rows: Vec<csv::StringRecord> = reader.records().map(|row| row.expect("a row")).collect();
    assert_eq!(rows.len(), trades.len() + 1);
    assert_eq!(&rows[0][0], "now");
    assert_eq!(rows[1][2].parse(), Ok(trades[0].0));
}

#[test]
fn nothing_that_fits_ends_with_one() {
    let bench = Bench::new();
    let out = bench.path("found.toml");
    let args = [
        &FREE[..],
        &[
            "--want",
            "rapids>=500",
            "--save",
            out.to_str().expect("text"),
        ],
    ]
    .concat();
    let output = run(&bench, &args);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    let page = text(&output.stdout);
    assert_narrow(&page);
    assert!(page.starts_with("Nothing fits\n"), "{page}");
    assert!(text(&output.stderr).contains("not saved, since nothing fits"));
    assert!(!out.exists());
}

#[test]
fn the_found_build_is_saved_with_the_comments_of_the_file() {
    let bench = Bench::new();
    let example = std::fs::read_to_string(BUILD).expect("readable");
    let own = bench.write("own.toml", format!("# my own words\n{example}"));
    let (own, out) = (own.display().to_string(), bench.path("found.toml"));
    let name = out.display().to_string();
    let find = |more: &[&str]| {
        let mut program = bench.program();
        program.args(["find", &own, "--free", "motor_x", "--save", &name]);
        program.args(more).output().expect("run")
    };
    let output = find(&[]);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let written = std::fs::read_to_string(&out).expect("written");
    assert!(written.starts_with("# my own words\n"), "{written}");
    // It is the build that was told.
    let told = json(&["--free", "motor_x"]);
    let assessed = bench.program().args(["assess", &name, "--json"]).output();
    let assessed: Value = serde_json::from_slice(&assessed.expect("run").stdout).expect("JSON");
    assert_eq!(
        assessed["cost"]["likely"],
        told["builds"][0]["cost"]["likely"]
    );
    // A file that is there stays, and is asked for before anything is searched.
    let output = find(&[]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(output.stdout.is_empty() && text(&output.stderr).contains("--force"));
    assert_eq!(find(&["--force"]).status.code(), Some(0));
    let output = find(&["--force", "--take", "99"]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    assert!(text(&output.stderr).contains("1 build was found"));
    assert_eq!(std::fs::read_to_string(&out).expect("there"), written);
}

#[test]
fn mistakes_are_named_before_anything_is_searched() {
    let bench = Bench::new();
    let keep = gantrywright::explore::find::usual(&common::catalogue());
    let keep: Vec<&str> = keep.iter().map(|choice| choice.id).collect();
    let keep = keep.join(",");
    for (args, words) in [
        (
            &["--want", "rapid>=8"][..],
            "--want: there is no figure \"rapid\"",
        ),
        (&["--want", "rapids"], "quotes"),
        (&["--want", "rapids>=8,fast"], "\"fast\" is no target"),
        (&["--against", "cost"], "--against: cost is what"),
        (&["--against", "speed"], "rapids"),
        (&["--free", "moter_x"], "--free: there is no choice"),
        (
            &["--free", "step:motion"],
            "--free: there is no step motion",
        ),
        (
            &["--also", "travel_x_mm"],
            "--also: travel_x_mm has no list of options",
        ),
        (&["--keep", "suply"], "did you mean \"supply\""),
        (&["--keep", &keep], "no choice is left"),
        (
            &["--free", "supply", "--also", "spindle"],
            "cannot be used with",
        ),
        (&["--take", "2"], "--save"),
        (&["--save", "x.toml", "--take", "0"], "--take"),
    ] {
        let output = run(&bench, args);
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        let said = text(&output.stderr);
        assert!(said.contains(words), "{args:?}: {said}");
        assert!(output.stdout.is_empty());
    }
}

/// What is bought is not changed, and is said to stay.
#[test]
fn bought_parts_stay() {
    let bench = Bench::new();
    let example = std::fs::read_to_string(BUILD).expect("readable");
    let told = json(&["--free", "motor_x,ends_x"]);
    let edits = told["builds"][0]["edits"]
        .as_array()
        .expect("a list")
        .clone();
    let motor = edits.iter().find(|edit| edit["choice"] == "motor_x");
    let motor = motor.expect("a cheaper motor")["was"]
        .as_str()
        .expect("an id")
        .to_owned();
    let bought = format!("{example}\n[purchases.\"{motor}\"]\nstatus = \"arrived\"\n");
    let own = bench.write("own.toml", bought).display().to_string();
    let mut program = bench.program();
    program.args(["find", &own, "--json"]).args(FREE);
    let output = program.output().expect("run");
    let told: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(told["bought"][0], "motor_x");
    let free = told["free"].as_array().expect("a list").iter();
    assert_eq!(
        free.map(|one| &one["choice"]).collect::<Vec<_>>(),
        ["ends_x"]
    );
}
