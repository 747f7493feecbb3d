//! The page of all figures, and how one figure came about: opened, walked, left, at every
//! size that is promised.

#[path = "common/screen.rs"]
#[allow(dead_code, reason = "each test file uses a part of it")]
mod screen;

use std::rc::Rc;

use gantrywright::build::Build;
use gantrywright::explain::{Derivation, Notes, Origin, Recorder as _};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use gantrywright::units::{self, Amount};
use ratatui::layout::Size;
use screen::{draw, open, press, rows};

const SIZES: [(u16, u16); 4] = [(60, 18), (80, 24), (120, 40), (200, 60)];
const RAPID: &str = "axes.X.rapid_m_per_min";
const WHIRL: &str = "axes.X.limits_m_per_min.screw-whirl";
const END: &str = "Beyond a slenderness that nobody builds it says nothing.";

/// Derivations of every kind of input.
fn notes() -> Notes {
    let mut notes = Notes::default();
    let speed = |number| Amount::of(number, "m/min");
    notes.note(|| {
        Derivation::of(WHIRL, "limit of X: screw whirl", speed(15.66))
            .by("critical speed, less a margin, times lead", "v = 0.8 n P")
            .with(
                "",
                "margin",
                Amount::plain(0.8),
                Origin::Constant("handbook of machine elements"),
            )
            .with(
                "n",
                "critical speed, in a title that takes more than one line of the page",
                Amount::of(1957.0, "rpm"),
                Origin::Here,
            )
            .with(
                "P",
                "lead",
                Amount::of(10.0, "mm"),
                Origin::Part("ball-screw-16x10".to_owned()),
            )
            .with(
                "L",
                "travel X",
                Amount::of(600.0, "mm"),
                Origin::choice("travel_x_mm"),
            )
            .with(
                "a",
                "rail beyond the travel",
                Amount::of(180.0, "mm"),
                Origin::Plan("raised-sides".to_owned()),
            )
            .with(
                "U",
                "mains voltage",
                Amount::of(230.0, "V"),
                Origin::Site("site-230v-16a".to_owned()),
            )
            .with(
                "d",
                "core diameter",
                Amount::of(13.0, "mm"),
                Origin::Measured("travel_y_mm".to_owned()),
            )
            .from("handbook of machine elements", END)
    });
    notes.note(|| {
        Derivation::of(RAPID, "rapids of X", speed(15.66))
            .by("the lowest of all limits", "v = min vᵢ")
            .with(
                "v",
                "limit of X: screw whirl",
                speed(15.66),
                Origin::figure(WHIRL),
            )
            .with(
                "w",
                "a figure that nobody noted",
                speed(20.0),
                Origin::figure("axes.X.none"),
            )
    });
    for material in ["softwood", "mild-steel"] {
        let path = format!("cutting.{material}.mill-6mm-2f.slot.depth_mm");
        notes.note(|| {
            Derivation::of(path, "depth", Amount::of(3.0, "mm")).instead_of(Amount::of(2.0, "mm"))
        });
    }
    notes
}

fn with_notes(width: u16, height: u16) -> State {
    let mut state = open(Build::default(), width, height);
    let now = Rc::clone(&state.now);
    state.figures.take(now, notes(), &state.catalogue);
    state
}

fn left(state: &State) -> String {
    let shown = rows(&draw(state, Colours::None, Glyphs::Unicode));
    let lines = shown.iter().map(|row| {
        let row = row.split(['│', '┤']).next().unwrap_or("");
        row.trim().to_owned()
    });
    lines.collect::<Vec<_>>().join(" ")
}

fn resize(state: &mut State, (width, height): (u16, u16)) {
    update(state, Message::Resize(Size { width, height }));
}

/// Opens the rapids of X from the page of figures.
fn open_rapids(state: &mut State) {
    press(
        state,
        &[Key::Char('e'), Key::Enter, Key::Down, Key::Down, Key::Enter],
    );
    assert_eq!(state.place(), Place::Derivation, "{}", left(state));
}

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
            "limit of X: screw whirl",
            "0.8 n P",
            "L = 600 mm",
            "d = 13 mm",
            last,
            WHIRL,
        ] {
            assert!(seen.contains(part), "{size:?}: {part} was never in view");
        }
        press(&mut state, &[Key::Home]);
        assert!(left(&state).contains("limit of X: screw whirl"));
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
fn a_row_of_the_pane_explains_itself() {
    for (width, height) in [(80, 24), (120, 40), (200, 60)] {
        let mut state = with_notes(width, height);
        press(&mut state, &[Key::BackTab, Key::Down, Key::Char('e')]);
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
    press(&mut state, &[Key::Char('/')]);
    "travel_x_mm"
        .chars()
        .for_each(|c| press(&mut state, &[Key::Char(c)]));
    press(&mut state, &[Key::Enter, Key::Up, Key::Enter]);
    assert!(state.is_unsaved());
    press(&mut state, &[Key::Char('e')]);
    assert!(state.figures.get("axes.X.none").is_none());
    let odd = state
        .figures
        .get("cutting.mild-steel.mill-6mm-2f.slot.depth_mm");
    let kept = odd.is_some_and(|odd| odd.modelled.is_some());
    assert!(!kept, "old notes were kept");
    let travel = state.figures.get("axes.X.travel_mm").expect("worked out");
    let now = units::mm::amount(state.now.machine.axes.x.travel);
    assert_eq!(travel.result, now.into());
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
