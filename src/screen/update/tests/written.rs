//! What is written down about lines of the bill: prices, payments, status, supplier, the rest.

use rust_decimal::Decimal;

use super::ledger::{H, U, amount, on, point, said};
use super::*;
use crate::build::purchases::Status;
use crate::catalogue::prices::{Basis, OnTop};
use crate::money::{Currency, Money};
use crate::screen::ledger::{Asked, Entry};
use crate::store::build_file;

#[test]
fn a_price_is_appended_and_the_older_one_kept() {
    let mut state = on("rail-15");
    press(&mut state, &[Key::Enter, Key::Char('p')]);
    type_in(&mut state, "26,40");
    press(&mut state, &[Key::Tab, Key::Tab]);
    type_in(&mut state, "18.12.2026");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Entry, "back on the line");
    press(&mut state, &[Key::Char('p')]);
    type_in(&mut state, "25.10 EUR");
    press(&mut state, &[Key::Enter]);
    let id = crate::catalogue::Id::new("rail-15").expect("an id");
    let quotes = &state.build().purchases.of(&id).expect("a purchase").quotes;
    assert_eq!(quotes.len(), 2);
    assert_eq!(quotes[0].price, Money::new(amount("26.40"), Currency::EUR));
    assert_eq!(quotes[0].date, state.today);
    assert_eq!(quotes[0].valid_until, Some(jiff::civil::date(2026, 12, 18)));
    assert_eq!(quotes[1].price, Money::new(amount("25.10"), Currency::EUR));
    let line = state.now.bill.line("rail-15").expect("a line");
    let price = line.price.as_ref().expect("a price");
    assert_eq!(
        (price.basis, price.range.likely),
        (Basis::Quote, amount("25.10"))
    );
    assert_eq!(line.status, Status::Quoted);
    press(&mut state, &[U]);
    assert!(
        said(&state).starts_with("undone: price: "),
        "{}",
        said(&state)
    );
}

#[test]
fn what_cannot_be_read_is_refused_and_the_form_stays() {
    let mut state = on("rail-15");
    let before = state.build().clone();
    press(&mut state, &[Key::Char('p'), Key::Enter]);
    assert!(said(&state).contains("type the price"), "{}", said(&state));
    type_in(&mut state, "26,40");
    press(&mut state, &[Key::Tab]);
    type_in(&mut state, "soon");
    press(&mut state, &[Key::Tab, Key::Enter]);
    assert!(said(&state).contains("is not a day"), "{}", said(&state));
    let Some(Layer::Form(form)) = state.layers.last() else {
        panic!("the form is gone");
    };
    assert_eq!(form.at, 1, "the field that is wrong");
    // An offer that ends before it begins.
    press(&mut state, &[Key::Ctrl('u')]);
    type_in(&mut state, "2026-11-20");
    press(&mut state, &[Key::Tab]);
    type_in(&mut state, "5.11.2026");
    press(&mut state, &[Key::BackTab, Key::Enter]);
    assert!(said(&state).contains("before it was"), "{}", said(&state));
    let Some(Layer::Form(form)) = state.layers.last() else {
        panic!("the form is gone");
    };
    assert_eq!(form.at, 2, "the field that is wrong");
    press(&mut state, &[Key::Ctrl('u'), Key::BackTab]);
    // A currency without a rate anywhere.
    press(&mut state, &[Key::Ctrl('u')]);
    type_in(&mut state, "2026-11-20");
    press(&mut state, &[Key::BackTab, Key::Ctrl('u')]);
    type_in(&mut state, "26 CHF");
    press(&mut state, &[Key::Enter]);
    assert!(said(&state).contains("CHF"), "{}", said(&state));
    assert_eq!(state.place(), Place::Form);
    press(&mut state, &[Key::Esc]);
    assert_eq!(*state.build(), before);
}

#[test]
fn a_payment_starts_with_what_is_open_and_a_deposit_leaves_the_rest() {
    let mut state = on("rail-15");
    let likely = state.now.bill.line("rail-15").expect("a line").total.likely;
    press(&mut state, &[Key::Char('m')]);
    type_in(&mut state, "10");
    press(&mut state, &[Key::Tab, Key::Tab, Key::Right, Key::Enter]);
    let line = state.now.bill.line("rail-15").expect("a line");
    assert_eq!((line.paid, line.total.likely), (amount("10"), likely));
    assert_eq!(state.now.bill.spent, amount("10"));
    // Nobody pays for what is still to buy.
    assert_eq!(line.status, Status::Ordered);
    assert!(said(&state).contains("status ordered"), "{}", said(&state));
    press(&mut state, &[Key::Char('m'), Key::Enter]);
    let id = crate::catalogue::Id::new("rail-15").expect("an id");
    let payments = &state
        .build()
        .purchases
        .of(&id)
        .expect("a purchase")
        .payments;
    assert_eq!(payments.len(), 2);
    assert!(payments[0].part_payment && !payments[1].part_payment);
    assert_eq!(payments[1].amount.amount, likely - amount("10"));
    let line = state.now.bill.line("rail-15").expect("a line");
    assert_eq!(line.paid, likely);
    press(&mut state, &[U]);
    assert!(
        said(&state).starts_with("undone: payment: "),
        "{}",
        said(&state)
    );
}

#[test]
fn freight_duty_and_tax_are_paid_by_supplier() {
    let mut state = start();
    press(&mut state, &[Key::Char('b'), Key::End]);
    let Some(Entry::Way(id)) = state.ledger.current().cloned() else {
        panic!("the last row is no consignment");
    };
    let before = state.build().clone();
    // It can neither lie in the workshop nor have a price.
    press(&mut state, &[H, Key::Char('p'), Key::Char('t')]);
    assert_eq!(state.place(), Place::Bill);
    assert_eq!(*state.build(), before);
    press(&mut state, &[Key::Enter, Key::Char('m')]);
    type_in(&mut state, "12,34");
    press(&mut state, &[Key::Tab, Key::Right, Key::Right, Key::Enter]);
    let paid = &state.build().purchases.consignments[&id].payments;
    assert_eq!(paid.len(), 1);
    assert_eq!(paid[0].what, Some(OnTop::Tax));
    assert_eq!(state.now.bill.spent, amount("12.34"));
    press(&mut state, &[U]);
    assert!(
        said(&state).contains("payment: On top: "),
        "{}",
        said(&state)
    );
    assert_eq!(*state.build(), before);
}

#[test]
fn the_amount_to_pay_follows_what_it_is_for_until_one_is_typed() {
    let mut state = start();
    press(&mut state, &[Key::Char('b'), Key::Char('/')]);
    type_in(&mut state, "on top abroad");
    press(&mut state, &[Key::Enter, Key::Char('m')]);
    let shown = |state: &State| match state.layers.last() {
        Some(Layer::Form(form)) => form.fields[0].shown().to_owned(),
        _ => panic!("no form"),
    };
    let one = state.now.bill.consignments.iter();
    let entry = state.ledger.current().expect("a line").clone();
    let one = one
        .clone()
        .find(|one| one.supplier == *entry.id())
        .expect("it");
    let (freight, duty) = (one.freight.likely, one.duty.likely);
    assert_eq!(shown(&state), format!("{freight} EUR"));
    press(&mut state, &[Key::Tab, Key::Right]);
    assert_eq!(shown(&state), format!("{duty} EUR"));
    press(&mut state, &[Key::BackTab]);
    type_in(&mut state, "7");
    press(&mut state, &[Key::Tab, Key::Left]);
    assert_eq!(shown(&state), "7");
}

#[test]
fn a_status_is_picked_and_an_order_has_its_day() {
    let mut state = on("rail-15");
    let before = state.build().clone();
    press(
        &mut state,
        &[Key::Char('t'), Key::Down, Key::Down, Key::Down, Key::Enter],
    );
    let id = crate::catalogue::Id::new("rail-15").expect("an id");
    let purchase = state.build().purchases.of(&id).expect("a purchase");
    assert_eq!(purchase.status, Some(Status::Ordered));
    assert_eq!(purchase.ordered_on, Some(state.today));
    assert_eq!(
        purchase.ordered,
        state.now.bill.line("rail-15").map(|line| line.buy)
    );
    // What is ordered is not in hand by a key pressed too much.
    press(&mut state, &[H]);
    assert!(said(&state).contains("ordered already"), "{}", said(&state));
    press(&mut state, &[U]);
    assert!(said(&state).contains("status ordered"), "{}", said(&state));
    assert_eq!(*state.build(), before);
    press(&mut state, &[Key::Char('t'), Key::Enter]);
    assert_eq!(*state.build(), before, "to buy leaves no trace");
}

#[test]
fn a_supplier_that_is_picked_sends_the_parcel() {
    let mut state = on("rail-15");
    press(&mut state, &[Key::Enter]);
    let place = Entry::Part(
        crate::catalogue::Id::new("rail-15").expect("an id"),
        Step::Drive,
    );
    let asked = place.asked(state.build());
    let at = asked.iter().position(|one| *one == Asked::Supplier);
    press(&mut state, &vec![Key::Down; at.expect("a field")]);
    press(&mut state, &[Key::Enter, Key::Down, Key::Enter]);
    let first = state.catalogue.suppliers.keys().next().expect("a supplier");
    let line = state.now.bill.line("rail-15").expect("a line");
    let price = line.price.as_ref().expect("a price");
    assert_eq!(price.supplier.as_ref(), Some(first));
    let entry = place.consignment(&state.now).expect("a consignment");
    assert_eq!(entry.supplier, *first);
}

#[test]
fn what_was_paid_for_stays_on_the_page_when_choices_change() {
    let mut state = start();
    let extractor = state.build().extras.extractor.expect("one");
    press(&mut state, &[Key::Char('b')]);
    point(&mut state, extractor.as_str());
    press(&mut state, &[Key::Char('m'), Key::Enter]);
    let spent = state.now.bill.spent;
    assert!(spent > Decimal::ZERO);
    let none = Edit::parse("extractor", "none", &state.catalogue).expect("an edit");
    assert!(take(&mut state, &[none]));
    refresh(&mut state);
    press(&mut state, &[Key::End]);
    assert_eq!(state.ledger.current(), Some(&Entry::Unused(extractor)));
    assert_eq!(state.now.bill.spent, spent);
    // What came back is written down on its page, and the rest stands on the books.
    press(&mut state, &[Key::Enter, Key::Char('m')]);
    type_in(&mut state, "-5");
    press(&mut state, &[Key::Enter]);
    assert_eq!(state.place(), Place::Entry);
    assert_eq!(state.now.bill.spent, spent - Decimal::from(5));
}

#[test]
fn what_is_written_down_survives_saving() {
    let mut state = on("rail-15");
    press(&mut state, &[Key::Char('p')]);
    type_in(&mut state, "26,40 USD");
    press(&mut state, &[Key::Enter, Key::Char('m'), Key::Enter]);
    press(&mut state, &[Key::Enter, Key::End]);
    let stops = [Asked::Have, Asked::Order, Asked::Expected, Asked::Note];
    let entry = state.ledger.current().cloned().expect("a line");
    for (asked, text) in stops
        .into_iter()
        .zip(["2,5", "17/b", "2026-12-10", "under the \"bench\""])
    {
        let at = entry
            .asked(state.build())
            .iter()
            .position(|one| *one == asked);
        press(&mut state, &[Key::Home]);
        press(&mut state, &vec![Key::Down; at.expect("a field")]);
        press(&mut state, &[Key::Enter]);
        type_in(&mut state, text);
        press(&mut state, &[Key::Enter]);
        assert_eq!(state.place(), Place::Entry, "{}", said(&state));
    }
    let text = build_file::write(None, state.build());
    let read = build_file::read(&text, "", &state.catalogue).expect("a build");
    assert_eq!(read, *state.build(), "{text}");
}

#[test]
fn saving_and_leaving_know_what_was_written_down() {
    let mut state = on("rail-15");
    press(&mut state, &[H]);
    assert!(state.is_unsaved());
    press(&mut state, &[Key::Char('s')]);
    assert_eq!(state.place(), Place::Name);
}

#[test]
fn a_part_of_an_order_arrives_and_then_the_rest() {
    let mut state = on("rail-15");
    press(&mut state, &[Key::Char('m'), Key::Enter]);
    let bought = state.now.bill.line("rail-15").expect("a line").buy;
    assert!(bought > Decimal::ONE, "some can arrive before the others");
    // The page of the line: to its field of what arrived, the last but one.
    press(&mut state, &[Key::Enter]);
    let Some(Layer::Entry(entry, _)) = state.layers.last().cloned() else {
        panic!("the page of the line is not open");
    };
    let asked = entry.asked(state.build());
    let place = asked.iter().position(|one| *one == Asked::Arrived);
    press(&mut state, &vec![Key::Down; place.expect("a field for it")]);
    let arrives = |state: &mut State, amount: &str| {
        press(state, &[Key::Enter, Key::Ctrl('u')]);
        type_in(state, amount);
        press(state, &[Key::Enter]);
        let bill = &state.now.bill;
        bill.line("rail-15").expect("a line").status
    };
    assert_eq!(arrives(&mut state, "1"), Status::PartArrived);
    assert_eq!(arrives(&mut state, "0"), Status::Ordered);
    assert_eq!(arrives(&mut state, &bought.to_string()), Status::Arrived);
    let purchase = &state.build().purchases.parts["rail-15"];
    assert_eq!(purchase.received, Some(bought));
    press(&mut state, &[U]);
    assert!(
        said(&state).starts_with("undone: status arrived: 15 mm"),
        "{}",
        said(&state)
    );
    // What was found faulty stays so, however much of it arrived.
    let mut build = state.build().clone();
    build.purchases.parts["rail-15"].status = Some(Status::Faulty);
    super::super::put(&mut state, build);
    assert_eq!(arrives(&mut state, "1"), Status::Faulty);
}

#[test]
fn an_order_keeps_its_sender_when_somebody_else_offers_later() {
    let mut state = on("rail-15");
    let sender = |state: &State| {
        let line = state.now.bill.line("rail-15").expect("a line");
        line.price.as_ref().and_then(|price| price.supplier)
    };
    let first = sender(&state);
    assert!(first.is_some());
    press(&mut state, &[Key::Char('m'), Key::Enter, Key::Char('p')]);
    type_in(&mut state, "12");
    // Another seller than the one that the form begins with.
    press(
        &mut state,
        &[Key::Tab, Key::Tab, Key::Tab, Key::Left, Key::Enter],
    );
    let purchase = &state.build().purchases.parts["rail-15"];
    assert_ne!(purchase.quotes[0].supplier, first);
    assert_eq!(sender(&state), first);
}
