//! What the search learns against the truth: a lesson holds whatever else is chosen.

use crate::bounds::{base, built, times, way};
use crate::common;
use crate::what_if::Standing;
use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::Build;
use gantrywright::explore::find::probe::{self, Learned};
use gantrywright::explore::find::{Because, Request, Target, usual};
use gantrywright::explore::reading::{Measure, Reading};
use gantrywright::rules::Severity;
use gantrywright::units;
use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

/// Whether a build is out for the reason of a lesson, and no better in its figure.
fn stays(lesson: &Learned, request: &Request, found: &Assessment) -> bool {
    let reading = Reading::of(found);
    match &lesson.because {
        Because::Rule(id) => found.findings.iter().any(|one| {
            let here = lesson.weak.is_none() || one.axis == lesson.weak;
            one.rule == *id && here && one.severity <= Severity::Fault && one.counts()
        }),
        Because::Target(place) => {
            let target = &request.targets[*place];
            let no_better = match (target, lesson.weak, lesson.value) {
                (Target::Figure(Measure::Rapids, _), Some(axis), Some(value)) => {
                    units::m_per_min::from(reading.rapids[axis].0) <= value + 1e-9
                }
                (Target::Rapids(axis, _), _, Some(value)) => {
                    reading.rapid(*axis).number <= value + 1e-9
                }
                (Target::Figure(measure, _), _, Some(value)) => {
                    let now = reading.value(*measure).expect("a figure").number;
                    (now - value).abs() < 1e-9
                }
                _ => true,
            };
            no_better && !target.is_met(found, &reading)
        }
        _ => false,
    }
}

#[test]
fn a_lesson_holds_whatever_else_is_chosen() {
    let (catalogue, today) = (common::catalogue(), common::today());
    let mut rng = ChaCha8Rng::seed_from_u64(91);
    let targets = [
        "rapids=12",
        "rapids:Y=15",
        "rapids:Z=12",
        "stiffness=6",
        "removal=60",
        "current=9",
        "width=900",
    ];
    let targets = targets.map(|text| Target::parse(text, &catalogue).expect("a target"));
    let request = Request {
        targets: targets.to_vec(),
        free: usual(&catalogue),
        ..Request::default()
    };
    let (mut held, mut spared, mut wrong) = (0, 0, Vec::new());
    for round in 0..4 * times() {
        let build = match round {
            0 => Build::default(),
            _ => base(&catalogue, &mut rng),
        };
        let standing = Standing::of(&catalogue, &build);
        let bench = standing.bench();
        let space = probe::free(&bench, &request);
        let ways: Vec<_> = (0..12)
            .map(|place| way(&space, &build, [0.1, 0.3, 1.0][place % 3], &mut rng))
            .collect();
        let all = probe::lessons(&bench, &request, &space, &ways).expect("lessons");
        for (own, lessons) in ways.iter().zip(all) {
            for lesson in lessons {
                spared += usize::from(lesson.spared > 0);
                for _ in 0..3 {
                    let mut other = way(&space, &build, 0.5, &mut rng);
                    for (turn, free) in space.free.iter().enumerate() {
                        if lesson
                            .choices
                            .iter()
                            .any(|choice| choice.id == free.choice.id)
                        {
                            other[turn] = own[turn];
                        }
                    }
                    let other = built(&space, &build, &other);
                    let found = assess(&catalogue, &other, today).expect("an assessment");
                    match stays(&lesson, &request, &found) {
                        true => held += 1,
                        false => wrong.push(format!("{lesson:?}")),
                    }
                }
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{wrong:#?}");
    assert!(held > 300 && spared > 10, "{held} held, {spared} spared");
}
