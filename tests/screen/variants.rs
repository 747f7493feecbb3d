//! The pages of the variants as they are seen and worked in: nothing cut off at the promised
//! sizes, every change taken back by undo, and figures that are those of the variants.

use crate::screen::{self, SIZES, draw, go_to, open, press, rows, type_in};
use gantrywright::assessment::assess;
use gantrywright::build::{Build, MAIN};
use gantrywright::money::show::whole;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::store::{build_file, examples, library};

/// An example with variants.
fn example() -> Build {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find("pier-allrounder").expect("an example");
    build_file::read(example.text(), "pier", &catalogue).expect("a build")
}

/// What stands below the steps, the side pane left out.
fn page(state: &State) -> Vec<String> {
    let left = |row: String| row.split(['│', '┤']).next().unwrap_or_default().to_owned();
    let rows = screen::page(state, Glyphs::Unicode).into_iter();
    rows.map(left).collect()
}

fn all(state: &State) -> String {
    rows(&draw(state, Colours::None, Glyphs::Unicode)).join("\n")
}

/// Everything that a page says, from its first line to its last.
fn scrolled(state: &mut State) -> String {
    let mut seen = Vec::new();
    loop {
        let now = page(state);
        assert!(!now.iter().any(|row| row.contains('…')), "{now:#?}");
        if seen.last() == Some(&now) {
            break;
        }
        seen.push(now);
        press(state, &[Key::Down]);
    }
    seen.concat().join("\n")
}

fn variants(build: Build, width: u16, height: u16) -> State {
    let mut state = open(build, width, height);
    press(&mut state, &[Key::Char('v')]);
    state
}

#[test]
fn the_list_and_the_comparison_are_whole_at_every_size() {
    for (width, height) in SIZES {
        for build in [Build::default(), example()] {
            let names: Vec<String> = build
                .variant_names()
                .iter()
                .map(|&n| n.to_owned())
                .collect();
            let mut state = variants(build, width, height);
            assert_eq!(state.place(), Place::Variants);
            let text = scrolled(&mut state);
            for name in &names {
                assert!(text.contains(name), "{width}x{height}: {text}");
            }
            assert!(text.contains("hold"), "{width}x{height}: {text}");
            if names.len() == 1 {
                continue;
            }
            for keys in [&[Key::Char('c')][..], &[Key::Char('f'), Key::Home]] {
                press(&mut state, keys);
                assert_eq!(state.place(), Place::Compare);
                let text = scrolled(&mut state);
                assert!(text.contains("Beam tube"), "{width}x{height}: {text}");
                assert!(text.contains("against main"), "{width}x{height}: {text}");
            }
        }
    }
}

#[test]
fn a_long_name_and_note_are_never_cut() {
    let name = "x".repeat(38) + " y";
    let note = "a note that goes on and on ".repeat(6);
    for (width, height) in SIZES {
        let mut build = example()
            .branched("stiffer", &name, note.trim())
            .expect("free");
        build = build.pinned(Some("quicker")).expect("there");
        let mut state = variants(build, width, height);
        let text = scrolled(&mut state);
        assert!(text.contains(" y"), "{text}");
        press(&mut state, &[Key::Char('c')]);
        scrolled(&mut state);
        press(&mut state, &[Key::Esc, Key::Char('e')]);
        assert_eq!(state.place(), Place::Naming);
        assert!(!all(&state).contains("Other keys"));
    }
}

#[test]
fn a_variant_is_made_changed_switched_and_undone() {
    let mut state = variants(Build::default(), 100, 30);
    press(&mut state, &[Key::Char('n')]);
    type_in(&mut state, "wide");
    press(&mut state, &[Key::Tab]);
    type_in(&mut state, "for doors");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().variant(), "wide");
    assert_eq!(state.build().note_of("wide"), "for doors");
    assert!(
        all(&state).contains("(wide)"),
        "the title says which is open"
    );
    press(&mut state, &[Key::Esc]);
    go_to(&mut state, "travel_x_mm");
    type_in(&mut state, "900");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().changes_of("wide").len(), 1);

    press(&mut state, &[Key::Char('v'), Key::Home]);
    // Before it is taken, the side pane shows what opening it would change.
    let preview = state.preview.clone().expect("a preview");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().variant(), MAIN);
    assert_eq!(preview.after.bill.total.likely, state.now.bill.total.likely);
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(state.build().variant(), "wide");
    assert!(
        all(&state).contains("undone: variant main opened"),
        "{}",
        all(&state)
    );
    press(&mut state, &[Key::Char('r')]);
    assert_eq!(state.build().variant(), MAIN);

    // Renamed: the first character replaces the name, behind a key of the text it is added to.
    press(&mut state, &[Key::End, Key::Char('e')]);
    type_in(&mut state, "broad");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().variant_names(), [MAIN, "broad"]);
    assert_eq!(state.build().note_of("broad"), "for doors");
    press(&mut state, &[Key::Char('u'), Key::Char('e'), Key::End]);
    type_in(&mut state, "r");
    press(&mut state, &[Key::Tab]);
    type_in(&mut state, ", and tables");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().variant_names(), [MAIN, "wider"]);
    assert_eq!(state.build().note_of("wider"), "for doors, and tables");
    // Removed, and back.
    press(&mut state, &[Key::Char('x')]);
    assert_eq!(state.build().variant_names(), [MAIN]);
    press(&mut state, &[Key::Char('u'), Key::Char('u')]);
    assert_eq!(state.build().variant_names(), [MAIN, "wide"]);
    while state.history.can_undo() {
        press(&mut state, &[Key::Char('u')]);
    }
    assert_eq!(*state.build(), Build::default());
    assert!(!state.is_unsaved());
}

#[test]
fn a_name_that_is_taken_is_refused_and_said_so() {
    let mut state = variants(example(), 80, 24);
    press(&mut state, &[Key::Char('n')]);
    type_in(&mut state, "Quicker");
    assert!(all(&state).contains("already"), "{}", all(&state));
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Naming);
    assert_eq!(state.build().variant_names().len(), 3);
    press(&mut state, &[Key::Esc, Key::Home, Key::Char('x')]);
    assert_eq!(state.build().variant_names().len(), 3);
}

#[test]
fn the_pinned_one_is_the_one_before() {
    for (width, height) in SIZES {
        let mut state = variants(example(), width, height);
        let main = state.now.bill.total.likely;
        press(
            &mut state,
            &[Key::Home, Key::Char('p'), Key::Down, Key::Enter],
        );
        assert_eq!(state.build().variant(), "quicker");
        press(&mut state, &[Key::Esc]);
        let (before, after) = state.before_after();
        assert_eq!(before.bill.total.likely, main);
        let after = after.expect("the open one").bill.total.likely;
        assert_eq!(after, state.now.bill.total.likely);
        let text = all(&state);
        let said = |amount| text.contains(&whole(amount));
        assert!(said(main) && said(after), "{text}");
        assert!(text.contains("pinned"), "{text}");
        assert!(
            text.contains("(quicker)"),
            "the title says which is open: {text}"
        );
        // What is previewed is shown against the build as it stands.
        go_to(&mut state, "beam_tube");
        press(&mut state, &[Key::Down]);
        let (before, _) = state.before_after();
        assert_eq!(before.bill.total.likely, after);
    }
}

#[test]
fn marked_ones_alone_are_compared_with_the_figures_of_each() {
    let build = example();
    let mut state = variants(build.clone(), 120, 40);
    press(&mut state, &[Key::Down, Key::Char(' '), Key::Char('c')]);
    assert_eq!(state.place(), Place::Variants, "one alone is no comparison");
    press(&mut state, &[Key::Down, Key::Char(' '), Key::Char('c')]);
    let comparison = state.variants.comparison.as_ref().expect("compared");
    assert_eq!(comparison.names, ["quicker", "stiffer"]);
    let cost = comparison
        .groups
        .iter()
        .flat_map(|group| &group.rows)
        .find(|row| row.key == "cost.likely")
        .expect("a row");
    for (name, cell) in comparison.names.iter().zip(&cost.cells) {
        let build = build.switched(name).expect("there");
        let assessment = assess(&state.catalogue, &build, state.today).expect("reckoned");
        let likely = gantrywright::money::show::money(
            assessment.bill.total.likely,
            assessment.bill.currency,
        );
        assert_eq!(cell.shown(), likely);
    }
}
