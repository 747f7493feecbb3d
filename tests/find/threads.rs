//! One search, however many run beside it and in whatever thread: the same answers in the same
//! order, for the same reasons, to the last count.

use crate::common;
use std::ops::ControlFlow;
use std::sync::{Arc, mpsc};
use std::thread;
use std::time::Duration;

use crate::what_if::Standing;
use gantrywright::build::{Build, choices};
use gantrywright::catalogue::Catalogue;
use gantrywright::explore::find::{self, Because, Found, Request, Target};
use gantrywright::explore::reading::Measure;
use gantrywright::screen::job::{self, Watch};
use rust_decimal::Decimal;

/// All that is told of a search.
#[derive(Debug, PartialEq)]
struct Told {
    /// Each answer: what it changes, what it costs, and the figure that money is traded for.
    answers: Vec<(String, Decimal, Option<f64>)>,
    assessed: u64,
    leaves: u128,
    searches: u32,
    excluded: Vec<(Because, u128)>,
}

fn told(found: &Found) -> Told {
    let answers = found.answers.iter().map(|one| {
        let rapids = one.reading.value(Measure::Rapids);
        let edits = format!("{:?}", one.edits);
        (
            edits,
            one.reading.cost.likely,
            rapids.map(|value| value.number),
        )
    });
    Told {
        answers: answers.collect(),
        assessed: found.assessed,
        leaves: found.leaves,
        searches: found.searches,
        excluded: found.excluded.clone(),
    }
}

/// A front with several builds, under a target.
fn request(catalogue: &Catalogue) -> Request {
    let ids = ["motor_x", "motor_y", "ends_x", "ends_y", "supply", "fan"];
    let free = ids.map(|id| choices::find(id).expect("a choice"));
    Request {
        targets: vec![Target::parse("stiffness>=0.5", catalogue).expect("a target")],
        against: Some(Measure::Rapids),
        free: free.into(),
        effort: None,
    }
}

fn run(catalogue: &Catalogue, build: &Build, request: &Request) -> Told {
    let standing = Standing::of(catalogue, build);
    let bench = standing.bench();
    let found = find::find(&bench, request, &mut |_| ControlFlow::Continue(()));
    told(&found.expect("a search"))
}

#[test]
fn a_search_answers_the_same_in_any_number_of_threads() {
    let (catalogue, build) = (common::catalogue(), Build::default());
    let request = request(&catalogue);
    let once = run(&catalogue, &build, &request);
    assert!(once.answers.len() > 1, "{once:?}");
    assert_eq!(run(&catalogue, &build, &request), once);
    for threads in [2, 5] {
        let all: Vec<Told> = thread::scope(|scope| {
            let each = || scope.spawn(|| run(&catalogue, &build, &request));
            let started: Vec<_> = (0..threads).map(|_| each()).collect();
            let ends = started.into_iter().map(|one| one.join());
            ends.map(|end| end.expect("no panic")).collect()
        });
        assert!(all.iter().all(|one| *one == once), "{threads}: {all:?}");
    }
    // A catalogue that is read anew has other hashes, but the same entries.
    assert_eq!(run(&common::catalogue(), &build, &request), once);
}

#[test]
fn the_thread_beside_the_screen_answers_the_same() {
    let (catalogue, build) = (Arc::new(common::catalogue()), Build::default());
    let request = request(&catalogue);
    let once = run(&catalogue, &build, &request);
    let (send, heard) = mpsc::channel();
    let jobs: Vec<_> = (0..2)
        .map(|_| {
            let (catalogue, build) = (Arc::clone(&catalogue), build.clone());
            let (request, send) = (request.clone(), send.clone());
            let (running, job) = job::job(move |watch: &Watch<u128>| {
                let standing = Standing::of(&catalogue, &build);
                let found = find::find(&standing.bench(), &request, &mut |progress| {
                    watch.tell(|| progress.covered)
                });
                let told = told(&found.expect("a search"));
                send.send(()).expect("somebody listens");
                told
            });
            job.start(|| ()).expect("a thread");
            running
        })
        .collect();
    for _ in &jobs {
        heard
            .recv_timeout(Duration::from_secs(120))
            .expect("an end");
    }
    for running in jobs {
        // The word that it has ended comes just before the result is laid down.
        let result = (0..1000).find_map(|_| {
            let result = running.result();
            if result.is_none() {
                thread::sleep(Duration::from_millis(5));
            }
            result
        });
        assert_eq!(result.as_ref(), Some(&once));
    }
}
