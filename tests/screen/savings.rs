//! The ways to spend less as keys and eyes meet them: each page leads to the others, what is kept is
//! said, and what is taken is what was shown.

use crate::screen::{open, page, press, type_in};
use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Edit, choices};
use gantrywright::explore::find::Target;
use gantrywright::explore::question;
use gantrywright::machine::cutting::Verdict;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::seek::Row;
use gantrywright::screen::state::{Focus, Layer, Notice, State};
use gantrywright::screen::update::{Message, Task, update};
use gantrywright::store::{examples, library};

pub(crate) fn example() -> State {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find("pier-allrounder").expect("an example");
    open(example.build(&catalogue).expect("a build"), 80, 24)
}

pub(crate) fn text(state: &State) -> String {
    page(state, Glyphs::Unicode).join("\n")
}

pub(crate) fn assessed(state: &State, build: &Build) -> Assessment {
    assess(&state.catalogue, build, state.today).expect("a build that can be assessed")
}

#[test]
fn the_ways_to_save_lead_to_each_other_and_back() {
    let mut state = example();
    press(&mut state, &[Key::F(10), Key::Char('l')]);
    assert_eq!(state.place(), Place::Savings);
    press(&mut state, &[Key::Enter]);
    assert!(matches!(state.layers.last(), Some(Layer::Answer(one, 0)) if one.id == "a-fifth-less"));
    // The question says which keys lead on; those keys do.
    assert!(text(&state).contains("f searches"), "{}", text(&state));
    press(&mut state, &[Key::Char('f')]);
    assert_eq!(state.place(), Place::Seek);
    assert!(state.seek.keeps_cuts);
    assert!(
        text(&state).contains("l shows the other ways"),
        "{}",
        text(&state)
    );
    press(&mut state, &[Key::Char('l')]);
    assert_eq!(state.place(), Place::Savings);
    // However long the way was, one key closes the page.
    press(&mut state, &[Key::Esc]);
    assert!(state.layers.is_empty());
}

/// What must be cut as well as now is what the machine cuts now, material by material; and there
/// may be no more cautions, unless somebody allows them.
#[test]
fn a_search_keeps_what_is_cut_and_brings_no_caution() {
    let mut state = example();
    press(&mut state, &[Key::Char('f')]);
    let wanted = |state: &State| state.seek.wanted(&state.catalogue, &state.now);
    assert!(matches!(wanted(&state).as_slice(), [Target::Cautions(0)]));
    let to = |state: &mut State, row: Row| {
        let place = state.seek.rows().iter().position(|one| *one == row);
        press(state, &[Key::Home]);
        press(state, &vec![Key::Down; place.expect("a row")]);
    };
    to(&mut state, Row::Cautions);
    press(&mut state, &[Key::Enter]);
    assert!(wanted(&state).is_empty());
    press(&mut state, &[Key::Enter]);
    to(&mut state, Row::Cuts);
    press(&mut state, &[Key::Enter]);
    let targets = wanted(&state);
    let cut = state.catalogue.materials.values().filter(|material| {
        let cut = state.now.machine.cutting.outlook(&material.id);
        cut.is_some_and(|cut| cut.verdict > Verdict::No)
    });
    assert_eq!(targets.len(), cut.count() + 1);
    // The search keeps to it, whatever it finds.
    let free = ["motor_x", "drive_x", "spindle", "vfd"];
    let free = free.map(|id| choices::find(id).expect("a choice"));
    state.seek.free = Some(free.to_vec());
    let reaction = update(&mut state, Message::Key(Key::Char('f')));
    let Some(Task::Start(job)) = &reaction.task else {
        panic!("{:?}", reaction.task);
    };
    job.run(&|| ());
    update(&mut state, Message::News);
    let outcome = state.seek.outcome().expect("an outcome");
    assert!(outcome.keeps_cuts && outcome.asked == 0);
    for one in outcome.listed() {
        for target in &targets {
            assert!(target.is_met(&one.assessment, &one.reading), "{target:?}");
        }
    }
}

#[test]
fn what_is_taken_says_how_many_changes_undo_takes_back() {
    let mut state = example();
    press(
        &mut state,
        &[Key::Char('l'), Key::Enter, Key::Down, Key::Enter],
    );
    let Some(Notice::Done(said)) = &state.notice else {
        panic!("{:?}", state.notice);
    };
    assert!(said.contains("u takes all 2 changes back"), "{said}");
    press(&mut state, &[Key::Char('u')]);
    let Some(Notice::Done(said)) = &state.notice else {
        panic!("{:?}", state.notice);
    };
    assert!(said.contains("(2 changes)"), "{said}");
}

/// Whoever has no trade word finds the choice by a plain one.
#[test]
fn choices_are_found_by_plain_words() {
    for (word, id) in [
        ("volt", "supply"),
        ("noise", "enclosure"),
        ("dust", "extractor"),
        ("slow", "acceleration_m_per_s2"),
        ("money", "budget"),
    ] {
        let mut state = open(Build::default(), 80, 24);
        press(&mut state, &[Key::Char('/')]);
        type_in(&mut state, word);
        let found: Vec<&str> = state.choices.rows.iter().map(|one| one.id).collect();
        assert!(found.contains(&id), "{word}: {found:?}");
        assert!(found.len() < 40, "{word}: {found:?}");
    }
    // A name goes before what is only said of others.
    let mut state = open(Build::default(), 80, 24);
    press(&mut state, &[Key::Char('/')]);
    type_in(&mut state, "budget");
    assert!(state.choices.rows[0].title.starts_with("Budget"));
}

/// An option that would bring faults says which, in words.
#[test]
fn an_option_names_the_faults_that_it_would_bring() {
    let mut state = example();
    press(
        &mut state,
        &[Key::Enter, Key::Home, Key::Down, Key::Down, Key::Down],
    );
    assert_eq!(state.focus, Focus::Options);
    assert!(
        text(&state).contains("Circuit overloaded"),
        "{}",
        text(&state)
    );
    press(&mut state, &[Key::Char('?')]);
    let help = text(&state);
    assert!(help.contains("Warnings that it would bring"), "{help}");
    // The help begins with what can be done here, and turns page by page.
    assert!(help.contains("Help: here"), "{help}");
    press(&mut state, &[Key::Char('2')]);
    assert!(text(&state).contains("Help: keys here"));
    press(&mut state, &[Key::Tab, Key::Tab, Key::Tab]);
    assert!(text(&state).contains("Help: here"));
}

/// A row can be taken alone, without those above it; the page stays, and still counts the fifth
/// from what the machine cost when it was opened.
#[test]
fn a_row_can_be_taken_alone() {
    let mut state = example();
    let cost = state.now.bill.total.likely;
    press(&mut state, &[Key::Char('l'), Key::Enter]);
    let drop = question::find("a-fifth-less").expect("a question");
    let answer = state.what_if.answer(drop, &state.now).expect("an answer");
    // Six rows at the least are in view, and the key is named.
    let shown = page(&state, Glyphs::Unicode);
    let rows = shown.iter().filter(|row| {
        let mut words = row.trim_start_matches(['>', ' ']).split_whitespace();
        let letter = words.next().is_some_and(|word| word.len() == 1);
        letter && words.next().is_some_and(|cell| cell.parse::<u32>().is_ok())
    });
    assert!(rows.count() >= 6, "{shown:#?}");
    assert!(text(&state).contains("a only this"), "{}", text(&state));
    let third = answer.alternatives[2].clone();
    let alone = third.alone.expect("it goes on from the second");
    let edits = &third.trial.edits;
    let mut fresh = state.build().clone();
    edits[edits.len() - 1].apply(&mut fresh);
    press(&mut state, &[Key::Down, Key::Down]);
    assert!(text(&state).contains(" alone "), "{}", text(&state));
    press(&mut state, &[Key::Char('a')]);
    assert_eq!(*state.build(), alone.build);
    assert_eq!(state.now.bill.total.likely, cost + alone.price);
    assert_eq!(state.place(), Place::Answer);
    assert!(
        matches!(&state.notice, Some(Notice::Done(text)) if text.starts_with("taken alone: ")),
        "{:?}",
        state.notice
    );
    let answer = state.what_if.answer(drop, &state.now).expect("an answer");
    let note = &answer.alternatives[0].note;
    let from = gantrywright::money::show::money(cost, state.now.bill.currency);
    assert!(
        note.contains("With what you took, ") && note.contains(&from),
        "{note}"
    );
    // Undo takes back that one change; the page that is opened anew counts anew.
    press(&mut state, &[Key::Char('u')]);
    assert_eq!(state.now.bill.total.likely, cost);
    press(&mut state, &[Key::Char('a'), Key::Esc, Key::Esc]);
    press(&mut state, &[Key::Char('l'), Key::Enter]);
    let answer = state.what_if.answer(drop, &state.now).expect("an answer");
    let note = &answer.alternatives[0].note;
    assert!(note.contains("All so far save "), "{note}");
}

/// A row that goes on from others takes them along, and says so.
#[test]
fn rows_taken_together_are_told_by_the_last_and_how_many_stand_above() {
    let mut state = example();
    press(&mut state, &[Key::Char('l'), Key::Enter]);
    let drop = question::find("a-fifth-less").expect("a question");
    let answer = state.what_if.answer(drop, &state.now).expect("an answer");
    let third = &answer.alternatives[2];
    let told = format!("taken: {}, with the 2 rows above it; ", third.name());
    assert!(third.on_top && third.title.ends_with(third.name()));
    press(&mut state, &[Key::Down, Key::Down, Key::Enter]);
    assert!(
        matches!(&state.notice, Some(Notice::Done(text)) if text.starts_with(&told)),
        "{told}: {:?}",
        state.notice
    );
}

/// Once a fifth is saved, that is said, with the cost from which it was counted.
#[test]
fn a_fifth_that_is_saved_is_said_to_be() {
    let state = example();
    let bench = gantrywright::explore::trial::Bench {
        catalogue: &state.catalogue,
        build: state.build(),
        before: &state.now,
        today: state.today,
    };
    let cost = state.now.bill.total.likely;
    let with_cost = |cost| {
        let mut earlier = Assessment::clone(&state.now);
        earlier.bill.total.likely = cost;
        std::rc::Rc::new(earlier)
    };
    let earlier = cost * rust_decimal::Decimal::new(13, 1);
    let answer = question::a_fifth_less(&bench, &with_cost(earlier));
    assert!(answer.alternatives.is_empty());
    let from = gantrywright::money::show::money(earlier, state.now.bill.currency);
    let wanted = format!("A fifth of the {from} that it cost when you came here is saved");
    assert!(answer.apart.starts_with(&wanted), "{}", answer.apart);
    // Counted from less, less is to be saved still.
    let share = |of| {
        let answer = question::a_fifth_less(&bench, &with_cost(of));
        answer.alternatives.iter().filter(|one| one.on_top).count()
    };
    assert!(share(cost * rust_decimal::Decimal::new(12, 1)) < share(cost));
}

/// What is left out, and what is cheaper by no figure, says what goes with it in the words of
/// its own choice; so do the cures of a warning.
#[test]
fn a_loss_that_no_figure_tells_is_told_in_words() {
    let state = example();
    let told = |edits: &[(&str, &str)]| {
        let edits: Vec<Edit> = edits
            .iter()
            .map(|(id, value)| Edit::parse(id, value, &state.catalogue).expect("an edit"))
            .collect();
        let mut build = state.build().clone();
        edits.iter().for_each(|edit| edit.apply(&mut build));
        let after = assessed(&state, &build);
        let bench = gantrywright::explore::trial::Bench {
            catalogue: &state.catalogue,
            build: state.build(),
            before: &state.now,
            today: state.today,
        };
        gantrywright::explore::told::given_up(&bench, &edits, &after)
    };
    for id in ["tool_sensor", "table", "paint", "preloaded_nuts"] {
        let choice = choices::find(id).expect("a choice");
        let none = if matches!(choice.kind, gantrywright::build::Kind::Flag) {
            "no"
        } else {
            "none"
        };
        let has = (choice.get)(state.build()).to_string() != none;
        let wanted = if has {
            vec![("given up", format!("{}: {}", choice.title, choice.poor))]
        } else {
            Vec::new()
        };
        assert_eq!(told(&[(id, none)]), wanted, "{id}");
    }
    let nuts = choices::find("preloaded_nuts").expect("a choice");
    assert!(nuts.poor.contains("four places"));
    // What is no loss says nothing.
    assert!(told(&[("unattended", "no")]).is_empty());
    let rows = question::find("a-fifth-less").expect("a question");
    let bench = gantrywright::explore::trial::Bench {
        catalogue: &state.catalogue,
        build: state.build(),
        before: &state.now,
        today: state.today,
    };
    let answer = rows.answer(&bench);
    let mut state = example();
    press(&mut state, &[Key::Char('l'), Key::Enter]);
    let mut said = 0;
    for one in &answer.alternatives {
        let out = one
            .trial
            .edits
            .iter()
            .filter(|edit| edit.value.to_string() == "none");
        if out.count() > 0 {
            press(&mut state, &[Key::Char('?')]);
            said += usize::from(text(&state).contains("given up"));
            press(&mut state, &[Key::Esc]);
        }
        press(&mut state, &[Key::Down]);
    }
    assert!(said > 0, "something is left out");
}

/// What takes seconds says so before it is worked out, where somebody draws it meanwhile.
#[test]
fn the_page_of_savings_says_that_it_is_being_worked_out() {
    let mut state = open(Build::default(), 80, 24);
    state.what_if.draws_first = true;
    press(&mut state, &[Key::Char('l'), Key::Enter]);
    assert!(state.what_if.is_waiting());
    let page = text(&state);
    assert!(page.contains("Working it out"), "{page}");
    update(&mut state, Message::News);
    assert!(!state.what_if.is_waiting());
    let page = text(&state);
    assert!(!page.contains("Working it out"), "{page}");
}
