//! The shipped catalogue: whole, without flaws, and as large as the trade needs.

use std::path::{Path, PathBuf};

use gantrywright::catalogue::{Catalogue, CatalogueFile, PartKind, check};

fn toml_files(folder: &Path, found: &mut Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else {
        return;
    };
    let mut paths: Vec<_> = entries
        .map(|entry| entry.expect("an entry").path())
        .collect();
    paths.sort();
    for path in paths {
        if path.is_dir() {
            toml_files(&path, found);
        } else if path.extension().is_some_and(|ext| ext == "toml") {
            found.push(path);
        }
    }
}

fn shipped() -> Catalogue {
    let mut catalogue = Catalogue::default();
    let mut paths = Vec::new();
    toml_files(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("configs"),
        &mut paths,
    );
    for path in paths {
        let text = std::fs::read_to_string(&path).expect("a readable file");
        let file: CatalogueFile =
            toml::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
        catalogue.absorb(file);
    }
    catalogue
}

#[test]
fn the_shipped_catalogue_has_no_flaws() {
    let flaws = check::flaws(&shipped());
    assert!(flaws.is_empty(), "{flaws:#?}");
}

#[test]
fn every_record_says_where_its_data_come_from() {
    let catalogue = shipped();
    for &kind in PartKind::ALL {
        for part in catalogue.of_kind(kind) {
            assert!(part.source().len() > 10, "{} has no source", part.id());
        }
    }
}
