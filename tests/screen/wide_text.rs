//! Text of any script from files and fields: never cut in half, and whatever stands beside it
//! stays in its column.

use crate::screen::{self, SIZES, draw, press, type_in};
use gantrywright::build::Build;
use gantrywright::build::variants::{Variant, Variants};
use gantrywright::catalogue::Catalogue;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::text;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::{ColorWish, Session};
use gantrywright::store::library;
use rand::RngExt as _;
use rand::SeedableRng as _;
use rand_chacha::ChaCha8Rng;
use ratatui::buffer::Buffer;
use ratatui::layout::Size;
use unicode_segmentation::UnicodeSegmentation as _;
use unicode_width::UnicodeWidthStr as _;

/// Pieces of text that are easily measured wrongly (Unicode Standard Annexes 11 and 29): wide
/// and half-wide letters, accents that join the letter before them, joined pictures, flags,
/// marks of variation, letters that are written from right to left, and what has no width.
const PIECES: &[&str] = &[
    "a",
    "router ",
    "漢字",
    "かな",
    "한글",
    "ｱｲｳ",
    "ＡＢ",
    "e\u{301}",
    "o\u{308}\u{304}",
    "क्षि",
    "ก็",
    "🔧",
    "👩\u{200d}🔧",
    "👍🏽",
    "🇩🇪",
    "⚙\u{fe0f}",
    "1\u{fe0f}\u{20e3}",
    "עברית",
    "العربية",
    "\u{301}",
    "\u{200b}",
    "\u{202e}",
    "\u{3000}",
    " ",
    "-",
    "µ",
    "ﷺ",
    "𝄞",
    "\u{1b}[2J",
    "\t",
];

fn text_of(chance: &mut ChaCha8Rng, pieces: usize) -> String {
    let count = chance.random_range(1..=pieces);
    let all = (0..count).map(|_| PIECES[chance.random_range(0..PIECES.len())]);
    all.collect()
}

/// A catalogue with tubes of one's own that are titled at random.
fn catalogue(chance: &mut ChaCha8Rng) -> Catalogue {
    let folder = tempfile::tempdir().expect("a folder");
    let mut parts = String::new();
    for number in 0..6 {
        let title = toml::Value::String(format!("x{}", text_of(chance, 12)));
        parts.push_str(&format!(
            "\n[[tube]]\nid = \"tube-own-{number}\"\ntitle = {title}\nshort = \"漢字 {number}\"\nsource = \"made up\"\nwidth_mm = 80.0\nheight_mm = 80.0\nwall_mm = 4.0\n"
        ));
    }
    std::fs::write(folder.path().join("parts.toml"), &parts).expect("written");
    library::load(&[folder.path().to_owned()]).unwrap_or_else(|error| panic!("{error}\n{parts}"))
}

fn build(chance: &mut ChaCha8Rng) -> Build {
    let mut build = Build {
        title: text_of(chance, 30),
        note: text_of(chance, 30),
        ..Build::default()
    };
    let named = (0..3).map(|number| {
        let variant = Variant {
            note: text_of(chance, 30),
            from: "main".to_owned(),
            set: Vec::new(),
        };
        (format!("{number}{}", text_of(chance, 8)), variant)
    });
    build.variants = Variants::stored(named.collect(), None);
    build
}

fn open(chance: &mut ChaCha8Rng, catalogue: &Catalogue) -> State {
    let (build, today) = (build(chance), jiff::civil::date(2026, 11, 25));
    let session = Session {
        path: Some(format!("/home/{}/router.toml", text_of(chance, 20)).into()),
        ..Session::new(catalogue.clone(), build, today, ColorWish::Auto)
    };
    let size = Size {
        width: 80,
        height: 24,
    };
    State::new(session, size).expect("a build that can be assessed")
}

/// Ways to pages with names from files, and to fields, each with what is typed there.
fn pages(state: &mut State, chance: &mut ChaCha8Rng, way: usize) {
    match way {
        0 => {}
        1 => {
            screen::go_to(state, "beam_tube");
            press(state, &[Key::End, Key::Up, Key::Up, Key::Up]);
        }
        2 => press(state, &[Key::Char('v'), Key::Down]),
        3 => press(state, &[Key::Char('v'), Key::Char('n')]),
        4 => press(state, &[Key::Char('S')]),
        5 => press(state, &[Key::Char('b'), Key::Char('/')]),
        6 => press(state, &[Key::Char('b'), Key::Char('p')]),
        7 => press(state, &[Key::Char('/')]),
        8 => press(state, &[Key::Char('d'), Key::Char('/')]),
        _ => press(state, &[Key::Char('v'), Key::Char('c')]),
    }
    if (3..9).contains(&way) {
        type_in(state, &text_of(chance, 60));
        // Back into the text, so that the field is scrolled from somewhere in the middle.
        let back = chance.random_range(0..20);
        press(state, &vec![Key::Left; back]);
    }
}

/// The row as a terminal shows it: what a wide character covers is no cell of its own.
fn columns(buffer: &Buffer, y: u16) -> usize {
    let mut x = 0;
    while x < buffer.area.width {
        let width = buffer[(x, y)].symbol().width().max(1);
        x += u16::try_from(width).expect("a few columns");
    }
    usize::from(x)
}

#[test]
fn no_row_is_too_long_and_the_pane_stays_in_its_column() {
    let mut chance = ChaCha8Rng::seed_from_u64(41);
    let catalogues: Vec<Catalogue> = (0..3).map(|_| catalogue(&mut chance)).collect();
    for round in 0..60 {
        let mut state = open(&mut chance, &catalogues[round % 3]);
        pages(&mut state, &mut chance, round % 10);
        for (width, height) in SIZES {
            update(&mut state, Message::Resize(Size { width, height }));
            let buffer = draw(&state, Colours::Table, Glyphs::Unicode);
            for y in 0..height {
                assert_eq!(columns(&buffer, y), usize::from(width), "{round}, row {y}");
            }
            let layout = state.drawn().expect("large enough");
            for area in [layout.pane, layout.bill].into_iter().flatten() {
                for y in area.top()..area.bottom() {
                    let edge = buffer[(area.x - 1, y)].symbol();
                    assert!(["│", "┤"].contains(&edge), "{round}, row {y}: {edge:?}");
                    // Nothing wide reaches over the edge from the left.
                    let before = buffer[(area.x - 2, y)].symbol();
                    assert!(before.width() <= 1, "{round}, row {y}: {before:?}");
                }
            }
            no_half_characters(&buffer);
        }
    }
}

/// No cell begins with what belongs to the character before it.
fn no_half_characters(buffer: &Buffer) {
    for y in 0..buffer.area.height {
        for x in 0..buffer.area.width {
            let symbol = buffer[(x, y)].symbol();
            assert_eq!(symbol.graphemes(true).count().max(1), 1, "{symbol:?}");
            assert!(
                !symbol.starts_with(['\u{200d}', '\u{fe0f}', '\u{1b}', '\t']),
                "{symbol:?}"
            );
        }
    }
}

/// Whatever is cut or padded has exactly the columns that it should, and ends with a whole
/// character.
#[test]
fn what_is_cut_fits_and_keeps_characters_whole() {
    let mut chance = ChaCha8Rng::seed_from_u64(7);
    for _ in 0..3000 {
        let text = text::clean(&text_of(&mut chance, 20)).into_owned();
        let room = chance.random_range(0..30);
        for mark in ["…", ".."] {
            let cut = text::cut(&text, room, mark);
            assert!(text::width(&cut) <= room, "{cut:?} in {room}");
            for padded in [
                text::left(&text, room, mark),
                text::right(&text, room, mark),
            ] {
                assert_eq!(text::width(&padded), room, "{padded:?}");
            }
            if let Some(kept) = cut.strip_suffix(mark).filter(|_| cut != text) {
                let whole = text.graphemes(true).scan(0, |end, grapheme| {
                    *end += grapheme.len();
                    Some(*end)
                });
                let ends: Vec<usize> = std::iter::once(0).chain(whole).collect();
                assert!(ends.contains(&kept.len()), "{kept:?} of {text:?}");
            }
        }
        for line in text::wrap(&text, room.max(4)) {
            assert!(text::width(&line) <= room.max(4), "{line:?} in {room}");
        }
    }
}

/// The cursor stands behind what is typed, in a field that is scrolled too.
#[test]
fn the_cursor_of_a_field_stands_behind_wide_text() {
    for (typed, end) in [("漢字", 5), ("e\u{301}e\u{301}", 3), ("ab", 3)] {
        let input = tui_input::Input::new(typed.to_owned());
        assert_eq!(text::column_in_view(&input, 20) + 1, end, "{typed}");
    }
    let long = tui_input::Input::new("漢".repeat(30));
    for room in 2..20 {
        let shown = text::in_view(&long, room);
        let column = text::column_in_view(&long, room);
        assert!(column <= room, "{column} of {room}");
        assert_eq!(text::width(shown), column, "{shown:?}");
        // As much as there is room for is in view.
        assert!(text::width(shown) + 2 > room, "{shown:?} in {room}");
    }
}
