//! A derivation with those of the figures that went into it, each once.

use std::collections::HashSet;

use crate::explain::{Derivation, Notes};

/// How many lines are shown together unless all are asked for: a few screens.
const MOST: usize = 100;

/// A derivation and those behind it.
pub(super) struct Family<'n> {
    /// The figure that was asked for.
    pub(super) root: Branch<'n>,
    /// Whether further derivations stand behind those shown.
    pub(super) goes_on: bool,
}

/// A derivation with those of its inputs that were not shown before it.
pub(super) struct Branch<'n> {
    pub(super) derivation: &'n Derivation,
    pub(super) below: Vec<Branch<'n>>,
}

impl<'n> Family<'n> {
    /// The family of a figure; none where nothing is noted of it.
    pub(super) fn of(notes: &'n Notes, path: &str, deep: bool) -> Option<Self> {
        let root = notes.get(path)?;
        let (members, goes_on) = members(notes, root, deep);
        let mut shown = HashSet::new();
        Some(Self {
            root: Branch::grow(notes, root, &members, &mut shown),
            goes_on,
        })
    }

    /// Every derivation, in the order in which they are shown.
    pub(super) fn all(&self) -> Vec<&'n Derivation> {
        let mut found = Vec::new();
        self.root.collect(&mut found);
        found
    }
}

/// Who belongs to the family: level by level, as long as whole levels fit.
fn members<'n>(notes: &'n Notes, root: &'n Derivation, deep: bool) -> (HashSet<&'n str>, bool) {
    let mut members = HashSet::from([root.path.as_str()]);
    let mut lines = lines_of(root);
    let mut level = vec![root];
    loop {
        let mut next: Vec<&Derivation> = Vec::new();
        for path in level.iter().flat_map(|derivation| derivation.figures()) {
            let known = |one: &&Derivation| one.path == path;
            if let Some(derivation) = notes.get(path)
                && !members.contains(path)
                && !next.iter().any(known)
            {
                next.push(derivation);
            }
        }
        if next.is_empty() {
            return (members, false);
        }
        lines += next.iter().map(|one| lines_of(one)).sum::<usize>();
        if !deep && lines > MOST {
            return (members, true);
        }
        members.extend(next.iter().map(|derivation| derivation.path.as_str()));
        level = next;
    }
}

/// About how many lines a derivation takes: an input wants two, the rest seven.
fn lines_of(derivation: &Derivation) -> usize {
    derivation.inputs.len() * 2 + 7
}

impl<'n> Branch<'n> {
    fn grow(
        notes: &'n Notes,
        derivation: &'n Derivation,
        members: &HashSet<&str>,
        shown: &mut HashSet<&'n str>,
    ) -> Self {
        shown.insert(&derivation.path);
        let mut below = Vec::new();
        for path in derivation.figures() {
            if members.contains(path)
                && !shown.contains(path)
                && let Some(next) = notes.get(path)
            {
                below.push(Self::grow(notes, next, members, shown));
            }
        }
        Self { derivation, below }
    }

    fn collect(&self, found: &mut Vec<&'n Derivation>) {
        found.push(self.derivation);
        for branch in &self.below {
            branch.collect(found);
        }
    }
}
