//! The terminal: taken and given back, read by a thread of its own, watched for its end.
//! With what lies in its folder the only file that knows the terminal library.
//!
//! Why threads: once the other end of a terminal is gone, the library's reading never
//! returns. So a reader owns it, signals have a thread of their own, and a third one sleeps
//! until the system says that the line is cut. All three send to the one that draws.

use std::io::{self, Stdout};
use std::os::fd::AsFd;
use std::sync::mpsc::Sender;
use std::thread;
use std::time::Duration;

use crossterm::event::{self, DisableBracketedPaste, EnableBracketedPaste, Event};
use crossterm::terminal::{
    Clear, ClearType, EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen,
    disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute, queue, style, terminal};
use nix::unistd::{getpid, getppid, getsid};
use ratatui::layout::Size;
use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::io::retry_on_intr;
use rustix::process::{Signal, kill_current_process_group};
use rustix::termios::tcgetwinsize;
use signal_hook::consts::signal::{SIGCONT, SIGHUP, SIGINT, SIGSTOP, SIGTERM, SIGTSTP, SIGWINCH};
use signal_hook::iterator::Signals;

use super::ColorWish;
use super::glyphs::Glyphs;
use super::key::Key;
use super::state::State;
use super::theme::Ground;
use super::update::Message;
use super::view::{compose, paint::Pen};

mod heard;
mod ink;
mod kind;
mod lean;
mod rows;
mod straight;

use heard::message;
use kind::{Kind, colours};
use lean::Lean;
use rows::Rows;
use straight::Straight;

/// Buttons and wheel alone, in numbers that do not end at column 223 (xterm's control sequences,
/// modes 1000 and 1006). The library's own way would also report each move of the hand.
const MOUSE_ON: &str = "\x1b[?1000h\x1b[?1006h";
const MOUSE_OFF: &str = "\x1b[?1006l\x1b[?1000l";

/// How long is waited for an answer that is there or is none.
const AT_ONCE: Timespec = Timespec {
    tv_sec: 0,
    tv_nsec: 0,
};

/// Something that comes from outside.
#[derive(Debug)]
pub(super) enum Arrival {
    /// A key, a paste, the mouse.
    Message(Message),
    /// The terminal has another size.
    Resized,
    /// The system asks the program to end, by a signal of this number.
    Signal(i32),
    /// The program is to stop until it is continued.
    Stop,
    /// The program was stopped and goes on.
    Continued,
    /// The terminal is gone.
    HungUp,
}

/// The terminal while the program has it.
pub(super) struct Screen {
    lean: Lean<Straight>,
    rows: Rows,
    /// Whether the terminal is the shell's for the moment.
    away: bool,
    /// Whether the terminal reports the mouse.
    mouse: bool,
    kind: Kind,
}

impl Screen {
    /// Takes the terminal.
    pub(super) fn take() -> io::Result<Self> {
        // What failed half-way is taken back: nobody else would.
        enter().inspect_err(|_| {
            let _ = leave();
        })?;
        let kind = Kind::of(variable);
        Ok(Self {
            lean: Lean::new(Straight, kind.way, kind.modern),
            rows: Rows::default(),
            away: false,
            mouse: false,
            kind,
        })
    }

    /// Its size.
    pub(super) fn size(&self) -> io::Result<Size> {
        let (width, height) = match tcgetwinsize(io::stdout()) {
            Ok(size) if size.ws_col > 0 && size.ws_row > 0 => (size.ws_col, size.ws_row),
            // The library asks the terminal that the program belongs to.
            _ => terminal::size()?,
        };
        Ok(Size::new(width, height))
    }

    /// What kind it is, for the log.
    pub(super) fn told(&self) -> String {
        let said = |name: &str| format!("{name}={:?}", variable(name).unwrap_or_default());
        let names = [
            "TERM",
            "COLORTERM",
            "NO_COLOR",
            "LANG",
            "LC_ALL",
            "COLORFGBG",
        ];
        let set = |name: &str| match variable(name) {
            Some(_) => "yes",
            None => "no",
        };
        format!(
            "{}; second screen: {}; remote: {}; in a multiplexer: {}",
            names.map(said).join(" "),
            if self.kind.modern { "yes" } else { "no" },
            set("SSH_CONNECTION"),
            set("TMUX"),
        )
    }

    /// Draws the state; only what changed is written.
    pub(super) fn draw(&mut self, state: &State, pen: &Pen) -> io::Result<()> {
        if self.away {
            return Ok(());
        }
        self.listen_to_mouse(state.wishes.mouse());
        let composed = compose(state, pen);
        if self.lean.size() != composed.size() {
            self.lean.start_anew(composed.size());
            self.rows.forget();
        }
        let cursor = composed.cursor;
        self.rows.draw(composed, &mut self.lean);
        self.lean.write();
        self.lean.point(cursor);
        self.lean.flush()
    }

    fn listen_to_mouse(&mut self, wished: bool) {
        let wished = wished && self.kind.modern;
        if wished != std::mem::replace(&mut self.mouse, wished) {
            let mode = if wished { MOUSE_ON } else { MOUSE_OFF };
            self.lean.tell(mode);
        }
    }

    /// Gives the terminal back and stops, until the shell continues the program.
    pub(super) fn stop(&mut self) -> io::Result<()> {
        if !self.away && has_shell() {
            leave()?;
            self.away = true;
            signal_hook::low_level::raise(SIGSTOP)?;
        }
        Ok(())
    }

    /// Takes the terminal again after the program was stopped, by [`stop`](Self::stop) or
    /// without being asked: the shell may have written over everything meanwhile.
    pub(super) fn take_again(&mut self) -> io::Result<Size> {
        if !std::mem::take(&mut self.away) {
            leave()?;
        }
        enter()?;
        // Leaving took the mouse back; the next frame asks for it again.
        self.mouse = false;
        self.lean.forget();
        let size = self.size()?;
        // What stands there now is the shell's.
        self.lean.start_anew(size);
        self.rows.forget();
        Ok(size)
    }
}

/// Whether there is a shell that could continue the program: one that leads the session
/// itself, or was started from another session, would stop for good.
///
/// In a container the leader of the parent's session may lie outside, where its number is 0:
/// rustix takes that for impossible and panics, so these three calls are nix's.
fn has_shell() -> bool {
    match (getsid(None), getsid(Some(getppid()))) {
        (Ok(own), Ok(parents)) => own == parents && own != getpid(),
        _ => false,
    }
}

/// Stops as Ctrl-Z does anywhere: the whole job, which may be more than this program. It
/// comes back as a signal to this program too.
pub(super) fn ask_to_stop() -> io::Result<()> {
    Ok(kill_current_process_group(Signal::TSTP)?)
}

impl Drop for Screen {
    fn drop(&mut self) {
        // Nothing can be done about a terminal that does not take this any more.
        let _ = leave();
    }
}

fn enter() -> io::Result<()> {
    enable_raw_mode()?;
    let mut out = io::stdout();
    match Kind::of(variable).modern {
        true => queue!(out, EnterAlternateScreen, EnableBracketedPaste)?,
        false => queue!(out, Clear(ClearType::All))?,
    }
    execute!(out, cursor::Hide)
}

/// Gives the terminal back: the screen first, then its mode, which is tried whatever became of
/// the screen.
pub(super) fn leave() -> io::Result<()> {
    let shown = give_back(&mut io::stdout());
    disable_raw_mode().and(shown)
}

fn give_back(out: &mut Stdout) -> io::Result<()> {
    queue!(out, style::SetAttribute(style::Attribute::Reset))?;
    match Kind::of(variable).modern {
        true => queue!(
            out,
            EndSynchronizedUpdate,
            style::Print(MOUSE_OFF),
            DisableBracketedPaste,
            LeaveAlternateScreen
        )?,
        // What stood there before cannot be brought back; a clean screen it shall be.
        false => queue!(out, Clear(ClearType::All), cursor::MoveTo(0, 0))?,
    }
    execute!(out, cursor::Show)
}

/// Whether standard input is a terminal that is still there.
pub(super) fn is_there() -> bool {
    let stdin = io::stdin();
    let mut watched = [PollFd::from_borrowed_fd(stdin.as_fd(), PollFlags::empty())];
    // A signal that comes just then, such as of a new size, says nothing of the terminal.
    let asked = retry_on_intr(|| poll(&mut watched, Some(&AT_ONCE)));
    asked.is_ok() && !is_gone(watched[0].revents())
}

fn is_gone(seen: PollFlags) -> bool {
    seen.intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL)
}

/// Starts the three threads that listen. From then on no change of size goes unnoticed: the
/// library listens for it too, but only once its reading has begun.
pub(super) fn listen(to: &Sender<Arrival>) -> io::Result<()> {
    let reader = to.clone();
    thread::Builder::new()
        .name("keys".to_owned())
        .spawn(move || read(&reader))?;
    let mut signals = Signals::new([SIGHUP, SIGINT, SIGTERM, SIGWINCH, SIGTSTP, SIGCONT])?;
    let signalled = to.clone();
    thread::Builder::new()
        .name("signals".to_owned())
        .spawn(move || {
            for signal in signals.forever() {
                let arrival = match signal {
                    SIGHUP => Arrival::HungUp,
                    SIGWINCH => Arrival::Resized,
                    SIGTSTP => Arrival::Stop,
                    SIGCONT => Arrival::Continued,
                    other => Arrival::Signal(other),
                };
                if signalled.send(arrival).is_err() {
                    return;
                }
            }
        })?;
    let watcher = to.clone();
    thread::Builder::new()
        .name("line".to_owned())
        .spawn(move || watch(&watcher))?;
    Ok(())
}

fn read(to: &Sender<Arrival>) {
    loop {
        let arrival = match event::read() {
            Ok(Event::Resize(..)) => {
                for key in left_behind() {
                    let _ = to.send(Arrival::Message(Message::Key(key)));
                }
                continue;
            }
            Ok(event) => match message(event) {
                Some(message) => Arrival::Message(message),
                None => continue,
            },
            Err(_) => Arrival::HungUp,
        };
        let last = matches!(arrival, Arrival::HungUp);
        if to.send(arrival).is_err() || last {
            return;
        }
    }
}

/// Keys that the terminal library left unread. Where a key and a new size come in together
/// it reports the size and forgets that there is something to read, until the next key.
fn left_behind() -> Vec<Key> {
    let stdin = io::stdin();
    let mut asked = [PollFd::from_borrowed_fd(stdin.as_fd(), PollFlags::IN)];
    let waits = poll(&mut asked, Some(&AT_ONCE)).is_ok_and(|ready| ready > 0)
        && asked[0].revents() == PollFlags::IN;
    // What it still knows of, it reads by itself.
    if !waits || event::poll(Duration::ZERO).unwrap_or(true) {
        return Vec::new();
    }
    let mut bytes = [0; 256];
    let read = rustix::io::read(stdin.as_fd(), &mut bytes).unwrap_or(0);
    super::key::from_bytes(&bytes[..read])
}

/// Sleeps until the terminal is gone: asked for nothing, the system reports only that.
fn watch(to: &Sender<Arrival>) {
    let stdin = io::stdin();
    loop {
        let mut watched = [PollFd::from_borrowed_fd(stdin.as_fd(), PollFlags::empty())];
        match poll(&mut watched, None) {
            Err(rustix::io::Errno::INTR) => {}
            Ok(_) if !is_gone(watched[0].revents()) => {}
            _ => {
                // Where nobody listens any more the program is leaving already.
                let _ = to.send(Arrival::HungUp);
                return;
            }
        }
    }
}

/// The pen for this terminal: what the user wishes, else what the environment says.
pub(super) fn pen(wish: ColorWish) -> Pen {
    let ground = Ground::said(variable);
    let pen = Pen::on(ground, colours(wish, variable), Glyphs::of_locale(variable));
    // Under NO_COLOR the library would also take away bold and reverse, and with them the
    // cursor. The theme has no colours then; the attributes must get through.
    style::force_color_output(true);
    pen
}

fn variable(name: &str) -> Option<String> {
    std::env::var(name).ok()
}

#[cfg(test)]
mod tests;
