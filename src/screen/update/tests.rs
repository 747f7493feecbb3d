//! Keys in, state out: what a user would notice.

use std::path::PathBuf;

use super::*;
use crate::build::Axis;
use crate::catalogue::Step;
use crate::screen::state::{Focus, Question};
use crate::screen::{ColorWish, Session};
use crate::store::library;
use crate::units;
use crate::words::Words;

fn start() -> State {
    let session = Session {
        catalogue: library::load(&[]).expect("the shipped catalogue"),
        build: Build::default(),
        path: None,
        original: None,
        today: jiff::civil::date(2026, 11, 25),
        color: ColorWish::Auto,
    };
    State::new(
        session,
        Size {
            width: 80,
            height: 24,
        },
    )
    .expect("the default build can be assessed")
}

fn press(state: &mut State, keys: &[Key]) -> Vec<Task> {
    keys.iter()
        .flat_map(|key| update(state, Message::Key(*key)).tasks)
        .collect()
}

fn type_in(state: &mut State, text: &str) {
    for c in text.chars() {
        update(state, Message::Key(Key::Char(c)));
    }
}

/// Goes to a choice by its title.
fn open(state: &mut State, id: &str) {
    press(state, &[Key::Char('/')]);
    type_in(state, id);
    press(state, &[Key::Enter]);
    assert_eq!(state.choice().map(|choice| choice.id), Some(id));
    assert_eq!(state.focus, Focus::Options);
}

#[test]
fn moving_over_an_option_shows_before_and_after_and_changes_nothing() {
    let mut state = start();
    open(&mut state, "drive_x");
    let before = state.build().clone();
    assert!(
        state.preview.is_none(),
        "the cursor begins on what the build has"
    );
    press(&mut state, &[Key::Down]);
    let effect = state.preview.clone().expect("a preview");
    let rapid = |assessment: &crate::assessment::Assessment| {
        units::m_per_min::from(assessment.machine.axes[Axis::X].rapid)
    };
    assert_ne!(rapid(&effect.after), rapid(&state.now));
    assert_eq!(*state.build(), before);
    let layout = state.layout().expect("large enough");
    let seen = state
        .options
        .rows
        .iter()
        .skip(state.options.top)
        .take(layout.options.height.into());
    assert!(
        seen.filter(|row| !row.now)
            .all(|row| matches!(row.effect, Some(Ok(_))))
    );
}

#[test]
fn enter_takes_what_was_previewed_and_undo_is_exact() {
    let mut state = start();
    let before = state.build().clone();
    let cost = state.now.bill.total.likely;
    open(&mut state, "drive_x");
    press(&mut state, &[Key::Down]);
    let after = state
        .preview
        .clone()
        .expect("a preview")
        .after
        .bill
        .total
        .likely;
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.now.bill.total.likely, after);
    assert_eq!(state.focus, Focus::Choices);
    assert!(state.is_unsaved());
    let changed = state.build().clone();
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), before);
    assert_eq!(state.now.bill.total.likely, cost);
    assert!(!state.is_unsaved());
    press(&mut state, &[Key::Char('r')]);
    assert_eq!(*state.build(), changed);
    assert_eq!(state.now.bill.total.likely, after);
}

#[test]
fn esc_leaves_everything_as_it_was() {
    let mut state = start();
    let before = state.build().clone();
    open(&mut state, "drive_x");
    press(&mut state, &[Key::Down, Key::Down, Key::Esc]);
    assert_eq!(*state.build(), before);
    assert!(state.preview.is_none());
    assert!(!press(&mut state, &[Key::Char('u')]).contains(&Task::Leave));
    assert_eq!(*state.build(), before);
}

#[test]
fn a_number_is_typed_with_a_comma_and_previewed_at_every_key() {
    let mut state = start();
    open(&mut state, "travel_x_mm");
    type_in(&mut state, "750,5");
    let effect = state.preview.clone().expect("a preview");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().area.travel.x, units::mm::of(750.5));
    assert_eq!(state.now.bill.total.likely, effect.after.bill.total.likely);
}

#[test]
fn digits_are_digits_in_a_number_field_and_steps_elsewhere() {
    let mut state = start();
    press(&mut state, &[Key::Char('4')]);
    assert_eq!(state.step, Step::Control);
    open(&mut state, "travel_x_mm");
    press(&mut state, &[Key::Char('4')]);
    assert_eq!(state.step, Step::WorkingArea);
    assert_eq!(
        state.entry.as_ref().map(|entry| entry.input.value()),
        Some("4")
    );
}

#[test]
fn a_number_out_of_range_is_refused_with_its_range() {
    let mut state = start();
    let before = state.build().clone();
    open(&mut state, "travel_x_mm");
    type_in(&mut state, "99999");
    assert!(state.preview.is_none());
    press(&mut state, &[Key::Enter]);
    assert_eq!(*state.build(), before);
    assert!(matches!(&state.notice, Some(Notice::Failed(text)) if text.contains("not taken")));
    assert!(matches!(
        state.entry.as_ref().map(|entry| &entry.value),
        Some(Err(why)) if why.contains("50 to 10 000 mm")
    ));
}

#[test]
fn arrows_step_a_number_and_backspace_edits_it() {
    let mut state = start();
    open(&mut state, "travel_x_mm");
    press(&mut state, &[Key::Up, Key::Up]);
    assert_eq!(
        state.entry.as_ref().map(|entry| entry.input.value()),
        Some("700")
    );
    press(&mut state, &[Key::Backspace, Key::Enter]);
    assert_eq!(state.build().area.travel.x, units::mm::of(70.0));
}

#[test]
fn pasted_text_reaches_a_field_and_nothing_else() {
    let mut state = start();
    assert!(!update(&mut state, Message::Paste("q".to_owned())).redraw);
    open(&mut state, "travel_x_mm");
    update(
        &mut state,
        Message::Paste("\u{1b}[31m820\u{1b}[0m mm\n9".to_owned()),
    );
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.build().area.travel.x, units::mm::of(820.0));
}

#[test]
fn a_checklist_stays_open_while_entries_are_ticked() {
    let mut state = start();
    open(&mut state, "materials");
    let before = state.build().area.materials.len();
    press(&mut state, &[Key::End, Key::Char(' ')]);
    assert_eq!(state.build().area.materials.len(), before + 1);
    assert_eq!(state.focus, Focus::Options);
    press(&mut state, &[Key::Char(' ')]);
    assert_eq!(state.build().area.materials.len(), before);
}

#[test]
fn every_option_of_every_choice_can_be_looked_at() {
    let mut state = start();
    for choice in crate::build::choices::all() {
        open(&mut state, choice.id);
        for _ in 0..state.options.rows.len().max(8) {
            press(&mut state, &[Key::Down]);
        }
        press(&mut state, &[Key::Esc]);
    }
    assert_eq!(*state.build(), Build::default());
}

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
    let save = Task::Save {
        path: path.clone(),
        replace: false,
        leave: false,
    };
    assert_eq!(press(&mut state, &[Key::Enter]), [save]);
    // Another file of that name is there: stay by default, replace on demand.
    update(
        &mut state,
        Message::Saved(Outcome::Exists {
            path: path.clone(),
            leave: false,
        }),
    );
    let replace = Task::Save {
        path: path.clone(),
        replace: true,
        leave: false,
    };
    assert_eq!(press(&mut state, &[Key::Down, Key::Enter]), [replace]);
    let written = Outcome::Written {
        path: path.clone(),
        text: String::new(),
        leave: false,
    };
    update(&mut state, Message::Saved(written));
    assert!(!state.is_unsaved());
    assert!(state.layers.is_empty());
    assert_eq!(state.path, Some(path));
}

#[test]
fn a_failed_save_keeps_the_work_and_says_why() {
    let mut state = start();
    open(&mut state, "paint");
    press(&mut state, &[Key::Down, Key::Enter]);
    update(
        &mut state,
        Message::Saved(Outcome::Failed("no room".to_owned())),
    );
    assert!(state.is_unsaved());
    assert_eq!(state.notice, Some(Notice::Failed("no room".to_owned())));
}

#[test]
fn arrows_enter_esc_and_digits_reach_save_warnings_help_and_quit() {
    for (wanted, downs) in [(Place::Name, 1), (Place::Bill, 4), (Place::Help, 7)] {
        let mut state = start();
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
fn an_unbound_key_draws_nothing() {
    let mut state = start();
    assert_eq!(
        update(&mut state, Message::Key(Key::F(7))),
        Reaction::default()
    );
}

#[test]
fn finding_a_choice_looks_through_every_step() {
    let mut state = start();
    press(&mut state, &[Key::Char('/')]);
    type_in(&mut state, "dust");
    assert_eq!(state.step, Step::Extras);
    assert_eq!(state.choice().map(|choice| choice.id), Some("extractor"));
    press(&mut state, &[Key::Esc, Key::Char('/')]);
    type_in(&mut state, "no such thing");
    assert!(state.choice().is_none());
    press(&mut state, &[Key::Enter]);
    assert!(state.choice().is_some(), "back to where one was");
}

#[test]
fn leaving_the_find_field_leads_back_to_where_one_was() {
    let mut state = start();
    press(&mut state, &[Key::Char('2'), Key::Down, Key::Down]);
    let before = state.choice().map(|choice| choice.id);
    for text in ["dust", "no such thing"] {
        press(&mut state, &[Key::Char('/')]);
        type_in(&mut state, text);
        press(&mut state, &[Key::Esc]);
        assert_eq!(state.place(), Place::Choices);
        assert_eq!(state.step, Step::Drive);
        assert_eq!(state.choice().map(|choice| choice.id), before);
    }
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
fn pasted_lines_become_one_with_spaces_between() {
    let mut state = start();
    press(&mut state, &[Key::Char('S'), Key::Ctrl('u')]);
    let pasted = "my\r\n\tfirst\u{1b}[1;31m router\n".to_owned();
    update(&mut state, Message::Paste(pasted));
    assert!(
        matches!(state.layers.last(), Some(Layer::Name(input, _)) if input.value() == "my first router"),
        "{:?}",
        state.layers
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
fn a_warning_leads_to_the_choice_that_it_is_about() {
    let mut state = with_a_danger();
    press(&mut state, &[Key::Char('g')]);
    assert_eq!(state.choice().map(|choice| choice.id), Some("extractor"));
    assert_eq!(state.place(), Place::Options);
}

#[test]
fn a_step_is_marked_as_its_worst_row() {
    let state = with_a_danger();
    for &step in Step::ALL {
        let rows = crate::build::choices::of_step(step);
        let worst = rows.filter_map(|choice| state.about.mark(choice)).min();
        let without_a_choice = (0..state.now.findings.len()).any(|place| {
            state.about.choices(place).is_empty() && state.now.findings[place].step == step
        });
        if !without_a_choice {
            assert_eq!(state.worst_of(step), worst, "{step:?}");
        }
    }
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

/// A build in which wood is cut without extraction, and its list of warnings opened.
fn with_a_danger() -> State {
    let mut state = start();
    open(&mut state, "extractor");
    press(&mut state, &[Key::Home, Key::Enter, Key::Char('w')]);
    let worst = state.now.findings.first().expect("a warning");
    assert_eq!(worst.severity, crate::rules::Severity::Danger);
    state
}

#[test]
fn one_key_lifts_a_warning_and_undo_brings_it_back() {
    let mut state = with_a_danger();
    let before = state.build().clone();
    let finding = state.now.findings[0].clone();
    assert!(!state.remedy.is_empty());
    let previewed = state.preview.clone().expect("the remedy is previewed");
    press(&mut state, &[Key::Enter, Key::Char('f')]);
    assert_eq!(
        state.now.bill.total.likely,
        previewed.after.bill.total.likely
    );
    let still = |state: &State| {
        state
            .now
            .findings
            .iter()
            .any(|other| crate::explore::effect::same(other, &finding))
    };
    assert!(!still(&state));
    assert_eq!(state.place(), Place::Warnings);
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(*state.build(), before);
    assert!(still(&state));
}

#[test]
fn an_accepted_danger_stays_listed_and_counted() {
    let mut state = with_a_danger();
    let rule = state.now.findings[0].rule;
    let step = state.now.findings[0].step;
    press(&mut state, &[Key::Char('a')]);
    type_in(&mut state, "outdoors, with a mask");
    press(&mut state, &[Key::Enter]);
    let finding = &state.now.findings[0];
    assert_eq!(finding.rule, rule);
    assert_eq!(finding.accepted.as_deref(), Some("outdoors, with a mask"));
    assert_eq!(state.worst_of(step), Some(crate::rules::Severity::Danger));
    assert!(state.is_unsaved());
    press(&mut state, &[Key::Char('a')]);
    assert_eq!(state.now.findings[0].accepted, None);
}

#[test]
fn an_accepted_hint_no_longer_counts_but_stays_listed() {
    let mut state = start();
    let place = state
        .now
        .findings
        .iter()
        .position(|finding| finding.severity == crate::rules::Severity::Hint)
        .expect("invented prices give a hint");
    let (rule, step) = (
        state.now.findings[place].rule,
        state.now.findings[place].step,
    );
    press(&mut state, &[Key::Char('w')]);
    press(&mut state, &vec![Key::Down; place]);
    press(&mut state, &[Key::Char('a'), Key::Enter]);
    assert!(
        state
            .now
            .findings
            .iter()
            .any(|finding| finding.rule == rule && finding.accepted.is_some())
    );
    assert_ne!(state.worst_of(step), Some(crate::rules::Severity::Hint));
}
