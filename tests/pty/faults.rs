//! A fault of the program itself leaves terminal, work and a report; a log tells what happened, and
//! nothing that is somebody's own. In a real pseudo-terminal.
#![cfg(target_os = "linux")]

use std::path::Path;

use crate::home::Home;
use crate::pty::{Session, assert_restored, contains};
use gantrywright::build::Build;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::trace::Trace;
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::{ColorWish, Session as Opened};
use gantrywright::store::library;
use ratatui::layout::Size;
use rustix::process::{Signal, kill_process};

/// Set for the process that is to panic: the folder of its home.
const PANICS: &str = "GANTRYWRIGHT_TEST_PANICS";

/// Works as the program does, then panics: run by the test below, in a process of its own.
#[test]
fn a_process_that_panics() {
    if std::env::var_os(PANICS).is_none() {
        return;
    }
    let session = Opened::new(
        library::load(&[]).expect("the shipped catalogue"),
        Build::default(),
        jiff::civil::date(2026, 11, 25),
        ColorWish::Auto,
    );
    let size = Size {
        width: 80,
        height: 24,
    };
    let mut state = State::new(session, size).expect("a state");
    let mut trace = Trace::begin();
    trace.report_faults();
    crossterm::terminal::enable_raw_mode().expect("a terminal");
    crossterm::execute!(
        std::io::stdout(),
        crossterm::terminal::EnterAlternateScreen,
        crossterm::cursor::Hide
    )
    .expect("a terminal");
    let typed = "paint".chars().map(Key::Char);
    let keys = std::iter::once(Key::Char('/')).chain(typed);
    for key in keys.chain([Key::Enter, Key::Down, Key::Enter]) {
        let message = Message::Key(key);
        trace.hear(&state, &message);
        update(&mut state, message);
        trace.follow(&state);
    }
    assert!(state.is_unsaved());
    let home = std::env::var("HOME").expect("a home");
    panic!("something unforeseen in \"secret plans\" of {home}");
}

#[test]
fn a_fault_leaves_terminal_work_and_a_report() {
    let home = Home::new();
    let own = std::env::current_exe().expect("this test");
    let own = own.to_str().expect("a path of plain letters");
    let args = ["--exact", "faults::a_process_that_panics", "--nocapture"];
    let path = home.folder.path().to_string_lossy().into_owned();
    let variables = [
        (PANICS, "1"),
        ("XDG_STATE_HOME", path.as_str()),
        ("XDG_CONFIG_HOME", &path),
        ("HOME", &path),
        ("RUST_BACKTRACE", "1"),
    ];
    let (code, raw) = Session::run(own, &args, &variables).finish();
    assert_eq!(code, 101);
    assert_restored(&raw);
    let place = |part: &str| {
        raw.windows(part.len())
            .position(|bytes| bytes == part.as_bytes())
    };
    let told = place("something unforeseen");
    assert!(told.is_some(), "the fault was not told");
    assert!(
        place("\x1b[?1049l") < told,
        "told on the screen that goes away"
    );
    let (journals, reports) = (home.left(".jsonl"), home.left("-fault.txt"));
    let ([journal], [report]) = (journals.as_slice(), reports.as_slice()) else {
        panic!("{journals:?} {reports:?}")
    };
    // Both are named on the terminal, below what Rust says itself.
    for told in [journal, report] {
        assert!(contains(&raw, &told.to_string_lossy()), "{told:?}");
    }
    assert_report(report, &path);
    let mut next = home.start(&[]);
    let screen = next.wait_for("Take it up");
    assert!(screen.contains("Paint the frame"), "{screen}");
    next.send("\u{3}");
    assert_eq!(next.finish().0, 0);
}

fn assert_report(report: &Path, home: &str) {
    let text = std::fs::read_to_string(report).expect("the report");
    for part in [
        env!("CARGO_PKG_VERSION"),
        "tests/pty/faults.rs:",
        "/ in choices: find",
        "a letter in find",
        "down in options: down",
        "something unforeseen in ...",
        "The way there:",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let keys = text.split("The way there").next().expect("the keys");
    assert!(
        !keys.contains("p in find") && !keys.contains("secret"),
        "{keys}"
    );
    assert!(!text.contains(home), "{text}");
}

/// Keys by name, what they did, times; neither typed text nor where anything lies.
#[test]
fn a_log_tells_keys_and_times_and_no_secrets() {
    let home = Home::new();
    let log = home.folder.path().join("bug.log");
    let (file, log_name) = (home.file.to_string_lossy(), log.to_string_lossy());
    let mut session = home.start(&[&file, "--log", &log_name]);
    session.wait_for(">1 Working area");
    session.paint();
    session.send("S\u{15}");
    session.send("/nowhere/my-secret-name.toml\r");
    session.wait_for("not saved");
    session.send("\u{3}");
    session.wait_for("Quit without saving");
    session.send("\u{1b}[B\u{1b}[B\r");
    assert_eq!(session.finish().0, 0);
    let text = std::fs::read_to_string(&log).expect("the log");
    for part in [
        "TERM=\"xterm-256color\"",
        "size 80 x 24",
        "key a letter in find",
        "key / in choices: find",
        "update took",
        "drawing took",
        "task write the build",
        "error: not saved: there is no folder ...",
        "task leave",
        "end: ",
    ] {
        assert!(text.contains(part), "{part}: {text}");
    }
    let folder = home.folder.path().to_string_lossy();
    for secret in ["secret", "nowhere", "shed.toml", &folder] {
        assert!(!text.contains(secret), "{secret}: {text}");
    }
    // Asked for, it is all there; and the log of before is gone on with.
    let mut whole = home.start(&[&file, "--log", &log_name, "--log-text"]);
    whole.wait_for(">1 Working area");
    whole.send("/zqa");
    whole.wait_for("zqa");
    kill_process(whole.pid(), Signal::TERM).expect("a signal");
    whole.finish();
    let longer = std::fs::read_to_string(&log).expect("the log");
    assert!(longer.starts_with(&text));
    for part in ["key a in find", "signal 15"] {
        assert!(longer.contains(part), "{part}: {longer}");
    }
}

/// A slip of the hand: the log never goes into a build file.
#[test]
fn a_log_never_replaces_something_else() {
    let home = Home::new();
    let before = std::fs::read(&home.file).expect("the file");
    let path = home.file.to_string_lossy();
    let (code, raw) = home.start(&["--log", &path]).finish();
    assert_eq!(code, 2);
    assert!(contains(&raw, "something else than a log"));
    assert_eq!(std::fs::read(&home.file).expect("the file"), before);
}
