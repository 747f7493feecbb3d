//! The walk of the first build, key by key: what the page says that somebody presses makes the
//! build that the page goes on with.

use gantrywright::build::Build;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;

use crate::page::Page;
use crate::screen::{go_to, open, press, type_in};
use crate::shown::Shown;

/// The builds of the walk, one after the other.
fn stages() -> Vec<Build> {
    let mut shown = Shown::default();
    let page = Page::open("docs/first-build.md");
    let notes = page.notes("build");
    notes
        .into_iter()
        .map(|note| {
            shown.hear(&format!("build: {note}"));
            shown.build.clone()
        })
        .collect()
}

/// Opens the warnings, goes to the one of a rule and presses f.
fn lift(state: &mut State, rule: &str) {
    press(state, &[Key::Char('w')]);
    let place = state
        .now
        .findings
        .iter()
        .position(|finding| finding.rule == rule);
    let place = place.unwrap_or_else(|| panic!("no warning of {rule}"));
    press(state, &vec![Key::Down; place]);
    press(state, &[Key::Char('f'), Key::Esc]);
}

/// Takes an option of a choice: so many rows below the one that holds.
fn take(state: &mut State, choice: &str, below: usize) {
    go_to(state, choice);
    press(state, &vec![Key::Down; below]);
    press(state, &[Key::Enter]);
}

#[test]
fn the_keys_of_the_walk_make_its_builds() {
    let stages = stages();
    let [new, shed, mended, capped, stiff] = stages.as_slice() else {
        panic!("{} builds", stages.len());
    };
    assert_eq!(new, &Build::default());
    let mut state = open(new.clone(), 80, 24);
    press(&mut state, &[Key::Enter]);
    press(&mut state, &[Key::Down; 3]);
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().area.site, shed.area.site);
    go_to(&mut state, "travel_y_mm");
    press(&mut state, &[Key::Ctrl('u')]);
    type_in(&mut state, "400");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().area.travel.y, shed.area.travel.y);

    let mut state = open(shed.clone(), 80, 24);
    for rule in [
        "metal-sparks-in-wood-dust",
        "supply-voltage-wrong-for-spindle",
        "extractor-not-for-this-socket",
    ] {
        lift(&mut state, rule);
    }
    assert_eq!(state.build(), mended);
    lift(&mut state, "circuit-overloaded");
    assert_eq!(state.build(), capped);
    take(&mut state, "plate", 1);
    assert_eq!(state.build(), stiff);
}
