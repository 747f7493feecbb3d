//! A partial build on its way through the space, with its floor kept up as choices are made and
//! opened again.

use super::super::Space;
use super::super::way::bits;
use super::{Floor, place_of};
use crate::bill::floor::{Basket, Coins, Least, Lifted};

/// What rounding may take from a sum that goods are put to.
pub(super) const ROUNDING: Coins = 10;

/// What one group counts for now.
#[derive(Clone, Debug, Default)]
struct Counted {
    made: Vec<Least>,
    open: Coins,
    /// What all of it adds at least, whatever else is bought.
    added: Coins,
}

/// What to put back when a choice is opened again.
enum Before {
    Rest(usize, i64, Least),
    Group(usize, Counted),
}

/// A partial build on its way through the space, with its floor.
pub(in crate::explore::find) struct Partial<'f, 'a, 'c> {
    floor: &'f Floor<'a, 'c>,
    sizes: Vec<usize>,
    made: Vec<Option<usize>>,
    needed: Vec<i64>,
    least: Vec<Least>,
    counted: Vec<Counted>,
    baskets: Vec<(Basket, Coins, Lifted)>,
    /// What all named needs count for whose choices are open.
    open: Coins,
    sum: Coins,
    added: Coins,
    before: Vec<(usize, Vec<Before>)>,
}

impl<'f, 'a, 'c> Partial<'f, 'a, 'c> {
    /// With all choices open.
    pub(in crate::explore::find) fn new(floor: &'f Floor<'a, 'c>, space: &Space) -> Self {
        let mut partial = Self {
            floor,
            sizes: space.sizes(),
            made: vec![None; space.free.len()],
            needed: floor.rest.iter().map(|rest| rest.needed).collect(),
            least: vec![Least::default(); floor.rest.len()],
            counted: vec![Counted::default(); floor.groups.len()],
            baskets: vec![Default::default(); floor.shop.senders()],
            open: 0,
            sum: 0,
            added: 0,
            before: Vec::new(),
        };
        for touched in &floor.touched {
            for (place, _, most) in &touched.rest {
                partial.needed[*place] -= most;
            }
        }
        for (place, less) in floor.together.less(&partial.made) {
            partial.needed[place] -= less;
        }
        for place in 0..floor.rest.len() {
            let least = floor.rest(place, partial.needed[place].max(0));
            partial.swap(&Least::default(), &least);
            partial.least[place] = least;
        }
        for place in 0..floor.groups.len() {
            let counted = partial.count(place);
            partial.replace(place, counted);
        }
        partial
    }

    /// What the build costs at least, whatever is chosen for what is open.
    pub(in crate::explore::find) fn least(&self) -> Coins {
        self.least_with(0)
    }

    /// The same, where what is open adds so much more at least.
    pub(in crate::explore::find) fn least_with(&self, spare: Coins) -> Coins {
        // What is open may come from any sender, and so lift what each of them adds.
        let more = self.open + spare;
        let lifted = self.baskets.iter().map(|(.., lifted)| lifted.with(more));
        self.sum + spare + lifted.sum::<Coins>()
    }

    /// The part of that which is a sum over what is named: by as much as it grows with some
    /// choices, by so much at least [`Partial::least`] does, whatever was chosen before of
    /// what these do not share a need with.
    pub(in crate::explore::find) fn added(&self) -> Coins {
        self.added
    }

    /// Makes a choice.
    pub(in crate::explore::find) fn make(&mut self, choice: usize, option: usize) {
        let floor = self.floor;
        let touched = &floor.touched[choice];
        let mut before = Vec::with_capacity(touched.rest.len() + touched.groups.len());
        let together = floor.together.knows(choice);
        let less = together.then(|| floor.together.less(&self.made));
        let was: Vec<_> = less.into_iter().flatten().collect();
        self.made[choice] = Some(option);
        for (place, taken, most) in &touched.rest {
            self.need(*place, most - taken[option], &mut before);
        }
        if together {
            let now: Vec<_> = floor.together.less(&self.made).collect();
            for ((place, now), (_, was)) in now.into_iter().zip(was) {
                self.need(place, was - now, &mut before);
            }
        }
        for &place in &touched.groups {
            let counted = self.count(place);
            let old = self.replace(place, counted);
            before.push(Before::Group(place, old));
        }
        self.before.push((choice, before));
    }

    /// Needs so much more of one of the rest.
    fn need(&mut self, place: usize, more: i64, before: &mut Vec<Before>) {
        if more == 0 {
            return;
        }
        let old = (self.needed[place], self.least[place]);
        let needed = old.0 + more;
        let least = self.floor.rest(place, needed.max(0));
        self.swap(&old.1, &least);
        (self.needed[place], self.least[place]) = (needed, least);
        before.push(Before::Rest(place, old.0, old.1));
    }

    /// Opens the choice again that was made last.
    pub(in crate::explore::find) fn open(&mut self) {
        let Some((choice, before)) = self.before.pop() else {
            return;
        };
        self.made[choice] = None;
        for one in before.into_iter().rev() {
            match one {
                Before::Rest(place, needed, least) => {
                    let now = self.least[place];
                    self.swap(&now, &least);
                    (self.needed[place], self.least[place]) = (needed, least);
                }
                Before::Group(place, counted) => {
                    self.replace(place, counted);
                }
            }
        }
    }

    /// The choices that no option of makes a difference to what is bought, with all others as
    /// they are made: couplings of an axis without a screw. A bit for each.
    pub(in crate::explore::find) fn idle(&self) -> u128 {
        let each = self.floor.touched.iter().enumerate();
        let idle = each.filter(|(choice, touched)| {
            let mut sways = touched.sways.iter();
            !touched.stirs && sways.all(|&place| self.is_alike(place, *choice))
        });
        bits(idle.map(|(choice, _)| choice))
    }

    /// Whether something named is the same, whatever the option of a choice.
    fn is_alike(&self, place: usize, choice: usize) -> bool {
        let named = &self.floor.named[place];
        let shares = named.shares.iter();
        let mut shares = shares.filter(|(other, ..)| *other != choice);
        if shares.any(|(other, left, _)| self.made[*other].is_some_and(|one| left[one] <= 0.0)) {
            return true;
        }
        let made = |one: &usize| *one == choice || self.made[*one].is_some();
        if !named.by.iter().all(made) {
            return false;
        }
        let options = |option: usize| {
            let by = named.by.iter();
            let each = by.map(|&one| match one == choice {
                true => (option, self.sizes[one]),
                false => (self.made[one].unwrap_or_default(), self.sizes[one]),
            });
            place_of(each)
        };
        let tried = if named.by.contains(&choice) {
            self.sizes[choice]
        } else {
            1
        };
        let first = &named.entries[options(0)];
        (1..tried).all(|option| named.entries[options(option)] == *first)
    }

    /// What a group counts for with the choices that are made.
    fn count(&self, place: usize) -> Counted {
        let (floor, group) = (self.floor, &self.floor.groups[place]);
        let size = |choice: usize| self.sizes[choice];
        let known = group.by.iter().map_while(|&choice| self.made[choice]);
        let known: Vec<usize> = known.collect();
        let depth = known.len();
        let sized = known.iter().zip(&group.by);
        let at = place_of(sized.map(|(&option, &choice)| (option, size(choice))));
        let mut counted = Counted {
            open: group.open[depth][at],
            ..Counted::default()
        };
        for (one, needs) in &group.named {
            let named = &floor.named[*one];
            let share = named.share(|choice| self.made[choice]);
            let shared = |amount: Coins| (amount as f64 * share).floor() as Coins;
            if *needs > depth {
                // Where there are shares, the group is of this one alone.
                counted.open = shared(counted.open);
                counted.made.extend_from_slice(&named.foretold);
                continue;
            }
            let own = named.by.iter();
            let own = own.map(|&choice| (self.made[choice].unwrap_or_default(), size(choice)));
            let entry = place_of(own);
            let made = named.entries[entry].iter().map(|one| one.part(share));
            counted.made.extend(made);
            counted.added += shared(named.whole[entry]);
        }
        for (back, &option) in group.back.iter().zip(&known) {
            counted.added += back.get(option).copied().unwrap_or_default();
        }
        // Choices made before their turn gave back already.
        for place in depth..group.by.len() {
            if self.made[group.by[place]].is_some() {
                counted.open = (counted.open - group.most_back(place)).max(0);
            }
        }
        counted.added += counted.open;
        counted
    }

    fn replace(&mut self, place: usize, counted: Counted) -> Counted {
        let old = std::mem::replace(&mut self.counted[place], counted);
        for one in &old.made {
            self.swap(one, &Least::default());
        }
        for at in 0..self.counted[place].made.len() {
            let one = self.counted[place].made[at];
            self.swap(&Least::default(), &one);
        }
        let opened = self.counted[place].open - old.open;
        self.open += opened;
        self.sum += opened;
        self.added += self.counted[place].added - old.added;
        old
    }

    /// Puts one thing in the place of another.
    fn swap(&mut self, old: &Least, new: &Least) {
        for (least, sign) in [(old, -1), (new, 1)] {
            let Some(sender) = least.sender else {
                self.sum += sign * least.goods;
                continue;
            };
            let (basket, cost, lifted) = &mut self.baskets[sender];
            basket.put(least, sign);
            let now = self.floor.shop.basket(sender, basket);
            self.sum += now - *cost;
            *cost = now;
            *lifted = self.floor.shop.lifted(sender, basket);
        }
    }
}
