//! Making, naming, removing and pinning variants. Each gives a changed build, so that undo has
//! nothing to know of variants.

use super::{MAIN, MOST, Variant, check_name, clash, sort};
use crate::build::{Build, Edit, nearest};

impl Build {
    /// The build with a new variant that came from another one, and open.
    ///
    /// # Errors
    /// Where the name is not free, or the other one does not exist.
    pub fn branched(&self, from: &str, name: &str, note: &str) -> Result<Build, String> {
        self.is_free(name, None)?;
        if self.variants.named.len() >= MOST {
            return Err(format!("there are {MOST} variants already; remove one"));
        }
        let mut build = self.main();
        if !build.variants.holds(from) {
            return Err(self.unknown(from));
        }
        let variant = Variant {
            note: note.to_owned(),
            from: from.to_owned(),
            set: Vec::new(),
        };
        build.variants.named_mut().insert(name.to_owned(), variant);
        build.switched(name)
    }

    /// The build with another name and note for a variant; the main build keeps its name.
    ///
    /// # Errors
    /// Where the name is not free, or there is no such variant.
    pub fn renamed(&self, name: &str, to: &str, note: &str) -> Result<Build, String> {
        let mut build = self.clone();
        if name == MAIN {
            if to != MAIN {
                return Err("the main build keeps its name".to_owned());
            }
            build.note = note.to_owned();
            return Ok(build);
        }
        self.is_free(to, Some(name))?;
        let all = &mut build.variants;
        let named = all.named_mut();
        let Some((place, variant)) = named.get_index_of(name).zip(named.get_mut(name)) else {
            return Err(self.unknown(name));
        };
        variant.note = note.to_owned();
        if name == to {
            return Ok(build);
        }
        if let Some(variant) = named.shift_remove(name) {
            named.shift_insert(place, to.to_owned(), variant);
        }
        let follow = |one: &mut String| {
            if one == name {
                *one = to.to_owned();
            }
        };
        named.values_mut().for_each(|one| follow(&mut one.from));
        all.baseline.iter_mut().for_each(follow);
        all.open.iter_mut().for_each(|open| follow(&mut open.name));
        Ok(build)
    }

    /// The build without a variant. What came from it comes from the one before it and keeps
    /// its choices; where it was open, the one before it is.
    ///
    /// # Errors
    /// For the main build, or where there is no such variant.
    pub fn without_variant(&self, name: &str) -> Result<Build, String> {
        if name == MAIN {
            return Err("the main build stays; other variants can go".to_owned());
        }
        let from = self.came_from(name).ok_or_else(|| self.unknown(name))?;
        let from = from.to_owned();
        let mut build = match self.variant() == name {
            true => self.switched(&from)?,
            false => self.clone(),
        };
        let all = &mut build.variants;
        let named = all.named_mut();
        let gone = named.shift_remove(name);
        let gone = gone.map_or_else(Vec::new, |gone| gone.set);
        for one in named.values_mut().filter(|one| one.from == name) {
            one.from.clone_from(&from);
            let own = |edit: &Edit| one.set.iter().any(|set| set.choice.id == edit.choice.id);
            let inherited: Vec<Edit> = gone.iter().filter(|edit| !own(edit)).cloned().collect();
            one.set.extend(inherited);
            sort(&mut one.set);
        }
        all.baseline.take_if(|pinned| pinned == name);
        Ok(build)
    }

    /// The build with a variant pinned as the baseline, or none.
    ///
    /// # Errors
    /// Names the nearest variant where there is none of this name.
    pub fn pinned(&self, name: Option<&str>) -> Result<Build, String> {
        if let Some(name) = name.filter(|name| !self.variants.holds(name)) {
            return Err(self.unknown(name));
        }
        let mut build = self.clone();
        build.variants.baseline = name.map(str::to_owned);
        Ok(build)
    }

    /// Whether a variant can have a name; `own` is the one that has it already.
    ///
    /// # Errors
    /// Says what is wrong with it.
    pub fn is_free(&self, name: &str, own: Option<&str>) -> Result<(), String> {
        check_name(name)?;
        let others = self
            .variants
            .named
            .keys()
            .filter(|one| Some(one.as_str()) != own);
        match clash(name, others.map(String::as_str)) {
            Some(other) => Err(format!("there is a variant {other:?} already")),
            None => Ok(()),
        }
    }

    pub(super) fn unknown(&self, name: &str) -> String {
        let known = self.variant_names();
        let hint = nearest::hint(name, known.iter().copied());
        match hint.is_empty() {
            true => format!(
                "there is no variant {name:?}; known are {}",
                known.join(", ")
            ),
            false => format!("there is no variant {name:?}{hint}"),
        }
    }
}
