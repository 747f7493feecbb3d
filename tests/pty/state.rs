//! What the program remembers from one run to the next, in a real pseudo-terminal.
#![cfg(unix)]

use crate::pty::Session;

#[test]
fn the_last_file_is_offered_and_nothing_opens_by_itself() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().to_string_lossy().into_owned();
    let file = home.path().join("shed.toml");
    std::fs::write(&file, "format = 1\ntitle = \"Shed\"\n").expect("written");
    let path = file.to_string_lossy().into_owned();
    let home = [
        ("XDG_STATE_HOME", folder.as_str()),
        ("XDG_CONFIG_HOME", &folder),
    ];
    let mut first = Session::start(&[&path], &home);
    first.wait_for("Shed");
    first.send("3\u{1b}[B");
    first.wait_for("3 Spindle");
    first.send("q");
    assert_eq!(first.finish().0, 0);
    let mut second = Session::start(&[], &home);
    let offered = second.wait_for("o goes on with shed.toml");
    assert!(!offered.contains("Shed "), "{offered}");
    second.send("o");
    let there = second.wait_for("Shed");
    assert!(there.contains(">3 Spindle"), "{there}");
    second.send("q");
    assert_eq!(second.finish().0, 0);
}

#[test]
fn what_cannot_be_remembered_is_no_fault() {
    let home = tempfile::tempdir().expect("a folder");
    let state = home.path().join("gantrywright");
    // A file where a folder should be.
    std::fs::write(&state, "in the way").expect("written");
    let file = home.path().join("shed.toml");
    std::fs::write(&file, "format = 1\ntitle = \"Shed\"\n").expect("written");
    let folder = home.path().to_string_lossy().into_owned();
    let path = file.to_string_lossy().into_owned();
    let mut session = Session::start(&[&path], &[("XDG_STATE_HOME", &folder)]);
    session.wait_for("Shed");
    session.send("q");
    assert_eq!(session.finish().0, 0);
}

#[test]
fn marks_are_those_of_the_language_until_a_setting_says_otherwise() {
    let home = tempfile::tempdir().expect("a folder");
    let folder = home.path().to_string_lossy().into_owned();
    let variables = [
        ("LANG", "de_DE.UTF-8"),
        ("XDG_CONFIG_HOME", &folder),
        ("XDG_STATE_HOME", &folder),
    ];
    let mut session = Session::start(&[], &variables);
    // Whatever the parts cost: thousands behind a point.
    let is_grouped = |word: &str| {
        word.split_once('.').is_some_and(|(thousands, rest)| {
            let is_number = |text: &str| text.chars().all(|c| c.is_ascii_digit());
            !thousands.is_empty() && rest.len() == 3 && is_number(thousands) && is_number(rest)
        })
    };
    session.wait("thousands with a point", |screen| {
        let mut before = screen
            .split(" EUR")
            .filter_map(|text| text.split_whitespace().next_back());
        before.any(is_grouped)
    });
    session.send("t");
    session.wait_for("comma, by your language");
    session.send("\u{1b}[B\u{1b}[C");
    session.wait_for("changed and saved");
    session.wait_for("12 345.60");
    session.send("\u{3}");
    assert_eq!(session.finish().0, 0);
    let settings = std::fs::read_to_string(home.path().join("gantrywright/settings.toml"));
    let settings = settings.expect("settings");
    assert!(settings.ends_with("\ndecimal_mark = \".\"\n"), "{settings}");
}
