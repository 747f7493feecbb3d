//! What a session leaves behind for the case that it ends badly: the recovery journal, the last
//! keys by name, the log, and after a fault of the program a report.
//!
//! Typed text is in none of them but the journal, which is the build itself: a letter in a text
//! field is noted as a letter.

use std::backtrace::{Backtrace, BacktraceStatus};
use std::collections::VecDeque;
use std::fmt;
use std::io::{self, Write as _};
use std::panic::PanicHookInfo;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;

use super::action::Action;
use super::key::Key;
use super::keymap::{self, Place};
use super::state::{Notice, State};
use super::terminal::leave;
use super::update::Message;
use crate::store::journal::{self, Keeper, Recorder, Work};
use crate::store::{log, text, visible};
use crate::words::Words as _;

/// How many keys a report tells.
const KEYS: usize = 40;

/// What is said of a report.
const ABOUT: &str = "It tells what was going on, without anything that was typed.";

/// The exit code after a fault, as that of any program in Rust.
const FAULT: i32 = 101;

/// A key as it is noted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Pressed {
    /// By its name.
    Named(Key),
    /// A letter of a text, whichever.
    Letter,
}

/// A key, where it was pressed, and what it asked for.
#[derive(Clone, Copy, Debug)]
struct Step {
    key: Pressed,
    place: Place,
    action: Option<Action>,
}

impl Step {
    fn of(state: &State, key: Key) -> Self {
        let place = state.place();
        let action = state.keymap.action(place, key);
        // Also where a letter does something: what it typed before and after would tell it.
        let typed = key.is_text() && keymap::TEXT.contains(&place);
        Self {
            key: match typed && !log::is_whole() {
                true => Pressed::Letter,
                false => Pressed::Named(key),
            },
            place,
            action,
        }
    }
}

impl fmt::Display for Step {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.key {
            Pressed::Named(key) => write!(f, "{key}")?,
            Pressed::Letter => f.write_str("a letter")?,
        }
        write!(f, " in {}", self.place.id())?;
        match self.action.map(Action::name) {
            Some(name) if !name.is_empty() => write!(f, ": {name}"),
            _ => Ok(()),
        }
    }
}

/// What a fault needs to know, from whichever thread it comes.
#[derive(Clone, Debug)]
struct Witness {
    keys: Arc<Mutex<VecDeque<Step>>>,
    keeper: Keeper,
}

/// The trace of a session.
#[derive(Debug)]
pub struct Trace {
    recorder: Recorder,
    witness: Witness,
}

impl Trace {
    /// A trace whose journal lies in this folder.
    pub fn in_folder(folder: Option<PathBuf>) -> Self {
        let keeper = Keeper::in_folder(folder);
        Self {
            witness: Witness {
                keys: Arc::default(),
                keeper: keeper.clone(),
            },
            recorder: Recorder::new(keeper),
        }
    }

    /// A trace in the user's state folder.
    pub fn begin() -> Self {
        Self::in_folder(journal::folder())
    }

    /// Makes a fault of the program leave the terminal as it was, and a report.
    pub fn report_faults(&self) {
        let witness = self.witness.clone();
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |fault| {
            let _ = leave();
            before(fault);
            witness.tell(fault);
            // Whichever thread it was: the others must not draw on a terminal that was given back.
            let _ = leave();
            std::process::exit(FAULT);
        }));
    }

    /// Notes what comes in, before it changes anything.
    pub fn hear(&self, state: &State, message: &Message) {
        match message {
            Message::Key(key) => {
                let step = Step::of(state, *key);
                log::line(|| format!("key {step}"));
                let keys = &self.witness.keys;
                let mut keys = keys.lock().unwrap_or_else(PoisonError::into_inner);
                if keys.len() == KEYS {
                    keys.pop_front();
                }
                keys.push_back(step);
            }
            Message::Paste(text) => log::line(|| match log::is_whole() {
                true => format!("paste {text:?}"),
                false => format!("paste of {} characters", text.chars().count()),
            }),
            Message::Resize(size) => {
                log::line(|| format!("size {} x {}", size.width, size.height));
            }
            Message::Mouse(mouse) => {
                log::line(|| {
                    format!(
                        "mouse {:?} at {},{}",
                        mouse.gesture, mouse.column, mouse.row
                    )
                });
            }
            Message::Written(_) | Message::Others(_) | Message::NotStarted(_) | Message::News => {}
        }
    }

    /// Follows what came of it: what is unsaved goes to the journal.
    pub fn follow(&mut self, state: &State) {
        self.recorder.follow(Work {
            build: state.build(),
            saved: &state.file.saved,
            path: state.file.path.as_deref(),
            original: state.file.original.as_deref(),
            bundle: state.file.bundle.is_some(),
        });
    }

    /// What there is to say about the journal, where it cannot be kept: once, so whoever asks
    /// shows it.
    pub fn trouble(&mut self) -> Option<Notice> {
        let why = self.recorder.trouble()?;
        let text = format!("changes are not kept for recovery: {why}");
        Some(Notice::Failed(text))
    }

    /// Whether the journal is there.
    pub fn keeps(&self) -> bool {
        self.recorder.keeper().path().is_some()
    }

    /// Waits until all of it is on the disk.
    pub fn flush(&self) {
        self.recorder.keeper().flush();
        log::flush();
    }

    /// The session ends as it was meant to: nothing is left to recover.
    pub fn close(&mut self) {
        self.recorder.close();
    }
}

impl Drop for Trace {
    fn drop(&mut self) {
        log::flush();
    }
}

/// Notes in the log how long something took.
pub(super) fn timed<T>(what: &str, done: impl FnOnce() -> T) -> T {
    if !log::is_on() {
        return done();
    }
    let begun = Instant::now();
    let result = done();
    let took = begun.elapsed().as_secs_f64() * 1e3;
    log::line(|| format!("{what} took {took:.3} ms"));
    result
}

impl Witness {
    /// Tells a fault: what is unsaved is on the disk, a report beside it, and both are named.
    fn tell(&self, fault: &PanicHookInfo) {
        self.keeper.flush();
        let journal = self.keeper.path();
        log::last_line(|| {
            let place = fault.location().map(ToString::to_string);
            format!("fault at {}", place.unwrap_or_default())
        });
        let report = journal::report(&self.report(fault, &Backtrace::capture()));
        let mut err = io::stderr().lock();
        // Nobody may be listening.
        let _ = writeln!(err, "\ngantrywright ended by a fault of its own.");
        if let Ok(path) = report {
            let _ = writeln!(err, "A report is in {}\n{ABOUT}", named(&path));
        }
        if let Some(path) = journal {
            let _ = writeln!(
                err,
                "What was not saved is in {}\nThe next start offers it.",
                named(&path)
            );
        }
    }

    fn report(&self, fault: &PanicHookInfo, trace: &Backtrace) -> String {
        let place = fault.location().map(ToString::to_string);
        let said = fault.payload_as_str().unwrap_or("nothing");
        let thread = std::thread::current();
        let mut text = format!(
            "A fault of gantrywright {}\n\nsystem: {} on {}\nthread: {}\nplace: {}\nsaid: {}\n",
            env!("CARGO_PKG_VERSION"),
            std::env::consts::OS,
            std::env::consts::ARCH,
            thread.name().unwrap_or("without a name"),
            place.unwrap_or_default(),
            // It may quote what was typed; on the terminal it stands in full.
            log::harmless(said),
        );
        text.push_str("\nThe last keys, the latest last:\n");
        // The fault may have come while a key was noted: then the lock is held.
        let keys = self.keys.try_lock();
        for step in keys.iter().flat_map(|keys| keys.iter()) {
            text.push_str(&format!("  {step}\n"));
        }
        match trace.status() {
            BacktraceStatus::Captured => text.push_str(&format!("\nThe way there:\n{trace}\n")),
            _ => text.push_str("\nThe way there is told where RUST_BACKTRACE=1 is set.\n"),
        }
        let text = log::without_home(&text);
        text.lines().map(|line| visible(line) + "\n").collect()
    }
}

fn named(path: &Path) -> String {
    visible(&text::name_of(path)).into_owned()
}
