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
mod groups;
mod naming;
mod partial;
mod sample;
mod taken;
mod tangled;

use std::cell::RefCell;
use std::collections::{BTreeMap, HashMap};

use rust_decimal::Decimal;

use super::Space;
use crate::assessment::AssessError;
use crate::bill::asked::Source;
use crate::bill::floor::{Coins, Least, Pieces, Shop};
use crate::build::{Axis, Build, PerAxis, Picked};
use crate::catalogue::motor::FeedKind;
use crate::catalogue::{Catalogue, FastHash, Id, Part, Step};

use groups::Group;
use naming::{combinations, least_share, naming, share_left, stirred};
pub(super) use partial::Partial;
use partial::ROUNDING;
use sample::{BROKEN, Millionths, Needed, Sample, light, on_axis};
use taken::Taken;
use tangled::Together;

/// What free choices name together, option by option.
struct Named {
    /// The choices, by their place in the space, the first to be made first.
    by: Vec<usize>,
    /// For every combination of their options, as [`place_of`] counts them, what it costs.
    entries: Vec<Vec<Least>>,
    /// The same in one sum, as what it adds at least whatever else is bought.
    whole: Vec<Coins>,
    /// What is certain of its parcels while it is open.
    foretold: Vec<Least>,
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
    /// The groups that it belongs to, or takes a share of.
    groups: Vec<usize>,
    /// Whether it changes anything else in any way.
    stirs: bool,
    /// What it names, or changes the quantity of in any way.
    sways: Vec<usize>,
}

/// Floors for all partial builds of a space.
pub(super) struct Floor<'a, 'c> {
    shop: Shop<'a, 'c>,
    named: Vec<Named>,
    groups: Vec<Group>,
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
    /// Coins as an amount of the money of the bill.
    pub(super) fn money(&self, coins: Coins) -> Decimal {
        self.shop.money(coins)
    }

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
        let mut reference = ask(&[])?;
        let mut singles: Vec<Vec<Sample>> = Vec::with_capacity(space.free.len());
        for (choice, free) in space.free.iter().enumerate() {
            let each = (0..free.options.len()).map(|option| ask(&[(choice, option)]));
            singles.push(each.collect::<Result<_, _>>()?);
        }
        let mut touched: Vec<Touched> =
            singles.iter().map(|one| stirred(one, &reference)).collect();
        for (key, needed) in singles.iter().flatten().flat_map(|one| &one.rest) {
            // What only an option needs.
            reference.rest.entry(*key).or_insert_with(|| Needed {
                by: BTreeMap::new(),
                ..needed.clone()
            });
        }
        for group in tangled::groups(space) {
            for &choice in &group {
                touched[choice].stirs = true;
            }
            tangled::merge(space, &group, &reference, &mut singles, &ask)?;
        }
        let taken = Taken::of(space, &reference, &singles);
        let mixed = Axis::EACH.iter().any(|axis| {
            let chosen = &picked.axes[*axis];
            let suits = chosen.driver.drives.contains(&chosen.motor.kind());
            chosen.driver.feed == FeedKind::Mains || !suits
        });
        let together = Together::new(space, &reference, &taken, mixed, &ask)?;
        let mut floor = Self {
            shop,
            named: Vec::new(),
            groups: Vec::new(),
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
            floor.add_named((*source, &naming), by.clone(), tables, &reference, &singles);
        }
        floor.unpriced.sort_unstable();
        floor.unpriced.dedup();
        let mut unloaded = Vec::new();
        for edits in tangled::unloaded(space) {
            let found = ask(&edits)?;
            unloaded.push((edits, found));
        }
        floor.add_rest(&reference, (&singles, &taken), &unloaded, picked.catalogue);
        floor.add_groups(space);
        Ok(floor)
    }

    fn add_named(
        &mut self,
        (source, naming): (Source, &[(Source, Vec<usize>)]),
        by: Vec<usize>,
        entries: Vec<Vec<Least>>,
        reference: &Sample,
        singles: &[Vec<Sample>],
    ) {
        let whole = |entry: &Vec<Least>| {
            let each = entry.iter().map(|one| self.shop.added(one) - ROUNDING);
            each.map(|added| added.max(0)).sum()
        };
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
                shares.push((choice, left, least));
            }
        }
        for &choice in &by {
            self.touched[choice].sways.push(place);
        }
        let foretold = match shares.is_empty() {
            true => Least::foretold(entries.iter().map(Vec::as_slice)),
            false => Vec::new(),
        };
        self.named.push(Named {
            foretold,
            whole: entries.iter().map(whole).collect(),
            by,
            entries,
            shares,
        });
    }

    fn add_rest(
        &mut self,
        reference: &Sample,
        (singles, taken): (&[Vec<Sample>], &Taken),
        unloaded: &[Unloaded],
        catalogue: &'c Catalogue,
    ) {
        let part = |id: &Id| catalogue.part(id.as_str()).map(|(_, part)| part);
        let nameable = |id: &Id| {
            let samples = singles.iter().flatten();
            let mut named = samples.flat_map(|one| one.named.values().flatten());
            named.any(|(named, ..)| named == id)
        };
        for (place, (key, needed)) in reference.rest.iter().enumerate() {
            for (choice, each, most) in taken.from(place) {
                self.touched[choice].rest.push((place, each.to_vec(), most));
            }
            let gone = (unloaded.iter())
                .map(|(edits, found)| taken.beyond((place, needed), edits, found.rest.get(key)));
            let whole = needed.whole() - gone.max().unwrap_or_default();
            let same = |one: &Sample| {
                let now = one.rest.get(key);
                now.is_none_or(|now| now.longest == needed.longest)
            };
            let pieces = match singles.iter().flatten().all(same) {
                true => Pieces::Certain(needed.longest),
                false => Pieces::Unknown,
            };
            let each = singles.iter().flatten();
            let mut each = each.filter_map(|one| one.rest.get(key));
            let broken = each.any(|one| one.whole() % 1_000_000 != 0);
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

    /// The choices that decide with a choice what is named, itself among them.
    pub(super) fn beside(&self, choice: usize) -> impl Iterator<Item = usize> {
        let groups = self.touched[choice].groups.iter();
        groups.flat_map(|&place| {
            let group = &self.groups[place];
            let named = group.named.iter().map(|(one, _)| &self.named[*one]);
            let shares = named.flat_map(|one| one.shares.iter().map(|(choice, ..)| *choice));
            group.by.iter().copied().chain(shares)
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
        // What cannot be computed costs nothing for certain.
        let least = least.unwrap_or_default();
        self.known.borrow_mut().insert((place, needed), least);
        least
    }
}
