//! What a floor believes to be needed, held against what a build really needs.

use rust_decimal::Decimal;

use super::sample::{Millionths, Needed, Sample};
use super::{Floor, naming::naming, place_of};
use crate::assessment::AssessError;
use crate::bill::floor::{Coins, Pieces};
use crate::build::Build;
use crate::catalogue::Catalogue;
use crate::explore::find::Space;

impl Floor<'_, '_> {
    /// At the end of a way, what is needed at least and what its build really needs: quantities
    /// of the rest, amounts of money of what choices name.
    ///
    /// # Errors
    /// Where the build cannot be picked.
    pub(in crate::explore::find) fn against(
        &self,
        catalogue: &Catalogue,
        (base, space): (&Build, &Space),
        way: &[usize],
    ) -> Result<Vec<(String, Decimal, Decimal)>, AssessError> {
        let mut build = base.clone();
        for (free, &option) in space.free.iter().zip(way) {
            free.choice.put(&mut build, &free.options[option]);
        }
        let naming = naming(space);
        let real = Sample::of(catalogue, &build, &naming)?;
        let mut needed: Vec<Millionths> = self.rest.iter().map(|rest| rest.needed).collect();
        for (touched, &option) in self.touched.iter().zip(way) {
            for (place, taken, _) in &touched.rest {
                needed[*place] -= taken[option];
            }
        }
        let made: Vec<Option<usize>> = way.iter().map(|option| Some(*option)).collect();
        for (place, less) in self.together.less(&made) {
            needed[place] -= less;
        }
        let rest = self.rest.iter().zip(needed).filter_map(|(rest, least)| {
            let part = rest.part?.id();
            let real = real.rest.get(&(*part, rest.step));
            let real = real.map_or(0, Needed::whole);
            Some((
                part.to_string(),
                Decimal::new(least, 6),
                Decimal::new(real, 6),
            ))
        });
        let mut found: Vec<_> = rest.collect();
        for ((source, _), named) in naming.iter().zip(&self.named) {
            let mut spent = 0;
            for (id, needed, _) in real.named.get(source).into_iter().flatten() {
                if let Some((_, part)) = catalogue.part(id.as_str()) {
                    spent += self.shop.share(part, *needed, Pieces::Unknown)?.goods;
                }
            }
            let by = named.by.iter();
            let made = by.map(|&one| (way[one], space.free[one].options.len()));
            let entry = named.entries[place_of(made)].iter();
            let share = named.share(|choice| Some(way[choice]));
            let least: Coins = entry.map(|one| one.part(share).goods).sum();
            let name = format!("{source:?}");
            found.push((name, self.shop.money(least), self.shop.money(spent)));
        }
        Ok(found)
    }
}
