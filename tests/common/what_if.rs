//! Shared by the tests of "what if": the examples, and what changed builds are compared with.

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::Build;
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::trial::Bench;
use gantrywright::store::build_file;

use super::common::{bench, today};

/// A build and its assessment.
pub(crate) struct Standing<'a> {
    catalogue: &'a Catalogue,
    build: &'a Build,
    pub(crate) before: Assessment,
}

impl<'a> Standing<'a> {
    pub(crate) fn of(catalogue: &'a Catalogue, build: &'a Build) -> Self {
        Self {
            catalogue,
            build,
            before: assessed(catalogue, build),
        }
    }

    /// What changed builds are compared with.
    pub(crate) fn bench(&self) -> Bench<'_> {
        bench(self.catalogue, self.build, &self.before)
    }
}

/// The five examples.
pub(crate) fn examples(catalogue: &Catalogue) -> Vec<(String, Build)> {
    let mut found = Vec::new();
    for entry in std::fs::read_dir("demo/builds").expect("the examples") {
        let path = entry.expect("an entry").path();
        // A build that somebody has open has a mark of that beside it.
        if path.extension().is_none_or(|ending| ending != "toml") {
            continue;
        }
        let text = std::fs::read_to_string(&path).expect("readable");
        let name = path.display().to_string();
        let build = build_file::read(&text, &name, catalogue).expect("a build");
        found.push((name, build));
    }
    found.sort_by(|a, b| a.0.cmp(&b.0));
    assert_eq!(found.len(), 5);
    found
}

/// The assessment of a build.
pub(crate) fn assessed(catalogue: &Catalogue, build: &Build) -> Assessment {
    assess(catalogue, build, today()).expect("an assessment")
}
