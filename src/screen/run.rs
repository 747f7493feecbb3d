//! The loop: waits for something to happen, changes the state, does what is to be done,
//! draws. Idle, it sleeps.

use std::io::{self, Write as _};
use std::path::Path;
use std::process::ExitCode;

use ratatui::layout::Size;

use super::recovery;
use super::state::{Notice, State};
use super::terminal::{Arrival, Arrivals, Bell, Screen, ask_to_stop, is_there, leave, pen};
use super::trace::{Trace, timed};
use super::update::{
    Message, Outcome, Reaction, Task, look_ahead, offer, own_part_kept, update, welcome,
};
use super::view::paint::Pen;
use super::{ColorWish, Open, Session, Ways, Wishes};
use crate::store;
use crate::store::log;
use crate::store::own_parts::{self, Change};
use keeping::FileKeeper;

mod keeping;
mod recovering;

/// Exit code where the build or the terminal cannot be used.
const UNUSABLE: u8 = 2;
/// Exit code after a signal, as shells count: this much and the signal's number.
const SIGNALLED: i32 = 128;
/// The number of SIGHUP.
const HANG_UP: i32 = 1;

/// How a session ended.
enum End {
    /// The user left.
    Left,
    /// A signal asked for it.
    Signal(i32),
}

/// Runs a session.
pub(super) fn run(session: Session, wishes: Wishes, ways: Ways) -> ExitCode {
    let color = session.color;
    let pen = pen(color);
    let on_disk = session.on_disk();
    let state = match State::new(session, Size::default()) {
        Ok(state) => state,
        Err(error) => {
            // Nobody may be listening.
            let _ = writeln!(io::stderr(), "this build cannot be assessed: {error}");
            return ExitCode::from(UNUSABLE);
        }
    };
    let trace = Trace::begin();
    trace.report_faults();
    let records = Records {
        trace,
        keeper: FileKeeper::default(),
    };
    let outside = Outside {
        pen: &pen,
        color,
        ways,
    };
    match attend(state, on_disk, outside, wishes, records) {
        Ok(End::Left) => ExitCode::SUCCESS,
        Ok(End::Signal(number)) => {
            ExitCode::from(u8::try_from(SIGNALLED + number).unwrap_or(u8::MAX))
        }
        Err(error) => {
            // Writing to a terminal that is gone must not panic.
            let _ = writeln!(io::stderr(), "the terminal cannot be used: {error}");
            ExitCode::from(UNUSABLE)
        }
    }
}

/// What is kept of a session outside its state.
struct Records {
    /// What it leaves behind for the case that it ends badly.
    trace: Trace,
    /// The file that it works on.
    keeper: FileKeeper,
}

/// Puts a state on the screen: what it has to know of the terminal and of the user.
fn set_up(state: &mut State, pen: &Pen, wishes: Wishes) {
    state.file.folder = std::env::current_dir().ok();
    state.glyphs = pen.glyphs;
    state.what_if.draws_first = true;
    state.wish(wishes);
    welcome(state);
}

/// Opens another file in place of what is on the screen; where that cannot be, says why.
fn reopen(state: &mut State, path: &Path, pen: &Pen, open: Open, keeper: &mut FileKeeper) {
    let opened = open(path).and_then(|session| replace(state, session, pen, keeper));
    if let Err(why) = opened {
        state.notice = Some(Notice::Failed(why));
    }
}

/// Puts another session in place of what is on the screen.
///
/// # Errors
/// Says why its build cannot be assessed; what is on the screen stays.
fn replace(
    state: &mut State,
    session: Session,
    pen: &Pen,
    keeper: &mut FileKeeper,
) -> Result<(), String> {
    let on_disk = session.on_disk();
    let mut opened = State::new(session, state.size).map_err(|error| error.to_string())?;
    set_up(&mut opened, pen, state.wishes.clone());
    take_file(&mut opened, on_disk, keeper);
    *state = opened;
    Ok(())
}

/// Takes the file of what was opened, and takes note of who else works on it.
fn take_file(state: &mut State, on_disk: Option<String>, keeper: &mut FileKeeper) {
    if let Some(message) = keeper.open(state, on_disk) {
        update(state, message);
    }
}

/// Remembers where the user was in the file.
fn remember(state: &State) {
    if let Some(path) = &state.file.path {
        store::state::remember(path, state.page());
    }
}

/// What a session has around it.
#[derive(Clone, Copy)]
struct Outside<'o> {
    pen: &'o Pen,
    /// The wish that the pen came from.
    color: ColorWish,
    /// How files are opened.
    ways: Ways<'o>,
}

/// Stays until the session ends: `on_disk` is what its file held when it was opened, where it has
/// one.
fn attend(
    mut state: State,
    on_disk: Option<String>,
    outside: Outside,
    wishes: Wishes,
    mut records: Records,
) -> io::Result<End> {
    let pen = outside.pen;
    let mut screen = Screen::take()?;
    let mut arrivals = Arrivals::listen()?;
    let bell = arrivals.bell();
    let size = screen.size()?;
    state.recovery = recovery::offers(&state.catalogue);
    set_up(&mut state, pen, wishes);
    log::line(|| format!("terminal {}", screen.told()));
    hear(&mut state, Message::Resize(size), &mut records.trace);
    take_file(&mut state, on_disk, &mut records.keeper);
    offer(&mut state);
    if !draw(&mut screen, &state, pen) {
        hung_up(records);
    }
    loop {
        let mut redraw = false;
        for arrival in arrivals.wait() {
            let message = match arrival {
                Arrival::HungUp => hung_up(records),
                Arrival::Signal(number) => {
                    log::line(|| format!("signal {number}"));
                    remember(&state);
                    return Ok(End::Signal(number));
                }
                Arrival::Resized => Message::Resize(screen.size()?),
                Arrival::Stop => {
                    screen.stop()?;
                    continue;
                }
                Arrival::Continued => Message::Resize(screen.take_again()?),
                Arrival::Message(message) => message,
            };
            match work_off(&mut state, message, outside, &mut records, &bell)? {
                Some(changed) => redraw |= changed,
                None => {
                    records.trace.close();
                    return Ok(End::Left);
                }
            }
        }
        // Last, so that what it says is not gone with the key that led here.
        if let Some(message) = records.keeper.news(&state) {
            redraw |= hear(&mut state, message, &mut records.trace).redraw;
        }
        if redraw && !draw(&mut screen, &state, pen) {
            hung_up(records);
        }
        look_ahead(&mut state);
        // What takes seconds is worked out once the page says so.
        if state.what_if.is_waiting() {
            bell.ring();
        }
    }
}

/// Works off a message with all that follows from it: whether the screen may look different now;
/// none where the user leaves.
fn work_off(
    state: &mut State,
    message: Message,
    outside: Outside,
    records: &mut Records,
    bell: &Bell,
) -> io::Result<Option<bool>> {
    let mut redraw = false;
    let mut next = Some(message);
    while let Some(message) = next.take() {
        let reaction = hear(state, message, &mut records.trace);
        redraw |= reaction.redraw;
        let Some(task) = reaction.task else { break };
        log::line(|| format!("task {}", task.name()));
        let before = state.notice.clone();
        match carry_out(state, task, outside, records, bell)? {
            Next::On => redraw |= follow(state, before.as_ref(), &mut records.trace),
            Next::Tell(message) => next = Some(message),
            Next::Leave => return Ok(None),
        }
    }
    Ok(Some(redraw))
}

/// Changes the state by a message, and leaves a trace of it.
fn hear(state: &mut State, message: Message, trace: &mut Trace) -> Reaction {
    trace.hear(state, &message);
    let before = state.notice.clone();
    let mut reaction = timed("update", || update(state, message));
    reaction.redraw |= follow(state, before.as_ref(), trace);
    reaction
}

/// Leaves a trace of what came of a message or a task, before which that notice stood there.
/// Whether something is to be seen now that whoever changed the state knows nothing of.
fn follow(state: &mut State, before: Option<&Notice>, trace: &mut Trace) -> bool {
    trace.follow(state);
    // A warning is told once: it waits until nothing else stands where it is read.
    let warning = match state.notice {
        None | Some(Notice::Idle(_)) => trace.trouble(),
        Some(_) => None,
    };
    let warns = warning.is_some();
    if warns {
        state.notice = warning;
    }
    // A notice that goes on standing there was noted when it came.
    if let Some(Notice::Failed(why)) = &state.notice
        && state.notice.as_ref() != before
    {
        log::line(|| format!("error: {}", log::harmless(why)));
    }
    warns
}

/// What follows from a task.
enum Next {
    /// Nothing more.
    On,
    /// How it went, to be told.
    Tell(Message),
    /// The end of the session.
    Leave,
}

/// Does what is to be done outside the state.
fn carry_out(
    state: &mut State,
    task: Task,
    outside: Outside,
    records: &mut Records,
    bell: &Bell,
) -> io::Result<Next> {
    match task {
        Task::Leave => {
            remember(state);
            return Ok(Next::Leave);
        }
        Task::Suspend => ask_to_stop()?,
        Task::Open(path) => {
            let open = outside.ways.open;
            reopen(state, &path, outside.pen, open, &mut records.keeper);
        }
        Task::TakeOver(theirs) => records.keeper.take_over(&theirs),
        Task::Recover(path) => recovering::take_up(state, &path, outside, records),
        Task::Forget(path) => recovering::forget(state, &path),
        Task::Keep(file, settings) => {
            let kept = store::settings::save(&file, &settings);
            let outcome = kept.map_or_else(|error| refused(&error), |()| Outcome::Kept);
            return Ok(Next::Tell(Message::Written(outcome)));
        }
        Task::Own(change) => {
            let outcome = keep_own(state, change);
            return Ok(Next::Tell(Message::Written(outcome)));
        }
        Task::Start(job) => {
            let bell = bell.clone();
            if let Err(error) = job.start(move || bell.ring()) {
                return Ok(Next::Tell(Message::NotStarted(error.to_string())));
            }
        }
        Task::Write {
            path,
            purpose,
            replace,
        } => {
            let outcome = records.keeper.written(state, path, purpose, replace);
            return Ok(Next::Tell(Message::Written(outcome)));
        }
    }
    Ok(Next::On)
}

/// Changes one's own parts in the folder that the settings are in.
fn keep_own(state: &State, change: Change) -> Outcome {
    let Some(folder) = state.wishes.file.as_deref().and_then(Path::parent) else {
        return Outcome::Failed("not saved: there is no home folder".to_owned());
    };
    let made = own_parts::make(&change, folder, &state.wishes.folders, state.today);
    made.map_or_else(|error| refused(&error), |made| own_part_kept(change, made))
}

/// Draws, and says whether the terminal is still there.
fn draw(screen: &mut Screen, state: &State, pen: &Pen) -> bool {
    is_there() && timed("drawing", || screen.draw(state, pen)).is_ok()
}

/// Leaves a terminal that is gone: at once, and without a word, since writing to it can
/// only fail. One that is there after all, as after a signal sent by hand, is given back. What is
/// not saved is on the disk before.
fn hung_up(records: Records) -> ! {
    log::line(|| "the terminal is gone".to_owned());
    records.trace.flush();
    // The program ends there and then: nothing else would take its lock away.
    drop(records.keeper);
    if is_there() {
        let _ = leave();
    }
    std::process::exit(SIGNALLED + HANG_UP)
}

/// The reason first: a path can be long.
fn refused(error: &store::FileError) -> Outcome {
    Outcome::Failed(format!("{}; the file: {}", error.message, error.origin()))
}

#[cfg(test)]
mod tests;
