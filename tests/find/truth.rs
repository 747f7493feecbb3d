//! The search for the cheapest build against the plain way: every combination assessed by
//! itself, on catalogues from which parts of chance are left out.
//!
//! More: `FIND_BUILDS=200000 cargo test --release --test find truth::`.

use crate::common;
use std::collections::BTreeMap;
use std::ops::ControlFlow;

use crate::what_if::Standing;
use gantrywright::assessment::assess;
use gantrywright::build::{Build, Choice, Value, choices};
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::explore::find::{self, Found, Request, Target};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::explore::trial::Bench;
use gantrywright::rules::Severity;
use gantrywright::words::Words as _;
use rand::seq::{IndexedRandom as _, SliceRandom as _};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;

/// Builds that are assessed one by one, where nobody asks for more.
const BUILDS: usize = 4000;

/// The most of them in one space.
const MOST: usize = 1200;

fn asked() -> usize {
    let asked = std::env::var("FIND_BUILDS").ok();
    asked.and_then(|text| text.parse().ok()).unwrap_or(BUILDS)
}

/// The catalogue with only some of the parts that choices name; those of a build stay.
fn reduced(catalogue: &Catalogue, build: &Build, rng: &mut ChaCha8Rng) -> Catalogue {
    let used: Vec<Id> = choices::all()
        .iter()
        .filter_map(|choice| match (choice.get)(build) {
            Value::Part(part) => part,
            _ => None,
        })
        .collect();
    let mut catalogue = catalogue.clone();
    let mut keep = |id: &Id| used.contains(id) || rng.random_bool(0.25);
    catalogue.steppers.retain(|id, _| keep(id));
    catalogue.servos.retain(|id, _| keep(id));
    catalogue.drivers.retain(|id, _| keep(id));
    catalogue.couplings.retain(|id, _| keep(id));
    catalogue.ball_screws.retain(|id, _| keep(id));
    catalogue.lead_screws.retain(|id, _| keep(id));
    catalogue.racks.retain(|id, _| keep(id));
    catalogue.belts.retain(|id, _| keep(id));
    catalogue.spindles.retain(|id, _| keep(id));
    catalogue.vfds.retain(|id, _| keep(id));
    catalogue.supplies.retain(|id, _| keep(id));
    catalogue.controllers.retain(|id, _| keep(id));
    catalogue.cables.retain(|id, _| keep(id));
    catalogue.cabinets.retain(|id, _| keep(id));
    catalogue
}

/// As many choices of chance as make no more combinations than may be.
fn free(catalogue: &Catalogue, most: usize, rng: &mut ChaCha8Rng) -> Vec<&'static Choice> {
    let mut usual = find::usual(catalogue);
    usual.shuffle(rng);
    let (mut free, mut combinations) = (Vec::new(), 1);
    for choice in usual {
        let options = choice.options(catalogue).len();
        if options > 1 && combinations * options <= most {
            combinations *= options;
            free.push(choice);
        }
    }
    free
}

/// Every combination of the options of some choices.
pub(crate) fn every(catalogue: &Catalogue, build: &Build, free: &[&'static Choice]) -> Vec<Build> {
    let mut all = vec![build.clone()];
    for choice in free {
        let longer = all.iter().flat_map(|build| {
            choice.options(catalogue).into_iter().map(|option| {
                let mut other = build.clone();
                choice.put(&mut other, &option);
                other
            })
        });
        all = longer.collect();
    }
    all
}

/// A figure in steps of its last digit that is shown, the better the greater.
fn steps(reading: &Reading, measure: Measure) -> Option<i64> {
    let value = reading.value(measure)?;
    let steps = (value.number * 10_f64.powi(value.digits as i32)).round() as i64;
    Some(match value.more_is_better {
        Some(false) => -steps,
        _ => steps,
    })
}

/// The cheapest builds, by the figure against which they are traded; one without such.
fn front(all: &[(Decimal, Option<i64>)], traded: bool) -> Vec<(Decimal, Option<i64>)> {
    let mut all = all.to_vec();
    all.sort_by_key(|(cost, figure)| (*cost, std::cmp::Reverse(*figure)));
    let mut front: Vec<(Decimal, Option<i64>)> = Vec::new();
    for (cost, figure) in all {
        let better = front
            .last()
            .is_none_or(|(_, best)| traded && figure > *best);
        if better {
            front.push((cost, figure));
        }
    }
    front
}

pub(crate) fn search(bench: &Bench, request: &Request) -> Found {
    let found = find::find(bench, request, &mut |_| ControlFlow::Continue(()));
    found.expect("a search")
}

/// Targets about as good as a build of chance is.
fn targets(some: &Reading, rng: &mut ChaCha8Rng) -> Vec<Target> {
    let mut targets = Vec::new();
    for measure in [
        Measure::Rapids,
        Measure::Stiffness,
        Measure::Removal,
        Measure::Current,
    ] {
        let value = some.value(measure).map(|value| value.number);
        if let Some(number) = value.filter(|_| rng.random_bool(0.3)) {
            targets.push(Target::Figure(measure, number));
        }
    }
    targets
}

#[test]
fn the_front_is_that_of_all_builds_assessed_one_by_one() {
    let whole = common::catalogue();
    let today = common::today();
    let mut rng = ChaCha8Rng::seed_from_u64(71);
    let (mut left, mut spaces, mut some, mut assessed) = (asked(), 0, 0, 0);
    let mut why: BTreeMap<String, u128> = BTreeMap::new();
    while left > 0 {
        let shipped = gantrywright::store::examples::all();
        let build = match spaces % 2 {
            0 => Build::default(),
            _ => shipped
                .choose(&mut rng)
                .expect("one")
                .build(&whole)
                .expect("an example"),
        };
        let catalogue = reduced(&whole, &build, &mut rng);
        let most = MOST.max(asked() / 20).min(left.max(60));
        let free = free(&catalogue, most, &mut rng);
        let standing = Standing::of(&catalogue, &build);
        let bench = standing.bench();
        let every = every(&catalogue, &build, &free);
        left = left.saturating_sub(every.len());
        spaces += 1;
        let against = [
            None,
            Some(Measure::Rapids),
            Some(Measure::Stiffness),
            Some(Measure::Current),
        ];
        let against = against[rng.random_range(0..against.len())];
        let near = every.choose(&mut rng).expect("a build");
        let near = Reading::of(&assess(&catalogue, near, today).expect("an assessment"));
        let request = Request {
            targets: targets(&near, &mut rng),
            against,
            free,
            effort: None,
        };
        let good = every.iter().filter_map(|build| {
            let one = assess(&catalogue, build, today).expect("an assessment");
            let reading = Reading::of(&one);
            let meets = request
                .targets
                .iter()
                .all(|target| target.is_met(&one, &reading));
            let figure = against.and_then(|measure| steps(&reading, measure));
            (meets && !one.is_unsound()).then_some((reading.cost.likely, figure))
        });
        let good: Vec<_> = good.collect();
        let found = search(&bench, &request);
        let answers: Vec<_> = found
            .answers
            .iter()
            .map(|one| {
                let figure = against.and_then(|measure| steps(&one.reading, measure));
                (one.reading.cost.likely, figure)
            })
            .collect();
        assert_eq!(
            answers,
            front(&good, against.is_some()),
            "space {spaces}: {request:?}"
        );
        some += usize::from(!answers.is_empty());
        assessed += found.assessed as usize;

        // Every combination was met, or is counted as excluded, in each pass.
        let excluded: u128 = found.excluded.iter().map(|(_, many)| many).sum();
        let all = found.space.combinations() * u128::from(found.searches);
        assert_eq!(found.leaves + excluded, all, "space {spaces}");
        assert_eq!(found.space.combinations(), every.len() as u128);
        for (because, many) in &found.excluded {
            *why.entry(format!("{because:?}")).or_default() += many;
        }
        // The same again, to the last word.
        let again = search(&bench, &request);
        assert_eq!(again.assessed, found.assessed);
        assert_eq!(again.excluded, found.excluded);
    }
    println!("{spaces} spaces, {some} with builds, {assessed} assessed; {why:?}");
    assert!(some * 3 >= spaces, "{some} of {spaces} spaces have a build");
}

/// The fewer cautions are allowed, the dearer it gets, and each step is that of all builds
/// assessed one by one; below the fewest nothing fits, and the fewest are told.
#[test]
fn a_limit_on_cautions_is_kept_exactly() {
    let (catalogue, build) = (common::catalogue(), Build::default());
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
    let ids = ["motor_x", "ends_x", "controller", "fan"];
    let free = ids.map(|id| choices::find(id).expect("a choice")).to_vec();
    let all = every(&catalogue, &build, &free);
    let sound = all.iter().filter_map(|build| {
        let one = assess(&catalogue, build, common::today()).expect("an assessment");
        let reading = Reading::of(&one);
        let cautions = reading.warnings[Severity::Caution.index()];
        (!one.is_unsound()).then_some((cautions, reading.cost.likely))
    });
    let sound: Vec<(usize, Decimal)> = sound.collect();
    let fewest = sound.iter().map(|one| one.0).min().expect("a build");
    let ask = |most| {
        let request = Request {
            targets: vec![Target::Cautions(most)],
            free: free.clone(),
            ..Request::default()
        };
        search(&bench, &request)
    };
    let mut costs = Vec::new();
    for most in fewest..fewest + 4 {
        let within = sound.iter().filter(|(cautions, _)| *cautions <= most);
        let least = within.map(|(_, cost)| *cost).min();
        costs.extend(least);
        let found = ask(most);
        let cheapest = found.answers.first().map(|one| one.reading.cost.likely);
        assert_eq!(cheapest, least, "at most {most}");
    }
    costs.dedup();
    assert!(costs.len() > 1, "{costs:?}");
    if let Some(fewer) = fewest.checked_sub(1) {
        let found = ask(fewer);
        assert!(found.answers.is_empty() && found.is_proven());
        let told: Vec<_> = found.relaxed.iter().map(|one| one.to.clone()).collect();
        assert_eq!(told, [Target::Cautions(fewest)]);
    }
}

#[test]
fn nothing_fits_and_the_target_in_the_way_is_named() {
    let catalogue = common::catalogue();
    let build = Build::default();
    let today = common::today();
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
    let ids = ["motor_x", "motor_y", "ends_x", "ends_y"];
    let free: Vec<&Choice> = ids
        .iter()
        .map(|id| choices::find(id).expect("a choice"))
        .collect();
    let rapids = |least: f64| Target::Figure(Measure::Rapids, least);
    let request = Request {
        targets: vec![
            Target::Width(gantrywright::units::mm::of(5000.0)),
            rapids(500.0),
        ],
        free: free.clone(),
        ..Request::default()
    };
    let found = search(&bench, &request);
    assert!(found.answers.is_empty() && found.is_proven());
    let [relaxed] = found.relaxed.as_slice() else {
        panic!("{:?}", found.relaxed);
    };
    assert_eq!(relaxed.target, 1);
    let Target::Figure(Measure::Rapids, best) = relaxed.to else {
        panic!("{:?}", relaxed.to);
    };
    // The fastest of all, or little less: a target is tightened so many times and no more.
    let fastest = every(&catalogue, &build, &free)
        .iter()
        .filter_map(|build| {
            let one = assess(&catalogue, build, today).ok()?;
            let value = Reading::of(&one).value(Measure::Rapids)?;
            (!one.is_unsound()).then_some(value.number)
        })
        .fold(0.0, f64::max);
    assert!(
        best <= fastest && best > fastest * 0.93,
        "{best} of {fastest}"
    );
}

#[test]
fn what_is_bought_stays_and_parts_are_had_or_not() {
    let catalogue = common::catalogue();
    let mut build = Build::default();
    let motor = build.drive.motor.x;
    let purchase = build.purchases.parts.entry(motor).or_default();
    purchase.have = Some(Decimal::from(4));
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
    let ids = ["motor_x", "spindle", "spindle_clamp", "vfd", "cooler"];
    let free: Vec<&Choice> = ids
        .iter()
        .map(|id| choices::find(id).expect("a choice"))
        .collect();
    let ask = |text: &str| {
        let targets = vec![Target::parse(text, &catalogue).expect("a target")];
        search(
            &bench,
            &Request {
                targets,
                free: free.clone(),
                ..Request::default()
            },
        )
    };
    let found = ask("has:spindle-2.2kw-water");
    assert_eq!(found.space.bought.len(), 1, "the motor is in hand");
    let cheapest = found.answers.first().expect("a build");
    assert!(
        cheapest
            .assessment
            .bill
            .line("spindle-2.2kw-water")
            .is_some()
    );
    assert_eq!(cheapest.build.drive.motor.x, motor);
    let plain = search(
        &bench,
        &Request {
            free: free.clone(),
            ..Request::default()
        },
    );
    let plain = plain.answers.first().expect("a build");
    let other = ask(&format!("without:{}", plain.build.spindle.spindle));
    let other = other.answers.first().expect("a build");
    assert_ne!(other.build.spindle.spindle, plain.build.spindle.spindle);
    assert!(other.reading.cost.likely > plain.reading.cost.likely);
}
