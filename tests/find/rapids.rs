//! The rapids of one axis as a target, against the plain way: every combination assessed by itself.

use crate::common;
use crate::truth::{every, search};
use crate::what_if::Standing;
use gantrywright::assessment::assess;
use gantrywright::build::{Axis, Build, choices};
use gantrywright::explore::find::{Request, Target};
use gantrywright::explore::reading::Reading;
use rust_decimal::Decimal;

/// The rapids of one axis are asked of it alone: the others may be as slow as they like.
#[test]
fn the_rapids_of_one_axis_are_asked_of_it_alone() {
    let (catalogue, build) = (common::catalogue(), Build::default());
    let standing = Standing::of(&catalogue, &build);
    let bench = standing.bench();
    let now = Reading::of(bench.before);
    for axis in Axis::EACH {
        let ids = ["motor", "ends"].map(|name| axis.choice(name));
        let free = ids.map(|id| choices::find(&id).expect("a choice")).to_vec();
        let all = every(&catalogue, &build, &free);
        let sound = all.iter().filter_map(|build| {
            let one = assess(&catalogue, build, common::today()).expect("an assessment");
            let reading = Reading::of(&one);
            let rapid = reading.rapid(axis).number;
            (!one.is_unsound()).then_some((rapid, reading.cost.likely))
        });
        let sound: Vec<(f64, Decimal)> = sound.collect();
        let fastest = sound.iter().map(|one| one.0).fold(0.0, f64::max);
        let is = now.rapid(axis).number;
        for least in [0.0, is, (is + fastest) / 2.0, fastest] {
            let request = Request {
                targets: vec![Target::Rapids(axis, least)],
                free: free.clone(),
                ..Request::default()
            };
            let found = search(&bench, &request);
            let within = sound.iter().filter(|(rapid, _)| *rapid >= least);
            let cheapest = found.answers.first().map(|one| one.reading.cost.likely);
            assert_eq!(cheapest, within.map(|one| one.1).min(), "{axis:?} {least}");
        }
        // Faster than any is none; what the axis can do is told.
        let request = Request {
            targets: vec![Target::Rapids(axis, fastest * 2.0)],
            free,
            ..Request::default()
        };
        let found = search(&bench, &request);
        let [relaxed] = found.relaxed.as_slice() else {
            panic!("{:?}", found.relaxed);
        };
        let Target::Rapids(of, best) = relaxed.to else {
            panic!("{:?}", relaxed.to);
        };
        assert!(of == axis && best <= fastest && best > fastest * 0.93);
    }
}
