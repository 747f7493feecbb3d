//! The figures in the pictures on the screen: to scale in both directions, tables with the numbers
//! of the assessment, inches wherever they are wished for.

use crate::common;
use crate::drawings::{picture, whole};
use crate::screen::{open, page, press};
use gantrywright::build::{Axis, Build};
use gantrywright::money::show as amounts;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::pictures::PictureKind;
use gantrywright::screen::state::Layer;
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::wishes::Wishes;
use gantrywright::store::examples;
use gantrywright::store::settings::Settings;
use gantrywright::units::{self, System};
use gantrywright::words::Words as _;

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
