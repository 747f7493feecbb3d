//! What is done beside the five steps: questions, the cheapest build, variants, payments.

use super::*;
use crate::explore::find::Request;
use crate::explore::question;
use crate::units::{Marks, Shown};

/// Every question is answered by number; what is taken is the build that the answer tells of.
#[test]
fn questions_are_answered_and_a_way_to_go_is_taken() {
    let mut talk = talk(Some("pier-allrounder"), false);
    let first = talk.build().clone();
    let (mut taken, mut apart) = (0, 0);
    for (place, asked) in question::all().enumerate() {
        let said = flat(&mut talk, "questions");
        assert!(said.contains(asked.title), "{said}");
        let said = flat(&mut talk, &(place + 1).to_string());
        assert!(said.starts_with(asked.title), "{said}");
        let answer = asked.answer(&talk.bench());
        let Some(one) = answer.alternatives.last().cloned() else {
            assert!(said.contains("It does not arise: "), "{said}");
            apart += 1;
            continue;
        };
        let number = answer.alternatives.len().to_string();
        talk.stumbled = false;
        let said = flat(&mut talk, &number);
        let can = build_file::check_money(&one.trial.build, &talk.catalogue).is_ok();
        assert_eq!(
            *talk.build() == one.trial.build,
            can,
            "{}: {said}",
            asked.id
        );
        if can {
            assert_eq!(talk.now.bill.total, one.trial.after.bill.total);
            hear(&mut talk, "undo");
            taken += 1;
        }
        assert_eq!(*talk.build(), first, "{}", asked.id);
    }
    assert_eq!(taken + apart, question::all().count());
    assert!(taken > 8, "{taken}");
    // What was offered for another build is not taken.
    hear(&mut talk, "questions");
    hear(&mut talk, "1");
    hear(&mut talk, "travel_x_mm=810");
    let before = talk.build().clone();
    assert!(flat(&mut talk, "1").starts_with("Not done: the build was changed"));
    assert_eq!(*talk.build(), before);
}

#[test]
fn the_cheapest_is_sought_told_and_taken() {
    let mut talk = talk(Some("pier-allrounder"), false);
    let before = talk.now.bill.total.likely;
    assert!(flat(&mut talk, "cheapest").contains("rapids>=8"));
    let reply = talk.hear("rapids>=5, cautions<=3");
    let Some(Task::Search(targets)) = reply.task else {
        panic!("a search")
    };
    assert_eq!(targets.len(), 2);
    // The same with two choices free, which take no minute.
    let free = ["guide_x", "guide_y"].map(|id| choices::find(id).expect("known"));
    let request = Request {
        free: free.to_vec(),
        ..talk.request(targets)
    };
    let page = talk.searched(&request).whole();
    assert!(page.contains("The cheapest build that does it"), "{page}");
    let said = flat(&mut talk, "1");
    assert!(said.starts_with("Taken: the cheapest."), "{said}");
    assert!(talk.now.bill.total.likely < before, "{said}");
    let fresh = assess(&talk.catalogue, talk.build(), today()).expect("assessed");
    assert_eq!(fresh.bill.total, talk.now.bill.total);
    for line in ["cheapest rapids", "cheapest speed>=3", "cheapest rapids<=8"] {
        let said = flat(&mut talk, line);
        assert!(said.starts_with("Not understood: "), "{line}: {said}");
    }
}

#[test]
fn variants_are_listed_opened_and_cloned() {
    let mut talk = talk(Some("pier-allrounder"), false);
    let main = talk.build().clone();
    let names: Vec<String> = main.variant_names().iter().map(|&n| n.to_owned()).collect();
    let said = flat(&mut talk, "variants");
    for name in &names {
        assert!(said.contains(name.as_str()), "{name}: {said}");
    }
    assert!(flat(&mut talk, "2").starts_with(&format!("Open now: {}.", names[1])));
    assert_eq!(*talk.build(), main.switched(&names[1]).expect("another"));
    assert!(flat(&mut talk, "clone main").starts_with("Not done: "));
    hear(&mut talk, "clone");
    assert!(flat(&mut talk, "lighter one").starts_with("New and open now: lighter one"));
    assert_eq!(talk.build().variant(), "lighter one");
    assert_eq!(talk.build().came_from("lighter one"), Some(&*names[1]));
    hear(&mut talk, "undo");
    hear(&mut talk, "undo");
    assert_eq!(*talk.build(), main);
}

/// Worked by hand: what was open is paid, and counts as spent to the cent.
#[test]
fn a_payment_is_asked_for_step_by_step() {
    let mut talk = talk(Some("pier-allrounder"), false);
    let before = talk.build().clone();
    hear(&mut talk, "paid ball screw");
    let Place::Paid(listed) = talk.place().clone() else {
        panic!("lines")
    };
    let open = listed[0].line(&talk.now).expect("a line").total.likely;
    assert!(flat(&mut talk, "1").contains("how much was paid?"));
    assert!(flat(&mut talk, "a lot").starts_with("Not understood: "));
    assert!(flat(&mut talk, "").contains("On which day?"));
    assert!(flat(&mut talk, "yesterday").starts_with("Not understood: "));
    assert!(flat(&mut talk, "").contains("Is that all of it?"));
    let said = flat(&mut talk, "1");
    assert!(said.contains("status ordered"), "{said}");
    let purchase = talk.build().purchases.of(listed[0].id()).expect("written");
    assert!(purchase.is_paid());
    assert_eq!(purchase.payments[0].date, today());
    assert_eq!(talk.now.bill.spent, crate::units::show::rounded(open, 2));
    hear(&mut talk, "undo");
    assert_eq!(*talk.build(), before);
    // A deposit leaves a rest, and back leaves the question.
    hear(&mut talk, "paid ball screw");
    for line in ["1", "50 EUR", "2026-11-29", "2"] {
        hear(&mut talk, line);
    }
    let purchase = talk.build().purchases.of(listed[0].id()).expect("written");
    assert!(!purchase.is_paid());
    hear(&mut talk, "paid ball screw");
    hear(&mut talk, "1");
    assert_eq!(flat(&mut talk, "back"), "Nothing was done.");
    assert!(matches!(talk.place(), Place::Paid(_)));
}

/// The language of the terminal moves what is said, never what is written to a file.
#[test]
fn a_sheet_in_a_file_has_the_marks_of_files() {
    let marks = Marks::new(',', Some('.')).expect("marks");
    let shown = Shown {
        marks,
        ..Shown::PLAIN
    };
    let mut talk = talk(Some("pier-allrounder"), true);
    talk.way.speller = Speller::new(shown, talk.catalogue.names());
    hear(&mut talk, "sheets");
    hear(&mut talk, "1");
    let reply = talk.hear("list.md");
    let Some(Task::Sheet { sheet, path, .. }) = reply.task else {
        panic!("a sheet")
    };
    assert_eq!(sheet, (SheetKind::Parts, Format::Markdown));
    assert_eq!(path, Path::new("list.md"));
    let text = String::from_utf8(talk.sheet(sheet).expect("a sheet")).expect("text");
    let row = text.lines().find(|line| line.contains("Likely cost"));
    let row = row.expect("what it comes to");
    assert!(row.contains('.') && !row.contains(','), "{row}");
}
