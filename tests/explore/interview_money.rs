//! What the interview says of money and what is owned, each held against a fresh `assess`.

use std::ops::ControlFlow;

use crate::common::{catalogue, today};
use crate::talk::{answers, free};
use gantrywright::assessment::assess;
use gantrywright::build::purchases::Status;
use gantrywright::build::{Build, choices, edit};
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::explore::interview::{
    Answers, Lesser, Outlook, Proposal, find, lesser, listed, outlook, plan, propose, told,
};
use gantrywright::explore::reading::Reading;
use gantrywright::rules::Finding;
use rust_decimal::Decimal;

pub(crate) fn looked(catalogue: &Catalogue, answers: &Answers) -> Outlook {
    let mut on = || ControlFlow::Continue(());
    outlook(catalogue, answers, &free(), today(), &|_| true, &mut on)
        .expect("assessed")
        .expect("not stopped")
}

pub(crate) fn proposed(catalogue: &Catalogue, given: &[(&str, &str)], more: &[&str]) -> Proposal {
    let mut free = free();
    free.extend(more.iter().map(|id| choices::find(id).expect("a choice")));
    let plan = plan(catalogue, &answers(catalogue, given), &free, today()).expect("a plan");
    propose(catalogue, plan, today(), &mut |_, _| {
        ControlFlow::Continue(())
    })
    .expect("builds")
}

/// A machine for aluminium in a garage that freezes.
pub(crate) const GARAGE: &[(&str, &str)] = &[
    ("materials", "softwood,aluminium-6082"),
    ("size", "600x400"),
    ("frost", "yes"),
];

#[test]
fn money_that_does_not_do_is_said_with_what_would_help() {
    let catalogue = catalogue();
    let mut said = answers(&catalogue, &[("size", "1500x1500")]);
    let seen = looked(&catalogue, &said);
    let bare = seen.bare.expect("a build");
    assert!(seen.cheapest.expect("a build").likely >= bare);
    assert_eq!((seen.money, seen.missing()), (None, None));
    let size = find("size").expect("a question");
    let share = seen.share(size).expect("a share");
    assert!(
        share > Decimal::ZERO,
        "a larger machine costs more: {share}"
    );
    // With less money than it costs without remedies, as much is missing as it costs with them;
    // with as much, none is, and only those are made that it pays for.
    let budget = find("budget").expect("a question");
    for (money, is_short) in [(bare - Decimal::ONE, true), (bare, false)] {
        said.give(budget, &format!("{money} EUR"), &catalogue, &[])
            .expect("an amount");
        let seen = looked(&catalogue, &said);
        let cost = seen.cheapest.expect("a build").likely;
        assert_eq!(seen.missing(), is_short.then(|| cost - money));
        let lines = told::outlook(&seen);
        assert_eq!(lines.len(), 1 + usize::from(is_short), "{lines:?}");
        let helps = !is_short || lines[1].contains("\"largest piece\"");
        assert!(helps, "{lines:?}");
    }
}

pub(crate) fn bought(catalogue: &Catalogue, answers: &Answers) -> Vec<Lesser> {
    let mut on = || ControlFlow::Continue(());
    lesser(catalogue, answers, &free(), today(), None, &mut on)
        .expect("assessed")
        .expect("not stopped")
}

/// A machine for aluminium that is larger than the money.
const LARGE: &[(&str, &str)] = &[
    ("materials", "softwood,aluminium-6082"),
    ("size", "1500x1500"),
];

/// Where the money does not do, each answer that can give way alone is told with a build that
/// exists, does all else that was asked, and stays within the money.
#[test]
fn what_the_money_buys_is_told_answer_by_answer() {
    let catalogue = catalogue();
    let mut said = answers(&catalogue, LARGE);
    assert!(bought(&catalogue, &said).is_empty(), "no money was named");
    let cheapest = looked(&catalogue, &said).bare.expect("a build");
    let money = (cheapest - Decimal::from(120)).trunc();
    let budget = find("budget").expect("a question");
    said.give(budget, &format!("{money} EUR"), &catalogue, &[])
        .expect("an amount");
    let all = bought(&catalogue, &said);
    let size = all.iter().find(|one| one.gives[0].id == "size");
    let size = size.expect("a smaller piece");
    for one in &all {
        assert!(one.fits() && one.gives.len() == 1, "{:?}", one.gives);
        let fresh = assess(&catalogue, &one.answer.build, today()).expect("assessed");
        assert_eq!(fresh.bill.total.likely, one.answer.reading.cost.likely);
        assert!(fresh.bill.total.likely <= money && !fresh.is_unsound());
        let plan = plan(&catalogue, &one.answers, &free(), today()).expect("a plan");
        let reading = Reading::of(&fresh);
        for wanted in &plan.wanted {
            assert!(wanted.target.is_met(&fresh, &reading), "{wanted:?}");
        }
        // All other answers stand.
        for edit in said.edits().filter(|edit| edit.choice.id != "budget") {
            let prompt = one.gives[0];
            let gave = prompt.choices().any(|choice| choice.id == edit.choice.id);
            let is = (edit.choice.get)(&one.answer.build);
            assert!(gave || is == edit.value, "{}", edit.choice.id);
        }
    }
    let area = &size.answer.build.area;
    let length = gantrywright::units::mm::from(area.travel.x);
    assert!((450.0..1500.0).contains(&length), "{length}");
    let lines = told::all_lesser(&all, &said, &catalogue).join(" ");
    assert!(lines.contains("instead of 1 500 mm x 1 500 mm"), "{lines}");
    assert!(lines.contains("not proven"), "{lines}");
    let prompt = find("size").expect("a question");
    let line = told::gives_way(&all, prompt, &said, &catalogue).expect("a line");
    assert!(line.starts_with("What your money buys: "), "{line}");
}

/// Money for which nothing is found: the least that was tried is told, as no more than that.
#[test]
fn money_for_nothing_is_said_to_be_that() {
    let catalogue = catalogue();
    let mut said = answers(&catalogue, LARGE);
    let budget = find("budget").expect("a question");
    said.give(budget, "300 EUR", &catalogue, &[])
        .expect("an amount");
    let all = bought(&catalogue, &said);
    let [alone @ .., least] = all.as_slice() else {
        panic!("{all:?}");
    };
    assert!(!least.fits() && least.gives.len() > 1);
    // What each answer saves alone stands before it, the cheapest first.
    let cost = |one: &Lesser| one.answer.reading.cost.likely;
    assert!(!alone.is_empty() && alone.is_sorted_by_key(cost));
    for one in alone {
        assert!(!one.fits() && one.gives.len() == 1, "{:?}", one.gives);
        assert!(cost(one) > cost(least), "{:?}", one.gives);
    }
    // Nobody is told of a machine half the size of what was asked for, or less.
    let width = gantrywright::units::mm::from(least.answer.build.area.travel.x);
    assert!(width >= 750.0, "{width}");
    let lines = told::all_lesser(&all, &said, &catalogue);
    assert!(lines[0].starts_with("Nothing was found"), "{lines:?}");
    let mut off = || ControlFlow::Break(());
    let stopped = lesser(&catalogue, &said, &free(), today(), None, &mut off).expect("assessed");
    assert!(stopped.is_none());
}

/// The search says the same at its end, and what the money buys can be opened.
#[test]
fn what_the_money_buys_stands_beside_what_it_does_not_and_opens() {
    let catalogue = catalogue();
    let said = answers(&catalogue, LARGE);
    let cheapest = looked(&catalogue, &said).bare.expect("a build");
    let money = format!("{} EUR", (cheapest - Decimal::from(400)).trunc());
    let given: Vec<(&str, &str)> = LARGE
        .iter()
        .copied()
        .chain([("budget", money.as_str())])
        .collect();
    let found = proposed(&catalogue, &given, &[]);
    assert!(found.offers[0].fit().is_none());
    let said = answers(&catalogue, &given);
    let lines = told::offer(&found, &found.offers[0], &said, &catalogue);
    assert!(
        lines.iter().any(|(label, _)| *label == "money buys"),
        "{lines:?}"
    );
    // What is told to save is one change of the nearest build, leaves every answer and limit as it
    // is, saves what is said, and brings nothing to warn of.
    let (offer, near) = (&found.offers[0], found.offers[0].build().expect("a build"));
    let savings = &offer.near.as_ref().expect("what is near").savings;
    assert!(!savings.is_empty());
    for (change, saved) in savings {
        assert!(said.edits().all(|edit| edit.choice.id != change.choice.id));
        let fresh = assess(&catalogue, &change.applied(&near.build), today()).expect("assessed");
        assert_eq!(near.reading.cost.likely - fresh.bill.total.likely, *saved);
        let is_new = |one: &Finding| {
            let mut known = near.assessment.findings.iter();
            known.all(|was| (&was.rule, was.axis) != (&one.rule, one.axis))
        };
        assert!(!fresh.findings.iter().any(is_new), "{change:?}");
        let reading = Reading::of(&fresh);
        for limit in offer.searched.wanted.iter().map(|one| &one.target) {
            let met = limit.is_met(&fresh, &reading);
            assert!(met || limit.is_money(), "{change:?}: {limit:?}");
        }
    }
    let told = lines.iter().find(|(label, _)| *label == "cheaper");
    let (_, told) = told.expect("the first of the savings");
    assert!(told.ends_with("and brings no new warning"), "{told}");
    assert!(found.lesser.iter().all(|one| one.fits()));
    for (place, one) in found.lesser.iter().enumerate() {
        let taken = found.taken_lesser(place).expect("a build");
        let budget = taken.area.budget.expect("the money stays");
        assert_eq!(format!("{} EUR", budget.amount), money);
        let mut bare = taken.clone();
        bare.area.budget = None;
        assert!(edit::difference(&one.answer.build, &bare).is_empty());
        let lines = told::lesser(&found, one, &said, &catalogue);
        assert_eq!(lines[0].0, "gives way");
    }
    // Where the money does, nothing need give way.
    let found = proposed(&catalogue, LARGE, &[]);
    assert!(found.lesser.is_empty());
}

#[test]
fn what_is_owned_is_on_the_bill_and_costs_nothing() {
    let catalogue = catalogue();
    let prompt = find("tools").expect("a question");
    let picks = listed(prompt, &Answers::default(), &catalogue, today()).expect("assessed");
    let first: Vec<&str> = picks.iter().take(3).map(|one| one.id.as_str()).collect();
    assert_eq!(
        first,
        ["computer-shop-pc", "table-steel", "extractor-shop-1200w"]
    );
    assert!(picks.iter().all(|one| one.plain.contains("less is spent")));
    let said = answers(&catalogue, &[("tools", "1,2,3")]);
    let build = said.build();
    let bill = assess(&catalogue, &build, today()).expect("assessed").bill;
    let usual = assess(&catalogue, &Build::default(), today())
        .expect("assessed")
        .bill;
    for id in first {
        let part = Id::new(id).expect("an id");
        assert_eq!(
            build.purchases.of(&part).map(|one| one.status()),
            Some(Status::HaveIt)
        );
        assert!(bill.line(id).expect("a line").buy.is_zero(), "{id}");
    }
    assert!(bill.total.likely < usual.total.likely);
}

#[test]
fn the_money_follows_where_the_parts_go_until_a_socket_is_named() {
    let catalogue = catalogue();
    let currency = |given: &[(&str, &str)]| {
        let said = answers(&catalogue, given);
        let bill = assess(&catalogue, &said.build(), today())
            .expect("assessed")
            .bill;
        assert_eq!(bill.currency, said.currency(&catalogue));
        bill.currency.code().to_owned()
    };
    let us = ("country", "destination-us");
    assert_eq!(currency(&[]), "EUR");
    assert_eq!(currency(&[us]), "USD");
    assert_eq!(currency(&[us, ("socket", "site-230v-16a")]), "EUR");
    let mut said = answers(&catalogue, &[us, ("budget", "7000")]);
    let budget = said.build().area.budget.expect("a budget");
    assert_eq!(budget.currency.code(), "USD");
    let socket = find("socket").expect("a question");
    assert!(said.follows(socket));
    // Taken back, nothing follows any more.
    said.skip(find("country").expect("a question"));
    assert!(!said.follows(socket));
    assert_eq!(said.build().area.site, Build::default().area.site);
    // A socket that is named and taken back leaves it to the place again.
    let mut said = answers(&catalogue, &[("socket", "site-120v-15a"), us]);
    said.skip(socket);
    assert!(said.follows(socket));
    assert_eq!(said.currency(&catalogue).code(), "USD");
}

#[test]
fn fields_name_the_unit_that_they_take() {
    use gantrywright::money::Currency;
    use gantrywright::units::{Marks, Shown, System};
    let inches = Shown {
        system: System::Inch,
        marks: Marks::PLAIN,
    };
    for id in ["size", "height", "place", "door"] {
        let prompt = find(id).expect("a question");
        let metric = prompt.how(Shown::PLAIN, Currency::EUR);
        assert!(
            metric.contains("in mm") && metric.contains(" mm. "),
            "{metric}"
        );
        let inch = prompt.how(inches, Currency::EUR);
        assert!(
            inch.contains("in inches") && inch.contains(" in. "),
            "{inch}"
        );
    }
    let mut said = Answers::default();
    let size = find("size").expect("a question");
    said.give(size, "600 x 400", &catalogue(), &[])
        .expect("lengths");
    assert_eq!(said.field(size, Shown::PLAIN), "600 x 400 mm");
    let field = said.field(size, inches);
    assert!(field.ends_with(" in"), "{field}");
    // What stands in the field is read as what it was.
    let before = said.clone();
    said.give(size, "600 x 400 mm", &catalogue(), &[])
        .expect("lengths");
    assert_eq!(said, before);
    let money = find("budget")
        .expect("a question")
        .how(inches, "USD".parse().expect("a code"));
    assert!(money.contains("in USD"), "{money}");
}
