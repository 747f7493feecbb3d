//! Cures and losses are told before anything is taken: of a warning, of an axis, of the ways to spend
//! less; and keys lead back to where one was.

use crate::screen::{open, page, press};
use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Axis, Build, Edit, choices};
use gantrywright::explore::question;
use gantrywright::screen::glyphs::Glyphs;
use gantrywright::screen::key::Key;
use gantrywright::screen::keymap::Place;
use gantrywright::screen::state::{Layer, State};
use gantrywright::screen::update::{Message, Task, update};
use gantrywright::store::{examples, library};

fn example() -> State {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let example = examples::find("pier-allrounder").expect("an example");
    open(example.build(&catalogue).expect("a build"), 80, 24)
}

fn text(state: &State) -> String {
    page(state, Glyphs::Unicode).join("\n")
}

fn assessed(state: &State, build: &Build) -> Assessment {
    assess(&state.catalogue, build, state.today).expect("a build that can be assessed")
}

/// Whoever saved something by what made the machine slower is not told that nothing is slower: what
/// is said of all so far is held against the machine of when the saving began.
#[test]
fn what_was_taken_counts_among_what_is_lost() {
    let state = example();
    let weaker = ["spindle=router-1050w-230", "vfd=none", "cooler=none"];
    let mut build = state.build().clone();
    for pair in weaker {
        let edit = Edit::parse_pair(pair, &state.catalogue, &build).expect("an edit");
        edit.apply(&mut build);
    }
    let now = assessed(&state, &build);
    let slower = gantrywright::explore::told::slower(&state.now, &now, &state.catalogue);
    assert!(slower.is_some());
    let bench = gantrywright::explore::trial::Bench {
        catalogue: &state.catalogue,
        build: &build,
        before: &now,
        today: state.today,
    };
    let answer = question::a_fifth_less(&bench, &state.now);
    let rows = answer.alternatives.iter();
    let rows: Vec<_> = rows
        .filter(|one| one.note.starts_with("With what you took"))
        .collect();
    assert!(!rows.is_empty(), "{:?}", answer.apart);
    for one in rows {
        assert!(
            !one.note.contains("no material is cut more slowly"),
            "{}",
            one.note
        );
        assert!(
            one.note.contains("Against then it cuts more slowly: "),
            "{}",
            one.note
        );
    }
}

/// A warning that only a lower wish lifts says so before it is taken, and so is told what a change
/// costs the machine.
#[test]
fn a_remedy_says_what_it_costs_before_it_is_taken() {
    use gantrywright::explore::remedy::{LOWERS_WISH, lowers_wish};
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let (mut lowered, mut lost) = (0, 0);
    for name in ["attic-starter", "barn-find", "pier-allrounder"] {
        let example = examples::find(name).expect("an example");
        for wish in ["9", "100"] {
            let mut build = example.build(&catalogue).expect("a build");
            let edit = Edit::parse("rapid_wish_m_per_min", wish, &catalogue).expect("an edit");
            edit.apply(&mut build);
            let mut state = open(build, 120, 60);
            press(&mut state, &[Key::Char('w'), Key::Enter]);
            for _ in 0..state.about.topics().len() {
                let shown = page(&state, Glyphs::Unicode).join(" ");
                let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
                let says = shown.contains("This lowers what you wanted");
                assert_eq!(says, lowers_wish(&state.remedy.edits), "{name}: {shown}");
                assert!(LOWERS_WISH.starts_with("This lowers what you wanted"));
                lowered += usize::from(says);
                lost += usize::from(shown.contains("Lost by that: "));
                press(&mut state, &[Key::Esc, Key::Down, Key::Enter]);
            }
        }
    }
    assert!(lowered > 0 && lost > 0, "{lowered} {lost}");
}

/// After a warning was lifted the cursor stands on what came behind it, however the list is sorted
/// anew.
#[test]
fn the_cursor_stays_behind_a_warning_that_was_lifted() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let mut gone = 0;
    for example in examples::all() {
        let build = example.build(&catalogue).expect("a build");
        let mut state = open(build, 120, 40);
        press(&mut state, &[Key::Char('w')]);
        for place in 0..state.about.topics().len() {
            let rules = |state: &State| {
                let topics = state.about.topics().iter();
                let rules = topics.map(|topic| state.now.findings[topic.first()].rule.clone());
                rules.collect::<Vec<_>>()
            };
            let before = rules(&state);
            press(&mut state, &[Key::Home]);
            press(&mut state, &vec![Key::Down; place]);
            if state.remedy.edits.is_empty() {
                continue;
            }
            press(&mut state, &[Key::Char('f')]);
            let after = rules(&state);
            let behind = before[place..].iter().find(|rule| after.contains(rule));
            let Some(Layer::Warnings(cursor)) = state.layers.last() else {
                panic!("{:?}", state.layers);
            };
            if let Some(behind) = behind {
                assert_eq!(after.get(*cursor), Some(behind), "{}", example.name);
                gone += usize::from(!after.contains(&before[place]));
            }
            press(&mut state, &[Key::Char('u')]);
        }
    }
    assert!(gone > 3, "{gone}");
}

/// On the page of an axis the key of the warnings opens them; and after a cure was taken the page is
/// read from its first line.
#[test]
fn the_page_of_an_axis_leads_to_the_warnings_and_begins_at_its_top() {
    let mut state = example();
    press(
        &mut state,
        &[Key::BackTab, Key::Down, Key::Enter, Key::Char('w')],
    );
    assert_eq!(state.place(), Place::Warnings);
    press(&mut state, &[Key::Esc, Key::End]);
    assert!(matches!(state.layers.last(), Some(Layer::Figure(_, top)) if *top > 0));
    press(&mut state, &[Key::Enter, Key::Enter]);
    assert!(matches!(state.layers.last(), Some(Layer::Figure(_, 0))));
    assert!(text(&state).contains("What makes it faster") || text(&state).contains("held by"));
}

/// Among the cures those that reach what is wanted are marked, and only those; one that changes more
/// than it is named by says how much more.
#[test]
fn cures_that_reach_what_is_wanted_are_marked() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let (mut marked, mut more) = (0, 0);
    for name in ["attic-starter", "barn-find", "pier-allrounder"] {
        for (place, axis) in Axis::EACH.into_iter().enumerate() {
            let example = examples::find(name).expect("an example");
            let mut state = open(example.build(&catalogue).expect("a build"), 80, 60);
            let downs = vec![Key::Down; 1 + place];
            press(
                &mut state,
                &[&[Key::BackTab][..], &downs, &[Key::Char('f')]].concat(),
            );
            let asked = question::faster(axis);
            let answer = state.what_if.answer(asked, &state.now).expect("an answer");
            let shown = page(&state, Glyphs::Unicode);
            let now = question::reaches_wish(state.build(), &state.now, axis);
            for (one, letter) in answer.alternatives.iter().zip('A'..) {
                let starts = format!("{letter}  ");
                let mut rows = shown.iter().map(|row| row.trim_start_matches(['>', ' ']));
                let Some(row) = rows.find(|row| row.starts_with(&starts)) else {
                    continue;
                };
                let reaches = question::reaches_wish(state.build(), &one.trial.after, axis);
                // The title names every row that does; a row says so too where it has room.
                let title = shown.iter().find(|row| row.contains("faster? "));
                let titled = title.is_some_and(|title| {
                    title.contains("reach") && title.contains(&format!(" {letter}"))
                });
                assert_eq!(titled, reaches && !now, "{row} below {title:?}");
                assert!(titled || !row.contains("reaches it"), "{row}");
                marked += usize::from(reaches && !now);
                more += usize::from(row.contains(" +"));
            }
        }
    }
    assert!(marked > 0 && more > 0, "{marked} {more}");
}

/// What saves only where one is there already stands under a line of its own and has no letter; the
/// key takes that one change and nothing above it.
#[test]
fn what_saves_only_if_owned_stands_apart() {
    let mut state = example();
    press(&mut state, &[Key::Char('l'), Key::Enter, Key::End]);
    let shown = text(&state);
    assert!(
        shown.contains("Only if it is so, each by itself:"),
        "{shown}"
    );
    let drop = question::find("a-fifth-less").expect("a question");
    let answer = state.what_if.answer(drop, &state.now).expect("an answer");
    let last = answer.alternatives.last().expect("a row").clone();
    assert!(last.title.starts_with("only if "), "{}", last.title);
    let rows = shown.lines().map(|row| row.trim_start_matches(['>', ' ']));
    let letters = rows.filter(|row| {
        let mut words = row.split_whitespace();
        let letter = words.next().is_some_and(|word| word.len() == 1);
        letter && words.next().is_some_and(|cell| cell.parse::<u32>().is_ok())
    });
    assert!(
        letters.count()
            <= answer
                .alternatives
                .iter()
                .filter(|one| !one.title.starts_with("only if "))
                .count()
    );
    let before = state.build().clone();
    press(&mut state, &[Key::Enter]);
    assert_eq!(
        gantrywright::build::edit::difference(&before, state.build()).len(),
        1
    );
}

/// The search says what it leaves alone and that cuts may become slower, and what was found how much
/// of a fifth it is.
#[test]
fn the_search_says_what_it_leaves_alone_and_how_far_it_goes() {
    let mut state = example();
    press(
        &mut state,
        &[Key::Char('l'), Key::Down, Key::Down, Key::Enter],
    );
    assert_eq!(state.place(), Place::Seek);
    let shown = page(&state, Glyphs::Unicode).join(" ");
    let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        shown.contains("frame, extras, computer and circuits stay"),
        "{shown}"
    );
    assert!(
        shown.contains("as well as now; it may be slower"),
        "{shown}"
    );
    let free = ["spindle", "vfd", "spindle_clamp", "cooler", "line_choke"];
    let free = free.map(|id| choices::find(id).expect("a choice"));
    state.seek.free = Some(free.to_vec());
    let reaction = update(&mut state, Message::Key(Key::Char('f')));
    let Some(Task::Start(job)) = &reaction.task else {
        panic!("{:?}", reaction.task);
    };
    job.run(&|| ());
    update(&mut state, Message::News);
    assert_eq!(state.place(), Place::Found);
    let shown = text(&state);
    assert!(
        shown.contains("% in all: no fifth") || shown.contains("% in all: a fifth"),
        "{shown}"
    );
}

/// What the text of a warning names and no key does says why, on its page and nowhere else.
#[test]
fn a_page_of_a_warning_says_why_a_change_is_not_offered() {
    let catalogue = library::load(&[]).expect("the shipped catalogue");
    let (mut stays, mut brings) = (0, 0);
    for example in examples::all() {
        let mut state = open(example.build(&catalogue).expect("a build"), 120, 60);
        press(&mut state, &[Key::Char('w')]);
        for _ in 0..state.about.topics().len() {
            assert!(state.remedy.unfit.is_empty());
            press(&mut state, &[Key::Enter]);
            let mut shown = text(&state);
            press(&mut state, &[Key::PageDown]);
            shown.push_str(&text(&state));
            let shown = shown.split_whitespace().collect::<Vec<_>>().join(" ");
            stays += usize::from(shown.contains("alone does not lift it."));
            brings += usize::from(shown.contains("That lifts it and brings another, "));
            let edits = &state.remedy.edits;
            let other = |id: &str| edits.iter().all(|edit| edit.choice.id != id);
            let untold = state.remedy.unfit.iter();
            let mut untold =
                untold.filter(|one| one.edits.iter().any(|edit| other(edit.choice.id)));
            assert_eq!(
                untold.next().is_some(),
                shown.contains("What was tried and is not offered"),
                "{shown}"
            );
            press(&mut state, &[Key::Esc, Key::Down]);
        }
    }
    assert!(stays > 0 && brings > 0, "{stays} {brings}");
}
