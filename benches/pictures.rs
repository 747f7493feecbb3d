//! How long the screen takes for a frame with a picture: every page of pictures, and the main
//! screen with the machine drawn before and after a change.

use divan::Bencher;
use gantrywright::build::Build;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::pictures::PictureKind;
use gantrywright::screen::state::{Layer, State};
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::view::{paint::Pen, view};
use gantrywright::screen::{ColorWish, Session};
use gantrywright::store::library;
use gantrywright::words::Words as _;
use jiff::civil::date;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::layout::Size;

fn main() {
    divan::main();
}

/// A screen on the default build after some keys.
fn open((width, height): (u16, u16), keys: &[Key]) -> Option<State> {
    let session = Session::new(
        library::load(&[]).ok()?,
        Build::default(),
        date(2026, 11, 25),
        ColorWish::Auto,
    );
    let mut state = State::new(session, Size { width, height }).ok()?;
    for key in keys {
        update(&mut state, Message::Key(*key));
    }
    Some(state)
}

fn frames(bencher: Bencher, state: Option<State>) {
    let Some(state) = state else { return };
    let backend = TestBackend::new(state.size.width, state.size.height);
    let Ok(mut terminal) = Terminal::new(backend);
    let pen = Pen::new(Colours::True, Glyphs::Unicode);
    bencher.bench_local(|| {
        let Ok(_) = terminal.draw(|frame| view(frame, &state, &pen));
    });
}

/// A page, at 120 by 40.
#[divan::bench(args = PictureKind::ALL)]
fn page(bencher: Bencher, kind: PictureKind) {
    let mut state = open((120, 40), &[Key::Char('p')]);
    if let Some(layer) = state.as_mut().and_then(|state| state.layers.last_mut()) {
        *layer = Layer::Picture {
            kind,
            table: false,
            top: 0,
        };
    }
    frames(bencher, state);
}

/// The main screen without a picture: what a frame takes anyway.
#[divan::bench]
fn without_a_picture(bencher: Bencher) {
    frames(bencher, open((120, 40), &[Key::Char('3')]));
}

/// The main screen with the machine drawn before and after.
#[divan::bench]
fn before_and_after(bencher: Bencher) {
    let keys = [Key::Down, Key::Enter, Key::Up, Key::Up];
    frames(bencher, open((120, 40), &keys));
}
