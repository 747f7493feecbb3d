//! A program in a real pseudo-terminal: keys go in, a terminal parser reads what comes out.

use std::io::{Read, Write};
use std::num::NonZeroU16;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::thread::JoinHandle;
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use rustix::process::Pid;

/// Longer than any machine needs to draw a screen; a test that waits so long has failed.
const PATIENCE: Duration = Duration::from_secs(60);

/// The day of every session: what the program says of prices and offers hangs on it.
pub(crate) const TODAY: &str = "2026-11-30";

pub(crate) struct Session {
    pub(crate) child: Box<dyn Child + Send + Sync>,
    pub(crate) master: Option<Box<dyn MasterPty + Send>>,
    writer: Option<Box<dyn Write + Send>>,
    pub(crate) output: Receiver<Vec<u8>>,
    stop: Arc<AtomicBool>,
    reading: Option<JoinHandle<()>>,
    pub(crate) parser: vt100::Parser,
    pub(crate) raw: Vec<u8>,
    /// What this session leaves behind is its own: no other test is offered it.
    _state: tempfile::TempDir,
}

impl Session {
    /// Starts the program itself.
    pub(crate) fn start(args: &[&str], variables: &[(&str, &str)]) -> Self {
        Self::run(env!("CARGO_BIN_EXE_gantrywright"), args, variables)
    }

    /// Starts another program.
    pub(crate) fn run(program: &str, args: &[&str], variables: &[(&str, &str)]) -> Self {
        let size = PtySize {
            rows: 24,
            cols: 80,
            pixel_width: 0,
            pixel_height: 0,
        };
        let pair = native_pty_system()
            .openpty(size)
            .expect("a pseudo-terminal");
        let mut command = CommandBuilder::new(program);
        command.args(args);
        command.env_clear();
        command.env("TERM", "xterm-256color");
        command.env("LANG", "C.UTF-8");
        command.env("GANTRYWRIGHT_TODAY", TODAY);
        // The user's own catalogue folder must not reach the test.
        command.env("HOME", env!("CARGO_TARGET_TMPDIR"));
        command.cwd(env!("CARGO_TARGET_TMPDIR"));
        let state = tempfile::tempdir().expect("a folder");
        command.env("XDG_STATE_HOME", state.path());
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
            _state: state,
        }
    }

    pub(crate) fn send(&mut self, keys: &str) {
        let writer = self.writer.as_mut().expect("still open");
        writer
            .write_all(keys.as_bytes())
            .expect("the terminal takes keys");
        writer.flush().expect("the terminal takes keys");
    }

    pub(crate) fn screen(&self) -> String {
        self.parser.screen().contents()
    }

    /// Reads until the screen is as wanted, at the end of a frame: in between some of its colours
    /// are there and others are not.
    pub(crate) fn wait(&mut self, what: &str, wanted: impl Fn(&str) -> bool) -> String {
        self.read_until(what, |session| {
            !session.is_amid_a_frame() && wanted(&session.screen())
        });
        self.screen()
    }

    /// Whether a frame that is to be shown at once has begun and not come to its end.
    fn is_amid_a_frame(&self) -> bool {
        let last = |mark: &[u8]| self.raw.windows(mark.len()).rposition(|part| part == mark);
        last(b"\x1b[?2026h") > last(b"\x1b[?2026l")
    }

    /// Reads until a text was sent, wherever on the screen it went.
    pub(crate) fn wait_for_output(&mut self, text: &str) {
        self.read_until(text, |session| contains(&session.raw, text));
    }

    fn read_until(&mut self, what: &str, wanted: impl Fn(&Self) -> bool) {
        let end = Instant::now() + PATIENCE;
        while !wanted(self) {
            match self
                .output
                .recv_timeout(end.saturating_duration_since(Instant::now()))
            {
                Ok(bytes) => {
                    self.parser.process(&bytes);
                    self.raw.extend(bytes);
                }
                Err(_) => panic!("never saw {what}; the screen:\n{}", self.screen()),
            }
        }
    }

    pub(crate) fn wait_for(&mut self, text: &str) -> String {
        self.wait(text, |screen| screen.contains(text))
    }

    /// Goes through the five steps and back to the first.
    pub(crate) fn five_steps(&mut self) {
        for (key, title) in [
            ("2", ">2 Drive"),
            ("3", ">3 Spindle"),
            ("4", ">4 Control"),
            ("5", ">5 Extras"),
            ("1", ">1 Working area"),
        ] {
            self.send(key);
            self.wait_for(title);
        }
    }

    /// Takes the other option of the paint.
    pub(crate) fn paint(&mut self) {
        self.send("/paint\r");
        self.wait_for("enter take");
        self.send("\u{1b}[B\r");
        self.wait_for("unsaved");
    }

    /// Takes up what an earlier session left unsaved, saves it and leaves; what was offered, and
    /// the screen after it was taken up.
    pub(crate) fn takes_up_and_saves(mut self) -> [String; 2] {
        let offered = self.wait_for("Take it up");
        self.send("\u{1b}[B\r");
        let taken = self.wait_for("unsaved");
        self.send("s");
        self.wait_for("saved to");
        self.send("q");
        assert_eq!(self.finish().0, 0);
        [offered, taken]
    }

    pub(crate) fn pid(&self) -> Pid {
        let number = self.child.process_id().expect("a process");
        Pid::from_raw(i32::try_from(number).expect("a process number")).expect("not zero")
    }

    /// Closes our end of the terminal, as a dropped line does. The reader has an end of its
    /// own and lets go of it at the next output, so a key is sent first.
    pub(crate) fn hang_up(&mut self) {
        self.stop.store(true, Ordering::SeqCst);
        self.send("2");
        if let Some(reading) = self.reading.take() {
            reading.join().expect("the reader ends");
        }
        self.writer = None;
        self.master = None;
    }

    /// Waits for the end of the program, reading what it still says.
    pub(crate) fn finish(mut self) -> (u32, Vec<u8>) {
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

pub(crate) fn contains(bytes: &[u8], part: &str) -> bool {
    bytes
        .windows(part.len())
        .any(|window| window == part.as_bytes())
}

/// Cursor shown, alternate screen and paste mode left.
pub(crate) fn assert_restored(raw: &[u8]) {
    for (sequence, what) in [
        ("\x1b[?1049l", "alternate screen"),
        ("\x1b[?25h", "cursor"),
        ("\x1b[?2004l", "paste mode"),
        ("\x1b[?1000l", "mouse"),
    ] {
        assert!(contains(raw, sequence), "the {what} was not given back");
    }
}

/// A control sequence: its parameters and its final byte (ECMA-48, 5.4).
pub(crate) fn sequences(raw: &[u8]) -> Vec<(String, char)> {
    let text = String::from_utf8_lossy(raw);
    let mut found = Vec::new();
    for part in text.split("\u{1b}[").skip(1) {
        // The last one may not be read to its end yet.
        let Some(end) = part.find(|c: char| ('@'..='~').contains(&c)) else {
            break;
        };
        let last = part[end..].chars().next().expect("a final byte");
        found.push((part[..end].to_owned(), last));
    }
    found
}

/// The parameters of every setting of colours and attributes.
pub(crate) fn settings(raw: &[u8]) -> Vec<String> {
    let all = sequences(raw).into_iter();
    let settings = all.filter(|(_, last)| *last == 'm');
    settings.map(|(parameters, _)| parameters).collect()
}
