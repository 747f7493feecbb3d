//! How one figure came about, on the screen: opened, walked to what stands behind it, left, at
//! every size that is promised.

use crate::figures::{END, RAPID, WHIRL, left, open_rapids, take_notes, with_notes};
use crate::screen::{SIZES, draw, press, rows};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use ratatui::layout::Size;

fn resize(state: &mut State, (width, height): (u16, u16)) {
    update(state, Message::Resize(Size { width, height }));
}

#[test]
fn a_figure_opens_to_its_inputs_and_they_open_in_turn() {
    let mut state = with_notes(120, 40);
    open_rapids(&mut state);
    let text = left(&state);
    for part in [
        "rapids of X: 15.66 m/min",
        "the lowest of all limits",
        "v = min",
        "enter opens it",
        "axes.X.none",
        RAPID,
    ] {
        assert!(text.contains(part), "{part} is not in {text}");
    }
    press(&mut state, &[Key::Enter]);
    let text = left(&state);
    for part in [
        "constant: handbook of machine elements",
        "n = 1 957 rpm",
        "worked out here",
        "Picked by Drive X, in step 2",
        "your choice: Travel X (travel_x_mm), in step 1",
        "frame plan:",
        "wall socket:",
        "you measured it: Travel Y",
        END,
    ] {
        assert!(text.contains(part), "{part} is not in {text}");
    }
    press(&mut state, &[Key::Esc]);
    assert!(left(&state).contains("rapids of X: 15.66"));
    press(&mut state, &[Key::Down, Key::Enter]);
    assert!(
        left(&state).contains("nothing is noted on axes.X.none"),
        "{}",
        left(&state)
    );
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Figures);
}

#[test]
fn an_input_that_is_a_choice_can_be_gone_to() {
    let mut state = with_notes(80, 24);
    open_rapids(&mut state);
    press(&mut state, &[Key::Enter, Key::Char('g')]);
    assert_eq!(state.place(), Place::Derivation);
    assert!(
        left(&state).contains("no choice stands behind"),
        "{}",
        left(&state)
    );
    press(&mut state, &[Key::Down, Key::Down, Key::Char('g')]);
    assert_eq!(state.place(), Place::Choices);
    assert_eq!(state.choice().map(|choice| choice.id), Some("drive_x"));
    open_again(&mut state);
    press(
        &mut state,
        &[Key::Down, Key::Down, Key::Down, Key::Char('g')],
    );
    assert_eq!(state.choice().map(|choice| choice.id), Some("travel_x_mm"));
}

/// Opens the whirl limit, the page of figures standing where it was left.
fn open_again(state: &mut State) {
    take_notes(state);
    press(state, &[Key::Char('e'), Key::Enter, Key::Enter]);
    assert!(left(state).contains("critical speed"), "{}", left(state));
}

#[test]
fn every_line_of_a_derivation_comes_into_view_at_every_size() {
    for size in SIZES.into_iter().chain([(60, 19), (75, 20), (81, 18)]) {
        let mut state = with_notes(80, 24);
        open_rapids(&mut state);
        press(&mut state, &[Key::Enter]);
        resize(&mut state, size);
        let mut seen = String::new();
        for _ in 0..60 {
            seen.push_str(&left(&state));
            press(&mut state, &[Key::Down]);
        }
        let last = END.split(' ').next_back().expect("a word");
        for part in [
            "limit of X: screw whip",
            "0.8 n P",
            "L = 600 mm",
            "d = 13 mm",
            last,
            WHIRL,
        ] {
            assert!(seen.contains(part), "{size:?}: {part} was never in view");
        }
        press(&mut state, &[Key::Home]);
        assert!(left(&state).contains("limit of X: screw whip"));
    }
}

/// The row with the arrow is the input that a key acts on.
#[test]
fn the_arrow_stands_at_the_input_that_opens() {
    for size in SIZES {
        let mut state = with_notes(80, 24);
        resize(&mut state, size);
        open_rapids(&mut state);
        let drawn = |state: &State| rows(&draw(state, Colours::None, Glyphs::Unicode));
        let points_at = |state: &State, text: &str| {
            let rows = drawn(state);
            rows.iter().any(|row| row.starts_with(text))
        };
        // On the smallest screen the formula fills the page: it is read first.
        if size == SIZES[0] && !points_at(&state, "> v =") {
            press(&mut state, &[Key::Down]);
        }
        assert!(points_at(&state, "> v ="), "{:#?}", drawn(&state));
        assert!(
            drawn(&state)
                .last()
                .is_some_and(|row| row.contains("enter open"))
        );
        press(&mut state, &[Key::Down]);
        assert!(points_at(&state, "> w ="), "{:#?}", drawn(&state));
    }
}

#[test]
fn a_measured_figure_says_how_far_the_model_is_off() {
    let mut state = with_notes(80, 24);
    press(
        &mut state,
        &[
            Key::Char('e'),
            Key::End,
            Key::Enter,
            Key::End,
            Key::Enter,
            Key::End,
            Key::Enter,
            Key::End,
            Key::Enter,
            Key::End,
            Key::Enter,
        ],
    );
    let text = left(&state);
    assert!(text.contains("The model says 2 mm, -33 %"), "{text}");
}

#[test]
fn ascii_pages_are_ascii() {
    let mut state = with_notes(60, 18);
    state.glyphs = Glyphs::Ascii;
    open_rapids(&mut state);
    for _ in 0..12 {
        let buffer = draw(&state, Colours::None, Glyphs::Ascii);
        assert!(buffer.content.iter().all(|cell| cell.symbol().is_ascii()));
        press(&mut state, &[Key::Down, Key::Enter]);
    }
}
