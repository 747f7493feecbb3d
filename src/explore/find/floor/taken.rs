//! How much of the rest each option takes away from what the build at hand needs, or adds to it.
//!
//! What an option takes is always believed. What it adds, only where it is one of an axis, and
//! nothing but options of axes changes the quantity: larger rails want more screws, whatever
//! motors there are. Elsewhere quantities may be products, so many metres for each of so many
//! wires, and what one adds hangs on what the other is.

use super::sample::{Millionths, Needed, Sample};
use crate::explore::find::Space;
use crate::explore::find::order::axis_of;

/// What is taken: by place of the rest, choice and option; nothing for a choice that changes
/// nothing. Negative is what is added.
pub(super) struct Taken(Vec<Vec<Vec<Millionths>>>);

impl Taken {
    /// What the options of each choice, asked one by one, take from the needs of a build.
    pub(super) fn of(space: &Space, reference: &Sample, singles: &[Vec<Sample>]) -> Self {
        let each = reference.rest.iter().map(|(key, needed)| {
            let changes = |samples: &[Sample]| {
                let mut each = samples.iter().map(|one| one.rest.get(key));
                each.any(|now| now.map_or(!needed.by.is_empty(), |now| now.by != needed.by))
            };
            let mut changed = (singles.iter().zip(&space.free)).map(|(samples, free)| {
                let is_of_axis = axis_of(free.choice.id).is_some();
                is_of_axis || !changes(samples)
            });
            let adds = changed.all(|fine| fine);
            let taken = |now: Option<&Needed>| match adds {
                true => needed.less_in(now),
                false => needed.taken_by(now),
            };
            let choices = singles.iter().map(|samples| {
                let all = samples.iter().map(|one| taken(one.rest.get(key)));
                let all: Vec<Millionths> = all.collect();
                match all.iter().any(|taken| *taken != 0) {
                    true => all,
                    false => Vec::new(),
                }
            });
            choices.collect()
        });
        Self(each.collect())
    }

    /// What each choice takes from one of the rest: its turn, what each of its options takes,
    /// and the most.
    pub(super) fn from(
        &self,
        place: usize,
    ) -> impl Iterator<Item = (usize, &[Millionths], Millionths)> {
        let each = self.0[place].iter().enumerate();
        each.filter_map(|(choice, taken)| {
            let most = taken.iter().copied().max()?;
            Some((choice, taken.as_slice(), most))
        })
    }

    /// By how much less of one of the rest is needed in a build with some options than they tell
    /// one by one.
    pub(super) fn beyond(
        &self,
        (place, base): (usize, &Needed),
        edits: &[(usize, usize)],
        found: Option<&Needed>,
    ) -> Millionths {
        let told = edits.iter().filter_map(|&(choice, option)| {
            let taken = self.0[place][choice].get(option);
            taken.copied()
        });
        (base.less_in(found) - told.sum::<Millionths>()).max(0)
    }
}
