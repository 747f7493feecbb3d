//! A program in a pseudo-terminal, whose output is stamped the moment it comes in.
//!
//! The sessions of the tests wait for text; here each piece needs its time, and a program that
//! asks its terminal something needs the answer that a real one gives, or it would wait for it.

use std::error::Error;
use std::io::{self, Read as _, Write};
use std::num::NonZeroU16;
use std::path::Path;
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use portable_pty::{Child, CommandBuilder, MasterPty, PtySize, native_pty_system};
use tempfile::TempDir;

/// Size of the terminal.
pub(crate) const ROWS: NonZeroU16 = NonZeroU16::MIN.saturating_add(39);
/// Size of the terminal.
pub(crate) const COLUMNS: NonZeroU16 = NonZeroU16::MIN.saturating_add(119);
/// How long a program may think about a key; what says nothing by then has no answer.
const PATIENCE: Duration = Duration::from_secs(1);
/// How long it must be silent after a key for its answer to be at its end.
const QUIET: Duration = Duration::from_millis(40);
/// The same for the first frame: a program that starts may pause in the middle.
const SETTLED: Duration = Duration::from_millis(300);
/// When to stop listening to a program that is never silent.
const ENDLESS: Duration = Duration::from_secs(8);

/// The build that is open, which is also the small file for other programs.
const BUILD: &str = include_str!("../../demo/builds/pier-allrounder.toml");
/// Its name in the folder of a session.
pub(crate) const FILE: &str = "pier-allrounder.toml";

/// What a terminal answers to what programs ask it (ECMA-48 and xterm's control sequences: where
/// the cursor is, what kind of terminal; the keyboard protocol's: none of it).
const QUESTIONS: &[(&[u8], &[u8])] = &[
    (b"\x1b[6n", b"\x1b[1;1R"),
    (b"\x1b[c", b"\x1b[?62;22c"),
    (b"\x1b[0c", b"\x1b[?62;22c"),
    (b"\x1b[?u", b"\x1b[?0u"),
];

/// What a program did after a key, or after its start.
pub(crate) struct Answer {
    /// From the key to the last byte; none where nothing came.
    pub(crate) took: Option<Duration>,
    /// How much it wrote.
    pub(crate) bytes: usize,
    /// Whether the screen looks different: bytes that change nothing are no answer.
    pub(crate) changed: bool,
}

/// A running program. Dropped, it is ended.
pub(crate) struct Session {
    child: Box<dyn Child + Send + Sync>,
    /// Kept so that the terminal stays.
    _master: Box<dyn MasterPty + Send>,
    writer: Box<dyn Write + Send>,
    output: Receiver<(Instant, Vec<u8>)>,
    parser: vt100::Parser,
    /// Its home, with the build file: each session finds what the first one found, and nothing
    /// that an earlier one left behind.
    _folder: TempDir,
    /// Its first frame.
    pub(crate) first: Answer,
}

impl Session {
    /// Starts a program beside the build file and waits for its first frame.
    pub(crate) fn start(program: &Path, arguments: &[&str]) -> Result<Self, Box<dyn Error>> {
        let folder = tempfile::tempdir()?;
        std::fs::write(folder.path().join(FILE), BUILD)?;
        let pair = native_pty_system().openpty(PtySize {
            rows: ROWS.get(),
            cols: COLUMNS.get(),
            pixel_width: 0,
            pixel_height: 0,
        })?;
        let mut reader = pair.master.try_clone_reader()?;
        let (send, output) = channel();
        std::thread::spawn(move || {
            let mut buffer = vec![0; 64 * 1024];
            while let Ok(count @ 1..) = reader.read(&mut buffer) {
                if send
                    .send((Instant::now(), buffer[..count].to_vec()))
                    .is_err()
                {
                    return;
                }
            }
        });
        let writer = pair.master.take_writer()?;
        let command = command(program, arguments, folder.path());
        let started = Instant::now();
        let child = pair.slave.spawn_command(command)?;
        drop(pair.slave);
        let mut session = Self {
            child,
            _master: pair.master,
            writer,
            output,
            parser: vt100::Parser::new(ROWS, COLUMNS, 0),
            _folder: folder,
            first: Answer {
                took: None,
                bytes: 0,
                changed: false,
            },
        };
        session.first = session.hear(started, ENDLESS, SETTLED)?;
        match session.first.changed {
            true => Ok(session),
            false => Err(format!("{} shows nothing", program.display()).into()),
        }
    }

    /// Presses a key, given as the terminal sends it, and waits for the end of the answer.
    pub(crate) fn press(&mut self, key: &str) -> io::Result<Answer> {
        let bytes = self.sent(key);
        let pressed = Instant::now();
        self.writer.write_all(&bytes)?;
        self.writer.flush()?;
        self.hear(pressed, PATIENCE, QUIET)
    }

    /// How many bytes come in while nothing is pressed.
    pub(crate) fn listen(&mut self, time: Duration) -> usize {
        let end = Instant::now() + time;
        let left = || end.saturating_duration_since(Instant::now());
        let mut bytes = 0;
        while let Ok((_, piece)) = self.output.recv_timeout(left()) {
            bytes += piece.len();
        }
        // What is still to come of a program that ended is silence too.
        std::thread::sleep(left());
        bytes
    }

    /// The number of the process.
    pub(crate) fn process(&self) -> Result<u32, Box<dyn Error>> {
        let number = self.child.process_id();
        number.ok_or_else(|| "the program has ended".into())
    }

    /// What the terminal sends for a key: arrows are spelled otherwise where the program asked
    /// for that (DECCKM).
    fn sent(&self, key: &str) -> Vec<u8> {
        match key.strip_prefix("\x1b[") {
            Some(arrow @ ("A" | "B" | "C" | "D")) if self.parser.screen().application_cursor() => {
                format!("\x1bO{arrow}").into_bytes()
            }
            _ => key.as_bytes().to_vec(),
        }
    }

    /// Takes in what comes until it has been quiet for a while.
    fn hear(&mut self, since: Instant, patience: Duration, quiet: Duration) -> io::Result<Answer> {
        let mut heard = Vec::new();
        let mut last = None;
        while since.elapsed() < ENDLESS {
            let wait = if last.is_some() { quiet } else { patience };
            let Ok((at, piece)) = self.output.recv_timeout(wait) else {
                break;
            };
            last = Some(at);
            for (_, answer) in QUESTIONS.iter().filter(|(asked, _)| holds(&piece, asked)) {
                self.writer.write_all(answer)?;
            }
            heard.extend(piece);
        }
        let before = self.parser.screen().contents_formatted();
        self.parser.process(&heard);
        Ok(Answer {
            took: last.map(|last: Instant| last.saturating_duration_since(since)),
            bytes: heard.len(),
            changed: self.parser.screen().contents_formatted() != before,
        })
    }
}

impl Drop for Session {
    fn drop(&mut self) {
        // One that ended by itself is gone already.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// A program with nothing of the user's around it, in a terminal with all colours: their
/// spelling is the longest.
fn command(program: &Path, arguments: &[&str], folder: &Path) -> CommandBuilder {
    let mut command = CommandBuilder::new(program);
    command.args(arguments);
    command.cwd(folder);
    command.env_clear();
    for (name, value) in [
        ("TERM", "xterm-256color"),
        ("COLORTERM", "truecolor"),
        ("LANG", "C.UTF-8"),
        // Prices age: on one day the same bytes are written.
        ("GANTRYWRIGHT_TODAY", "2026-11-30"),
    ] {
        command.env(name, value);
    }
    for name in ["HOME", "XDG_CONFIG_HOME", "XDG_STATE_HOME"] {
        command.env(name, folder);
    }
    command
}

fn holds(bytes: &[u8], part: &[u8]) -> bool {
    bytes.windows(part.len()).any(|window| window == part)
}
