//! The data built into the program: the physical catalogue of `configs/`, the invented
//! prices, jobs and example builds of `demo/`.

use include_dir::{Dir, DirEntry, include_dir};

static CONFIGS: Dir = include_dir!("$CARGO_MANIFEST_DIR/configs");
static DEMO: Dir = include_dir!("$CARGO_MANIFEST_DIR/demo");

/// The invented example jobs.
const JOBS: &str = "jobs.toml";

/// The invented price book.
const PRICES: &str = "prices.toml";

/// A file built into the program.
#[derive(Clone, Copy, Debug)]
pub struct Embedded {
    /// Its path under the top level, for messages.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// Every file of the catalogue: the invented jobs, and the invented price book last.
pub fn catalogue() -> Vec<Embedded> {
    let mut found = Vec::new();
    walk(&CONFIGS, &mut found);
    for name in [JOBS, PRICES] {
        found.extend(DEMO.get_file(name).and_then(embedded));
    }
    found
}

/// The example builds, by name.
pub fn examples() -> Vec<Embedded> {
    let mut found = Vec::new();
    if let Some(folder) = DEMO.get_dir("builds") {
        walk(folder, &mut found);
    }
    found
}

fn walk(folder: &'static Dir<'static>, found: &mut Vec<Embedded>) {
    for entry in folder.entries() {
        match entry {
            DirEntry::Dir(inner) => walk(inner, found),
            DirEntry::File(file) => found.extend(embedded(file)),
        }
    }
}

fn embedded(file: &'static include_dir::File<'static>) -> Option<Embedded> {
    let name = file.path().to_str()?;
    Some(Embedded {
        name,
        text: file.contents_utf8()?,
    })
}
