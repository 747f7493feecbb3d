//! The machinery, tried with two steps that were made up for it: there is no older format yet.

use std::fs;

use super::*;

const OLD: &str =
    "# mine\nformat = 1 # the first\ntitle = \"Shed\"\n\n[drive]\nscrew = \"a\" # mine too\n";

/// A key gets another name.
fn renames(document: &mut DocumentMut) -> Result<(), String> {
    let drive = document.get_mut("drive").and_then(Item::as_table_mut);
    let drive = drive.ok_or("it has no drive")?;
    if let Some(value) = drive.remove("screw") {
        drive.insert("screw_x", value);
    }
    Ok(())
}

/// A section gets another name.
fn moves(document: &mut DocumentMut) -> Result<(), String> {
    if let Some(drive) = document.remove("drive") {
        document.insert("motion", drive);
    }
    Ok(())
}

#[test]
fn an_older_file_goes_through_every_step_and_keeps_its_comments() {
    let new = lifted_by(OLD, &[renames, moves]).expect("steps");
    let expected = OLD
        .replace("format = 1", "format = 3")
        .replace("[drive]", "[motion]")
        .replace("screw =", "screw_x =");
    assert_eq!(new, expected);
    // One that is half the way goes the rest of it.
    let half = OLD.replace("format = 1", "format = 2");
    let new = lifted_by(&half, &[renames, moves]).expect("a step");
    assert_eq!(
        new,
        half.replace("format = 2", "format = 3")
            .replace("[drive]", "[motion]")
    );
}

#[test]
fn what_is_not_older_stays_as_it_is() {
    let steps: &[Step] = &[renames, moves];
    for format in ["3", "4", "0", "-1", "\"1\"", "99999999999"] {
        let text = OLD.replace("format = 1", &format!("format = {format}"));
        assert_eq!(lifted_by(&text, steps).as_deref(), Ok(text.as_str()));
    }
    for text in ["", "format = = 1", "title = \"x\"\n"] {
        assert_eq!(lifted_by(text, steps).as_deref(), Ok(text));
    }
    assert_eq!(
        lifted(OLD).as_deref(),
        Ok(OLD),
        "there is one format so far"
    );
    assert_eq!(newest(), 1);
}

#[test]
fn a_step_that_cannot_be_made_says_which() {
    let why = lifted_by("format = 1\n", &[renames, moves]).expect_err("no drive");
    assert_eq!(
        why,
        "this file of format 1 cannot become one of format 2: it has no drive"
    );
}

#[test]
fn the_old_file_is_kept_once_and_never_replaced() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    assert_eq!(keep_before(&path, 2), Ok(None), "nothing is there");
    fs::write(&path, OLD).expect("written");
    assert_eq!(keep_before(&path, 1), Ok(None), "it is of today's format");
    let kept = folder.path().join("shed.format1.toml");
    assert_eq!(keep_before(&path, 2), Ok(Some(kept.clone())));
    assert_eq!(fs::read_to_string(&kept).expect("kept"), OLD);
    assert_eq!(
        keep_before(&path, 2),
        Ok(Some(kept.clone())),
        "the same again"
    );
    fs::write(&kept, "something else").expect("written");
    let error = keep_before(&path, 2).expect_err("it is taken");
    assert!(error.message.contains("shed.format1.toml"), "{error}");
    assert_eq!(fs::read_to_string(&kept).expect("there"), "something else");
}

#[test]
fn a_bundle_is_kept_where_the_build_in_it_is_older() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("shed.toml");
    let text = bundle::write("format = 1\n", "shed", &[]).expect("a bundle");
    fs::write(&path, &text).expect("written");
    let kept = folder.path().join("shed.format1.toml");
    assert_eq!(keep_before(&path, 2), Ok(Some(kept.clone())));
    assert_eq!(fs::read_to_string(&kept).expect("kept"), text);
}
