//! The command `interview` as scripts run it: answers, files, JSON, slips.

use crate::bench::Bench;
use crate::common::assert_narrow;
use gantrywright::explore::interview::all;

#[test]
fn the_command_writes_a_build_that_opens_again() {
    let bench = Bench::new();
    let args = [
        "interview",
        "--answer",
        "materials=softwood,hardwood",
        "--answer",
        "size=500x400",
        "--free",
        "guide_x,guide_z",
        "--take",
        "stiff",
        "--save",
        "first.toml",
    ];
    let run = |more: &[&str]| {
        let output = bench.program().args(args).args(more).output().expect("run");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        let text = String::from_utf8(output.stdout).expect("text");
        (output.status.code(), text, said)
    };
    let (code, text, said) = run(&["--json"]);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("the stiff build saved"), "{said}");
    let json: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let likely = &json["builds"][2]["build"]["figures"]["cost"]["likely"];
    // A second time it is there, and stays unless somebody says so.
    let (code, _, said) = run(&[]);
    assert_eq!(code, Some(2));
    assert!(said.contains("--force"), "{said}");
    let assessed = bench
        .program()
        .args(["assess", "first.toml", "--json"])
        .output();
    let assessed = assessed.expect("run");
    let fresh: serde_json::Value = serde_json::from_slice(&assessed.stdout).expect("JSON");
    assert_eq!(&fresh["cost"]["likely"], likely);
    let (code, text, said) = run(&["--force"]);
    assert_eq!(code, Some(0), "{said}");
    assert_narrow(&text);
    assert!(text.contains("largest piece   500 mm x 400 mm"), "{text}");
}

#[test]
fn slips_in_answers_are_named() {
    let bench = Bench::new();
    for (answer, words) in [
        ("sise=600x400", "size"),
        ("size=600", "600 x 400"),
        ("materials=oak", "oak"),
        ("materials=99", "1 to 11"),
        ("quiet=perhaps", "neither yes nor no"),
        ("tools=tool-calliper", "tool-caliper"),
        ("height=0", "out of range"),
        ("budget=9000 XYZ", "XYZ"),
        ("size", "ID=VALUE"),
    ] {
        let output = bench
            .program()
            .args(["interview", "--free", "cooler", "--answer", answer])
            .output()
            .expect("run");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{answer}: {said}");
        assert!(said.contains(words), "{answer}: {said}");
    }
}

/// What is listed can be read at eighty columns and by programs, with the same questions.
#[test]
fn questions_are_listed_for_people_and_programs() {
    let bench = Bench::new();
    let list = |more: &[&str]| {
        let output = bench
            .program()
            .args(["interview", "--list"])
            .args(more)
            .output();
        String::from_utf8(output.expect("run").stdout).expect("text")
    };
    let text = list(&[]);
    assert_narrow(&text);
    let json: serde_json::Value = serde_json::from_str(&list(&["--json"])).expect("JSON");
    let listed = json.as_array().expect("a list");
    assert_eq!(listed.len(), all().len());
    for (one, prompt) in listed.iter().zip(all()) {
        assert_eq!(one["id"], prompt.id);
        assert!(text.contains(prompt.id), "{}", prompt.id);
    }
}

/// A lone amount is in the money of where it is built, wherever that stands in the line.
#[test]
fn a_lone_amount_waits_for_the_answer_that_says_its_money() {
    let bench = Bench::new();
    let answers = [
        "budget=90000",
        "socket=site-120v-15a",
        "country=destination-us",
    ];
    let mut program = bench.program();
    program.args(["interview", "--free", "cooler"]);
    for answer in answers {
        program.args(["--answer", answer]);
    }
    let text = String::from_utf8(program.output().expect("run").stdout).expect("text");
    let budget = text
        .lines()
        .find(|line| line.trim_start().starts_with("budget "));
    assert!(
        budget.is_some_and(|line| line.ends_with("90 000 USD")),
        "{text}"
    );
}
