//! A search as a whole: the space in parts, one walk for each, and what comes of them.

use std::ops::ControlFlow;

use super::climb::climbed;
use super::floor::Floor;
use super::lessons::Lessons;
use super::order::turn_of;
use super::relax;
use super::tally::Tally;
use super::target::steps;
use super::tidy::tidied;
use super::walk::Walk;
use super::{Found, FoundBuild, Progress, Relaxed, Request, Space, usual};
use crate::assessment::AssessError;
use crate::bill::floor::Shop;
use crate::build::{Build, Choice, Picked};
use crate::catalogue::Catalogue;
use crate::explore::trial::Bench;
use crate::order::Order as _;
use crate::rules::Finding;

/// The choices that change the number or length of things all over the machine. Each of their
/// options gets a walk of its own: floors hold, and are closest, where such a choice is made.
pub(super) const PARTING: &[&str] = &["gantry_drive", "frame_plan"];

/// Looks for the builds of a request. `watch` is told now and then how far it has come, and may
/// stop it.
///
/// # Errors
/// Where the build at hand cannot be assessed with an option: an unknown part, a price without
/// a rate.
pub fn find(
    bench: &Bench,
    request: &Request,
    watch: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Found, AssessError> {
    let mut found = once(bench, request, watch)?;
    if found.answers.is_empty() && found.fixed.is_empty() && found.is_proven() {
        (found.relaxed, found.eased_in_part) = relax::relaxed(bench, request, watch)?;
    }
    let answers = found.answers.into_iter();
    found.answers = answers.map(|one| tidied(bench, one)).collect();
    let relaxed = found.relaxed.into_iter().map(|one| Relaxed {
        answer: tidied(bench, one.answer),
        ..one
    });
    found.relaxed = relaxed.collect();
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
    let mut tally = Tally::new(whole.combinations(), bench.before.bill.currency, watch);
    tally.effort = request.effort;
    tally.report();
    let mut known = Vec::new();
    let start = climbed(bench, request, &whole, &mut tally);
    let start = start.as_ref().unwrap_or(bench.build);
    let mut base = start.clone();
    let mut scouting = SCOUTING.iter();
    loop {
        tally.scouting = scouting.next().copied();
        let parts = parted(&base, &whole);
        let trip = trip((bench, start), request, &parts, &mut tally, &mut known)?;
        let better = tally.best.as_ref().map(|best| &best.build);
        match (trip, better) {
            (Some(trip), _) => return Ok(told(trip, tally, &known, whole)),
            (None, Some(best)) => base = best.clone(),
            // There is nothing to start from that is closer.
            (None, None) => scouting = [].iter(),
        }
    }
}

/// How much work the first walks may be. What a build costs at least is the closer, the more
/// alike it is to the one that floors are made from. So a walk that takes longer is broken off,
/// and starts anew from the best that it found, with all that it learned.
const SCOUTING: &[u64] = &[400_000, 2_000_000];

/// What walks through all parts came to.
struct Trip {
    answers: Vec<FoundBuild>,
    searches: u32,
}

/// What is learned of a part, whatever floors are made from.
#[derive(Default)]
struct Known {
    lessons: Option<Lessons>,
    fixed: Vec<Finding>,
}

/// One walk through each part, and for a front one more for each of its builds; none where it
/// was for scouting and did not come to its end. The first one goes out from `start`.
fn trip(
    (bench, start): (&Bench, &Build),
    request: &Request,
    parts: &[(Build, Space)],
    tally: &mut Tally,
    known: &mut Vec<Known>,
) -> Result<Option<Trip>, AssessError> {
    let picked = (parts.iter())
        .map(|(build, _)| Picked::new(bench.catalogue, build))
        .collect::<Result<Vec<_>, _>>()?;
    let mut floors = Vec::with_capacity(parts.len());
    for (picked, (build, space)) in picked.iter().zip(parts) {
        let shop = Shop::new(picked, bench.today)?;
        floors.push(Floor::new(picked, shop, build, space)?);
    }
    let first = known.is_empty();
    known.resize_with(parts.len(), Known::default);
    let mut walks = Vec::with_capacity(parts.len());
    for (((build, space), floor), known) in parts.iter().zip(&floors).zip(known.iter_mut()) {
        let mut walk = Walk::new(bench, request, build, space, floor);
        if let Some(lessons) = known.lessons.take() {
            walk.lessons = lessons;
        }
        walk.fixed = std::mem::take(&mut known.fixed);
        walks.push(walk);
    }
    if first && let Some(walk) = walks.first_mut() {
        // The build at hand is the first to be beaten, or one that does what it does not.
        walk.judge(start, tally)?;
        for walk in &mut walks {
            walk.descend(start, tally)?;
        }
    }
    let before = tally.count();
    let mut trip = Trip {
        answers: Vec::new(),
        searches: 0,
    };
    // Whoever stops it on the way down, before the first walk, has what was found by then.
    loop {
        trip.searches += 1;
        tally.covered = 0;
        for walk in &mut walks {
            if !tally.is_over() {
                walk.go(tally)?;
            }
        }
        if tally.is_scouted() {
            break;
        }
        tally.scouting = None;
        let Some(answer) = tally.best.take() else {
            break;
        };
        let figure = request
            .against
            .and_then(|measure| answer.reading.value(measure));
        // One that costs as much and is better takes the place of the one before.
        let same = |last: &FoundBuild| last.reading.cost.likely == answer.reading.cost.likely;
        if trip.answers.last().is_some_and(same) {
            trip.answers.pop();
        }
        trip.answers.push(answer);
        tally.above = figure.map(|value| steps(&value));
        if tally.above.is_none() || tally.is_over() {
            break;
        }
    }
    for (known, walk) in known.iter_mut().zip(walks) {
        (known.lessons, known.fixed) = (Some(walk.lessons), walk.fixed);
    }
    if tally.is_scouted() {
        tally.recount(before);
        return Ok(None);
    }
    Ok(Some(trip))
}

/// What came of it all.
fn told(trip: Trip, tally: Tally, known: &[Known], whole: Space) -> Found {
    // What stands in every part stands whatever is chosen.
    let mut fixed = known
        .first()
        .map(|one| one.fixed.clone())
        .unwrap_or_default();
    fixed.retain(|one| {
        let stands = |known: &Known| known.fixed.iter().any(|other| other.rule == one.rule);
        trip.answers.is_empty() && known.iter().all(stands)
    });
    Found {
        assessed: tally.assessed,
        leaves: tally.leaves,
        searches: trip.searches,
        excluded: tally.excluded.into_iter().collect(),
        answers: trip.answers,
        relaxed: Vec::new(),
        fixed,
        cancelled: tally.cancelled,
        eased_in_part: false,
        gave_up: tally.gave_up,
        space: whole,
    }
}

/// What some choices leave open for a build, in the order in which a walk makes them.
pub(super) fn space(catalogue: &Catalogue, build: &Build, choices: &[&'static Choice]) -> Space {
    let mut space = Space::new(catalogue, build, choices);
    space.free.order_by_key(|one| turn_of(one.choice.id));
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
