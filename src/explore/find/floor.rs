//! What a build costs at least while some of the free choices are still open.
//!
//! The build at hand, and each option of each free choice by itself, are asked what they need
//! ([`crate::bill::asked`]). Two kinds of need come of that:
//!
//! - A part that free choices *name*, a motor or a screw. Each option's part and quantity are
//!   known; while the choice is open, the cheapest option counts. What other choices do to the
//!   quantity (one drive along Y instead of two) counts as the share that they leave of it.
//! - *The rest*: what a plan or a rule counts. Such a quantity is that of the build at hand,
//!   less all that each choice by itself takes away; where a choice is made, only what its
//!   option takes away. What an option adds does not count.
//!
//! Both are floors as far as choices take away from a quantity together at most what each takes
//! by itself. That is how machines are counted, but for a few wires: where two share a terminal,
//! only both choices together free it. So a floor is lowered by a [`MARGIN`] that is several
//! times what was ever seen of that; tests hold random completions of random partial builds
//! against it. On top comes what is certain of freight, duty and tax ([`crate::bill::floor`]).

mod partial;

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::Space;
use crate::assessment::AssessError;
use crate::bill::asked::{Source, asked};
use crate::bill::floor::{Hundredths, Least, Shop};
use crate::build::{Axis, Build, PerAxis, Picked};
use crate::catalogue::{Catalogue, FastHash, Id, Part, Step};
use crate::machine::Machine;

#[cfg(doc)]
use partial::MARGIN;
pub(super) use partial::Partial;
use partial::ROUNDING;

/// What one build needs.
#[derive(Default)]
struct Sample {
    /// Of what free choices name.
    named: BTreeMap<Source, Vec<(Id, Decimal)>>,
    /// Of the rest, with the size of a pack.
    rest: BTreeMap<(Id, Step), (Decimal, Decimal)>,
    /// What each axis is capable of; the more, the less load it has and the faster it may turn.
    able: PerAxis<Able>,
}

/// Thrust, what of it is needed to speed up, and speed.
#[derive(Clone, Copy, Default)]
struct Able {
    moved: f64,
    thrust: f64,
    rapid: f64,
}

impl Sample {
    fn of(
        catalogue: &Catalogue,
        build: &Build,
        naming: &[(Source, Vec<usize>)],
    ) -> Result<Self, AssessError> {
        let picked = Picked::new(catalogue, build)?;
        let machine = Machine::of(&picked, &mut crate::explain::Silent);
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
            let id = one.part.id().clone();
            if naming.iter().any(|(source, _)| *source == one.source) {
                let parts = sample.named.entry(one.source).or_default();
                match parts.iter_mut().find(|(part, _)| *part == id) {
                    Some((_, needed)) => *needed += one.needed,
                    None => parts.push((id, one.needed)),
                }
            } else {
                let (needed, pack) = sample.rest.entry((id, one.step)).or_default();
                *needed += one.needed;
                *pack = one.pack.max(*pack);
            }
        }
        Ok(sample)
    }
}

/// What free choices name together, option by option.
struct Named {
    /// The choices, by their place in the space, the first to be made first.
    by: Vec<usize>,
    /// For every combination of their options, as [`place_of`] counts them, what it costs.
    entries: Vec<Vec<Least>>,
    /// For so many of them made, the least that their combinations come to.
    open: Vec<Vec<Hundredths>>,
    /// What other choices leave of the quantity: choice, and the share by option.
    shares: Vec<(usize, Vec<f64>, f64)>,
}

/// One of the rest.
struct Rest<'c> {
    part: &'c dyn Part,
    step: Step,
    pack: Decimal,
    /// What the build at hand needs, in millionths.
    needed: i64,
    /// Whether a free choice may name it as well: then packs are not its own.
    shared: bool,
}

/// What making a choice changes.
#[derive(Default)]
struct Touched {
    /// The rest that it takes from: place, what each option takes, and the most.
    rest: Vec<(usize, Vec<i64>, i64)>,
    /// What it names or takes a share of.
    named: Vec<usize>,
    /// Whether it changes anything else in any way.
    stirs: bool,
    /// What it names, or changes the quantity of in any way.
    sways: Vec<usize>,
}

/// Floors for all partial builds of a space.
pub(super) struct Floor<'a, 'c> {
    shop: Shop<'a, 'c>,
    named: Vec<Named>,
    rest: Vec<Rest<'c>>,
    touched: Vec<Touched>,
    known: RefCell<HashMap<(usize, i64), Least, FastHash>>,
    /// The option of each choice with which each axis moves least.
    light: Vec<PerAxis<usize>>,
    /// Options that name a part without a price, by choice and place.
    pub(super) unpriced: Vec<(usize, usize)>,
}

/// Millionths of a quantity.
fn millionths(quantity: Decimal) -> i64 {
    let scaled = quantity.checked_mul(Decimal::from(1_000_000));
    scaled
        .and_then(|scaled| scaled.to_i64())
        .unwrap_or_default()
}

/// The place of a combination among those of some choices.
fn place_of(options: impl Iterator<Item = (usize, usize)>) -> usize {
    options.fold(0, |place, (option, of)| place * of + option)
}

impl<'a, 'c> Floor<'a, 'c> {
    /// Asks the build at hand and every option by itself. Choices are made in the order of
    /// the space.
    ///
    /// # Errors
    /// Where an option cannot be picked or priced.
    pub(super) fn new(
        picked: &'a Picked<'c>,
        shop: Shop<'a, 'c>,
        base: &Build,
        space: &Space,
    ) -> Result<Self, AssessError> {
        let naming = naming(space);
        let sample = |edits: &[(usize, usize)]| {
            let mut build = base.clone();
            for &(choice, option) in edits {
                let free = &space.free[choice];
                free.choice.put(&mut build, &free.options[option]);
            }
            Sample::of(picked.catalogue, &build, &naming)
        };
        let reference = sample(&[])?;
        let mut singles: Vec<Vec<Sample>> = Vec::with_capacity(space.free.len());
        for (choice, free) in space.free.iter().enumerate() {
            let each = (0..free.options.len()).map(|option| sample(&[(choice, option)]));
            singles.push(each.collect::<Result<_, _>>()?);
        }
        let mut floor = Self {
            shop,
            named: Vec::new(),
            rest: Vec::new(),
            touched: space.free.iter().map(|_| Touched::default()).collect(),
            known: RefCell::default(),
            light: singles.iter().map(|samples| light(samples)).collect(),
            unpriced: Vec::new(),
        };
        let part = |id: &Id| picked.catalogue.part(id.as_str()).map(|(_, part)| part);
        for (source, by) in &naming {
            let mut tables = Vec::new();
            for edits in combinations(space, by) {
                let own;
                let found = match edits.as_slice() {
                    [(choice, option)] => &singles[*choice][*option],
                    _ => {
                        own = sample(&edits)?;
                        &own
                    }
                };
                let mut entry = Vec::new();
                for (id, needed) in found.named.get(source).into_iter().flatten() {
                    if let Some(part) = part(id) {
                        if !floor.shop.has_price(part)
                            && let [(choice, option)] = edits[..]
                        {
                            floor.unpriced.push((choice, option));
                        }
                        entry.push(floor.shop.share(part, *needed)?);
                    }
                }
                tables.push(entry);
            }
            floor.add_named(*source, by.clone(), tables, space, &reference, &singles);
        }
        floor.unpriced.sort_unstable();
        floor.unpriced.dedup();
        floor.add_rest(&reference, &singles, picked.catalogue);
        Ok(floor)
    }

    fn add_named(
        &mut self,
        source: Source,
        by: Vec<usize>,
        entries: Vec<Vec<Least>>,
        space: &Space,
        reference: &Sample,
        singles: &[Vec<Sample>],
    ) {
        let whole = |entry: &Vec<Least>| {
            let each = entry.iter().map(|one| self.shop.added(one) - ROUNDING);
            each.map(|added| added.max(0)).sum()
        };
        let mut open: Vec<Vec<Hundredths>> = vec![entries.iter().map(whole).collect()];
        for &choice in by.iter().rev() {
            let of = space.free[choice].options.len();
            let finer = &open[open.len() - 1];
            let coarser = finer.chunks(of).map(|some| some.iter().min().copied());
            open.push(coarser.map(Option::unwrap_or_default).collect());
        }
        open.reverse();
        let place = self.named.len();
        let base = reference.named.get(&source);
        let mut shares = Vec::new();
        for (choice, samples) in singles.iter().enumerate() {
            if by.contains(&choice) {
                continue;
            }
            let left: Vec<f64> = samples
                .iter()
                .map(|one| share_left(base, one.named.get(&source)))
                .collect();
            if samples.iter().any(|one| one.named.get(&source) != base) {
                self.touched[choice].sways.push(place);
            }
            let least = left.iter().copied().fold(1.0, f64::min);
            if least < 1.0 {
                self.touched[choice].named.push(place);
                shares.push((choice, left, least));
            }
        }
        for &choice in &by {
            self.touched[choice].named.push(place);
            self.touched[choice].sways.push(place);
        }
        self.named.push(Named {
            by,
            entries,
            open,
            shares,
        });
    }

    fn add_rest(&mut self, reference: &Sample, singles: &[Vec<Sample>], catalogue: &'c Catalogue) {
        let part = |id: &Id| catalogue.part(id.as_str()).map(|(_, part)| part);
        for (touched, samples) in self.touched.iter_mut().zip(singles) {
            touched.stirs = samples.iter().any(|one| one.rest != reference.rest);
        }
        let nameable = |id: &Id| {
            let samples = singles.iter().flatten();
            let mut named = samples.flat_map(|one| one.named.values().flatten());
            named.any(|(named, _)| named == id)
        };
        for ((id, step), (needed, pack)) in &reference.rest {
            let Some(part) = part(id) else { continue };
            let place = self.rest.len();
            let whole = millionths(*needed);
            for (choice, samples) in singles.iter().enumerate() {
                let taken = |one: &Sample| {
                    let found = one.rest.get(&(id.clone(), *step));
                    let left = found.map_or(0, |(needed, _)| millionths(*needed));
                    (whole - left).max(0)
                };
                let taken: Vec<i64> = samples.iter().map(taken).collect();
                let most = taken.iter().copied().max().unwrap_or_default();
                if most > 0 {
                    self.touched[choice].rest.push((place, taken, most));
                }
            }
            self.rest.push(Rest {
                part,
                step: *step,
                pack: *pack,
                needed: whole,
                shared: nameable(id),
            });
        }
    }

    /// The option of a choice with which an axis moves the least mass.
    pub(super) fn lightest(&self, choice: usize, axis: Axis) -> usize {
        self.light[choice][axis]
    }

    /// The choices that share a named need with a choice, itself among them.
    pub(super) fn beside(&self, choice: usize) -> impl Iterator<Item = usize> {
        let named = self.touched[choice]
            .named
            .iter()
            .map(|&place| &self.named[place]);
        named.flat_map(|named| {
            let shares = named.shares.iter().map(|(choice, ..)| *choice);
            named.by.iter().copied().chain(shares)
        })
    }

    /// What so much of one of the rest costs at least.
    fn rest(&self, place: usize, needed: i64) -> Least {
        if let Some(known) = self.known.borrow().get(&(place, needed)) {
            return *known;
        }
        let rest = &self.rest[place];
        let quantity = Decimal::new(needed.max(0), 6);
        let least = match rest.shared {
            true => self.shop.share(rest.part, quantity),
            false => self.shop.line(rest.part, rest.step, quantity, rest.pack),
        };
        // What cannot be reckoned costs nothing for certain.
        let least = least.unwrap_or_default();
        self.known.borrow_mut().insert((place, needed), least);
        least
    }
}

/// The options with which each axis moves least; of equals the first of those with which it is
/// fastest, then strongest.
fn light(samples: &[Sample]) -> PerAxis<usize> {
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

/// What asks for parts that free choices name, with those choices, the first made first.
fn naming(space: &Space) -> Vec<(Source, Vec<usize>)> {
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
fn combinations(space: &Space, by: &[usize]) -> Vec<Vec<(usize, usize)>> {
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
fn share_left(base: Option<&Vec<(Id, Decimal)>>, now: Option<&Vec<(Id, Decimal)>>) -> f64 {
    let left = base.into_iter().flatten().map(|(id, was)| {
        let found = now.into_iter().flatten().find(|(part, _)| part == id);
        let is = found.map_or(Decimal::ZERO, |(_, needed)| *needed);
        let share = is.checked_div(*was).and_then(|share| share.to_f64());
        share.unwrap_or(1.0)
    });
    left.fold(1.0, f64::min)
}
