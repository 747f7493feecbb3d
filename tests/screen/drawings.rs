//! The pictures on the screen: how they are reached, whole at every promised size, in dots and in
//! letters, of every build, beside their step too.

use crate::common;
use crate::screen::{SIZES, draw, go_to, open, page, press, rows};
use gantrywright::build::Build;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::pictures::PictureKind;
use gantrywright::screen::state::{Layer, State};
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use gantrywright::store::examples;
use gantrywright::units;
use gantrywright::words::Words as _;
use ratatui::layout::Size;

/// A screen with the page of pictures open at one of them.
pub(crate) fn picture(
    build: Build,
    (width, height): (u16, u16),
    kind: PictureKind,
    table: bool,
) -> State {
    let mut state = open(build, width, height);
    press(&mut state, &[Key::Char('p')]);
    press(&mut state, &vec![Key::Tab; kind.index()]);
    if table {
        press(&mut state, &[Key::Char('t')]);
    }
    state
}

/// All rows of the page that is open, scrolled to its end.
pub(crate) fn whole(state: &mut State, glyphs: Glyphs) -> Vec<String> {
    let mut all = Vec::new();
    loop {
        let before = page(state, glyphs);
        press(state, &[Key::PageDown]);
        let after = page(state, glyphs);
        let is_end = before == after;
        all.extend(before);
        if is_end {
            return all;
        }
    }
}

#[test]
fn keys_go_through_all_pictures_and_back() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('p')]);
    assert_eq!(state.place(), Place::Picture);
    let mut seen = Vec::new();
    for _ in PictureKind::ALL {
        let Some(Layer::Picture { kind, .. }) = state.layers.last() else {
            panic!("the page is open");
        };
        seen.push(*kind);
        press(&mut state, &[Key::Tab]);
    }
    assert_eq!(seen, PictureKind::ALL);
    press(&mut state, &[Key::Left, Key::Char('t')]);
    let last = matches!(
        state.layers.last(),
        Some(Layer::Picture {
            kind: PictureKind::Removal,
            table: true,
            ..
        })
    );
    assert!(last, "{:?}", state.layers);
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Choices);
}

/// No row is wider than the screen, nothing is cut, letters are ASCII where that is asked for;
/// the picture and its table are there at each size.
#[test]
fn every_picture_of_every_example_is_whole_at_every_size() {
    let catalogue = common::catalogue();
    for example in examples::all() {
        let build = example.build(&catalogue).expect("an example");
        let mut state = open(build, 80, 24);
        press(&mut state, &[Key::Char('p')]);
        for (width, height) in SIZES {
            update(&mut state, Message::Resize(Size { width, height }));
            for &kind in PictureKind::ALL {
                for table in [false, true] {
                    for glyphs in [Glyphs::Unicode, Glyphs::Ascii] {
                        if let Some(layer) = state.layers.last_mut() {
                            *layer = Layer::Picture {
                                kind,
                                table,
                                top: 0,
                            };
                        }
                        let rows = whole(&mut state, glyphs);
                        let what = format!("{} {kind:?} {width} {glyphs:?}", state.build().title);
                        for row in &rows {
                            assert!(!row.contains('…'), "{what}: {row:?}");
                            assert!(row.chars().count() <= width.into(), "{what}: {row:?}");
                            assert!(
                                glyphs == Glyphs::Unicode || row.is_ascii(),
                                "{what}: {row:?}"
                            );
                        }
                        assert!(rows.len() > 5, "{what}: {rows:#?}");
                    }
                }
            }
        }
    }
}

/// Builds of chance, of no travel to speak of and of ten metres, with no room at all.
#[test]
fn odd_builds_are_drawn_without_harm() {
    let catalogue = common::catalogue();
    let mut builds = common::random_builds(&catalogue, 5, 25);
    for edits in [
        &[
            ("travel_x_mm", "50"),
            ("travel_y_mm", "50"),
            ("travel_z_mm", "20"),
        ][..],
        &[("travel_x_mm", "10000"), ("travel_y_mm", "50")],
        &[("travel_y_mm", "10000"), ("travel_z_mm", "10000")],
        &[("rail_length_x_mm", "50"), ("rail_length_y_mm", "50")],
    ] {
        builds.push(common::build(&catalogue, edits));
    }
    for mut build in builds {
        build.variants = Default::default();
        let mut state = open(build, 80, 24);
        for (width, height) in SIZES {
            update(&mut state, Message::Resize(Size { width, height }));
            for &kind in PictureKind::ALL {
                for table in [false, true] {
                    state.layers = vec![Layer::Picture {
                        kind,
                        table,
                        top: 3,
                    }];
                    press(&mut state, &[Key::Down]);
                    draw(&state, Colours::None, Glyphs::Unicode);
                    draw(&state, Colours::None, Glyphs::Ascii);
                }
            }
            state.layers.clear();
            press(&mut state, &[Key::Char('2')]);
            draw(&state, Colours::None, Glyphs::Unicode);
            press(&mut state, &[Key::Char('1')]);
            draw(&state, Colours::None, Glyphs::Ascii);
        }
    }
}

#[test]
fn the_picture_stands_beside_its_step_where_there_is_room() {
    let shows = |state: &State, what: &str| {
        let rows = page(state, Glyphs::Unicode);
        rows.iter().any(|row| row.contains(what))
    };
    for (width, height, machine, torque) in [
        (80, 24, false, false),
        (119, 40, false, false),
        (120, 39, false, false),
        (120, 40, true, false),
        (200, 60, true, true),
    ] {
        let mut state = open(Build::default(), width, height);
        assert_eq!(shows(&state, "The machine to scale"), machine, "{width}");
        press(&mut state, &[Key::Char('2')]);
        assert_eq!(shows(&state, "Torque of a motor of X"), torque, "{width}");
        press(&mut state, &[Key::Char('3')]);
        assert!(!shows(&state, "The machine to scale"));
    }
    let mut state = open(Build::default(), 120, 40);
    go_to(&mut state, "travel_x_mm");
    assert!(!shows(&state, "after:"));
    press(&mut state, &[Key::Up]);
    assert!(shows(&state, "after:"));
    let after = state.preview.as_ref().expect("a preview");
    let wide = after.after.machine.geometry.footprint.x;
    let told = units::show::number(units::mm::from(wide), 0);
    assert!(shows(&state, &told), "{told}");
    press(&mut state, &[Key::Esc]);
    assert!(!shows(&state, "after:"));
    let mut state = open(Build::default(), 200, 60);
    // The legend stands beside the drawing, its bar in the first row of it.
    let rows = page(&state, Glyphs::Ascii);
    let first = rows
        .iter()
        .position(|row| row.contains("The machine to scale"));
    let first = &rows[first.expect("a picture") + 1];
    assert!(first.contains(" mm"), "{first}");
    go_to(&mut state, "motor_y");
    press(&mut state, &[Key::Down]);
    assert!(shows(&state, "Torque of a motor of Y") && shows(&state, "after:"));
}

#[test]
fn a_key_without_a_meaning_draws_nothing_anew_but_that_it_has_none() {
    let mut state = picture(Build::default(), (80, 24), PictureKind::Plan, false);
    assert!(update(&mut state, Message::Key(Key::Char('z'))).redraw);
    let rows = page(&state, Glyphs::Unicode);
    let told = rows.iter().any(|row| row.contains("z does nothing here"));
    assert!(told, "{rows:#?}");
    assert!(!update(&mut state, Message::Key(Key::Char('z'))).redraw);
    assert!(update(&mut state, Message::Key(Key::Tab)).redraw);
}

fn text(state: &State, glyphs: Glyphs) -> String {
    rows(&draw(state, Colours::None, glyphs)).join("\n")
}

#[test]
fn pages_look_as_they_did() {
    use Glyphs::{Ascii, Unicode};
    use PictureKind::{Front, Plan, Power, TorqueY};
    for (name, size, kind, glyphs) in [
        ("the_plan_at_80_by_24", (80, 24), Plan, Unicode),
        ("the_front_in_letters_at_80_by_24", (80, 24), Front, Ascii),
        ("the_torque_of_y_at_120_by_40", (120, 40), TorqueY, Unicode),
        ("the_current_in_letters_at_60_by_18", (60, 18), Power, Ascii),
    ] {
        let state = picture(Build::default(), size, kind, false);
        insta::assert_snapshot!(name, text(&state, glyphs));
    }
}

#[test]
fn the_machine_before_and_after_at_120_by_40() {
    let mut state = open(Build::default(), 120, 40);
    go_to(&mut state, "travel_x_mm");
    press(&mut state, &[Key::Up; 4]);
    insta::assert_snapshot!(text(&state, Glyphs::Unicode));
}
