//! Shared by the tests of the screen: a state to press keys on, and its picture with styles.

use std::fmt::Write as _;

use gantrywright::build::Build;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::view::{paint::Pen, view};
use gantrywright::screen::{ColorWish, Session};
use gantrywright::store::library;
use ratatui::Terminal;
use ratatui::backend::TestBackend;
use ratatui::buffer::Buffer;
use ratatui::layout::Size;
use ratatui::style::Style;

/// The promised sizes.
pub(crate) const SIZES: [(u16, u16); 4] = [(60, 18), (80, 24), (120, 40), (200, 60)];

/// A screen on a build.
pub(crate) fn open(build: Build, width: u16, height: u16) -> State {
    let session = Session::new(
        library::load(&[]).expect("the shipped catalogue"),
        build,
        jiff::civil::date(2026, 11, 25),
        ColorWish::Auto,
    );
    State::new(session, Size { width, height }).expect("a build that can be assessed")
}

/// Presses keys.
pub(crate) fn press(state: &mut State, keys: &[Key]) {
    for key in keys {
        update(state, Message::Key(*key));
    }
}

/// Types text.
pub(crate) fn type_in(state: &mut State, text: &str) {
    text.chars().for_each(|c| press(state, &[Key::Char(c)]));
}

/// Finds a choice in any step and goes into its options.
pub(crate) fn go_to(state: &mut State, id: &str) {
    press(state, &[Key::Char('/')]);
    type_in(state, id);
    press(state, &[Key::Enter]);
    assert_eq!(state.choice().map(|choice| choice.id), Some(id));
}

/// Draws the state.
pub(crate) fn draw(state: &State, colours: Colours, glyphs: Glyphs) -> Buffer {
    let backend = TestBackend::new(state.size.width, state.size.height);
    let mut terminal = Terminal::new(backend).expect("a grid");
    let pen = Pen::new(colours, glyphs);
    terminal
        .draw(|frame| view(frame, state, &pen))
        .expect("a frame");
    terminal.backend().buffer().clone()
}

/// The rows as text, without trailing spaces.
pub(crate) fn rows(buffer: &Buffer) -> Vec<String> {
    let area = buffer.area;
    let row = |y| -> String { (0..area.width).map(|x| buffer[(x, y)].symbol()).collect() };
    (0..area.height)
        .map(|y| row(y).trim_end().to_owned())
        .collect()
}

/// What stands before the cursor of the terminal in its row, and behind it.
pub(crate) fn around_cursor(state: &State) -> (String, String) {
    let backend = TestBackend::new(state.size.width, state.size.height);
    let mut terminal = Terminal::new(backend).expect("a grid");
    let pen = Pen::new(Colours::None, Glyphs::Unicode);
    terminal
        .draw(|frame| view(frame, state, &pen))
        .expect("a frame");
    let at = terminal.get_cursor_position().expect("a cursor");
    let buffer = terminal.backend().buffer();
    let cells = |columns: std::ops::Range<u16>| -> String {
        columns.map(|x| buffer[(x, at.y)].symbol()).collect()
    };
    (cells(0..at.x), cells(at.x..buffer.area.width))
}

/// What stands below the steps: the title of the build may be cut, a page may not.
pub(crate) fn page(state: &State, glyphs: Glyphs) -> Vec<String> {
    let strip = if state.size.width < 80 { 7 } else { 3 };
    rows(&draw(state, Colours::None, glyphs)).split_off(strip)
}

/// The rows as text, then every stretch that has a style of its own.
pub(crate) fn picture(buffer: &Buffer) -> String {
    let mut text = rows(buffer).join("\n");
    text.push_str("\n--- styles\n");
    let area = buffer.area;
    for y in 0..area.height {
        let mut x = 0;
        while x < area.width {
            let style = buffer[(x, y)].style();
            let from = x;
            while x < area.width && buffer[(x, y)].style() == style {
                x += 1;
            }
            if let Some(name) = name(style) {
                let _ = writeln!(text, "{y}: {from}-{} {name}", x - 1);
            }
        }
    }
    text
}

/// A style in short; none for plain text.
fn name(style: Style) -> Option<String> {
    let mut parts = Vec::new();
    if let Some(colour) = style
        .fg
        .filter(|colour| *colour != ratatui::style::Color::Reset)
    {
        parts.push(format!("{colour:?}"));
    }
    if !style.add_modifier.is_empty() {
        parts.push(format!("{:?}", style.add_modifier));
    }
    (!parts.is_empty()).then(|| parts.join(" "))
}
