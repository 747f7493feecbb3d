//! While a search runs: a line of progress for people, and Ctrl-C to stop it.

use std::io::{self, IsTerminal as _, Write as _};
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};

use signal_hook::SigId;
use signal_hook::consts::signal::SIGINT;
use signal_hook::flag;

use crate::commands::{Failure, color};
use crate::explore::find::{Progress, told};
use crate::money::{Currency, show as amounts};

/// What a shell says of a program that Ctrl-C ended.
pub(super) const STOPPED: u8 = 130;

/// How often the line is written anew: faster than this nobody reads.
const EACH: Duration = Duration::from_millis(100);

/// The most columns of the line: in the last one some terminals begin another line.
const WIDTH: usize = 79;

/// What hears Ctrl-C from the first search on. One for all searches of a program: a handler stays,
/// and that of a search that is over would end the program in the midst of the next one.
static HEARD: Mutex<Option<Heard>> = Mutex::new(None);

/// What Ctrl-C does.
struct Heard {
    /// It raises this. While no search runs it is up as well: then Ctrl-C ends the program, as it
    /// always does.
    stop: Arc<AtomicBool>,
    /// What ends the program.
    end: SigId,
}

/// The flag that Ctrl-C raises.
fn listened() -> io::Result<Arc<AtomicBool>> {
    let mut known = HEARD.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(heard) = known.as_ref() {
        return Ok(Arc::clone(&heard.stop));
    }
    let stop = Arc::new(AtomicBool::new(true));
    let status = i32::from(STOPPED);
    // In this order: the first signal finds the flag down and raises it.
    let end = flag::register_conditional_shutdown(SIGINT, status, Arc::clone(&stop))?;
    flag::register(SIGINT, Arc::clone(&stop))?;
    *known = Some(Heard {
        stop: Arc::clone(&stop),
        end,
    });
    Ok(stop)
}

/// Leaves the signal to the screen, which gives the terminal back before it ends.
pub(super) fn leave_it() {
    let heard = HEARD.lock().unwrap_or_else(PoisonError::into_inner).take();
    if let Some(heard) = heard {
        signal_hook::low_level::unregister(heard.end);
    }
}

/// Runs a search that tells how far it has come. Ctrl-C stops it at its next word; a second one
/// ends the program at once.
///
/// # Errors
/// Where the system takes no handler for Ctrl-C.
pub(super) fn watched<T>(
    currency: Currency,
    search: impl FnOnce(&mut dyn FnMut(&Progress) -> ControlFlow<()>) -> T,
) -> Result<T, Failure> {
    let fail = |error: io::Error| Failure::new(format!("Ctrl-C cannot be listened for: {error}"));
    let stop = listened().map_err(fail)?;
    stop.store(false, Ordering::Relaxed);
    let mut line = Line::new(currency);
    let came_to = search(&mut |progress| {
        line.tell(progress);
        match stop.load(Ordering::Relaxed) {
            true => ControlFlow::Break(()),
            false => ControlFlow::Continue(()),
        }
    });
    line.wipe();
    // From now on Ctrl-C ends the program as it always does.
    stop.store(true, Ordering::Relaxed);
    Ok(came_to)
}

/// The line of progress; nothing where nobody sees it.
struct Line {
    currency: Currency,
    shown: bool,
    next: Option<Instant>,
}

impl Line {
    fn new(currency: Currency) -> Self {
        let seen = io::stderr().is_terminal() && !color::is_dumb();
        Self {
            currency,
            shown: false,
            // A search that is over at once needs no line.
            next: seen.then(|| Instant::now() + EACH),
        }
    }

    fn tell(&mut self, progress: &Progress) {
        let now = Instant::now();
        if self.next.is_none_or(|next| now < next) {
            return;
        }
        self.next = Some(now + EACH);
        self.shown = true;
        let text: String = words(progress, self.currency).chars().take(WIDTH).collect();
        self.write(&format!("\r{text}\u{1b}[K"));
    }

    fn wipe(&mut self) {
        if self.shown {
            self.write("\r\u{1b}[K");
        }
    }

    /// Nobody may be listening: that is no reason to fail.
    fn write(&self, text: &str) {
        let mut out = io::stderr();
        let _ = out.write_all(text.as_bytes()).and_then(|()| out.flush());
    }
}

/// How far a search has come, in one line.
fn words(progress: &Progress, currency: Currency) -> String {
    // What goes through no combinations has no share of them to tell.
    if progress.combinations == 0 {
        return "Looking; Ctrl-C stops".to_owned();
    }
    let best = match progress.best {
        Some(best) => {
            let cost = amounts::money(best.reading.cost.likely, currency);
            format!("best so far {cost}")
        }
        None => "nothing found yet".to_owned(),
    };
    format!(
        "{} settled, {} assessed; {best}; Ctrl-C stops",
        told::share(progress.covered, progress.combinations),
        told::count(u128::from(progress.assessed)),
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_of_progress_fits_whatever_it_counts() {
        let progress = Progress {
            combinations: u128::MAX,
            covered: 3,
            assessed: 999_999_999,
            best: None,
        };
        let text = words(&progress, Currency::EUR);
        assert!(text.chars().count() <= WIDTH, "{text}");
        assert!(
            text.starts_with("less than 0.1 % settled, 999 999 999 assessed"),
            "{text}"
        );
    }

    #[test]
    fn a_look_without_combinations_tells_no_share() {
        let progress = Progress {
            combinations: 0,
            covered: 0,
            assessed: 0,
            best: None,
        };
        assert_eq!(words(&progress, Currency::EUR), "Looking; Ctrl-C stops");
    }

    #[test]
    fn ctrl_c_stops_each_search_at_its_next_word() {
        let progress = Progress {
            combinations: 9,
            covered: 1,
            assessed: 1,
            best: None,
        };
        for _ in 0..2 {
            let heard = watched(Currency::EUR, |watch| {
                let before = watch(&progress).is_break();
                signal_hook::low_level::raise(SIGINT).expect("raised");
                (before, watch(&progress).is_break())
            });
            assert_eq!(heard, Ok((false, true)));
        }
    }
}
