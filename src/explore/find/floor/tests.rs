//! Floors against the real bill: never above it, whatever is still open.

use rand::seq::IndexedRandom as _;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::*;
use crate::assessment::assess;
use crate::bill::floor::down;
use crate::build::choices::drive::GantryDrive;
use crate::build::{Choice, choices};
use crate::explore::find::{search, usual};
use crate::store::{examples, library};

/// Builds to start from, and completions of each, where nobody asks for more:
/// `FLOOR_BUILDS=200 cargo test --release --lib find::floor`.
const BUILDS: usize = 10;
const EACH: usize = 24;

fn today() -> jiff::civil::Date {
    jiff::civil::date(2026, 11, 26)
}

/// A build of chance: one that is shipped, some of its usual free choices changed.
fn base(catalogue: &Catalogue, rng: &mut ChaCha8Rng) -> Build {
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
            let option = options.choose(rng).expect("an option");
            choice.put(&mut build, option);
        }
    }
    build
}

/// Some of the usual free choices, and now and then others.
fn free(catalogue: &Catalogue, rng: &mut ChaCha8Rng) -> Vec<&'static Choice> {
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
    // A search parts its space by this one.
    free.retain(|choice| choice.id != "gantry_drive");
    free
}

#[test]
fn a_floor_is_never_above_what_a_build_comes_to() {
    let catalogue = library::load(&[]).expect("the catalogue");
    let mut rng = ChaCha8Rng::seed_from_u64(81);
    let asked = std::env::var("FLOOR_BUILDS").ok();
    let builds = asked.and_then(|text| text.parse().ok()).unwrap_or(BUILDS);
    let (mut wrong, mut closest) = (Vec::new(), f64::INFINITY);
    for _ in 0..builds {
        let mut build = base(&catalogue, &mut rng);
        if rng.random_bool(0.5) {
            build.drive.gantry = GantryDrive::Centre;
        }
        let space = search::space(&catalogue, &build, &free(&catalogue, &mut rng));
        let picked = Picked::new(&catalogue, &build).expect("picked");
        let shop = Shop::new(&picked, today()).expect("a shop");
        let floor = Floor::new(&picked, shop, &build, &space).expect("floors");
        for _ in 0..EACH {
            let mut end = build.clone();
            let mut partial = Partial::new(&floor, &space);
            let mut floors = vec![partial.least()];
            for (turn, free) in space.free.iter().enumerate() {
                let option = rng.random_range(0..free.options.len());
                free.choice.put(&mut end, &free.options[option]);
                partial.make(turn, option);
                floors.push(partial.least());
            }
            let real = assess(&catalogue, &end, today()).expect("an assessment");
            let real = down(real.bill.total.likely);
            let most = floors.into_iter().max().expect("a floor");
            closest = closest.min((real - most) as f64 / real as f64);
            if most > real {
                wrong.push(format!(
                    "{most} > {real}: {:?}",
                    crate::build::edit::difference(&build, &end)
                ));
            }
            // What was made can be opened again.
            for _ in &space.free {
                partial.open();
            }
            assert_eq!(partial.least(), Partial::new(&floor, &space).least());
        }
    }
    assert!(
        wrong.is_empty(),
        "{} wrong: {:#?}",
        wrong.len(),
        &wrong[..wrong.len().min(5)]
    );
    // Were floors higher by a hundredth, some would be above.
    assert!(closest < 0.01, "the closest floor is {closest} below");
}
