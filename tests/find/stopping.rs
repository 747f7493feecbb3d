//! A search that ends before it is done: it is stopped, or gives up.

use std::ops::ControlFlow;

use crate::common;
use crate::what_if::{Standing, examples};
use gantrywright::build::{Build, choices};
use gantrywright::catalogue::Step;
use gantrywright::explore::find::{Progress, Request, Target, find, told};
use gantrywright::explore::reading::{Measure, Reading};

#[test]
fn a_search_stops_when_it_is_told_to_and_gives_up_when_it_is_not_worth_it() {
    let catalogue = common::catalogue();
    let build = Build::default();
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
    let request = Request::default();
    let mut told = 0;
    let found = find(&bench, &request, &mut |_| {
        told += 1;
        if told == 3 {
            ControlFlow::Break(())
        } else {
            ControlFlow::Continue(())
        }
    });
    let found = found.expect("a search");
    assert!(found.cancelled && !found.is_proven() && told == 3);
    let request = Request {
        effort: Some(40_000),
        ..request
    };
    let mut go_on = |_: &Progress| ControlFlow::Continue(());
    let found = find(&bench, &request, &mut go_on).expect("a search");
    assert!(found.gave_up && !found.is_proven());
    assert!(found.assessed <= 100);
    // All usual choices make more than a thousand million combinations.
    assert!(found.space.combinations() > 1_000_000_000);
}

/// Before the first walk a search goes down from the build at hand: whoever stops it there has
/// the best of that.
#[test]
fn what_was_found_before_the_first_walk_is_kept() {
    let catalogue = common::catalogue();
    let mut stopped = 0;
    for (name, build) in examples(&catalogue) {
        let standing = Standing::of(&catalogue, &build);
        if standing.before.is_unsound() {
            continue;
        }
        for against in [None, Some(Measure::Rapids)] {
            let request = Request {
                against,
                ..Request::default()
            };
            let mut words = 0;
            let found = find(&standing.bench(), &request, &mut |_| {
                words += 1;
                match words {
                    2 => ControlFlow::Break(()),
                    _ => ControlFlow::Continue(()),
                }
            });
            let found = found.expect("a search");
            assert!(found.cancelled, "{name}");
            let [answer] = found.answers.as_slice() else {
                panic!("{name}: {} builds", found.answers.len());
            };
            let (now, is) = (standing.before.bill.total.likely, answer.reading.cost);
            assert!(is.likely <= now, "{name}: {is:?}");
            stopped += 1;
        }
    }
    assert!(stopped > 0);
}

/// More combinations than a number holds are no reason to count wrongly, or to say that all of
/// them are settled.
#[test]
fn a_search_of_more_than_can_be_counted_does_not_say_that_it_is_done() {
    let catalogue = common::catalogue();
    let build = Build::default();
    let standing = Standing::of(&catalogue, &build);
    let steps = [Step::Drive, Step::Spindle, Step::Control];
    let free = choices::all().iter();
    let free = free.filter(|one| steps.contains(&one.step) && !one.options(&catalogue).is_empty());
    let request = Request {
        free: free.collect(),
        effort: Some(1_000_000),
        ..Request::default()
    };
    let mut go_on = |_: &Progress| ControlFlow::Continue(());
    let found = find(&standing.bench(), &request, &mut go_on).expect("a search");
    assert!(found.gave_up);
    assert_eq!(found.space.combinations(), u128::MAX);
    let how = told::how(&found);
    assert!(how.contains("more than 3.4 x 10^38 combinations"), "{how}");
    assert!(!how.contains("100 %"), "{how}");
}

/// The build at hand may miss a target that a few changes reach, among so many combinations that
/// the walk meets none of them in its time: these changes are looked for first.
#[test]
fn a_target_that_a_few_changes_reach_is_found_among_all_usual_choices() {
    let catalogue = common::catalogue();
    let all = examples(&catalogue).into_iter();
    let mut pier = all.filter(|(name, _)| name.contains("pier-allrounder"));
    let (_, build) = pier.next().expect("an example");
    let standing = Standing::of(&catalogue, &build);
    let target = Target::parse("rapids>=25", &catalogue).expect("a target");
    let now = Reading::of(&standing.before);
    assert!(!target.is_met(&standing.before, &now));
    let request = Request {
        targets: vec![target.clone()],
        effort: Some(2_000_000),
        ..Request::default()
    };
    let mut go_on = |_: &Progress| ControlFlow::Continue(());
    let found = find(&standing.bench(), &request, &mut go_on).expect("a search");
    let answer = found.answers.first().expect("a build");
    let fresh = crate::what_if::assessed(&catalogue, &answer.build);
    assert!(target.is_met(&fresh, &Reading::of(&fresh)) && !fresh.is_unsound());
}
