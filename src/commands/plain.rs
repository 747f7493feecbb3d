//! `--plain`: the five steps as numbered questions on a line terminal, for screen readers,
//! braille lines and scripts. The same table of choices, the same rule core as the screen; no
//! cursor is moved, nothing is drawn, and what is said is read in the order in which it stands.
//!
//! The dialogue itself is plain data ([`talk`]); here lines are read, text is written, and files
//! are saved.

use std::io::{self, BufRead, IsTerminal as _, Write};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use super::color::{ColorArgs, Paint};
use super::layout::hanging_within;
use super::{Failure, input, take_up};
use crate::screen::file_names::file_of;
use crate::screen::theirs::Theirs;
use crate::screen::{Open, Session};
use crate::sheets::{Format, SheetKind};
use crate::store::journal::{self, Keeper, Recorder};
use crate::store::kept::{Kept, Standing};
use crate::store::{FileError, log, save, text, visible};

mod accepting;
mod changing;
mod choosing;
mod figures;
mod finding;
mod hearing;
mod listing;
mod offering;
mod page;
mod papers;
mod paying;
mod saving;
mod summary;
mod talk;
mod variants;
mod warned;
mod words;

pub(super) use page::WIDTH;
use saving::Outcome;
use talk::{Ask, Place, Reply, Talk, Task, Way};

#[cfg(test)]
mod tests;

/// Why a talk ends early.
enum Stop {
    /// Whoever listened has gone: no reason to complain.
    Gone,
    /// Lines cannot be read, or text not written.
    Failed(Failure),
}

/// Leads the talk until somebody leaves or the input ends.
///
/// Exit code 0; 2 where a line of a pipe was not understood or could not be done, so that a
/// script knows. At a terminal whoever mistyped was told.
///
/// Where somebody sits at a terminal, what an earlier session left unsaved is asked about first,
/// and what is changed is kept for the case that the line is cut. A script is run again instead.
pub(super) fn run(session: Session, color: ColorArgs, recover: Open) -> Result<ExitCode, Failure> {
    let live = io::stdin().is_terminal();
    let (mut lines, mut out) = (io::stdin().lock(), io::stdout().lock());
    let (session, claim) = match live {
        true => take_up::ask(session, recover, &mut lines, &mut out)?,
        false => (session, None),
    };
    let (speller, files) = color.look().spellers(&session.catalogue);
    let way = Way {
        live,
        paint: Paint::wished(session.color),
        speller,
        files,
    };
    let name = session
        .path
        .as_deref()
        .map_or("this build".to_owned(), input::name_of);
    let file = session.path.clone().map(|path| (path, session.on_disk()));
    let mut talk =
        Talk::new(session, way).map_err(|error| Failure::new(format!("{name}: {error}")))?;
    let mut kept = Kept::default();
    if let Some((path, on_disk)) = file {
        let others = kept.reopen(&path, on_disk);
        talk.beside(&others);
    }
    let folder = journal::folder().filter(|_| live);
    let mut recorder = Recorder::new(Keeper::in_folder(folder));
    recorder.follow(talk.work());
    if let Some(claim) = claim {
        recorder.keeper().flush();
        if recorder.keeper().path().is_some() || !talk.is_unsaved() {
            let _ = claim.remove();
        }
    }
    match lead(
        &mut talk,
        (&mut kept, &mut recorder),
        (&mut lines, &mut out),
    ) {
        Ok(()) if talk.missed() && !live => Ok(ExitCode::from(2)),
        Ok(()) | Err(Stop::Gone) => Ok(ExitCode::SUCCESS),
        Err(Stop::Failed(failure)) => Err(failure),
    }
}

fn lead(
    talk: &mut Talk,
    (kept, recorder): (&mut Kept, &mut Recorder),
    (lines, out): (&mut dyn BufRead, &mut dyn Write),
) -> Result<(), Stop> {
    let opening = talk.opening();
    say(out, &opening.told(&talk.way))?;
    loop {
        let prompt = format!("{}: ", talk.prompt());
        say(out, &format!("\n{}", visible(&prompt)))?;
        let line = match input::line(lines).map_err(Stop::Failed)? {
            Some(line) => line,
            // The end of the input at a terminal is a key that is easily hit.
            None if talk.way.live && !matches!(talk.place(), Place::Ask(Ask::Leave)) => {
                say(out, "\n")?;
                "quit".to_owned()
            }
            None => {
                say(out, "\n")?;
                break;
            }
        };
        if !talk.way.live {
            // Nobody's keys stand behind the prompt: the line itself does.
            let heard = hanging_within(WIDTH, "", 0, &format!("{prompt}{}", line.trim()));
            let rest = heard.strip_prefix(prompt.trim_end()).unwrap_or(&heard);
            say(out, &format!("{}\n", rest.trim()))?;
        }
        log::line(|| match log::is_whole() {
            true => format!("line {:?} at {:?}", line.trim(), talk.prompt()),
            false => format!("a line at {:?}", talk.place_name()),
        });
        let reply = talk.hear(&line);
        if carry_out(talk, kept, reply, out)? {
            recorder.close();
            break;
        }
        recorder.follow(talk.work());
        if let Some(why) = recorder.trouble() {
            say(out, &format!("Changes are not kept for recovery: {why}.\n"))?;
        }
    }
    let closing = talk.closing();
    say(out, &closing.told(&talk.way))
}

/// Says what there is to say and does what there is to do; true where that is to leave.
fn carry_out(
    talk: &mut Talk,
    kept: &mut Kept,
    mut reply: Reply,
    out: &mut dyn Write,
) -> Result<bool, Stop> {
    loop {
        let said = talk.said(reply.page);
        say(out, &said)?;
        match reply.task {
            None => return Ok(false),
            Some(Task::Leave) => return Ok(true),
            Some(Task::Search(targets)) => {
                let request = talk.request(targets);
                reply = talk.searched(&request).into();
            }
            Some(Task::Sheet {
                sheet,
                path,
                replace,
            }) => {
                let outcome = write_sheet(talk, sheet, &path, replace);
                reply = talk.sheet_written(sheet, path, outcome);
            }
            Some(Task::TakeOver(whole)) => {
                kept.take_over(&whole);
                return Ok(false);
            }
            Some(Task::Write {
                path,
                replace,
                leave,
            }) => {
                let outcome = write(talk, kept, path, (replace, leave));
                reply = talk.written(outcome);
            }
        }
    }
}

/// Writes the build to a file, unless something is there that nobody has seen.
fn write(talk: &Talk, kept: &mut Kept, named: PathBuf, (replace, leave): (bool, bool)) -> Outcome {
    if named.is_dir() {
        let folder = named.display();
        return Outcome::Failed(format!("{folder} is a folder; give a file name in it."));
    }
    let path = file_of(talk.path(), named);
    match kept.standing(&path, replace) {
        Standing::Free => {}
        Standing::Exists => return Outcome::Exists { path, leave },
        Standing::Held(who) => {
            let told = who.told();
            return Outcome::Held { told, leave };
        }
        Standing::Changed { found, held } => {
            let theirs = Theirs::of(&path, found, held.as_ref(), &talk.catalogue);
            let theirs = Box::new(theirs);
            return Outcome::Changed { theirs, leave };
        }
    }
    let (text, whole) = talk.texts();
    match kept.write(&path, &whole) {
        Ok(()) => Outcome::Saved { path, text, leave },
        Err(error) => Outcome::Failed(refused(&error)),
    }
}

/// Writes a sheet to a file; none where something is there already.
fn write_sheet(
    talk: &Talk,
    sheet: (SheetKind, Format),
    path: &Path,
    replace: bool,
) -> Option<Result<(), String>> {
    if path.is_dir() {
        let folder = path.display();
        return Some(Err(format!(
            "{folder} is a folder; give a file name in it."
        )));
    }
    if !replace && !text::is_missing(path) {
        return None;
    }
    let written = talk.sheet(sheet).and_then(|bytes| {
        let written = save::bytes(path, &bytes);
        written.map_err(|error| refused(&error))
    });
    Some(written)
}

/// The reason first, as somebody who listens wants it: a path can be long.
fn refused(error: &FileError) -> String {
    format!("{}; the file: {}.", error.message, error.origin())
}

fn say(out: &mut dyn Write, text: &str) -> Result<(), Stop> {
    let written = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    written.map_err(|error| match error.kind() {
        io::ErrorKind::BrokenPipe => Stop::Gone,
        _ => Stop::Failed(Failure::new(format!("standard output: {error}"))),
    })
}
