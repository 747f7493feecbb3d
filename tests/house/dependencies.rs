//! What the program is made of, and what DEVELOPERS.md says of it, are the same.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

fn read(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    fs::read_to_string(&path).unwrap_or_else(|error| panic!("{name}: {error}"))
}

fn manifest(name: &str) -> toml::Table {
    toml::from_str(&read(name)).expect("TOML")
}

fn section<'m>(manifest: &'m toml::Table, name: &str) -> &'m toml::Table {
    manifest[name].as_table().expect("a section")
}

#[test]
fn every_direct_dependency_has_a_reason() {
    let manifest = manifest("Cargo.toml");
    let named: BTreeSet<&str> = ["dependencies", "build-dependencies", "dev-dependencies"]
        .into_iter()
        .flat_map(|name| section(&manifest, name).keys().map(String::as_str))
        .collect();
    let page = read("DEVELOPERS.md");
    let (_, table) = page
        .split_once("| crate | why |\n| --- | --- |\n")
        .expect("the table");
    let mut told = BTreeSet::new();
    for line in table.lines().take_while(|line| line.starts_with('|')) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let [name, why] = cells[..] else {
            panic!("{line}");
        };
        assert!(why.len() > 8, "{name} has a reason");
        assert!(told.insert(name), "{name} stands there once");
        let test_only = section(&manifest, "dev-dependencies").contains_key(name);
        let says = why.starts_with("tests: ") || why == "benchmarks";
        assert_eq!(says, test_only, "{name}: {why}");
    }
    assert_eq!(told, named);
}

#[test]
fn every_dependency_names_its_version_and_comes_from_the_registry() {
    let manifest = manifest("Cargo.toml");
    for name in ["dependencies", "build-dependencies", "dev-dependencies"] {
        for (crate_name, wanted) in section(&manifest, name) {
            let version = match wanted {
                toml::Value::String(version) => version.as_str(),
                toml::Value::Table(table) => {
                    assert!(!table.contains_key("git") && !table.contains_key("path"));
                    table["version"].as_str().expect("a version")
                }
                other => panic!("{crate_name}: {other}"),
            };
            assert!(
                version.starts_with(|c: char| c.is_ascii_digit()),
                "{crate_name}"
            );
        }
    }
    let lock = manifest_of_lock();
    let registry = "registry+https://github.com/rust-lang/crates.io-index";
    for (name, source) in lock {
        let own = name == "gantrywright";
        assert_eq!(source.as_deref(), (!own).then_some(registry), "{name}");
    }
}

/// Every crate of the lock file and where it comes from.
fn manifest_of_lock() -> Vec<(String, Option<String>)> {
    let lock = manifest("Cargo.lock");
    let packages = lock["package"].as_array().expect("packages").iter();
    let text = |package: &toml::Value, key: &str| {
        let value = package.get(key).and_then(toml::Value::as_str);
        value.map(str::to_owned)
    };
    packages
        .map(|package| {
            (
                text(package, "name").expect("a name"),
                text(package, "source"),
            )
        })
        .collect()
}

#[test]
fn unsafe_code_is_forbidden_and_the_step_of_ci_is_there() {
    let manifest = manifest("Cargo.toml");
    assert_eq!(
        manifest["lints"]["rust"]["unsafe_code"].as_str(),
        Some("forbid")
    );
    let rules: toml::Table = toml::from_str(&read(".ci/deny.toml")).expect("TOML");
    for name in ["licenses", "bans", "sources"] {
        assert!(rules.contains_key(name), "{name}");
    }
    assert!(read(".ci/run").contains(".ci/deny.toml check licenses bans sources"));
}
