//! What the screen says of others who work on the same file, at every promised size.

use std::path::PathBuf;
use std::sync::Arc;

use crate::screen::{SIZES, open, page, press};
use gantrywright::build::{Build, Edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Notice, Purpose, State};
use gantrywright::screen::theirs::Theirs;
use gantrywright::screen::update::{Message, Others, Outcome, Task, update};
use gantrywright::store::build_file;
use gantrywright::store::lock::Who;

fn file() -> PathBuf {
    PathBuf::from(format!("/srv/shared/{}/shed.toml", "deep/".repeat(30)))
}

fn opened(size: (u16, u16)) -> State {
    let mut state = open(Build::default(), size.0, size.1);
    state.file.path = Some(file());
    state.file.original = Some(build_file::write(None, &Build::default()));
    state
}

/// Another build, which differs in much.
fn other(catalogue: &Catalogue) -> Build {
    let mut build = Build::default();
    for (choice, value) in [
        ("travel_x_mm", "800"),
        ("travel_y_mm", "810"),
        ("travel_z_mm", "90"),
        ("drive_x", "ball-screw-16x10"),
        ("motor_x", "stepper-23-3.0"),
        ("beam_tube", "tube-100x100x5"),
        ("materials", "softwood"),
        ("machines", "2"),
        ("paint", "yes"),
        ("spindle_circuit", "second"),
        ("emergency_stop", "none"),
        ("power_cap_percent", "30"),
    ] {
        let edit = Edit::parse(choice, value, catalogue);
        edit.unwrap_or_else(|error| panic!("{error}"))
            .apply(&mut build);
    }
    build
}

fn who() -> Who {
    Who {
        who: "a-name-as-long-as-administrators-make-them".to_owned(),
        host: "workstation-in-the-shop.some.long.domain.example".to_owned(),
        process: 4_194_304,
        since: "2026-11-25T18:10:00Z".parse().ok(),
    }
}

fn theirs(state: &State, text: &str, held: Option<&Who>) -> Arc<Theirs> {
    let found = Ok(text.to_owned());
    Arc::new(Theirs::of(&file(), found, held, &state.catalogue))
}

fn changed(state: &mut State, theirs: Arc<Theirs>) {
    let outcome = Outcome::Changed {
        theirs,
        leave: false,
    };
    update(state, Message::Written(outcome));
    assert_eq!(state.place(), Place::Question);
}

fn shows(state: &State, wanted: &[&str]) {
    for glyphs in [Glyphs::Unicode, Glyphs::Ascii] {
        let page = page(state, glyphs);
        for words in wanted {
            assert!(
                page.iter().any(|row| row.contains(words)),
                "{words} at {:?}:\n{}",
                state.size,
                page.join("\n")
            );
        }
    }
}

#[test]
fn every_answer_is_seen_however_much_differs() {
    for size in SIZES {
        let mut state = opened(size);
        let text = build_file::write(None, &other(&state.catalogue));
        let found = theirs(&state, &text, None);
        changed(&mut state, found);
        shows(
            &state,
            &[
                "> Decide later: nothing is saved now",
                "Keep both: save mine under another name",
                "Take what the file holds, and drop mine",
                "Overwrite the file with mine",
            ],
        );
        let all = page(&state, Glyphs::Unicode).join("\n");
        let listed = all.contains("Travel X: 800 mm") || size.1 < 24;
        assert!(listed, "{all}");
        if size.1 <= 24 {
            assert!(
                all.contains("more line"),
                "what is left out is counted: {all}"
            );
        }
    }
}

#[test]
fn who_works_on_it_is_told_whole_with_every_answer() {
    for size in SIZES {
        let mut state = opened(size);
        update(&mut state, Message::Others(Others::Work(who().told())));
        shows(
            &state,
            &[
                "> Look only: nothing is saved under this name",
                "Save a copy under another name",
                "Leave",
            ],
        );
        let all = page(&state, Glyphs::Unicode).join(" ");
        assert!(all.contains("(process 4194304)"), "{all}");
        // Nothing can be overwritten where somebody else works.
        let text = build_file::write(None, &other(&state.catalogue));
        press(&mut state, &[Key::Enter]);
        let found = theirs(&state, &text, Some(&who()));
        changed(&mut state, found);
        shows(&state, &["Keep both: save mine under another name"]);
        let all = page(&state, Glyphs::Unicode).join(" ");
        assert!(!all.contains("Overwrite"), "{all}");
    }
}

#[test]
fn what_cannot_be_opened_cannot_be_taken() {
    let mut state = opened((80, 24));
    let found = theirs(&state, "format = 99\n", None);
    changed(&mut state, found);
    shows(
        &state,
        &["Overwrite the file with mine", "cannot be opened"],
    );
    let all = page(&state, Glyphs::Unicode).join(" ");
    assert!(!all.contains("Take what"), "{all}");
    let task = update(&mut state, Message::Key(Key::End)).task;
    assert_eq!(task, None);
    let task = update(&mut state, Message::Key(Key::Enter)).task;
    let write = Task::Write {
        path: file(),
        purpose: Purpose::Save { leave: false },
        replace: true,
    };
    assert_eq!(task, Some(write));
}

#[test]
fn a_bundle_is_opened_anew_where_its_text_is_taken() {
    let mut state = opened((80, 24));
    let inside = build_file::write(None, &other(&state.catalogue));
    let text = gantrywright::store::bundle::write(&inside, "b", &[]).expect("a bundle");
    let found = theirs(&state, &text, None);
    assert!(found.bundle && found.build.is_ok());
    changed(&mut state, found);
    let keys = [Key::Down, Key::Down, Key::Enter];
    let tasks: Vec<Task> = keys
        .into_iter()
        .filter_map(|key| update(&mut state, Message::Key(key)).task)
        .collect();
    assert_eq!(tasks, [Task::Open(file())]);
}

#[test]
fn news_of_a_change_interrupts_no_typing() {
    let mut state = opened((80, 24));
    press(&mut state, &[Key::Char('/'), Key::Char('p')]);
    assert_eq!(state.place(), Place::Find);
    let text = build_file::write(None, &other(&state.catalogue));
    let found = theirs(&state, &text, None);
    update(&mut state, Message::Others(Others::Wrote(found)));
    assert_eq!(state.place(), Place::Find);
    press(&mut state, &[Key::Esc]);
    assert!(state.file.theirs.is_some());
    let why = "locks are not known there".to_owned();
    update(&mut state, Message::Others(Others::Unknown(why)));
    assert!(
        matches!(&state.notice, Some(Notice::Failed(text)) if text.contains("not told of you"))
    );
}
