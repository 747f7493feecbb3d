//! Choices that decide together what is named: what the cheapest of their options costs, while
//! some of them are open.
//!
//! A rack is dear, a screw is cheap but wants a coupling, bearings and a mount. The least that
//! a drive adds is therefore not the cheapest of each, screw and no bearings at all, but the
//! least over what goes together. So needs whose choices overlap are looked at as one group.
//!
//! To the same account goes what an option gives back of the rest. Floors begin with all that
//! any option of a choice takes away from what plan and rules count; an option that takes less
//! gives the difference back, whatever is chosen besides.

use rust_decimal::Decimal;

use super::partial::ROUNDING;
use super::sample::Millionths;
use super::{Floor, Named, place_of};
use crate::bill::floor::{Coins, Least};
use crate::explore::find::Space;

/// Groups of more combinations than this are not joined: their table would be too large.
const LARGE: usize = 40_000;

/// Choices that decide some of what is named.
#[derive(Default)]
pub(super) struct Group {
    /// The choices, the first to be made first.
    pub(super) by: Vec<usize>,
    /// What they name, by its place, and how many of them must be made for that.
    pub(super) named: Vec<(usize, usize)>,
    /// For so many of them made, what all that is still open comes to at least.
    pub(super) open: Vec<Vec<Coins>>,
    /// What each option of each gives back; nothing where another group has it.
    pub(super) back: Vec<Vec<Coins>>,
}

impl Group {
    fn of(by: Vec<usize>, named: Vec<usize>) -> Self {
        Self {
            by,
            named: named.into_iter().map(|one| (one, 0)).collect(),
            ..Self::default()
        }
    }

    /// The most that an option of a choice gives back.
    pub(super) fn most_back(&self, place: usize) -> Coins {
        self.back[place].iter().copied().max().unwrap_or_default()
    }
}

/// The groups of all that is named: joined where that has choices in common.
pub(super) fn grouped(named: &[Named], space: &Space) -> Vec<Group> {
    let size = |by: &[usize]| {
        let each = by.iter().map(|&choice| space.free[choice].options.len());
        each.fold(1, usize::saturating_mul)
    };
    let mut groups: Vec<Group> = Vec::new();
    for (place, one) in named.iter().enumerate() {
        // What other choices leave a share of stays by itself.
        let alone = |group: &Group| {
            let mut each = group.named.iter();
            each.any(|(other, _)| !named[*other].shares.is_empty())
        };
        let joined = |group: &Group| {
            let mut by = [group.by.as_slice(), &one.by].concat();
            by.sort_unstable();
            by.dedup();
            by
        };
        let fits = |group: &Group| {
            let overlap = one.by.iter().any(|choice| group.by.contains(choice));
            overlap && !alone(group) && size(&joined(group)) <= LARGE
        };
        let found = match one.shares.is_empty() {
            true => groups.iter().position(fits),
            false => None,
        };
        match found {
            Some(group) => {
                let group = &mut groups[group];
                group.by = joined(group);
                group.named.push((place, 0));
            }
            None => groups.push(Group::of(one.by.clone(), vec![place])),
        }
    }
    for group in &mut groups {
        for (place, made) in &mut group.named {
            let last = named[*place].by.last();
            let last = group.by.iter().position(|one| Some(one) == last);
            *made = last.map_or(0, |last| last + 1);
        }
    }
    groups
}

impl Floor<'_, '_> {
    /// Joins what is named to groups, and computes what is open in each.
    pub(super) fn add_groups(&mut self, space: &Space) {
        let mut groups = grouped(&self.named, space);
        let mut back = self.all_back(space);
        for (choice, own) in back.iter().enumerate() {
            let has = |group: &Group| group.by.contains(&choice) && self.is_whole(group);
            if own.iter().any(|amount| *amount > 0) && !groups.iter().any(has) {
                groups.push(Group::of(vec![choice], Vec::new()));
            }
        }
        for (place, group) in groups.iter_mut().enumerate() {
            let whole = self.is_whole(group);
            let own = group.by.iter().map(|&choice| match whole {
                true => std::mem::take(&mut back[choice]),
                false => Vec::new(),
            });
            group.back = own.collect();
            self.open(group, space);
            let named = group.named.iter().map(|(one, _)| &self.named[*one]);
            let shares = named.flat_map(|one| one.shares.iter().map(|(choice, ..)| *choice));
            for choice in group.by.iter().copied().chain(shares) {
                self.touched[choice].groups.push(place);
            }
        }
        self.groups = groups;
    }

    fn is_whole(&self, group: &Group) -> bool {
        let mut named = group.named.iter();
        named.all(|(one, _)| self.named[*one].shares.is_empty())
    }

    /// What is named, and given back, once one more choice of a group is made, and then the
    /// least of that over its options, from the last choice to the first.
    fn open(&self, group: &mut Group, space: &Space) {
        let sizes: Vec<usize> = (group.by.iter())
            .map(|&choice| space.free[choice].options.len())
            .collect();
        let whole: usize = sizes.iter().product();
        let mut finer = vec![0; whole];
        group.open = vec![finer.clone()];
        for made in (1..=group.by.len()).rev() {
            let of = sizes[made - 1];
            for (at, least) in finer.iter_mut().enumerate() {
                *least += group.back[made - 1]
                    .get(at % of)
                    .copied()
                    .unwrap_or_default();
                let options = options_of(at, &sizes[..made]);
                for (named, _) in group.named.iter().filter(|(_, needs)| *needs == made) {
                    let named = &self.named[*named];
                    let own = named.by.iter().filter_map(|choice| {
                        let place = group.by.iter().position(|one| one == choice)?;
                        Some((options[place], sizes[place]))
                    });
                    *least += named.whole[place_of(own)];
                }
            }
            let coarser = finer.chunks(of).map(|some| some.iter().min().copied());
            finer = coarser.map(Option::unwrap_or_default).collect();
            group.open.push(finer.clone());
        }
        group.open.reverse();
    }

    /// What each option of each choice gives back of the rest.
    fn all_back(&self, space: &Space) -> Vec<Vec<Coins>> {
        let open = vec![None; space.free.len()];
        let mut needed: Vec<Millionths> = self.rest.iter().map(|rest| rest.needed).collect();
        for touched in &self.touched {
            for (place, _, most) in &touched.rest {
                needed[*place] -= most;
            }
        }
        for (place, less) in self.together.less(&open) {
            needed[place] -= less;
        }
        let each = self.touched.iter().zip(&space.free);
        let all = each.map(|(touched, free)| {
            let options = 0..free.options.len();
            let back = |option: usize| {
                let rest = touched.rest.iter();
                let rest = rest.map(|(place, taken, most)| {
                    self.back(*place, needed[*place], most - taken[option])
                });
                rest.sum()
            };
            options.map(back).collect()
        });
        all.collect()
    }

    /// What so much more of one of the rest adds at least, where so much is needed for certain.
    /// Packs may have room, of which every choice may make use: only full ones count.
    fn back(&self, place: usize, needed: Millionths, more: Millionths) -> Coins {
        let rest = &self.rest[place];
        let Some(part) = rest.part.filter(|_| needed >= 0) else {
            // More than all is taken already: it is not known who gives back what.
            return 0;
        };
        let one = rest.pack.max(Decimal::ONE);
        let packs = (Decimal::new(more.max(0), 6) / one).floor();
        if packs.is_zero() || !self.shop.is_even(part) {
            return 0;
        }
        let filled = (Decimal::new(needed, 6) / one).ceil();
        let cost = |packs: Decimal| {
            let millionths = (packs * one).checked_mul(Decimal::from(1_000_000));
            let amount = millionths.and_then(|all| i64::try_from(all).ok());
            amount.map(|amount| self.rest(place, amount))
        };
        let (Some(less), Some(all)) = (cost(filled), cost(filled + packs)) else {
            return 0;
        };
        let added = |least: &Least| self.shop.added(least);
        (added(&all) - added(&less) - ROUNDING).max(0)
    }
}

/// The options of a place, as [`place_of`] counts them.
fn options_of(mut place: usize, sizes: &[usize]) -> Vec<usize> {
    let mut options = vec![0; sizes.len()];
    for (option, size) in options.iter_mut().zip(sizes).rev() {
        (*option, place) = (place % size, place / size);
    }
    options
}
