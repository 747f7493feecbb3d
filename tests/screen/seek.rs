//! The page that finds the cheapest build, as keys and eyes meet it: targets are put together,
//! the search runs beside the screen, what is taken is what was shown.

use crate::screen::{SIZES, open, page, press, type_in};
use gantrywright::assessment::assess;
use gantrywright::build::choices;
use gantrywright::explore::find::Target;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::job::Job;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Notice, State};
use gantrywright::screen::update::{Message, Task, update};
use gantrywright::store::{examples, library};

/// An example with room to save, on its page of the search; few choices are free.
pub(crate) fn seek(width: u16, height: u16) -> State {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find("pier-allrounder").expect("an example");
    let mut state = open(example.build(&catalogue).expect("a build"), width, height);
    let free = ["motor_x", "ends_x"].map(|id| choices::find(id).expect("a choice"));
    state.seek.free = Some(free.to_vec());
    press(&mut state, &[Key::Char('f')]);
    assert_eq!(state.place(), Place::Seek);
    state
}

/// Adds a target: so many answers on in the first field, then what is typed.
pub(crate) fn want(state: &mut State, on: usize, text: &str) {
    press(state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::Target);
    press(state, &vec![Key::Right; on]);
    press(state, &[Key::Tab]);
    type_in(state, text);
    press(state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Seek, "{:?}", state.notice);
}

/// Begins the search; what is to be done outside.
fn begin(state: &mut State) -> Job {
    let reaction = update(state, Message::Key(Key::Char('f')));
    assert_eq!(state.place(), Place::Searching);
    match reaction.task {
        Some(Task::Start(job)) => job,
        other => panic!("{other:?}"),
    }
}

/// Searches to the end.
pub(crate) fn search(state: &mut State) {
    begin(state).run(&|| ());
    let reaction = update(state, Message::News);
    assert!(reaction.redraw && reaction.task.is_none());
}

pub(crate) fn text(state: &State) -> String {
    page(state, Glyphs::Unicode).join("\n")
}

pub(crate) fn uncut(state: &State) {
    let rows = page(state, Glyphs::Unicode);
    let cut = rows.iter().find(|row| row.contains('…'));
    assert_eq!(cut, None, "{:?}: {rows:#?}", state.size);
    let ascii = page(state, Glyphs::Ascii);
    assert!(ascii.iter().all(|row| row.is_ascii()), "{ascii:#?}");
    let cut = ascii.iter().find(|row| row.contains(".. "));
    assert_eq!(cut, None, "{:?}: {ascii:#?}", state.size);
}

#[test]
fn what_is_found_is_taken_as_one_change() {
    let mut state = seek(80, 24);
    want(&mut state, 0, "12.5");
    assert_eq!(state.seek.targets.len(), 1);
    assert!(text(&state).contains("rapids of at least 12.5 m/min"));
    search(&mut state);
    assert_eq!(state.place(), Place::Found);
    let outcome = state.seek.outcome().expect("an outcome");
    let best = outcome.listed().first().map(|one| one.edits.clone());
    let best = best.expect("a build that fits");
    assert!(!best.is_empty());
    let before = state.build().clone();
    let mut wanted = before.clone();
    best.iter().for_each(|edit| edit.apply(&mut wanted));
    assert!(text(&state).contains("it saves"), "{}", text(&state));
    press(&mut state, &[Key::Enter]);
    assert_eq!(*state.build(), wanted);
    assert_eq!(state.place(), Place::Seek);
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), before);
}

/// What the side pane shows after taking is the least that a sound build costs, of all that the
/// free choices allow, each assessed by itself.
#[test]
fn what_is_found_is_the_cheapest() {
    let mut state = seek(80, 24);
    let before = state.build().clone();
    search(&mut state);
    press(&mut state, &[Key::Enter]);
    let cost = state.now.bill.total.likely;
    let (motor, ends) = (
        choices::find("motor_x").expect("a choice"),
        choices::find("ends_x").expect("a choice"),
    );
    let mut sound = Vec::new();
    for one in motor.options(&state.catalogue) {
        for other in ends.options(&state.catalogue) {
            let mut build = before.clone();
            motor.put(&mut build, &one);
            ends.put(&mut build, &other);
            let assessed = assess(&state.catalogue, &build, state.today).expect("assessed");
            if !assessed.is_unsound() {
                sound.push(assessed.bill.total.likely);
            }
        }
    }
    assert!(sound.len() > 2);
    assert_eq!(sound.iter().min(), Some(&cost));
}

#[test]
fn what_is_found_is_kept_as_a_variant() {
    let mut state = seek(80, 24);
    want(&mut state, 0, "12.5");
    search(&mut state);
    let edits = state.seek.outcome().expect("an outcome").listed()[0]
        .edits
        .clone();
    let before = state.build().clone();
    press(&mut state, &[Key::Char('k')]);
    // What is open stays open, and what was found is still there to be taken.
    assert_eq!(state.place(), Place::Found);
    let build = state.build().clone();
    assert_eq!(build.variant(), before.variant());
    assert_eq!(
        build.note_of("found").split(';').next(),
        Some("found for rapids of at least 12.5 m/min")
    );
    assert_eq!(build.changes_of("found"), edits);
    press(&mut state, &[Key::Char('k')]);
    assert!(state.build().variant_names().contains(&"found 2"));
    press(&mut state, &[Key::Char('u'), Key::Char('u')]);
    assert_eq!(*state.build(), before);
}

#[test]
fn a_search_is_stopped_and_shows_the_best_so_far() {
    // Before it has begun: nothing was found.
    let mut state = seek(80, 24);
    let job = begin(&mut state);
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Searching);
    assert!(text(&state).contains("esc again"), "{}", text(&state));
    job.run(&|| ());
    update(&mut state, Message::News);
    assert!(state.place() == Place::Seek || state.place() == Place::Found);
    // A small search may be through before it hears of that: then all is proven.
    if state.place() == Place::Found {
        let outcome = state.seek.outcome().expect("an outcome");
        let found = outcome.found.as_ref().expect("searched");
        let text = text(&state);
        assert_eq!(text.contains("not proven"), found.cancelled, "{text}");
    }
    // Esc twice waits no longer, and what comes in later changes nothing.
    let mut state = seek(80, 24);
    let before = state.build().clone();
    let job = begin(&mut state);
    press(&mut state, &[Key::Esc, Key::Esc]);
    assert_eq!(state.place(), Place::Seek);
    job.run(&|| ());
    update(&mut state, Message::News);
    assert_eq!(state.place(), Place::Seek);
    assert!(state.seek.outcome().is_none());
    assert_eq!(*state.build(), before);
}

/// In a thread, as the program does it: news comes in, the screen goes on listening meanwhile,
/// and a stop is heard.
#[test]
fn the_search_runs_beside_the_screen() {
    let mut state = seek(80, 24);
    state.seek.free = None;
    // Nothing is so fast, and nothing that is free decides it alone: a long search.
    state.seek.targets = vec![
        Target::parse("rapids>=14", &state.catalogue).expect("a target"),
        Target::parse("stiffness>=1.4", &state.catalogue).expect("a target"),
    ];
    let job = begin(&mut state);
    let (send, news) = std::sync::mpsc::channel();
    job.start(move || {
        let _ = send.send(());
    })
    .expect("a thread");
    let wait = std::time::Duration::from_secs(60);
    news.recv_timeout(wait).expect("news");
    update(&mut state, Message::News);
    press(&mut state, &[Key::Char('?')]);
    assert_eq!(state.place(), Place::Help);
    press(&mut state, &[Key::Esc]);
    if state.place() == Place::Searching {
        uncut(&state);
        press(&mut state, &[Key::Esc]);
    }
    while state.place() == Place::Searching {
        news.recv_timeout(wait).expect("an end");
        update(&mut state, Message::News);
    }
    assert!(matches!(state.place(), Place::Found | Place::Seek));
}

#[test]
fn nothing_that_fits_is_said_and_nothing_is_taken() {
    for (width, height) in SIZES {
        let mut state = seek(width, height);
        want(&mut state, 0, "500");
        search(&mut state);
        assert_eq!(state.place(), Place::Found);
        uncut(&state);
        assert!(text(&state).contains("Nothing fits"), "{}", text(&state));
        let before = state.build().clone();
        let listed = state.seek.outcome().map(|one| one.listed().len());
        if listed == Some(0) {
            press(&mut state, &[Key::Enter, Key::Char('k')]);
            assert_eq!(*state.build(), before);
        }
    }
}

#[test]
fn a_build_that_changed_since_takes_nothing_that_was_found() {
    let mut state = seek(80, 24);
    search(&mut state);
    press(&mut state, &[Key::Enter]);
    let taken = state.build().clone();
    // Back to what was found, with the build that was found: nothing is left to take.
    search(&mut state);
    press(&mut state, &[Key::Char('u')]);
    assert!(text(&state).contains("changed since"), "{}", text(&state));
    press(&mut state, &[Key::Enter]);
    assert!(matches!(&state.notice, Some(Notice::Failed(text)) if text.contains("search again")));
    press(&mut state, &[Key::Char('r')]);
    assert_eq!(*state.build(), taken);
    press(&mut state, &[Key::Enter]);
    assert!(matches!(&state.notice, Some(Notice::Done(text)) if text.contains("that you have")));
}

#[test]
fn a_front_lists_trades_and_each_can_be_taken() {
    let mut state = seek(120, 40);
    let against = state.seek.rows().len() - 3;
    press(&mut state, &[Key::Home]);
    press(&mut state, &vec![Key::Down; against]);
    press(&mut state, &[Key::Enter]);
    assert!(text(&state).contains("every trade"), "{}", text(&state));
    search(&mut state);
    uncut(&state);
    let listed = state.seek.outcome().map_or(0, |one| one.listed().len());
    assert!(listed > 0);
    press(&mut state, &[Key::End]);
    let edits = state.seek.outcome().expect("an outcome").listed()[listed - 1]
        .edits
        .clone();
    let mut wanted = state.build().clone();
    edits.iter().for_each(|edit| edit.apply(&mut wanted));
    press(&mut state, &[Key::Enter]);
    assert_eq!(*state.build(), wanted);
}

/// Every page at every promised size: nothing is cut off, in any characters.
#[test]
fn nothing_is_cut_off_at_the_promised_sizes() {
    for (width, height) in SIZES {
        let mut state = seek(width, height);
        state.seek.free = None;
        for _ in 0..4 {
            uncut(&state);
            press(&mut state, &[Key::Down]);
        }
        press(&mut state, &[Key::Char('n')]);
        for _ in 0..25 {
            uncut(&state);
            press(&mut state, &[Key::Right]);
        }
        press(&mut state, &[Key::Esc, Key::End, Key::Up, Key::Enter]);
        assert_eq!(state.place(), Place::Freed);
        for _ in 0..60 {
            uncut(&state);
            press(&mut state, &[Key::Down]);
        }
        press(&mut state, &[Key::Esc]);
        let free = choices::find("motor_x").expect("a choice");
        state.seek.free = Some(vec![free]);
        search(&mut state);
        uncut(&state);
        press(&mut state, &[Key::Char('?')]);
        assert!(text(&state).contains("what was found"), "{}", text(&state));
    }
}

/// Where the system has no room for a search the page before it is there again, says why, and a
/// key begins anew.
#[test]
fn a_search_that_cannot_be_started_is_told_and_waited_for_no_longer() {
    let mut state = seek(80, 24);
    begin(&mut state);
    let why = "Resource temporarily unavailable".to_owned();
    let reaction = update(&mut state, Message::NotStarted(why));
    assert!(reaction.redraw && reaction.task.is_none());
    assert_eq!(state.place(), Place::Seek);
    let Some(Notice::Failed(told)) = &state.notice else {
        panic!("{:?}", state.notice);
    };
    assert!(told.contains("temporarily unavailable"), "{told}");
    assert!(!state.seek.is_running());
    search(&mut state);
    assert_eq!(state.place(), Place::Found);
}
