//! The mouse: it goes where keys go, opens on the second click, and changes nothing by itself.

use crate::screen::{draw, go_to, open, press, rows};
use gantrywright::build::Build;
use gantrywright::catalogue::Step;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::mouse::{Gesture, Mouse};
use gantrywright::screen::state::{Focus, State};
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, Task, update};
use ratatui::style::Modifier;

fn fresh() -> State {
    open(Build::default(), 80, 24)
}

fn at(state: &mut State, gesture: Gesture, (column, row): (u16, u16)) -> Option<Task> {
    let mouse = Mouse {
        gesture,
        column,
        row,
    };
    update(state, Message::Mouse(mouse)).task
}

fn shown(state: &State) -> Vec<String> {
    rows(&draw(state, Colours::None, Glyphs::Unicode))
}

/// Column and row of a text on the screen.
fn place(state: &State, text: &str) -> (u16, u16) {
    let rows = shown(state);
    let mut rows = rows.iter().enumerate();
    let found = rows.find_map(|(y, row)| Some((row[..row.find(text)?].chars().count(), y)));
    let (x, y) = found.unwrap_or_else(|| panic!("no {text:?} in\n{}", shown(state).join("\n")));
    (
        u16::try_from(x).expect("a column"),
        u16::try_from(y).expect("a row"),
    )
}

fn click(state: &mut State, text: &str) -> Option<Task> {
    let place = place(state, text);
    at(state, Gesture::Click, place)
}

/// The reversed row below the steps: the one under the cursor.
fn cursor_row(state: &State) -> Option<u16> {
    let buffer = draw(state, Colours::None, Glyphs::Unicode);
    let left = state.drawn().expect("large enough").left;
    let reversed = |y: &u16| {
        let cell = &buffer[(left.x, *y)];
        cell.symbol() == ">" && cell.modifier.contains(Modifier::REVERSED)
    };
    (left.top()..left.bottom()).find(reversed)
}

#[test]
fn a_click_on_a_step_goes_there_and_one_on_a_key_does_it() {
    let mut state = fresh();
    for (title, step) in [
        ("3 Spindle", Step::Spindle),
        ("5 Extras", Step::Extras),
        ("1 Working", Step::WorkingArea),
    ] {
        click(&mut state, title);
        assert_eq!(state.step, step);
    }
    click(&mut state, "? help");
    assert_eq!(state.place(), Place::Help);
    click(&mut state, "esc back");
    assert_eq!(state.place(), Place::Choices);
    assert_eq!(click(&mut state, "q quit"), Some(Task::Leave));
}

#[test]
fn the_first_click_points_and_the_second_opens() {
    let mut state = fresh();
    click(&mut state, "Travel Y");
    assert_eq!(state.choice().map(|choice| choice.id), Some("travel_y_mm"));
    assert_eq!(state.focus, Focus::Choices);
    click(&mut state, "Travel Y");
    assert_eq!(state.focus, Focus::Options);
    press(&mut state, &[Key::Esc, Key::Char('w')]);
    let before = state.build().clone();
    let (x, y) = (4, cursor_row(&state).expect("a cursor"));
    at(&mut state, Gesture::Click, (x, y));
    assert_eq!(state.place(), Place::Warning);
    assert_eq!(*state.build(), before);
}

#[test]
fn an_option_is_taken_by_the_second_click_and_undo_takes_it_back() {
    let mut state = fresh();
    go_to(&mut state, "site");
    press(&mut state, &[Key::Esc]);
    let before = state.build().clone();
    click(&mut state, "230 V, 13 A");
    assert_eq!((state.focus, state.build()), (Focus::Options, &before));
    click(&mut state, "230 V, 13 A");
    assert_ne!(*state.build(), before);
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), before);
}

#[test]
fn the_wheel_moves_the_cursor_of_what_is_under_the_pointer() {
    let mut state = fresh();
    let layout = state.drawn().expect("large enough");
    let inside = |area: ratatui::layout::Rect| (area.x + 3, area.y + 1);
    at(&mut state, Gesture::WheelDown, inside(layout.choices));
    assert_eq!(state.choices.cursor, 1);
    at(&mut state, Gesture::WheelUp, inside(layout.choices));
    assert_eq!(state.choices.cursor, 0);
    let now = state.options.cursor;
    at(&mut state, Gesture::WheelDown, inside(layout.options));
    assert_eq!(
        (state.focus, state.options.cursor),
        (Focus::Options, now + 1)
    );
    at(
        &mut state,
        Gesture::WheelDown,
        inside(layout.pane.expect("a pane")),
    );
    assert_eq!((state.focus, state.pane_cursor), (Focus::Pane, 1));
    press(&mut state, &[Key::Char('?'), Key::Char('4')]);
    let before = shown(&state);
    at(&mut state, Gesture::WheelDown, inside(layout.left));
    assert_ne!(shown(&state), before, "the help was not scrolled");
}

/// Pages with a cursor.
const PAGES: &[&[Key]] = &[
    &[],
    &[Key::Enter],
    &[Key::Esc],
    &[Key::Char('w')],
    &[Key::Char('b')],
    &[Key::Char('b'), Key::Enter],
    &[Key::Char('v')],
    &[Key::Char('6')],
    &[Key::Char('7')],
    &[Key::Char('7'), Key::Enter],
    &[Key::Char('d')],
    &[Key::Char('d'), Key::Enter],
    &[Key::Char('f')],
    &[Key::Char('i')],
    &[Key::Char('t')],
    &[Key::Char('?')],
];

/// Wherever one clicks once, nothing is chosen, saved or left; and the cursor then is where it
/// was or on a row with the text that was clicked.
#[test]
fn one_click_anywhere_does_no_harm() {
    let mut moved = 0;
    for way in PAGES {
        let mut start = fresh();
        press(&mut start, way);
        let before = start.build().clone();
        let layout = start.drawn().expect("large enough");
        for y in 3..layout.keys.y {
            let mut state = fresh();
            press(&mut state, way);
            // A second click would open.
            if cursor_row(&state) == Some(y) {
                continue;
            }
            let text = shown(&state)[usize::from(y)].clone();
            let focus = state.focus;
            let task = at(&mut state, Gesture::Click, (3, y));
            assert_eq!((task, state.build()), (None, &before), "{way:?}, row {y}");
            let left = usize::from(layout.left.width);
            let cut = |row: &str| -> String { row.chars().take(left).skip(1).collect() };
            let now = cursor_row(&state).map(|y| cut(&shown(&state)[usize::from(y)]));
            let was = cursor_row(&start).map(|y| cut(&shown(&start)[usize::from(y)]));
            let hit = now.as_deref() == Some(cut(&text).as_str());
            moved += usize::from(hit);
            assert!(
                hit || now == was || state.focus != focus,
                "{way:?}, row {y}: {now:?}"
            );
        }
    }
    assert!(moved > 80, "{moved}");
}

#[test]
fn on_a_screen_too_small_and_where_nothing_stands_nothing_happens() {
    let mut state = open(Build::default(), 40, 10);
    for gesture in [Gesture::Click, Gesture::WheelUp, Gesture::WheelDown] {
        assert_eq!(at(&mut state, gesture, (3, 3)), None);
    }
    let mut state = fresh();
    for place in [(0, 0), (79, 0), (200, 200), (79, 1), (30, 2)] {
        let before = shown(&state);
        assert_eq!(at(&mut state, Gesture::Click, place), None);
        assert_eq!(shown(&state), before, "{place:?}");
    }
}

/// A click into a form is no Enter: it would write all of it down.
#[test]
fn a_click_into_a_form_writes_nothing_down() {
    let mut state = fresh();
    press(&mut state, &[Key::Char('b'), Key::Char('p')]);
    assert_eq!(state.place(), Place::Form);
    let before = state.build().clone();
    for y in 4..23 {
        at(&mut state, Gesture::Click, (20, y));
        at(&mut state, Gesture::Click, (20, y));
    }
    assert_eq!((state.place(), state.build()), (Place::Form, &before));
}
