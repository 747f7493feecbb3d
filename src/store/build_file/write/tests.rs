//! What a save touches, and what it leaves.

use super::*;
use crate::catalogue::Catalogue;

const FILE: &str = "\
# my plan
format = 1 # the first
title = \"Shed\"

# --- size ---
[working_area]
travel_y_mm = 700.0   # as far as the bench
materials = [ \"softwood\" ]
travel_x_mm =   0x258
budget = \"3500.00 EUR\"

[control] # what commands it
# below here
curve_note_free = 1
";

fn file() -> String {
    FILE.replace("curve_note_free = 1\n", "fan = \"none\"\n")
}

fn changed(text: &str, edits: &[(&str, &str)]) -> String {
    let mut build = read::loose(text).expect("readable");
    for (id, value) in edits {
        let choice = choices::find(id).expect("known");
        let value = match choice.kind {
            crate::build::Kind::Part { .. } => {
                Value::Part(Id::new(value).ok().filter(|_| *value != NONE))
            }
            crate::build::Kind::Parts(_) => Value::Parts(
                value
                    .split(',')
                    .map(|id| Id::new(id).expect("an id"))
                    .collect(),
            ),
            _ => choice
                .parse(value, &Catalogue::default(), None)
                .expect("a value"),
        };
        choice.put(&mut build, &value);
    }
    let written = write(Some(text), &build);
    assert_eq!(read::loose(&written).expect("readable"), build, "{written}");
    written
}

#[test]
fn an_unchanged_build_is_the_same_text() {
    assert_eq!(changed(&file(), &[]), file());
    assert_eq!(
        changed(&file(), &[("travel_x_mm", "600"), ("budget", "3500 EUR")]),
        file()
    );
}

#[test]
fn only_the_changed_value_is_touched() {
    let text = changed(&file(), &[("travel_y_mm", "710.5")]);
    assert_eq!(text, file().replace("= 700.0 ", "= 710.5 "));
    let text = changed(&file(), &[("materials", "softwood,plywood")]);
    assert_eq!(
        text,
        file().replace("[ \"softwood\" ]", "[ \"softwood\", \"plywood\" ]")
    );
}

#[test]
fn a_new_key_goes_behind_the_one_before_it_in_the_table() {
    let text = changed(&file(), &[("travel_z_mm", "90"), ("chain", "chain-18x37")]);
    assert!(
        text.contains("# as far as the bench\ntravel_z_mm = 90\nmaterials"),
        "{text}"
    );
    assert!(
        text.contains("[control] # what commands it\nchain = \"chain-18x37\"\n# below here\nfan"),
        "{text}"
    );
}

#[test]
fn a_new_section_goes_where_its_step_belongs() {
    let text = changed(
        &file(),
        &[("microsteps", "16"), ("paint", "no"), ("spares", "yes")],
    );
    let places: Vec<usize> = [
        "[working_area]",
        "paint = false",
        "[drive]\nmicrosteps = 16",
        "[control]",
        "[extras]\nspares = true",
    ]
    .iter()
    .map(|part| {
        text.find(part)
            .unwrap_or_else(|| panic!("{part} is not in {text}"))
    })
    .collect();
    assert!(places.is_sorted(), "{text}");
}

#[test]
fn title_note_and_accepted_findings_are_kept_up() {
    let mut build = read::loose(&file()).expect("readable");
    build.note = "for \"toys\"".to_owned();
    build
        .accepted
        .insert("one-rule".to_owned(), "it is fine".to_owned());
    build.accepted.insert("two-rule".to_owned(), String::new());
    let text = write(Some(&file()), &build);
    assert!(
        text.contains("title = \"Shed\"\nnote = 'for \"toys\"'\n"),
        "{text}"
    );
    assert!(
        text.ends_with("\n[accepted]\none-rule = \"it is fine\"\ntwo-rule = \"\"\n"),
        "{text}"
    );
    build.accepted.shift_remove("one-rule");
    let text = write(Some(&text), &build);
    assert!(text.ends_with("\n[accepted]\ntwo-rule = \"\"\n"), "{text}");
    build.accepted.clear();
    let text = write(Some(&text), &build);
    assert!(!text.contains("[accepted]"), "{text}");
}

#[test]
fn dotted_and_inline_sections_stay_what_they_are() {
    let text = "format = 1\ndrive.microsteps = 4 # few\nextras = { spares = true }\n";
    let written = changed(
        text,
        &[
            ("microsteps", "16"),
            ("supply_count", "2"),
            ("hand_tools", "no"),
        ],
    );
    let wanted = "format = 1\ndrive.microsteps = 16 # few\ndrive.supply_count = 2\nextras = { hand_tools = false, spares = true }\n";
    assert_eq!(written, wanted);
}

#[test]
fn line_ends_and_the_byte_order_mark_stay() {
    let windows = format!("\u{feff}{}", file().replace('\n', "\r\n"));
    assert_eq!(changed(&windows, &[]), windows);
    let text = changed(&windows, &[("travel_z_mm", "90")]);
    assert!(
        text.starts_with('\u{feff}') && text.contains("bench\r\ntravel_z_mm = 90\r\n"),
        "{text:?}"
    );
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());

    let mut build = read::loose(&windows).expect("readable");
    build.title = "two\nlines\r\n\u{7f}".to_owned();
    let text = write(Some(&windows), &build);
    assert_eq!(read::loose(&text).expect("readable"), build, "{text:?}");
}

#[test]
fn a_new_document_names_every_choice() {
    let text = write(None, &Build::default());
    for choice in choices::all() {
        assert!(
            text.contains(&format!("\n{} = ", choice.id)),
            "{} is not in {text}",
            choice.id
        );
    }
    assert_eq!(read::loose(&text).expect("readable"), Build::default());
    assert!(text.starts_with("# A build for gantrywright."), "{text}");
}
