//! What the search believes against the truth: a floor is never above what any completion
//! really comes to.
//!
//! More: `FIND_BOUNDS=50 cargo test --release --test find bounds::`.

use crate::common;
use crate::what_if::Standing;
use gantrywright::assessment::assess;
use gantrywright::build::choices::drive::GantryDrive;
use gantrywright::build::purchases::Purchases;
use gantrywright::build::{Build, Choice, Value, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::find::probe::{self};
use gantrywright::explore::find::{Request, Space, usual};
use gantrywright::money::Currency;
use gantrywright::store::examples;
use gantrywright::units;
use rand::seq::IndexedRandom as _;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;

/// How many times as many builds as nobody asks for.
pub(crate) fn times() -> usize {
    let asked = std::env::var("FIND_BOUNDS").ok();
    asked.and_then(|text| text.parse().ok()).unwrap_or(1)
}

/// A build of chance: one that is shipped, or the one to start from, stirred.
pub(crate) fn base(catalogue: &Catalogue, rng: &mut ChaCha8Rng) -> Build {
    let shipped = examples::all();
    let mut build = match rng.random_bool(0.5) {
        true => Build::default(),
        false => shipped[rng.random_range(0..shipped.len())]
            .build(catalogue)
            .expect("an example"),
    };
    for choice in usual(catalogue) {
        if rng.random_bool(0.2) {
            let options = choice.options(catalogue);
            choice.put(&mut build, options.choose(rng).expect("an option"));
        }
    }
    build
}

/// Some of the usual free choices, and now and then others.
pub(crate) fn free(catalogue: &Catalogue, rng: &mut ChaCha8Rng) -> Vec<&'static Choice> {
    let mut free = usual(catalogue);
    free.retain(|_| rng.random_bool(0.4));
    for id in [
        "drive_y2",
        "computer",
        "limit_ends",
        "tool",
        "emergency_stop",
    ] {
        if rng.random_bool(0.1) {
            free.push(choices::find(id).expect("a choice"));
        }
    }
    free
}

/// A way through a space: most options of chance, or most as they are.
pub(crate) fn way(space: &Space, build: &Build, share: f64, rng: &mut ChaCha8Rng) -> Vec<usize> {
    let each = space.free.iter().map(|free| {
        let now = (free.choice.get)(build);
        let now = free.options.iter().position(|one| *one == now);
        match now.filter(|_| !rng.random_bool(share)) {
            Some(now) => now,
            None => rng.random_range(0..free.options.len()),
        }
    });
    each.collect()
}

pub(crate) fn built(space: &Space, build: &Build, way: &[usize]) -> Build {
    let mut build = build.clone();
    for (free, &option) in space.free.iter().zip(way) {
        free.choice.put(&mut build, &free.options[option]);
    }
    build
}

#[test]
fn a_floor_is_never_above_what_a_build_comes_to() {
    let closest = floors_hold(&common::catalogue(), |_| ());
    // Were floors higher by a hundredth, some would be above.
    assert!(
        closest < Decimal::new(1, 2),
        "the closest floor is {closest} below"
    );
}

/// Money whose smallest coin is one whole unit (ISO 4217) is rounded coarsely; goods worth some
/// hundred of them show it.
#[test]
fn a_floor_holds_in_money_without_small_coins() {
    let mut catalogue = common::catalogue();
    let yen = |currency: &mut Currency| {
        if *currency == Currency::EUR {
            *currency = "JPY".parse().expect("a currency");
        }
    };
    catalogue
        .sites
        .values_mut()
        .for_each(|one| yen(&mut one.currency));
    let places = catalogue.destinations.values_mut();
    places.for_each(|one| yen(&mut one.currency));
    let suppliers = catalogue.suppliers.values_mut();
    suppliers.for_each(|one| yen(&mut one.currency));
    let hundredth = Decimal::new(1, 2);
    for book in catalogue.price_books.values_mut() {
        yen(&mut book.currency);
        let rates = std::mem::take(&mut book.rates).into_iter();
        let rates = rates.map(|(mut currency, rate)| {
            yen(&mut currency);
            (currency, rate)
        });
        book.rates = rates.collect();
        for offer in book.prices.values_mut() {
            let offer = offer.value_mut();
            for amount in [&mut offer.low, &mut offer.likely, &mut offer.high] {
                *amount *= hundredth;
            }
            offer.breaks.clear();
        }
    }
    floors_hold(&catalogue, |build| {
        // What was written down is in euros.
        build.purchases = Purchases::default();
        (build.area.budget, build.area.monthly_budget) = (None, None);
    });
}

/// Asserts that no floor of builds of chance, each of them stirred, is above what they come to; how far below, as a part
/// of that, the closest is.
fn floors_hold(catalogue: &Catalogue, stir: impl Fn(&mut Build)) -> Decimal {
    let (euros, today) = (common::catalogue(), common::today());
    let mut rng = ChaCha8Rng::seed_from_u64(81);
    let (mut wrong, mut closest) = (Vec::new(), Decimal::ONE);
    for _ in 0..10 * times() {
        let mut build = base(&euros, &mut rng);
        stir(&mut build);
        if rng.random_bool(0.3) {
            build.drive.gantry = GantryDrive::Centre;
        }
        let standing = Standing::of(catalogue, &build);
        let bench = standing.bench();
        let request = Request {
            free: free(catalogue, &mut rng),
            ..Request::default()
        };
        let space = probe::free(&bench, &request);
        let ways: Vec<_> = (0..24)
            .map(|_| way(&space, &build, 0.9, &mut rng))
            .collect();
        let floors = probe::floors(&bench, &space, &ways).expect("floors");
        for (way, floors) in ways.iter().zip(floors) {
            let end = built(&space, &build, way);
            let real = assess(catalogue, &end, today).expect("an assessment");
            let real = real.bill.total.likely;
            let most = floors.iter().copied().max().expect("a floor");
            closest = closest.min((real - most) / real);
            if most > real {
                let edits = gantrywright::build::edit::difference(&build, &end);
                wrong.push(format!("{most} > {real}: {edits:?}"));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong: {:#?}",
        wrong.len(),
        wrong.first()
    );
    closest
}

#[test]
fn rails_of_two_axes_travel_as_one_line() {
    // Rails of X are short; as those of Y are of the same kind and long, all travel in the
    // parcel for long pieces, and none is in the other.
    let catalogue = common::catalogue();
    let build = common::build(
        &catalogue,
        &[
            ("travel_x_mm", "900"),
            ("travel_y_mm", "1200"),
            ("gantry_drive", "centre"),
            ("guide_z", "carriage-15-wide"),
            ("drive_x", "ball-screw-32x10"),
            ("drive_y", "ball-screw-16x5"),
            ("drive_z", "ball-screw-12x5"),
            ("carriages_x", "1"),
            ("carriages_z", "1"),
        ],
    );
    let free = ["guide_x", "guide_y"].map(|id| choices::find(id).expect("a choice"));
    let request = Request {
        free: free.to_vec(),
        ..Request::default()
    };
    all_are_floors(&catalogue, &build, &request);
}

#[test]
fn what_offcuts_in_hand_give_is_not_bought() {
    let catalogue = common::catalogue();
    let mut build = common::build(&catalogue, &[("tube_supply", "whole-bars")]);
    for id in ["beam_tube", "base_tube"] {
        let choice = choices::find(id).expect("a choice");
        if let Value::Part(Some(tube)) = (choice.get)(&build) {
            let pieces = vec![units::mm::of(6000.0); 9];
            build.purchases.offcuts.insert(tube, pieces);
        }
    }
    let request = Request {
        free: vec![choices::find("guide_z").expect("a choice")],
        ..Request::default()
    };
    all_are_floors(&catalogue, &build, &request);
}

/// Bars are bought whole, without the spare that the rule asks for where strips are cut to length.
#[test]
fn strips_that_are_sawn_from_bars_come_without_spare() {
    let catalogue = common::catalogue();
    let strips = [("tube_supply", "whole-bars"), ("thread_strips", "yes")];
    let request = Request {
        free: ["guide_x", "guide_z"]
            .map(|id| choices::find(id).expect("a choice"))
            .to_vec(),
        ..Request::default()
    };
    // Some lengths fill a bar so nearly that the spare would want another one.
    for length in (300..1500).step_by(75) {
        let mut build = common::build(&catalogue, &strips);
        build.area.travel.x = units::mm::of(f64::from(length));
        build.area.travel.y = units::mm::of(f64::from(length));
        all_are_floors(&catalogue, &build, &request);
    }
}

/// What is wanted only for some spindles is not put to the account of a spindle that brings it.
#[test]
fn what_two_choices_want_together_is_not_put_to_one() {
    let catalogue = common::catalogue();
    for (wanted, spindle) in [
        ("line_choke", "router-1050w-230"),
        ("antifreeze", "spindle-1.5kw-air"),
    ] {
        let build = common::build(&catalogue, &[("spindle", spindle), (wanted, "yes")]);
        let free = ["spindle", wanted].map(|id| choices::find(id).expect("a choice"));
        let request = Request {
            free: free.to_vec(),
            ..Request::default()
        };
        all_are_floors(&catalogue, &build, &request);
    }
}

/// Whether the floors of all builds of a small space are below what they come to.
fn all_are_floors(catalogue: &Catalogue, build: &Build, request: &Request) {
    let standing = Standing::of(catalogue, build);
    let bench = standing.bench();
    let space = probe::free(&bench, request);
    let mut ways = vec![Vec::new()];
    for free in &space.free {
        let longer = |way: &Vec<usize>| {
            let way = way.clone();
            (0..free.options.len()).map(move |option| [way.as_slice(), &[option]].concat())
        };
        ways = ways.iter().flat_map(longer).collect();
    }
    let floors = probe::floors(&bench, &space, &ways).expect("floors");
    for (way, floors) in ways.iter().zip(floors) {
        let end = built(&space, build, way);
        let real = assess(catalogue, &end, common::today()).expect("an assessment");
        let real = real.bill.total.likely;
        let most = floors.into_iter().max().expect("a floor");
        assert!(most <= real, "{most} > {real}: {way:?}");
    }
}

/// Choices of all steps, a third of them.
pub(crate) fn any(catalogue: &Catalogue, rng: &mut ChaCha8Rng) -> Vec<&'static Choice> {
    let listed = choices::all().iter();
    let listed = listed.filter(|choice| !choice.options(catalogue).is_empty());
    listed.filter(|_| rng.random_bool(0.3)).collect()
}

#[test]
fn no_need_is_believed_larger_than_it_is() {
    let catalogue = common::catalogue();
    let mut rng = ChaCha8Rng::seed_from_u64(101);
    let (mut wrong, mut exact, mut all) = (Vec::new(), 0, 0);
    for round in 0..12 * times() {
        let mut build = base(&catalogue, &mut rng);
        for id in ["frame_plan", "gantry_drive"] {
            let choice = choices::find(id).expect("a choice");
            let options = choice.options(&catalogue);
            choice.put(&mut build, options.choose(&mut rng).expect("an option"));
        }
        let standing = Standing::of(&catalogue, &build);
        let bench = standing.bench();
        let request = Request {
            free: match round % 3 {
                0 => any(&catalogue, &mut rng),
                _ => free(&catalogue, &mut rng),
            },
            ..Request::default()
        };
        let space = probe::free(&bench, &request);
        let ways: Vec<_> = (0..8)
            .map(|place| way(&space, &build, [0.1, 0.5, 1.0][place % 3], &mut rng))
            .collect();
        let needs = probe::needs(&bench, &space, &ways).expect("needs");
        for (way, needs) in ways.iter().zip(needs) {
            for need in needs {
                all += 1;
                // Of a broken quantity the last thousandths are left out.
                exact += usize::from(need.real - need.least <= Decimal::new(5, 3));
                if need.least > need.real {
                    let end = built(&space, &build, way);
                    let edits = gantrywright::build::edit::difference(&build, &end);
                    wrong.push(format!("{need:?}: {edits:?}"));
                }
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong: {:#?}",
        wrong.len(),
        wrong.first()
    );
    // Most are not only believed but known.
    assert!(exact * 2 > all, "{exact} of {all}");
}
