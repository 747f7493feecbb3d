//! A search as a whole: the space in parts, one walk for each, and what comes of them.

use std::ops::ControlFlow;

use super::floor::Floor;
use super::order::turn_of;
use super::relax;
use super::tally::Tally;
use super::target::steps;
use super::walk::Walk;
use super::{Answer, Found, Progress, Request, Space, usual};
use crate::assessment::AssessError;
use crate::bill::floor::Shop;
use crate::build::{Build, Choice, Picked};
use crate::catalogue::Catalogue;
use crate::explore::trial::Bench;

/// The choices that change the number of things all over the machine. Each of their options
/// gets a walk of its own, since floors are closest where such a choice is made.
const PARTING: &[&str] = &["gantry_drive"];

/// See [`super::find`].
pub(super) fn run(
    bench: &Bench,
    request: &Request,
    watch: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Found, AssessError> {
    let mut found = once(bench, request, watch)?;
    if found.answers.is_empty() && found.fixed.is_empty() && found.is_proven() {
        (found.relaxed, found.cancelled) = relax::relaxed(bench, request, watch)?;
    }
    Ok(found)
}

/// The same, but where nothing fits it is left at that.
pub(super) fn once(
    bench: &Bench,
    request: &Request,
    watch: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Found, AssessError> {
    let choices = match request.free.is_empty() {
        true => usual(bench.catalogue),
        false => request.free.clone(),
    };
    let whole = space(bench.catalogue, bench.build, &choices);
    let parts = parted(bench.build, &whole);
    let picked = (parts.iter())
        .map(|(build, _)| Picked::new(bench.catalogue, build))
        .collect::<Result<Vec<_>, _>>()?;
    let mut floors = Vec::with_capacity(parts.len());
    for (picked, (build, space)) in picked.iter().zip(&parts) {
        let shop = Shop::new(picked, bench.today)?;
        floors.push(Floor::new(picked, shop, build, space)?);
    }
    let each = parts.iter().zip(&floors);
    let walks = each.map(|((build, space), floor)| Walk::new(bench, request, build, space, floor));
    let mut walks: Vec<Walk> = walks.collect();
    let mut tally = Tally::new(whole.combinations(), watch);
    tally.effort = request.effort;
    tally.report();
    if let Some(walk) = walks.first_mut() {
        // The build at hand is the first to be beaten.
        walk.judge(bench.build, &mut tally)?;
    }
    let mut answers: Vec<Answer> = Vec::new();
    let mut searches = 0;
    while !tally.is_over() {
        searches += 1;
        tally.covered = 0;
        for walk in &mut walks {
            if !tally.is_over() {
                walk.go(&mut tally)?;
            }
        }
        let Some(answer) = tally.best.take() else {
            break;
        };
        let figure = request
            .against
            .and_then(|measure| answer.reading.value(measure));
        // One that costs as much and is better takes the place of the one before.
        let same = |last: &Answer| last.reading.cost.likely == answer.reading.cost.likely;
        if answers.last().is_some_and(same) {
            answers.pop();
        }
        answers.push(answer);
        tally.above = figure.map(|value| steps(&value));
        if tally.above.is_none() {
            break;
        }
    }
    // What stands in every part stands whatever is chosen.
    let mut fixed = walks
        .first()
        .map(|walk| walk.fixed.clone())
        .unwrap_or_default();
    fixed.retain(|one| {
        let stands = |walk: &Walk| walk.fixed.iter().any(|other| other.rule == one.rule);
        answers.is_empty() && walks.iter().all(stands)
    });
    Ok(Found {
        assessed: tally.assessed,
        leaves: tally.leaves,
        searches,
        excluded: tally.excluded.into_iter().collect(),
        answers,
        relaxed: Vec::new(),
        fixed,
        cancelled: tally.cancelled,
        gave_up: tally.gave_up,
        space: whole,
    })
}

/// What some choices leave open for a build, in the order in which a walk makes them.
pub(super) fn space(catalogue: &Catalogue, build: &Build, choices: &[&'static Choice]) -> Space {
    let mut space = Space::new(catalogue, build, choices);
    space.free.sort_by_key(|one| turn_of(one.choice.id));
    space
}

/// The parts of a space: the build that each is of, and what is free there.
fn parted(build: &Build, whole: &Space) -> Vec<(Build, Space)> {
    let mut parts = vec![(build.clone(), whole.clone())];
    for id in PARTING {
        let Some(turn) = whole.free.iter().position(|one| one.choice.id == *id) else {
            continue;
        };
        let parting = &whole.free[turn];
        let finer = parts.iter().flat_map(|(build, space)| {
            parting.options.iter().map(move |option| {
                let (mut build, mut space) = (build.clone(), space.clone());
                parting.choice.put(&mut build, option);
                space.free.retain(|one| one.choice.id != parting.choice.id);
                (build, space)
            })
        });
        parts = finer.collect();
    }
    parts
}
