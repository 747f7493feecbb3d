//! The menu, saving, leaving, and a screen too small for any of it.

use super::*;
use crate::screen::file_names::file_of;
use crate::screen::recovery::Offer;
use crate::store::journal::{Header, Journal};

#[test]
fn quitting_asks_only_where_something_is_unsaved() {
    let mut state = start();
    assert_eq!(press(&mut state, &[Key::Char('q')]), [Task::Leave]);
    open(&mut state, "paint");
    press(&mut state, &[Key::Down, Key::Enter]);
    assert!(press(&mut state, &[Key::Char('q')]).is_empty());
    assert!(matches!(
        state.layers.last(),
        Some(Layer::Question(Question::Leave, 0))
    ));
    // Enter at once stays; the last answer leaves.
    assert!(press(&mut state, &[Key::Enter]).is_empty());
    assert!(state.layers.is_empty());
    assert_eq!(
        press(&mut state, &[Key::Ctrl('c'), Key::End, Key::Enter]),
        [Task::Leave]
    );
}

#[test]
fn saving_asks_for_a_name_and_remembers_it() {
    let mut state = start();
    open(&mut state, "paint");
    press(&mut state, &[Key::Down, Key::Enter]);
    assert!(press(&mut state, &[Key::Char('s')]).is_empty());
    press(&mut state, &[Key::Ctrl('u')]);
    type_in(&mut state, "q.toml");
    let path = PathBuf::from("q.toml");
    let save = Task::Write {
        path: path.clone(),
        purpose: Purpose::Save { leave: false },
        replace: false,
    };
    assert_eq!(press(&mut state, &[Key::Enter]), [save]);
    // Another file of that name is there: stay by default, replace on demand.
    update(
        &mut state,
        Message::Written(Outcome::Exists {
            path: path.clone(),
            purpose: Purpose::Save { leave: false },
        }),
    );
    let replace = Task::Write {
        path: path.clone(),
        purpose: Purpose::Save { leave: false },
        replace: true,
    };
    assert_eq!(press(&mut state, &[Key::Down, Key::Enter]), [replace]);
    let written = Outcome::Saved {
        path: path.clone(),
        text: String::new(),
        leave: false,
    };
    update(&mut state, Message::Written(written));
    assert!(!state.is_unsaved());
    assert!(state.layers.is_empty());
    assert_eq!(state.file.path, Some(path));
}

/// The name in the field that asks for a file.
fn name(state: &State) -> &str {
    match state.layers.last() {
        Some(Layer::Name(typed, _)) => typed.value(),
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_name_that_is_typed_takes_the_place_of_the_proposed_one() {
    let save_as = |state: &mut State| {
        press(state, &[Key::Char('S')]);
    };
    let export = |state: &mut State| {
        press(state, &[Key::Char('6'), Key::Char('x'), Key::Enter]);
    };
    let copy = |state: &mut State| {
        let others = Others::Work("somebody works on it".to_owned());
        update(state, Message::Others(others));
        press(state, &[Key::Down, Key::Enter]);
    };
    let ways: [fn(&mut State); 3] = [save_as, export, copy];
    for ask in ways {
        let asked = || {
            let mut state = start();
            state.file.path = Some(PathBuf::from("slow.toml"));
            ask(&mut state);
            state
        };
        let proposed = name(&asked()).to_owned();
        assert!(proposed.starts_with("slow"), "{proposed}");
        let mut state = asked();
        type_in(&mut state, "faster.toml");
        assert_eq!(name(&state), "faster.toml");
        let mut state = asked();
        update(&mut state, Message::Paste("pasted.toml".to_owned()));
        assert_eq!(name(&state), "pasted.toml");
        // Whoever moves or deletes first means to change it.
        let (most, last) = proposed.split_at(proposed.len() - 1);
        for (key, changed) in [
            (Key::Home, format!("X{proposed}")),
            (Key::End, format!("{proposed}X")),
            (Key::Left, format!("{most}X{last}")),
            (Key::Backspace, format!("{most}X")),
        ] {
            let mut state = asked();
            press(&mut state, &[key, Key::Char('X')]);
            assert_eq!(name(&state), changed, "{key:?}");
        }
    }
}

/// Changes that an earlier session left in a journal of this name.
fn offered(name: &str) -> Offer {
    let now = "2026-11-26T18:40:35Z".parse().expect("a moment");
    let header = Header {
        format: 1,
        version: String::new(),
        file: None,
        bundle: false,
        hash: String::new(),
        pid: 1,
        begun: now,
        title: String::new(),
        text: String::new(),
    };
    Offer {
        journal: Journal {
            path: PathBuf::from(name),
            alive: false,
            header,
            last: now,
            text: String::new(),
        },
        told: vec![name.to_owned()],
    }
}

#[test]
fn what_was_left_unsaved_is_asked_about_one_by_one() {
    let mut state = start();
    state.recovery = vec![offered("one"), offered("two"), offered("three")];
    saving::offer(&mut state);
    // Enter at once changes nothing, and goes on to the next.
    assert!(press(&mut state, &[Key::Enter]).is_empty());
    assert_eq!(state.place(), Place::Question);
    assert_eq!(
        press(&mut state, &[Key::Down, Key::Enter]),
        [Task::Recover("two".into())]
    );
    saving::offered_on(&mut state, Notice::Failed("not taken up".to_owned()));
    assert_eq!(
        press(&mut state, &[Key::End, Key::Enter]),
        [Task::Forget("three".into())]
    );
    saving::offered_on(&mut state, Notice::Done("thrown away".to_owned()));
    assert!(state.layers.is_empty());
}

#[test]
fn nothing_is_taken_up_over_unsaved_work() {
    let mut state = start();
    open(&mut state, "paint");
    press(&mut state, &[Key::Down, Key::Enter, Key::Esc]);
    assert!(state.is_unsaved());
    state.recovery = vec![offered("one")];
    saving::offer(&mut state);
    assert!(press(&mut state, &[Key::Down, Key::Enter]).is_empty());
    assert!(matches!(state.notice, Some(Notice::Failed(_))));
    assert_eq!(state.recovery.len(), 1, "it is still to be decided");
}

#[test]
fn a_failed_save_keeps_the_work_and_says_why() {
    let mut state = start();
    open(&mut state, "paint");
    press(&mut state, &[Key::Down, Key::Enter]);
    update(
        &mut state,
        Message::Written(Outcome::Failed("no room".to_owned())),
    );
    assert!(state.is_unsaved());
    assert_eq!(state.notice, Some(Notice::Failed("no room".to_owned())));
}

#[test]
fn arrows_enter_esc_and_digits_reach_save_warnings_help_and_quit() {
    for (wanted, action) in [
        (Place::Name, Action::Save),
        (Place::Bill, Action::Bill),
        (Place::Variants, Action::Variants),
        (Place::Picture, Action::Pictures),
        (Place::Sheets, Action::Sheets),
        (Place::WhatIf, Action::WhatIf),
        (Place::Seek, Action::Seek),
        (Place::Interview, Action::Interview),
        (Place::Glossary, Action::Words),
        (Place::Help, Action::Help),
    ] {
        let mut state = start();
        let listed = MENU.iter().position(|(_, listed)| *listed == action);
        let downs = listed.expect("the menu lists it");
        press(&mut state, &[Key::Esc]);
        assert_eq!(state.place(), Place::Menu);
        press(&mut state, &vec![Key::Down; downs]);
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.place(), wanted);
    }
    let mut state = start();
    assert_eq!(
        press(&mut state, &[Key::Esc, Key::End, Key::Enter]),
        [Task::Leave]
    );
}

#[test]
fn esc_and_enter_by_accident_change_nothing() {
    let mut state = start();
    open(&mut state, "paint");
    press(&mut state, &[Key::Down, Key::Enter]);
    assert!(press(&mut state, &[Key::Esc, Key::Enter]).is_empty());
    assert_eq!(state.place(), Place::Choices);
    assert!(state.layers.is_empty());
}

#[test]
fn letters_do_in_the_menu_what_they_do_outside() {
    for (key, place) in [
        ('4', Place::Choices),
        ('w', Place::Warnings),
        ('b', Place::Bill),
        ('S', Place::Name),
        ('u', Place::Choices),
    ] {
        let mut state = start();
        press(&mut state, &[Key::Esc, Key::Char(key)]);
        assert_eq!(state.place(), place, "{key}");
        let covered = state.layers.len();
        assert!(covered <= 1, "the menu is still under {place:?}");
    }
    let mut state = start();
    assert_eq!(
        press(&mut state, &[Key::Esc, Key::Char('q')]),
        [Task::Leave]
    );
}

#[test]
fn on_too_small_a_screen_keys_only_leave_and_only_when_all_is_saved() {
    let tiny = Message::Resize(Size {
        width: 40,
        height: 10,
    });
    let mut state = start();
    update(&mut state, tiny.clone());
    assert!(press(&mut state, &[Key::Char('3'), Key::Char('w')]).is_empty());
    assert_eq!(state.step, Step::WorkingArea);
    assert!(state.layers.is_empty());
    assert_eq!(press(&mut state, &[Key::Ctrl('z')]), [Task::Suspend]);
    assert_eq!(press(&mut state, &[Key::Char('q')]), [Task::Leave]);
    let mut state = start();
    open(&mut state, "paint");
    press(&mut state, &[Key::Down, Key::Enter]);
    update(&mut state, tiny);
    assert!(press(&mut state, &[Key::Char('q'), Key::Ctrl('c')]).is_empty());
    assert!(state.layers.is_empty(), "a question that nobody can see");
}

#[test]
fn a_new_file_gets_the_ending_of_build_files() {
    let named = |open: Option<&str>, name: &str| {
        file_of(open.map(std::path::Path::new), PathBuf::from(name))
    };
    assert_eq!(named(None, "router"), PathBuf::from("router.toml"));
    assert_eq!(named(None, "my.router"), PathBuf::from("my.router.toml"));
    assert_eq!(named(None, "a/router.TOML"), PathBuf::from("a/router.TOML"));
    assert_eq!(named(Some("old"), "old"), PathBuf::from("old"));
}

#[test]
fn too_small_a_screen_keeps_the_work() {
    let mut state = start();
    open(&mut state, "travel_x_mm");
    type_in(&mut state, "777");
    update(
        &mut state,
        Message::Resize(Size {
            width: 10,
            height: 4,
        }),
    );
    update(
        &mut state,
        Message::Resize(Size {
            width: 80,
            height: 24,
        }),
    );
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().area.travel.x, units::mm::of(777.0));
}

#[test]
fn what_moved_is_told_on_opening_until_the_next_save() {
    use crate::store::build_file;
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let today = jiff::civil::date(2026, 11, 25);
    let build = Build::default();
    let text = build_file::saved(None, &build, &catalogue, today);
    let open = |text: &str| {
        let session = Session {
            path: Some(PathBuf::from("b.toml")),
            original: Some(text.to_owned()),
            ..Session::new(catalogue.clone(), build.clone(), today, ColorWish::Auto)
        };
        State::new(session, Size::new(80, 24)).expect("a build that can be assessed")
    };
    assert_eq!(open(&text).notice, None);
    // What the file has is not read again where it is known.
    let other = Build {
        title: "as it is in the file".to_owned(),
        ..Build::default()
    };
    let session = Session {
        catalogue: catalogue.clone(),
        build: build.clone(),
        path: Some(PathBuf::from("b.toml")),
        original: Some(text.clone()),
        in_file: Some(other.clone()),
        bundle: None,
        today,
        color: ColorWish::Auto,
    };
    assert_eq!(session.start().expect("a start").saved, other);
    let then = with_a_cheap_rail(&text);
    let mut state = open(&then);
    let Some(Notice::Done(told)) = &state.notice else {
        panic!("{:?}", state.notice);
    };
    assert!(
        told.starts_with("since 2026-11-25: 1 unit price moved, "),
        "{told}"
    );
    // The record is no part of the build: nothing is unsaved, and a save brings it up to date.
    assert!(!state.is_unsaved() && state.file.moved.is_some());
    assert_eq!(
        build_file::saved(Some(&then), state.build(), &catalogue, today),
        text
    );
    let written = Outcome::Saved {
        path: PathBuf::from("b.toml"),
        text,
        leave: false,
    };
    update(&mut state, Message::Written(written));
    assert!(state.file.moved.is_none());
}

/// The text with another price of a rail in its record.
fn with_a_cheap_rail(text: &str) -> String {
    let lines = text
        .lines()
        .map(|line| match line.starts_with("rail-15 = ") {
            true => "rail-15 = \"1.00 EUR\"\n".to_owned(),
            false => format!("{line}\n"),
        });
    lines.collect()
}
