//! What the interview says of sockets and circuits: what goes on one, what a second would allow, and
//! which answer is in the way, each held against a fresh `assess`.

use crate::interview_money::{GARAGE, looked, proposed};
use std::ops::ControlFlow;

use crate::common::{catalogue, today};
use crate::talk::{answers, free};
use gantrywright::assessment::assess;
use gantrywright::build::choices::control::OnCircuit;
use gantrywright::build::{Build, Choice, choices, edit};
use gantrywright::explore::interview::{Answers, Lesser, outlook, plan, propose, told};
use rust_decimal::Decimal;

/// What draws from the circuits, and on which of them the motors hang.
const DRAWING: &[&str] = &["motor_x", "motor_y", "motor_z", "supply", "motor_circuit"];

/// A small socket, where single steps lead nowhere at first.
const SMALL_SOCKET: &[(&str, &str)] = &[
    ("materials", "plywood"),
    ("size", "600x400"),
    ("country", "destination-us"),
    ("socket", "site-120v-15a"),
];

fn small_socket(circuits: &str) -> Vec<(&str, &str)> {
    let each = SMALL_SOCKET.iter().copied();
    each.chain([("circuits", circuits)]).collect()
}

pub(crate) fn drawing() -> Vec<&'static Choice> {
    let each = DRAWING.iter();
    each.map(|id| choices::find(id).expect("a choice"))
        .collect()
}

/// The look finds a build that exists: the search at the end finds none that costs more, and
/// both say the same kind of sum, with the remedies and what must be laid.
#[test]
fn the_search_finds_nothing_dearer_than_the_look() {
    let catalogue = catalogue();
    let small = small_socket("to-be-laid");
    let mut garage = free();
    garage.extend(["cabinet", "motor_cable"].map(|id| choices::find(id).expect("a choice")));
    for (given, free) in [(GARAGE, garage), (small.as_slice(), drawing())] {
        let said = answers(&catalogue, given);
        let mut on = || ControlFlow::Continue(());
        let seen = outlook(&catalogue, &said, &free, today(), &|_| false, &mut on);
        let seen = seen.expect("assessed").expect("not stopped");
        let plan = plan(&catalogue, &said, &free, today()).expect("a plan");
        let found = propose(&catalogue, plan, today(), &mut |_, _| {
            ControlFlow::Continue(())
        });
        let found = found.expect("builds");
        let offer = &found.offers[0];
        let cost = offer
            .searched
            .answer()
            .expect("a build")
            .reading
            .cost
            .likely;
        assert!(cost <= seen.bare.expect("a build"), "{given:?}");
        assert!(given != GARAGE || offer.cured.is_some());
        let told = seen.cheapest.expect("a build").likely;
        let shown = offer.fit().expect("a build").reading.cost.likely;
        let apart = (told - shown).abs() * Decimal::from(100);
        assert!(apart <= shown, "{told} was told, {shown} came out");
    }
}

/// Also where only the longer ways lead to a build, the answer that is in the way is named.
#[test]
fn a_look_names_what_is_in_the_way_where_single_steps_lead_nowhere() {
    let catalogue = catalogue();
    let said = answers(&catalogue, &small_socket("none"));
    let mut on = || ControlFlow::Continue(());
    let seen = outlook(&catalogue, &said, &drawing(), today(), &|_| false, &mut on);
    let seen = seen.expect("assessed").expect("not stopped");
    assert_eq!(seen.cheapest, None);
    let lines = told::outlook(&seen).join(" ");
    let blocked = seen.blocked.unwrap_or_else(|| panic!("{lines}"));
    assert_eq!(blocked.prompt, "circuits", "{lines}");
}

#[test]
fn a_look_can_be_stopped() {
    let catalogue = catalogue();
    let mut off = || ControlFlow::Break(());
    let seen = outlook(
        &catalogue,
        &Answers::default(),
        &free(),
        today(),
        &|_| true,
        &mut off,
    );
    assert_eq!(seen, Ok(None));
}

#[test]
fn on_one_circuit_nothing_is_planned_on_a_second() {
    let catalogue = catalogue();
    let fault = |build: &Build| {
        let now = assess(&catalogue, build, today()).expect("assessed");
        now.findings
            .iter()
            .any(|one| one.rule == "second-circuit-not-there")
    };
    // The usual build hangs its extractor on the second one: said not to be there, that is a fault.
    let mut usual = Build::default();
    assert!(!fault(&usual));
    usual.area.second_circuit = gantrywright::build::choices::working_area::SecondCircuit::Missing;
    assert!(fault(&usual));
    let given = [("circuits", "none")];
    let found = proposed(&catalogue, &given, &["spindle", "vfd", "spindle_clamp"]);
    let said = answers(&catalogue, &given);
    assert!(found.offers[0].fit().is_some());
    for offer in &found.offers {
        let build = offer.fit().expect("a build");
        let circuits = &build.assessment.machine.electrics.circuits;
        assert!(circuits.iter().all(|one| one.which == OnCircuit::First));
        assert!(!build.assessment.is_unsound());
        // Whoever reads what was found need not look elsewhere whether the socket carries it.
        let lines = told::offer(&found, offer, &said, &catalogue);
        let words = lines.iter().find(|(label, _)| *label == "circuits");
        let (_, words) = words.expect("what the circuits carry");
        assert!(
            words.starts_with("yes. The first circuit carries "),
            "{words}"
        );
        let full = gantrywright::units::a::from(circuits[0].full());
        assert!(words.contains(&format!("{full:.1} A")), "{words}");
    }
}

/// Where one circuit carries nothing that does it, that is said, and what a second one allows.
#[test]
fn a_second_circuit_is_told_where_it_would_help() {
    let catalogue = catalogue();
    let given = [("circuits", "none")];
    let found = proposed(&catalogue, &given, &[]);
    let offer = &found.offers[0];
    assert!(offer.fit().is_none());
    let near = offer.build().expect("a build with a second circuit");
    let fresh = assess(&catalogue, &near.build, today()).expect("assessed");
    assert!(!fresh.is_unsound());
    let lines = told::offer(&found, offer, &answers(&catalogue, &given), &catalogue);
    let laid = |(label, words): &(&str, String)| {
        *label == "circuits" && words.starts_with("only once the second circuit is laid. ")
    };
    assert!(lines.iter().any(laid), "{lines:?}");
    let way = lines.iter().find(|(label, _)| *label == "in the way");
    let (_, words) = way.expect("what is in the way");
    assert!(
        words.contains("a second one") && words.contains("electrician"),
        "{words}"
    );
    // The verdict stands before all else: which answer it is, and that it alone would do.
    let (label, first) = &lines[0];
    assert_eq!(*label, "nothing fits");
    let alone = "\"second circuit\" is in the way; all else that you asked can be had";
    assert!(first.starts_with(alone), "{first}");
    assert!(words.contains("first circuit: "), "{words}");
    let cost =
        gantrywright::money::show::money(near.reading.cost.likely, near.reading.cost.currency);
    assert!(words.contains(&cost), "{words}");
    // What is opened is what was shown and priced, with the circuit that is laid.
    let taken = found.taken(offer.level).expect("a build");
    assert!(edit::difference(&near.build, &taken).is_empty());
    let opened = assess(&catalogue, &taken, today()).expect("assessed");
    assert_eq!(opened.bill.total, near.assessment.bill.total);
    assert!(!opened.is_unsound());
    assert!(
        taken.note.contains("not as answered: second circuit"),
        "{}",
        taken.note
    );
    // What is told of the searches at the end is the count that was told while they ran.
    let (_, searched) = lines
        .iter()
        .find(|(label, _)| *label == "searched")
        .expect("how it was searched");
    let all = gantrywright::explore::find::told::count(u128::from(found.assessed));
    assert!(
        searched.contains(&format!("together assessed {all} builds")),
        "{searched}"
    );
    assert!(found.assessed >= offer.searched.found.assessed);
}

/// Where two answers are each in the way, that is said, and each with what it would take: to
/// change one alone is not enough, and nobody should be led to believe so.
#[test]
fn two_answers_that_both_forbid_it_are_told_apart() {
    let catalogue = catalogue();
    let mut given = small_socket("none");
    given.push(("budget", "1000 USD"));
    let found = proposed(&catalogue, &given, DRAWING);
    let offer = &found.offers[0];
    assert!(offer.fit().is_none());
    let lines = told::offer(&found, offer, &answers(&catalogue, &given), &catalogue);
    let (label, verdict) = &lines[0];
    assert_eq!(*label, "nothing fits");
    let both = "\"budget\" and \"second circuit\" are in the way; to change only one of them is not enough.";
    assert!(verdict.starts_with(both), "{verdict}");
    let way: Vec<&str> = lines
        .iter()
        .skip_while(|(label, _)| *label != "in the way")
        .take(2)
        .map(|(_, words)| words.as_str())
        .collect();
    let near = offer.build().expect("the nearest");
    let cost =
        gantrywright::money::show::money(near.reading.cost.likely, near.reading.cost.currency);
    assert!(
        way[0].contains("1 000 USD is too little") && way[0].contains(&cost),
        "{way:?}"
    );
    assert!(way[1].contains("one circuit does not carry it"), "{way:?}");
    // What the money does not buy is told with what was given up for it.
    let cost = |one: &&Lesser| one.answer.reading.cost.likely;
    let least = found.lesser.iter().min_by_key(cost);
    let least = least.expect("the least that was tried");
    assert!(!least.fits() && !least.gives.is_empty());
    for prompt in &least.gives {
        assert!(
            verdict.contains(&format!("\"{}\"", prompt.short)),
            "{verdict}"
        );
    }
}

/// Where a quick look finds nothing, the answer that is in the way is named.
#[test]
fn a_look_that_finds_nothing_says_what_is_in_the_way() {
    let catalogue = catalogue();
    let seen = looked(&catalogue, &answers(&catalogue, &[("circuits", "none")]));
    assert_eq!(seen.cheapest, None);
    let blocked = seen.blocked.expect("an answer in the way");
    assert_eq!(blocked.prompt, "circuits");
    assert!(blocked.cost > Decimal::ZERO);
    let lines = told::outlook(&seen);
    assert!(lines[0].contains("goes on one circuit"), "{lines:?}");
}

/// A socket of 120 volts carries little: what fits there takes several small steps, each of which
/// leaves the circuit overloaded.
#[test]
fn a_look_finds_what_a_small_socket_carries() {
    let catalogue = catalogue();
    let said = answers(&catalogue, &small_socket("to-be-laid"));
    let mut on = || ControlFlow::Continue(());
    let seen = outlook(&catalogue, &said, &drawing(), today(), &|_| false, &mut on)
        .expect("assessed")
        .expect("not stopped");
    let build = seen.build.expect("a build");
    assert!(
        !assess(&catalogue, &build, today())
            .expect("assessed")
            .is_unsound()
    );
}

/// What is usually free follows from the answers, also from milder ones; what somebody named is
/// free whatever is answered.
#[test]
fn what_is_free_follows_from_milder_answers_too() {
    let catalogue = catalogue();
    let planned = |circuits: &str, named: &[&'static Choice]| {
        let said = answers(
            &catalogue,
            &[("materials", "plywood"), ("circuits", circuits)],
        );
        plan(&catalogue, &said, named, today()).expect("a plan")
    };
    let ids = |of: &[&'static Choice]| of.iter().map(|one| one.id).collect::<Vec<_>>();
    let usual = planned("none", &[]);
    let milder = planned("to-be-laid", &usual.named);
    let free = [&usual, &milder].map(|plan| ids(&plan.free));
    assert!(free[0].contains(&"extractor") && !free[0].contains(&"motor_circuit"));
    assert!(!free[1].contains(&"extractor") && free[1].contains(&"motor_circuit"));
    let named = planned("none", &drawing());
    let milder = planned("to-be-laid", &named.named);
    assert_eq!(ids(&milder.free), ids(&drawing()));
}

/// A stop is noticed in whichever search it comes, that for a second circuit among them, and
/// nobody is asked again.
#[test]
fn a_stop_is_noticed_whenever_it_comes() {
    let catalogue = catalogue();
    let run = |at: usize| {
        let said = answers(&catalogue, &[("circuits", "none")]);
        let plan = plan(&catalogue, &said, &free(), today()).expect("a plan");
        let mut words = 0;
        let found = propose(&catalogue, plan, today(), &mut |_, _| {
            words += 1;
            match words == at {
                true => ControlFlow::Break(()),
                false => ControlFlow::Continue(()),
            }
        });
        (words, found.expect("builds").stopped)
    };
    let (all, stopped) = run(usize::MAX);
    assert!(all > 1 && !stopped);
    for at in [1, all / 2, all] {
        assert_eq!(run(at), (at, true), "of {all}");
    }
}
