//! `--plain`: the talk line by line, through a pipe.

use crate::common;
use std::process::Output;

use crate::bench::Bench;
use gantrywright::build::{Build, Edit, Kind, Value, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::store::build_file;
use serde_json::Value as Json;
use unicode_width::UnicodeWidthStr as _;

/// The widest line that may be said.
const WIDTH: usize = 78;

fn run(bench: &Bench, args: &[&str], lines: &str) -> Output {
    let output = bench.program().args(args).write_stdin(lines).output();
    output.expect("a run")
}

/// What is said, which keeps to its width and moves no cursor.
fn said(output: &Output) -> String {
    let text = String::from_utf8(output.stdout.clone()).expect("text");
    for line in text.lines() {
        assert!(line.width() <= WIDTH, "{line}");
        assert!(!line.chars().any(char::is_control), "{line:?}");
    }
    assert!(output.stderr.is_empty(), "{output:?}");
    text
}

/// The same in one line.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn assessed(bench: &Bench, args: &[&str]) -> Json {
    let output = run(bench, &[&["assess", "--json"], args].concat(), "");
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

/// An amount as people read it: rounded to whole units, thousands apart.
fn whole(json: &Json) -> String {
    let exact: f64 = json.as_str().expect("exact").parse().expect("a number");
    let digits = format!("{exact:.0}");
    let (head, tail) = digits.split_at(digits.len() - 3);
    format!("{head} {tail}")
}

#[test]
fn a_screw_is_changed_a_warning_mended_and_the_build_saved() {
    let bench = Bench::new();
    let example = run(&bench, &["demo", "pier-allrounder", "--print"], "");
    let original = String::from_utf8(example.stdout).expect("text");
    bench.write("pier.toml", &original);
    let before = assessed(&bench, &["pier.toml"]);
    let screw = "drive_x=ball-screw-16x10";
    let changed = assessed(&bench, &["pier.toml", "--set", screw]);
    let fault = changed["findings"]
        .as_array()
        .expect("a list")
        .iter()
        .position(|one| one["severity"] == "fault")
        .expect("the coupling no longer fits");
    assert_eq!(fault, 0, "the worst stands first");

    // The screw by its number, found by its name; the fault by the remedy that is offered.
    let list = run(&bench, &["--plain", "pier.toml"], "drive_x\n");
    assert_eq!(list.status.code(), Some(0), "{list:?}");
    let list = said(&list);
    let row = list
        .lines()
        .find(|line| line.ends_with("16 x 10 mm ball screw, rolled"));
    let number = row.and_then(|row| row.split('.').next()).expect("a number");
    let lines = format!("drive_x\n{number}\nwarnings\n1\nlift\nsave new.toml\nquit\n");
    let output = run(&bench, &["--plain", "pier.toml"], &lines);
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    let text = flat(&said(&output));
    let (was, is) = (&before["cost"]["likely"], &changed["cost"]["likely"]);
    assert_ne!(was, is);
    assert!(
        text.contains(&format!("about {} EUR", whole(was))),
        "{text}"
    );
    assert!(
        text.contains(&format!("{} EUR in all.", whole(is))),
        "{text}"
    );
    let rapid = |json: &Json| {
        let speed = json["axes"]["X"]["rapid_m_per_min"].as_f64();
        format!("{:.1} m/min", speed.expect("a number"))
    };
    let (from, to) = (rapid(&before), rapid(&changed));
    let moved = text.split("Rapids X from ").nth(1).expect("it moved");
    assert!(
        moved.starts_with(&from) && moved.contains(&format!("to {to}")),
        "{text}"
    );
    assert!(text.contains("Saved to new.toml.") && text.contains("It stands in new.toml."));

    // What was saved is what was said, and the comments are kept.
    let after = assessed(&bench, &["new.toml"]);
    let remedy = changed["findings"][0]["remedy"].clone();
    let mut edits = vec!["pier.toml".to_owned(), "--set".to_owned(), screw.to_owned()];
    for edit in remedy.as_array().expect("a remedy") {
        let (choice, value) = (&edit["choice"], &edit["value"]);
        edits.push("--set".to_owned());
        edits.push(format!(
            "{}={}",
            choice.as_str().expect("id"),
            value.as_str().expect("text")
        ));
    }
    let edits: Vec<&str> = edits.iter().map(String::as_str).collect();
    let mended = assessed(&bench, &edits);
    for part in [
        "cost",
        "axes",
        "stiffness",
        "cutting",
        "power",
        "findings",
        "bill",
    ] {
        assert_eq!(after[part], mended[part], "{part}");
    }
    let saved = std::fs::read_to_string(bench.path("new.toml")).expect("the saved file");
    for comment in original.lines().filter(|line| line.starts_with('#')) {
        assert!(saved.contains(comment), "{comment}");
    }
    let untouched = std::fs::read_to_string(bench.path("pier.toml")).expect("the file");
    assert_eq!(untouched, original);
}

/// A value as it is typed that a choice does not have.
fn another(catalogue: &Catalogue, choice: &choices::Choice) -> String {
    let now = (choice.get)(&Build::default());
    match choice.kind {
        Kind::Number(kind) => {
            let ends = [kind.most, kind.least].map(|end| Value::Number(Some(end)));
            ends.iter()
                .find(|end| **end != now)
                .expect("another")
                .to_string()
        }
        Kind::Amount => "4321 EUR".to_owned(),
        Kind::Parts(kind) => match catalogue.of_kind(kind).last() {
            Some(part) => part.id().to_string(),
            None => "none".to_owned(),
        },
        _ => {
            let options = choice.options(catalogue);
            let other = options.iter().find(|option| **option != now);
            other.unwrap_or(&now).to_string()
        }
    }
}

#[test]
fn every_choice_is_found_opened_and_set_through_a_pipe() {
    let bench = Bench::new();
    let catalogue = common::catalogue();
    let mut lines = String::new();
    let mut wanted = Build::default();
    for choice in choices::all() {
        let value = another(&catalogue, choice);
        let edit = Edit::parse(choice.id, &value, &catalogue).expect("a value");
        let changed = edit.applied(&wanted);
        let fits = gantrywright::assessment::assess(&catalogue, &changed, common::today()).is_ok()
            && build_file::check_money(&changed, &catalogue).is_ok();
        lines.push_str(&format!("find {}\n1\n", choice.id));
        // What does not fit together is left as it is.
        lines.push_str(&if fits {
            format!("{value}\n")
        } else {
            "\n".to_owned()
        });
        if fits {
            wanted = changed;
        }
    }
    lines.push_str("save all.toml\n");
    let output = run(&bench, &["--plain"], &lines);
    let text = said(&output);
    assert_eq!(output.status.code(), Some(0), "{text}");
    let saved = build_file::load(&bench.path("all.toml"), &catalogue).expect("it opens");
    for choice in choices::all() {
        let (is, should) = ((choice.get)(&saved.build), (choice.get)(&wanted));
        assert_eq!(is.to_string(), should.to_string(), "{}", choice.id);
        assert!(text.contains(choice.title), "{}", choice.title);
    }
    let apart = choices::all()
        .iter()
        .filter(|choice| (choice.get)(&saved.build) != (choice.get)(&Build::default()));
    let (apart, all) = (apart.count(), choices::all().len());
    assert!(apart + 5 > all, "{apart} of {all} were changed");
}

#[test]
fn the_summary_and_the_bill_say_what_assess_says() {
    let bench = Bench::new();
    for name in [
        "attic-starter",
        "barn-find",
        "bell-foundry",
        "sail-loft-sheet",
    ] {
        let example = run(&bench, &["demo", name, "--print"], "");
        bench.write("b.toml", &example.stdout);
        let json = assessed(&bench, &["b.toml"]);
        let output = run(&bench, &["--plain", "b.toml"], "bill\nwhy cost.likely\n");
        assert_eq!(output.status.code(), Some(0), "{output:?}");
        let text = flat(&said(&output));
        let (cost, code) = (&json["cost"], json["currency"].as_str().expect("a code"));
        let likely = whole(&cost["likely"]);
        assert!(
            text.contains(&format!("Cost: about {likely} {code}")),
            "{text}"
        );
        let (low, high) = (whole(&cost["low"]), whole(&cost["high"]));
        assert!(text.contains(&format!("from {low} to {high}.")), "{text}");
        let circuits = json["power"]["circuits"].as_array().expect("circuits");
        let fill = |one: &Json| {
            let amps = |key: &str| one[key].as_f64().expect("a number");
            (
                amps("current_a") / amps("allowed_a"),
                amps("current_a"),
                amps("allowed_a"),
            )
        };
        let fullest = circuits.iter().map(fill).max_by(|a, b| a.0.total_cmp(&b.0));
        let (share, full, allowed) = fullest.expect("one");
        let says = match share > 1.0 {
            true => format!("would carry {full:.1} A and may carry {allowed:.1} A"),
            false => format!("carries {full:.1} A of the {allowed:.1} A"),
        };
        assert!(text.contains(&says), "{says}: {text}");
        for line in json["bill"].as_array().expect("lines") {
            let title = flat(line["title"].as_str().expect("a title"));
            assert!(text.contains(&format!("{title}: ")), "{title}");
        }
        assert!(text.contains("path cost.likely in words "), "{text}");
    }
}

#[test]
fn the_end_of_the_input_says_what_was_changed_and_that_it_is_not_saved() {
    let bench = Bench::new();
    let quiet = run(&bench, &["demo", "attic-starter", "--plain"], "");
    let text = said(&quiet);
    assert_eq!(quiet.status.code(), Some(0));
    assert!(
        text.contains("Nothing is changed against the beginning.") && !text.contains("Not saved")
    );
    for lines in [
        "travel_x_mm=444\n",
        "travel_x_mm=444\nquit\n",
        "travel_x_mm=444",
    ] {
        let output = run(&bench, &["--plain", "demo", "attic-starter"], lines);
        let text = said(&output);
        assert!(text.ends_with("Changed: Travel X.\nNot saved.\n"), "{text}");
        assert_eq!(output.status.code(), Some(0));
    }
    assert_eq!(
        std::fs::read_dir(bench.path("")).expect("a folder").count(),
        0
    );
}

#[test]
fn a_line_that_is_not_understood_ends_in_exit_code_2_and_the_rest_is_done() {
    let bench = Bench::new();
    let lines = "travle_x_mm=444\nhm\ntravel_x_mm=444\nsave b.toml\n";
    let output = run(&bench, &["--plain"], lines);
    let text = said(&output);
    assert_eq!(output.status.code(), Some(2), "{text}");
    assert!(text.contains("did you mean \"travel_x_mm\"?"), "{text}");
    assert!(text.contains("Not understood: \"hm\"."), "{text}");
    let json = assessed(&bench, &["b.toml"]);
    assert_eq!(json["axes"]["X"]["travel_mm"], 444.0);
}

#[test]
fn what_is_there_is_not_replaced_unseen() {
    let bench = Bench::new();
    bench.write("other.toml", "mine = true\n");
    let output = run(&bench, &["--plain"], "save other.toml\nquit\n");
    assert_eq!(output.status.code(), Some(2));
    assert!(flat(&said(&output)).contains("other.toml is there already"));
    let other = || std::fs::read_to_string(bench.path("other.toml")).expect("a file");
    assert_eq!(other(), "mine = true\n");
    let replaced = run(&bench, &["--plain"], "save other.toml\nreplace\nquit\n");
    assert!(said(&replaced).contains("Saved to other.toml."));
    assert_eq!(replaced.status.code(), Some(0), "it was meant so");
    assert!(other().contains("travel_x_mm"));
    let folder = run(&bench, &["--plain"], "save .\n");
    assert!(said(&folder).contains("Not done: . is a folder"));
    assert_eq!(folder.status.code(), Some(2));
}

#[test]
fn what_cannot_be_opened_is_told_once() {
    let bench = Bench::new();
    bench.write("bad.toml", "format = 1\n[drive]\ntravel = 3\n");
    for (args, says) in [
        (vec!["--plain", "nothing.toml"], "there is no such file"),
        (vec!["--plain", "bad.toml"], "bad.toml"),
        (vec!["--plain", "-"], "assess -"),
        (vec!["--plain", "assess", "bad.toml"], "--plain"),
        (vec!["demo", "attic-starter"], "gantrywright --plain FILE"),
    ] {
        let output = run(&bench, &args, "");
        let error = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{args:?}: {error}");
        assert!(
            error.contains(says) && output.stdout.is_empty(),
            "{args:?}: {error}"
        );
    }
}

#[test]
fn colours_come_only_where_they_are_asked_for() {
    let bench = Bench::new();
    let output = run(&bench, &["--plain", "--color", "always"], "warnings\n");
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    assert!(text.contains("\u{1b}[1mWarnings\u{1b}[0m"), "{text}");
    let plain = run(&bench, &["--plain", "--color", "never"], "warnings\n");
    let bare = text.replace("\u{1b}[1m", "").replace("\u{1b}[0m", "");
    assert_eq!(said(&plain), bare, "colours alone differ");
}

#[cfg(unix)]
#[test]
fn a_listener_who_has_heard_enough_ends_it_quietly() {
    use std::io::{Read as _, Write as _};
    use std::process::{Command, Stdio};
    let bench = Bench::new();
    let mut child = Command::new(env!("CARGO_BIN_EXE_gantrywright"))
        .args(["--plain"])
        .env("XDG_CONFIG_HOME", bench.path("config"))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("a run");
    let mut heard = [0; 16];
    let mut out = child.stdout.take().expect("a pipe");
    out.read_exact(&mut heard).expect("the beginning");
    drop(out);
    let mut lines = child.stdin.take().expect("a pipe");
    // Whoever leaves closes both ends: writing may fail, too.
    let _ = lines.write_all(&b"figures cutting\nbill\n".repeat(50));
    drop(lines);
    let output = child.wait_with_output().expect("an end");
    assert_eq!(output.status.code(), Some(0), "{output:?}");
    assert!(output.stderr.is_empty(), "{output:?}");
}
