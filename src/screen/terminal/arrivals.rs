//! What comes from outside, in the one thread that draws: it sleeps until the terminal has bytes
//! or is gone, a signal comes in, or work in another thread has news. A thread that read keys for
//! it would have to be woken first, at each of them.

use std::io;
use std::os::fd::AsFd;
use std::os::unix::net::UnixStream;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use rustix::event::{PollFd, PollFlags, Timespec, poll};
use rustix::io::{Errno, retry_on_intr};
use signal_hook::consts::signal::{SIGCONT, SIGHUP, SIGINT, SIGTERM, SIGTSTP, SIGWINCH};
use signal_hook::iterator::backend::SignalDelivery;
use signal_hook::iterator::exfiltrator::SignalOnly;

use super::variable;
use crate::screen::heard::{ESC, Heard};
use crate::screen::update::Message;

/// How long is waited for an answer that is there or is none.
const AT_ONCE: Timespec = Timespec {
    tv_sec: 0,
    tv_nsec: 0,
};
/// How long a line to another machine may take to bring the rest of a sequence that it cut behind
/// its first byte: longer than a late packet is usually late, and shorter than anybody notices
/// behind the key of that byte.
const CUT: Timespec = Timespec {
    tv_sec: 0,
    tv_nsec: 25_000_000,
};
/// As much as a terminal has ready at once on the usual systems (from memory).
const PIECE: usize = 4096;

/// Something that comes from outside.
#[derive(Debug)]
pub(in crate::screen) enum Arrival {
    /// A key, a paste, the mouse, or news.
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

/// Where all of it comes in.
pub(in crate::screen) struct Arrivals {
    heard: Heard,
    /// How long the rest of a sequence may take.
    patience: Timespec,
    /// Signals, and with them the line through which bells ring.
    signals: SignalDelivery<UnixStream, SignalOnly>,
    bell: Bell,
}

/// With what a working thread wakes the one that draws.
#[derive(Clone, Debug)]
pub(in crate::screen) struct Bell {
    /// Whether there is news that nobody looked at.
    rung: Arc<AtomicBool>,
    line: Arc<UnixStream>,
}

impl Bell {
    /// Says that there is news.
    pub(in crate::screen) fn ring(&self) {
        if !self.rung.swap(true, Ordering::AcqRel) {
            // A full line wakes as well, and where nobody listens the program is leaving already.
            let _ = rustix::io::write(&*self.line, &[0]);
        }
    }
}

impl Arrivals {
    /// Begins to listen: from then on no signal goes unnoticed.
    pub(in crate::screen) fn listen() -> io::Result<Self> {
        let (read, write) = UnixStream::pair()?;
        write.set_nonblocking(true)?;
        let line = Arc::new(write.try_clone()?);
        let heeded = [SIGHUP, SIGINT, SIGTERM, SIGWINCH, SIGTSTP, SIGCONT];
        Ok(Self {
            heard: Heard::default(),
            // On another machine (OpenSSH sets this, and others do as it does).
            patience: variable("SSH_CONNECTION").map_or(AT_ONCE, |_| CUT),
            signals: SignalDelivery::with_pipe(read, write, SignalOnly, heeded)?,
            bell: Bell {
                rung: Arc::default(),
                line,
            },
        })
    }

    /// A bell for working threads.
    pub(in crate::screen) fn bell(&self) -> Bell {
        self.bell.clone()
    }

    /// Sleeps until something has come in, and gives all that is there: what came in meanwhile is
    /// worked off before the next frame, so that a held key never lags.
    pub(in crate::screen) fn wait(&mut self) -> Vec<Arrival> {
        let mut arrivals = Vec::new();
        while self.take(&mut arrivals) {}
        arrivals
    }

    /// Takes in what is ready, and says whether there may be more. With nothing taken so far it
    /// sleeps until there is something.
    fn take(&mut self, arrivals: &mut Vec<Arrival>) -> bool {
        let stdin = io::stdin();
        let mut watched = [
            PollFd::from_borrowed_fd(stdin.as_fd(), PollFlags::IN),
            PollFd::from_borrowed_fd(self.signals.get_read().as_fd(), PollFlags::IN),
        ];
        let patience = (!arrivals.is_empty()).then_some(&AT_ONCE);
        match poll(&mut watched, patience) {
            Ok(0) => return arrivals.is_empty(),
            Ok(_) => {}
            Err(Errno::INTR) => return true,
            Err(_) => {
                arrivals.push(Arrival::HungUp);
                return false;
            }
        }
        let [terminal, line] = watched.map(|end| end.revents());
        if !line.is_empty() {
            arrivals.extend(self.signals.pending().map(told));
            // Looked at only now: who rings after this writes to the line again.
            if self.bell.rung.swap(false, Ordering::AcqRel) {
                arrivals.push(Arrival::Message(Message::News));
            }
        }
        // What was typed before the line was cut goes with it: nobody would see what it does.
        if is_gone(terminal) {
            arrivals.push(Arrival::HungUp);
            return false;
        }
        terminal.is_empty() || self.read(arrivals)
    }

    /// Reads what the terminal has ready; where that is its end, there is nothing more.
    fn read(&mut self, arrivals: &mut Vec<Arrival>) -> bool {
        let mut piece = [0; PIECE];
        let mut bytes = Vec::new();
        loop {
            match rustix::io::read(io::stdin(), &mut piece) {
                Ok(count @ 1..) => bytes.extend_from_slice(&piece[..count]),
                Err(Errno::INTR | Errno::AGAIN) => {}
                Ok(_) | Err(_) if bytes.is_empty() => {
                    arrivals.push(Arrival::HungUp);
                    return false;
                }
                // The next look tells it; what was typed before is heard first.
                Ok(_) | Err(_) => break,
            }
            if bytes.last() != Some(&ESC) || !self.brings_more() {
                break;
            }
        }
        let told = self.heard.hear(&bytes).into_iter();
        arrivals.extend(told.map(Arrival::Message));
        true
    }

    /// Whether the terminal brings more while the rest of a sequence may still come.
    fn brings_more(&self) -> bool {
        let stdin = io::stdin();
        let mut watched = [PollFd::from_borrowed_fd(stdin.as_fd(), PollFlags::IN)];
        poll(&mut watched, Some(&self.patience)).is_ok_and(|ready| ready > 0)
    }
}

fn told(signal: i32) -> Arrival {
    match signal {
        SIGHUP => Arrival::HungUp,
        SIGWINCH => Arrival::Resized,
        SIGTSTP => Arrival::Stop,
        SIGCONT => Arrival::Continued,
        other => Arrival::Signal(other),
    }
}

/// Whether standard input is a terminal that is still there.
pub(in crate::screen) fn is_there() -> bool {
    let stdin = io::stdin();
    let mut watched = [PollFd::from_borrowed_fd(stdin.as_fd(), PollFlags::empty())];
    // A signal that comes just then, such as of a new size, says nothing of the terminal.
    let asked = retry_on_intr(|| poll(&mut watched, Some(&AT_ONCE)));
    asked.is_ok() && !is_gone(watched[0].revents())
}

fn is_gone(seen: PollFlags) -> bool {
    seen.intersects(PollFlags::HUP | PollFlags::ERR | PollFlags::NVAL)
}
