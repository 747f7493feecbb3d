//! The pages of "what if", as they are seen: nothing cut off at the promised sizes, ASCII where
//! the terminal has no more, and what is taken is what was shown.

use crate::screen::{SIZES, open, page, press, type_in};
use gantrywright::build::{Build, Edit, choices};
use gantrywright::catalogue::Step;
use gantrywright::explore::question;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, Notice, State};
use gantrywright::screen::update::{Message, update};
use gantrywright::screen::what_if::{Ask, asks};
use gantrywright::store::{examples, library};
use gantrywright::words::Words as _;

fn what_if(width: u16, height: u16) -> State {
    let mut state = open(Build::default(), width, height);
    press(&mut state, &[Key::Char('7')]);
    assert_eq!(state.place(), Place::WhatIf);
    state
}

/// The page that opens at a place of the list.
fn opened(place: usize, width: u16, height: u16) -> State {
    let mut state = what_if(width, height);
    press(&mut state, &vec![Key::Down; place]);
    press(&mut state, &[Key::Enter]);
    state
}

/// The place of a question, or of what stands behind them all.
fn place_of(id: &str) -> usize {
    let place = question::all().position(|one| one.id == id);
    place.unwrap_or(question::all().count())
}

fn uncut(state: &State) {
    let page = page(state, Glyphs::Unicode);
    let cut = page.iter().find(|row| row.contains('…'));
    assert_eq!(cut, None, "{:?}: {page:#?}", state.size);
    let ascii = self::page(state, Glyphs::Ascii);
    assert!(ascii.iter().all(|row| row.is_ascii()), "{ascii:#?}");
    let cut = ascii.iter().find(|row| row.contains(".. "));
    assert_eq!(cut, None, "{:?}: {ascii:#?}", state.size);
}

#[test]
fn every_question_can_be_picked_and_none_is_cut() {
    for (width, height) in SIZES {
        let mut state = what_if(width, height);
        for _ in asks() {
            uncut(&state);
            let page = page(&state, Glyphs::Unicode);
            assert!(page.iter().any(|row| row.starts_with("> ")), "{page:#?}");
            press(&mut state, &[Key::Down]);
        }
    }
}

#[test]
fn the_order_is_the_same_from_every_step_and_the_cursor_begins_at_its_own() {
    for (key, step) in ['1', '2', '3', '4', '5'].into_iter().zip(Step::ALL) {
        let mut state = open(Build::default(), 120, 60);
        press(&mut state, &[Key::Char(key), Key::Char('7')]);
        let Some(Layer::WhatIf(at)) = state.layers.last() else {
            panic!("{:?}", state.layers);
        };
        let here = asks().get(*at).copied();
        assert!(
            matches!(here, Some(Ask::Question(one)) if one.step == *step),
            "{here:?}"
        );
        let page = page(&state, Glyphs::Unicode);
        assert!(page[1].contains("In the order of the steps"), "{page:#?}");
        let heading = |title: &str| page.iter().position(|row| row.trim() == title);
        let order = Step::ALL.iter().map(|step| heading(step.title()));
        let order: Option<Vec<usize>> = order.collect();
        assert!(order.is_some_and(|order| order.is_sorted()), "{page:#?}");
    }
}

#[test]
fn every_answer_is_shown_whole_here_or_in_the_help() {
    for (width, height) in SIZES {
        for id in ["larger-area", "lead", "circuits", "in-stages", "cooling"] {
            let mut state = opened(place_of(id), width, height);
            assert_eq!(state.place(), Place::Answer);
            for _ in 0..4 {
                uncut(&state);
                let shown = page(&state, Glyphs::Unicode);
                let whole = shown
                    .iter()
                    .any(|row| row.trim_start().starts_with("changes"));
                if !whole {
                    let more = shown.iter().any(|row| row.contains("? shows all of it"));
                    assert!(more, "{shown:#?}");
                    press(&mut state, &[Key::Char('?')]);
                    let mut said = false;
                    for _ in 0..8 {
                        let help = page(&state, Glyphs::Unicode);
                        said |= help
                            .iter()
                            .any(|row| row.trim_start().starts_with("changes"));
                        press(&mut state, &[Key::PageDown]);
                    }
                    assert!(said, "{id} at {width}x{height}");
                    press(&mut state, &[Key::Esc]);
                }
                press(&mut state, &[Key::Down]);
            }
        }
    }
}

#[test]
fn what_is_taken_is_what_was_shown_and_undo_takes_it_back() {
    let mut state = opened(place_of("lead"), 80, 24);
    press(&mut state, &[Key::Down]);
    let question = question::find("lead").expect("a question");
    let answer = state
        .what_if
        .answer(question, &state.now)
        .expect("answered");
    let wanted = answer.alternatives[1].trial.build.clone();
    let before = state.build().clone();
    press(&mut state, &[Key::Enter]);
    assert_eq!(*state.build(), wanted);
    assert_ne!(before, wanted);
    assert_eq!(state.place(), Place::WhatIf);
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), before);
}

#[test]
fn what_matters_most_and_each_range_are_shown_whole() {
    for (width, height) in SIZES {
        let mut state = opened(question::all().count(), width, height);
        assert_eq!(state.place(), Place::Weigh);
        for _ in 0..5 {
            for key in [Key::Char('o'), Key::Down, Key::Char('o')] {
                uncut(&state);
                press(&mut state, &[key]);
            }
            press(&mut state, &[Key::Char('f')]);
        }
        for _ in 0..4 {
            press(&mut state, &[Key::Enter]);
            assert_eq!(state.place(), Place::Sweep);
            uncut(&state);
            press(&mut state, &[Key::Right, Key::Char('t')]);
            uncut(&state);
            press(&mut state, &[Key::Esc, Key::Down]);
        }
    }
}

#[test]
fn a_value_of_a_range_is_taken_and_undone() {
    let mut state = opened(question::all().count(), 120, 40);
    press(&mut state, &[Key::Enter, Key::Home]);
    let before = state.build().clone();
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Weigh);
    assert_ne!(*state.build(), before);
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), before);
}

#[test]
fn wishes_go_over_their_range_too() {
    let ranges = asks().into_iter();
    let ranges = ranges.filter(|ask| matches!(ask, Ask::Sweep(_))).count();
    for (width, height) in SIZES {
        let mut state = what_if(width, height);
        press(&mut state, &[Key::End]);
        for _ in 0..ranges {
            press(&mut state, &[Key::Enter]);
            assert_eq!(state.place(), Place::Sweep);
            for _ in 0..5 {
                uncut(&state);
                press(&mut state, &[Key::Char('f'), Key::Left]);
            }
            press(&mut state, &[Key::Esc, Key::Up]);
        }
    }
}

#[test]
fn what_does_not_arise_says_why() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let mut build = Build::default();
    for (choice, value) in [("spindle", "router-710w-230"), ("vfd", "none")] {
        let edit = Edit::parse(choice, value, &catalogue).expect("a choice");
        edit.apply(&mut build);
    }
    for (width, height) in SIZES {
        let mut state = open(build.clone(), width, height);
        press(&mut state, &[Key::Char('7')]);
        press(&mut state, &vec![Key::Down; place_of("cooling")]);
        press(&mut state, &[Key::Enter]);
        uncut(&state);
        let page = page(&state, Glyphs::Unicode).join(" ");
        assert!(page.contains("It does not arise"), "{page}");
        press(&mut state, &[Key::Enter]);
        assert_eq!(*state.build(), build);
    }
}

/// A range of one's own: what is gone over now stands in the field, what is wrong is said, and
/// an empty field goes back to what is usual.
#[test]
fn a_range_can_be_typed() {
    for (width, height) in SIZES {
        let is_travel = |ask: &Ask| matches!(ask, Ask::Sweep(choice) if choice.id == "travel_x_mm");
        let place = asks().iter().position(is_travel);
        let mut state = opened(place.expect("the travel"), width, height);
        assert_eq!(state.place(), Place::Sweep);
        let choice = choices::find("travel_x_mm").expect("a choice");
        let points = |state: &State| -> Vec<f64> {
            let sweep = state.what_if.sweep(choice, &state.now);
            let sweep = sweep.expect("known").expect("a sweep");
            (0..sweep.points.len()).map(|at| sweep.at(at)).collect()
        };
        let usual = points(&state);
        press(&mut state, &[Key::Char('n')]);
        assert_eq!(state.place(), Place::Range);
        uncut(&state);
        let shown = page(&state, Glyphs::Unicode);
        let ends = format!("> {}..{}/20", usual[0], usual[20]);
        assert!(shown[1].contains(&ends), "{ends}: {shown:#?}");
        // The first character that is typed stands behind what is there.
        press(&mut state, &[Key::Backspace; 20]);
        type_in(&mut state, "900..400");
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.place(), Place::Range);
        assert!(matches!(state.notice, Some(Notice::Failed(_))));
        press(&mut state, &[Key::Backspace; 20]);
        type_in(&mut state, "400..1200/4");
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.place(), Place::Sweep);
        assert_eq!(points(&state), [400.0, 600.0, 800.0, 1000.0, 1200.0]);
        uncut(&state);
        let curve = page(&state, Glyphs::Unicode).concat();
        assert!(curve.contains("400 mm to 1 200 mm"), "{curve}");
        // What is taken is a point of it; then the same range goes around the new build.
        press(&mut state, &[Key::Home, Key::Enter]);
        let travel = gantrywright::units::mm::from(state.build().area.travel.x);
        assert!((travel - 400.0).abs() < 1e-9, "{travel}");
        let place = asks().iter().position(is_travel);
        press(&mut state, &[Key::Esc, Key::Char('7')]);
        press(&mut state, &vec![Key::Down; place.expect("the travel")]);
        press(&mut state, &[Key::Enter]);
        assert_eq!(points(&state).len(), 5);
        press(&mut state, &[Key::Char('n')]);
        press(&mut state, &[Key::Backspace; 20]);
        press(&mut state, &[Key::Enter]);
        assert_eq!(points(&state).len(), 21);
    }
}

/// Whatever is offered over its range moves a figure of some machine on the way.
#[test]
fn every_range_moves_a_figure() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    for (place, ask) in asks().into_iter().enumerate() {
        let Ask::Sweep(choice) = ask else { continue };
        let moves = examples::all().iter().any(|example| {
            let build = example.build(&catalogue).expect("a build");
            let mut state = open(build, 80, 24);
            press(&mut state, &[Key::Char('7'), Key::Home]);
            press(&mut state, &vec![Key::Down; place]);
            press(&mut state, &[Key::Enter]);
            let sweep = state.what_if.sweep(choice, &state.now);
            let sweep = sweep.expect("known").expect("a sweep");
            let most = sweep.most_moved();
            let points = sweep.points.iter();
            let mut values = points.filter_map(|point| Some(point.reading.value(most)?.number));
            let first = values.next();
            values.any(|value| Some(value) != first)
        });
        assert!(moves, "{}", choice.id);
    }
}

#[test]
fn what_has_no_range_says_so() {
    let is_supply = |ask: &Ask| matches!(ask, Ask::Sweep(choice) if choice.id == "supply");
    let place = asks().iter().position(is_supply);
    let mut state = opened(place.expect("the supply"), 80, 24);
    press(&mut state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::Sweep);
    assert!(matches!(state.notice, Some(Notice::Failed(_))));
}

/// One answer is kept at a time: that of a page below is worked out again once it is seen again.
#[test]
fn a_page_below_another_answer_keeps_its_cursor() {
    let mut state = opened(place_of("larger-area"), 120, 40);
    press(&mut state, &[Key::Down]);
    let cursor = |state: &State| match state.layers.get(1) {
        Some(Layer::Answer(_, cursor)) => *cursor,
        other => panic!("{other:?}"),
    };
    assert_eq!(cursor(&state), 1);
    press(&mut state, &[Key::Char('l'), Key::Enter, Key::Down]);
    assert_eq!((state.layers.len(), cursor(&state)), (4, 1));
    press(&mut state, &[Key::Esc, Key::Esc]);
    assert_eq!((state.place(), cursor(&state)), (Place::Answer, 1));
}

/// What takes long says so at once, also where the same page is worked out anew since something was
/// taken there.
#[test]
fn what_takes_long_says_so_before_it_is_worked_out() {
    let is_under_way = |state: &State| {
        let page = page(state, Glyphs::Unicode).join(" ");
        assert_eq!(page.contains("Working it out"), state.what_if.is_waiting());
        state.what_if.is_waiting()
    };
    for (id, place) in [
        ("faster-y", Place::Answer),
        ("a-fifth-less", Place::Answer),
        ("what-matters-most", Place::Weigh),
    ] {
        let mut state = what_if(120, 40);
        state.what_if.draws_first = true;
        press(&mut state, &vec![Key::Up; asks().len()]);
        press(&mut state, &vec![Key::Down; place_of(id)]);
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.place(), place, "{id}");
        assert!(is_under_way(&state), "{id}");
        update(&mut state, Message::News);
        assert!(!is_under_way(&state), "{id}");
        if place == Place::Answer {
            press(&mut state, &[Key::Char('a')]);
            assert_eq!(state.place(), place, "{id}");
            assert!(is_under_way(&state), "{id}");
            update(&mut state, Message::News);
            assert!(!is_under_way(&state), "{id}");
        }
    }
}

/// Keys that come before the answer are meant for it: they take what they would take after it.
#[test]
fn keys_ahead_of_an_answer_wait_for_it() {
    let taken = |draws_first: bool| {
        let mut state = what_if(80, 24);
        state.what_if.draws_first = draws_first;
        press(&mut state, &vec![Key::Up; asks().len()]);
        press(&mut state, &vec![Key::Down; place_of("faster-y")]);
        press(&mut state, &[Key::Enter, Key::Down, Key::Enter]);
        assert_eq!(state.place(), Place::WhatIf);
        state.build().clone()
    };
    assert_ne!(taken(true), Build::default());
    assert_eq!(taken(true), taken(false));
}
