//! The dialogue without a terminal: lines in, text and tasks out.

use super::*;
use crate::assessment::assess;
use crate::build::choices::{self, Kind};
use crate::build::{Build, Edit, Value};
use crate::catalogue::Step;
use crate::store::{build_file, examples, library};
use crate::units::respell::Speller;
use crate::words::Words as _;
use rand::{RngExt as _, SeedableRng as _};
use rand_chacha::ChaCha8Rng;
use unicode_width::UnicodeWidthStr as _;

mod doing;

fn today() -> jiff::civil::Date {
    jiff::civil::date(2026, 11, 30)
}

fn session(example: Option<&str>) -> Session {
    let catalogue = library::over_built_in(Vec::new()).expect("the embedded catalogue");
    let example = example.map(|name| examples::find(name).expect("an example"));
    let build = example.as_ref().map_or_else(Build::default, |example| {
        example.build(&catalogue).expect("a build")
    });
    Session {
        original: example.map(|example| example.text().to_owned()),
        ..Session::new(catalogue, build, today(), crate::screen::ColorWish::Auto)
    }
}

fn talk(example: Option<&str>, live: bool) -> Talk {
    let way = Way {
        live,
        ..Way::plain()
    };
    Talk::new(session(example), way).expect("an assessment")
}

/// What is said to a line that asks for nothing outside.
fn hear(talk: &mut Talk, line: &str) -> String {
    let reply = talk.hear(line);
    assert!(reply.task.is_none(), "{line}");
    let said = reply.page.whole();
    for row in said.lines() {
        assert!(row.width() <= WIDTH, "{line}: {row}");
        assert!(!row.contains('\u{1b}'), "{line}: {row}");
    }
    said
}

/// What is said, with its lines joined.
fn flat(talk: &mut Talk, line: &str) -> String {
    let said = hear(talk, line);
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A value that a choice may take and does not have.
fn other(talk: &Talk, choice: &crate::build::Choice) -> Value {
    let now = (choice.get)(talk.build());
    match choice.kind {
        Kind::Parts(kind) => {
            let first = talk.catalogue.of_kind(kind).first().map(|part| *part.id());
            let all: Vec<_> = first.into_iter().collect();
            match now == Value::Parts(all.clone()) {
                true => Value::Parts(Vec::new()),
                false => Value::Parts(all),
            }
        }
        Kind::Number(kind) => {
            let ends = [kind.least, kind.most].map(|end| Value::Number(Some(end)));
            ends.into_iter().find(|end| *end != now).expect("another")
        }
        Kind::Amount => {
            let text = if now.to_string() == "4321 EUR" {
                "99 EUR"
            } else {
                "4321 EUR"
            };
            choice
                .parse(text, &talk.catalogue, None)
                .expect("an amount")
        }
        _ => {
            let mut options = choice.options(&talk.catalogue).into_iter();
            options.find(|option| *option != now).unwrap_or(now)
        }
    }
}

#[test]
fn every_choice_is_reached_from_its_step_and_set_there() {
    let mut talk = talk(None, false);
    let mut set = 0;
    for (number, &step) in Step::ALL.iter().enumerate() {
        for (place, choice) in choices::of_step(step).enumerate() {
            hear(&mut talk, "steps");
            hear(&mut talk, &(number + 1).to_string());
            let said = flat(&mut talk, &(place + 1).to_string());
            assert!(said.starts_with(choice.title), "{said}");
            assert!(
                said.contains(&choice.why.split_whitespace().collect::<Vec<_>>().join(" ")),
                "{said}"
            );
            let value = other(&talk, choice);
            let before = talk.build().clone();
            let wanted = Edit {
                choice,
                value: value.clone(),
            }
            .applied(&before);
            // What cannot be assessed, or could not be opened again, is refused; the rest is taken.
            let can = build_file::check_money(&wanted, &talk.catalogue).is_ok()
                && assess(&talk.catalogue, &wanted, today()).is_ok();
            let line = match choice.kind {
                Kind::Number(_) | Kind::Amount | Kind::Parts(_) => value.to_string(),
                _ => {
                    let options = choice.options(&talk.catalogue);
                    let at = options.iter().position(|option| *option == value);
                    (at.expect("listed") + 1).to_string()
                }
            };
            let said = flat(&mut talk, &line);
            assert_eq!(*talk.build() == wanted, can, "{}={line}: {said}", choice.id);
            if can && wanted != before {
                set += 1;
                assert!(
                    said.starts_with(&format!("{}: now ", choice.title)),
                    "{said}"
                );
                let back = flat(&mut talk, "undo");
                assert!(back.contains(choice.title), "{back}");
                assert_eq!(*talk.build(), before, "{}", choice.id);
            }
        }
    }
    // A site of another currency may have no other of its kind; all but a few can be changed.
    assert!(
        set + 3 > choices::all().len(),
        "{set} of {}",
        choices::all().len()
    );
}

#[test]
fn setting_straight_gives_what_an_edit_gives() {
    let mut talk = talk(Some("pier-allrounder"), false);
    for choice in choices::all() {
        let value = other(&talk, choice);
        let before = talk.build().clone();
        let wanted = Edit {
            choice,
            value: value.clone(),
        }
        .applied(&before);
        let said = flat(&mut talk, &format!("{} = {value}", choice.id));
        if *talk.build() != wanted {
            assert_eq!(*talk.build(), before, "{}", choice.id);
            assert!(said.starts_with("Not done: ") && talk.stumbled, "{said}");
        } else {
            let fresh = assess(&talk.catalogue, &wanted, today()).expect("assessed");
            assert_eq!(fresh.bill.total, talk.now.bill.total, "{}", choice.id);
            assert_eq!(fresh.findings, talk.now.findings, "{}", choice.id);
            talk.history.put(before);
            talk.hear("undo");
            hear(&mut talk, "undo");
        }
    }
}

#[test]
fn enter_walks_through_all_choices_and_changes_nothing() {
    let mut talk = talk(None, false);
    let mut seen = Vec::new();
    for _ in 0..choices::all().len() + 2 * Step::ALL.len() {
        hear(&mut talk, "");
        if let Place::Choice(choice) = talk.place() {
            seen.push(choice.id);
        }
    }
    let all: Vec<&str> = Step::ALL
        .iter()
        .flat_map(|&step| choices::of_step(step).map(|choice| choice.id))
        .collect();
    assert_eq!(seen[..all.len()], all);
    assert_eq!(*talk.build(), Build::default());
    assert!(!talk.stumbled);
}

#[test]
fn what_is_not_understood_is_said_and_asked_again() {
    let mut talk = talk(None, false);
    for (line, hint) in [
        ("9", "Type the number of a step"),
        ("0", "Type the number of a step"),
        ("wranings", "Did you mean warnings?"),
        ("travle_x_mm=800", "travel_x_mm"),
        ("travel_x_mm=99999999", "out of range"),
        ("why cost.likly", "cost.likely"),
        ("find", "find screw"),
        ("\u{1b}[2J", "help says all words"),
    ] {
        let before = talk.places.len();
        talk.stumbled = false;
        let said = flat(&mut talk, line);
        assert!(said.starts_with("Not understood: "), "{line}: {said}");
        assert!(said.contains(hint), "{line}: {said}");
        assert!(talk.stumbled && talk.places.len() == before, "{line}");
    }
    for line in ["undo", "redo", "lift", "accept because", "unaccept"] {
        talk.stumbled = false;
        assert!(flat(&mut talk, line).starts_with("Not done: "), "{line}");
        assert!(talk.stumbled, "{line}");
    }
    assert_eq!(*talk.build(), Build::default());
}

#[test]
fn a_checklist_takes_several_numbers() {
    let mut talk = talk(None, false);
    let choice = choices::find("materials").expect("known");
    hear(&mut talk, "materials=none");
    hear(&mut talk, "materials");
    hear(&mut talk, "1,3");
    let Value::Parts(two) = (choice.get)(talk.build()) else {
        panic!("a checklist")
    };
    assert_eq!(two.len(), 2);
    hear(&mut talk, "3 2");
    let Value::Parts(again) = (choice.get)(talk.build()) else {
        panic!("a checklist")
    };
    assert_eq!(again.len(), 2);
    assert!(again.contains(&two[0]) && !again.contains(&two[1]));
    assert!(flat(&mut talk, "1,999").starts_with("Not understood: 999"));
    assert!(
        matches!(talk.place(), Place::Choice(_)),
        "one stays for more"
    );
}

#[test]
fn warnings_are_opened_mended_and_accepted() {
    let mut talk = talk(Some("barn-find"), false);
    let mut mended = 0;
    for _ in 0..20 {
        hear(&mut talk, "warnings");
        let count = match talk.place() {
            Place::Warnings(listed) => listed.len(),
            other => panic!("{other:?}"),
        };
        let mut lifted = false;
        for number in 1..=count {
            hear(&mut talk, "warnings");
            let said = flat(&mut talk, &number.to_string());
            assert!(said.contains("Why it matters: ") && said.contains("Where it comes from: "));
            let promised = said.contains("Remedy: ");
            talk.stumbled = false;
            let said = flat(&mut talk, "lift");
            assert_eq!(promised, !said.starts_with("Not done"), "{said}");
            if promised {
                assert!(said.contains("Gone: "), "{said}");
                lifted = true;
                mended += 1;
                break;
            }
        }
        if !lifted {
            break;
        }
    }
    assert!(mended > 0);
    hear(&mut talk, "warnings");
    hear(&mut talk, "1");
    assert!(flat(&mut talk, "accept").contains("Why do you accept it?"));
    let said = flat(&mut talk, "why not, it is my own money");
    assert!(said.starts_with("Accepted"), "{said}");
    let note = |talk: &Talk| talk.build().accepted.values().last().cloned();
    assert_eq!(note(&talk).as_deref(), Some("why not, it is my own money"));
    assert!(flat(&mut talk, "list").contains("Accepted: why not"));
    hear(&mut talk, "unaccept");
    assert_ne!(note(&talk).as_deref(), Some("why not, it is my own money"));
}

#[test]
fn long_lists_come_in_parts_to_a_listener_and_whole_to_a_script() {
    let whole = {
        let mut talk = talk(None, false);
        let page = talk.hear("2").page;
        talk.said(page)
    };
    let mut talk = talk(None, true);
    let mut said = String::new();
    let mut page = talk.hear("2").page;
    loop {
        let part = talk.said(page);
        assert!(part.lines().count() <= 23, "{part}");
        let (part, more) = match part.strip_suffix("There is more: type more.\n") {
            Some(part) => (part.to_owned(), true),
            None => (part, false),
        };
        said.push_str(&part);
        if !more {
            break;
        }
        page = talk.hear("more").page;
    }
    assert_eq!(said, whole);
    assert_eq!(hear(&mut talk, "more"), "That was all.\n");
}

#[test]
fn leaving_asks_whoever_listens_and_never_a_script() {
    let mut script = talk(None, false);
    hear(&mut script, "travel_x_mm=777");
    assert_eq!(script.hear("quit").task, Some(Task::Leave));
    assert!(script.closing().whole().contains("Not saved."));
    let mut live = talk(None, true);
    assert_eq!(live.hear("quit").task, Some(Task::Leave));
    hear(&mut live, "travel_x_mm=777");
    assert!(flat(&mut live, "quit").contains("Not saved yet: Travel X."));
    assert!(flat(&mut live, "back").contains("Nothing was done"));
    hear(&mut live, "quit");
    assert_eq!(live.hear("3").task, Some(Task::Leave));
    hear(&mut live, "quit");
    assert!(flat(&mut live, "2").contains("Which file"));
    let task = live.hear("").task;
    let (path, replace, leave) = (PathBuf::from("new-machine.toml"), false, true);
    assert_eq!(
        task,
        Some(Task::Write {
            path,
            replace,
            leave
        })
    );
}

#[test]
fn whatever_is_typed_no_line_is_too_wide_and_nothing_steers_the_terminal() {
    let mut rng = ChaCha8Rng::seed_from_u64(6);
    let words: Vec<&str> = words::all().collect();
    let nasty = [
        "",
        "accept \u{1b}]0;x\u{7} \u{202e}because",
        "find \u{9b}2J",
        "save",
        "--",
        "=",
        "1,2,3,4",
        "999999999999999999999999",
        "\u{0}",
        "宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽宽",
    ];
    for _ in 0..40 {
        let mut talk = talk(Some("barn-find"), false);
        for _ in 0..12 {
            let line = match rng.random_range(0..10) {
                0..3 => words[rng.random_range(0..words.len())].to_owned(),
                3..7 => rng.random_range(0..40).to_string(),
                7..9 => choices::all()[rng.random_range(0..choices::all().len())]
                    .id
                    .to_owned(),
                _ => nasty[rng.random_range(0..nasty.len())].to_owned(),
            };
            let said = talk.hear(&line).page.whole();
            for row in said.lines() {
                assert!(row.width() <= WIDTH, "{line}: {row}");
                assert!(
                    !row.chars().any(crate::store::visible::is_hidden),
                    "{line}: {row:?}"
                );
            }
            assert!(
                !talk.prompt().is_empty() && talk.places.len() < 9,
                "{:?}",
                talk.places
            );
        }
    }
}
