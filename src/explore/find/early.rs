//! Early trials: whether what is chosen for an axis goes together is found out as soon as it is
//! chosen, not at the end of the way.
//!
//! A coupling that fits neither shaft nor screw is out whatever else is chosen, but nobody knows
//! until a build with it is assessed. Were that left to the end, every way to it would go
//! through all that comes behind first. So a choice is tried in the build at hand, once for each
//! combination with those of its own axis, and what comes of it is kept as lessons.

use std::collections::HashSet;

use super::Space;
use super::lessons::key;
use super::order::axis_of;
use crate::build::Build;
use crate::catalogue::FastHash;

/// Choices that all axes hang on.
const SHARED: &[&str] = &["supply"];

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
        let axis = |turn: usize| axis_of(space.free[turn].choice.id);
        let first = (0..space.free.len()).find(|turn| axis(*turn).is_some());
        let scope = |turn: usize| match (axis(turn), first) {
            (Some(own), _) => {
                let with = |one: &usize| {
                    axis(*one) == Some(own) || SHARED.contains(&space.free[*one].choice.id)
                };
                (0..=turn).filter(with).collect()
            }
            (None, Some(first)) if turn < first => (0..=turn).collect(),
            (None, _) => Vec::new(),
        };
        Self {
            sizes: space.sizes(),
            at_hand: at_hand.collect(),
            scopes: (0..space.free.len()).map(scope).collect(),
            tried: vec![HashSet::default(); space.free.len()],
        }
    }

    /// The options of a build to try, where the one of a turn is new beside those made before:
    /// what is made, and the rest as it is at hand.
    pub(super) fn next(&mut self, turn: usize, made: &[usize]) -> Option<Vec<usize>> {
        let scope = &self.scopes[turn];
        if scope.is_empty() || !self.tried[turn].insert(key(&self.sizes, scope, made)) {
            return None;
        }
        let mut options = self.at_hand.clone();
        options[..=turn].copy_from_slice(&made[..=turn]);
        Some(options)
    }
}
