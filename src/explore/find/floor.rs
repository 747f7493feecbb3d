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
//! by itself. That is how machines are counted, rule by rule, but where the last of several
//! things that want it takes a need away with it: the wires of the motors' supply, when the
//! last driver is fed by the mains. Choices of which that is known are asked together
//! ([`tangled`]). Tests hold each quantity at the end of random ways against what the build
//! really needs, so that a choice missing there is found. On top comes what is certain of
//! freight, duty and tax ([`crate::bill::floor`]).

mod against;
mod naming;
mod partial;
mod sample;
mod tangled;

use std::cell::RefCell;
use std::collections::HashMap;

use rust_decimal::Decimal;

use super::Space;
use crate::assessment::AssessError;
use crate::bill::asked::Source;
use crate::bill::floor::{Hundredths, Least, Pieces, Shop};
use crate::build::{Axis, Build, PerAxis, Picked};
use crate::catalogue::motor::FeedKind;
use crate::catalogue::{Catalogue, FastHash, Id, Part, Step};

use naming::{combinations, least_share, naming, share_left, stirred};
pub(super) use partial::Partial;
use partial::ROUNDING;
use sample::{BROKEN, Millionths, Sample, light, on_axis};
use tangled::Together;

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

impl Named {
    /// What the options that are made leave of the quantity, and those that are open at least:
    /// what several choices take away together is their sum at most.
    fn share(&self, made: impl Fn(usize) -> Option<usize>) -> f64 {
        let taken = self.shares.iter();
        let taken =
            taken.map(|(choice, left, least)| 1.0 - made(*choice).map_or(*least, |one| left[one]));
        (1.0 - taken.sum::<f64>()).max(0.0)
    }
}

/// A build from which loads are taken, with what it needs.
type Unloaded = (Vec<(usize, usize)>, Sample);

/// One of the rest.
struct Rest<'c> {
    part: Option<&'c dyn Part>,
    step: Step,
    pack: Decimal,
    /// What the build at hand needs.
    needed: Millionths,
    /// How long its pieces are.
    pieces: Pieces,
    /// Whether a free choice may name it as well: then packs are not its own.
    shared: bool,
}

/// What making a choice changes.
#[derive(Default)]
struct Touched {
    /// The rest that it takes from: place, what each option takes, and the most.
    rest: Vec<(usize, Vec<Millionths>, Millionths)>,
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
    together: Together,
    known: RefCell<HashMap<(usize, i64), Least, FastHash>>,
    /// The option of each choice with which each axis moves least.
    light: Vec<PerAxis<usize>>,
    /// Options that name a part without a price, by choice and place.
    pub(super) unpriced: Vec<(usize, usize)>,
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
        let build = |edits: &[(usize, usize)]| {
            let mut build = base.clone();
            for &(choice, option) in edits {
                let free = &space.free[choice];
                free.choice.put(&mut build, &free.options[option]);
            }
            build
        };
        let ask = |edits: &[(usize, usize)]| Sample::of(picked.catalogue, &build(edits), &naming);
        let reference = ask(&[])?;
        let mut singles: Vec<Vec<Sample>> = Vec::with_capacity(space.free.len());
        for (choice, free) in space.free.iter().enumerate() {
            let each = (0..free.options.len()).map(|option| ask(&[(choice, option)]));
            singles.push(each.collect::<Result<_, _>>()?);
        }
        let mut touched: Vec<Touched> =
            singles.iter().map(|one| stirred(one, &reference)).collect();
        for group in tangled::groups(space) {
            for &choice in &group {
                touched[choice].stirs = true;
            }
            tangled::merge(space, &group, &reference, &mut singles, &ask)?;
        }
        let mixed = Axis::EACH.iter().any(|axis| {
            let chosen = &picked.axes[*axis];
            let suits = chosen.driver.drives.contains(&chosen.motor.kind());
            chosen.driver.feed == FeedKind::Mains || !suits
        });
        let together = Together::new(space, &reference, &singles, mixed, &ask)?;
        let mut floor = Self {
            shop,
            named: Vec::new(),
            rest: Vec::new(),
            touched,
            together,
            known: RefCell::default(),
            light: singles.iter().map(|samples| light(samples)).collect(),
            unpriced: Vec::new(),
        };
        let part = |id: &Id| picked.catalogue.part(id.as_str()).map(|(_, part)| part);
        for (source, by) in &naming {
            let base = reference.named.get(source);
            let sways = |(choice, samples): (usize, &Vec<Sample>)| {
                !by.contains(&choice) && samples.iter().any(|one| one.named.get(source) != base)
            };
            let swayed = singles.iter().enumerate().any(sways);
            let mut tables = Vec::new();
            for edits in combinations(space, by) {
                let own;
                let found = match (edits.as_slice(), source.axis()) {
                    ([(choice, option)], _) => singles[*choice][*option].named.get(source),
                    (_, Some(axis)) => {
                        own = on_axis(picked.catalogue, &build(&edits), axis, *source)?;
                        Some(&own)
                    }
                    (_, None) => {
                        own = ask(&edits)?.named.remove(source).unwrap_or_default();
                        Some(&own)
                    }
                };
                let mut entry = Vec::new();
                for (id, needed, longest) in found.into_iter().flatten() {
                    if let Some(part) = part(id) {
                        if !floor.shop.has_price(part)
                            && let [(choice, option)] = edits[..]
                        {
                            floor.unpriced.push((choice, option));
                        }
                        let pieces = match swayed {
                            true => Pieces::Unknown,
                            false => Pieces::Certain(*longest),
                        };
                        entry.push(floor.shop.share(part, *needed, pieces)?);
                    }
                }
                tables.push(entry);
            }
            floor.add_named((*source, &naming), by.clone(), tables, space, &reference, &singles);
        }
        floor.unpriced.sort_unstable();
        floor.unpriced.dedup();
        let mut unloaded = Vec::new();
        for edits in tangled::unloaded(space) {
            let found = ask(&edits)?;
            unloaded.push((edits, found));
        }
        floor.add_rest(&reference, &singles, &unloaded, picked.catalogue);
        Ok(floor)
    }

    fn add_named(
        &mut self,
        (source, naming): (Source, &[(Source, Vec<usize>)]),
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
            let names = |source: &Source| {
                let known = naming.iter().find(|(one, _)| one == source);
                known.is_some_and(|(_, by)| by.contains(&choice))
            };
            let left = samples.iter().map(|one| match base {
                Some(base) => share_left(base, one.named.get(&source)),
                None => least_share(reference, one, source.axis(), names),
            });
            let left: Vec<f64> = left.collect();
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

    fn add_rest(
        &mut self,
        reference: &Sample,
        singles: &[Vec<Sample>],
        unloaded: &[Unloaded],
        catalogue: &'c Catalogue,
    ) {
        let part = |id: &Id| catalogue.part(id.as_str()).map(|(_, part)| part);
        let nameable = |id: &Id| {
            let samples = singles.iter().flatten();
            let mut named = samples.flat_map(|one| one.named.values().flatten());
            named.any(|(named, ..)| named == id)
        };
        for (key, needed) in &reference.rest {
            let place = self.rest.len();
            for (choice, samples) in singles.iter().enumerate() {
                let taken = |one: &Sample| needed.taken_by(one.rest.get(key));
                let taken: Vec<Millionths> = samples.iter().map(taken).collect();
                let most = taken.iter().copied().max().unwrap_or_default();
                if most > 0 {
                    self.touched[choice].rest.push((place, taken, most));
                }
            }
            let gone = unloaded
                .iter()
                .map(|(edits, found)| tangled::beyond((needed, key), singles, edits, found));
            let whole = needed.whole() - gone.max().unwrap_or_default();
            let same = |one: &Sample| {
                let now = one.rest.get(key);
                now.is_none_or(|now| now.longest == needed.longest)
            };
            let pieces = match singles.iter().flatten().all(same) {
                true => Pieces::Certain(needed.longest),
                false => Pieces::Unknown,
            };
            let broken = whole % 1_000_000 != 0;
            self.rest.push(Rest {
                part: part(&key.0),
                pieces,
                step: key.1,
                pack: needed.pack,
                needed: whole - if broken { BROKEN } else { 0 },
                shared: nameable(&key.0),
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
        let Some(part) = rest.part else {
            return Least::default();
        };
        let quantity = Decimal::new(needed.max(0), 6);
        let least = match rest.shared {
            true => self.shop.share(part, quantity, rest.pieces),
            false => {
                let needed = (quantity, rest.pack);
                self.shop.line(part, rest.step, needed, rest.pieces)
            }
        };
        // What cannot be reckoned costs nothing for certain.
        let least = least.unwrap_or_default();
        self.known.borrow_mut().insert((place, needed), least);
        least
    }
}
