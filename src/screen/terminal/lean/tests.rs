//! Frames of chance, written to a terminal that is emulated (the crate vt100): it must show what
//! was drawn, cell by cell, whatever stood there before.

use std::cell::RefCell;
use std::rc::Rc;

use rand::seq::IndexedRandom as _;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use ratatui::style::{Color, Modifier, Style};

use super::*;

const WIDTH: u16 = 24;
const HEIGHT: u16 = 6;
const SIZE: Size = Size::new(WIDTH, HEIGHT);

/// What was sent, to be looked at from outside.
#[derive(Clone, Default)]
pub(in crate::screen::terminal) struct Sent(Rc<RefCell<Vec<u8>>>);

impl Sent {
    /// What was sent since somebody asked last.
    pub(in crate::screen::terminal) fn take(&self) -> Vec<u8> {
        std::mem::take(&mut *self.0.borrow_mut())
    }
}

impl Write for Sent {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.borrow_mut().extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        Ok(())
    }
}

/// A writer of frames and the terminal that it writes to.
struct Pair {
    lean: Lean<Sent>,
    sent: Sent,
    last: Buffer,
    terminal: vt100::Parser,
}

impl Pair {
    fn new(dialect: Dialect) -> Self {
        let sent = Sent::default();
        let mut lean = Lean::new(sent.clone(), dialect, false);
        lean.start_anew(SIZE);
        Self {
            lean,
            sent,
            last: Buffer::empty(Rect::from((Position::ORIGIN, SIZE))),
            terminal: vt100::Parser::new(
                HEIGHT.try_into().expect("rows"),
                WIDTH.try_into().expect("columns"),
                0,
            ),
        }
    }

    /// Draws a frame; gives what was sent.
    fn draw(&mut self, next: &Buffer) -> String {
        self.lean.take(next, 0..WIDTH);
        self.lean.write();
        self.lean.flush().expect("sent");
        self.last = next.clone();
        let bytes = self.sent.take();
        self.terminal.process(&bytes);
        String::from_utf8(bytes).expect("text")
    }

    fn assert_shows(&self, drawn: &Buffer) {
        let screen = self.terminal.screen();
        for y in 0..HEIGHT {
            let mut x = 0;
            while x < WIDTH {
                let (cell, there) = (&drawn[(x, y)], screen.cell(y, x).expect("a cell"));
                let symbol = match there.contents() {
                    "" => " ",
                    symbol => symbol,
                };
                assert_eq!(symbol, cell.symbol(), "{x} {y} of {drawn:?}");
                let plain = symbol == " ";
                if !plain || !Ink::of(cell).leaves_blanks_plain() {
                    assert_eq!(
                        there.bold(),
                        cell.modifier.contains(Modifier::BOLD),
                        "{x} {y}"
                    );
                    assert_eq!(there.fgcolor(), colour(cell.fg), "{x} {y} of {drawn:?}");
                }
                let reversed = cell.modifier.contains(Modifier::REVERSED);
                assert_eq!(there.inverse(), reversed, "{x} {y}");
                assert_eq!(
                    there.underline(),
                    cell.modifier.contains(Modifier::UNDERLINED),
                    "{x} {y}"
                );
                assert_eq!(there.bgcolor(), colour(cell.bg), "{x} {y}");
                x += width(cell);
            }
        }
    }
}

fn colour(colour: Color) -> vt100::Color {
    match colour {
        Color::Reset => vt100::Color::Default,
        Color::Red => vt100::Color::Idx(1),
        Color::LightBlue => vt100::Color::Idx(12),
        Color::Indexed(place) => vt100::Color::Idx(place),
        Color::Rgb(red, green, blue) => vt100::Color::Rgb(red, green, blue),
        other => panic!("{other:?} is not used here"),
    }
}

/// Writes something of chance somewhere.
fn scribble(buffer: &mut Buffer, chance: &mut ChaCha8Rng) {
    const TEXTS: &[&str] = &[
        "-> 5 602",
        "a",
        " ",
        "            ",
        "wide 漢字 here",
        "N/µm",
        "██▏",
        "⣿⠁",
        "e\u{301}x",
        "Ω and ≤",
        "                        ",
    ];
    const COLOURS: &[Color] = &[
        Color::Reset,
        Color::Reset,
        Color::Red,
        Color::LightBlue,
        Color::Indexed(163),
        Color::Rgb(233, 19, 19),
    ];
    const ATTRIBUTES: &[Modifier] = &[
        Modifier::empty(),
        Modifier::empty(),
        Modifier::BOLD,
        Modifier::REVERSED,
        Modifier::UNDERLINED,
        Modifier::BOLD.union(Modifier::REVERSED),
    ];
    let (Some(text), Some(letters), Some(attribute)) = (
        TEXTS.choose(chance),
        COLOURS.choose(chance),
        ATTRIBUTES.choose(chance),
    ) else {
        return;
    };
    let mut style = Style::new().fg(*letters);
    style.add_modifier = *attribute;
    style.sub_modifier = Modifier::all().difference(*attribute);
    if chance.random_bool(0.1) {
        style = style.bg(Color::Indexed(163));
    }
    let (x, y) = (
        chance.random_range(0..WIDTH),
        chance.random_range(0..HEIGHT),
    );
    buffer.set_string(x, y, text, style);
}

#[test]
fn the_terminal_shows_what_was_drawn() {
    for seed in 0..300 {
        let mut chance = ChaCha8Rng::seed_from_u64(seed);
        let mut pair = Pair::new(Dialect::Named);
        let mut next = pair.last.clone();
        for _ in 0..12 {
            if chance.random_bool(0.1) {
                next.reset();
            }
            for _ in 0..chance.random_range(0..8) {
                scribble(&mut next, &mut chance);
            }
            pair.draw(&next);
            pair.assert_shows(&next);
        }
    }
}

#[test]
fn nothing_is_sent_where_nothing_looks_different() {
    let mut pair = Pair::new(Dialect::Named);
    let mut next = pair.last.clone();
    next.set_string(3, 1, "steel tube", Style::new().fg(Color::Red));
    assert!(!pair.draw(&next).is_empty());
    assert_eq!(pair.draw(&next), "");
    // A blank in another colour is the same blank.
    next.set_style(Rect::new(8, 1, 1, 1), Style::new().fg(Color::LightBlue));
    assert_eq!(pair.draw(&next), "");
}

/// One colour after the other, gaps written again, blanks by their length.
#[test]
fn few_bytes_are_sent() {
    let mut pair = Pair::new(Dialect::Named);
    let mut next = pair.last.clone();
    let red = Style::new().fg(Color::Rgb(233, 19, 19));
    for y in 0..3 {
        next.set_string(0, y, "cost 1 ", Style::new());
        next.set_string(7, y, "-> 2", red);
    }
    pair.draw(&next);
    let before = next.clone();
    for y in 0..3 {
        next.set_string(5, y, "7", Style::new());
        next.set_string(10, y, "9", red);
    }
    // Three figures, two moves between them (each from behind one figure to the next), and the
    // way to the first; the same in red, and red once.
    let plain = "\x1b[1;6H7".len() + 2 * "\x1b[B\x087".len();
    let coloured = plain + "\x1b[38;2;233;19;19m".len() + 1;
    let sent = pair.draw(&next);
    assert!(sent.len() <= plain + coloured, "{sent:?}");
    // All blank again: each row by its end.
    next.reset();
    let cleared = pair.draw(&next);
    let rows = "\x1b[m".len() + 3 * "\x1b[3H\x1b[K".len();
    assert!(cleared.len() <= rows, "{cleared:?}");
    pair.assert_shows(&next);
    pair.draw(&before);
    pair.assert_shows(&before);
}

#[test]
fn the_oldest_are_sent_no_blanks_by_their_length() {
    let mut pair = Pair::new(Dialect::Oldest);
    let mut next = pair.last.clone();
    next.set_string(0, 0, "one            two", Style::new());
    pair.draw(&next);
    next.set_string(0, 0, "                 o", Style::new());
    let sent = pair.draw(&next);
    assert!(!sent.contains('X'), "{sent:?}");
    pair.assert_shows(&next);
}
