//! Absurd figures in overlay files: every key of every shipped file is set to what no part
//! has. Either the file is refused at the place, or every build still has figures that a
//! machine can have.

use crate::common;
use std::collections::HashSet;

use gantrywright::assessment::{assess, json::json};
use gantrywright::build::{Build, choices};
use gantrywright::catalogue::{Catalogue, CatalogueFile};
use gantrywright::store::{embedded, examples, library};
use rust_decimal::Decimal;
use serde_json::Value as Json;
use toml::Value as Toml;

/// Keys of words under which the JSON may say that there is nothing. A figure that is no
/// number would be null too, under any other key.
const MAY_BE_NULL: [&str; 3] = ["axis", "accepted", "follows_from"];

/// Every figure that is not one: null, or negative where nature has no less than nothing.
fn absurd(key: &str, value: &Json, found: &mut Vec<String>) {
    let physical = ["_mm", "_kg", "_m", "_um", "_w", "_a"];
    match value {
        Json::Null if !MAY_BE_NULL.contains(&key) => found.push(format!("{key} is null")),
        Json::Number(number)
            if number.as_f64().is_some_and(|number| number < 0.0)
                && physical.iter().any(|unit| key.ends_with(unit)) =>
        {
            found.push(format!("{key} is {number}"));
        }
        Json::String(text) if text.contains("NaN") || text.contains("inf ") => {
            found.push(format!("{key} says {text:?}"));
        }
        Json::Array(list) => list.iter().for_each(|one| absurd(key, one, found)),
        Json::Object(map) => map.iter().for_each(|(key, one)| absurd(key, one, found)),
        _ => {}
    }
}

/// The default build and the examples.
fn builds(catalogue: &Catalogue) -> Vec<Build> {
    let examples = examples::all().into_iter();
    let mut builds: Vec<Build> = examples
        .map(|example| example.build(catalogue).expect("a build"))
        .collect();
    builds.push(Build::default());
    builds
}

/// The parts on the bills of all builds, and what their choices name.
fn used(catalogue: &Catalogue) -> HashSet<String> {
    let mut ids = HashSet::new();
    for build in builds(catalogue) {
        let bill = assess(catalogue, &build, common::today())
            .expect("fine")
            .bill;
        ids.extend(bill.lines.iter().map(|line| line.part.to_string()));
        for choice in choices::all() {
            let value = (choice.get)(&build).to_string();
            ids.extend(value.split(',').map(|word| word.trim().to_owned()));
        }
    }
    ids
}

/// One figure of a shipped entry: its kind, and the keys and places that lead to it.
type Path = Vec<String>;

/// Every figure of a value: numbers, and amounts in quotes.
fn figures(value: &Toml, path: &Path, found: &mut Vec<Path>) {
    let deeper = |step: String| path.iter().cloned().chain([step]).collect::<Path>();
    match value {
        Toml::Integer(_) | Toml::Float(_) => found.push(path.clone()),
        Toml::String(text) if text.parse::<Decimal>().is_ok() => found.push(path.clone()),
        Toml::Array(list) => {
            for (place, one) in list.iter().enumerate() {
                figures(one, &deeper(place.to_string()), found);
            }
        }
        Toml::Table(table) => {
            for (key, one) in table {
                figures(one, &deeper(key.clone()), found);
            }
        }
        _ => {}
    }
}

fn at<'t>(value: &'t mut Toml, path: &[String]) -> &'t mut Toml {
    let Some((step, rest)) = path.split_first() else {
        return value;
    };
    let next = match value {
        Toml::Array(list) => list.get_mut(step.parse::<usize>().expect("a place")),
        Toml::Table(table) => table.get_mut(step),
        _ => None,
    };
    at(next.expect("there"), rest)
}

/// The entries of every shipped file by kind, those that some build uses first.
fn entries() -> Vec<(String, Toml)> {
    let used = used(&common::catalogue());
    let mut all = Vec::new();
    for file in embedded::catalogue() {
        let table: toml::Table = toml::from_str(file.text()).expect("a file");
        for (kind, list) in table {
            let Toml::Array(list) = list else { continue };
            all.extend(list.into_iter().map(|one| (kind.clone(), one)));
        }
    }
    let id = |one: &Toml| one.get("id").and_then(Toml::as_str).map(str::to_owned);
    all.sort_by_key(|(_, one)| id(one).is_some_and(|id| !used.contains(&id)));
    all
}

fn bad_values(now: &Toml) -> Vec<Toml> {
    match now {
        Toml::String(_) => ["0", "-1", "1e30", "0.0000000000000000000000000001"]
            .map(|text| Toml::String(text.to_owned()))
            .to_vec(),
        Toml::Integer(_) => vec![
            Toml::Integer(0),
            Toml::Integer(-1),
            Toml::Integer(4_294_967_295),
            Toml::Float(1e300),
        ],
        _ => [0.0, -1.0, 1e300, f64::NAN].map(Toml::Float).to_vec(),
    }
}

/// Loads an overlay of one entry; either it is refused at its place, or every build has
/// figures that a machine can have.
fn tried(
    folder: &std::path::Path,
    builds: &[Build],
    kind: &str,
    entry: Toml,
) -> Result<(), String> {
    let list = Toml::Array(vec![entry]);
    let overlay = toml::Table::from_iter([(kind.to_owned(), list)]);
    let text = toml::to_string(&overlay).expect("written");
    // Most are refused by the reader of the one number, which is told at its place as every
    // error of a reader is; the whole catalogue need not be read for that.
    if let Err(error) = CatalogueFile::read(&text) {
        let placed = error.place().is_some_and(|span| !span.is_empty());
        return if placed {
            Ok(())
        } else {
            Err(error.to_string())
        };
    }
    let path = folder.join("parts.toml");
    std::fs::write(&path, text).expect("written");
    let catalogue = match library::load(&[folder.to_owned()]) {
        Ok(catalogue) => catalogue,
        Err(error) => {
            let message = error.to_string();
            let rest = message.strip_prefix(&format!("{}:", path.display()));
            let numbers = rest.and_then(|rest| rest.split_once(": "));
            let placed = numbers.is_some_and(|(place, _)| {
                let mut numbers = place.split(':');
                numbers.clone().count() == 2 && numbers.all(|one| one.parse::<u32>().is_ok())
            });
            return if placed { Ok(()) } else { Err(message) };
        }
    };
    for build in builds {
        let assessment =
            assess(&catalogue, build, common::today()).map_err(|error| error.to_string())?;
        let mut found = Vec::new();
        absurd("", &json(build, &assessment, &[]), &mut found);
        if !found.is_empty() {
            return Err(found.join(", "));
        }
    }
    Ok(())
}

#[test]
fn no_absurd_figure_of_a_file_reaches_the_figures_of_a_machine() {
    let folder = tempfile::tempdir().expect("a folder");
    let builds = builds(&common::catalogue());
    let mut seen = HashSet::new();
    let mut wrong = Vec::new();
    for (kind, entry) in entries() {
        let mut paths = Vec::new();
        figures(&entry, &Path::new(), &mut paths);
        for path in paths {
            // Each key once; prices by their three amounts, not by part.
            let mut keys: Path = path
                .iter()
                .filter(|step| step.parse::<usize>().is_err())
                .cloned()
                .collect();
            if keys[0] == "prices" {
                keys.remove(1);
            }
            if !seen.insert((kind.clone(), keys)) {
                continue;
            }
            for bad in bad_values(at(&mut entry.clone(), &path)) {
                let mut mutated = entry.clone();
                *at(&mut mutated, &path) = bad.clone();
                if let Err(what) = tried(folder.path(), &builds, &kind, mutated) {
                    wrong.push(format!("{kind}.{} = {bad}: {what}", path.join(".")));
                }
            }
        }
    }
    assert!(seen.len() > 200, "{}", seen.len());
    assert!(wrong.is_empty(), "{}\n{}", wrong.len(), wrong.join("\n"));
}
