//! The commands as scripts and people use them: exit codes, JSON, standard input, pipes.

use std::io::Read as _;
use std::process::{Output, Stdio};

use crate::bench::Bench;
use predicates::prelude::*;
use serde_json::Value;

const BUILD: &str = "format = 1\ntitle = \"Shed\"\n\n[working_area]\ntravel_x_mm = 800\n";

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

fn assessed(bench: &Bench, args: &[&str]) -> Value {
    let output = bench
        .program()
        .args(args)
        .arg("--json")
        .write_stdin(BUILD)
        .output();
    let output = output.expect("a run");
    assert!(
        matches!(output.status.code(), Some(0 | 1)) && output.stderr.is_empty(),
        "{output:?}"
    );
    json(&output)
}

#[test]
fn assess_gives_json_in_its_promised_shape() {
    let bench = Bench::new();
    bench.write("b.toml", BUILD);
    let all = assessed(&bench, &["assess", "b.toml"]);
    assert_eq!(
        (&all["format"], &all["title"]),
        (&Value::from(1), &Value::from("Shed"))
    );
    assert_eq!(all["currency"], "EUR");
    for axis in ["X", "Y", "Z"] {
        for key in [
            "travel_mm",
            "moving_mass_kg",
            "rapid_m_per_min",
            "step_um",
            "thrust_n",
        ] {
            assert!(
                all["axes"][axis][key].as_f64().is_some_and(|n| n > 0.0),
                "{axis} {key}"
            );
        }
        let axis = &all["axes"][axis];
        let binding = axis["limited_by"].as_str().expect("a name");
        assert_eq!(axis["limits_m_per_min"][binding], axis["rapid_m_per_min"]);
    }
    assert_eq!(all["axes"]["X"]["travel_mm"], 800.0);
    let cents = |value: &Value| -> i64 {
        let text = value.as_str().expect("a text").replace('.', "");
        text.parse().expect("an amount with cents")
    };
    let steps = ["working_area", "drive", "spindle", "control", "extras"];
    let sum: i64 = steps
        .iter()
        .map(|step| cents(&all["cost"]["by_step"][step]))
        .sum();
    let on_top: i64 = (["freight", "duty", "tax"].iter())
        .map(|word| cents(&all["cost"][word]))
        .sum();
    assert_eq!(sum + on_top, cents(&all["cost"]["likely"]));
    let lines = all["bill"].as_array().expect("lines");
    assert_eq!(
        lines
            .iter()
            .map(|line| cents(&line["total"]["likely"]))
            .sum::<i64>(),
        sum
    );
    assert_eq!(all["cost"]["invented_share"], "1");
    let circuit = &all["power"]["circuits"][0];
    assert!(circuit["allowed_a"].as_f64() < circuit["breaker_a"].as_f64());
    for finding in all["findings"].as_array().expect("findings") {
        assert!(
            finding["rule"].is_string() && finding["remedy"].is_array(),
            "{finding}"
        );
    }
}

#[test]
fn the_exit_code_follows_the_findings() {
    let bench = Bench::new();
    bench.write("b.toml", BUILD);
    for edit in [
        "paint=yes",
        "spindle_circuit=second",
        "extractor=none",
        "emergency_stop=none",
    ] {
        let output = bench
            .program()
            .args(["assess", "b.toml", "--json", "--set", edit])
            .output();
        let output = output.expect("a run");
        let all = json(&output);
        let findings = all["findings"].as_array().expect("findings");
        let unsound = findings.iter().any(|finding| {
            finding["severity"] == "danger"
                || (finding["severity"] == "fault" && finding["accepted"].is_null())
        });
        assert_eq!(output.status.code(), Some(i32::from(unsound)), "{edit}");
    }
}

#[test]
fn standard_input_is_a_build_like_any_other() {
    let bench = Bench::new();
    bench.write("b.toml", BUILD);
    assert_eq!(
        assessed(&bench, &["assess", "-"]),
        assessed(&bench, &["assess", "b.toml"])
    );
    bench
        .program()
        .args(["assess", "-"])
        .write_stdin("format = 1\nnote = 3\n")
        .assert()
        .code(2)
        .stderr("standard input:2:8: note: this is the number 3; it takes a text in quotes\n");
    bench
        .program()
        .arg("-")
        .write_stdin(BUILD)
        .assert()
        .code(2)
        .stderr(predicate::str::contains("assess -"));
}

#[test]
fn edits_change_the_build_in_their_order_and_before_or_behind_the_command() {
    let bench = Bench::new();
    let path = bench.write("b.toml", BUILD);
    let travel = |args: &[&str]| assessed(&bench, args)["axes"]["X"]["travel_mm"].clone();
    assert_eq!(
        travel(&["assess", "b.toml", "--set", "travel_x_mm=500"]),
        500.0
    );
    assert_eq!(
        travel(&[
            "assess",
            "b.toml",
            "--set",
            "travel_x_mm=500",
            "--set",
            "travel_x_mm=450,5 mm"
        ]),
        450.5
    );
    assert_eq!(
        travel(&["--set", "travel_x_mm=500", "assess", "b.toml"]),
        500.0
    );
    assert_eq!(
        travel(&[
            "--set",
            "travel_x_mm=500",
            "assess",
            "b.toml",
            "--set",
            "travel_x_mm=700"
        ]),
        700.0
    );
    assert_eq!(std::fs::read_to_string(path).expect("there"), BUILD);
    for (edit, want) in [
        ("materials=wood", "; see `gantrywright parts material`"),
        ("travle_x_mm=5", "did you mean \"travel_x_mm\"?"),
        ("foo=1", "no choice \"foo\"; `gantrywright choices` lists"),
        ("travel_x_mm", "expected CHOICE=VALUE"),
        ("travel_x_mm=NaN", "50 to 10000 mm"),
        ("beam_tube=tube-80x80x44", "did you mean \"tube-80x80x4\"?"),
        (
            "budget=abc",
            "\"abc\" is not an amount: expected money, such as 3500 EUR",
        ),
        ("budget=3500 XTS", "no price book has a rate for XTS"),
    ] {
        let assert = bench
            .program()
            .args(["assess", "b.toml", "--set", edit])
            .assert();
        assert
            .code(2)
            .stdout("")
            .stderr(predicate::str::starts_with("--set: ").and(predicate::str::contains(want)));
    }
    bench
        .program()
        .args(["--set", "paint=no", "rules"])
        .assert()
        .code(2);
    bench
        .program()
        .args(["b.toml", "assess", "b.toml"])
        .assert()
        .code(2);
}

#[test]
fn colours_are_for_terminals_unless_asked_for() {
    let bench = Bench::new();
    let painted = |args: &[&str], no_color: &str| {
        let mut program = bench.program();
        program
            .args(args)
            .args(["assess", "-"])
            .env("NO_COLOR", no_color)
            .write_stdin(BUILD);
        String::from_utf8(program.output().expect("a run").stdout)
            .expect("text")
            .contains('\u{1b}')
    };
    assert!(!painted(&[], ""));
    assert!(painted(&["--color", "always"], ""));
    assert!(painted(&["--color", "16"], "1"));
    assert!(!painted(&["--color", "never"], "") && !painted(&["--color", "auto"], "1"));
}

#[test]
fn a_reader_who_has_seen_enough_ends_the_command_quietly() {
    let bench = Bench::new();
    let program = bench.program().get_program().to_owned();
    for args in [
        &["parts", "--json"][..],
        &["choices"],
        &["manual"],
        &["--help"],
    ] {
        let mut child = std::process::Command::new(&program)
            .args(args)
            .env("XDG_CONFIG_HOME", bench.path("config"))
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .expect("started");
        drop(child.stdout.take());
        let mut said = String::new();
        child
            .stderr
            .take()
            .expect("piped")
            .read_to_string(&mut said)
            .expect("read");
        assert_eq!(
            (child.wait().expect("ended").code(), said.as_str()),
            (Some(0), ""),
            "{args:?}"
        );
    }
}

#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_cannot_be_written_is_a_failure() {
    let bench = Bench::new();
    let full = std::fs::File::options()
        .write(true)
        .open("/dev/full")
        .expect("there");
    let status = std::process::Command::new(bench.program().get_program())
        .arg("choices")
        .env("XDG_CONFIG_HOME", bench.path("config"))
        .stdout(full)
        .stderr(Stdio::null())
        .status();
    assert_eq!(status.expect("a run").code(), Some(2));
}

#[test]
fn the_screen_wants_a_terminal_that_can_draw() {
    let bench = Bench::new();
    bench.write("b.toml", BUILD);
    for args in [&[][..], &["b.toml"]] {
        let assert = bench.program().args(args).assert().code(2).stdout("");
        assert.stderr(
            predicate::str::contains("not a terminal").and(predicate::str::contains("assess FILE")),
        );
    }
    assert!(on_dumb_terminal(&bench).contains("TERM=dumb"));
}

/// What the program says when it is opened on a terminal that can only print.
fn on_dumb_terminal(bench: &Bench) -> String {
    use portable_pty::{CommandBuilder, PtySize, native_pty_system};
    let size = PtySize {
        rows: 24,
        cols: 200,
        pixel_width: 0,
        pixel_height: 0,
    };
    let pair = native_pty_system().openpty(size).expect("a terminal");
    let mut command = CommandBuilder::new(bench.program().get_program());
    command.arg("b.toml");
    command.cwd(bench.path(""));
    command.env("TERM", "dumb");
    command.env("XDG_CONFIG_HOME", bench.path("config"));
    let mut reader = pair.master.try_clone_reader().expect("a reader");
    let mut child = pair.slave.spawn_command(command).expect("started");
    drop(pair.slave);
    assert_eq!(child.wait().expect("ended").exit_code(), 2);
    drop(pair.master);
    let mut said = Vec::new();
    // The end of a terminal is an error on some systems; what came before it counts.
    let _ = reader.read_to_end(&mut said);
    String::from_utf8_lossy(&said).into_owned()
}

#[test]
fn the_day_can_be_named() {
    let bench = Bench::new();
    let mut program = bench.program();
    program
        .env("GANTRYWRIGHT_TODAY", "tomorrow")
        .args(["assess", "-"])
        .write_stdin(BUILD);
    program
        .assert()
        .code(2)
        .stderr(predicate::str::contains("such as 2026-11-30"));
}

/// The text names what would hold an axis next, and which prices to ask first.
#[test]
fn the_page_names_the_second_limit_and_the_prices_to_ask_first() {
    let bench = Bench::new();
    let example = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/demo/builds/attic-starter.toml"
    );
    let output = bench.program().args(["assess", example]).output();
    let text = String::from_utf8(output.expect("a run").stdout).expect("text");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // Two limits of X are as low as each other.
    let next = "With that lifted, what would hold it next: X motor speed, at 15.0 m/min; Y ";
    assert!(text.contains(next), "{text}");
    let (_, first) = text
        .split_once("Ask sellers for these prices first")
        .expect("a line");
    let (_, named) = first.split_once("in EUR: ").expect("the lines");
    let (named, _) = named.split_once(").").expect("an end");
    assert_eq!(named.split("; ").count(), 10, "{named}");
}

/// Whoever names a remedy of their own that is none reads why, rather than nothing.
#[test]
fn a_remedy_of_ones_own_that_is_none_says_why() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    let rule = |remedy: &str| {
        format!(
            "[[rule]]\nid = \"mine\"\ntitle = \"Mine\"\nseverity = \"hint\"\nstep = \"drive\"\n\
             says = \"It costs {{1}}.\"\ninstead = \"Think again.\"\n\
             when = [{{ figure = \"cost\", over = \"1 EUR\" }}]\n\
             remedy = [{{ choice = \"travel_y_mm\", value = {remedy} }}]\n"
        )
    };
    bench.write("club/rules.toml", rule("450"));
    let mut program = bench.program();
    let run = program.args(["assess", "b.toml", "--configs", "club"]);
    let stays = "not offered: --set travel_y_mm=450 does not lift it";
    run.assert().stdout(predicate::str::contains(stays));
}
