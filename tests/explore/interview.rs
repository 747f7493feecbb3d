//! The interview: from answers to three builds, each held against a fresh `assess`.

use std::ops::ControlFlow;
use std::sync::LazyLock;

use crate::common::{catalogue, today};
use crate::talk::{answers, free};
use gantrywright::assessment::assess;
use gantrywright::build::{choices, edit};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::find::Target;
use gantrywright::explore::interview::{
    Alike, Answers, Level, Limit, Proposal, Takes, all, listed, plan, propose, told,
};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::store::build_file;
use gantrywright::words::Words as _;

fn proposed(catalogue: &Catalogue, given: &[(&str, &str)]) -> Proposal {
    let answers = answers(catalogue, given);
    let plan = plan(catalogue, &answers, &free(), today()).expect("a plan");
    propose(catalogue, plan, today(), &mut |_, _| {
        ControlFlow::Continue(())
    })
    .expect("builds")
}

/// What is asked of answers, by people of several kinds.
const PEOPLE: &[&[(&str, &str)]] = &[
    &[],
    &[
        ("materials", "softwood,aluminium-6082"),
        ("size", "600x400"),
    ],
    &[
        ("materials", "plywood"),
        ("size", "500 mm x 700 mm"),
        ("place", "2000 x 2000"),
        ("budget", "9000"),
        ("frost", "yes"),
        ("quiet", "yes"),
        ("tools", "all"),
    ],
    &[
        ("height", "90"),
        ("printer", "printing-service"),
        ("door", "700"),
    ],
];

/// What the answers of all of them come to, searched once for all tests.
static FOUND: LazyLock<Vec<Proposal>> = LazyLock::new(|| {
    let catalogue = catalogue();
    PEOPLE
        .iter()
        .map(|given| proposed(&catalogue, given))
        .collect()
});

/// Every limit of every answer holds for the found build when it is assessed anew, no danger and
/// no fault stands, and every answered choice is as it was answered.
#[test]
fn found_builds_keep_what_was_answered() {
    let catalogue = catalogue();
    for (given, proposal) in PEOPLE.iter().zip(FOUND.iter()) {
        let said = answers(&catalogue, given);
        assert_eq!(proposal.offers.len(), 3, "{given:?}");
        for offer in &proposal.offers {
            let found = offer.searched.answer().expect("a build");
            let fresh = assess(&catalogue, &found.build, today()).expect("assessed");
            let reading = Reading::of(&fresh);
            assert!(!fresh.is_unsound(), "{given:?}: {:?}", offer.level);
            for Limit { target, .. } in &offer.searched.wanted {
                assert!(target.is_met(&fresh, &reading), "{given:?}: {target:?}");
            }
            for edit in said.edits() {
                assert_eq!((edit.choice.get)(&found.build), edit.value, "{edit:?}");
            }
        }
    }
}

/// The three cost more from one to the next, and are stiffer.
#[test]
fn the_three_rise_in_cost_and_stiffness() {
    for (given, proposal) in PEOPLE.iter().zip(FOUND.iter()) {
        let order: Vec<Level> = proposal.offers.iter().map(|one| one.level).collect();
        assert_eq!(order, Level::ALL);
        let figures = proposal.offers.iter().map(|offer| {
            let reading = &offer.searched.answer().expect("a build").reading;
            let stiffness = reading
                .value(Measure::Stiffness)
                .expect("a stiffness")
                .number;
            (reading.cost.likely, stiffness)
        });
        let figures: Vec<_> = figures.collect();
        for pair in figures.windows(2) {
            assert!(pair[0].0 < pair[1].0, "{given:?}: cost {figures:?}");
            assert!(pair[0].1 < pair[1].1, "{given:?}: stiffness {figures:?}");
        }
    }
}

/// What is told of a frame is what the offered build, with its remedies, has other than the
/// thrifty one.
#[test]
fn the_frame_that_is_told_is_that_of_the_offered_build() {
    let mut told = 0;
    for proposal in FOUND.iter() {
        let thrifty = &proposal.offers[0].build().expect("a build").build;
        for offer in &proposal.offers {
            let own = &offer.build().expect("a build").build;
            let frame = proposal.frame(offer);
            for edit in &frame {
                assert_eq!((edit.choice.get)(own), edit.value, "{}", edit.choice.id);
                assert_ne!((edit.choice.get)(thrifty), edit.value, "{}", edit.choice.id);
            }
            let tube = frame.iter().any(|edit| edit.choice.id == "beam_tube");
            assert_eq!(tube, own.area.beam_tube != thrifty.area.beam_tube);
            told += frame.len();
        }
    }
    assert!(told > 0);
}

/// On its frame each of the three is the cheapest: going through all combinations by hand finds
/// none that does what is wanted of it and costs less.
#[test]
fn nothing_on_its_frame_is_cheaper() {
    let catalogue = catalogue();
    let proposal = &FOUND[1];
    for offer in &proposal.offers {
        let found = offer.searched.answer().expect("a build");
        let mut builds = vec![offer.searched.start.clone()];
        for choice in free() {
            let options = choice.options(&catalogue);
            let more = builds.iter().flat_map(|build| {
                options.iter().map(|value| {
                    let mut build = build.clone();
                    choice.put(&mut build, value);
                    build
                })
            });
            builds = more.collect();
        }
        for build in builds {
            let Ok(fresh) = assess(&catalogue, &build, today()) else {
                continue;
            };
            let reading = Reading::of(&fresh);
            let mut wanted = offer.searched.wanted.iter();
            let fits = wanted.all(|one| one.target.is_met(&fresh, &reading));
            if fits && !fresh.is_unsound() {
                assert!(reading.cost.likely >= found.reading.cost.likely);
            }
        }
    }
}

/// Tools at hand are paid for no more.
#[test]
fn tools_at_hand_are_not_bought() {
    let catalogue = catalogue();
    let with = proposed(&catalogue, &[("tools", "tool-caliper,tool-multimeter")]);
    let cheapest = |proposal: &Proposal| {
        let offer = proposal.offer(Level::Thrifty).expect("an offer");
        offer.searched.answer().expect("a build").clone()
    };
    let (with, without) = (cheapest(&with), cheapest(&FOUND[0]));
    assert!(with.reading.cost.likely < without.reading.cost.likely);
    for tool in ["tool-caliper", "tool-multimeter"] {
        let line = with.assessment.bill.line(tool).expect("a line");
        assert!(line.buy.is_zero() && line.needed == line.have, "{tool}");
    }
}

/// What nobody can build is said to be so, and which answer is in the way.
#[test]
fn an_answer_that_stands_in_the_way_is_named() {
    let catalogue = catalogue();
    let said = answers(&catalogue, &[("budget", "1000 EUR")]);
    let proposal = proposed(&catalogue, &[("budget", "1000 EUR")]);
    let offer = proposal.offers.first().expect("an offer");
    assert_eq!(proposal.offers.len(), 1);
    assert!(offer.searched.answer().is_none());
    let Limit { target, prompt } = offer.searched.wanted.last().expect("a limit");
    assert!(matches!(target, Target::Figure(Measure::Cost, _)));
    assert_eq!(*prompt, Some("budget"));
    let words = told::offer(&proposal, offer, &said, &catalogue);
    let way = words.iter().find(|(label, _)| *label == "in the way");
    let (_, way) = way.expect("what is in the way");
    assert!(way.starts_with("your answer on \"budget\""), "{way}");
    // Without that answer something fits, and just that is offered as the nearest.
    let (id, near) = offer.searched.without.first().expect("a way out");
    assert_eq!(*id, "budget");
    let cheapest = FOUND[0].offers[0].searched.answer().expect("a build");
    assert_eq!(near.reading.cost.likely, cheapest.reading.cost.likely);
    let nearest = offer.build().expect("the nearest");
    assert_eq!(nearest.build, near.build);
}

/// Two lengths of one answer stand in the way together; both are told.
#[test]
fn a_place_too_small_both_ways_is_told_as_one_answer() {
    let catalogue = catalogue();
    let given = [("place", "900x900")];
    let said = answers(&catalogue, &given);
    let proposal = proposed(&catalogue, &given);
    let offer = &proposal.offers[0];
    let ids: Vec<&str> = offer.searched.without.iter().map(|(id, _)| *id).collect();
    assert_eq!(ids, ["place"]);
    let words = told::offer(&proposal, offer, &said, &catalogue);
    let way = words.iter().find(|(label, _)| *label == "in the way");
    let (_, way) = way.expect("what is in the way");
    assert!(
        way.contains("wider than 900") && way.contains("deeper than 900"),
        "{way}"
    );
}

/// The taken build holds the other two as variants, and each is what was found.
#[test]
fn the_other_two_are_kept_as_variants() {
    let catalogue = catalogue();
    let proposal = &FOUND[1];
    let taken = proposal.taken(Level::Balanced).expect("a build");
    let text = build_file::saved(None, &taken, &catalogue, today());
    let read = build_file::read(&text, "first.toml", &catalogue).expect("read again");
    assert_eq!(read.variant_names(), ["main", "thrifty", "stiff"]);
    for (name, level) in [
        ("main", Level::Balanced),
        ("thrifty", Level::Thrifty),
        ("stiff", Level::Stiff),
    ] {
        let build = read.switched(name).expect("a variant");
        let found = proposal
            .offer(level)
            .and_then(|one| one.build())
            .expect("it");
        assert!(edit::difference(&build, &found.build).is_empty(), "{name}");
        let fresh = assess(&catalogue, &build, today()).expect("assessed");
        assert_eq!(fresh.bill.total, found.assessment.bill.total, "{name}");
    }
}

/// Whoever stops the search gets what was found by then, and no more searches.
#[test]
fn a_search_can_be_stopped() {
    let catalogue = catalogue();
    let plan = plan(&catalogue, &Answers::default(), &free(), today()).expect("a plan");
    let stopped = propose(
        &catalogue,
        plan,
        today(),
        &mut |_, _| ControlFlow::Break(()),
    );
    let stopped = stopped.expect("no fault");
    assert!(stopped.stopped && stopped.offers.is_empty());
}

/// Questions and choices fit: each choice exists, has what is usual, and no two ask the same.
#[test]
fn every_question_has_its_choices() {
    let catalogue = catalogue();
    let mut seen: Vec<&str> = Vec::new();
    for prompt in all() {
        assert!(prompt.short.chars().count() <= 14, "{}", prompt.short);
        if let Takes::Choices(ids) = prompt.takes {
            for id in ids {
                choices::find(id).expect("a choice");
                assert!(!seen.contains(id), "{id} is asked twice");
                seen.push(id);
            }
        }
        // What is shown as usual can be typed as an answer, and changes nothing.
        let usual = Answers::default();
        let mut same = usual.clone();
        let picks = listed(prompt, &usual, &catalogue, today()).expect("assessed");
        same.give(prompt, &usual.typed(prompt), &catalogue, &picks)
            .unwrap_or_else(|error| panic!("{}: {error}", prompt.id));
        assert_eq!(same.build(), usual.build(), "{}", prompt.id);
    }
}

/// A second circuit is made use of where there is one, and settings stay as they are.
#[test]
fn the_motors_may_hang_on_a_second_circuit_where_there_is_one() {
    let catalogue = catalogue();
    for (socket, wanted) in [("site-230v-16a", true), ("site-230v-10a", false)] {
        let said = answers(&catalogue, &[("socket", socket)]);
        let plan = plan(&catalogue, &said, &[], today()).expect("a plan");
        let freed = plan.free.iter().any(|choice| choice.id == "motor_circuit");
        assert_eq!(freed, wanted, "{socket}");
        let usual = gantrywright::build::Build::default();
        assert_eq!(
            plan.build.spindle.power_cap, usual.spindle.power_cap,
            "less power is no answer"
        );
    }
}

/// Where builds coincide, it is said once, of the later one; else it is not said.
#[test]
fn builds_that_coincide_are_told() {
    let catalogue = catalogue();
    let found = &FOUND[1];
    let (thrifty, stiff) = (&found.offers[0], &found.offers[found.offers.len() - 1]);
    assert_ne!(thrifty.level, stiff.level);
    let alike = |proposal: &Proposal| {
        let told = proposal.offers.iter().map(|offer| {
            let answers = answers(&catalogue, PEOPLE[1]);
            let lines = told::offer(proposal, offer, &answers, &catalogue);
            let own = lines.into_iter().filter(|(label, _)| *label == "alike");
            own.map(|(_, words)| words).collect::<String>()
        });
        (proposal.alike(), told.collect::<Vec<_>>())
    };
    // One and the same build three times.
    let mut same = found.clone();
    same.offers = Level::ALL
        .iter()
        .map(|&level| gantrywright::explore::interview::Offer {
            level,
            ..thrifty.clone()
        })
        .collect();
    let (known, words) = alike(&same);
    let is_thrifty = |one: &Alike| one.to == Level::Thrifty && one.is_same && one.more.is_zero();
    assert_eq!(known.len(), 2);
    assert!(known.iter().all(is_thrifty), "{known:?}");
    assert!(words[0].is_empty() && words[1].contains("the thrifty build again"));
    assert!(words[2].contains("the thrifty build again"), "{words:?}");
    let answers = answers(&catalogue, PEOPLE[1]);
    let lines = told::offer(&same, &same.offers[1], &answers, &catalogue);
    assert!(lines.iter().all(|(label, _)| !label.starts_with("than")));
    // A build that costs just under and just above a hundredth more.
    for (share, is_close) in [("1.0099", true), ("1.01", false), ("0.9901", true)] {
        let mut near = found.clone();
        near.offers = vec![thrifty.clone(), stiff.clone()];
        let share: rust_decimal::Decimal = share.parse().expect("a number");
        let cost = thrifty.build().expect("a build").reading.cost.likely * share;
        let answers = &mut near.offers[1].searched.found.answers;
        answers[0].reading.cost.likely = cost;
        let (known, words) = alike(&near);
        assert_eq!(known.len(), usize::from(is_close), "{share}");
        assert!(known.iter().all(|one| !one.is_same));
        assert_eq!(words[1].contains("under 1 %"), is_close, "{words:?}");
    }
}
