//! What is not saved outlives a cut line, signals, `kill -9` and a fault of the program; the next
//! start offers it. Each in a real pseudo-terminal; tests wait for text and files, never for time.
#![cfg(target_os = "linux")]

#[path = "common/pty.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod pty;

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use gantrywright::build::Build;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::trace::Trace;
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::{ColorWish, Session as Opened};
use gantrywright::store::library;
use pty::{Session, assert_restored, contains};
use ratatui::layout::Size;
use rustix::process::{Pid, Signal, kill_process};

/// A home for one test: a build file, and the state folder.
struct Home {
    folder: tempfile::TempDir,
    file: PathBuf,
}

impl Home {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let file = folder.path().join("shed.toml");
        std::fs::write(&file, "format = 1\ntitle = \"Shed\"\n").expect("written");
        Self { folder, file }
    }

    fn start(&self, args: &[&str]) -> Session {
        let path = self.folder.path().to_string_lossy().into_owned();
        let variables = [
            ("XDG_STATE_HOME", path.as_str()),
            ("XDG_CONFIG_HOME", &path),
            ("HOME", &path),
        ];
        Session::start(args, &variables)
    }

    /// A session with one unsaved edit, which is on the disk.
    fn edited(&self) -> Session {
        let mut session = self.start(&[&self.file.to_string_lossy()]);
        session.wait_for(">1 Working area");
        paint(&mut session);
        self.wait_for_journal();
        session
    }

    fn recovery(&self) -> PathBuf {
        self.folder.path().join("gantrywright/recovery")
    }

    fn left(&self, ending: &str) -> Vec<PathBuf> {
        let Ok(entries) = std::fs::read_dir(self.recovery()) else {
            return Vec::new();
        };
        let paths = entries.map(|entry| entry.expect("an entry").path());
        let ends = |path: &PathBuf| path.to_string_lossy().ends_with(ending);
        paths.filter(ends).collect()
    }

    fn wait_for_journal(&self) {
        let end = Instant::now() + Duration::from_secs(60);
        while self.left(".jsonl").is_empty() {
            assert!(Instant::now() < end, "no journal was written");
            std::thread::sleep(Duration::from_millis(5));
        }
    }

    /// The next start offers what was left, takes it up and saves it.
    fn recovers(&self) {
        assert_eq!(self.left(".jsonl").len(), 1, "one journal");
        let mut next = self.start(&[]);
        let screen = next.wait_for("Take it up");
        for part in ["shed.toml", "Paint the frame", "1 change:"] {
            assert!(screen.contains(part), "{part} is not told:\n{screen}");
        }
        next.send("\u{1b}[B\r");
        let taken = next.wait_for("unsaved");
        assert!(taken.contains("Shed"), "{taken}");
        next.send("s");
        next.wait_for("saved to");
        next.send("q");
        assert_eq!(next.finish().0, 0);
        let text = std::fs::read_to_string(&self.file).expect("the file");
        assert!(text.contains("paint"), "{text}");
        assert!(self.left(".jsonl").is_empty(), "all is saved");
    }
}

/// Takes the other option of the paint.
fn paint(session: &mut Session) {
    session.send("/paint\r");
    session.wait_for("enter take");
    session.send("\u{1b}[B\r");
    session.wait_for("unsaved");
}

fn pid(session: &Session) -> Pid {
    let number = session.child.process_id().expect("a process");
    Pid::from_raw(i32::try_from(number).expect("a process number")).expect("not zero")
}

fn after_a_signal(signal: Signal) {
    let home = Home::new();
    let session = home.edited();
    kill_process(pid(&session), signal).expect("a signal");
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

/// The terminal goes away while the program waits: it leaves at once, with its work on the disk.
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
    paint(&mut session);
    home.wait_for_journal();
    session.hang_up();
    let begun = Instant::now();
    let (code, _) = session.finish();
    assert_eq!(code, 128 + 1, "not by the hang-up");
    assert!(
        begun.elapsed() < Duration::from_secs(20),
        "it did not leave at once"
    );
    home.recovers();
}

/// An edit that comes in together with the end is on the disk all the same.
#[test]
fn the_last_key_before_a_signal_counts() {
    let home = Home::new();
    let mut session = home.start(&[&home.file.to_string_lossy()]);
    session.wait_for(">1 Working area");
    session.send("/paint\r");
    session.wait_for("enter take");
    session.send("\u{1b}[B\r");
    session.wait_for("unsaved");
    kill_process(pid(&session), Signal::TERM).expect("a signal");
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
    kill_process(pid(&session), Signal::KILL).expect("a signal");
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
    kill_process(pid(&session), Signal::KILL).expect("a signal");
    session.finish();
    let mut next = home.start(&[]);
    next.wait_for("Take it up");
    next.send("\u{1b}[B\r");
    next.wait_for("unsaved");
    kill_process(pid(&next), Signal::KILL).expect("a signal");
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
    kill_process(pid(&session), Signal::KILL).expect("a signal");
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

/// Set for the process that is to panic: the folder of its home.
const PANICS: &str = "GANTRYWRIGHT_TEST_PANICS";

/// Works as the program does, then panics: run by the test below, in a process of its own.
#[test]
fn a_process_that_panics() {
    if std::env::var_os(PANICS).is_none() {
        return;
    }
    let session = Opened {
        catalogue: library::load(&[]).expect("the shipped catalogue"),
        build: Build::default(),
        path: None,
        original: None,
        bundle: None,
        today: jiff::civil::date(2026, 11, 25),
        color: ColorWish::Auto,
    };
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
        trace.follow(&mut state);
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
    let args = ["--exact", "a_process_that_panics", "--nocapture"];
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
        "tests/pty_recovery.rs:",
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
    paint(&mut session);
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
    whole.send("/pai");
    whole.wait_for("pai");
    kill_process(pid(&whole), Signal::TERM).expect("a signal");
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
        .output()
        .expect("the program runs");
    assert!(made.status.success());
    let mut session = home.start(&[&bundle.to_string_lossy()]);
    session.wait_for(">1 Working area");
    paint(&mut session);
    home.wait_for_journal();
    kill_process(pid(&session), Signal::KILL).expect("a signal");
    session.finish();
    let mut next = home.start(&[]);
    let screen = next.wait_for("Take it up");
    assert!(screen.contains("Paint the frame"), "{screen}");
    next.send("\u{1b}[B\r");
    next.wait_for("unsaved");
    next.send("s");
    next.wait_for("saved to");
    next.send("q");
    assert_eq!(next.finish().0, 0);
    let text = std::fs::read_to_string(&bundle).expect("the bundle");
    assert!(
        text.contains("paint = ") && text.contains("bundle = 1"),
        "{text}"
    );
    assert!(home.left(".jsonl").is_empty());
}
