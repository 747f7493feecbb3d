//! Bundles: a build opens on another machine with the same totals to the cent, and a hostile
//! bundle does nothing but be refused.

use std::fs;

use crate::bench::Bench;
use predicates::prelude::PredicateBooleanExt as _;
use predicates::str::contains;
use serde_json::Value;

const BUILD: &str = "format = 1 # mine\n[working_area] # the shed\nbeam_tube = \"tube-own\"\n";
const TUBE: &str = "[[tube]]\nid = \"tube-own\"\ntitle = \"own\"\nsource = \"measured here\"\nwidth_mm = 100.0\nheight_mm = 100.0\nwall_mm = 4.0\n";

fn book(price: &str) -> String {
    format!(
        "[[price-book]]\nid = \"own\"\ntitle = \"Own\"\nbasis = \"quote\"\ncurrency = \"EUR\"\ndate = \"2026-11-20\"\nsupplier = \"demo-steel\"\n[price-book.prices]\ntube-own = {{ low = \"{price}\", likely = \"{price}\", high = \"{price}\" }}\n"
    )
}

/// The assessment of a file with the settings of one user.
fn assessed(bench: &Bench, home: &str, args: &[&str]) -> Value {
    let mut command = bench.program();
    command.env("XDG_CONFIG_HOME", bench.path(home));
    let output = command.args(["assess", "--json"]).args(args).output();
    let output = output.expect("it ran");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.is_empty(), "{said}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

fn bundled(bench: &Bench) {
    bench.write("b.toml", BUILD);
    bench.write("mine/gantrywright/parts/tube.toml", TUBE);
    bench.write("mine/gantrywright/book.toml", book("17.13"));
    let mut command = bench.program();
    command
        .env("XDG_CONFIG_HOME", bench.path("mine"))
        .args(["bundle", "b.toml", "--output", "out.toml"])
        .assert()
        .success()
        .stdout(contains("2 files").and(contains("  parts/tube.toml\n")));
}

#[test]
fn a_bundle_costs_the_same_elsewhere_to_the_cent() {
    let bench = Bench::new();
    bundled(&bench);
    bench.write("theirs/gantrywright/book.toml", book("99.00"));
    bench.write("theirs/gantrywright/tube.toml", TUBE.replace("4.0", "9.0"));
    let here = assessed(&bench, "mine", &["b.toml"]);
    let there = assessed(&bench, "theirs", &["out.toml"]);
    assert_eq!(there, here);
    assert_ne!(
        assessed(&bench, "theirs", &["b.toml"])["cost"],
        here["cost"]
    );
    let text = fs::read_to_string(bench.path("out.toml")).expect("read");
    bench
        .program()
        .args(["assess", "--json", "-"])
        .write_stdin(text.clone())
        .assert()
        .stdout(contains(
            here["cost"]["likely"].as_str().expect("an amount"),
        ));
    // Folders that are named still come on top.
    bench.write("extra/book.toml", book("18.13"));
    let dearer = assessed(&bench, "theirs", &["out.toml", "--configs", "extra"]);
    assert_ne!(dearer["cost"]["likely"], here["cost"]["likely"]);
    for command in [
        &["why", "out.toml", "cost.likely"][..],
        &["sheet", "out.toml", "parts"],
        &["picture", "out.toml"],
    ] {
        bench.program().args(command).assert().success();
    }
}

#[test]
fn offers_go_into_the_build_inside_and_the_rest_stays() {
    let bench = Bench::new();
    bundled(&bench);
    let before = fs::read_to_string(bench.path("out.toml")).expect("read") + "# the end\n";
    bench.write("out.toml", &before);
    bench.write("q.csv", "part,price,currency\nrail-15,21.50,EUR\n");
    let mut command = bench.program();
    command
        .args(["quotes", "out.toml", "q.csv"])
        .assert()
        .success();
    let after = fs::read_to_string(bench.path("out.toml")).expect("read");
    for kept in [
        "# mine",
        "# the shed",
        "21.50 EUR",
        "[recorded]",
        "# the end",
        "tube-own",
    ] {
        assert!(after.contains(kept), "{kept}: {after}");
    }
    let json = assessed(&bench, "theirs", &["out.toml"]);
    assert_eq!(json["moved"]["since"], "2026-11-30");
    assert_eq!(json["moved"]["prices"], Value::Array(Vec::new()));
    assert_eq!(json["moved"]["build_changed"], false);
}

#[test]
fn a_bundle_that_cannot_be_used_is_one_clear_message() {
    let bench = Bench::new();
    bundled(&bench);
    let good = fs::read_to_string(bench.path("out.toml")).expect("read");
    let refused = |text: &str| {
        bench.write("bad.toml", text);
        let output = bench.program().args(["assess", "bad.toml"]).output();
        let output = output.expect("it ran");
        assert_eq!(output.status.code(), Some(2), "{text}");
        let said = String::from_utf8(output.stderr).expect("text");
        assert_eq!(said.lines().count(), 1, "{said}");
        assert!(!said.contains('\u{1b}'), "{said:?}");
        said
    };
    let name = |name: &str| good.replace("\"parts/tube.toml\"", name);
    // A name is a name: what it would open is not looked at, and what it holds is shown.
    bench.write("secret.toml", "[[tube]]\nid = \"stolen\"\n");
    for hostile in [
        "\"../secret.toml\"",
        "\"/etc/passwd\"",
        "\"parts\\\\\\u0000x\"",
    ] {
        bench.write("odd.toml", name(hostile));
        let json = assessed(&bench, "theirs", &["odd.toml"]);
        assert_eq!(
            json["cost"],
            assessed(&bench, "theirs", &["out.toml"])["cost"]
        );
    }
    let odd = name("\"a\\u001b[31m.toml\"").replace("wall_mm = 4.0", "wall_mm = -4.0");
    let said = refused(&odd);
    assert!(
        said.starts_with("bad.toml: a\\u{1b}[31m.toml:7:11: "),
        "{said}"
    );
    let said = refused(&good.replace("beam_tube = \"tube-own", "beam_tube = \"tube-lost"));
    assert!(said.starts_with("bad.toml: build:3:13: "), "{said}");
    let nested = good.replace("format = 1 # mine", "bundle = 1 # mine");
    let said = refused(&nested);
    assert!(said.contains("is a bundle itself"), "{said}");
    bench
        .program()
        .args(["bundle", "out.toml", "--output", "again.toml"])
        .assert()
        .code(2)
        .stderr(contains("a bundle already"));
    bench
        .program()
        .args(["bundle", "secret.toml", "--output", "new.toml"])
        .assert()
        .code(2);
    assert!(!bench.path("new.toml").exists());
    bench
        .program()
        .args(["bundle", "b.toml", "--output", "out.toml"])
        .assert()
        .code(2)
        .stderr(contains("--force"));
    assert_eq!(
        fs::read_to_string(bench.path("out.toml")).expect("read"),
        good
    );
}

#[test]
fn what_moved_since_is_told_in_a_few_lines() {
    let bench = Bench::new();
    bundled(&bench);
    bench.write("q.csv", "part,price,currency\nrail-15,21.50,EUR\n");
    let mine = |args: &[&str]| {
        let mut command = bench.program();
        command
            .env("XDG_CONFIG_HOME", bench.path("mine"))
            .args(args);
        let output = command.output().expect("it ran");
        String::from_utf8(output.stdout).expect("text")
    };
    mine(&["quotes", "b.toml", "q.csv"]);
    assert!(!mine(&["assess", "b.toml"]).contains("Since"));
    bench.write("mine/gantrywright/book.toml", book("20.13"));
    let page = mine(&["assess", "b.toml"]);
    let block = page
        .split("\n\n")
        .find(|part| part.starts_with("Since 2026-11-30"));
    let block = block.unwrap_or_else(|| panic!("{page}"));
    assert!(block.lines().count() <= 8, "{block}");
    assert!(block.contains("1 unit price moved: +"), "{block}");
    assert!(
        block.contains("from 17.13 to 20.13 EUR (+17.5 %), +"),
        "{block}"
    );
    let json = assessed(&bench, "mine", &["b.toml"]);
    assert_eq!(json["moved"]["prices"][0]["is"], "20.13 EUR");
    assert_eq!(json["moved"]["data_changed"], true);
}
