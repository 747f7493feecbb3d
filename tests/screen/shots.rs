//! Pictures of whole screens, styles included, at the sizes that are promised.
//! After a change that is meant: `INSTA_UPDATE=always cargo test --test screen shots::`,
//! then read the difference.

use crate::screen::{draw, go_to, open, picture, press, rows, type_in};
use gantrywright::build::{Build, Edit};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::store::library;

/// A build of which the rules have a lot to say.
fn careless() -> Build {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let mut build = Build {
        title: "Careless \u{1b}[31mrouter".to_owned(),
        ..Build::default()
    };
    for (choice, value) in [
        ("travel_x_mm", "1500"),
        ("emergency_stop", "none"),
        ("no_volt_release", "no"),
        ("residual_type", "type-ac"),
        ("extractor", "none"),
    ] {
        Edit::parse(choice, value, &catalogue)
            .expect("a known choice")
            .apply(&mut build);
    }
    build
}

fn in_colour(state: &State) -> String {
    picture(&draw(state, Colours::Sixteen, Glyphs::Unicode))
}

#[test]
fn a_drive_under_the_cursor_at_80_by_24() {
    let mut state = open(Build::default(), 80, 24);
    go_to(&mut state, "drive_x");
    press(&mut state, &[Key::Down]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn a_number_being_typed_at_80_by_24() {
    let mut state = open(Build::default(), 80, 24);
    go_to(&mut state, "travel_x_mm");
    type_in(&mut state, "850");
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn the_careless_build_at_120_by_40() {
    let state = open(careless(), 120, 40);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn a_spindle_under_the_cursor_at_200_by_60() {
    let mut state = open(careless(), 200, 60);
    go_to(&mut state, "spindle");
    press(&mut state, &[Key::Down]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn a_narrow_screen_has_a_strip() {
    let mut state = open(careless(), 60, 18);
    go_to(&mut state, "drive_x");
    press(&mut state, &[Key::Down]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn without_colour_in_ascii() {
    let mut state = open(careless(), 80, 24);
    press(&mut state, &[Key::Char('w'), Key::Down]);
    insta::assert_snapshot!(picture(&draw(&state, Colours::None, Glyphs::Ascii)));
}

#[test]
fn too_small_says_what_it_needs() {
    let state = open(Build::default(), 40, 10);
    insta::assert_snapshot!(rows(&draw(&state, Colours::None, Glyphs::Unicode)).join("\n"));
}

#[test]
fn what_a_file_says_cannot_command_the_terminal() {
    let state = open(careless(), 80, 24);
    let buffer = draw(&state, Colours::Sixteen, Glyphs::Unicode);
    assert!(rows(&buffer)[0].contains("Careless \\u{1b}[31mrouter"));
    assert!(
        buffer
            .content
            .iter()
            .all(|cell| !cell.symbol().contains(char::is_control))
    );
}

#[test]
fn ascii_means_ascii() {
    let mut state = open(careless(), 120, 40);
    for keys in [
        &[][..],
        &[Key::Char('b')],
        &[Key::Esc, Key::Char('w'), Key::Enter],
        &[Key::Char('?')],
    ] {
        press(&mut state, keys);
        let buffer = draw(&state, Colours::None, Glyphs::Ascii);
        assert!(buffer.content.iter().all(|cell| cell.symbol().is_ascii()));
    }
}

#[test]
fn the_cursor_has_a_mark_of_its_own() {
    let mut state = open(careless(), 80, 24);
    for keys in [&[][..], &[Key::Enter], &[Key::Esc, Key::Esc]] {
        press(&mut state, keys);
        let rows = rows(&draw(&state, Colours::None, Glyphs::Unicode));
        assert!(
            rows[3..22].iter().any(|row| row.starts_with('>')),
            "{rows:#?}"
        );
    }
}

/// The bill after some was bought: a line in hand, one with two prices, one paid in part.
fn bought(width: u16, height: u16) -> State {
    let mut state = open(Build::default(), width, height);
    press(&mut state, &[Key::Char('b'), Key::Char('h'), Key::Down]);
    for price in ["21,50", "19.90 EUR"] {
        press(&mut state, &[Key::Char('p')]);
        type_in(&mut state, price);
        press(&mut state, &[Key::Enter]);
    }
    press(&mut state, &[Key::Down, Key::Char('m')]);
    type_in(&mut state, "40");
    press(&mut state, &[Key::Tab, Key::Tab, Key::Right, Key::Enter]);
    state
}

#[test]
fn the_bill_at_80_by_24() {
    insta::assert_snapshot!(in_colour(&bought(80, 24)));
}

#[test]
fn the_bill_by_what_comes_first_at_120_by_40() {
    let mut state = bought(120, 40);
    press(&mut state, &[Key::Char('o'); 4]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn the_bill_by_supplier_at_200_by_60() {
    let mut state = bought(200, 60);
    press(&mut state, &[Key::Char('o')]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn one_line_of_the_bill_at_80_by_24() {
    let mut state = bought(80, 24);
    press(&mut state, &[Key::Up, Key::Enter]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn a_price_being_typed_without_colour_in_ascii() {
    let mut state = bought(80, 24);
    press(&mut state, &[Key::Char('p')]);
    type_in(&mut state, "26,40");
    insta::assert_snapshot!(picture(&draw(&state, Colours::None, Glyphs::Ascii)));
}

/// The sheets of the careless build, with the cursor on a kind.
fn sheets(width: u16, height: u16, downs: usize) -> State {
    let mut state = open(careless(), width, height);
    press(&mut state, &[Key::Char('6')]);
    press(&mut state, &vec![Key::Down; downs]);
    state
}

#[test]
fn the_sheets_at_80_by_24() {
    insta::assert_snapshot!(in_colour(&sheets(80, 24, 3)));
}

#[test]
fn a_sheet_at_200_by_60() {
    let mut state = sheets(200, 60, 1);
    press(&mut state, &[Key::Enter]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn the_checklist_at_120_by_40() {
    let mut state = sheets(120, 40, 8);
    press(&mut state, &[Key::Enter, Key::Down, Key::Char(' ')]);
    insta::assert_snapshot!(in_colour(&state));
}

#[test]
fn the_checklist_without_colour_in_ascii() {
    let mut state = sheets(80, 24, 8);
    press(&mut state, &[Key::Enter, Key::PageDown, Key::Enter]);
    let buffer = draw(&state, Colours::None, Glyphs::Ascii);
    insta::assert_snapshot!(picture(&buffer));
}
