//! What a search is asked for: how targets are read, told and met.

use crate::common::{self, assessed, catalogue};
use crate::what_if;
use gantrywright::assessment::assess;
use gantrywright::build::{Axis, Build, Choice, choices};
use gantrywright::explore::find::{
    Because, Found, MOST_FREE, Progress, Request, Space, Target, find, told, usual,
};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::machine::cutting::Verdict;
use gantrywright::money::Currency;
use gantrywright::rules::{self, RuleId, Severity, topics};

/// Every form reads, spells itself so that it reads as the same again, and is told in words.
#[test]
fn targets_read_and_spell_themselves() {
    let catalogue = catalogue();
    for (typed, spelled, words) in [
        ("rapids>=8", "rapids>=8", "rapids of at least 8 m/min"),
        (" rapids = 8 ", "rapids>=8", "rapids of at least 8 m/min"),
        (
            "rapids=8.5 m/min",
            "rapids>=8.5",
            "rapids of at least 8.5 m/min",
        ),
        ("rapids:Y>=8", "rapids:Y>=8", "Y rapids of at least 8 m/min"),
        ("rapids: z =4", "rapids:Z>=4", "Z rapids of at least 4"),
        (
            "current=12A",
            "current<=12",
            "mains current of at most 12 A",
        ),
        (
            "stiffness>=0.8",
            "stiffness>=0.8",
            "stiffness of at least 0.8 N/µm",
        ),
        ("cost<=5000", "cost<=5000", "cost of at most 5 000 EUR"),
        ("width<=1200 mm", "width<=1200", "no wider than 1 200 mm"),
        ("depth=1300", "depth<=1300", "no deeper than 1 300 mm"),
        ("cautions=3", "cautions<=3", "at most 3 cautions"),
        ("cautions<=1", "cautions<=1", "at most 1 caution"),
        ("cautions<= 0", "cautions<=0", "no caution"),
        (
            "cuts:aluminium-6082>=with-care",
            "cuts:aluminium-6082>=with-care",
            "cuts at least with care: ",
        ),
        ("removal>=-0", "removal>=0", "removal of at least 0 cm³/min"),
    ] {
        let target = Target::parse(typed, &catalogue).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(target.text(), spelled);
        assert_eq!(Target::parse(spelled, &catalogue), Ok(target.clone()));
        let said = told::wanted(&target, &catalogue, Currency::EUR);
        assert!(
            said.to_lowercase().starts_with(&words.to_lowercase()),
            "{said}"
        );
    }
}

/// A wrong target is refused with what would be right.
#[test]
fn wrong_targets_say_what_would_be_right() {
    let catalogue = catalogue();
    for (typed, words) in [
        ("rapids", "does not say how much"),
        ("rapids", "quotes"),
        ("cuts:aluminium", "does not say how much"),
        ("fast", "is no target"),
        ("rapid>=8", "did you mean \"rapids\""),
        ("rapids<=8", "rapids is better the more it is"),
        ("rapids:Y<=8", "rapids:Y is better the more it is"),
        ("rapids:A>=8", "rapids:A: expected one of X, Y, Z"),
        ("rapids:Y", "does not say how much"),
        ("rapids:Y>=8 mm", "mm is a unit of length"),
        ("cautions>=3", "cautions is better the less it is"),
        ("cautions=2.5", "no whole number from 0 up"),
        ("cautions=-1", "no whole number from 0 up"),
        ("cautions", "does not say how much"),
        ("caution<=3", "did you mean \"cautions\""),
        ("current>=8", "current is better the less it is"),
        ("width>=8", "width is better the less it is"),
        ("rapids>=fast", "no number of m/min"),
        ("rapids>=8 mm", "mm is a unit of length; this takes a speed"),
        ("rapids>=-1", "not a number from 0 up"),
        ("rapids>=NaN", "not a number from 0 up"),
        ("rapids>=inf", "not a number from 0 up"),
        ("cost<=", "is no number"),
        ("has:motor", "there is no part"),
        ("without:rail-2O", "did you mean \"rail-20\""),
        ("cuts:aluminium>=easily", "did you mean \"aluminium-6082\""),
        ("cuts:bronze>=easily", "known are softwood, "),
        ("cuts:aluminium<=easily", "is better the more it is"),
        (
            "cuts:aluminium-6082>=well",
            "expected one of no, hardly, with-care, easily",
        ),
    ] {
        let said = Target::parse(typed, &catalogue).expect_err(typed);
        assert!(said.contains(words), "{typed}: {said}");
    }
}

/// A target is met on its bound and missed beyond it, by the figures of the assessment itself.
#[test]
fn targets_are_met_on_their_bound() {
    let catalogue = catalogue();
    let assessment = assessed(&catalogue, &[]);
    let reading = Reading::of(&assessment);
    let met = |target: &Target| target.is_met(&assessment, &reading);
    for measure in [Measure::Rapids, Measure::Stiffness, Measure::Removal] {
        let value = reading.value(measure).expect("a figure").number;
        assert!(met(&Target::Figure(measure, value)));
        assert!(!met(&Target::Figure(measure, value * 1.001)));
    }
    for measure in [Measure::Cost, Measure::Current] {
        let value = reading.value(measure).expect("a figure").number;
        assert!(met(&Target::Figure(measure, value)));
        assert!(!met(&Target::Figure(measure, value * 0.999)));
    }
    for axis in Axis::EACH {
        let value = reading.rapid(axis).number;
        assert!(met(&Target::Rapids(axis, value)));
        assert!(!met(&Target::Rapids(axis, value * 1.001)));
    }
    let footprint = &assessment.machine.geometry.footprint;
    assert!(met(&Target::Width(footprint.x)) && met(&Target::Depth(footprint.y)));
    assert!(!met(&Target::Width(footprint.x * 0.99)) && !met(&Target::Depth(footprint.y * 0.99)));
    let on_it = assessment.bill.lines.iter().next().expect("a line").part;
    assert!(met(&Target::Has(on_it)) && !met(&Target::Without(on_it)));
    for material in catalogue.materials.values() {
        assert!(met(&Target::Cuts(material.id, Verdict::No)));
    }
}

/// Cautions count that nobody accepted, those apart that follow from another warning.
#[test]
fn cautions_are_counted_as_warnings_are() {
    let catalogue = catalogue();
    let mut least = usize::MAX;
    for build in common::random_builds(&catalogue, 9, 12) {
        let one = assess(&catalogue, &build, common::today()).expect("an assessment");
        let reading = Reading::of(&one);
        let heads = topics::heads(&one.findings).into_iter();
        let counted = heads.filter(|head| head.severity == Severity::Caution && head.counts());
        let many = counted.count();
        assert!(Target::Cautions(many).is_met(&one, &reading));
        let fewer = many.checked_sub(1).map(Target::Cautions);
        assert!(fewer.is_none_or(|fewer| !fewer.is_met(&one, &reading)));
        least = least.min(many);
    }
    assert!(least < 3, "{least}");
}

/// Counts and shares never say all or nothing where that is not so.
#[test]
fn counts_and_shares_say_no_more_than_is_so() {
    assert_eq!(told::count(1_234_567), "1 234 567");
    assert_eq!(
        told::count(1_170_000_000_000_000_000_000),
        "about 1.1 x 10^21"
    );
    assert_eq!(told::count(u128::MAX), "more than 3.4 x 10^38");
    assert_eq!(told::share(0, 1000), "0 %");
    assert_eq!(told::share(1, 1_000_000), "less than 0.1 %");
    assert_eq!(told::share(500, 1000), "50.0 %");
    assert_eq!(told::share(999_999, 1_000_000), "more than 99.9 %");
    // What is more than can be counted has no share that could be told.
    assert_eq!(told::share(u128::MAX, u128::MAX), "some");
    assert_eq!(told::share(3, u128::MAX), "less than 0.1 %");
    assert_eq!(told::share(7, 7), "100 %");
}

/// Reasons stand with the most frequent first, and no more of them than there is room for.
#[test]
fn reasons_are_told_by_their_share() {
    let catalogue = catalogue();
    let choice = gantrywright::build::choices::find("motor_x").expect("a choice");
    let build = gantrywright::build::Build::default();
    let standing = what_if::Standing::of(&catalogue, &build);
    let request = Request {
        effort: None,
        targets: vec![Target::parse("rapids>=8", &catalogue).expect("a target")],
        free: vec![choice],
        ..Request::default()
    };
    let mut watch = |_: &Progress| std::ops::ControlFlow::Continue(());
    let mut found = find(&standing.bench(), &request, &mut watch).expect("searched");
    let all = found.space.combinations();
    found.assessed = 1;
    found.leaves = 1;
    found.answers.clear();
    let whirl = rules::find("screw-whirl").expect("a rule");
    found.excluded = vec![
        (Because::Target(0), 1),
        (Because::Dearer, all - 4),
        (Because::Rule(RuleId::BuiltIn(whirl)), 2),
        (Because::NoBetter, 0),
    ];
    let told = |found: &Found, most| {
        let each = told::reasons(found, &request, &catalogue, Currency::EUR, most);
        let each = each.into_iter().map(|(_, words)| words);
        each.collect::<Vec<_>>()
    };
    let every = told(&found, 3);
    assert!(
        every[0].starts_with("cost no less than what was found"),
        "{every:?}"
    );
    assert_eq!(
        every[1],
        "bring the warning: Screw whips at the wanted rapids (2)"
    );
    assert_eq!(every[2], "miss: rapids of at least 8 m/min (1)");
    assert_eq!(told(&found, 2)[1], "are out for 2 other reasons (3)");
    assert_eq!(told::covered(&found), all);
    assert_eq!(told::headline(&found, &request), "Nothing fits");
    found.excluded.clear();
    assert!(told(&found, 3).is_empty());
    found.cancelled = true;
    assert!(told::how(&found).contains("Stopped before the end"));
}

/// Who does not say what is free is told that the frame is kept; who does, knows.
#[test]
fn the_frame_is_kept_where_nobody_frees_it() {
    let catalogue = catalogue();
    let ids = |free: &[&'static Choice]| -> Vec<&str> {
        let kept = told::frame_kept(free, &catalogue).into_iter();
        kept.map(|choice| choice.id).collect()
    };
    let usual = usual(&catalogue);
    assert!(ids(&usual).contains(&"beam_tube"), "{:?}", ids(&usual));
    assert_eq!(ids(&[]), ids(&usual));
    assert_eq!(ids(&usual[1..]), Vec::<&str>::new());
}

/// However many choices somebody frees, a search can tell them apart.
#[test]
fn there_is_room_for_all_choices_that_can_be_free() {
    let (catalogue, build) = (catalogue(), Build::default());
    let twice: Vec<&'static Choice> = choices::all().iter().chain(choices::all()).collect();
    let space = Space::new(&catalogue, &build, &twice);
    let mut ids: Vec<&str> = space.free.iter().map(|one| one.choice.id).collect();
    assert!(ids.len() > 50 && ids.len() <= MOST_FREE, "{}", ids.len());
    ids.sort_unstable();
    assert!(ids.is_sorted_by(|a, b| a < b), "{ids:?}");
}

/// What a build found has no use for stays as it was: no change can be taken back without a figure, a
/// line of the bill or a warning that differs.
#[test]
fn a_search_changes_nothing_that_changes_nothing() {
    let catalogue = catalogue();
    let ids = [
        "spindle",
        "vfd",
        "spindle_clamp",
        "cooler",
        "spindle_cable",
        "line_choke",
    ];
    let free: Vec<&'static Choice> = ids
        .iter()
        .map(|id| gantrywright::build::choices::find(id).expect("a choice"))
        .collect();
    let mut routers = 0;
    for (name, build) in what_if::examples(&catalogue) {
        let standing = what_if::Standing::of(&catalogue, &build);
        let request = Request {
            free: free.clone(),
            ..Request::default()
        };
        let mut watch = |_: &Progress| std::ops::ControlFlow::Continue(());
        let found = find(&standing.bench(), &request, &mut watch).expect("searched");
        for answer in &found.answers {
            let told = |build: &gantrywright::build::Build| {
                let after = what_if::assessed(&catalogue, build);
                gantrywright::assessment::json::json(build, &after, &[])
            };
            let is = told(&answer.build);
            for edit in &answer.edits {
                let mut back = answer.build.clone();
                edit.choice.put(&mut back, &(edit.choice.get)(&build));
                assert_ne!(told(&back), is, "{name}: {edit:?}");
            }
            routers += usize::from(answer.build.spindle.vfd.is_none());
        }
    }
    assert!(routers > 0);
}
