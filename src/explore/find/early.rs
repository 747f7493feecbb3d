//! Early trials: whether what is chosen for an axis goes together is found out as soon as it is
//! chosen, not at the end of the way.
//!
//! A coupling that fits neither shaft nor screw is out whatever else is chosen, but nobody knows
//! until a build with it is assessed. Were that left to the end, every way to it would go
//! through all that comes behind first. So a choice is tried in the build at hand, once for each
//! combination with those of its own axis, and what comes of it is kept as lessons.

use std::collections::HashSet;

use super::Space;
use super::lessons::{is_numbered, key};
use super::order::axis_of;
use super::way::bit;
use crate::build::Build;
use crate::catalogue::FastHash;

/// What a choice of an axis may not go together with, of its own axis and besides.
const PARTNERS: &[(&str, &[&str], &[&str])] = &[
    ("drive", &[], &[]),
    ("ends", &["drive"], &[]),
    ("motor", &["drive"], &[]),
    ("coupling", &["drive", "motor"], &[]),
    ("driver", &["motor"], &["supply"]),
];

/// The same of choices that all axes share.
const SHARED: &[(&str, &[&str])] = &[
    ("spindle", &[]),
    ("vfd", &["spindle"]),
    ("spindle_clamp", &["spindle"]),
    ("cooler", &["spindle"]),
    ("tool", &["spindle"]),
    ("controller", &[]),
    ("supply", &["controller"]),
];

/// Which combinations were tried.
pub(super) struct Early {
    sizes: Vec<usize>,
    /// The options of the build at hand.
    at_hand: Vec<usize>,
    /// For each turn the choices up to it that it may not go together with.
    scopes: Vec<Vec<usize>>,
    tried: Vec<HashSet<u128, FastHash>>,
}

impl Early {
    pub(super) fn new(space: &Space, build: &Build) -> Self {
        let free = space.free.iter();
        let at_hand = free.map(|one| {
            let now = (one.choice.get)(build);
            let place = one.options.iter().position(|option| *option == now);
            place.unwrap_or_default()
        });
        let place = |id: &str| space.free.iter().position(|one| one.choice.id == id);
        let scope = |turn: usize| {
            let id = space.free[turn].choice.id;
            let named = match axis_of(id) {
                Some(axis) => {
                    let mut each = PARTNERS.iter();
                    let found = each.find(|(name, ..)| axis.choice(name) == id);
                    found.map(|(_, own, shared)| {
                        let own = own.iter().filter_map(|name| place(&axis.choice(name)));
                        let shared = shared.iter().filter_map(|id| place(id));
                        own.chain(shared).collect::<Vec<usize>>()
                    })
                }
                None => {
                    let found = SHARED.iter().find(|(one, _)| *one == id);
                    found.map(|(_, with)| with.iter().filter_map(|id| place(id)).collect())
                }
            };
            let mut scope = named?;
            scope.push(turn);
            scope.retain(|one| *one <= turn);
            scope.sort_unstable();
            Some(scope)
        };
        Self {
            sizes: space.sizes(),
            at_hand: at_hand.collect(),
            scopes: (0..space.free.len())
                .map(|turn| scope(turn).unwrap_or_default())
                .collect(),
            tried: vec![HashSet::default(); space.free.len()],
        }
    }

    /// The options of a build to try, where the one of a turn is new beside those made before:
    /// what is made, a bit for each, and the rest as it is at hand.
    pub(super) fn next(
        &mut self,
        turn: usize,
        options: &[usize],
        made: u128,
    ) -> Option<Vec<usize>> {
        let scope = &self.scopes[turn];
        if scope.is_empty() || !is_numbered(&self.sizes, scope) {
            return None;
        }
        if !self.tried[turn].insert(key(&self.sizes, scope, options)) {
            return None;
        }
        Some(self.beside(options, made))
    }

    /// The options that are made, a bit for each, and the rest as it is at hand.
    pub(super) fn beside(&self, options: &[usize], made: u128) -> Vec<usize> {
        let each = self.at_hand.iter().zip(options).enumerate();
        let each = each.map(|(one, (at_hand, option))| match made & bit(one) {
            0 => *at_hand,
            _ => *option,
        });
        each.collect()
    }
}
