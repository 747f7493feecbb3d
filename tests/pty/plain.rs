//! `--plain` at a terminal: it asks before work is lost, and before what somebody else wrote is.
#![cfg(unix)]

use crate::pty::Session;

/// A text in one line.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn at_a_terminal_that_can_only_print_it_asks_before_it_drops_work() {
    let mut session = Session::start(&["--plain"], &[("TERM", "dumb")]);
    session.wait_for("Step, 1 to 5:");
    session.send("1\r");
    session.wait_for("There is more: type more.");
    session.send("travel_x_mm=444\r");
    session.wait_for("now 444 mm");
    // The key that ends the input.
    session.send("\u{4}");
    session.wait_for("Not saved yet: Travel X.");
    session.send("3\r");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    let text = String::from_utf8_lossy(&raw).into_owned();
    assert!(text.contains("Not saved."), "{text}");
    assert!(!text.contains('\u{1b}'), "{text:?}");
    let mut refused = Session::start(&[], &[("TERM", "dumb")]);
    refused.wait_for("gantrywright --plain FILE");
    assert_eq!(refused.finish().0, 2);
}

#[test]
fn a_file_that_somebody_else_changed_is_not_overwritten_unseen() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("mine.toml");
    let name = file.display().to_string();
    std::fs::write(&file, "format = 1\ntitle = \"Shed\"\n").expect("written");
    let mut session = Session::start(&["--plain", &name], &[]);
    session.wait_for("Step, 1 to 5:");
    session.send("travel_x_mm=444\r");
    session.wait_for("now 444 mm");
    let theirs = "format = 1\ntitle = \"Barn\"\n";
    std::fs::write(&file, theirs).expect("written");
    session.send("save\r");
    session.wait_for("another name, or back:");
    let now = || std::fs::read_to_string(&file).expect("a file");
    assert_eq!(now(), theirs);
    session.send("back\r");
    session.wait_for("Nothing was done.");
    session.send("save\r");
    session.wait_for("changed by somebody else");
    session.send("replace\r");
    session.wait_for("Saved to");
    assert!(now().contains("Shed") && now().contains("444"));
    // Saved by this very program, it is known again.
    session.send("travel_x_mm=445\r");
    session.wait_for("now 445 mm");
    session.send("save\rquit\r");
    assert_eq!(session.finish().0, 0);
    assert!(now().contains("445"));
}

#[test]
fn what_somebody_else_changed_is_told_and_can_be_taken() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("mine.toml");
    std::fs::write(&file, "format = 1\ntitle = \"Shed\"\n").expect("written");
    let name = file.display().to_string();
    let mut session = Session::start(&["--plain", &name], &[]);
    session.wait_for("Step, 1 to 5:");
    session.send("travel_x_mm=444\r");
    session.wait_for("now 444 mm");
    let theirs = "format = 1\ntitle = \"Barn\"\n[working_area]\ntravel_y_mm = 500\n";
    std::fs::write(&file, theirs).expect("written");
    session.send("save\r");
    session.wait_for("replace, take, another name, or back:");
    let told = flat(&session.screen());
    for words in [
        "Changed in the file: Name: Barn in the file, Shed here",
        "Travel Y: 500 mm in the file, 600 mm here",
        "Changed here, and not saved: Travel X: 600 mm in the file, 444 mm here",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    session.send("take\r");
    session.wait("what became of it", |screen| {
        flat(screen).contains("in all.")
    });
    session.send("undo\rsave\r");
    session.wait_for("Saved to");
    let saved = std::fs::read_to_string(&file).expect("a file");
    assert!(saved.contains("Shed") && saved.contains("444"), "{saved}");
    session.send("quit\r");
    assert_eq!(session.finish().0, 0);
}
