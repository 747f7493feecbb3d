//! What to order when: what waits for what, and what is here.

use crate::common;
use crate::purchases::assessed;
use gantrywright::bill::ordering::StageState;
use rust_decimal::Decimal;

#[test]
fn orders_wait_for_what_they_are_measured_against() {
    let catalogue = common::catalogue();
    // No electrician need be asked.
    let there = "[working_area]\nsecond_circuit = \"there\"\n";
    let bill = assessed(there, &catalogue).bill;
    let stage = |bill: &gantrywright::bill::Bill, id: &str| {
        let mut all = bill.ordering.stages.iter();
        all.find(|stage| stage.id.as_str() == id)
            .expect("a stage")
            .clone()
    };
    let (guides, frame) = (stage(&bill, "guides"), stage(&bill, "frame"));
    assert_eq!(guides.state, StageState::Now);
    assert_eq!(guides.order_on, common::today());
    assert_eq!(frame.state, StageState::NotYet);
    assert_eq!(frame.waits_for.join(", "), guides.title);
    // Sixty days at worst from 25 November: 24 January.
    assert_eq!(guides.here_by, jiff::civil::date(2027, 1, 24));
    assert_eq!(frame.order_on, guides.here_by);
    let months: Decimal = bill.ordering.months.iter().map(|month| month.amount).sum();
    assert_eq!(months, bill.to_spend);

    // Everything of the stage checked: the frame's turn has come.
    let parts = guides.lines.iter().map(|&place| &bill.lines[place].part);
    let bought: String = parts
        .map(|part| format!("[purchases.\"{part}\"]\nstatus = \"checked\"\n"))
        .collect();
    let after = assessed(&format!("{there}{bought}"), &catalogue).bill;
    assert_eq!(stage(&after, "guides").state, StageState::Done);
    assert_eq!(stage(&after, "frame").state, StageState::Now);

    // With so much a month nothing is ordered that the months so far do not cover.
    let slow = assessed("[working_area]\nmonthly_budget = \"500 EUR\"", &catalogue).bill;
    let mut spent = Decimal::ZERO;
    for (place, month) in slow.ordering.months.iter().enumerate() {
        spent += month.amount;
        let from = common::today();
        let (year, number) = month.name.split_once('-').expect("a month");
        let whole: i64 = number.parse().expect("a number");
        let year: i64 = year.parse().expect("a year");
        let passed = (year - i64::from(from.year())) * 12 + whole - i64::from(from.month()) + 1;
        assert!(spent <= Decimal::from(500 * passed), "{place}: {month:?}");
    }
    assert_eq!(spent, slow.to_spend);
}

/// A circuit that must be laid is asked for before anything else is ordered; once that is agreed,
/// nothing waits for the work itself. Where a circuit is there already, nobody is asked.
#[test]
fn the_electrician_is_asked_before_anything_is_ordered() {
    let catalogue = common::catalogue();
    let state = |text: &str, id: &str| {
        let bill = assessed(text, &catalogue).bill;
        let stages = bill.ordering.stages;
        let found = stages.into_iter().find(|stage| stage.id.as_str() == id);
        found.map(|stage| (stage.state, stage.waits_for.len()))
    };
    let laid = "[working_area]\nsecond_circuit = \"to-be-laid\"\n";
    assert_eq!(state(laid, "electrician"), Some((StageState::Ask, 0)));
    for id in ["guides", "motion", "spindle"] {
        assert_eq!(state(laid, id), Some((StageState::NotYet, 1)), "{id}");
    }
    let agreed = format!("{laid}[purchases.service-second-circuit]\nstatus = \"ordered\"\n");
    assert_eq!(
        state(&agreed, "electrician"),
        Some((StageState::OnItsWay, 0))
    );
    assert_eq!(state(&agreed, "guides"), Some((StageState::Now, 0)));
    let there = "[working_area]\nsecond_circuit = \"there\"\n";
    assert_eq!(state(there, "electrician"), None);
    assert_eq!(state(there, "guides"), Some((StageState::Now, 0)));
}

/// Of a pair that one has one of, the other is still to be ordered: the stage is not done, and the
/// lead time counts.
#[test]
fn what_is_only_partly_in_hand_is_still_to_be_ordered() {
    let catalogue = common::catalogue();
    let there = "[working_area]\nsecond_circuit = \"there\"\n";
    let bill = assessed(there, &catalogue).bill;
    let guides = bill.ordering.stages.iter();
    let mut guides = guides.filter(|stage| stage.id.as_str() == "guides");
    let guides = guides.next().expect("a stage").clone();
    // All of the stage is in hand, but for half of one line.
    let lines = guides.lines.iter().map(|&place| &bill.lines[place]);
    let half = lines.clone().find(|line| line.needed >= Decimal::TWO);
    let half = half.expect("a line of several").part;
    let state = |have: &str| {
        let owned = lines.clone().map(|line| match line.part == half {
            true => format!("[purchases.\"{half}\"]\nstatus = \"have-it\"\n{have}"),
            false => format!("[purchases.\"{}\"]\nstatus = \"have-it\"\n", line.part),
        });
        let owned: String = owned.collect();
        let bill = assessed(&format!("{there}{owned}"), &catalogue).bill;
        let mut stages = bill.ordering.stages.iter();
        let stage = stages.find(|stage| stage.id.as_str() == "guides");
        stage.map(|stage| (stage.state, stage.here_by > stage.order_on))
    };
    assert_eq!(state(""), Some((StageState::Done, false)));
    assert_eq!(state("have = \"1\"\n"), Some((StageState::Now, true)));
}
