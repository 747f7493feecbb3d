//! What makes an axis faster and what lifts a warning, as keys and eyes meet them: a key takes a cure,
//! and what it gives up is said.

use crate::savings::{assessed, example, text};
use crate::screen::{open, page, press};
use gantrywright::build::{Axis, Build};
use gantrywright::explore::question;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, Notice, PaneRow, State};
use gantrywright::store::{examples, library};

/// The page of rapids names cures; each is what a full assessment says, the cheapest first, and
/// the key takes it.
#[test]
fn the_page_of_rapids_names_cures_and_a_key_takes_one() {
    let mut state = example();
    press(&mut state, &[Key::BackTab, Key::Down, Key::Enter]);
    assert!(matches!(
        state.layers.last(),
        Some(Layer::Figure(PaneRow::Axis(Axis::X), 0))
    ));
    let before = state.now.machine.axes[Axis::X].rapid;
    let answer = state
        .what_if
        .answer(question::faster(Axis::X), &state.now)
        .expect("worked out with the page")
        .clone();
    assert!(answer.alternatives.len() > 2);
    assert!(answer.alternatives.is_sorted_by_key(|one| one.trial.price));
    for one in &answer.alternatives {
        let after = assessed(&state, &one.trial.build);
        assert!(after.machine.axes[Axis::X].rapid > before, "{}", one.title);
        assert_eq!(
            after.bill.total.likely - state.now.bill.total.likely,
            one.trial.price
        );
        assert!(one.trial.is_sound(), "{}", one.title);
    }
    // Without anybody naming them: the nuts that drag, the motor, the pitch.
    let changed = |id: &str| {
        let edits = answer.alternatives.iter().flat_map(|one| &one.trial.edits);
        edits.clone().any(|edit| edit.choice.id == id)
    };
    assert!(changed("preloaded_nuts") && changed("motor_x") && changed("drive_x"));
    let first = &answer.alternatives[0];
    assert!(
        text(&state).contains("What makes it faster"),
        "{}",
        text(&state)
    );
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Answer);
    press(&mut state, &[Key::Char('g')]);
    assert!(state.layers.is_empty());
    assert_eq!(
        state.choice().map(|choice| choice.id),
        first.trial.edits.first().map(|edit| edit.choice.id)
    );
    press(
        &mut state,
        &[
            Key::Char('7'),
            Key::Esc,
            Key::BackTab,
            Key::Down,
            Key::Enter,
        ],
    );
    press(&mut state, &[Key::Enter, Key::Enter]);
    assert_eq!(*state.build(), first.trial.build);
}

/// A warning that no choice lifts says so, and the cursor goes on: nobody is stopped there.
#[test]
fn fixing_goes_on_where_no_remedy_is_known() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('w')]);
    for _ in 0..state.about.topics().len() {
        if state.remedy.edits.is_empty() {
            break;
        }
        press(&mut state, &[Key::Down]);
    }
    let Some(Layer::Warnings(at)) = state.layers.last().cloned() else {
        panic!("the warnings are open");
    };
    assert!(state.remedy.edits.is_empty(), "every warning has a remedy");
    press(&mut state, &[Key::Char('f')]);
    let Some(Notice::Failed(said)) = &state.notice else {
        panic!("{:?}", state.notice);
    };
    assert!(said.starts_with("no remedy known: "), "{said}");
    let last = state.about.topics().len() - 1;
    let expected = (at + 1).min(last);
    assert!(matches!(state.layers.last(), Some(Layer::Warnings(now)) if *now == expected));
}

/// A cure that gives up the preload says in words what that costs, where no figure does.
#[test]
fn a_cure_says_what_it_gives_up() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find("pier-allrounder").expect("an example");
    let mut state = open(example.build(&catalogue).expect("a build"), 120, 60);
    press(&mut state, &[Key::BackTab, Key::Down, Key::Enter]);
    let answer = state.what_if.answer(question::faster(Axis::X), &state.now);
    let alternatives = &answer.expect("worked out with the page").alternatives;
    let given_up = |id: &str| {
        let mut edits = alternatives.iter().flat_map(|one| &one.trial.edits);
        edits.any(|edit| edit.choice.id == id && edit.value.to_string() == "no")
    };
    assert!(given_up("preloaded_nuts"), "{alternatives:?}");
    let shown = page(&state, Glyphs::Unicode).join(" ");
    let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(shown.contains("Given up: A nut without preload"), "{shown}");
}

/// A warning that is read stays the one that is read, and its page goes with it.
#[test]
fn a_page_of_a_warning_is_closed_where_a_change_lifts_it() {
    let read = |state: &State| match state.layers.last() {
        Some(Layer::Warning(place, _)) => state.about.rule(*place).cloned(),
        _ => None,
    };
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let barn = examples::find("barn-find").expect("an example");
    let build = barn.build(&catalogue).expect("a build");
    let topics = open(build.clone(), 80, 24).about.topics().len();
    let mut lifted = 0;
    for place in (0..topics).step_by(5) {
        let mut state = open(build.clone(), 80, 24);
        press(&mut state, &[Key::Char('w')]);
        press(&mut state, &vec![Key::Down; place]);
        press(&mut state, &[Key::Enter, Key::PageDown]);
        let rule = read(&state).expect("a warning is read");
        let stands = |state: &State| state.now.findings.iter().any(|one| one.rule == rule);
        press(&mut state, &[Key::Char('f')]);
        if stands(&state) {
            continue;
        }
        lifted += 1;
        assert_eq!(read(&state), None);
        // The other way round: where doing it again lifts what undoing brought back.
        press(&mut state, &[Key::Char('u')]);
        let back = (0..state.about.topics().len()).find(|at| state.about.rule(*at) == Some(&rule));
        state
            .layers
            .push(Layer::Warning(back.expect("it stands again"), 3));
        press(&mut state, &[Key::Char('r')]);
        assert!(!stands(&state));
        assert_eq!(read(&state), None);
    }
    assert!(lifted > 0);
}
