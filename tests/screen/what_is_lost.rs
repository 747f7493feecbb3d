//! Where money is saved or an axis made faster, the page says what each row is, what is lost by it
//! and what is wanted at all.

use crate::screen::{open, page, press};
use gantrywright::build::Axis;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, PaneRow, State};
use gantrywright::store::{examples, library};

fn example(name: &str, width: u16, height: u16) -> State {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find(name).expect("an example");
    open(example.build(&catalogue).expect("a build"), width, height)
}

fn text(state: &State) -> String {
    page(state, Glyphs::Unicode).join("\n")
}

/// The rows of savings have their names, and not letters alone; a key leads to the variants.
#[test]
fn rows_of_savings_say_what_they_are() {
    let mut state = example("pier-allrounder", 80, 24);
    press(&mut state, &[Key::F(10), Key::Char('l'), Key::Enter]);
    let answer = match state.layers.last() {
        Some(Layer::Answer(question, 0)) => state.what_if.answer(question, &state.now),
        other => panic!("{other:?}"),
    };
    let titles = answer.expect("an answer").alternatives.iter().take(4);
    let shown = text(&state);
    for (one, letter) in titles.zip('A'..) {
        let (choice, _) = one.title.split_once(": ").expect("a choice");
        let choice = choice.trim_start_matches("and ");
        let starts = format!("{letter}  ");
        let mut rows = shown
            .lines()
            .map(|line| line.trim_start_matches(['>', ' ']));
        let row = rows.find(|line| line.starts_with(&starts));
        let row = row.unwrap_or_else(|| panic!("no row {letter} in {shown}"));
        assert!(row.contains(choice), "{choice} is not in {row}");
    }
    press(&mut state, &[Key::Char('l'), Key::Char('v')]);
    assert_eq!(state.place(), Place::Variants);
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Savings);
}

/// A speed is told beside the one that is wanted, and two limits of the same height as such.
#[test]
fn the_page_of_rapids_says_what_is_wanted() {
    let mut state = example("attic-starter", 200, 60);
    press(&mut state, &[Key::BackTab, Key::Down, Key::Enter]);
    assert!(matches!(
        state.layers.last(),
        Some(Layer::Figure(PaneRow::Axis(Axis::X), 0))
    ));
    let shown = text(&state);
    assert!(shown.contains("You want 3.0 m/min"), "{shown}");
    assert!(shown.contains("holds it at 15.0 m/min as well"), "{shown}");
    assert!(shown.contains("shows what each loses"), "{shown}");
}
