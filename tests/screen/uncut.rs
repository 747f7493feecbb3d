//! Every page of every example in a terminal of 80 columns and 24 rows: no title and no row is
//! cut off. What is longer than its room wraps, has a shorter name, or says which key shows all
//! of it.

use std::collections::BTreeSet;

use crate::screen::{self, open, press, rows, type_in};
use gantrywright::build::choices;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::store::{examples, library};

/// The sign that stands where a text was cut: every cut of the screen is made by the functions of
/// one file, which end the text with it.
const CUT: char = '…';

/// What stands beside a cut that says how the whole is read.
const SHOWS_ALL: &str = "shows all";

/// What was found cut: the example, the place, the row.
type Found = BTreeSet<(String, String, String)>;

/// Each example on an own screen.
fn each(mut visit: impl FnMut(&str, State, &mut Found)) {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let mut found = Found::new();
    for example in examples::all() {
        let build = example.build(&catalogue).expect("a build");
        visit(example.name, open(build, 80, 24), &mut found);
    }
    let list: Vec<String> = found
        .iter()
        .map(|(name, place, row)| format!("{name}: {place}: {row}"))
        .collect();
    assert!(list.is_empty(), "{} cut:\n{}", list.len(), list.join("\n"));
}

/// Looks at what is shown.
fn look(name: &str, state: &State, found: &mut Found) {
    let buffer = screen::draw(
        state,
        gantrywright::screen::theme::Colours::None,
        Glyphs::Unicode,
    );
    for row in rows(&buffer) {
        if row.contains(CUT) && !row.contains(SHOWS_ALL) {
            let place = format!("{:?}", state.place());
            found.insert((name.to_owned(), place, row));
        }
    }
}

/// Presses keys one after the other and looks after each.
fn walk(name: &str, state: &mut State, keys: &[Key], found: &mut Found) {
    for key in keys {
        press(state, &[*key]);
        look(name, state, found);
    }
}

/// Closes whatever lies over the main screen.
fn close(state: &mut State) {
    state.layers.clear();
}

#[test]
fn no_choice_and_no_option_is_cut() {
    each(|name, mut state, found| {
        for choice in choices::all() {
            press(&mut state, &[Key::Char('/')]);
            type_in(&mut state, choice.id);
            walk(name, &mut state, &[Key::Enter, Key::End, Key::Esc], found);
        }
    });
}

#[test]
fn no_page_is_cut() {
    use Key::{Char, Down, F, Tab};
    each(|name, mut state, found| {
        let mut pages: Vec<Vec<Key>> = [
            "w", "b", "p", "6", "v", "7", "l", "f", "i", "c", "e", "d", "t", "S",
        ]
        .iter()
        .map(|keys| keys.chars().map(Char).collect())
        .collect();
        pages.push(vec![F(10)]);
        for page in &pages {
            walk(name, &mut state, page, found);
            walk(name, &mut state, &[Down; 24], found);
            walk(name, &mut state, &[Char('?'), Tab, Tab, Tab], found);
            close(&mut state);
        }
    });
}

#[test]
fn no_warning_no_line_of_the_bill_and_no_picture_is_cut() {
    use Key::{Char, Down, Enter, PageDown, Tab};
    each(|name, mut state, found| {
        walk(name, &mut state, &[Char('w')], found);
        for _ in 0..state.about.topics().len() {
            walk(name, &mut state, &[Enter, PageDown], found);
            press(&mut state, &[Key::Esc, Down]);
        }
        close(&mut state);
        walk(name, &mut state, &[Char('b')], found);
        for order in 0..5 {
            for line in 0..40 {
                walk(name, &mut state, &[Down], found);
                if order == 0 && line % 3 == 0 {
                    walk(name, &mut state, &[Enter, PageDown], found);
                    press(&mut state, &[Key::Esc]);
                }
            }
            press(&mut state, &[Char('o')]);
        }
        close(&mut state);
        walk(name, &mut state, &[Char('p')], found);
        for _ in 0..10 {
            walk(
                name,
                &mut state,
                &[Char('t'), PageDown, Char('t'), Tab],
                found,
            );
        }
        close(&mut state);
    });
}

/// What stands behind the rows of the side pane, the targets of a search, how figures come about.
#[test]
fn no_page_of_a_figure_and_no_target_is_cut() {
    use Key::{BackTab, Char, Down, Enter, PageDown, Right, Tab};
    each(|name, mut state, found| {
        walk(name, &mut state, &[BackTab, Down, Enter], found);
        assert_eq!(state.place(), Place::Figure, "{name}");
        for _ in 0..10 {
            walk(name, &mut state, &[PageDown, PageDown, Tab], found);
        }
        close(&mut state);
        press(&mut state, &[Key::Esc]);
        walk(name, &mut state, &[Char('f'), Char('n')], found);
        walk(name, &mut state, &[Right; 25], found);
        close(&mut state);
        walk(name, &mut state, &[Char('e')], found);
        for _ in 0..12 {
            walk(name, &mut state, &[Enter, Down, Down, Enter], found);
            if state.place() == Place::Derivation {
                press(&mut state, &[Key::Esc]);
            }
        }
    });
}

#[test]
fn no_answer_is_cut() {
    use Key::{Char, Down, Enter};
    let mut place = 0;
    each(|name, mut state, found| {
        // Some questions of each example: together all of them.
        for _ in 0..5 {
            press(&mut state, &[Char('7')]);
            press(&mut state, &vec![Down; place % 22]);
            walk(name, &mut state, &[Enter, Down, Down, Key::End], found);
            close(&mut state);
            place += 1;
        }
    });
}
