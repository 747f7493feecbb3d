//! `gantrywright compare`: its columns are the figures of `assess`, and it keeps to its width.

use crate::bench::Bench;
use crate::common::assert_narrow;
use serde_json::Value;

const FILE: &str = r#"format = 1
title = "Shed"
active = "tall"

[working_area]
travel_x_mm = 700

[variants.wide.set]
travel_x_mm = 900

[variants.tall]
from = "wide"
set = { travel_z_mm = 200 }
"#;

/// What a command prints as JSON.
fn printed(bench: &Bench, args: &[&str]) -> Value {
    let output = bench.program().args(args).output().expect("a run");
    let code = output.status.code();
    assert!(matches!(code, Some(0 | 1)), "{output:?}");
    serde_json::from_slice(&output.stdout).expect("JSON")
}

/// The value that a row's key has in the JSON of `assess`.
fn figure(json: &Value, key: &str) -> Option<Value> {
    let mut here = json;
    for step in key.split('.') {
        here = match here {
            Value::Array(all) => match step.parse::<usize>() {
                Ok(place) => all.get(place)?,
                Err(_) => all.iter().find(|one| one["name"] == step)?,
            },
            _ => here.get(step)?,
        };
    }
    Some(here.clone())
}

/// The best cut of a material in the JSON of `assess`, as `cutting.MATERIAL.WHAT` names it.
fn best_cut(json: &Value, key: &str) -> Value {
    let [_, material, what] = key.split('.').collect::<Vec<_>>()[..] else {
        panic!("{key}")
    };
    let cuts = json["cutting"].as_array().expect("cuts").iter();
    let removal = |cut: &&Value| cut["removal_cm3_per_min"].as_f64().unwrap_or(0.0);
    let cuts = cuts.filter(|cut| cut["material"] == material && cut["verdict"] != "no");
    let best = cuts.max_by(|a, b| removal(a).total_cmp(&removal(b)));
    best.map_or(Value::Null, |cut| cut[what].clone())
}

#[test]
fn the_columns_of_a_comparison_are_the_figures_of_assess() {
    let bench = Bench::new();
    bench.write(
        "b.toml",
        FILE.replace(
            "travel_z_mm = 200",
            "travel_z_mm = 200, extractor = \"none\", machines = 2",
        ),
    );
    let side = printed(&bench, &["compare", "--json", "--all", "b.toml"]);
    assert_eq!(side["names"], serde_json::json!(["main", "wide", "tall"]));
    let mut seen = 0;
    for (place, name) in ["main", "wide", "tall"].iter().enumerate() {
        let own = printed(&bench, &["assess", "b.toml", "--json", "--variant", name]);
        for (group, rows) in side["rows"].as_object().expect("groups") {
            if group == "choices" || group == "warnings" {
                continue;
            }
            for row in rows.as_array().expect("rows") {
                let key = row["key"].as_str().expect("a key");
                let value = match group.as_str() {
                    "cutting" if key.starts_with("cutting.") => best_cut(&own, key),
                    _ => figure(&own, key).unwrap_or(Value::Null),
                };
                assert_eq!(row["values"][place], value, "{name}: {key}");
                seen += usize::from(!value.is_null());
            }
        }
        let findings = own["findings"].as_array().expect("findings");
        for row in side["rows"]["warnings"].as_array().expect("rows") {
            let severity = row["key"]
                .as_str()
                .and_then(|key| key.strip_prefix("warnings."));
            // One rule on several axes is one entry, as on the screen: the others follow from it.
            let alike = findings.iter().filter(|one| {
                one["severity"].as_str() == severity && one["follows_from"].is_null()
            });
            assert_eq!(
                row["values"][place].as_f64(),
                Some(alike.count() as f64),
                "{name}"
            );
        }
    }
    assert!(seen > 90, "{seen}");
}

#[test]
fn compare_takes_files_edits_and_named_variants() {
    let bench = Bench::new();
    bench.write("b.toml", FILE);
    bench.write("other.toml", "format = 1\ntitle = \"Other\"\n");
    let side = printed(&bench, &["compare", "--json", "b.toml", "other.toml"]);
    assert_eq!(side["names"], serde_json::json!(["b", "other"]));
    let args = [
        "compare",
        "--json",
        "b.toml",
        "--variants",
        "tall,main",
        "--set",
        "travel_x_mm=650",
    ];
    let side = printed(&bench, &args);
    assert_eq!(side["names"], serde_json::json!(["tall", "main"]));
    assert_eq!(side["against"], "tall");
    let choices = side["rows"]["choices"].as_array().expect("rows");
    assert!(choices.iter().all(|row| row["differs"] == true));
    assert!(
        !choices
            .iter()
            .any(|row| row["key"] == "working_area.travel_x_mm")
    );
    // A pin is what the others are compared with.
    bench.write(
        "b.toml",
        FILE.replace("active = \"tall\"", "baseline = \"wide\""),
    );
    let side = printed(&bench, &["compare", "--json", "b.toml"]);
    assert_eq!(side["against"], "wide");
    for args in [
        &["compare", "other.toml"][..],
        &["compare", "b.toml", "other.toml", "--variants", "wide"],
        &["compare", "b.toml", "--variants", "wide"],
        &["compare", "b.toml", "--variants", "wide,nothing"],
        &["compare", "b.toml", "--variant", "wide"],
        &["parts", "--variant", "wide"],
        &["--variant", "wide", "parts"],
    ] {
        let output = bench.program().args(args).output().expect("a run");
        assert_eq!(output.status.code(), Some(2), "{args:?}");
    }
}

#[test]
fn a_comparison_keeps_to_eighty_columns() {
    let bench = Bench::new();
    let long = format!(
        "{}\n[variants.\"{}\"]\nfrom = \"tall\"\n",
        FILE,
        "x y-".repeat(10)
    );
    bench.write("b.toml", long);
    for args in [&["compare", "b.toml"][..], &["compare", "b.toml", "--all"]] {
        let output = bench.program().args(args).output().expect("a run");
        let text = String::from_utf8(output.stdout).expect("text");
        assert!(text.contains("against main"), "{text}");
        assert_narrow(&text);
    }
}
