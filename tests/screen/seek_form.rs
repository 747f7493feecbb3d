//! The page on which a search is put together: targets, what may change, and the ways to it.

use crate::screen::{open, press, type_in};
use crate::seek::{seek, text, uncut, want};
use gantrywright::build::Build;
use gantrywright::explore::find::Target;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::seek::Row;
use gantrywright::screen::state::State;
use gantrywright::screen::update::{Message, update};

#[test]
fn targets_are_added_changed_and_removed() {
    let mut state = seek(80, 24);
    // The figure of now stands there, and the first character replaces it.
    press(&mut state, &[Key::Char('n')]);
    assert!(
        text(&state).contains("Read as: rapids of at least"),
        "{}",
        text(&state)
    );
    press(&mut state, &[Key::Enter]);
    want(&mut state, 1, "1.2");
    want(&mut state, 3, "12");
    let spelled =
        |state: &State| -> Vec<String> { state.seek.targets.iter().map(Target::text).collect() };
    assert_eq!(spelled(&state)[1..], ["stiffness>=1.2", "current<=12"]);
    // What is wrong is said, and stays on the page.
    press(&mut state, &[Key::Char('n'), Key::Tab]);
    type_in(&mut state, "fast");
    assert!(
        text(&state).contains("is no number of m/min"),
        "{}",
        text(&state)
    );
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Target);
    press(&mut state, &[Key::Esc]);
    // A material and how well, by the arrows alone.
    press(&mut state, &[Key::Char('n')]);
    press(&mut state, &[Key::Right; 8]);
    press(&mut state, &[Key::Tab, Key::Right, Key::Enter]);
    assert_eq!(spelled(&state)[3], "cuts:softwood>=easily");
    // The rapids of one axis alone.
    want(&mut state, 6, "8");
    assert_eq!(spelled(&state)[4], "rapids:Y>=8");
    press(&mut state, &[Key::Home]);
    press(&mut state, &[Key::Down; 4]);
    press(&mut state, &[Key::Char('x')]);
    // Changed and removed.
    press(&mut state, &[Key::Home, Key::Down, Key::Enter]);
    press(&mut state, &[Key::Backspace]);
    type_in(&mut state, "5");
    press(&mut state, &[Key::Enter]);
    assert_eq!(spelled(&state)[1], "stiffness>=1.5");
    press(&mut state, &[Key::Home, Key::Char('x')]);
    assert_eq!(spelled(&state)[0], "stiffness>=1.5");
    assert_eq!(state.seek.targets.len(), 3);
    // A part by words of its name, or by its id.
    press(&mut state, &[Key::Char('n')]);
    press(&mut state, &[Key::Left, Key::Left, Key::Tab]);
    type_in(&mut state, "stepper");
    assert!(
        text(&state).contains("parts are called so"),
        "{}",
        text(&state)
    );
    press(&mut state, &[Key::Esc, Key::Char('n')]);
    press(&mut state, &[Key::Left, Key::Tab]);
    type_in(&mut state, "stepper-23-3.0");
    press(&mut state, &[Key::Enter]);
    assert_eq!(spelled(&state)[3], "without:stepper-23-3.0");
}

#[test]
fn what_may_change_is_ticked() {
    let mut state = seek(80, 24);
    let free = state.seek.rows().len() - 2;
    press(&mut state, &[Key::Home]);
    press(&mut state, &vec![Key::Down; free]);
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Freed);
    let before = state.seek.free(&state.catalogue).len();
    press(&mut state, &[Key::Char(' ')]);
    assert_eq!(state.seek.free(&state.catalogue).len(), before + 1);
    press(&mut state, &[Key::Char(' ')]);
    assert_eq!(state.seek.free(&state.catalogue).len(), before);
    // All may change, then none. Nothing to change, nothing to search.
    press(&mut state, &[Key::Char('a')]);
    assert!(state.seek.free(&state.catalogue).len() > before);
    press(&mut state, &[Key::Char('a')]);
    assert!(state.seek.free(&state.catalogue).is_empty());
    press(&mut state, &[Key::Esc]);
    let reaction = update(&mut state, Message::Key(Key::Char('f')));
    assert!(reaction.task.is_none() && state.place() == Place::Seek);
}

/// The questions lead here too, and so does the menu.
#[test]
fn questions_and_menu_lead_to_the_page() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('7')]);
    for _ in 0..40 {
        if text(&state).contains("> Which is the cheapest build") {
            break;
        }
        press(&mut state, &[Key::Down]);
    }
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Seek);
    press(
        &mut state,
        &[Key::Esc, Key::Esc, Key::F(10), Key::Char('f')],
    );
    assert_eq!(state.place(), Place::Seek);
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Choices);
}

/// Where nobody said what is free, the page says that the frame is not, and how to free it.
#[test]
fn the_page_says_that_the_frame_stays_and_how_to_free_it() {
    for (width, height) in [(80, 24), (120, 40), (200, 60)] {
        let mut state = seek(width, height);
        assert!(
            !text(&state).contains("the frame stays"),
            "{}",
            text(&state)
        );
        state.seek.free = None;
        assert!(text(&state).contains("the frame stays"), "{}", text(&state));
        let place = state.seek.rows().iter().position(|row| *row == Row::Free);
        press(&mut state, &[Key::Home]);
        press(&mut state, &vec![Key::Down; place.expect("a row")]);
        let shown = text(&state);
        let words = shown.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(words.contains("The frame stays: "), "{shown}");
        // All of it is there to be ticked.
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.place(), Place::Freed);
        uncut(&state);
    }
}
