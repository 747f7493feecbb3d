//! What single builds need, and what their axes are capable of: the samples that floors are made
//! from.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use crate::assessment::AssessError;
use crate::bill::asked::{Asked, Source, asked, of_axis};
use crate::build::{Axis, Build, PerAxis, Picked};
use crate::catalogue::{Catalogue, Id, Step};
use crate::explain::Silent;
use crate::machine::Machine;
use crate::machine::geometry::Geometry;
use crate::units::Length;

/// A quantity in millionths.
pub(super) type Millionths = i64;

/// Lengths, masses and areas are rounded to the thousandth when they are counted, a few of them
/// for one need; so much of a broken quantity is not certain.
pub(super) const BROKEN: Millionths = 5_000;

/// Parts, quantities and how long the longest piece is.
pub(super) type Needs = Vec<(Id, Decimal, Length)>;

/// What is needed of one of the rest.
#[derive(Clone, Default)]
pub(super) struct Needed {
    /// How much what asks for it wants.
    pub(super) by: BTreeMap<Source, Millionths>,
    /// The size of a pack.
    pub(super) pack: Decimal,
    /// How long the longest piece is, where it is cut.
    pub(super) longest: Length,
}

impl Needed {
    /// All of it.
    pub(super) fn whole(&self) -> Millionths {
        self.by.values().sum()
    }

    /// What another build takes away: of each that asks for it, for what one wants less, another
    /// may want more.
    pub(super) fn taken_by(&self, other: Option<&Self>) -> Millionths {
        let left = |source| other.and_then(|other| other.by.get(source).copied());
        let each = self.by.iter();
        each.map(|(source, was)| (was - left(source).unwrap_or_default()).max(0))
            .sum()
    }

    /// How much less another build needs of it; negative where it needs more.
    pub(super) fn less_in(&self, other: Option<&Self>) -> Millionths {
        self.whole() - other.map_or(0, Self::whole)
    }
}

/// What one build needs.
#[derive(Clone, Default)]
pub(super) struct Sample {
    /// Of what free choices name.
    pub(super) named: BTreeMap<Source, Needs>,
    /// Of the rest.
    pub(super) rest: BTreeMap<(Id, Step), Needed>,
    /// What each axis is capable of; the more, the less load it has and the faster it may turn.
    pub(super) able: PerAxis<Able>,
}

/// Thrust, what of it is needed to speed up, and speed.
#[derive(Clone, Copy, Default)]
pub(super) struct Able {
    moved: f64,
    thrust: f64,
    rapid: f64,
}

impl Sample {
    /// Asks a build; `naming` are those that ask for what free choices name.
    ///
    /// # Errors
    /// Where a part is unknown, or a quantity past counting.
    pub(super) fn of(
        catalogue: &Catalogue,
        build: &Build,
        naming: &[(Source, Vec<usize>)],
    ) -> Result<Self, AssessError> {
        let picked = Picked::new(catalogue, build)?;
        let machine = Machine::of(&picked, &mut Silent);
        let mut sample = Self {
            able: PerAxis::from_fn(|axis| {
                let figures = &machine.axes[axis];
                Able {
                    moved: machine.masses.moving[axis].value,
                    thrust: figures.thrust.value,
                    rapid: figures.rapid.value,
                }
            }),
            ..Self::default()
        };
        for one in asked(&picked, &machine)? {
            if naming.iter().any(|(source, _)| *source == one.source) {
                add(sample.named.entry(one.source).or_default(), &one);
            } else {
                let key = (*one.part.id(), one.step);
                let needed = sample.rest.entry(key).or_default();
                *needed.by.entry(one.source).or_default() += millionths(one.needed);
                needed.pack = one.pack.max(needed.pack);
                if needed.longest < one.longest {
                    needed.longest = one.longest;
                }
            }
        }
        Ok(sample)
    }
}

/// What something asks for on an axis, without working out the rest of the machine.
///
/// # Errors
/// As [`Sample::of`].
pub(super) fn on_axis(
    catalogue: &Catalogue,
    build: &Build,
    axis: Axis,
    source: Source,
) -> Result<Needs, AssessError> {
    let picked = Picked::new(catalogue, build)?;
    let geometry = Geometry::of(&picked, &mut Silent);
    let mut needs = Vec::new();
    for one in of_axis(&picked, &geometry, axis)? {
        if one.source == source {
            add(&mut needs, &one);
        }
    }
    Ok(needs)
}

fn add(needs: &mut Needs, one: &Asked) {
    match needs.iter_mut().find(|(part, ..)| part == one.part.id()) {
        Some((_, needed, longest)) => {
            *needed += one.needed;
            if *longest < one.longest {
                *longest = one.longest;
            }
        }
        None => needs.push((*one.part.id(), one.needed, one.longest)),
    }
}

fn millionths(quantity: Decimal) -> Millionths {
    let scaled = quantity.checked_mul(Decimal::from(1_000_000));
    scaled
        .and_then(|scaled| scaled.to_i64())
        .unwrap_or_default()
}

/// The options with which each axis moves least; of equals the first of those with which it is
/// fastest, then strongest.
pub(super) fn light(samples: &[Sample]) -> PerAxis<usize> {
    PerAxis::from_fn(|axis| {
        let order = |a: &usize, b: &usize| {
            let (a, b) = (&samples[*a].able[axis], &samples[*b].able[axis]);
            let lighter = a.moved.total_cmp(&b.moved);
            let faster = b.rapid.total_cmp(&a.rapid);
            lighter.then(faster).then(b.thrust.total_cmp(&a.thrust))
        };
        (0..samples.len()).min_by(order).unwrap_or_default()
    })
}
