//! The places of the screen that keys lead to at once, at every size: nothing panics, nothing is
//! lost.

use crate::screen::{SIZES, draw, go_to, open, press, rows};
use gantrywright::build::Build;
use gantrywright::explain::{Derivation, Notes, Origin, Recorder as _};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use gantrywright::units::Amount;
use ratatui::layout::Size;

/// Ways to such places; what they reach is named below.
fn places() -> Vec<State> {
    let fresh = || open(Build::default(), 100, 30);
    let mut found = vec![fresh()];
    for choice in [
        "drive_x",
        "travel_x_mm",
        "materials",
        "budget",
        "rail_length_x_mm",
    ] {
        let mut state = fresh();
        go_to(&mut state, choice);
        press(&mut state, &[Key::Down]);
        found.push(state);
    }
    let ways: &[&[Key]] = &[
        &[Key::BackTab],
        &[Key::BackTab, Key::Enter],
        &[Key::BackTab, Key::Down, Key::Enter],
        &[
            Key::BackTab,
            Key::Down,
            Key::Down,
            Key::Down,
            Key::Down,
            Key::Enter,
        ],
        &[
            Key::BackTab,
            Key::Down,
            Key::Down,
            Key::Down,
            Key::Down,
            Key::Down,
            Key::Enter,
        ],
        &[Key::Char('e')],
        &[Key::Char('/'), Key::Char('z')],
        &[Key::Esc],
        &[Key::Char('w')],
        &[Key::Char('w'), Key::Enter],
        &[Key::Char('w'), Key::Char('a')],
        &[Key::Char('b'), Key::PageDown],
        &[Key::Char('b'), Key::Char('o'), Key::End],
        &[Key::Char('b'), Key::Char('/'), Key::Char('z')],
        &[Key::Char('b'), Key::Enter, Key::End],
        &[Key::Char('b'), Key::End, Key::Enter],
        &[Key::Char('b'), Key::Char('t'), Key::End],
        &[Key::Char('b'), Key::Char('p'), Key::Tab],
        &[Key::Char('b'), Key::End, Key::Char('m'), Key::Tab],
        &[Key::Char('?'), Key::PageDown],
        &[Key::Char('S')],
        &[Key::Char('v')],
        &[Key::Char('v'), Key::Char('n'), Key::Char('a')],
        &[
            Key::Char('v'),
            Key::Char('n'),
            Key::Char('a'),
            Key::Enter,
            Key::Char('c'),
        ],
        &[Key::Char('7')],
        &[Key::Char('7'), Key::Enter, Key::Down],
        &[Key::Char('7'), Key::End, Key::Enter],
        &[Key::Char('7'), Key::End, Key::Up, Key::Enter, Key::Down],
        &[
            Key::Char('7'),
            Key::End,
            Key::Up,
            Key::Up,
            Key::Enter,
            Key::Char('f'),
        ],
        &[Key::Char('d'), Key::Down],
        &[Key::Char('d'), Key::Char('/'), Key::Char('z')],
        &[Key::Char('d'), Key::Enter, Key::Down],
        &[Key::Enter, Key::Down, Key::Enter, Key::Char('q')],
    ];
    for way in ways {
        let mut state = fresh();
        press(&mut state, way);
        found.push(state);
    }
    found.extend(
        [
            &[Key::Char('e'), Key::Enter, Key::Down][..],
            &[Key::Char('e'), Key::Enter, Key::Down, Key::Enter, Key::Down],
        ]
        .map(explained),
    );
    let mut large = open(Build::default(), 120, 40);
    press(
        &mut large,
        &[
            Key::BackTab,
            Key::Down,
            Key::Down,
            Key::Down,
            Key::Down,
            Key::Enter,
        ],
    );
    found.push(large);
    found
}

/// A state in which one figure is noted, after some keys.
fn explained(keys: &[Key]) -> State {
    let mut state = open(Build::default(), 100, 30);
    let mut notes = Notes::default();
    notes.note(|| {
        let metres = |number| Amount::of(number, "m/min");
        Derivation::of("axes.X.rapid_m_per_min", "rapids of X", metres(15.0))
            .by("the lowest of all limits", "v = min vᵢ")
            .with("v₁", "screw whip", metres(15.0), Origin::Here)
            .with(
                "L",
                "travel",
                Amount::of(600.0, "mm"),
                Origin::choice("travel_x_mm"),
            )
            .from("a handbook", "It ends somewhere.")
    });
    state
        .figures
        .take(std::rc::Rc::clone(&state.now), notes, &state.catalogue);
    press(&mut state, keys);
    state
}

#[test]
fn the_ways_lead_to_the_places() {
    let reached: Vec<Place> = places().iter().map(State::place).collect();
    for place in [
        Place::Choices,
        Place::Options,
        Place::Number,
        Place::Checklist,
        Place::Find,
        Place::Menu,
        Place::Pane,
        Place::Figure,
        Place::Figures,
        Place::Derivation,
        Place::Warnings,
        Place::Bill,
        Place::BillFind,
        Place::Entry,
        Place::Pick,
        Place::Form,
        Place::Variants,
        Place::Naming,
        Place::Compare,
        Place::Glossary,
        Place::WordFind,
        Place::Word,
        Place::Help,
        Place::Name,
        Place::Question,
    ] {
        assert!(reached.contains(&place), "{place:?} is not looked at");
    }
}

#[test]
fn every_place_draws_at_every_size() {
    for mut state in places() {
        let before = state.build().clone();
        for width in (1..=60)
            .step_by(7)
            .chain(58..=82)
            .chain((83..=200).step_by(13))
        {
            for height in [1, 2, 5, 17, 18, 19, 24, 31, 40, 60] {
                update(&mut state, Message::Resize(Size { width, height }));
                draw(&state, Colours::Table, Glyphs::Unicode);
            }
        }
        assert_eq!(*state.build(), before);
    }
}

#[test]
fn keys_on_a_tiny_screen_do_no_harm() {
    let mut state = open(Build::default(), 1, 1);
    let keys = [
        Key::Down,
        Key::Enter,
        Key::PageDown,
        Key::End,
        Key::Esc,
        Key::Char('w'),
        Key::Down,
        Key::Enter,
        Key::PageDown,
        Key::Esc,
        Key::Esc,
        Key::Char('b'),
        Key::End,
        Key::Esc,
        Key::Char('?'),
        Key::PageDown,
        Key::Esc,
        Key::Tab,
        Key::Tab,
        Key::Down,
    ];
    press(&mut state, &keys);
    draw(&state, Colours::None, Glyphs::Ascii);
}

/// At the promised sizes the last row says what the keys do.
#[test]
fn the_row_of_keys_is_there_at_the_promised_sizes() {
    for mut state in places() {
        for (width, height) in SIZES {
            update(&mut state, Message::Resize(Size { width, height }));
            let rows = rows(&draw(&state, Colours::None, Glyphs::Unicode));
            let last = rows.last().expect("a row");
            assert!(
                last.contains("esc") || last.contains("enter"),
                "{:?}: {last:?}",
                state.place()
            );
        }
    }
}
