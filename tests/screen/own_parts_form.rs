//! What misled those who wrote a second-hand screw down: of what the price is, what stayed copied,
//! what was lost on the way out, and where the part stands afterwards.

use std::path::Path;

use gantrywright::build::{Build, Value};
use gantrywright::catalogue::Id;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, State};
use gantrywright::screen::update::Message;
use gantrywright::screen::update::update;
use gantrywright::store::library;

use crate::own_parts_on_screen::{carry_out, key, reopened, told};
use crate::screen::{around_cursor, go_to, open, page, press, type_in};

/// Goes to the row of a label in the open form.
fn to(state: &mut State, label: &str) {
    let Some(Layer::OwnPart(form)) = state.layers.last_mut() else {
        panic!("a form")
    };
    let found = form.rows.iter().position(|row| row.label == label);
    form.at = found.unwrap_or_else(|| panic!("no {label}"));
}

fn fill(state: &mut State, label: &str, text: &str) {
    to(state, label);
    type_in(state, text);
}

/// The screen with the form open on a copy of a screw.
fn form_of_a_screw(home: &Path, like: &str) -> State {
    let mut state = open(Build::default(), 80, 24);
    state.wishes.file = Some(home.join("settings.toml"));
    go_to(&mut state, "drive_y");
    point(&mut state, like);
    press(&mut state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::OwnPart);
    state
}

/// Puts the cursor on a part among the options.
fn point(state: &mut State, id: &str) {
    let is_it = |state: &State| {
        let part = state.options.current().and_then(|row| row.part);
        part.is_some_and(|part| part.as_str() == id)
    };
    press(state, &[Key::Home]);
    for _ in 0..state.options.rows.len() {
        if is_it(state) {
            return;
        }
        press(state, &[Key::Down]);
    }
    panic!("no {id}");
}

fn shown(state: &State) -> String {
    page(state, Glyphs::Unicode).join("\n")
}

/// A whole screw for 40 USD is 44.44 a metre, and is turned into euros by the rates that the
/// price books know.
#[test]
fn the_price_of_a_piece_becomes_that_of_a_metre_in_any_money_with_a_rate() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut state = form_of_a_screw(folder.path(), "ball-screw-20x10");
    type_in(&mut state, "Screw from the club");
    fill(&mut state, "Price of a metre", "40 USD");
    assert!(
        shown(&state).contains("What a metre of it costs you"),
        "{}",
        shown(&state)
    );
    fill(&mut state, "or of a piece this long", "900");
    assert!(
        shown(&state).contains("That is 44.44 USD a metre"),
        "{}",
        shown(&state)
    );
    let task = key(&mut state, Key::Enter);
    carry_out(&mut state, task, folder.path());
    let text = std::fs::read_to_string(folder.path().join("own-parts.toml")).expect("the file");
    assert!(text.contains("likely = \"44.4444\""), "{text}");
    assert!(text.contains("pack = \"0.9\""), "{text}");
    press(&mut state, &[Key::Enter]);
    let id = Id::new("own-screw-from-the-club").expect("an id");
    let choice = state.choice().expect("a choice");
    assert_eq!(
        (choice.get)(state.build()),
        Value::Part(Some(id)),
        "{}",
        told(&state)
    );
    let line = state.now.bill.lines.iter().find(|line| line.part == id);
    let pieces =
        line.expect("a line").buy / "0.9".parse::<rust_decimal::Decimal>().expect("digits");
    assert!(pieces.is_integer() && !pieces.is_zero(), "{pieces}");
    let price = line.and_then(|line| line.price.as_ref()).expect("a price");
    let rate = state
        .catalogue
        .rate("USD".parse().expect("money"), state.now.bill.currency);
    let want = rate.expect("a rate") * "44.4444".parse::<rust_decimal::Decimal>().expect("digits");
    assert_eq!(price.range.likely, want);
    // Opened again, an unchanged price stays as exact as it was.
    press(&mut state, &[Key::Enter, Key::Char('m')]);
    let task = key(&mut state, Key::Enter);
    carry_out(&mut state, task, folder.path());
    let text = std::fs::read_to_string(folder.path().join("own-parts.toml")).expect("the file");
    assert!(text.contains("likely = \"44.4444\""), "{text}");
    assert!(text.contains("pack = \"0.9\""), "{text}");
}

#[test]
fn a_piece_without_price_or_of_no_length_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut state = form_of_a_screw(folder.path(), "ball-screw-20x10");
    fill(&mut state, "or of a piece this long", "0");
    assert!(
        shown(&state).contains("expected 1 to 20000 mm"),
        "{}",
        shown(&state)
    );
    fill(&mut state, "or of a piece this long", "0");
    press(&mut state, &[Key::Ctrl('u')]);
    type_in(&mut state, "900");
    let task = key(&mut state, Key::Enter);
    assert!(
        task.is_none() && told(&state).contains("type what the piece costs"),
        "{}",
        told(&state)
    );
}

#[test]
fn what_is_still_copied_is_marked_and_counted() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut state = form_of_a_screw(folder.path(), "ball-screw-12x5");
    fill(&mut state, "Diameter of the screw", "20");
    let line = |state: &State, label: &str| {
        let rows = page(state, Glyphs::Unicode);
        let found = rows.iter().find(|row| row.contains(label));
        found
            .unwrap_or_else(|| panic!("no {label}: {rows:#?}"))
            .clone()
    };
    assert!(
        line(&state, "Lead ").starts_with(" =Lead"),
        "{}",
        shown(&state)
    );
    assert!(
        shown(&state).contains("fields are as copied from 12x5 mm ball screw"),
        "{}",
        shown(&state)
    );
    assert!(
        !line(&state, "Diameter of the screw").contains('='),
        "{}",
        shown(&state)
    );
    // A 20 mm screw of 10 mm lead has no core of 9.9 mm.
    fill(&mut state, "Lead", "10");
    let task = key(&mut state, Key::Enter);
    assert!(task.is_none(), "kept");
    assert!(
        told(&state).contains("a groove is less deep"),
        "{}",
        told(&state)
    );
    type_in(&mut state, "16.6");
    let task = key(&mut state, Key::Enter);
    carry_out(&mut state, task, folder.path());
    assert!(
        told(&state).contains("fields are as copied from 12x5"),
        "{}",
        told(&state)
    );
}

/// Kilonewtons typed into a field of newtons are a number like any other, but a strange one.
#[test]
fn a_number_in_another_unit_is_asked_about() {
    let home = tempfile::tempdir().expect("a folder");
    for (text, asked) in [("8", true), ("8 kN", false), ("8000", false)] {
        let mut state = form_of_a_screw(home.path(), "ball-screw-16x10");
        fill(&mut state, "Dynamic load rating", text);
        let page = shown(&state);
        assert_eq!(page.contains("is the unit right?"), asked, "{text}: {page}");
    }
    // It keeps its mark, and is not kept before somebody looked at it again.
    let mut state = form_of_a_screw(home.path(), "ball-screw-16x10");
    type_in(&mut state, "Screw from the club");
    fill(&mut state, "Dynamic load rating", "8");
    assert!(key(&mut state, Key::Enter).is_none());
    let page = shown(&state);
    assert!(page.contains("Enter once more keeps it"), "{page}");
    assert!(page.contains(">?Dynamic load rating"), "{page}");
    assert!(key(&mut state, Key::Enter).is_some());
}

#[test]
fn what_was_typed_is_not_lost_by_one_key() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut state = form_of_a_screw(folder.path(), "ball-screw-20x10");
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Options, "nothing was typed");
    press(&mut state, &[Key::Char('n')]);
    type_in(&mut state, "Screw");
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Question);
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::OwnPart);
    assert!(shown(&state).contains("Screw"), "{}", shown(&state));
    press(&mut state, &[Key::Esc, Key::Esc]);
    assert_eq!(state.place(), Place::OwnPart);
    press(&mut state, &[Key::Esc, Key::Down, Key::Enter]);
    assert_eq!(state.place(), Place::Options);
}

/// A folder with a screw of one's own in it.
fn with_a_screw() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let mut state = form_of_a_screw(folder.path(), "ball-screw-20x10");
    type_in(&mut state, "Screw from the club");
    let task = key(&mut state, Key::Enter);
    carry_out(&mut state, task, folder.path());
    folder
}

#[test]
fn own_parts_stand_first_and_are_found_by_every_name() {
    let folder = with_a_screw();
    let mut state = reopened(folder.path());
    go_to(&mut state, "drive_y");
    assert_eq!(state.options.rows[0].full, "Screw from the club");
    press(&mut state, &[Key::Char('/')]);
    type_in(&mut state, "20x10");
    let built_in = |row: &gantrywright::screen::options::OptionRow| row.short.starts_with("20x10");
    assert!(state.options.rows.iter().any(built_in), "{}", shown(&state));
    type_in(&mut state, "q");
    assert!(
        shown(&state).contains("nothing found; esc shows all again"),
        "{}",
        shown(&state)
    );
    // Among the choices its name leads to those that offer it.
    press(&mut state, &[Key::Esc, Key::Esc, Key::Char('/')]);
    type_in(&mut state, "club");
    let found: Vec<&str> = state.choices.rows.iter().map(|choice| choice.id).collect();
    for drive in ["drive_x", "drive_y", "drive_y2", "drive_z"] {
        assert!(found.contains(&drive), "{drive} is not in {found:?}");
    }
}

#[test]
fn the_keys_for_an_own_part_are_named_where_they_work() {
    let folder = with_a_screw();
    let mut state = reopened(folder.path());
    go_to(&mut state, "drive_y");
    point(&mut state, "own-screw-from-the-club");
    let keys = |state: &State| {
        page(state, Glyphs::Unicode)
            .last()
            .cloned()
            .unwrap_or_default()
    };
    assert!(
        keys(&state).contains("m change") && keys(&state).contains("x remove"),
        "{}",
        shown(&state)
    );
    point(&mut state, "ball-screw-16x5");
    assert!(!keys(&state).contains("x remove"), "{}", shown(&state));
    // In a folder that was only named nothing is changed.
    let mut state = open(Build::default(), 120, 40);
    state.catalogue = library::load(&[folder.path().to_owned()]).expect("loads");
    update(&mut state, Message::News);
    go_to(&mut state, "drive_y");
    point(&mut state, "own-screw-from-the-club");
    let all = shown(&state);
    assert!(
        !all.contains("m changes it") && !keys(&state).contains("x remove"),
        "{all}"
    );
    assert!(all.contains("Your own part: change it in"), "{all}");
}

/// `h` takes all that is needed for had: it says how much that is, and where less is said.
#[test]
fn have_says_how_much_and_where_less_is_said() {
    let mut state = open(Build::default(), 120, 40);
    press(&mut state, &[Key::Char('b')]);
    let screw =
        |entry: &&gantrywright::screen::ledger::Entry| entry.id().as_str() == "ball-screw-16x10";
    let at = state
        .ledger
        .entries()
        .iter()
        .position(screw)
        .expect("a screw");
    state.ledger.cursor = at;
    press(&mut state, &[Key::Char('h')]);
    let said = told(&state);
    assert!(
        said.starts_with("have it: all ") && said.contains(" m of "),
        "{said}"
    );
    assert!(said.contains("is it less? enter, then In hand"), "{said}");
    press(&mut state, &[Key::Char('h'), Key::Char('p')]);
    assert!(
        shown(&state).contains("> Price of 1 m"),
        "{}",
        shown(&state)
    );
}

/// A field with a unit behind it is short: the text is scrolled in it, and the cursor stays there.
#[test]
fn the_cursor_of_the_terminal_stays_in_a_field_with_a_unit_behind_it() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut state = open(Build::default(), 80, 24);
    state.wishes.file = Some(folder.path().join("settings.toml"));
    go_to(&mut state, "coupling_y");
    press(&mut state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::OwnPart);
    fill(&mut state, "Its two bores", "0.25 in; 0.375 in");
    let (before, behind) = around_cursor(&state);
    assert!(before.ends_with("in; 0.375 in"), "{before:?}");
    assert!(behind.starts_with(" mm"), "{behind:?}");
    // Columns are counted, not characters: each of these takes two.
    fill(&mut state, "Name", &"滚珠丝杠".repeat(8));
    let (before, _) = around_cursor(&state);
    assert!(before.replace(' ', "").ends_with("滚珠丝杠"), "{before:?}");
}

/// What the budget takes stands behind its field, and leaves it few columns.
#[test]
fn the_cursor_of_the_terminal_stays_in_the_field_of_an_amount() {
    let mut state = open(Build::default(), 80, 24);
    go_to(&mut state, "budget");
    assert_eq!(state.place(), Place::Number);
    type_in(&mut state, "12 345,50 EUR");
    let (before, behind) = around_cursor(&state);
    assert!(before.ends_with("345,50 EUR"), "{before:?}");
    assert!(behind.starts_with("  in EUR"), "{behind:?}");
}
