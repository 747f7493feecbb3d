//! What of a new part is still as it was in the part that it began as a copy of. A figure that
//! nobody looked at may be wrong without a sign of it, so such rows are marked and counted.

use super::{Of, OwnPart, Row};
use crate::catalogue::fields::Takes;
use crate::units::entry;

/// Fields that name a part rather than describe it.
const NAMES: [&str; 4] = ["title", "short", "note", "source"];

impl OwnPart {
    /// Whether what stands in a row is still what was copied.
    pub fn is_copied(&self, at: usize) -> bool {
        let row = self.rows.get(at).filter(|_| self.changes.is_none());
        row.is_some_and(|row| is_figure(row) && !row.is_changed())
    }

    /// How many fields are still as they were copied.
    pub fn copied(&self) -> usize {
        let rows = self.rows.iter().enumerate();
        let rows = rows.filter(|(at, _)| self.is_copied(*at));
        let mut keys: Vec<_> = rows.map(|(_, row)| row.key()).collect();
        // Of several words that may be ticked each has its row; they are one field.
        keys.dedup();
        keys.len()
    }

    /// That so many are copied, and from what; none where none is.
    pub fn copied_told(&self) -> Option<String> {
        let from = &self.like;
        match self.copied() {
            0 => None,
            1 => Some(format!("1 field is as copied from {from}")),
            many => Some(format!("{many} fields are as copied from {from}")),
        }
    }

    /// What is said of a number that is a hundred times as much as was copied, or a hundredth: such
    /// a one was mostly typed in another unit.
    pub fn far_off(&self, at: usize) -> Option<String> {
        let row = self.rows.get(at).filter(|row| row.is_changed())?;
        let Of::Field(_, Takes::Number(range)) = &row.of else {
            return None;
        };
        let read = |text: &str| entry::read(text, &range.unit, self.shown).ok();
        let (now, before) = (read(row.shown())?, read(&row.before)?);
        let is_far = before != 0.0 && !(0.01..100.0).contains(&(now / before).abs());
        let unit = entry::unit_of(&range.unit, self.shown);
        is_far.then(|| {
            format!(
                "{} has {} {unit} there: is the unit right?",
                self.like, row.before
            )
        })
    }

    /// The first number far off and what is said of it, where nobody was asked about it yet: from
    /// now on somebody was.
    pub fn ask_far_off(&mut self) -> Option<(usize, String)> {
        if std::mem::replace(&mut self.is_asked, true) {
            return None;
        }
        (0..self.rows.len()).find_map(|at| Some((at, self.far_off(at)?)))
    }

    /// Whether anything was typed or picked.
    pub fn is_begun(&self) -> bool {
        self.rows.iter().any(Row::is_changed)
    }
}

fn is_figure(row: &Row) -> bool {
    let described = row.key().is_some_and(|key| !NAMES.contains(&key));
    described && !row.shown().is_empty()
}
