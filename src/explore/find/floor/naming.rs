//! What asks for parts that free choices name, what is left of it where other choices change the
//! quantity, and whether a choice changes anything else.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::Touched;
use super::sample::{Needed, Needs, Sample};
use crate::bill::asked::Source;
use crate::build::Axis;
use crate::catalogue::{Id, Step};
use crate::explore::find::Space;

/// Whether options of a choice change any of the rest.
pub(super) fn stirred(samples: &[Sample], reference: &Sample) -> Touched {
    let differs = |one: &Sample| {
        let same = |key: &(Id, Step), needed: &Needed| {
            let now = one.rest.get(key);
            now.is_some_and(|now| now.whole() == needed.whole())
        };
        let mut each = reference.rest.iter();
        one.rest.len() != reference.rest.len() || !each.all(|(key, needed)| same(key, needed))
    };
    Touched {
        stirs: samples.iter().any(differs),
        ..Touched::default()
    }
}

/// What asks for parts that free choices name, with those choices, the first made first.
pub(super) fn naming(space: &Space) -> Vec<(Source, Vec<usize>)> {
    let free = |id: &String| {
        let mut each = space.free.iter();
        each.position(|one| one.choice.id == *id)
    };
    let named = Source::all().into_iter().filter_map(|source| {
        let mut by: Vec<usize> = source.named_by().iter().filter_map(free).collect();
        by.sort_unstable();
        (!by.is_empty()).then_some((source, by))
    });
    named.collect()
}

/// Every combination of the options of some choices.
pub(super) fn combinations(space: &Space, by: &[usize]) -> Vec<Vec<(usize, usize)>> {
    let mut all = vec![Vec::new()];
    for &choice in by {
        let options = space.free[choice].options.len();
        let longer = all.iter().flat_map(|some| {
            (0..options).map(move |option| {
                let mut more: Vec<(usize, usize)> = some.clone();
                more.push((choice, option));
                more
            })
        });
        all = longer.collect();
    }
    all
}

/// What is left of the quantities of a source: the least share of any of its parts.
pub(super) fn share_left(base: &Needs, now: Option<&Needs>) -> f64 {
    let left = base.iter().map(|(id, was, _)| {
        let found = now.into_iter().flatten().find(|(part, ..)| part == id);
        let is = found.map_or(Decimal::ZERO, |(_, needed, _)| *needed);
        let share = is.checked_div(*was).and_then(|share| share.to_f64());
        share.unwrap_or(1.0)
    });
    left.fold(1.0, f64::min)
}

/// The least that a choice leaves of anything on an axis that it does not name: what the build
/// at hand does not need at all, the ends of a screw where it has a rack, goes with the others.
pub(super) fn least_share(
    reference: &Sample,
    now: &Sample,
    axis: Option<Axis>,
    names: impl Fn(&Source) -> bool,
) -> f64 {
    let same = reference.named.iter();
    let same = same.filter(|(source, _)| axis.is_some() && source.axis() == axis && !names(source));
    let left = same.map(|(source, base)| share_left(base, now.named.get(source)));
    left.fold(1.0, f64::min)
}
