//! Two people, or one at two times, changed the same build: what both did, in one build.
//!
//! Whatever only one side changed is taken from that side. Where both changed the same thing to
//! different ends there is a clash, and the caller says whose word holds.

use std::hash::Hash;

use indexmap::IndexMap;

use super::choices::{self, Choice};
use super::purchases::Purchases;
use super::{Build, edit};

/// Whose word holds where both sides changed the same thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clash {
    /// The one's.
    Mine,
    /// The other's.
    Theirs,
}

/// Three builds: what it was, and what each side made of it.
#[derive(Clone, Copy, Debug)]
pub struct Three<'a> {
    /// What it was.
    pub base: &'a Build,
    /// What the one made of it.
    pub mine: &'a Build,
    /// What the other made of it.
    pub theirs: &'a Build,
}

impl Three<'_> {
    /// Both sides' changes in one build.
    pub fn merged(&self, clash: Clash) -> Build {
        let mut build = self.chosen(clash);
        build.title = self.of(clash, |build| &build.title);
        build.note = self.of(clash, |build| &build.note);
        build.accepted = self.map(clash, |build| &build.accepted);
        build.done = self.map(clash, |build| &build.done);
        build.purchases = Purchases {
            parts: self.map(clash, |build| &build.purchases.parts),
            consignments: self.map(clash, |build| &build.purchases.consignments),
            offcuts: self.map(clash, |build| &build.purchases.offcuts),
        };
        build
    }

    /// The choices and variants. Choice by choice where the variants are the same everywhere; else
    /// as a whole, since a choice means something else in another variant. What was measured is
    /// shared by all variants, so it is merged by itself then.
    fn chosen(&self, clash: Clash) -> Build {
        let (base, mine, theirs) = (self.base, self.mine, self.theirs);
        let put = |build: &mut Build, choice: &Choice| {
            let [base, mine, theirs] = [base, mine, theirs].map(|build| (choice.get)(build));
            choice.put(build, pick(clash, &base, &mine, &theirs));
        };
        if base.variants == mine.variants && base.variants == theirs.variants {
            let mut build = theirs.clone();
            for choice in choices::all() {
                put(&mut build, choice);
            }
            return build;
        }
        let alike = |one: &Build, two: &Build| {
            let mut edits = edit::difference(one, two).into_iter();
            one.variants == two.variants && edits.all(|edit| edit.choice.is_measured())
        };
        let whole = match (alike(base, mine), alike(base, theirs)) {
            (true, _) => theirs,
            (_, true) => mine,
            _ => match clash {
                Clash::Mine => mine,
                Clash::Theirs => theirs,
            },
        };
        let mut build = whole.clone();
        for choice in choices::all().iter().filter(|choice| choice.is_measured()) {
            put(&mut build, choice);
        }
        build
    }

    fn of<T: Clone + PartialEq>(&self, clash: Clash, part: impl Fn(&Build) -> &T) -> T {
        pick(clash, part(self.base), part(self.mine), part(self.theirs)).clone()
    }

    /// A table, entry by entry; an entry that is missing is one of its values.
    fn map<K, V>(&self, clash: Clash, part: impl Fn(&Build) -> &IndexMap<K, V>) -> IndexMap<K, V>
    where
        K: Clone + Eq + Hash,
        V: Clone + PartialEq,
    {
        let (base, mine, theirs) = (part(self.base), part(self.mine), part(self.theirs));
        let mut keys: Vec<&K> = theirs.keys().collect();
        keys.extend(mine.keys().filter(|key| !theirs.contains_key(*key)));
        let entry = |key: &K| {
            let value = *pick(clash, &base.get(key), &mine.get(key), &theirs.get(key));
            Some((key.clone(), value?.clone()))
        };
        keys.into_iter().filter_map(entry).collect()
    }
}

fn pick<'v, T: PartialEq>(clash: Clash, base: &'v T, mine: &'v T, theirs: &'v T) -> &'v T {
    if mine == base || mine == theirs {
        return theirs;
    }
    match clash {
        _ if theirs == base => mine,
        Clash::Mine => mine,
        Clash::Theirs => theirs,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn changed(build: &Build, change: impl FnOnce(&mut Build)) -> Build {
        let mut build = build.clone();
        change(&mut build);
        build
    }

    #[test]
    fn what_one_side_changed_is_taken_from_it() {
        let base = Build::default();
        let mine = changed(&base, |build| {
            build.area.paint = !build.area.paint;
            build.note = "mine".to_owned();
            build.accepted.insert("one".to_owned(), String::new());
        });
        let theirs = changed(&base, |build| {
            build.area.machines = 3;
            build.accepted.insert("two".to_owned(), String::new());
        });
        let three = Three {
            base: &base,
            mine: &mine,
            theirs: &theirs,
        };
        let both = three.merged(Clash::Theirs);
        assert_eq!(both, three.merged(Clash::Mine), "no clash");
        assert_eq!(both.note, "mine");
        assert_eq!(both.area.machines, 3);
        assert_ne!(both.area.paint, base.area.paint);
        assert_eq!(both.accepted.len(), 2);
    }

    #[test]
    fn where_both_changed_the_same_the_caller_says_whose_word_holds() {
        let base = Build::default();
        let mine = changed(&base, |build| build.area.machines = 2);
        let theirs = changed(&base, |build| build.area.machines = 3);
        let three = Three {
            base: &base,
            mine: &mine,
            theirs: &theirs,
        };
        assert_eq!(three.merged(Clash::Mine), mine);
        assert_eq!(three.merged(Clash::Theirs), theirs);
    }

    #[test]
    fn a_variant_that_one_side_made_is_kept_as_a_whole() {
        let base = Build::default();
        let mine = base.branched("main", "stiffer", "").expect("a variant");
        let mine = changed(&mine, |build| build.area.machines = 2);
        let theirs = changed(&base, |build| build.note = "theirs".to_owned());
        let three = Three {
            base: &base,
            mine: &mine,
            theirs: &theirs,
        };
        let both = three.merged(Clash::Theirs);
        assert_eq!(both.variant(), "stiffer");
        assert_eq!(both.area.machines, 2);
        assert_eq!(both.note, "theirs");
    }
    #[test]
    fn what_one_side_measured_is_kept_beside_a_variant_of_the_other() {
        let base = Build::default();
        let wall = Some(crate::units::mm::of(3.8));
        let mine = changed(&base, |build| build.measured.beam_wall = wall);
        let theirs = base.branched("main", "stiffer", "").expect("a variant");
        let theirs = changed(&theirs, |build| build.area.machines = 2);
        for clash in [Clash::Mine, Clash::Theirs] {
            let three = Three {
                base: &base,
                mine: &mine,
                theirs: &theirs,
            };
            let both = three.merged(clash);
            assert_eq!(both.variant(), "stiffer", "{clash:?}");
            assert_eq!(both.area.machines, 2, "{clash:?}");
            assert_eq!(both.measured.beam_wall, wall, "{clash:?}");
        }
    }
}
