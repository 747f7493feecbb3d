//! From a figure to what betters it, by one key wherever the figure stands; figures and choices
//! that are looked for from where one reads of them; keys that are shown only where they do
//! something.

use crate::figures::left;
use crate::screen::{SIZES, draw, open, press, rows, type_in};
use gantrywright::build::{Axis, Build};
use gantrywright::explore::question;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, PaneRow, State};
use gantrywright::screen::theme::Colours;
use gantrywright::store::{examples, library};

const F: Key = Key::Char('f');
const SLASH: Key = Key::Char('/');

fn example(name: &str, width: u16, height: u16) -> State {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find(name).expect("an example");
    open(example.build(&catalogue).expect("a build"), width, height)
}

/// The row of keys.
fn keys(state: &State) -> String {
    let rows = rows(&draw(state, Colours::None, Glyphs::Unicode));
    rows.last().expect("a row").clone()
}

/// Puts the cursor of the side pane on a row.
fn stand_on(state: &mut State, row: PaneRow) {
    press(state, &[Key::BackTab]);
    let place = state.pane_rows().iter().position(|other| *other == row);
    press(state, &vec![Key::Down; place.expect("a row")]);
    assert_eq!(state.pane_row(), Some(row));
}

fn answers_faster(state: &State, axis: Axis) -> bool {
    matches!(state.layers.last(), Some(Layer::Answer(asked, _)) if asked.id == question::faster(axis).id)
}

#[test]
fn every_row_of_the_pane_leads_to_what_betters_it() {
    for (width, height) in [(80, 24), (120, 40), (200, 60)] {
        for row in example("attic-starter", width, height).pane_rows() {
            let mut state = example("attic-starter", width, height);
            stand_on(&mut state, row);
            let (says, place) = match row {
                PaneRow::Cost => ("f spend less", Place::Savings),
                PaneRow::Axis(_) => ("f make it faster", Place::Answer),
                PaneRow::Stiffness(_) => ("f make it stiffer", Place::Weigh),
                PaneRow::Cuts | PaneRow::Job => ("f cut more", Place::Weigh),
                PaneRow::Circuit(_) => ("f draw less", Place::Weigh),
                PaneRow::Supply => ("f other supplies", Place::Sweep),
                PaneRow::Finding(_) => ("f lift it", Place::Warning),
            };
            assert!(keys(&state).contains(says), "{row:?}: {}", keys(&state));
            let before = state.build().clone();
            press(&mut state, &[F]);
            assert_eq!(state.place(), place, "{row:?} at {width}x{height}");
            assert_eq!(*state.build(), before);
            if let PaneRow::Axis(axis) = row {
                assert!(answers_faster(&state, axis));
            }
        }
    }
}

/// From the page of the figure and from how it came about too; from a step length, which no page
/// betters, not.
#[test]
fn a_derivation_leads_to_the_cure_as_well() {
    let mut state = example("attic-starter", 80, 24);
    stand_on(&mut state, PaneRow::Axis(Axis::Z));
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Figure);
    assert!(keys(&state).contains("make it faster"), "{}", keys(&state));
    press(&mut state, &[F]);
    assert!(answers_faster(&state, Axis::Z));
    press(&mut state, &[Key::Esc, Key::Char('e')]);
    assert_eq!(state.place(), Place::Derivation);
    assert!(
        keys(&state).contains("f make it faster"),
        "{}",
        keys(&state)
    );
    press(&mut state, &[F]);
    assert!(answers_faster(&state, Axis::Z));

    let mut state = example("attic-starter", 80, 24);
    press(&mut state, &[Key::Char('e'), SLASH]);
    type_in(&mut state, "step_um");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Derivation);
    assert!(!keys(&state).contains(" f "), "{}", keys(&state));
}

#[test]
fn a_figure_is_looked_for_from_wherever_one_is_read() {
    for (width, height) in SIZES {
        let mut state = example("attic-starter", width, height);
        press(&mut state, &[Key::Char('e'), SLASH]);
        assert_eq!(state.place(), Place::FigureFind);
        type_in(&mut state, "nut life");
        let page = left(&state);
        assert!(page.contains("find: nut life"), "{page}");
        let found = state.figures.rows().len();
        assert!((3..40).contains(&found), "{found}: {page}");
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.place(), Place::Derivation);
        // Back to those that were found, then to all, then out.
        press(&mut state, &[Key::Esc]);
        assert_eq!(state.place(), Place::Figures);
        assert!(
            left(&state).contains("with \"nut life\""),
            "{}",
            left(&state)
        );
        press(&mut state, &[Key::Esc]);
        assert_eq!(state.place(), Place::Figures);
        assert!(left(&state).contains("+ Axis X"), "{}", left(&state));
        press(&mut state, &[Key::Esc]);
        assert_eq!(state.place(), Place::Choices);
    }
    let mut state = example("attic-starter", 80, 24);
    stand_on(&mut state, PaneRow::Axis(Axis::X));
    press(&mut state, &[Key::Enter, SLASH]);
    assert_eq!(state.place(), Place::FigureFind);
    type_in(&mut state, "there is no such figure");
    assert!(left(&state).contains("No figure is called so."));
    assert!(!keys(&state).contains("enter"), "{}", keys(&state));
}

#[test]
fn a_choice_is_looked_for_from_the_menu() {
    for opens in [vec![Key::Esc, SLASH], {
        let place = gantrywright::screen::menu::MENU
            .iter()
            .position(|(name, _)| name.starts_with("Find"));
        let mut keys = vec![Key::Esc];
        keys.extend(vec![Key::Down; place.expect("a row")]);
        keys.push(Key::Enter);
        keys
    }] {
        let mut state = open(Build::default(), 80, 24);
        press(&mut state, &opens);
        assert_eq!(state.place(), Place::Find);
        type_in(&mut state, "motor_z");
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.choice().map(|choice| choice.id), Some("motor_z"));
    }
    // From the options of a choice it is still choices that are looked for.
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Enter, Key::F(10), SLASH]);
    type_in(&mut state, "motor_z");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.choice().map(|choice| choice.id), Some("motor_z"));
}

/// Where nothing is under the cursor, no key is shown that would take it.
#[test]
fn what_is_not_there_is_not_offered() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[SLASH]);
    assert!(keys(&state).contains("enter open it"), "{}", keys(&state));
    type_in(&mut state, "qqqq");
    assert!(!keys(&state).contains("enter"), "{}", keys(&state));

    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('d'), SLASH]);
    type_in(&mut state, "qqqq");
    assert!(!keys(&state).contains("enter"), "{}", keys(&state));

    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('b'), SLASH]);
    type_in(&mut state, "qqqq");
    assert!(!keys(&state).contains("enter"), "{}", keys(&state));

    // A question that does not arise has nothing to take.
    let mut state = example("attic-starter", 80, 24);
    let cooling = question::find("cooling").expect("a question");
    state.layers.push(Layer::Answer(cooling, 0));
    gantrywright::screen::update::refresh(&mut state);
    let answer = state.what_if.answer(cooling, &state.now);
    assert!(answer.expect("an answer").alternatives.is_empty());
    let shown = keys(&state);
    assert!(
        !shown.contains("enter") && !shown.contains("g go"),
        "{shown}"
    );
}

/// Which prices to ask first: ten, the widest first, above all others.
#[test]
fn the_bill_says_which_prices_to_ask_first() {
    use gantrywright::screen::ledger::{Row, Sort};
    for (width, height) in SIZES {
        let mut state = example("attic-starter", width, height);
        press(&mut state, &[Key::Char('b')]);
        while state.ledger.sort != Sort::ByDoubt {
            press(&mut state, &[Key::Char('o')]);
        }
        let heads: Vec<usize> = (0..state.ledger.rows.len())
            .filter(|place| matches!(state.ledger.rows[*place], Row::Head(..)))
            .collect();
        assert_eq!(heads[..2], [0, 11], "ten under the first heading");
        let widths: Vec<_> = (1..11)
            .filter_map(|place| match &state.ledger.rows[place] {
                Row::Entry(entry) => entry.line(&state.now),
                Row::Head(..) => None,
            })
            .map(|line| line.total.high - line.total.low)
            .collect();
        assert_eq!(widths.len(), 10);
        assert!(widths.windows(2).all(|two| two[0] >= two[1]), "{widths:?}");
        let page = rows(&draw(&state, Colours::None, Glyphs::Unicode)).join("\n");
        assert!(page.contains("Ask these prices first"), "{page}");
    }
}

/// The page of an axis names what would hold it next, and each cure from now to then.
#[test]
fn the_page_of_an_axis_names_the_second_limit() {
    let mut state = example("attic-starter", 200, 60);
    stand_on(&mut state, PaneRow::Axis(Axis::X));
    press(&mut state, &[Key::Enter]);
    let page = left(&state);
    let says = "motor speed holds it at 15.0 m/min as well: what helps must lift both.";
    assert!(page.contains(says), "{page}");
    assert!(page.contains("15.0 -> "), "{page}");
    let mut state = example("pier-allrounder", 200, 60);
    stand_on(&mut state, PaneRow::Axis(Axis::X));
    press(&mut state, &[Key::Enter]);
    let page = left(&state);
    assert!(page.contains(" would hold it next, at "), "{page}");
}
