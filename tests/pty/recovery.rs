//! What is not saved outlives a cut line, signals, `kill -9` and a fault of the program; the next
//! start offers it. Each in a real pseudo-terminal; tests wait for text and files, never for time.
#![cfg(target_os = "linux")]

use crate::home::Home;
use crate::pty::{Session, TODAY, assert_restored};
use rustix::process::{Signal, kill_process};

fn after_a_signal(signal: Signal) {
    let home = Home::new();
    let session = home.edited();
    kill_process(session.pid(), signal).expect("a signal");
    let (code, raw) = session.finish();
    assert_ne!(code, 0);
    if signal != Signal::KILL {
        assert_restored(&raw);
    }
    home.recovers();
}

#[test]
fn a_hang_up_loses_nothing() {
    after_a_signal(Signal::HUP);
}

#[test]
fn a_signal_to_end_loses_nothing() {
    after_a_signal(Signal::TERM);
}

#[test]
fn an_end_that_cannot_be_caught_loses_nothing() {
    after_a_signal(Signal::KILL);
}

/// The terminal goes away while the program waits: it leaves, with its work on the disk.
#[test]
fn a_closed_terminal_loses_nothing_and_nothing_spins() {
    let home = Home::new();
    // Who turns in a loop is ended by the system after seconds of work, with another exit code.
    let line = r#"ulimit -t 8; exec "$PROGRAM" "$FILE""#;
    let (program, file) = (
        env!("CARGO_BIN_EXE_gantrywright"),
        home.file.to_string_lossy(),
    );
    let path = home.folder.path().to_string_lossy().into_owned();
    let variables = [
        ("PROGRAM", program),
        ("FILE", &file),
        ("XDG_STATE_HOME", &path),
        ("XDG_CONFIG_HOME", &path),
    ];
    let mut session = Session::run("/bin/sh", &["-c", line], &variables);
    session.wait_for(">1 Working area");
    session.paint();
    home.wait_for_journal();
    session.hang_up();
    let (code, _) = session.finish();
    assert_eq!(code, 128 + 1, "not by the hang-up");
    home.recovers();
}

/// An edit that comes in together with the end is on the disk all the same.
#[test]
fn the_last_key_before_a_signal_counts() {
    let home = Home::new();
    let mut session = home.start(&[&home.file.to_string_lossy()]);
    session.wait_for(">1 Working area");
    session.paint();
    kill_process(session.pid(), Signal::TERM).expect("a signal");
    session.finish();
    home.recovers();
}

#[test]
fn what_is_saved_or_thrown_away_on_purpose_is_not_offered() {
    let home = Home::new();
    let mut session = home.edited();
    session.send("\u{3}");
    session.wait_for("Quit without saving");
    session.send("\u{1b}[B\u{1b}[B\r");
    assert_eq!(session.finish().0, 0);
    assert!(home.left(".jsonl").is_empty());
    let mut session = home.edited();
    session.send("\u{1b}[D");
    session.send("u");
    session.wait("nothing unsaved", |screen| !screen.contains("unsaved"));
    session.send("q");
    assert_eq!(session.finish().0, 0);
    assert!(home.left(".jsonl").is_empty());
    let mut next = home.start(&[]);
    let screen = next.wait_for("? help");
    assert!(!screen.contains("Take it up"), "{screen}");
    next.send("q");
    assert_eq!(next.finish().0, 0);
}

#[test]
fn it_is_offered_until_somebody_decides() {
    let home = Home::new();
    let session = home.edited();
    kill_process(session.pid(), Signal::KILL).expect("a signal");
    session.finish();
    // Looked at later: the same is offered again.
    let mut later = home.start(&[]);
    later.wait_for("Take it up");
    later.send("\r");
    later.wait_for("offered again");
    later.send("q");
    assert_eq!(later.finish().0, 0);
    let mut away = home.start(&[]);
    away.wait_for("Throw it away");
    away.send("\u{1b}[B\u{1b}[B\r");
    away.wait_for("thrown away");
    away.send("q");
    assert_eq!(away.finish().0, 0);
    assert!(home.left(".jsonl").is_empty());
}

/// What another session works on is no loss.
#[test]
fn what_is_open_elsewhere_is_not_offered() {
    let home = Home::new();
    let mut first = home.edited();
    let mut second = home.start(&[]);
    let screen = second.wait_for("? help");
    assert!(!screen.contains("Take it up"), "{screen}");
    second.send("q");
    assert_eq!(second.finish().0, 0);
    first.send("\u{3}");
    first.wait_for("Quit without saving");
    first.send("\u{1b}[B\u{1b}[B\r");
    assert_eq!(first.finish().0, 0);
}

/// Who changes something right after taking it up and loses the line again has both.
#[test]
fn what_was_taken_up_is_kept_again_at_once() {
    let home = Home::new();
    let session = home.edited();
    kill_process(session.pid(), Signal::KILL).expect("a signal");
    session.finish();
    let mut next = home.start(&[]);
    next.wait_for("Take it up");
    next.send("\u{1b}[B\r");
    next.wait_for("unsaved");
    kill_process(next.pid(), Signal::KILL).expect("a signal");
    next.finish();
    home.recovers();
}

#[test]
fn line_by_line_it_is_offered_and_kept_too() {
    let home = Home::new();
    let path = home.file.to_string_lossy().into_owned();
    let mut session = home.start(&["--plain", &path]);
    session.wait_for("Step");
    session.send("paint=yes\n");
    session.send("paint=no\n");
    home.wait_for_journal();
    kill_process(session.pid(), Signal::KILL).expect("a signal");
    session.finish();
    let mut next = home.start(&["--plain"]);
    let screen = next.wait_for("Unsaved changes, 1 to 3");
    assert!(screen.contains("Paint the frame"), "{screen}");
    next.send("2\n");
    next.wait_for_output("Taken up; not saved yet");
    next.send("save\n");
    next.wait_for_output("Saved to");
    next.send("quit\n");
    assert_eq!(next.finish().0, 0);
    assert!(home.left(".jsonl").is_empty());
    let text = std::fs::read_to_string(&home.file).expect("the file");
    assert!(text.contains("paint"), "{text}");
}

/// A bundle is opened as one again, with its own data, and saved as one.
#[test]
fn changes_of_a_bundle_go_back_into_it() {
    let home = Home::new();
    let bundle = home.folder.path().join("bundle.toml");
    let made = std::process::Command::new(env!("CARGO_BIN_EXE_gantrywright"))
        .arg("bundle")
        .arg(&home.file)
        .arg("--output")
        .arg(&bundle)
        .env("XDG_CONFIG_HOME", home.folder.path())
        .env("GANTRYWRIGHT_TODAY", TODAY)
        .output()
        .expect("the program runs");
    assert!(made.status.success());
    let mut session = home.start(&[&bundle.to_string_lossy()]);
    session.wait_for(">1 Working area");
    session.paint();
    home.wait_for_journal();
    kill_process(session.pid(), Signal::KILL).expect("a signal");
    session.finish();
    let [offered, _] = home.start(&[]).takes_up_and_saves();
    assert!(offered.contains("Paint the frame"), "{offered}");
    let text = std::fs::read_to_string(&bundle).expect("the bundle");
    assert!(
        text.contains("paint = ") && text.contains("bundle = 1"),
        "{text}"
    );
    assert!(home.left(".jsonl").is_empty());
}
