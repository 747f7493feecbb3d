//! What several tests share: the shipped catalogue, the day, and builds made by edits.

#![allow(dead_code, reason = "each test binary uses its own part of this")]

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::Catalogue;
use jiff::civil::Date;

/// The catalogue as it is built into the program.
pub fn catalogue() -> Catalogue {
    let mut catalogue = Catalogue::default();
    for file in gantrywright::store::embedded::catalogue() {
        let parsed = toml::from_str(file.text);
        catalogue.absorb(parsed.unwrap_or_else(|error| panic!("{}: {error}", file.name)));
    }
    catalogue
}

/// The day on which tests assess.
pub fn today() -> Date {
    jiff::civil::date(2026, 11, 25)
}

/// The default build with edits made.
pub fn build(catalogue: &Catalogue, edits: &[(&str, &str)]) -> Build {
    let mut build = Build::default();
    for (choice, value) in edits {
        Edit::parse(choice, value, catalogue)
            .unwrap_or_else(|error| panic!("{error}"))
            .apply(&mut build);
    }
    build
}

/// The assessment of the default build with edits made.
pub fn assessed(catalogue: &Catalogue, edits: &[(&str, &str)]) -> Assessment {
    assess(catalogue, &build(catalogue, edits), today()).expect("an assessment")
}
