//! The page of all figures: opened from keys, menu and pane, its groups, and whether it follows
//! the build. How one figure came about is tested in `derivations.rs`.

use crate::figures::{left, take_notes, with_notes};
use crate::screen::{SIZES, draw, go_to, open, press, rows};
use gantrywright::build::Build;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::theme::Colours;
use gantrywright::units;

#[test]
fn the_page_opens_by_letter_and_by_menu_and_groups_open_and_close() {
    for (width, height) in SIZES {
        let mut state = with_notes(width, height);
        press(&mut state, &[Key::Char('e')]);
        assert_eq!(state.place(), Place::Figures);
        let text = left(&state);
        assert!(
            text.contains("> + Axis X") && text.contains("2 figures"),
            "{text}"
        );
        assert!(
            text.contains("+ Cutting") && !text.contains("softwood"),
            "{text}"
        );
        press(&mut state, &[Key::Enter]);
        let text = left(&state);
        assert!(
            text.contains("> - Axis X") && text.contains("15.66 m/min"),
            "{text}"
        );
        press(&mut state, &[Key::Down, Key::Left]);
        assert!(left(&state).contains("> + Axis X"), "{}", left(&state));
        press(&mut state, &[Key::Down, Key::Enter, Key::Down, Key::Enter]);
        let text = left(&state);
        assert!(
            text.contains("softwood") && text.contains("mild steel"),
            "{text}"
        );
        press(&mut state, &[Key::Esc]);
        assert_eq!(state.place(), Place::Choices);
    }
    let mut state = with_notes(80, 24);
    press(&mut state, &[Key::Esc]);
    let rows = rows(&draw(&state, Colours::None, Glyphs::Unicode));
    let place = rows.iter().position(|row| row.contains("Figures: why"));
    let first = rows
        .iter()
        .position(|row| row.contains("Back to the choices"));
    let steps = place.expect("a row") - first.expect("a row");
    press(&mut state, &vec![Key::Down; steps]);
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Figures);
}

#[test]
fn a_row_of_the_pane_explains_itself() {
    for (width, height) in [(80, 24), (120, 40), (200, 60)] {
        let mut state = with_notes(width, height);
        press(&mut state, &[Key::BackTab, Key::Down]);
        take_notes(&mut state);
        press(&mut state, &[Key::Char('e')]);
        assert!(
            left(&state).contains("rapids of X: 15.66"),
            "{}",
            left(&state)
        );
        press(&mut state, &[Key::Esc, Key::Enter]);
        assert_eq!(state.place(), Place::Figure);
        press(&mut state, &[Key::Char('e')]);
        assert_eq!(state.place(), Place::Derivation);
        press(&mut state, &[Key::Esc, Key::Esc, Key::Up, Key::Enter]);
        assert_eq!(state.place(), Place::Bill);
    }
}

#[test]
fn every_row_of_the_pane_has_its_place_and_opens() {
    for (width, height) in [(80, 18), (80, 24), (120, 40), (200, 60)] {
        let mut state = open(Build::default(), width, height);
        press(&mut state, &[Key::BackTab]);
        for row in state.pane_rows() {
            assert_eq!(state.pane_row(), Some(row));
            let drawn = rows(&draw(&state, Colours::None, Glyphs::Unicode));
            let arrows = drawn.iter().filter(|row| {
                ["│>", "┤>", "│ >", "┤ >"]
                    .iter()
                    .any(|mark| row.contains(mark))
            });
            assert_eq!(arrows.count(), 1, "{row:?} at {width}x{height}: {drawn:#?}");
            press(&mut state, &[Key::Enter]);
            draw(&state, Colours::None, Glyphs::Ascii);
            press(&mut state, &[Key::Esc]);
            while state.place() != Place::Pane {
                press(&mut state, &[Key::BackTab]);
                if state.place() != Place::Pane {
                    press(&mut state, &[Key::Esc]);
                }
            }
            press(&mut state, &[Key::Home]);
            let place = state.pane_rows().iter().position(|other| *other == row);
            press(&mut state, &vec![Key::Down; place.expect("a row") + 1]);
        }
    }
}

/// Figures of a build that has changed are worked out anew.
#[test]
fn the_page_follows_the_build() {
    let mut state = with_notes(80, 24);
    go_to(&mut state, "travel_x_mm");
    press(&mut state, &[Key::Up, Key::Enter]);
    assert!(state.is_unsaved());
    press(&mut state, &[Key::Char('e')]);
    assert!(state.figures.head("axes.X.none").is_none());
    let odd = state
        .figures
        .get("cutting.mild-steel.mill-6mm-2f.slot.depth_mm");
    let kept = odd.is_some_and(|odd| odd.modelled.is_some());
    assert!(!kept, "old notes were kept");
    let travel = state.figures.head("axes.X.travel_mm").expect("worked out");
    let now = units::mm::amount(state.now.machine.axes.x.travel);
    assert_eq!(travel.result, now.into());
}

/// A cure that is taken from the page of figures changes what stands there, also where a derivation
/// was open below it.
#[test]
fn the_page_follows_a_cure_that_is_taken_on_it() {
    let mut state = with_notes(80, 40);
    press(&mut state, &[Key::Char('e'), Key::Enter]);
    let limit = "axes.X.rapid_m_per_min";
    let row = state.figures.rows().iter().position(|row| {
        matches!(row, gantrywright::screen::figures::Row::Figure { path, .. } if path == limit)
    });
    let row = row.expect("the rapids of X are among its figures");
    let downs = vec![Key::Down; row - state.figures.cursor()];
    press(&mut state, &downs);
    // How it came about, then what makes it faster, of which the first is taken.
    let before = state.now.bill.total.likely;
    press(&mut state, &[Key::Enter, Key::Char('f'), Key::Enter]);
    assert_ne!(state.now.bill.total.likely, before);
    while state.place() != Place::Figures {
        press(&mut state, &[Key::Esc]);
    }
    let shown = state.figures.head(limit).expect("worked out");
    let now = units::m_per_min::amount(state.now.machine.axes.x.rapid);
    assert_eq!(shown.result, now.into());
}
