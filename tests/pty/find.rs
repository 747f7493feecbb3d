//! The search for the cheapest build in a real pseudo-terminal: it runs beside the screen, and
//! a key or Ctrl-C stops it. How far it comes meanwhile depends on the machine, so every end is
//! looked for. Tests wait for text, never for time.
#![cfg(unix)]

use crate::pty::{Session, contains};

/// How a search on the screen can have ended.
const ENDS: [&str; 4] = [
    "stopped before anything",
    "not proven",
    "The cheapest build that does it",
    "Nothing fits",
];

#[test]
fn the_screen_goes_on_while_a_search_runs_and_is_stopped() {
    let mut session = Session::start(&["demo", "pier-allrounder"], &[]);
    session.wait_for(">1 Working area");
    session.send("f");
    session.wait_for("What the machine must do");
    // A target by its first suggestion, then the search.
    session.send("n\r");
    session.wait_for("rapids of at least");
    session.send("f");
    let ended = |screen: &str| ENDS.iter().any(|end| screen.contains(end));
    session.wait("a search", |screen| {
        screen.contains("settled") || ended(screen)
    });
    // Backspace does what Esc does, and never makes one key with what is sent next. It stops a
    // search, and closes the page of one that has ended meanwhile.
    session.send("\x7f");
    session.wait("its end", |screen| {
        ended(screen) || screen.contains("> Search")
    });
    session.send("\x03");
    let (code, _) = session.finish();
    assert_eq!(code, 0);
}

#[test]
fn ctrl_c_stops_the_command_and_prints_what_it_has() {
    let build = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/demo/builds/pier-allrounder.toml"
    );
    let mut session = Session::start(&["find", build, "--want", "rapids>=19.95"], &[]);
    session.wait("progress or the end", |screen| {
        screen.contains("Ctrl-C stops") || screen.contains("Searched")
    });
    session.send("\x03");
    let (code, raw) = session.finish();
    assert!([0, 1, 130].contains(&code), "{code}");
    assert!(contains(&raw, "Searched"));
    assert_eq!(code == 130, contains(&raw, "Stopped before the end"));
}
