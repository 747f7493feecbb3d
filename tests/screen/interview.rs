//! The interview on the screen, as keys and eyes meet it: questions are answered, the searches
//! run beside the screen, the build that is opened is the one that was shown.

use crate::screen::{SIZES, open, page, press, type_in};
use gantrywright::build::{Build, choices};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, Notice, State};
use gantrywright::screen::update::{Message, Task, update};

/// A new build on the page of the interview; few choices are free.
pub(crate) fn begun(width: u16, height: u16) -> State {
    let mut state = open(Build::default(), width, height);
    let free = ["guide_z", "guide_x"].map(|id| choices::find(id).expect("a choice"));
    state.interview.free = free.to_vec();
    press(&mut state, &[Key::Char('i')]);
    assert_eq!(state.place(), Place::Interview);
    state
}

pub(crate) fn text(state: &State) -> String {
    page(state, Glyphs::Unicode).join("\n")
}

/// Nothing is cut off, and without special characters nothing needs one.
pub(crate) fn uncut(state: &State) {
    let rows = page(state, Glyphs::Unicode);
    let cut = rows.iter().find(|row| row.contains('…'));
    assert_eq!(cut, None, "{:?}: {rows:#?}", state.size);
    let ascii = page(state, Glyphs::Ascii);
    assert!(ascii.iter().all(|row| row.is_ascii()), "{ascii:#?}");
}

pub(crate) fn typed(state: &State, id: &str) -> String {
    let prompt = gantrywright::explore::interview::find(id).expect("a question");
    state.interview.answers.typed(prompt)
}

/// Searches to the end.
pub(crate) fn search(state: &mut State) {
    let reaction = update(state, Message::Key(Key::Char('f')));
    assert_eq!(state.place(), Place::Proposing);
    uncut(state);
    let Some(Task::Start(job)) = &reaction.task else {
        panic!("{reaction:?}");
    };
    job.run(&|| ());
    update(state, Message::News);
    assert_eq!(state.place(), Place::Proposed, "{:?}", state.notice);
}

#[test]
fn questions_are_answered_with_enter_arrows_and_letters() {
    let mut state = begun(80, 24);
    // The first: ticks on softwood and plywood, one more on hardwood, one less on plywood.
    press(
        &mut state,
        &[Key::Enter, Key::Down, Key::Enter, Key::Down, Key::Char(' ')],
    );
    assert_eq!(state.place(), Place::Picking);
    press(&mut state, &[Key::Esc]);
    assert_eq!(typed(&state, "materials"), "softwood,hardwood");
    // The second is at hand, and typed; a slip stays in the field and says why.
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Saying);
    type_in(&mut state, "500");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Saying);
    assert!(text(&state).contains("600 x 400"), "{}", text(&state));
    type_in(&mut state, " x 300");
    press(&mut state, &[Key::Enter]);
    assert_eq!(typed(&state, "size"), "500x300");
    // Yes and no turn in their row, and x takes an answer back.
    press(&mut state, &[Key::Down; 7]);
    press(&mut state, &[Key::Enter]);
    assert_eq!(typed(&state, "quiet"), "yes");
    press(&mut state, &[Key::Char('x')]);
    assert_eq!(typed(&state, "quiet"), "no");
    // A socket is picked from its list, and the next question is at hand.
    press(&mut state, &[Key::Up; 4]);
    press(&mut state, &[Key::Enter, Key::Down, Key::Enter]);
    assert_eq!(state.place(), Place::Interview);
    assert_eq!(typed(&state, "socket"), "site-230v-13a");
    assert_eq!(*state.build(), Build::default(), "answers change no build");
}

/// One key ticks all that is owned already and takes all ticks away; a list that is opened again
/// is as it was left.
#[test]
fn a_list_is_ticked_whole_and_opens_where_it_was_left() {
    let mut state = begun(80, 24);
    let tools = gantrywright::explore::interview::all();
    let tools = tools.iter().position(|one| one.id == "tools");
    press(&mut state, &vec![Key::Down; tools.expect("the question")]);
    press(&mut state, &[Key::Enter]);
    assert!(text(&state).contains(" a all or none"), "{}", text(&state));
    press(&mut state, &[Key::Char('a')]);
    let listed = match state.layers.last() {
        Some(Layer::Picking(picking)) => picking.listed.len(),
        other => panic!("{other:?}"),
    };
    assert!(listed > 20);
    assert_eq!(typed(&state, "tools").split(',').count(), listed);
    uncut(&state);
    press(&mut state, &[Key::Char('a')]);
    assert_eq!(typed(&state, "tools"), "none");
    press(&mut state, &[Key::Down, Key::Down, Key::Enter, Key::Esc]);
    assert!(text(&state).contains("> experience"), "{}", text(&state));
    press(&mut state, &[Key::Up, Key::Enter]);
    let Some(Layer::Picking(picking)) = state.layers.last() else {
        panic!("{:?}", state.place());
    };
    assert_eq!(picking.cursor, 2);
    assert!(picking.is_ticked(&state.interview.answers, &picking.listed[2]));
    // One of a list is no place for it.
    press(&mut state, &[Key::Esc, Key::Enter]);
    assert!(!text(&state).contains("all or none"), "{}", text(&state));
}

/// Help over the menu closes alone: the keys after it still go into the menu.
#[test]
fn help_over_the_menu_leaves_the_menu_open() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Esc, Key::Down, Key::Char('?')]);
    assert_eq!(state.place(), Place::Help);
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Menu);
}

/// The task of one key.
pub(crate) fn press_for(state: &mut State, key: Key) -> Option<Task> {
    update(state, Message::Key(key)).task
}

#[test]
fn the_build_under_the_cursor_opens_and_undo_takes_it_back() {
    let mut state = begun(120, 40);
    search(&mut state);
    assert!(text(&state).contains("Three builds for what you answered"));
    let shown = state.interview.offers()[1]
        .build()
        .expect("a build")
        .clone();
    press(&mut state, &[Key::Down, Key::Enter]);
    assert_eq!(state.place(), Place::Choices);
    assert_eq!(state.now.bill.total, shown.assessment.bill.total);
    assert_eq!(state.build().variant_names(), ["main", "thrifty", "stiff"]);
    assert!(state.is_unsaved());
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), Build::default());
    // Back on the page nothing is searched anew, since no answer changed.
    press(&mut state, &[Key::Char('i'), Key::Enter]);
    assert_eq!(state.place(), Place::Proposed);
}

/// The opened build is another machine than the one in the file: saving must not put it there.
#[test]
fn a_file_that_is_open_keeps_its_machine() {
    let mut state = begun(80, 24);
    state.file.path = Some("shed.toml".into());
    search(&mut state);
    press(&mut state, &[Key::Enter, Key::Char('s')]);
    assert_eq!(state.place(), Place::Name);
}

#[test]
fn a_search_is_stopped_by_esc_and_abandoned_by_another() {
    let mut state = begun(80, 24);
    let reaction = update(&mut state, Message::Key(Key::Char('f')));
    press(&mut state, &[Key::Esc]);
    assert!(state.interview.is_stopping());
    uncut(&state);
    press(&mut state, &[Key::Esc]);
    assert_eq!(state.place(), Place::Interview);
    let Some(Task::Start(job)) = &reaction.task else {
        panic!("{reaction:?}");
    };
    // What nobody waits for changes nothing when it ends.
    job.run(&|| ());
    update(&mut state, Message::News);
    assert!(state.interview.offers().is_empty());
}

#[test]
fn searches_that_were_stopped_at_once_begin_anew() {
    let mut state = begun(80, 24);
    let task = press_for(&mut state, Key::Char('f'));
    press(&mut state, &[Key::Esc]);
    let Some(Task::Start(job)) = task else {
        panic!("{task:?}");
    };
    job.run(&|| ());
    update(&mut state, Message::News);
    assert_eq!(state.place(), Place::Interview);
    let task = press_for(&mut state, Key::Char('f'));
    assert!(matches!(task, Some(Task::Start(_))), "{task:?}");
    assert_eq!(state.place(), Place::Proposing);
}

#[test]
fn nothing_is_cut_off_at_any_promised_size() {
    for (width, height) in SIZES {
        let mut state = begun(width, height);
        for _ in 0..state.interview.rows() - 1 {
            uncut(&state);
            press(&mut state, &[Key::Enter]);
            match state.place() {
                Place::Picking | Place::Saying => {
                    uncut(&state);
                    press(&mut state, &[Key::Esc]);
                }
                _ => {}
            }
            press(&mut state, &[Key::Down]);
        }
        uncut(&state);
        search(&mut state);
        for _ in 0..3 {
            uncut(&state);
            // On the widest screens the bill stands beside the help, with names cut short.
            if width < 200 {
                press(&mut state, &[Key::Char('?')]);
                uncut(&state);
                press(&mut state, &[Key::Esc]);
            }
            press(&mut state, &[Key::Down]);
        }
    }
}

/// Whoever answers anew types the answer and not behind the old one; whoever moves in it first
/// changes it.
#[test]
fn the_first_character_replaces_an_answer() {
    let mut state = begun(80, 24);
    let mut budget = |keys: &[Key], typed: &str| {
        press(
            &mut state,
            &[Key::Home, Key::Down, Key::Down, Key::Down, Key::Enter],
        );
        press(&mut state, keys);
        type_in(&mut state, typed);
        press(&mut state, &[Key::Enter]);
        text(&state)
    };
    for (keys, typed, wanted) in [
        (&[][..], "3000", "budget          3 000 EUR"),
        (&[], "4500", "budget          4 500 EUR"),
        (&[Key::Home], "1", "budget          14 500 EUR"),
    ] {
        let shown = budget(keys, typed);
        assert!(shown.contains(wanted), "{shown}");
    }
}

/// Where the system has no room for the searches, or for the look at the money, the questions are
/// there again and say so.
#[test]
fn searches_that_cannot_be_started_are_waited_for_no_longer() {
    let mut state = begun(80, 24);
    press_for(&mut state, Key::Char('f'));
    assert_eq!(state.place(), Place::Proposing);
    update(&mut state, Message::NotStarted("no room".to_owned()));
    assert_eq!(state.place(), Place::Interview);
    assert!(matches!(&state.notice, Some(Notice::Failed(told)) if told.contains("no room")));
    assert!(!state.interview.is_running() && !state.interview.is_looking());
}
