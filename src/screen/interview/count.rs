//! How far searches are that follow each other: a count over all of them, and the time.

use std::time::{Duration, Instant};

use crate::explore::find::Progress;
use crate::explore::interview::{Assessed, Level};

/// How far the searches have come.
#[derive(Clone, Debug)]
pub struct Far {
    /// For which build.
    pub level: Level,
    /// Whether all three are looked for anew, since a stiffer frame came out cheaper.
    pub again: bool,
    /// How many builds were assessed so far, over all searches.
    pub assessed: u64,
    /// How long all of it has taken so far.
    pub took: Duration,
}

/// Counts over searches that follow each other, each of which begins to count anew.
#[derive(Debug)]
pub(super) struct Count {
    begun: Instant,
    level: Level,
    again: bool,
    assessed: Assessed,
}

impl Count {
    pub(super) fn new() -> Self {
        Self {
            begun: Instant::now(),
            level: Level::Thrifty,
            again: false,
            assessed: Assessed::default(),
        }
    }

    /// How far all of it is, after a word of the search that is under way.
    pub(super) fn heard(&mut self, level: Level, progress: &Progress) -> Far {
        self.assessed.heard(progress);
        self.again |= level == Level::Thrifty && self.level != Level::Thrifty;
        self.level = level;
        Far {
            level,
            again: self.again,
            assessed: self.assessed.all(),
            took: self.begun.elapsed(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every search counts from nothing: what is shown over all of them only grows.
    #[test]
    fn what_is_counted_never_goes_back() {
        let mut count = Count::new();
        let words = [
            (Level::Thrifty, 0),
            (Level::Thrifty, 40),
            (Level::Thrifty, 5),
            (Level::Balanced, 0),
            (Level::Balanced, 7),
            (Level::Stiff, 3),
            (Level::Thrifty, 0),
            (Level::Thrifty, 2),
        ];
        let heard = words.map(|(level, assessed)| {
            let progress = Progress {
                combinations: 100,
                covered: 0,
                assessed,
                best: None,
            };
            let far = count.heard(level, &progress);
            (far.assessed, far.again)
        });
        let counts = heard.map(|(counted, _)| counted);
        assert_eq!(counts, [0, 40, 45, 45, 52, 55, 55, 57]);
        assert_eq!(
            heard
                .map(|(_, again)| again)
                .iter()
                .filter(|one| **one)
                .count(),
            2
        );
    }
}
