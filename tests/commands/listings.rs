//! The commands that list what stands behind the figures: choices, parts, rules, examples,
//! completions and the manual.

use std::process::Output;

use crate::bench::Bench;
use gantrywright::catalogue::PartKind;
use predicates::prelude::*;
use serde_json::Value;

fn json(output: &Output) -> Value {
    serde_json::from_slice(&output.stdout).unwrap_or_else(|error| panic!("{error}: {output:?}"))
}

#[test]
fn overlays_reach_every_command_that_shows_parts() {
    let bench = Bench::new();
    let tube = |id: &str| {
        format!(
            "[[tube]]\nid = \"{id}\"\ntitle = \"own tube\"\nsource = \"measured here\"\nwidth_mm = 80\nheight_mm = 80\nwall_mm = 4\n"
        )
    };
    bench.write("config/gantrywright/deep/own.toml", tube("tube-user"));
    bench.write("more/own.toml", tube("tube-more"));
    bench.write(
        "b.toml",
        "format = 1\n[working_area]\nbeam_tube = \"tube-more\"\nbase_tube = \"tube-user\"\n",
    );
    let output = bench
        .program()
        .args(["parts", "tube", "--json", "--configs", "more"])
        .output();
    let parts = json(&output.expect("a run"));
    let ids: Vec<&str> = parts
        .as_array()
        .expect("parts")
        .iter()
        .filter_map(|part| part["id"].as_str())
        .collect();
    assert!(
        ids.contains(&"tube-user") && ids.contains(&"tube-more"),
        "{ids:?}"
    );
    let assess = || {
        let mut program = bench.program();
        program.args(["assess", "b.toml", "--configs", "more"]);
        program
    };
    let all = json(&assess().arg("--json").output().expect("a run"));
    let bill = all["bill"].as_array().expect("lines");
    assert!(
        bill.iter()
            .any(|line| line["part"] == "tube-more" && line["unit_price"].is_null())
    );
    bench
        .program()
        .args(["assess", "b.toml"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("no steel tube"));
    assess()
        .assert()
        .stdout(predicate::str::contains("2 lines have no price"));
}

/// Whoever writes a part down in a file begins with one that is there.
#[test]
fn a_part_is_printed_as_a_file_has_it() {
    let bench = Bench::new();
    let printed = |args: &[&str]| {
        let output = bench.program().args(args).output().expect("a run");
        assert!(output.status.success(), "{output:?}");
        String::from_utf8(output.stdout).expect("text")
    };
    let text = printed(&["parts", "ball-screw-16x10"]);
    let own = text.replace("\"ball-screw-16x10\"", "\"ball-screw-club\"");
    assert!(own != text && own.starts_with("[[ball-screw]]\n"), "{text}");
    bench.write("club/screw.toml", &own);
    assert_eq!(
        printed(&["parts", "ball-screw-club", "--configs", "club"]),
        own
    );
    let only = ["parts", "ball-screw-16x10", "--json"];
    let parts: Value = serde_json::from_str(&printed(&only)).expect("JSON");
    assert_eq!(parts.as_array().map(Vec::len), Some(1));
}

#[test]
fn the_tables_come_as_text_and_as_json() {
    let bench = Bench::new();
    let table = |args: &[&str]| {
        json(
            &bench
                .program()
                .args(args)
                .arg("--json")
                .output()
                .expect("a run"),
        )
    };
    let choices = table(&["choices"]);
    let choices = choices.as_array().expect("choices");
    assert!(choices.len() > 90, "{}", choices.len());
    for choice in choices {
        for key in ["id", "step", "title", "why", "kind", "default"] {
            assert!(
                choice[key].as_str().is_some_and(|text| !text.is_empty()),
                "{choice}"
            );
        }
        let listed = !["number", "amount"].contains(&choice["kind"].as_str().expect("a kind"));
        assert_eq!(
            choice["options"].as_array().expect("options").is_empty(),
            !listed,
            "{choice}"
        );
    }
    for part in table(&["parts", "ball-screw"]).as_array().expect("parts") {
        assert_eq!(part["kind"], "ball-screw");
        assert!(
            part["source"].is_string() && part["price"]["likely"].is_string(),
            "{part}"
        );
    }
    let rules = table(&["quantities", "ferrule"]);
    let rule = &rules.as_array().expect("rules")[0];
    assert_eq!(rule["part"], "ferrule-mixed");
    assert_eq!(
        (&rule["per"], &rule["each"]),
        (&"core-end".into(), &"1".into())
    );
    assert_eq!(
        (&rule["pack"], &rule["first_cut"]),
        (&"200".into(), &true.into())
    );
    for rule in table(&["rules"]).as_array().expect("rules") {
        for key in [
            "id", "severity", "step", "title", "source", "watches", "because", "do",
        ] {
            assert!(
                rule[key].as_str().is_some_and(|text| !text.is_empty()),
                "{rule}"
            );
        }
    }
    for args in [
        &["choices"][..],
        &["parts"],
        &["parts", "site"],
        &["quantities"],
        &["assess", "-"],
    ] {
        let output = bench
            .program()
            .args(args)
            .write_stdin("format = 1\n")
            .output()
            .expect("a run");
        let text = String::from_utf8(output.stdout).expect("text");
        let wide = text
            .lines()
            .find(|line| unicode_width::UnicodeWidthStr::width(*line) > 80);
        assert!(!text.is_empty() && wide.is_none(), "{args:?}: {wide:?}");
    }
    bench
        .program()
        .args(["quantities", "cable-glant"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("did you mean \"cable-gland\"?"));
    bench
        .program()
        .args(["parts", "ball-scew"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("did you mean \"ball-screw\"?"));
}

#[test]
fn examples_are_listed_printed_and_assessed() {
    let bench = Bench::new();
    bench
        .program()
        .args(["demo", "--list"])
        .assert()
        .success()
        .stderr("");
    bench
        .program()
        .args(["demo", "no-such-example"])
        .assert()
        .code(2)
        .stderr(predicate::str::contains("there is no example"));
    for example in gantrywright::store::examples::all() {
        let output = bench
            .program()
            .args(["demo", example.name, "--print"])
            .output()
            .expect("a run");
        let assess = bench
            .program()
            .args(["assess", "-"])
            .write_stdin(output.stdout)
            .output();
        let assess = assess.expect("a run");
        assert!(
            matches!(assess.status.code(), Some(0 | 1)),
            "{}: {assess:?}",
            example.name
        );
    }
}

#[test]
fn completions_and_manual_are_printed() {
    let bench = Bench::new();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let assert = bench
            .program()
            .args(["completions", shell])
            .assert()
            .success();
        assert.stdout(
            predicate::str::contains("gantrywright").and(predicate::str::contains("assess")),
        );
    }
    bench
        .program()
        .args(["completions", "abacus"])
        .assert()
        .code(2);
    let output = bench.program().arg("manual").output().expect("a run");
    let page = String::from_utf8(output.stdout).expect("text");
    for part in [
        ".TH gantrywright 1",
        "COMMAND: ASSESS",
        "COMMAND: MANUAL",
        "GANTRYWRIGHT_TODAY",
        "Exit codes",
    ] {
        assert!(page.contains(part), "{part} is not in {page}");
    }
    bench
        .program()
        .arg("--help")
        .assert()
        .success()
        .stdout(predicate::str::contains("Exit codes"));
    bench.program().arg("--version").assert().success();
}

/// The help of the program, or of a command.
fn help(bench: &Bench, of: &[&str]) -> String {
    let output = bench.program().args(of).arg("--help").output();
    String::from_utf8(output.expect("a run").stdout).expect("text")
}

/// The options for reports of faults stand together, behind what a command is for.
#[test]
fn the_log_comes_last_in_every_help() {
    let bench = Bench::new();
    for of in [&[][..], &["demo"], &["find"], &["weigh"], &["interview"]] {
        let page = help(&bench, of);
        let options = page
            .lines()
            .filter_map(|line| line.strip_prefix("      --"));
        let options: Vec<&str> = options.filter_map(|line| line.split(' ').next()).collect();
        assert_eq!(options[options.len() - 2..], ["log", "log-text"], "{page}");
    }
}

/// The closing words are broken into lines once: no line ends before it is full.
#[test]
fn the_end_of_a_help_is_wrapped_once() {
    let bench = Bench::new();
    for of in ["find", "weigh", "sheet", "interview", "compare", "bundle"] {
        let page = help(&bench, &[of]);
        let (_, end) = page.split_once("Print help").expect("the last option");
        let lines: Vec<&str> = end.lines().skip(1).collect();
        let wide = lines.iter().map(|line| line.chars().count()).max();
        for pair in lines.windows(2) {
            let [line, next] = pair else { continue };
            let word = next.split(' ').next().unwrap_or_default();
            let more = line.chars().count() + 1 + word.chars().count();
            let full = line.is_empty() || word.is_empty() || Some(more) > wide;
            assert!(full, "{of}: {line:?} has room for {word:?}");
        }
    }
    let page = help(&bench, &[]);
    let kept = "  XDG_STATE_HOME\n          where gantrywright/ keeps";
    assert!(page.contains(kept), "{page}");
}

/// Whoever writes a part into a file needs its keys without a screen.
#[test]
fn the_fields_of_a_kind_are_listed() {
    let bench = Bench::new();
    let run = |args: &[&str]| {
        let output = bench.program().args(args).output().expect("a run");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
        (
            output.status.code(),
            text(output.stdout),
            text(output.stderr),
        )
    };
    let (code, text, _) = run(&["parts", "ball-screw", "--fields"]);
    assert_eq!(code, Some(0));
    for kept in [
        "[[ball-screw]]",
        "\nroot_mm ",
        "(needed): one of rolled, ground",
        "[price-book.prices]",
    ] {
        assert!(text.contains(kept), "{kept:?} is not in {text}");
    }
    let dn = text.split("\ndn_limit_mm_rpm").nth(1).expect("its key");
    let dn = dn.split("\nnut_length_mm").next().expect("the next");
    assert!(dn.contains("(may be left out)"), "{dn}");
    for kind in PartKind::ALL.iter().filter(|kind| kind.is_bought()) {
        let (code, text, said) = run(&["parts", kind.key(), "--fields"]);
        assert_eq!(code, Some(0), "{said}");
        let keys = kind.fields();
        let missing = keys.iter().find(|field| !text.contains(field.key));
        assert!(missing.is_none(), "{missing:?} is not in {text}");
        assert!(
            text.lines().all(|line| line.chars().count() <= 80),
            "{text}"
        );
    }
    let (code, _, said) = run(&["parts", "site", "--fields"]);
    assert_eq!(code, Some(2));
    assert!(said.contains("is no part that is bought"), "{said}");
}

/// A slip in one's own parts stops every command: the message says how to go on.
#[test]
fn a_slip_in_own_parts_says_how_to_go_on() {
    let bench = Bench::new();
    bench.write(
        "config/gantrywright/own-parts.toml",
        "[[tube]]\nid = \"t\"\nwall_mm = \"4\"\n",
    );
    let output = bench.program().arg("parts").output().expect("a run");
    let said = String::from_utf8(output.stderr).expect("text");
    let lines: Vec<&str> = said.lines().collect();
    assert_eq!(lines.len(), 2, "{said}");
    assert!(lines[0].contains("own-parts.toml:3:11: "), "{said}");
    assert!(lines[1].contains("move it out of that folder"), "{said}");
}

/// An option that stands before the command is taken or refused as one behind it, never ignored.
#[test]
fn options_before_a_command_that_has_no_use_for_them_are_refused() {
    let bench = Bench::new();
    for (options, named) in [
        (&["--color", "always"][..], "--color"),
        (&["--units", "inch"], "--units"),
        (&["--marks", "1,234.5"], "--marks"),
        (&["--theme", "dark"], "--theme"),
    ] {
        for command in [
            &["rules", "thread"][..],
            &["words", "step"],
            &["keys"],
            &["manual"],
        ] {
            let mut program = bench.program();
            let output = program.args(options).args(command).output().expect("run");
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            assert_eq!(output.status.code(), Some(2), "{options:?} {command:?}");
            assert!(said.contains(named), "{said}");
        }
        let mut program = bench.program();
        program
            .args(options)
            .args(["parts", "tube"])
            .assert()
            .success();
    }
}
