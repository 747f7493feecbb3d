//! The whole program in a real pseudo-terminal: keys go in, a terminal parser reads what
//! comes out. Tests wait for text, never for time.
#![cfg(unix)]

use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};

/// Longer than any machine needs to draw a screen; a test that waits so long has failed.
const PATIENCE: Duration = Duration::from_secs(60);

struct Session {
    child: Box<dyn Child + Send + Sync>,
    master: Option<Box<dyn MasterPty + Send>>,
    writer: Option<Box<dyn Write + Send>>,
    output: Receiver<Vec<u8>>,
    stop: Arc<AtomicBool>,
    reading: Option<JoinHandle<()>>,
    parser: vt100::Parser,
    raw: Vec<u8>,
}

impl Session {
    fn start(args: &[&str], variables: &[(&str, &str)]) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system()
            .openpty(size)
            .expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_gantrywright"));
        command.args(args);
        command.env_clear();
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        // The user's own catalogue folder must not reach the test.
        command.env("HOME", env!("CARGO_TARGET_TMPDIR"));
        command.cwd(env!("CARGO_TARGET_TMPDIR"));
        for (name, value) in variables {
            command.env(name, value);
        }
        let child = pair
            .slave
            .spawn_command(command)
            .expect("the program starts");
        drop(pair.slave);
        let mut reader = pair.master.try_clone_reader().expect("a reader");
        let (send, output) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let stopped = Arc::clone(&stop);
        let reading = std::thread::spawn(move || {
            let mut buffer = [0; 4096];
            while let Ok(count @ 1..) = reader.read(&mut buffer) {
                if stopped.load(Ordering::SeqCst) || send.send(buffer[..count].to_vec()).is_err() {
                    return;
                }
            }
        });
        let writer = pair.master.take_writer().expect("a writer");
        let (rows, columns) = (
            NonZeroU16::new(24).expect("not zero"),
            NonZeroU16::new(80).expect("not zero"),
        );
        Self {
            child,
            master: Some(pair.master),
            writer: Some(writer),
            output,
            stop,
            reading: Some(reading),
            parser: vt100::Parser::new(rows, columns, 0),
            raw: Vec::new(),
        }
    }

    fn send(&mut self, keys: &str) {
        let writer = self.writer.as_mut().expect("still open");
        writer
            .write_all(keys.as_bytes())
            .expect("the terminal takes keys");
        writer.flush().expect("the terminal takes keys");
    }

    fn screen(&self) -> String {
        self.parser.screen().contents()
    }

    /// Reads until the screen is as wanted.
    fn wait(&mut self, what: &str, wanted: impl Fn(&str) -> bool) -> String {
        let end = Instant::now() + PATIENCE;
        loop {
            let screen = self.screen();
            if wanted(&screen) {
                return screen;
            }
            match self
                .output
                .recv_timeout(end.saturating_duration_since(Instant::now()))
            {
                Ok(bytes) => {
                    self.parser.process(&bytes);
                    self.raw.extend(bytes);
                }
                Err(_) => panic!("never saw {what}; the screen:\n{screen}"),
            }
        }
    }

    fn wait_for(&mut self, text: &str) -> String {
        self.wait(text, |screen| screen.contains(text))
    }

    /// Closes our end of the terminal, as a dropped line does. The reader has an end of its
    /// own and lets go of it at the next output, so a key is sent first.
    fn hang_up(&mut self) {
        self.stop.store(true, Ordering::SeqCst);
        self.send("2");
        if let Some(reading) = self.reading.take() {
            reading.join().expect("the reader ends");
        }
        self.writer = None;
        self.master = None;
    }

    /// Waits for the end of the program, reading what it still says.
    fn finish(mut self) -> (u32, Vec<u8>) {
        let end = Instant::now() + PATIENCE;
        loop {
            match self.output.recv_timeout(Duration::from_millis(20)) {
                Ok(bytes) => self.raw.extend(bytes),
                Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => {}
            }
            if let Some(status) = self.child.try_wait().expect("a child") {
                while let Ok(bytes) = self.output.recv_timeout(Duration::from_millis(50)) {
                    self.raw.extend(bytes);
                }
                return (status.exit_code(), std::mem::take(&mut self.raw));
            }
            assert!(Instant::now() < end, "the program does not end");
        }
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        // A test that failed leaves no process behind; one that ended is gone already.
        let _ = self.child.kill();
    }
}

fn contains(bytes: &[u8], part: &str) -> bool {
    bytes
        .windows(part.len())
        .any(|window| window == part.as_bytes())
}

/// Cursor shown, alternate screen and paste mode left.
fn assert_restored(raw: &[u8]) {
    for (sequence, what) in [
        ("\x1b[?1049l", "alternate screen"),
        ("\x1b[?25h", "cursor"),
        ("\x1b[?2004l", "paste mode"),
    ] {
        assert!(contains(raw, sequence), "the {what} was not given back");
    }
}

fn cost(screen: &str) -> String {
    let line = screen
        .lines()
        .find(|line| line.contains("COST"))
        .expect("a cost");
    line.rsplit("COST")
        .next()
        .expect("text after it")
        .trim()
        .to_owned()
}

#[test]
fn five_steps_an_option_taken_and_undone_saved_and_left() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("router.toml");
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    for (key, title) in [
        ("2", ">2 Drive"),
        ("3", ">3 Spindle"),
        ("4", ">4 Control"),
        ("5", ">5 Extras"),
        ("1", ">1 Working area"),
    ] {
        session.send(key);
        session.wait_for(title);
    }
    let before = cost(&session.screen());
    session.send("/paint\r");
    session.wait_for("Paint the frame");
    session.wait("the preview's row", |screen| screen.contains("enter take"));
    session.send("\x1b[B");
    session.wait("before and after", |screen| cost(screen).contains("->"));
    session.send("\r");
    let taken = session.wait("the taken option", |screen| {
        !cost(screen).contains("->") && cost(screen) != before
    });
    session.send("u");
    session.wait("the cost before", |screen| cost(screen) == before);
    session.send("r");
    session.wait("the cost after", |screen| cost(screen) == cost(&taken));
    session.send("s");
    session.wait_for("Save to which file?");
    session.send("\x15");
    session.send(&format!("{}\r", file.display()));
    session.wait_for("saved to");
    let text = std::fs::read_to_string(&file).expect("the saved file");
    assert!(text.contains("paint"), "{text}");
    session.send("q");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    assert_restored(&raw);
}

#[test]
fn a_question_stands_before_unsaved_work_is_dropped() {
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    session.send("/paint\r");
    session.wait_for("enter take");
    session.send("\x1b[B\r");
    session.wait_for("unsaved");
    session.send("\x03");
    session.wait_for("Quit without saving");
    session.send("\x1b[B\x1b[B\r");
    let (code, raw) = session.finish();
    assert_eq!(code, 0);
    assert_restored(&raw);
}

#[test]
fn the_program_ends_when_its_terminal_is_gone() {
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    session.hang_up();
    let (code, _) = session.finish();
    assert_ne!(code, 0);
}

#[test]
fn a_signal_to_end_gives_the_terminal_back() {
    let mut session = Session::start(&[], &[]);
    session.wait_for(">1 Working area");
    let number = session.child.process_id().expect("a process");
    let pid = rustix::process::Pid::from_raw(i32::try_from(number).expect("a process number"))
        .expect("not zero");
    rustix::process::kill_process(pid, rustix::process::Signal::TERM).expect("a signal");
    let (_, raw) = session.finish();
    assert_restored(&raw);
}

#[test]
fn another_size_is_drawn_whole() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    let size = PtySize {
        rows: 18,
        cols: 60,
        pixel_width: 0,
        pixel_height: 0,
    };
    session
        .master
        .as_ref()
        .expect("still open")
        .resize(size)
        .expect("another size");
    session.parser.screen_mut().set_size(
        NonZeroU16::new(18).expect("not zero"),
        NonZeroU16::new(60).expect("not zero"),
    );
    session.wait("the strip", |screen| screen.contains("RAPIDS   slowest"));
    session.send("q");
    assert_eq!(session.finish().0, 0);
}

#[test]
fn no_colour_is_sent_where_none_is_wished() {
    let mut session = Session::start(&[], &[("NO_COLOR", "1")]);
    session.wait_for("? help");
    session.send("q");
    let (_, raw) = session.finish();
    for colour in ["\x1b[31", "\x1b[33", "\x1b[36", "\x1b[38;"] {
        assert!(!contains(&raw, colour), "{colour:?} was sent");
    }
    assert!(
        contains(&raw, "\x1b[7m"),
        "the cursor's row is not reversed"
    );
}

#[test]
fn a_plain_locale_gets_plain_characters() {
    let mut session = Session::start(&[], &[("LC_ALL", "C")]);
    session.wait_for("? help");
    session.send("q");
    let (_, raw) = session.finish();
    assert!(raw.is_ascii());
}

/// Idle, nothing is written: the first silence lasts until the next key.
#[test]
fn idle_costs_nothing() {
    let mut session = Session::start(&[], &[]);
    session.wait_for("? help");
    while session
        .output
        .recv_timeout(Duration::from_millis(500))
        .is_ok()
    {}
    let silence = session.output.recv_timeout(Duration::from_millis(1500));
    assert_eq!(silence, Err(RecvTimeoutError::Timeout));
    session.send("q");
    assert_eq!(session.finish().0, 0);
}
