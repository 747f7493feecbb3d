//! What the screen says, and that it says it whole: messages, marks, lengths of lists, at
//! the sizes that are promised.

use std::path::PathBuf;

use crate::screen::{SIZES, draw, go_to, open, press, rows};
use gantrywright::build::{Build, Edit};
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::state::State;
use gantrywright::screen::theme::Colours;
use gantrywright::screen::update::{Message, Outcome, update};
use gantrywright::store::library;
use ratatui::layout::Size;

fn shown(state: &State) -> Vec<String> {
    rows(&draw(state, Colours::None, Glyphs::Unicode))
}

/// The left side, as one text in which line ends are spaces.
fn left(state: &State) -> String {
    let shown = shown(state);
    let lines = shown.iter().map(|row| {
        let row = row.split(['│', '┤']).next().unwrap_or("");
        row.trim().to_owned()
    });
    lines.collect::<Vec<_>>().join(" ")
}

fn with(edits: &[(&str, &str)], width: u16, height: u16) -> State {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let mut build = Build::default();
    for (choice, value) in edits {
        Edit::parse(choice, value, &catalogue)
            .expect("a known choice")
            .apply(&mut build);
    }
    open(build, width, height)
}

#[test]
fn why_a_save_failed_can_be_read_whole() {
    let why = "not saved: there is no folder /tmp/a/folder/with/a/name/too/long/for/any/row; the file: /tmp/a/folder/with/a/name/too/long/for/any/row/my-first-router.toml";
    let letters = |text: &str| -> String { text.split_whitespace().collect() };
    for (width, height) in SIZES {
        for keys in [&[][..], &[Key::Char('S')]] {
            let mut state = open(Build::default(), width, height);
            press(&mut state, keys);
            update(
                &mut state,
                Message::Written(Outcome::Failed(why.to_owned())),
            );
            let left = letters(&left(&state));
            assert!(
                left.contains(&letters(why)),
                "{width}x{height} {keys:?}: {left}"
            );
        }
    }
}

#[test]
fn a_mended_warning_says_how_to_take_it_back() {
    let mut state = with(&[("extractor", "none")], 80, 24);
    press(&mut state, &[Key::Char('w'), Key::Char('f')]);
    assert!(left(&state).contains("u takes it back"), "{}", left(&state));
}

#[test]
fn the_marks_of_all_steps_fit_every_width() {
    let dangers = [
        ("emergency_stop", "none"),
        ("extractor", "none"),
        ("travel_x_mm", "3000"),
        ("residual_type", "type-ac"),
        ("no_volt_release", "no"),
    ];
    let mut state = with(&dangers, 60, 18);
    for width in 60..=200 {
        let size = Size { width, height: 24 };
        update(&mut state, Message::Resize(size));
        let row = &shown(&state)[1];
        assert!(!row.contains('…'), "{row}");
        for (number, name) in ["Area", "Drive", "Spindle", "Control", "Extras"]
            .iter()
            .enumerate()
        {
            let name = if number == 0 && row.contains("Working") {
                "Working area"
            } else {
                name
            };
            assert!(row.contains(&format!("{} {name}", number + 1)), "{row}");
        }
    }
}

#[test]
fn the_strip_shows_the_warning_under_the_cursor() {
    let mut state = with(&[("extractor", "none")], 60, 18);
    press(&mut state, &[Key::BackTab]);
    let first = shown(&state)[5].clone();
    assert!(first.starts_with(">WARNINGS 1 of "), "{first}");
    press(&mut state, &[Key::Down]);
    let second = shown(&state)[5].clone();
    assert!(second.starts_with(">WARNINGS 2 of "), "{second}");
    let title = second.split(['!', '~', '.']).next_back().expect("a title");
    press(&mut state, &[Key::Enter]);
    assert!(
        left(&state).contains(title.trim().trim_end_matches('…')),
        "{title}: {}",
        left(&state)
    );
}

#[test]
fn lists_that_are_longer_than_their_room_say_so() {
    let mut state = open(Build::default(), 80, 24);
    let choices = state.choices.rows.len();
    assert!(choices > 20, "the first step is no longer a long one");
    let place = format!("1 of {choices} choices");
    assert!(left(&state).contains(&place), "{}", left(&state));
    go_to(&mut state, "drive_x");
    let many = state.options.rows.len();
    let place = state.options.cursor + 1;
    assert!(left(&state).contains(&format!("Drive X, {place} of {many}")));
    press(&mut state, &[Key::F(10), Key::Char('?'), Key::Char('4')]);
    assert!(left(&state).contains("more lines below"));
    press(&mut state, &[Key::Down]);
    assert!(left(&state).contains("Help: other keys, 1 more line above"));
}

#[test]
fn what_is_cut_can_be_read_in_the_help() {
    let mut state = open(Build::default(), 60, 18);
    press(&mut state, &[Key::Down]);
    assert!(left(&state).contains("(? shows all)"));
    let why = state.choice().expect("a choice").why;
    press(&mut state, &[Key::Char('?')]);
    let mut seen = left(&state);
    for _ in 0..5 {
        press(&mut state, &[Key::Down]);
        let row = shown(&state)[15].clone();
        seen.push_str(&row);
    }
    assert!(
        seen.contains(why.split_whitespace().last().expect("a word")),
        "{seen}"
    );
}

#[test]
fn a_preview_of_a_fix_is_called_so() {
    for (width, height) in [(60, 18), (80, 24), (120, 40)] {
        let mut state = with(&[("extractor", "none")], width, height);
        let plain = shown(&state).join("\n");
        assert!(!plain.contains("with f:"));
        press(&mut state, &[Key::Char('w')]);
        let fix = shown(&state).join("\n");
        assert!(fix.contains("with f:"), "{width}x{height}:\n{fix}");
    }
}

#[test]
fn title_and_path_share_their_row() {
    let mut build = Build {
        title: "A router with a title that is far too long for this row".to_owned(),
        ..Build::default()
    };
    let mut state = open(build.clone(), 80, 24);
    state.file.path = Some(PathBuf::from("/home/somebody/machines/router.toml"));
    let row = shown(&state)[0].clone();
    assert!(
        row.contains("A router with") && row.contains("/router.toml"),
        "{row}"
    );
    build.title = "  ".to_owned();
    let state = open(build, 80, 24);
    assert!(shown(&state)[0].starts_with(" untitled"));
}

#[test]
fn a_row_of_the_pane_says_what_stands_behind_it() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::BackTab]);
    assert!(shown(&state).iter().any(|row| row.contains("│>COST ")));
    press(&mut state, &[Key::Down]);
    assert!(shown(&state).iter().any(|row| row.contains("│>X ")));
    press(&mut state, &[Key::Enter]);
    // First what makes it faster, further down all that holds it.
    let mut text = left(&state);
    assert!(text.contains("held by"), "{text}");
    for _ in 0..3 {
        press(&mut state, &[Key::PageDown]);
        text.push_str(&left(&state));
    }
    assert!(
        text.contains("Rapids of X") && text.contains("screw whip"),
        "{text}"
    );
    press(
        &mut state,
        &[Key::Esc, Key::Down, Key::Down, Key::Down, Key::Enter],
    );
    let text = left(&state);
    assert!(
        text.contains("What it cuts") && text.contains("* softwood"),
        "{text}"
    );
    press(&mut state, &[Key::Esc, Key::Down, Key::Enter]);
    let text = left(&state);
    assert!(
        text.contains("first circuit") && text.contains("In all"),
        "{text}"
    );
    press(&mut state, &[Key::Esc, Key::End]);
    assert_eq!(state.pane_cursor + 1, state.pane_rows().len());
    assert!(shown(&state).iter().any(|row| row.contains('>')));
}

#[test]
fn a_large_screen_shows_stiffness_and_what_gives() {
    let mut state = open(Build::default(), 120, 40);
    let rows = shown(&state);
    let head = rows.iter().position(|row| row.contains("STIFFNESS N/µm"));
    let head = head.expect("a heading");
    for (row, axis) in ["X", "Y", "Z"].iter().enumerate() {
        assert!(rows[head + 1 + row].contains(&format!("│ {axis} ")));
    }
    let stiffness = state
        .pane_rows()
        .iter()
        .position(|row| matches!(row, gantrywright::screen::state::PaneRow::Stiffness(_)));
    press(&mut state, &[Key::BackTab]);
    press(&mut state, &vec![Key::Down; stiffness.expect("a row")]);
    assert!(shown(&state)[head + 1].contains("│>X "));
    press(&mut state, &[Key::Enter]);
    let text = left(&state);
    assert!(
        text.contains("Stiffness in X") && text.contains("What gives"),
        "{text}"
    );
}

#[test]
fn without_a_wish_there_is_no_row_on_cuts() {
    let state = with(&[("materials", "none")], 80, 24);
    assert!(!shown(&state).iter().any(|row| row.contains("CUTS")));
    let state = open(Build::default(), 80, 24);
    assert!(shown(&state).iter().any(|row| row.contains("CUTS")));
}

#[test]
fn the_row_of_keys_keeps_the_way_out() {
    for (width, height) in SIZES {
        let mut state = open(Build::default(), width, height);
        go_to(&mut state, "paint");
        press(&mut state, &[Key::Down, Key::Enter, Key::Char('1')]);
        assert!(state.is_unsaved());
        let rows = shown(&state);
        let last = rows.last().expect("a row");
        for key in ["enter options", "/ find", "tab next", "esc menu", "? help"] {
            assert!(last.contains(key), "{width}: {key} is not in {last}");
        }
        assert!(width < 80 || last.contains("q quit"), "{last}");
    }
}

#[test]
fn what_was_measured_stands_apart_and_the_cursor_skips_its_heading() {
    for (width, height) in SIZES {
        let mut state = open(Build::default(), width, height);
        let mut seen = false;
        for _ in 0..state.choices.rows.len() {
            let title = state.choice().expect("a choice").title;
            let rows = shown(&state);
            let here = |row: &&String| row.starts_with('>') && row.contains(title);
            assert!(
                rows.iter().any(|row| here(&row)),
                "{title} at {width}x{height}: {rows:#?}"
            );
            seen |= left(&state).contains("What you measured");
            press(&mut state, &[Key::Down]);
        }
        assert!(seen, "{width}x{height}");
    }
}

#[test]
fn one_cause_is_one_entry_and_what_follows_can_be_opened() {
    let edits = [("travel_x_mm", "2000"), ("rapid_wish_m_per_min", "30")];
    let mut state = with(&edits, 120, 40);
    let topics = state.about.topics().to_vec();
    let follower = topics.iter().position(|topic| topic.follows);
    let follower = follower.expect("a screw that whips brings slower rapids");
    assert_eq!(
        state.entries_listed().len(),
        topics.iter().filter(|topic| !topic.follows).count()
    );
    press(&mut state, &[Key::Char('w')]);
    press(&mut state, &vec![Key::Down; follower]);
    let title = topics[follower].title(&state.now.findings);
    assert!(
        left(&state).contains(&format!("also {title}")),
        "{}",
        left(&state)
    );
    press(&mut state, &[Key::Enter]);
    assert!(
        left(&state).contains("What it follows from"),
        "{}",
        left(&state)
    );
    press(&mut state, &[Key::Esc, Key::Up, Key::Enter, Key::End]);
    press(&mut state, &[Key::Home]);
    let mut text = left(&state);
    press(&mut state, &[Key::PageDown]);
    text.push_str(&left(&state));
    assert!(text.contains("What follows from it"), "{text}");
}

#[test]
fn the_cautions_have_a_page() {
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('c')]);
    assert!(
        left(&state).contains("Mains voltage kills"),
        "{}",
        left(&state)
    );
    press(&mut state, &[Key::Esc]);
    assert!(state.layers.is_empty());
}
