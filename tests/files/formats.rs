//! Build files of every format that there was go on to open, say the same, and give the same
//! figures.
//!
//! A folder of `tests/formats/` holds samples of one format, with a `.json` of the same name
//! beside each: what it says (`choices` and `texts`), which never changes any more, and what
//! follows from that (`figures`). Where the catalogue or a formula is changed on purpose the
//! figures change, and this writes them anew:
//!
//! ```sh
//! UPDATE_FORMATS=1 cargo test --test files formats::
//! ```

use crate::common;
use std::fs;
use std::path::{Path, PathBuf};

use gantrywright::assessment::{assess, json::json};
use gantrywright::build::{Build, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::store::build_file::{self, FORMAT};
use serde_json::{Map, Value, json};

/// Says that figures are to be written anew.
const UPDATE: &str = "UPDATE_FORMATS";

/// The samples of a format, in the order of their names.
fn samples(format: u32) -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = root.join("tests/formats").join(format.to_string());
    let entries = fs::read_dir(&folder).unwrap_or_else(|error| panic!("{folder:?}: {error}"));
    let paths = entries.map(|entry| entry.expect("an entry").path());
    let mut found: Vec<PathBuf> = paths
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    found.sort();
    found
}

/// What a file says, whatever its format: the choices that it names, and what is no choice.
fn said(text: &str, build: &Build) -> Value {
    let table: toml::Table = toml::from_str(text).expect("TOML");
    let names = |id: &str| {
        let mut sections = table.values().filter_map(toml::Value::as_table);
        sections.any(|section| section.contains_key(id))
    };
    let named = choices::all().iter().filter(|choice| names(choice.id));
    let main = build.main();
    let named: Map<String, Value> = named
        .map(|choice| (choice.id.to_owned(), (choice.get)(&main).to_string().into()))
        .collect();
    let variants = build.variants.named();
    let variants: Map<String, Value> = variants
        .map(|(name, one)| {
            let set = one
                .set
                .iter()
                .map(|edit| format!("{}={}", edit.choice.id, edit.value));
            let set: Vec<String> = set.collect();
            (
                name.to_owned(),
                json!({ "from": one.from, "note": one.note, "set": set }),
            )
        })
        .collect();
    json!({
        "choices": named,
        "texts": {
            "title": build.title,
            "note": build.main().note,
            "open": build.variant(),
            "baseline": build.variants.baseline(),
            "variants": variants,
            "accepted": build.accepted,
            "done": (build.done.iter())
                .map(|(task, day)| format!("{task} {day}"))
                .collect::<Vec<_>>(),
            "purchases": bought(build),
        },
    })
}

/// What a build says of buying, as a file of today's format has it.
fn bought(build: &Build) -> Map<String, Value> {
    let text = build_file::write(None, build);
    let table: toml::Table = toml::from_str(&text).expect("TOML");
    let sections = ["purchases", "consignments", "offcuts_mm"].into_iter();
    sections
        .filter_map(|name| {
            let section = table.get(name)?;
            Some((
                name.to_owned(),
                serde_json::to_value(section).expect("JSON"),
            ))
        })
        .collect()
}

/// The figures that the side pane shows.
fn figures(catalogue: &Catalogue, build: &Build) -> Value {
    let assessment = assess(catalogue, build, common::today()).expect("an assessment");
    let all = json(build, &assessment, &[]);
    let rapids = all["axes"].as_object().expect("axes").values();
    let rapids: Vec<&Value> = rapids.map(|axis| &axis["rapid_m_per_min"]).collect();
    let findings = all["findings"].as_array().expect("findings").iter();
    let findings: Vec<&Value> = findings.map(|one| &one["rule"]).collect();
    json!({
        "cost": all["cost"]["likely"],
        "currency": all["currency"],
        "rapid_m_per_min": rapids,
        "findings": findings,
    })
}

#[test]
fn samples_of_every_format_open_and_give_the_same_figures() {
    let catalogue = common::catalogue();
    for format in 1..=FORMAT {
        let samples = samples(format);
        assert!(samples.len() >= 4, "format {format} has samples");
        for path in samples {
            let text = fs::read_to_string(&path).expect("readable");
            let start = text.lines().find(|line| line.starts_with("format"));
            assert_eq!(
                start,
                Some(format!("format = {format}").as_str()),
                "{path:?}"
            );
            let build = build_file::read(&text, &path.to_string_lossy(), &catalogue);
            let build = build.unwrap_or_else(|error| panic!("{error}"));
            let mut now = said(&text, &build);
            now["figures"] = figures(&catalogue, &build);
            let beside = path.with_extension("json");
            if std::env::var_os(UPDATE).is_some() {
                if let Ok(before) = fs::read_to_string(&beside) {
                    let before: Value = serde_json::from_str(&before).expect("JSON");
                    assert_eq!(now["choices"], before["choices"], "{path:?}");
                    assert_eq!(now["texts"], before["texts"], "{path:?}");
                }
                fs::write(&beside, format!("{now:#}\n")).expect("written");
            }
            let before = fs::read_to_string(&beside).expect("what it says stands beside it");
            let before: Value = serde_json::from_str(&before).expect("JSON");
            assert_eq!(now, before, "{path:?}");
            // Saved, it is a file of today's format and the same build.
            let saved = build_file::write(Some(&text), &build);
            let again = build_file::read(&saved, "saved", &catalogue).expect("readable");
            assert_eq!(again, build, "{path:?}");
            assert!(saved.contains(&format!("format = {FORMAT}")), "{saved}");
        }
    }
}
