//! How many builds are assessed by searches that follow each other, each of which begins to count
//! anew: what is told while they run and what is told at the end is one count.

use crate::explore::find::Progress;

/// A count over several searches.
#[derive(Clone, Copy, Debug, Default)]
pub struct Assessed {
    before: u64,
    last: u64,
}

impl Assessed {
    /// Takes up a word of the search that is under way.
    pub fn heard(&mut self, progress: &Progress) {
        if progress.assessed < self.last {
            self.before += self.last;
        }
        self.last = progress.assessed;
    }

    /// How many it were so far, over all of them.
    pub fn all(&self) -> u64 {
        self.before + self.last
    }
}
