//! Who changed what.

use super::*;
use crate::build::Edit;
use crate::store::{FileError, library};

fn catalogue() -> Catalogue {
    library::load(&[]).expect("the shipped catalogue")
}

fn with(catalogue: &Catalogue, edits: &[(&str, &str)]) -> Build {
    let mut build = Build::default();
    for (choice, value) in edits {
        let edit = Edit::parse(choice, value, catalogue).expect("an edit");
        edit.apply(&mut build);
    }
    build
}

#[test]
fn each_difference_stands_under_whoever_made_it() {
    let catalogue = catalogue();
    let base = Build::default();
    let mine = with(
        &catalogue,
        &[("travel_x_mm", "700"), ("travel_y_mm", "710")],
    );
    let mut theirs = with(&catalogue, &[("travel_x_mm", "800"), ("travel_z_mm", "90")]);
    theirs.note = "for the shed".to_owned();
    let text = build_file::write(None, &theirs);
    let found = Theirs::of(Path::new("b.toml"), Ok(text), None, &catalogue);
    let told = found.told(&catalogue, &base, &mine);
    let lines: Vec<String> = told
        .iter()
        .map(|one| match one {
            Told::Heading(text) => text.clone(),
            Told::Row(text) => format!("  {text}"),
        })
        .collect();
    assert_eq!(
        lines,
        [
            "Changed in the file and here:",
            "  Travel X: 800 mm in the file, 700 mm here",
            "Changed in the file:",
            "  Travel Z: 90 mm in the file, 120 mm here",
            "  note",
            "Changed here, and not saved:",
            "  Travel Y: 600 mm in the file, 710 mm here",
        ]
    );
}

#[test]
fn what_both_did_alike_is_no_difference() {
    let catalogue = catalogue();
    let base = Build::default();
    let mut both = with(&catalogue, &[("travel_x_mm", "700")]);
    both.note = "for the shed".to_owned();
    assert_eq!(rows(&catalogue, &base, &both, &both), []);
    let text = format!("# a remark\n{}", build_file::write(None, &both));
    let found = Theirs::of(Path::new("b.toml"), Ok(text), None, &catalogue);
    let told = found.told(&catalogue, &base, &both);
    assert!(
        matches!(&told[..], [Told::Heading(text)] if text.contains("only remarks")),
        "{told:?}"
    );
}

#[test]
fn what_cannot_be_opened_says_why() {
    let catalogue = catalogue();
    let build = Build::default();
    for found in [
        Ok("format = 99\n".to_owned()),
        Err(FileError::new("b.toml", "you are not allowed to open it")),
    ] {
        let theirs = Theirs::of(Path::new("b.toml"), found, None, &catalogue);
        let told = theirs.told(&catalogue, &build, &build);
        assert!(
            matches!(&told[..], [Told::Heading(text)] if text.contains("cannot be opened: b.toml")),
            "{told:?}"
        );
    }
}
