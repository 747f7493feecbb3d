//! Lessons against builds of chance: whatever else is chosen, what was learned stays.

use std::ops::ControlFlow;

use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use super::*;
use crate::bill::floor::Shop;
use crate::explore::find::floor::Floor;
use crate::explore::find::{search, usual};
use crate::explore::trial::Bench;
use crate::store::{examples, library};

/// Builds that something is learned from, where nobody asks for more:
/// `LESSON_BUILDS=3000 cargo test --release --lib find::judge`.
const BUILDS: usize = 60;

/// Others that agree with each in what alone decides a lesson.
const EACH: usize = 3;

#[test]
fn a_lesson_holds_whatever_else_is_chosen() {
    let catalogue = library::load(&[]).expect("the catalogue");
    let today = jiff::civil::date(2026, 11, 26);
    let mut rng = ChaCha8Rng::seed_from_u64(91);
    let asked = std::env::var("LESSON_BUILDS").ok();
    let builds = asked.and_then(|text| text.parse().ok()).unwrap_or(BUILDS);
    let targets = [
        "rapids=12",
        "stiffness=6",
        "removal=60",
        "current=9",
        "width=900",
    ];
    let targets = targets.map(|text| Target::parse(text, &catalogue).expect("a target"));
    let request = Request {
        targets: targets.to_vec(),
        ..Request::default()
    };
    let shipped = examples::all();
    let (mut held, mut narrowed, mut wrong) = (0, 0, Vec::new());
    let shipped = shipped.iter().take(3);
    let shipped = shipped.map(|one| one.build(&catalogue).expect("an example"));
    for base in std::iter::once(Build::default()).chain(shipped) {
        let before = assess(&catalogue, &base, today).expect("an assessment");
        let bench = Bench {
            catalogue: &catalogue,
            build: &base,
            before: &before,
            today,
        };
        let space = search::space(&catalogue, &base, &usual(&catalogue));
        let picked = Picked::new(&catalogue, &base).expect("picked");
        let shop = Shop::new(&picked, today).expect("a shop");
        let floor = Floor::new(&picked, shop, &base, &space).expect("floors");
        let mut walk = Walk::new(&bench, &request, &base, &space, &floor);
        let mut watch = |_: &super::super::Progress| ControlFlow::Continue(());
        let mut tally = Tally::new(1, &mut watch);
        let sizes: Vec<usize> = space.free.iter().map(|one| one.options.len()).collect();
        let share = [0.1, 0.3, 1.0];
        for place in 0..builds / 4 {
            let now = |turn: usize| {
                let free = &space.free[turn];
                let value = (free.choice.get)(&base);
                free.options
                    .iter()
                    .position(|one| *one == value)
                    .unwrap_or_default()
            };
            let stirred = share[place % share.len()];
            let mut draw = |turn: usize, share: f64| match rng.random_bool(share) {
                true => rng.random_range(0..sizes[turn]),
                false => now(turn),
            };
            let options: Vec<usize> = (0..sizes.len()).map(|turn| draw(turn, stirred)).collect();
            let build = walk.build(&options);
            let mut lessons = walk.judge(&build, &mut tally).expect("an assessment");
            for lesson in &mut lessons {
                let wide = lesson.scope.len();
                walk.narrow(lesson, &options, &mut tally)
                    .expect("an assessment");
                narrowed += usize::from(lesson.scope.len() < wide);
                for _ in 0..EACH {
                    let mut others: Vec<usize> =
                        (0..sizes.len()).map(|turn| draw(turn, 0.5)).collect();
                    for &turn in &lesson.scope {
                        others[turn] = options[turn];
                    }
                    let other = walk.build(&others);
                    let found = walk.judge(&other, &mut tally).expect("an assessment");
                    let same = |one: &Lesson| {
                        let weak = lesson.weak.is_none() || one.weak == lesson.weak;
                        let better = one.value.zip(lesson.value).is_some_and(|(one, other)| {
                            lesson.weak.is_some() && one > other + 1e-9
                        });
                        one.because == lesson.because && weak && !better
                    };
                    match found.iter().any(same) {
                        true => held += 1,
                        false => wrong.push(format!(
                            "{:?} {:?} by {:?}",
                            lesson.because,
                            lesson.weak,
                            lesson.scope.len()
                        )),
                    }
                }
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    println!("{held} held, {narrowed} narrowed");
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(
        held > builds * EACH && narrowed * 4 > builds / 4,
        "{held} held, {narrowed} narrowed"
    );
}
