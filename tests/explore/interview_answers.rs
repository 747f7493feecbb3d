//! Answers of the interview as people type them: how they are read, and what is refused.

use crate::common::{catalogue, today};
use gantrywright::assessment::assess;
use gantrywright::build::Build;
use gantrywright::build::value::BadValue;
use gantrywright::explore::interview::{Answers, find, listed};

fn give(answers: &mut Answers, id: &str, text: &str) -> Result<(), BadValue> {
    let catalogue = catalogue();
    let prompt = find(id).expect("a question");
    let picks = listed(prompt, answers, &catalogue, today()).expect("assessed");
    answers.give(prompt, text, &catalogue, &picks)
}

#[test]
fn two_lengths_are_read_however_they_are_written() {
    for text in ["600x400", "600 x 400", "600 mm × 400 mm", " 600,0 X 400 "] {
        let mut answers = Answers::default();
        give(&mut answers, "size", text).unwrap_or_else(|error| panic!("{text}: {error}"));
        let prompt = find("size").expect("a question");
        assert_eq!(answers.typed(prompt), "600x400", "{text}");
    }
    for text in ["600", "600x", "600x400x50", "wide x deep"] {
        assert!(
            give(&mut Answers::default(), "size", text).is_err(),
            "{text}"
        );
    }
}

#[test]
fn what_is_listed_is_picked_by_name_or_number() {
    let (mut by_name, mut by_number) = (Answers::default(), Answers::default());
    give(&mut by_name, "materials", "hardwood, softwood").expect("names");
    give(&mut by_number, "materials", "2,1").expect("numbers");
    assert_eq!(by_name, by_number);
    give(&mut by_number, "socket", "3").expect("a number");
    assert_eq!(by_number.build().area.site.as_str(), "site-230v-10a");
    assert!(give(&mut by_number, "socket", "0").is_err());
}

#[test]
fn a_lone_amount_is_in_the_money_of_the_socket() {
    let mut answers = Answers::default();
    give(&mut answers, "socket", "site-120v-15a").expect("a socket");
    give(&mut answers, "budget", "7000").expect("an amount");
    let budget = answers.build().area.budget.expect("a budget");
    assert_eq!(budget.currency.code(), "USD");
}

#[test]
fn an_answer_is_taken_back_by_an_empty_one() {
    let mut answers = Answers::default();
    give(&mut answers, "quiet", "Yes").expect("yes");
    assert!(answers.is_quiet());
    assert!(give(&mut answers, "quiet", "loud").is_err());
    assert!(answers.is_quiet(), "a slip takes nothing back");
    give(&mut answers, "quiet", " ").expect("nothing");
    assert_eq!(answers, Answers::default());
    assert_eq!(answers.build(), Build::default());
}

#[test]
fn the_tools_are_those_of_the_bill() {
    let catalogue = catalogue();
    let prompt = find("tools").expect("a question");
    let ids = |answers: &Answers| -> Vec<String> {
        let picks = listed(prompt, answers, &catalogue, today()).expect("assessed");
        picks.into_iter().map(|one| one.id).collect()
    };
    let mut answers = Answers::default();
    let usual = ids(&answers);
    assert!(usual.iter().any(|id| id == "tool-caliper"));
    assert!(!usual.iter().any(|id| id == "tube-saw"));
    // Who saws at home is asked for the saw; who buys a printer, for the printer.
    give(&mut answers, "saw", "whole-bars").expect("a way");
    give(&mut answers, "printer", "printer-to-buy").expect("a way");
    let more = ids(&answers);
    for id in ["tube-saw", "tool-3d-printer"] {
        assert!(more.iter().any(|one| one == id), "{id}: {more:?}");
    }
    give(&mut answers, "tools", "all").expect("all");
    let bill = assess(&catalogue, &answers.build(), today())
        .expect("assessed")
        .bill;
    let bought = bill
        .lines
        .iter()
        .filter(|line| line.shared && !line.buy.is_zero());
    assert_eq!(bought.count(), 0);
}
