//! Own parts on the screen: made, changed and removed there, at every promised size, and from a
//! key in a real terminal to a file and a saved build.

use crate::pty;
use std::path::Path;

use gantrywright::build::{Build, Value};
use gantrywright::catalogue::Id;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, Notice, State};
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Fresh, Message, Outcome, Task, update};
use gantrywright::store::own_parts::make;
use gantrywright::store::{bundle, library};

use crate::screen::{self, draw, go_to, open, page, press, rows, type_in};

/// Carries a task out as the loop does, in a folder.
pub(crate) fn carry_out(state: &mut State, task: Option<Task>, folder: &Path) {
    let Some(task) = task else { return };
    let Task::Own(change) = task else {
        panic!("{task:?}")
    };
    let made = make(&change, folder, &[], state.today);
    let outcome = match made {
        Ok(made) => Outcome::Own {
            change,
            catalogue: Fresh(std::sync::Arc::new(made.catalogue)),
            file: made.file,
        },
        Err(error) => Outcome::Failed(error.to_string()),
    };
    update(state, Message::Written(outcome));
}

pub(crate) fn key(state: &mut State, key: Key) -> Option<Task> {
    update(state, Message::Key(key)).task
}

pub(crate) fn told(state: &State) -> String {
    match &state.notice {
        Some(Notice::Done(text) | Notice::Failed(text) | Notice::Idle(text)) => text.clone(),
        None => String::new(),
    }
}

/// Goes down the options that are open to a part.
fn down_to(state: &mut State, part: &Id) {
    let place = state
        .options
        .rows
        .iter()
        .position(|row| row.part.as_ref() == Some(part));
    let place = place.unwrap_or_else(|| panic!("{part} is not listed"));
    press(state, &[Key::Home]);
    press(state, &vec![Key::Down; place]);
    let here = state.options.current().and_then(|row| row.part.as_ref());
    assert_eq!(here, Some(part));
}

#[test]
fn a_part_is_made_taken_kept_while_it_is_used_and_removed() {
    let folder = tempfile::tempdir().expect("a folder");
    let home = folder.path();
    let mut state = open(Build::default(), 80, 24);
    state.wishes.file = Some(home.join("settings.toml"));
    go_to(&mut state, "motor_x");
    press(&mut state, &[Key::Char('m')]);
    assert!(told(&state).contains("built in"), "{}", told(&state));
    press(&mut state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::OwnPart);
    type_in(&mut state, "Motor from the drawer");
    let task = key(&mut state, Key::Enter);
    assert!(task.is_some(), "{}", told(&state));
    carry_out(&mut state, task, home);
    assert_eq!(state.place(), Place::Options, "{}", told(&state));
    let row = state.options.current().expect("a row").clone();
    assert_eq!(row.full, "Motor from the drawer");
    assert_eq!(row.short, "Motor from the drawer");
    let shown = rows(&draw(&state, Colours::None, Glyphs::Unicode)).join("\n");
    assert!(shown.contains(">*"), "{shown}");
    assert!(matches!(row.glance, Some(Ok(_))), "it has a preview");
    press(&mut state, &[Key::Enter]);
    let id = Id::new("own-motor-from-the-drawer").expect("an id");
    let taken = |state: &State| {
        let choice = state.choice().expect("a choice");
        (choice.get)(state.build()) == Value::Part(Some(id))
    };
    assert!(taken(&state));
    // Changed while it is used: the figures follow.
    let before = state.now.machine.axes[gantrywright::build::Axis::X].rapid;
    press(&mut state, &[Key::Enter, Key::Char('m')]);
    let Some(Layer::OwnPart(form)) = state.layers.last_mut() else {
        panic!("a form")
    };
    form.at = form
        .rows
        .iter()
        .position(|row| row.label == "Holding torque")
        .expect("there");
    type_in(&mut state, "0,3 Nm");
    let task = key(&mut state, Key::Enter);
    carry_out(&mut state, task, home);
    let after = state.now.machine.axes[gantrywright::build::Axis::X].rapid;
    assert!(after < before, "a weaker motor is slower");
    press(&mut state, &[Key::Char('x')]);
    assert!(
        told(&state).contains("your build uses it"),
        "{}",
        told(&state)
    );
    press(&mut state, &[Key::Esc, Key::Char('u')]);
    assert!(!taken(&state));
    press(&mut state, &[Key::Enter]);
    press(&mut state, &[Key::Home]);
    down_to(&mut state, &id);
    press(&mut state, &[Key::Char('x')]);
    assert!(told(&state).contains("undo or redo"), "{}", told(&state));
    let mut state = reopened(home);
    go_to(&mut state, "motor_x");
    press(&mut state, &[Key::Home]);
    down_to(&mut state, &id);
    press(&mut state, &[Key::Char('x')]);
    assert_eq!(state.place(), Place::Question);
    press(&mut state, &[Key::Down]);
    let task = key(&mut state, Key::Enter);
    carry_out(&mut state, task, home);
    assert!(state.catalogue.part(id.as_str()).is_none());
}

#[test]
fn a_bundle_brings_its_own_parts() {
    let text = bundle::write("format = 1\n", "b.toml", &[]).expect("a bundle");
    let mut state = open(Build::default(), 80, 24);
    state.file.bundle = bundle::read(&text, "b.toml").expect("reads");
    go_to(&mut state, "motor_x");
    press(&mut state, &[Key::Char('n')]);
    assert_eq!(state.place(), Place::Options);
    assert!(told(&state).contains("a bundle brings"), "{}", told(&state));
}

/// The screen on the default build, with the parts of a folder.
pub(crate) fn reopened(home: &Path) -> State {
    let mut state = open(Build::default(), 80, 24);
    state.catalogue = library::load(&[home.to_owned()]).expect("loads");
    state.wishes.file = Some(home.join("settings.toml"));
    update(&mut state, Message::News);
    state
}

#[test]
fn the_form_fits_at_the_promised_sizes() {
    for kind in ["motor_x", "spindle", "controller", "vfd", "switch"] {
        let choice = gantrywright::build::choices::find(kind).expect("a choice");
        for (width, height) in screen::SIZES {
            let mut state = open(Build::default(), width, height);
            go_to(&mut state, choice.id);
            press(&mut state, &[Key::Char('n')]);
            assert_eq!(state.place(), Place::OwnPart, "{kind}");
            let Some(Layer::OwnPart(form)) = state.layers.last() else {
                panic!("a form")
            };
            for _ in 0..form.rows.len() {
                let page = page(&state, Glyphs::Unicode);
                let all = page.join("\n");
                // Texts that were typed may be longer than their field; nothing else is cut.
                let form_rows = page.iter().filter(|line| line.contains('…'));
                let cut: Vec<&String> = form_rows
                    .filter(|line| !line.contains("My ") && !line.contains("copied"))
                    .collect();
                assert!(
                    cut.is_empty() || width < 80,
                    "{kind} at {width}x{height}: {all}"
                );
                assert!(all.contains('>'), "{all}");
                press(&mut state, &[Key::Down]);
            }
        }
    }
}

#[test]
fn from_a_key_to_a_file_to_a_saved_build_that_is_assessed() {
    let home = tempfile::tempdir().expect("a folder");
    let config = home.path().join("config").to_string_lossy().into_owned();
    let file = home.path().join("router.toml");
    let variables = [
        ("XDG_CONFIG_HOME", config.as_str()),
        ("GANTRYWRIGHT_TODAY", "2026-11-26"),
    ];
    let mut session = pty::Session::start(&[], &variables);
    session.wait_for(">1 Working area");
    session.send("/motor_x\r");
    session.wait_for("n own part");
    session.send("n");
    session.wait_for("A part of your own: stepper motor");
    session.send("Motor from the drawer\r");
    session.wait_for("enter takes it");
    session.send("\r");
    session.wait_for("taken: ");
    session.send("s");
    session.wait_for("Save to which file?");
    session.send("\x15");
    session.send(&format!("{}\r", file.display()));
    session.wait_for("saved to");
    session.send("q");
    assert_eq!(session.finish().0, 0);
    let own = home.path().join("config/gantrywright/own-parts.toml");
    let text = std::fs::read_to_string(own).expect("the file");
    assert!(text.contains("title = \"Motor from the drawer\""), "{text}");
    let saved = std::fs::read_to_string(&file).expect("the build");
    assert!(saved.contains("own-motor-from-the-drawer"), "{saved}");
    let run = |args: &[&str], config: &str| {
        let mut command = assert_cmd::Command::cargo_bin("gantrywright").expect("built");
        command.env("XDG_CONFIG_HOME", config).args(args);
        command.output().expect("runs")
    };
    let path = file.to_string_lossy();
    let assessed = run(&["assess", &path], &config);
    assert!(
        assessed.status.code().is_some_and(|code| code < 2),
        "{assessed:?}"
    );
    let listed = run(&["parts", "--own"], &config);
    let listed = String::from_utf8_lossy(&listed.stdout).into_owned();
    assert!(
        listed.contains("Motor from the drawer") && listed.contains("your own, in"),
        "{listed}"
    );
    assert!(!listed.contains("ball screw"), "{listed}");
    // Elsewhere the part is missing, unless it goes along in a bundle.
    let elsewhere = home.path().join("elsewhere").to_string_lossy().into_owned();
    assert_eq!(run(&["assess", &path], &elsewhere).status.code(), Some(2));
    let bundle = home
        .path()
        .join("bundle.toml")
        .to_string_lossy()
        .into_owned();
    let made = run(&["bundle", &path, "--output", &bundle], &config);
    assert!(made.status.success(), "{made:?}");
    let assessed = run(&["assess", &bundle], &elsewhere);
    assert!(
        assessed.status.code().is_some_and(|code| code < 2),
        "{assessed:?}"
    );
}
