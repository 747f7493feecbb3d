//! Variants in files and on the command line: what is kept, what is refused and where, and that
//! a variant is reckoned as a file with its choices would be.

use std::sync::LazyLock;

use crate::bench::Bench;
use gantrywright::build::purchases::Purchase;
use gantrywright::build::{Build, Edit, MAIN};
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::store::{build_file, bundle, library};
use rand::seq::IndexedRandom as _;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use serde_json::Value;

const FILE: &str = r#"# my plan
format = 1
title = "Shed"
active = "tall" # what I think of now

[working_area]
travel_x_mm = 700 # the bench

[variants.wide] # for doors
note = "doors"

# as wide as the shed
[variants.wide.set]
travel_x_mm = 900 # tried with tape

[variants.tall]
from = "wide"
set = { travel_z_mm = 200 } # moulds
"#;

fn catalogue() -> &'static Catalogue {
    static SHIPPED: LazyLock<Catalogue> =
        LazyLock::new(|| library::load(&[]).expect("the shipped catalogue"));
    &SHIPPED
}

fn read(text: &str) -> Build {
    build_file::read(text, "b.toml", catalogue()).unwrap_or_else(|error| panic!("{error}\n{text}"))
}

fn set(build: &Build, id: &str, value: &str) -> Build {
    let edit = Edit::parse(id, value, catalogue()).expect("a good edit");
    edit.applied(build)
}

/// The text after a change, which reads back as what was written.
fn saved(text: &str, build: &Build) -> String {
    let written = build_file::write(Some(text), build);
    assert_eq!(read(&written), *build, "{written}");
    written
}

#[test]
fn a_file_that_nothing_changed_in_stays_as_it_is() {
    let build = read(FILE);
    assert_eq!(build.variant(), "tall");
    assert_eq!(build.variant_names(), [MAIN, "wide", "tall"]);
    assert_eq!(saved(FILE, &build), FILE);
}

#[test]
fn what_is_changed_goes_where_it_belongs_and_remarks_stay() {
    // In the open variant, in the main build, and in one of its own.
    let tall = set(&read(FILE), "travel_z_mm", "250");
    let text = saved(FILE, &tall);
    assert!(text.contains("travel_z_mm = 250"), "{text}");
    assert!(text.contains("travel_x_mm = 700 # the bench"), "{text}");
    let main = set(&tall.switched(MAIN).expect("there"), "travel_y_mm", "500");
    let text = saved(&text, &main);
    assert!(!text.contains("active"), "{text}");
    let wide = set(&main.switched("wide").expect("there"), "travel_x_mm", "950");
    let wide = set(&wide, "budget", "900 EUR")
        .pinned(Some(MAIN))
        .expect("there");
    let text = saved(&text, &wide);
    for kept in [
        "# my plan",
        "travel_x_mm = 700 # the bench",
        "[variants.wide] # for doors",
        "# as wide as the shed\n[variants.wide.set]",
        "travel_x_mm = 950 # tried with tape",
        "active = \"wide\"",
        "baseline = \"main\"",
        "travel_y_mm = 500",
    ] {
        assert!(text.contains(kept), "{kept:?} is not in\n{text}");
    }
    let place = |words: &str| text.find(words).expect("there");
    assert!(place("active") < place("[working_area]"), "{text}");
    assert!(place("[working_area]") < place("[variants"), "{text}");
}

#[test]
fn making_naming_and_removing_leave_the_rest_alone() {
    let build = read(FILE);
    let other = build.branched("tall", "new one", "why not").expect("free");
    let other = set(&other, "materials", "softwood,plywood");
    let text = saved(FILE, &other);
    assert!(text.contains("[variants.\"new one\"]"), "{text}");
    let other = set(&other, "materials", "softwood,mdf");
    let text = saved(&text, &other);
    let named = other.renamed("wide", "broad", "doors").expect("free");
    let text = saved(&text, &named);
    for kept in [
        "from = \"broad\"",
        "[variants.broad] # for doors",
        "# as wide as the shed\n[variants.broad.set]",
        "900 # tried with tape",
    ] {
        assert!(text.contains(kept), "{kept:?} is not in\n{text}");
    }
    let without = named.without_variant("broad").expect("there");
    let text = saved(&text, &without);
    assert!(
        !text.contains("broad") && text.contains("# moulds"),
        "{text}"
    );
    let mut none = without;
    for name in ["tall", "new one"] {
        none = none.without_variant(name).expect("there");
    }
    let text = saved(&text, &none);
    assert!(!text.contains("variants"), "{text}");
    assert!(text.contains("# the bench"), "{text}");
    // A file of its own holds all of it too.
    let fresh = build_file::write(None, &other);
    assert_eq!(read(&fresh), other, "{fresh}");
}

#[test]
fn whatever_is_done_to_variants_is_read_back_as_it_was() {
    let catalogue = catalogue();
    let mut dice = ChaCha8Rng::seed_from_u64(5);
    let edits = [
        ("travel_x_mm", ["600", "700", "900"]),
        (
            "beam_tube",
            ["tube-100x100x5", "tube-80x80x4", "tube-120x120x5"],
        ),
        (
            "materials",
            ["softwood", "softwood,mdf", "acrylic,softwood"],
        ),
        ("budget", ["none", "3000 EUR", "4000 EUR"]),
        ("measured_beam_wall_mm", ["none", "3.9", "4"]),
    ];
    for _ in 0..20 {
        let mut build = read(FILE);
        let mut text = FILE.to_owned();
        for step in 0..15 {
            let names: Vec<String> = build
                .variant_names()
                .iter()
                .map(|&name| name.to_owned())
                .collect();
            let name = names.choose(&mut dice).expect("main at least");
            let fresh = format!("v {step}");
            let before = build.clone();
            let done = match dice.random_range(0..7) {
                0 => build.branched(name, &fresh, "a note"),
                1 => build.switched(name),
                2 => build.renamed(name, &fresh, "another note"),
                3 => build.without_variant(name),
                4 => build.pinned(Some(name)),
                _ => {
                    let (id, values) = edits.choose(&mut dice).expect("an edit");
                    let value = values.choose(&mut dice).expect("a value");
                    let edit = Edit::parse(id, value, catalogue).expect("a good edit");
                    Ok(edit.applied(&build))
                }
            };
            // What cannot be done to the main build leaves everything as it was.
            build = done.unwrap_or(before);
            text = saved(&text, &build);
            let fresh = build_file::write(None, &build);
            assert_eq!(read(&fresh), build, "{fresh}");
            for name in build.variant_names() {
                let there = build.switched(name).expect("there");
                let back = there.switched(build.variant()).expect("there");
                assert_eq!(back, build, "{text}");
            }
        }
        assert!(
            text.contains("# my plan") && text.contains("# the bench"),
            "{text}"
        );
    }
}

#[test]
fn purchases_are_shared_and_written_once() {
    let mut build = read(FILE);
    let part = Id::new("rail-15").expect("an id");
    let purchase = Purchase {
        note: Some("in the shed".to_owned()),
        ..Purchase::default()
    };
    build.purchases.parts.insert(part, purchase);
    let text = saved(FILE, &build);
    assert_eq!(text.matches("in the shed").count(), 1);
    let main = read(&text).switched(MAIN).expect("there");
    assert!(main.purchases.of(&part).is_some());
}

#[test]
fn a_bundle_and_a_record_hold_them_too() {
    let (catalogue, build) = (catalogue(), read(FILE));
    let today = jiff::civil::date(2026, 11, 25);
    let text = build_file::saved(Some(FILE), &build, catalogue, today);
    assert!(text.contains("[recorded"), "{text}");
    assert_eq!(read(&text), build);
    let bundled = bundle::write(&text, "b.toml", &[]).expect("small");
    let bundled = bundle::read(&bundled, "b")
        .expect("readable")
        .expect("a bundle");
    assert_eq!(read(&bundled.build), build);
}

#[test]
fn what_is_wrong_is_said_with_its_place_and_what_would_be_right() {
    let slips: &[(&str, &str, &[&str])] = &[
        ("[variants.main]", "3:11", &["main build itself"]),
        ("[variants.\"a,b\"]", "3:11", &["no comma"]),
        (
            "[variants.\"a\\u001bb\"]",
            "3:11",
            &["characters that show"],
        ),
        (
            "[variants.a]\nform = \"main\"",
            "4:1",
            &["did you mean \"from\"?"],
        ),
        (
            "[variants.a]\ntravel_x_mm = 9",
            "4:1",
            &["[variants.a.set]"],
        ),
        (
            "[variants.broad]\nfrom = \"x-large\"",
            "4:8",
            &["no variant \"x-large\"", "main, broad"],
        ),
        ("[variants.a]\nfrom = \"a\"", "4:8", &["circle", "a from a"]),
        (
            "[variants.ab]\nfrom = \"cd\"\n[variants.cd]\nfrom = \"ab\"",
            "4:8",
            &["ab from cd from ab"],
        ),
        ("[variants.a]\n[variants.A]", "4:11", &["capitals alone"]),
        (
            "[variants.a.set]\ntravel_x_m = 9",
            "4:1",
            &["did you mean \"travel_x_mm\"?"],
        ),
        (
            "[variants.a.set]\ntravel_x_mm = \"wide\"",
            "4:15",
            &["travel_x_mm", "a number"],
        ),
        (
            "[variants.a.set]\nbeam_tube = \"tube-100x100\"",
            "4:13",
            &["did you mean"],
        ),
        (
            "[variants.a.set]\nmeasured_beam_wall_mm = 4",
            "4:1",
            &["[working_area]", "all variants"],
        ),
        ("[variants]\na = 3", "4:5", &["it is a section"]),
        (
            "active = \"wid\"\n[variants.wide]",
            "3:10",
            &["did you mean \"wide\"?"],
        ),
        ("baseline = \"x\"", "3:12", &["no variant \"x\""]),
        ("active = 3", "3:10", &["a text in quotes"]),
    ];
    let bench = Bench::new();
    for (slip, place, wants) in slips {
        bench.write("b.toml", format!("format = 1\n\n{slip}\n"));
        let output = bench
            .program()
            .args(["assess", "b.toml"])
            .output()
            .expect("a run");
        assert_eq!(output.status.code(), Some(2), "{slip}");
        let message = String::from_utf8(output.stderr).expect("text");
        assert_eq!(message.lines().count(), 1, "{message}");
        assert!(
            message.starts_with(&format!("b.toml:{place}: ")),
            "{slip} gave {message}"
        );
        for want in *wants {
            assert!(message.contains(want), "{want:?} is not in {message}");
        }
    }
}

/// What a command prints as JSON.
fn printed(bench: &Bench, args: &[&str]) -> Value {
    let output = bench.program().args(args).output().expect("a run");
    let code = output.status.code();
    assert!(matches!(code, Some(0 | 1)), "{output:?}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

#[test]
fn a_variant_is_reckoned_as_a_file_with_its_choices() {
    let bench = Bench::new();
    bench.write("b.toml", FILE);
    let plain = "format = 1\ntitle = \"Shed\"\n[working_area]\n";
    bench.write("main.toml", format!("{plain}travel_x_mm = 700\n"));
    bench.write("wide.toml", format!("{plain}travel_x_mm = 900\n"));
    bench.write(
        "tall.toml",
        format!("{plain}travel_x_mm = 900\ntravel_z_mm = 200\n"),
    );
    for name in ["main", "wide", "tall"] {
        let mut own = printed(&bench, &["assess", "--json", &format!("{name}.toml")]);
        own["variant"] = name.into();
        let args = ["assess", "b.toml", "--json", "--variant", name];
        assert_eq!(printed(&bench, &args), own, "{name}");
    }
    // Where nothing is said, the file's own.
    let tall = printed(&bench, &["assess", "b.toml", "--json", "--variant", "tall"]);
    assert_eq!(printed(&bench, &["assess", "b.toml", "--json"]), tall);
    assert_eq!(
        printed(&bench, &["--variant", "tall", "assess", "--json", "b.toml"]),
        tall
    );
}

#[test]
fn quotes_keep_the_variants_and_a_bundle_opens_the_one_named() {
    let bench = Bench::new();
    bench.write("b.toml", FILE);
    bench.write("q.csv", "part,price\nrail-15,12.50\n");
    let run = |args: &[&str]| {
        let output = bench.program().args(args).output().expect("a run");
        assert_eq!(output.status.code(), Some(0), "{output:?}");
    };
    run(&["quotes", "b.toml", "q.csv", "--variant", "wide"]);
    let text = std::fs::read_to_string(bench.path("b.toml")).expect("there");
    let build = read(&text);
    assert_eq!(build.variant(), "tall");
    assert_eq!(build.purchases.parts.len(), 1);
    run(&["bundle", "b.toml", "--variant", "wide", "-o", "bundle.toml"]);
    let text = std::fs::read_to_string(bench.path("bundle.toml")).expect("there");
    let bundled = bundle::read(&text, "b")
        .expect("readable")
        .expect("a bundle");
    assert_eq!(read(&bundled.build).variant(), "wide");
    run(&["sheet", "bundle.toml", "parts", "--variant", "tall"]);
    run(&["why", "bundle.toml", "cost.likely", "--variant", "tall"]);
}
