//! The lines of a bill, shared among bills that differ little. There are as many bills at a time as
//! a list has options in view, and most lines of all of them are the same.

use std::ops::Index;
use std::slice::Iter;
use std::sync::Arc;

use super::line::Line;

/// Every line, step by step.
#[derive(Clone, Debug, Default)]
pub struct Lines(pub(super) Vec<Arc<Line>>);

/// Goes through lines.
pub type EachLine<'l> = std::iter::Map<Iter<'l, Arc<Line>>, fn(&'l Arc<Line>) -> &'l Line>;

impl Lines {
    pub(super) fn with_capacity(many: usize) -> Self {
        Self(Vec::with_capacity(many))
    }

    pub(super) fn push(&mut self, line: Arc<Line>) {
        self.0.push(line);
    }

    /// Each of them.
    pub fn iter(&self) -> EachLine<'_> {
        self.0.iter().map(|line| line)
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there are none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The one at a place.
    pub fn get(&self, place: usize) -> Option<&Line> {
        self.0.get(place).map(|line| &**line)
    }
}

impl Index<usize> for Lines {
    type Output = Line;

    fn index(&self, place: usize) -> &Line {
        &self.0[place]
    }
}

impl<'l> IntoIterator for &'l Lines {
    type Item = &'l Line;
    type IntoIter = EachLine<'l>;

    fn into_iter(self) -> EachLine<'l> {
        self.iter()
    }
}
