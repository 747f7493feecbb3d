//! What all that comes from a turn on adds at least, with some earlier choices made: found out
//! once, it holds wherever these choices are alike.
//!
//! With two axes made, the search looks through all that could be the third, and finds that
//! what fits adds so much at least. Had the first two been other ones, but alike in all that
//! the third hangs on (supply, controller, one drive or two), it need not look again. Nor need
//! it make the second axis first: what the third adds is known as soon as all it hangs on is
//! made.

use std::collections::HashMap;

use super::Space;
use super::lessons::{is_numbered, key};
use super::way::bits;
use crate::bill::floor::Coins;
use crate::catalogue::FastHash;

/// So many scopes are kept of one last choice.
const SHELVES: usize = 24;

/// What is known of one scope.
struct Shelf {
    /// The turn from which on it counts.
    from: usize,
    scope: Vec<usize>,
    blame: u128,
    known: HashMap<u128, Coins, FastHash>,
}

/// What is added at least, and the choices that it hangs on, a bit for each.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Spare {
    pub(super) least: Coins,
    pub(super) blame: u128,
}

/// All that is known, by how many choices are made until the last one that it hangs on is.
pub(super) struct Spares {
    sizes: Vec<usize>,
    at: Vec<Vec<Shelf>>,
}

/// How many choices are made until all of a scope are.
pub(super) fn made_for(scope: &[usize]) -> usize {
    scope.last().map_or(0, |last| last + 1)
}

impl Spares {
    pub(super) fn new(space: &Space) -> Self {
        Self {
            sizes: space.sizes(),
            at: (0..=space.free.len()).map(|_| Vec::new()).collect(),
        }
    }

    /// Keeps that from a turn on at least so much is added, as long as the choices of a scope
    /// keep their options. What hangs on more combinations than can be numbered is not kept.
    pub(super) fn learn(
        &mut self,
        from: usize,
        scope: Vec<usize>,
        spare: Coins,
        options: &[usize],
    ) {
        if !is_numbered(&self.sizes, &scope) {
            return;
        }
        let key = key(&self.sizes, &scope, options);
        let shelves = &mut self.at[made_for(&scope)];
        let same = |one: &Shelf| one.from == from && one.scope == scope;
        let place = shelves.iter().position(same).unwrap_or_else(|| {
            if shelves.len() == SHELVES {
                shelves.remove(0);
            }
            shelves.push(Shelf {
                from,
                blame: bits(scope.iter().copied()),
                scope,
                known: HashMap::default(),
            });
            shelves.len() - 1
        });
        let known = shelves[place].known.entry(key).or_insert(spare);
        *known = spare.max(*known);
    }

    /// Adds what is known once so many choices are made and was not before: to each turn from
    /// which on something is added, the most.
    pub(super) fn add(&self, made: usize, options: &[usize], found: &mut [Spare]) {
        for shelf in self.at[made].iter().filter(|shelf| shelf.from >= made) {
            let key = key(&self.sizes, &shelf.scope, options);
            let Some(&least) = shelf.known.get(&key) else {
                continue;
            };
            if least > found[shelf.from].least {
                found[shelf.from] = Spare {
                    least,
                    blame: shelf.blame,
                };
            }
        }
    }
}
