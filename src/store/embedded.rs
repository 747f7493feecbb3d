//! The data built into the program: the physical catalogue of `configs/`, the invented
//! prices, jobs and example builds of `demo/`.

use include_dir::{Dir, DirEntry, include_dir};

static CONFIGS: Dir = include_dir!("$CARGO_MANIFEST_DIR/configs");
static DEMO: Dir = include_dir!("$CARGO_MANIFEST_DIR/demo");

/// A file built into the program.
#[derive(Clone, Copy, Debug)]
pub struct Embedded {
    /// Its path under the top level, for messages.
    pub name: &'static str,
    /// Its text.
    pub text: &'static str,
}

/// The folder of the example builds, which are no part of the catalogue.
const BUILDS: &str = "builds";

/// Every file of the catalogue: what is physical, then what is invented.
pub fn catalogue() -> Vec<Embedded> {
    let mut found = Vec::new();
    walk(&CONFIGS, &mut found);
    for entry in DEMO.entries() {
        match entry {
            DirEntry::Dir(inner) if inner.path().ends_with(BUILDS) => {}
            DirEntry::Dir(inner) => walk(inner, &mut found),
            DirEntry::File(file) => found.extend(embedded(file)),
        }
    }
    found
}

/// The example builds, by name.
pub fn examples() -> Vec<Embedded> {
    let mut found = Vec::new();
    if let Some(folder) = DEMO.get_dir(BUILDS) {
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
