//! The terminal: taken and given back, drawn on; `arrivals` reads it and watches for its end.
//! With what lies in its folder the only file that knows the terminal library.

use std::io::{self, Stdout};

use crossterm::event::{DisableBracketedPaste, EnableBracketedPaste};
use crossterm::terminal::{
    Clear, ClearType, EndSynchronizedUpdate, EnterAlternateScreen, LeaveAlternateScreen,
    disable_raw_mode, enable_raw_mode,
};
use crossterm::{cursor, execute, queue, style, terminal};
use nix::unistd::{getpid, getppid, getsid};
use ratatui::layout::Size;
use rustix::process::{Signal, kill_current_process_group};
use rustix::termios::tcgetwinsize;
use signal_hook::consts::signal::SIGSTOP;

use super::ColorWish;
use super::glyphs::Glyphs;
use super::state::State;
use super::theme::Ground;
use super::view::{compose, paint::Pen};

mod arrivals;
mod ink;
mod kind;
mod lean;
mod rows;
mod straight;

pub(super) use arrivals::{Arrival, Arrivals, Bell, is_there};
use kind::{Kind, colours};
use lean::Lean;
use rows::Rows;
use straight::Straight;

/// Buttons and wheel alone, in numbers that do not end at column 223 (xterm's control sequences,
/// modes 1000 and 1006). The library's own way would also report each move of the hand.
const MOUSE_ON: &str = "\x1b[?1000h\x1b[?1006h";
const MOUSE_OFF: &str = "\x1b[?1006l\x1b[?1000l";

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
            lean: Lean::new(Straight, kind.dialect, kind.modern),
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
