//! The commands `ask` and `weigh`: as text of eighty columns, CSV and JSON.

use crate::bench::Bench;
use crate::common::assert_narrow;

const BUILD: &str = concat!(
    env!("CARGO_MANIFEST_DIR"),
    "/demo/builds/pier-allrounder.toml"
);

fn printed(args: &[&str]) -> String {
    let bench = Bench::new();
    let output = bench.program().args(args).output().expect("run");
    assert!(output.status.success(), "{args:?}: {output:?}");
    String::from_utf8(output.stdout).expect("text")
}

#[test]
fn questions_are_listed_and_answered() {
    let list = printed(&["ask", BUILD]);
    assert!(list.contains("several-machines"), "{list}");
    assert_narrow(&list);
    let answer = printed(&["ask", BUILD, "lead"]);
    assert!(answer.contains("A  X and Y: lead 5 mm"), "{answer}");
    // What is changed is told from what it is to what it becomes.
    let words = answer.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        words.contains("changes Drive X: 20 x 10 mm ball screw, rolled -> "),
        "{answer}"
    );
    assert_narrow(&answer);
    let json: serde_json::Value =
        serde_json::from_str(&printed(&["ask", BUILD, "lead", "--json"])).expect("JSON");
    assert_eq!(json["question"]["id"], "lead");
    assert_eq!(json["alternatives"][0]["changes"][0]["choice"], "drive_x");
    let apart = printed(&["ask", BUILD, "cooling", "--set", "spindle=router-710w-230"]);
    assert!(apart.contains("It does not arise"), "{apart}");
}

#[test]
fn what_matters_is_told_as_text_and_json() {
    for by in ["cost", "rapids", "stiffness", "removal", "current"] {
        assert_narrow(&printed(&["weigh", BUILD, "--by", by]));
    }
    let all = printed(&["weigh", BUILD, "--choices", "beam_tube,supply"]);
    assert_narrow(&all);
    assert!(all.contains("= 100x100x4 mm tube"), "{all}");
    let json = printed(&["weigh", BUILD, "--choices", "beam_tube", "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!(json["choices"][0]["choice"], "beam_tube");
    assert_eq!(json["by"], "stiffness");
}

/// What is written as CSV reads back: a row a point, as many cells as the heading, CR LF.
#[test]
fn a_sweep_reads_back_from_csv() {
    let range = "travel_x_mm=400..800/4";
    let text = printed(&["weigh", BUILD, "--sweep", range, "--format", "csv"]);
    assert!(text.lines().count() == 6 && text.contains("\r\n"));
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let heading = reader.headers().expect("a heading").clone();
    assert_eq!(&heading[0], "travel_x_mm");
    let records: Vec<csv::StringRecord> = reader.records().map(|one| one.expect("a row")).collect();
    let travels: Vec<f64> = records
        .iter()
        .map(|row| row[0].parse().expect("a number"))
        .collect();
    assert_eq!(travels, [400.0, 500.0, 600.0, 700.0, 800.0]);
    let json = printed(&["weigh", BUILD, "--sweep", range, "--json"]);
    let json: serde_json::Value = serde_json::from_str(&json).expect("JSON");
    for (place, row) in records.iter().enumerate() {
        let cost = &json["points"][place]["at"]["cost"]["likely"];
        assert_eq!(cost.as_str(), row.get(2), "{place}");
        let rapid = &json["points"][place]["at"]["rapids"]["X"]["m_per_min"];
        assert_eq!(rapid.as_f64(), row[5].parse().ok(), "{place}");
    }
    assert_narrow(&printed(&["weigh", BUILD, "--sweep", range]));
    assert_narrow(&printed(&["weigh", BUILD, "--sweep", "supply"]));
}

#[test]
fn mistakes_are_named() {
    let bench = Bench::new();
    for (args, words) in [
        (&["ask", BUILD, "led"][..], "lead"),
        (
            &["weigh", BUILD, "--sweep", "travel_x_mm=900..100"],
            "from the less to the more",
        ),
        (&["weigh", BUILD, "--choices", "beam_tub"], "beam_tube"),
    ] {
        let output = bench.program().args(args).output().expect("run");
        assert_eq!(output.status.code(), Some(2), "{args:?}");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(said.contains(words), "{said}");
    }
}
