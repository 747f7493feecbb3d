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
use ratatui::layout::Size;

mod leaving;
mod ledger;
mod papers;
mod unheard;
mod warned;
mod written;

fn start() -> State {
    let session = Session::new(
        library::load(&[]).expect("the shipped catalogue"),
        Build::default(),
        jiff::civil::date(2026, 11, 25),
        ColorWish::Auto,
    );
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
        .filter_map(|key| update(state, Message::Key(*key)).task)
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
            .all(|row| matches!(row.glance, Some(Ok(_))))
    );
}

/// What is saved must open again, and no file holds money that no price book has a rate for.
#[test]
fn a_budget_in_unknown_money_is_refused() {
    let mut state = start();
    let before = state.build().clone();
    open(&mut state, "budget");
    type_in(&mut state, "3500 CHF");
    press(&mut state, &[Key::Enter]);
    let refused = matches!(&state.notice, Some(Notice::Failed(why)) if why.contains("CHF"));
    assert!(refused, "{:?}", state.notice);
    assert_eq!(*state.build(), before);
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
        state.number_field.as_ref().map(|entry| entry.typed.value()),
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
        state.number_field.as_ref().map(|entry| &entry.value),
        Some(Err(why)) if why.contains("50 to 10 000 mm")
    ));
}

#[test]
fn arrows_step_a_number_and_backspace_edits_it() {
    let mut state = start();
    open(&mut state, "travel_x_mm");
    press(&mut state, &[Key::Up, Key::Up]);
    assert_eq!(
        state.number_field.as_ref().map(|entry| entry.typed.value()),
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
