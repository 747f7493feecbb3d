//! The page of the bill: what is listed, what is written down, what undo takes back.

use rust_decimal::Decimal;

use super::*;
use crate::build::purchases::Status;
use crate::screen::ledger::{Entry, Row, Show, Sort};

pub(super) const H: Key = Key::Char('h');
pub(super) const U: Key = Key::Char('u');

pub(super) fn amount(text: &str) -> Decimal {
    Decimal::from_str_exact(text).expect("an amount")
}

/// The bill, with the cursor on the only line of a part.
pub(super) fn on(part: &str) -> State {
    let mut state = start();
    press(&mut state, &[Key::Char('b')]);
    point(&mut state, part);
    state
}

pub(super) fn point(state: &mut State, part: &str) {
    let entries = state.ledger.entries();
    let is_part = |entry: &&Entry| matches!(entry, Entry::Part(id, _) if id.as_str() == part);
    let place = entries.iter().position(is_part);
    let place = place.expect("a line of it");
    press(state, &[Key::Home]);
    press(state, &vec![Key::Down; place]);
}

fn heads(state: &State) -> Vec<&str> {
    let rows = state.ledger.rows.iter();
    let heads = rows.filter_map(|row| match row {
        Row::Head(title, _) => Some(title.as_str()),
        Row::Entry(_) => None,
    });
    heads.collect()
}

pub(super) fn said(state: &State) -> &str {
    match &state.notice {
        Some(Notice::Done(text) | Notice::Failed(text) | Notice::Idle(text)) => text,
        None => "",
    }
}

#[test]
fn every_line_and_every_consignment_is_listed_once_in_every_order() {
    let mut state = start();
    press(&mut state, &[Key::Char('b')]);
    let count = state.now.bill.lines.len() + state.now.bill.consignments.len();
    for sort in Sort::ALL {
        assert_eq!(state.ledger.sort, *sort);
        assert_eq!(state.ledger.entries().len(), count, "{sort:?}");
        let sums: Decimal = state
            .ledger
            .rows
            .iter()
            .map(|row| match row {
                Row::Head(_, sum) => *sum,
                Row::Entry(_) => Decimal::ZERO,
            })
            .sum();
        if *sort != Sort::ByPrice {
            assert_eq!(sums, state.now.bill.total.likely, "{sort:?}");
        }
        press(&mut state, &[Key::Char('o')]);
    }
    assert_eq!(state.ledger.sort, Sort::ByStep, "round again");
}

#[test]
fn by_price_the_dearest_stands_first() {
    let mut state = start();
    press(&mut state, &[Key::Char('b'), Key::Down, Key::Down]);
    press(&mut state, &[Key::Char('o'), Key::Char('o')]);
    assert_eq!(state.ledger.cursor, 0, "a new order begins at its top");
    assert_eq!(state.ledger.sort, Sort::ByPrice);
    let likely: Vec<Decimal> = state
        .ledger
        .entries()
        .iter()
        .filter_map(|entry| entry.line(&state.now))
        .map(|line| line.total.likely)
        .collect();
    assert!(likely.is_sorted_by(|one, other| one >= other));
    assert!(heads(&state).is_empty());
}

#[test]
fn a_line_that_fits_no_longer_stays_under_the_cursor_until_it_moves_on() {
    let mut state = on("rail-15");
    press(&mut state, &[Key::Char('f')]);
    assert_eq!(state.ledger.show, Show::ToBuy);
    point(&mut state, "rail-15");
    let here = |state: &State| {
        let current = state.ledger.current();
        current.map(|entry| entry.id().to_string())
    };
    press(&mut state, &[H]);
    assert_eq!(here(&state).as_deref(), Some("rail-15"));
    // The same key again is about the same line: it takes the mark back.
    press(&mut state, &[H]);
    assert!(state.build().purchases.parts.is_empty());
    press(&mut state, &[H, Key::Down]);
    assert_ne!(here(&state).as_deref(), Some("rail-15"));
    let entries = state.ledger.entries();
    let gone = entries.iter().all(|entry| entry.id().as_str() != "rail-15");
    assert!(gone, "what is in hand is not to buy");
}

#[test]
fn the_filter_goes_round_and_lists_what_it_says() {
    let mut state = on("rail-15");
    press(&mut state, &[H, Key::Char('f')]);
    assert_eq!(state.ledger.show, Show::ToBuy);
    let listed = |state: &State| {
        let entries = state.ledger.entries();
        entries.iter().any(|entry| entry.id().as_str() == "rail-15")
    };
    assert!(!listed(&state), "what is in hand is not to buy");
    press(&mut state, &[Key::Char('f')]);
    assert_eq!(state.ledger.show, Show::FirstCut);
    assert!(listed(&state));
    press(&mut state, &[Key::Char('f')]);
    assert_eq!(state.ledger.show, Show::Workshop);
    let tools: Vec<_> = state.ledger.entries().into_iter().cloned().collect();
    let of_line = |entry: &Entry| entry.line(&state.now).cloned();
    assert!(tools.iter().filter_map(of_line).all(|line| line.shared));
    let has = |part: &str| tools.iter().any(|entry| entry.id().as_str() == part);
    assert!(has("tool-multimeter") && !has("rail-15"), "{tools:?}");
    press(&mut state, &[Key::Char('f')]);
    assert_eq!(state.ledger.show, Show::NoPrice);
    let entries = state.ledger.entries();
    let unpriced = entries.iter().filter_map(|entry| entry.line(&state.now));
    assert!(unpriced.into_iter().all(|line| line.price.is_none()));
    press(&mut state, &[Key::Char('f')]);
    assert_eq!(state.ledger.show, Show::All);
}

#[test]
fn words_are_looked_for_in_title_supplier_and_status() {
    let mut state = on("rail-15");
    press(&mut state, &[H, Key::Char('/')]);
    assert_eq!(state.place(), Place::BillFind);
    type_in(&mut state, "have it");
    assert_eq!(state.ledger.entries().len(), 1);
    // Letters are letters while a word is typed: nothing was marked.
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Bill);
    assert_eq!(state.ledger.entries().len(), 1);
    press(&mut state, &[Key::Char('/'), Key::Esc]);
    assert!(state.ledger.entries().len() > 50, "esc lists all again");
    press(&mut state, &[Key::Char('/')]);
    type_in(&mut state, "no such thing");
    assert!(state.ledger.current().is_none());
    press(&mut state, &[Key::Enter, Key::Enter, H]);
    assert_eq!(state.place(), Place::Bill, "nothing to open");
}

#[test]
fn having_it_costs_nothing_more_and_undo_says_so() {
    let mut state = on("rail-15");
    let before = state.build().clone();
    let cost = state.now.bill.total.likely;
    press(&mut state, &[H]);
    assert!(said(&state).starts_with("have it: "), "{}", said(&state));
    let line = state.now.bill.line("rail-15").expect("a line");
    assert_eq!((line.status, line.buy), (Status::HaveIt, Decimal::ZERO));
    assert!(state.now.bill.total.likely < cost);
    press(&mut state, &[U]);
    assert!(
        said(&state).starts_with("undone: have it: "),
        "{}",
        said(&state)
    );
    assert_eq!(*state.build(), before);
    // Again takes it back, without a trace.
    press(&mut state, &[H, H]);
    assert_eq!(*state.build(), before);
    assert_eq!(state.now.bill.total.likely, cost);
}

#[test]
fn keys_where_nothing_is_listed_do_no_harm() {
    let mut state = start();
    press(&mut state, &[Key::Char('b'), Key::Char('/')]);
    type_in(&mut state, "zzz");
    press(&mut state, &[Key::Enter]);
    let before = state.build().clone();
    let letters = "hpmtof".chars().map(Key::Char);
    let keys: Vec<Key> = letters.chain([Key::Enter, Key::Down, Key::End]).collect();
    press(&mut state, &keys);
    assert_eq!(state.place(), Place::Bill);
    assert_eq!(*state.build(), before);
}

#[test]
fn every_row_of_the_bill_explains_itself() {
    let mut state = start();
    press(&mut state, &[Key::Char('b')]);
    for _ in 0..state.ledger.entries().len() {
        press(&mut state, &[Key::Char('e')]);
        assert_eq!(state.place(), Place::Derivation, "{}", said(&state));
        press(&mut state, &[Key::Esc, Key::Down]);
    }
    press(&mut state, &[Key::Enter, Key::Char('e')]);
    assert_eq!(state.place(), Place::Derivation, "{}", said(&state));
}
