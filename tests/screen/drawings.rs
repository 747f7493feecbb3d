//! The pictures on the screen: to scale in both directions, with the numbers of the assessment,
//! whole at every promised size, in dots and in letters, of every build.

use crate::common;
use crate::screen::{SIZES, draw, go_to, open, page, press, rows};
use gantrywright::build::{Axis, Build};
use gantrywright::money::show as amounts;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::pictures::PictureKind;
use gantrywright::screen::state::{Layer, State};
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::wishes::Wishes;
use gantrywright::store::examples;
use gantrywright::store::settings::Settings;
use gantrywright::units::{self, System};
use gantrywright::words::Words as _;
use ratatui::layout::Size;

/// A screen with the page of pictures open at one of them.
fn picture(build: Build, (width, height): (u16, u16), kind: PictureKind, table: bool) -> State {
    let mut state = open(build, width, height);
    press(&mut state, &[Key::Char('p')]);
    press(&mut state, &vec![Key::Tab; kind.index()]);
    if table {
        press(&mut state, &[Key::Char('t')]);
    }
    state
}

/// All rows of the page that is open, scrolled to its end.
fn whole(state: &mut State, glyphs: Glyphs) -> Vec<String> {
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

/// Looks for a row of a table: its name, and what stands right of it.
fn cell(rows: &[String], name: &str) -> String {
    let found = rows.iter().find_map(|row| {
        row.trim()
            .strip_prefix(name)
            .filter(|_| row.starts_with(' '))
    });
    let found = found.unwrap_or_else(|| panic!("no {name:?} in {rows:#?}"));
    found.trim().to_owned()
}

fn mm(length: units::Length) -> String {
    format!("{} mm", units::show::number(units::mm::from(length), 0))
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

/// Columns from the first `+` of a row to the last one, in a part of it.
fn span(text: &str) -> f64 {
    let (first, last) = (text.find('+'), text.rfind('+'));
    let (Some(first), Some(last)) = (first, last) else {
        panic!("no line in {text:?}");
    };
    (last - first + 1) as f64
}

/// In letters every cell can be counted: the line below the drawing is as long as the machine,
/// the one beside it as it is deep, and the bar of the legend as it says.
#[test]
fn the_machine_is_to_scale_in_both_directions() {
    for example in examples::all() {
        let catalogue = common::catalogue();
        let build = example.build(&catalogue).expect("an example");
        for size in [(80, 24), (120, 40), (200, 60)] {
            let state = picture(build.clone(), size, PictureKind::Plan, false);
            let rows = page(&state, Glyphs::Ascii);
            let floor = state.now.machine.geometry.footprint;
            let [x, y] = [floor.x, floor.y].map(units::mm::from);
            // Below the heading and the names of the pictures; the legend begins with its bar.
            let bar = rows[2].rsplit("  ").next().expect("a legend");
            let long: f64 = bar
                .trim_start_matches(['+', '-'])
                .trim()
                .trim_end_matches(" mm")
                .replace(' ', "")
                .parse()
                .unwrap_or_else(|_| panic!("{bar:?}"));
            let per_cell = long / span(bar.trim_end_matches(|c: char| c != '+'));
            let below = rows
                .iter()
                .find(|row| row.contains("+--") && row.contains(&mm(floor.x)));
            let below = below.expect("a line below").split("mm").collect::<Vec<_>>();
            let below = format!(
                "{}mm{}",
                below[0],
                below[1].split_inclusive('+').next().expect("an end")
            );
            let cells = span(&below);
            // The bar is rounded to whole cells as well.
            let leeway = 1.0 + x / long;
            assert!(
                (cells - x / per_cell).abs() <= leeway,
                "{cells} cells of {per_cell} mm: {x}"
            );
            let column = rows[2].find('+').expect("the end of the line beside");
            let beside = rows[2..]
                .iter()
                .take_while(|row| matches!(row.as_bytes().get(column), Some(b'|' | b'+')));
            let high = beside.count() as f64 * 2.0;
            let wished = cells * y / x;
            assert!(
                (high - wished).abs() <= 2.0 + 2.0,
                "{high} for {wished}: {rows:#?}"
            );
        }
    }
}

#[test]
fn tables_say_what_was_assessed() {
    let mut state = picture(Build::default(), (120, 60), PictureKind::Plan, true);
    let (floor, travel) = (
        state.now.machine.geometry.footprint,
        state.build().area.travel,
    );
    let span = state.now.machine.geometry.span;
    let plan = whole(&mut state, Glyphs::Unicode);
    assert_eq!(cell(&plan, "Outer size along X, with motors"), mm(floor.x));
    assert_eq!(cell(&plan, "Outer size along Y"), mm(floor.y));
    assert_eq!(cell(&plan, "Travel X"), mm(travel.x));
    assert_eq!(cell(&plan, "From Y rail to Y rail"), mm(span));
    press(&mut state, &[Key::Tab]);
    let front = whole(&mut state, Glyphs::Unicode);
    assert_eq!(cell(&front, "Outer height"), mm(floor.z));
    assert_eq!(cell(&front, "Travel Z"), mm(travel.z));
    let clearance = state.build().area.clearance;
    assert_eq!(cell(&front, "Free height under the beam"), mm(clearance));
    press(&mut state, &[Key::Tab]);
    let room = whole(&mut state, Glyphs::Unicode);
    let machine = format!("{}  {}", mm(floor.x), mm(floor.y));
    assert_eq!(cell(&room, "Machine, with motors"), machine);
    let axis = &state.now.machine.axes[Axis::X];
    let last = axis.torque_points()[10];
    let [given, usable] =
        [last.available, last.usable].map(|torque| units::show::number(units::nm::from(torque), 2));
    let rapid = units::show::number(units::m_per_min::from(axis.rapid), 1);
    let turning = units::show::number(units::rpm::from(last.turning), 0);
    press(&mut state, &[Key::Tab]);
    let torque = whole(&mut state, Glyphs::Unicode);
    let row = cell(&torque, &format!("{turning} rpm"));
    let mut numbers = row.split_whitespace();
    assert_eq!(numbers.next(), Some(given.as_str()));
    assert_eq!(numbers.next(), Some(usable.as_str()));
    assert_eq!(cell(&torque, "Rapids"), format!("{rapid} m/min"));
}

#[test]
fn tables_of_money_current_give_and_removal_say_what_was_assessed() {
    let mut state = picture(Build::default(), (120, 60), PictureKind::Cost, true);
    let now = std::rc::Rc::clone(&state.now);
    let bill = &now.bill;
    let cost = whole(&mut state, Glyphs::Unicode);
    let total = [bill.total.low, bill.total.likely, bill.total.high];
    let total = total.map(|amount| amounts::money(amount, bill.currency));
    let row: Vec<String> = cell(&cost, "All of it")
        .split("  ")
        .map(|cell| cell.trim().to_owned())
        .filter(|cell| !cell.is_empty())
        .collect();
    assert_eq!(row, total);
    press(&mut state, &[Key::Tab]);
    let power = whole(&mut state, Glyphs::Unicode);
    let circuit = &now.machine.electrics.circuits[0];
    let a = |current| format!("{} A", units::show::number(units::a::from(current), 1));
    assert!(cell(&power, "In all").ends_with(&a(circuit.full())));
    assert_eq!(cell(&power, "May flow for hours"), a(circuit.allowed));
    assert_eq!(cell(&power, "Breaker"), a(circuit.breaker));
    press(&mut state, &[Key::Tab]);
    let give = whole(&mut state, Glyphs::Unicode);
    let stiffness = &now.machine.stiffness;
    let collet = units::n_per_um::from(stiffness.collet[Axis::X]);
    let collet = format!("{} N/µm", units::show::number(collet, 1));
    assert!(cell(&give, "All together").ends_with(&collet));
    let softest = &stiffness.springs[Axis::X][0];
    let share = units::show::number(units::percent::from(softest.share), 0);
    assert!(cell(&give, softest.name.title()).starts_with(&format!("{share} %")));
    press(&mut state, &[Key::Tab]);
    let removal = whole(&mut state, Glyphs::Unicode);
    let cut = now.machine.cutting.wished().expect("something is wished");
    let material = &state.catalogue.materials[&cut.material].title;
    let rate = units::show::number(units::cm3_per_min::from(cut.removal), 1);
    let best = cell(&removal, &format!("{material}: "));
    assert!(best.ends_with(&format!("{rate} cm³/min")), "{best}");
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
fn inches_reach_every_number() {
    let mut state = open(Build::default(), 80, 24);
    state.wish(Wishes {
        settings: Settings {
            units: Some(System::Inch),
            ..Settings::default()
        },
        ..Wishes::default()
    });
    press(&mut state, &[Key::Char('p')]);
    for &kind in PictureKind::ALL {
        for table in [false, true] {
            state.layers = vec![Layer::Picture {
                kind,
                table,
                top: 0,
            }];
            let size = state.size;
            update(&mut state, Message::Resize(size));
            for row in whole(&mut state, Glyphs::Unicode) {
                // What is sold by a metric size keeps its name.
                let is_name = row.contains("End mill") || row.contains("rail");
                assert!(is_name || !row.contains(" mm"), "{kind:?}: {row:?}");
                assert!(!row.contains("N·m"), "{kind:?}: {row:?}");
            }
        }
    }
}

#[test]
fn a_key_without_a_meaning_draws_nothing_anew() {
    let mut state = picture(Build::default(), (80, 24), PictureKind::Plan, false);
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
