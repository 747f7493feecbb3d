//! What the answers of the interview cost, as it stands above the questions.

use crate::interview::{begun, press_for, search, text, typed, uncut};
use crate::screen::{draw, page, press, rows, type_in};
use gantrywright::build::Build;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, State};
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, Task, update};

/// While somebody answers, what it costs is looked for beside the screen and told above the
/// questions; a field says its unit.
#[test]
fn what_the_answers_cost_stands_above_the_questions() {
    let mut state = begun(80, 24);
    let first = press_for(&mut state, Key::Down);
    assert_eq!(first, None, "nothing is answered, and nothing looked at");
    press(&mut state, &[Key::Enter]);
    uncut(&state);
    assert!(text(&state).contains("600 x 400 mm"), "{}", text(&state));
    type_in(&mut state, "900 x 900");
    let looks = press_for(&mut state, Key::Enter);
    uncut(&state);
    assert!(
        text(&state).contains("this costs: looking"),
        "{}",
        text(&state)
    );
    let short = "what would help if not: looking";
    assert!(!text(&state).contains(short), "no money was named");
    // Another answer starts another look, and the first one counts no more.
    press(&mut state, &[Key::Down, Key::Enter]);
    assert!(
        text(&state).contains("A lone number is in EUR"),
        "{}",
        text(&state)
    );
    type_in(&mut state, "2000");
    let again = press_for(&mut state, Key::Enter);
    for task in looks.iter().chain(&again) {
        let Task::Start(job) = task else {
            panic!("{task:?}");
        };
        job.run(&|| ());
    }
    assert!(looks.is_some() && again.is_some());
    // While that is looked at, the question on the money says so.
    press(&mut state, &[Key::Up]);
    assert!(text(&state).contains(short), "{}", text(&state));
    press(&mut state, &[Key::Down]);
    update(&mut state, Message::News);
    uncut(&state);
    let page = text(&state);
    assert!(page.contains("your money: 2 000 EUR."), "{page}");
    assert!(
        page.contains("are missing: the question \"budget\""),
        "{page}"
    );
    press(&mut state, &[Key::Up]);
    let page = text(&state);
    assert!(
        page.contains("are missing.") && page.contains("\"largest piece\""),
        "{page}"
    );
    // The answer itself says what it costs.
    press(&mut state, &[Key::Up, Key::Up]);
    assert!(text(&state).contains("It costs about"), "{}", text(&state));
    // In a field that is answered stands what was answered, with its unit.
    press(&mut state, &[Key::Enter]);
    assert!(text(&state).contains("> 900 x 900 mm"), "{}", text(&state));
}

/// Where the parts go decides in which money is counted, and the page says so before a build is
/// opened; what is open in other money does not stand beside it.
#[test]
fn sums_are_in_the_money_of_where_the_parts_go() {
    let mut state = begun(80, 24);
    press(&mut state, &[Key::Down, Key::Down, Key::Enter]);
    press(&mut state, &[Key::Down, Key::Enter]);
    assert_eq!(typed(&state, "country"), "destination-uk");
    assert_eq!(typed(&state, "socket"), "site-230v-13a");
    search(&mut state);
    let page = text(&state);
    assert!(page.contains("GBP") && !page.contains("EUR"), "{page}");
    assert!(page.contains("warns"), "{page}");
}

/// What is said about the money above the questions moves none of them, and the cursor is where
/// it was left.
#[test]
fn the_questions_stay_where_they_are() {
    let mut state = begun(80, 24);
    let first = |state: &State| {
        let page = page(state, Glyphs::Unicode);
        page.iter().position(|row| row.contains("to cut  "))
    };
    let (place, before) = (first(&state), text(&state));
    assert!(
        before.contains("The weightiest questions come first"),
        "{before}"
    );
    press(&mut state, &[Key::Down, Key::Enter]);
    type_in(&mut state, "900 x 900");
    let looks = press_for(&mut state, Key::Enter);
    assert_eq!(first(&state), place, "while it is looked for");
    press(&mut state, &[Key::Down, Key::Enter]);
    type_in(&mut state, "2000");
    let again = press_for(&mut state, Key::Enter);
    for task in looks.iter().chain(&again) {
        let Task::Start(job) = task else {
            panic!("{task:?}");
        };
        job.run(&|| ());
    }
    update(&mut state, Message::News);
    assert_eq!(first(&state), place, "where money is missing");
    press(&mut state, &[Key::Up]);
    assert_eq!(first(&state), place, "at the question on it");
    // There it is told what would help, and what the money buys.
    uncut(&state);
    press(&mut state, &[Key::Char('?')]);
    let help = text(&state);
    assert!(help.contains("saves") && help.contains("money"), "{help}");
    press(&mut state, &[Key::Esc, Key::Esc, Key::Char('i')]);
    assert!(
        matches!(state.layers.last(), Some(Layer::Interview(3))),
        "{:?}",
        state.layers
    );
}

/// The top row says the money of the answers as soon as it is known; left, that of the build.
#[test]
fn the_top_row_says_the_money_of_the_answers() {
    let mut state = begun(80, 24);
    let top = |state: &State| rows(&draw(state, Colours::None, Glyphs::Unicode)).remove(0);
    assert!(top(&state).contains("EUR"), "{}", top(&state));
    press(&mut state, &[Key::Down, Key::Down, Key::Enter]);
    press(&mut state, &[Key::Down, Key::Enter]);
    assert!(top(&state).contains("GBP"), "{}", top(&state));
    press(&mut state, &[Key::Enter]);
    assert!(top(&state).contains("GBP"), "{}", top(&state));
    press(&mut state, &[Key::Esc, Key::Esc]);
    assert!(top(&state).contains("EUR"), "{}", top(&state));
}

/// Where the money is not enough, what it buys stands below the nearest build, and opens.
#[test]
fn what_the_money_buys_can_be_opened() {
    let mut state = begun(80, 24);
    press(&mut state, &[Key::Down; 3]);
    press(&mut state, &[Key::Enter]);
    type_in(&mut state, "300");
    press(&mut state, &[Key::Enter]);
    search(&mut state);
    uncut(&state);
    let shown = text(&state);
    assert!(shown.contains("all but "), "{shown}");
    press(&mut state, &[Key::End]);
    uncut(&state);
    assert!(text(&state).contains("> least tried"), "{}", text(&state));
    assert!(text(&state).contains("gives way"), "{}", text(&state));
    // The keys say that it opens, and what is opened does not claim to be for the money.
    assert!(text(&state).contains("enter open"), "{}", text(&state));
    uncut(&state);
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Choices);
    assert!(state.build().note.contains("gave way to the money"));
    assert!(state.build().title.contains("least that was tried"));
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), Build::default());
}
