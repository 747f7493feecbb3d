//! What all that comes from a turn on adds at least, with some earlier choices made: found out
//! once, it holds wherever these choices are alike.
//!
//! With two axes made, the search looks through all that could be the third, and finds that
//! what fits adds so much at least. Had the first two been other ones, but alike in all that
//! the third hangs on (supply, controller, one drive or two), it need not look again.

use std::collections::HashMap;

use super::Space;
use super::lessons::key;
use super::way::bits;
use crate::bill::floor::Hundredths;
use crate::catalogue::FastHash;

/// So many scopes are kept for each turn.
const SHELVES: usize = 24;

/// What is known of one scope.
struct Shelf {
    scope: Vec<usize>,
    blame: u128,
    known: HashMap<u128, Hundredths, FastHash>,
}

/// All that is known, by the turn from which on it counts.
pub(super) struct Spares {
    sizes: Vec<usize>,
    at: Vec<Vec<Shelf>>,
}

impl Spares {
    pub(super) fn new(space: &Space) -> Self {
        Self {
            sizes: space.sizes(),
            at: space.free.iter().map(|_| Vec::new()).collect(),
        }
    }

    /// Keeps that from a turn on at least so much is added, as long as the choices of a scope
    /// keep their options.
    pub(super) fn learn(
        &mut self,
        turn: usize,
        scope: Vec<usize>,
        spare: Hundredths,
        options: &[usize],
    ) {
        let key = key(&self.sizes, &scope, options);
        let shelves = &mut self.at[turn];
        let place = shelves.iter().position(|one| one.scope == scope);
        let place = place.unwrap_or_else(|| {
            if shelves.len() == SHELVES {
                shelves.remove(0);
            }
            shelves.push(Shelf {
                blame: bits(scope.iter().copied()),
                scope,
                known: HashMap::default(),
            });
            shelves.len() - 1
        });
        let known = shelves[place].known.entry(key).or_insert(spare);
        *known = spare.max(*known);
    }

    /// What from a turn on is added at least, where that is no less than what may be, and the
    /// choices that it hangs on.
    pub(super) fn least(
        &self,
        turn: usize,
        options: &[usize],
        may: Hundredths,
    ) -> Option<(Hundredths, u128)> {
        let each = self.at.get(turn)?.iter();
        let mut known = each.filter_map(|shelf| {
            let key = key(&self.sizes, &shelf.scope, options);
            Some((*shelf.known.get(&key)?, shelf.blame))
        });
        known.find(|(spare, _)| *spare >= may)
    }
}
