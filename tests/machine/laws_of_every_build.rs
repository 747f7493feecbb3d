//! What holds for whatever anybody chooses, at the ends of every range too: every number is a
//! number, none is below zero that cannot be, units are those that the names promise, and what
//! was saved loads again and is the same machine.

use crate::common;
use gantrywright::assessment::{assess, explain, json::json};
use gantrywright::build::{Build, Edit, Kind, Value, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::explain::Derivation;
use gantrywright::money::Currency;
use gantrywright::store::{build_file, library};
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use serde_json::Value as Json;

/// Keys under which there may be nothing: the axis, acceptance and cause of a finding.
const MAY_BE_NULL: &[&str] = &["axis", "accepted", "follows_from"];

/// Figures that may lie below zero: friction may brake harder than asked, and a model may be
/// off either way.
const MAY_BE_NEGATIVE: &[&str] = &["brake_torque_nm", "braking_nm", "off_percent"];

/// What is wrong with the numbers in the JSON.
fn unsound(json: &Json, path: &str, key: &str, found: &mut Vec<String>) {
    match json {
        Json::Object(map) => map
            .iter()
            .for_each(|(key, value)| unsound(value, &format!("{path}.{key}"), key, found)),
        Json::Array(list) => list
            .iter()
            .enumerate()
            .for_each(|(place, value)| unsound(value, &format!("{path}.{place}"), key, found)),
        Json::Null if !MAY_BE_NULL.contains(&key) => found.push(format!("{path} is nothing")),
        Json::Number(number) => {
            let number = number.as_f64().unwrap_or(f64::NAN);
            let fine = number.is_finite() && (number >= 0.0 || MAY_BE_NEGATIVE.contains(&key));
            if !fine {
                found.push(format!("{path} is {number}"));
            }
        }
        Json::String(text) => {
            let lower = text.to_lowercase();
            let words: Vec<&str> = lower.split(|c: char| !c.is_alphanumeric()).collect();
            if words.contains(&"nan") || words.contains(&"inf") || text.contains("without end") {
                found.push(format!("{path} says {text:?}"));
            }
        }
        _ => {}
    }
}

/// Assesses a build; panics where anything in the JSON is not sound.
fn sound(catalogue: &Catalogue, build: &Build, what: &str) {
    let assessment =
        assess(catalogue, build, common::today()).unwrap_or_else(|error| panic!("{what}: {error}"));
    let mut found = Vec::new();
    unsound(&json(build, &assessment, &[]), "", "", &mut found);
    assert!(found.is_empty(), "{what}: {found:#?}");
    for line in &assessment.bill.lines {
        let least = line.total.low.min(line.needed).min(line.quantity);
        assert!(least >= Decimal::ZERO, "{what}: {}", line.part);
    }
}

/// What was edited, to be read where it fails.
fn said(edits: &[(&choices::Choice, Value)]) -> String {
    let each = edits
        .iter()
        .map(|(choice, value)| format!("{}={value}", choice.id));
    each.collect::<Vec<_>>().join(" ")
}

#[test]
fn random_builds_are_sound() {
    let catalogue = common::catalogue();
    for (place, build) in common::random_builds(&catalogue, 91, 240)
        .iter()
        .enumerate()
    {
        sound(&catalogue, build, &format!("build {place}"));
    }
}

/// The default and a random build with every choice at each of its ends in turn.
#[test]
fn every_end_of_every_choice_is_sound() {
    let catalogue = common::catalogue();
    let bases = [
        Build::default(),
        common::random_builds(&catalogue, 92, 3).remove(2),
    ];
    for base in &bases {
        for choice in choices::all() {
            for value in common::ends(choice, &catalogue) {
                let what = said(&[(choice, value.clone())]);
                let build = Edit { choice, value }.applied(base);
                sound(&catalogue, &build, &what);
            }
        }
    }
}

/// Builds with every choice at one of its ends: all least, all most, and at random.
fn corners(catalogue: &Catalogue, seed: u64, count: usize) -> Vec<Build> {
    let mut rng = ChaCha8Rng::seed_from_u64(seed);
    let corner = |place: usize| {
        let mut build = Build::default();
        for choice in choices::all() {
            let mut ends = common::ends(choice, catalogue);
            let number = matches!(choice.kind, Kind::Number(_));
            let place = match place {
                0 if number => ends.len() - 2,
                1 if number => ends.len() - 1,
                _ => rng.random_range(0..ends.len()),
            };
            let value = ends.swap_remove(place);
            Edit { choice, value }.apply(&mut build);
        }
        build
    };
    (0..count).map(corner).collect()
}

#[test]
fn builds_at_the_ends_of_everything_are_sound() {
    let catalogue = common::catalogue();
    for (place, build) in corners(&catalogue, 93, 200).iter().enumerate() {
        sound(&catalogue, build, &format!("corner {place}"));
    }
}

/// The units that the end of a figure's name promises, the longest ending first; one without
/// an ending is a count, a plain ratio or money.
const SUFFIXES: &[(&str, &str)] = &[
    ("_m_per_s2", "m/s²"),
    ("_mm_per_s2", "mm/s²"),
    ("_m_per_min", "m/min"),
    ("_mm_per_min", "mm/min"),
    ("_cm3_per_min", "cm³/min"),
    ("_m3_per_h", "m³/h"),
    ("_n_per_um", "N/µm"),
    ("_n_per_mm2", "N/mm²"),
    ("_nm_per_a", "Nm/A"),
    ("_kg_m2", "kg·m²"),
    ("_per_mm", "per mm"),
    ("_mm2", "mm²"),
    ("_m2", "m²"),
    ("_mm", "mm"),
    ("_um", "µm"),
    ("_km", "km"),
    ("_kg", "kg"),
    ("_nm", "Nm"),
    ("_ohm", "ohm"),
    ("_khz", "kHz"),
    ("_hz", "Hz"),
    ("_rpm", "rpm"),
    ("_ma", "mA"),
    ("_min", "min"),
    ("_percent", "%"),
    ("_m", "m"),
    ("_n", "N"),
    ("_a", "A"),
    ("_v", "V"),
    ("_w", "W"),
    ("_j", "J"),
    ("_k", "K"),
    ("_s", "s"),
    ("_h", "h"),
    ("_hours", "h"),
    ("_days", "days"),
    ("rpm", "rpm"),
    ("volts", "V"),
    ("shares", "%"),
    ("pieces", "mm"),
    ("springs", "N/µm"),
];

/// The unit that a path promises: of its last key, or of the group that the key is one of.
fn promised(path: &str) -> Option<&'static str> {
    // Pieces of a bar are lengths; those of a cable are counted.
    if path.starts_with("cables.") && path.ends_with(".pieces") {
        return None;
    }
    path.rsplit('.').find_map(|key| {
        let mut suffixes = SUFFIXES.iter();
        suffixes
            .find(|(suffix, _)| key.ends_with(suffix))
            .map(|(_, unit)| *unit)
    })
}

/// What is wrong with the units and numbers of a derivation.
fn off(derivation: &Derivation, found: &mut Vec<String>) {
    let path = &derivation.path;
    let mut say = |what: String| found.push(format!("{path}: {what}"));
    let unit = derivation.result.unit();
    match promised(path) {
        Some(promised) if promised != unit => say(format!("in {unit:?}, not {promised:?}")),
        None if !may_be_plain(path, unit) => say(format!("in {unit:?}, its name says no unit")),
        _ => {}
    }
    if let Some(modelled) = derivation.modelled
        && modelled.unit() != unit
    {
        say(format!(
            "measured in {unit:?}, modelled in {:?}",
            modelled.unit()
        ));
    }
    let numbers = derivation
        .inputs
        .iter()
        .map(|input| (input.symbol, input.value));
    for (symbol, value) in numbers.chain([("result", derivation.result)]) {
        if !value.number().is_finite() {
            say(format!("{symbol} is {}", value.number()));
        }
    }
}

/// Groups whose units are not in their names: money, counts and ratios.
fn may_be_plain(path: &str, unit: &str) -> bool {
    let money = unit.len() == 3 && unit.chars().all(|letter| letter.is_ascii_uppercase());
    let first = path.split('.').next().unwrap_or_default();
    match first {
        "cost" | "bill" => true,
        _ => unit.is_empty() || money,
    }
}

#[test]
fn units_are_those_that_the_names_promise() {
    let catalogue = common::catalogue();
    let mut found = Vec::new();
    let mut told = 0;
    let mut builds = common::random_builds(&catalogue, 94, 45);
    builds.extend(corners(&catalogue, 95, 45));
    for build in &builds {
        let (_, notes) = explain(&catalogue, build, common::today()).expect("an assessment");
        for derivation in notes.all() {
            told += 1;
            off(derivation, &mut found);
        }
    }
    found.sort();
    found.dedup();
    assert!(told > 20_000, "only {told} derivations");
    assert!(
        found.is_empty(),
        "{} such: {:#?}",
        found.len(),
        &found[..found.len().min(60)]
    );
}

/// A build that was saved loads again and makes the same machine.
#[test]
fn saved_builds_load_and_are_sound() {
    let catalogue = library::load(&[]).expect("the catalogue");
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("build.toml");
    let mut builds = common::random_builds(&catalogue, 96, 45);
    builds.extend(corners(&catalogue, 97, 30));
    for (place, build) in builds.iter().enumerate() {
        let mut build = build.clone();
        // A budget in a currency without a rate is refused on loading, as it should be.
        build.area.budget = build
            .area
            .budget
            .filter(|money| money.currency == Currency::EUR);
        build.area.monthly_budget =
            (build.area.monthly_budget).filter(|money| money.currency == Currency::EUR);
        std::fs::write(&path, build_file::write(None, &build)).expect("a written file");
        let loaded = build_file::load(&path, &catalogue)
            .unwrap_or_else(|error| panic!("build {place}: {error}"))
            .build;
        assert_eq!(loaded, build, "build {place}");
        sound(&catalogue, &loaded, &format!("build {place}"));
    }
}

/// The figures of a part in a file: the keys whose values are numbers.
fn numbers(part: &toml::Table) -> Vec<String> {
    let numbers = part
        .iter()
        .filter(|(_, value)| value.is_float() || value.is_integer());
    numbers.map(|(key, _)| key.clone()).collect()
}

/// A random overlay: one part of the catalogue with one or two of its figures far off.
fn overlay(rng: &mut ChaCha8Rng) -> String {
    let files = gantrywright::store::embedded::catalogue();
    loop {
        let file = files[rng.random_range(0..files.len())];
        let table: toml::Table = toml::from_str(file.text()).expect("a catalogue file");
        let lists: Vec<_> = table
            .iter()
            .filter_map(|(kind, list)| Some((kind, list.as_array()?)))
            .collect();
        if lists.is_empty()
            || !file.name.contains("parts")
                && !file.name.contains("frames")
                && !file.name.contains("sites")
                && !file.name.contains("materials")
        {
            continue;
        }
        let (kind, list) = lists[rng.random_range(0..lists.len())];
        let Some(mut part) = list[rng.random_range(0..list.len())].as_table().cloned() else {
            continue;
        };
        let keys = numbers(&part);
        if keys.is_empty() {
            continue;
        }
        for _ in 0..rng.random_range(1..=2) {
            let key = &keys[rng.random_range(0..keys.len())];
            let factor = [0.001, 0.05, 0.5, 2.0, 20.0, 1000.0][rng.random_range(0..6)];
            let value = match &part[key] {
                toml::Value::Integer(number) => *number as f64 * factor,
                value => value.as_float().unwrap_or(1.0) * factor,
            };
            let value = match &part[key] {
                toml::Value::Integer(_) if value >= 1.0 => toml::Value::Integer(value as i64),
                _ => toml::Value::Float(value),
            };
            part.insert(key.clone(), value);
        }
        let list = toml::Value::Array(vec![toml::Value::Table(part)]);
        let table = toml::Table::from_iter([(kind.clone(), list)]);
        return toml::to_string(&table).expect("an overlay");
    }
}

/// The build with the part of an overlay in every place that takes it.
fn using(catalogue: &Catalogue, build: &Build, overlay: &str) -> Build {
    let mut build = build.clone();
    let table: toml::Table = toml::from_str(overlay).expect("an overlay");
    let id = table
        .values()
        .next()
        .and_then(|list| list[0]["id"].as_str())
        .expect("an id");
    for choice in choices::all() {
        if let Kind::Part { .. } = choice.kind
            && let Ok(edit) = Edit::parse(choice.id, id, catalogue)
        {
            edit.apply(&mut build);
        }
    }
    build
}

/// Whatever an overlay says that loads: nothing panics, and every number is one.
#[test]
fn overlays_that_load_make_sound_machines() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut rng = ChaCha8Rng::seed_from_u64(98);
    let mut loaded = 0;
    let builds = common::random_builds(&library::load(&[]).expect("the catalogue"), 99, 3);
    for _ in 0..250 {
        let text = overlay(&mut rng);
        std::fs::write(folder.path().join("own.toml"), &text).expect("a written file");
        let Ok(catalogue) = library::load(&[folder.path().to_owned()]) else {
            continue;
        };
        loaded += 1;
        for build in builds.iter().chain([&Build::default()]) {
            sound(&catalogue, &using(&catalogue, build, &text), &text);
        }
    }
    assert!(loaded > 80, "only {loaded} overlays loaded");
}
