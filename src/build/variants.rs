//! Variants: other ways to build the same machine, kept in one build.
//!
//! A variant stores only its differences in choices from the one that it came from; what it does
//! not set follows that one. Everything that belongs to the machine that is really built is
//! shared by all of them: purchases, ticks, accepted warnings, measured values.
//!
//! The fields of a [`Build`] always hold the choices of the variant that is open, so that
//! whoever reads a build need not know of variants at all. The main build's choices wait here
//! meanwhile.

use std::sync::Arc;

use indexmap::IndexMap;

use super::choices::{all, control, drive, extras, spindle, working_area};
use super::edit::difference;
use super::{Build, Edit};
use crate::order::Order as _;
use crate::words::hidden::is_hidden;

mod change;

/// What the main build is called among the variants.
pub const MAIN: &str = "main";

/// The longest name of a variant, in characters.
pub const LONGEST: usize = 40;

/// The most variants beside the main build: each is switched to and compared with the others.
pub const MOST: usize = 100;

/// A way to build the machine.
#[derive(Clone, Debug, PartialEq)]
pub struct Variant {
    /// What it is for.
    pub note: String,
    /// The variant that it came from.
    pub from: String,
    /// What differs from that. Of the open variant the fields of the build count, see
    /// [`Build::changes_of`].
    pub set: Vec<Edit>,
}

/// The variants of a build. They are shared between copies of it, since every option that is
/// looked at makes a copy.
#[derive(Clone, Debug, Default)]
pub struct Variants {
    named: Arc<IndexMap<String, Variant>>,
    /// The open one with what waits meanwhile; none where the main build is open.
    open: Option<Open>,
    baseline: Option<String>,
}

/// Which variant is open, and the choices of the main build meanwhile.
#[derive(Clone, Debug, PartialEq)]
struct Open {
    name: String,
    main: Arc<Steps>,
}

/// The choices of the five steps.
#[derive(Clone, Debug, PartialEq)]
struct Steps {
    area: working_area::WorkingArea,
    drive: drive::Drive,
    spindle: spindle::SpindleSet,
    control: control::Control,
    extras: extras::Extras,
}

impl Steps {
    fn of(build: &Build) -> Self {
        Self {
            area: build.area.clone(),
            drive: build.drive.clone(),
            spindle: build.spindle.clone(),
            control: build.control.clone(),
            extras: build.extras.clone(),
        }
    }

    fn put(self, build: &mut Build) {
        build.area = self.area;
        build.drive = self.drive;
        build.spindle = self.spindle;
        build.control = self.control;
        build.extras = self.extras;
    }
}

impl PartialEq for Variants {
    /// What the open variant set when it was opened does not count: the fields of the build say
    /// what it sets now.
    fn eq(&self, other: &Self) -> bool {
        let open = self.open.as_ref().map(|open| &open.name);
        let same = |(name, one): (&String, &Variant)| {
            other
                .named
                .get(name)
                .is_some_and(|two| match Some(name) == open {
                    true => (&one.note, &one.from) == (&two.note, &two.from),
                    false => one == two,
                })
        };
        (&self.open, &self.baseline, self.named.len())
            == (&other.open, &other.baseline, other.named.len())
            && self.named.iter().all(same)
    }
}

impl Variants {
    /// Variants as a file holds them, the main build open. What they name must exist and lead
    /// to the main build: [`circle`] tells.
    pub fn stored(mut named: IndexMap<String, Variant>, baseline: Option<String>) -> Self {
        named.values_mut().for_each(|one| sort(&mut one.set));
        Self {
            named: Arc::new(named),
            open: None,
            baseline,
        }
    }

    /// Whether there is none besides the main build.
    pub fn is_empty(&self) -> bool {
        self.named.is_empty()
    }

    /// The variants besides the main build, in their order.
    pub fn named(&self) -> impl Iterator<Item = (&str, &Variant)> {
        self.named.iter().map(|(name, one)| (name.as_str(), one))
    }

    /// The variant with which every "before" is compared, where one is pinned.
    pub fn baseline(&self) -> Option<&str> {
        self.baseline.as_deref()
    }

    fn named_mut(&mut self) -> &mut IndexMap<String, Variant> {
        Arc::make_mut(&mut self.named)
    }

    fn holds(&self, name: &str) -> bool {
        name == MAIN || self.named.contains_key(name)
    }
}

/// Whether a name can be that of a variant, others aside.
///
/// # Errors
/// Says what is wrong with it.
pub fn check_name(name: &str) -> Result<(), String> {
    if name.trim().is_empty() || name.chars().count() > LONGEST {
        return Err(format!(
            "the name of a variant has 1 to {LONGEST} characters"
        ));
    }
    if name != name.trim() {
        return Err(format!(
            "{name:?}: a name neither begins nor ends with a blank"
        ));
    }
    if name.contains(is_hidden) {
        return Err(format!(
            "{name:?}: a name has characters that show, and no others"
        ));
    }
    // Lists of variants on the command line have commas between them.
    if name.contains(',') {
        return Err(format!("{name:?}: a name has no comma"));
    }
    if name.eq_ignore_ascii_case(MAIN) {
        return Err(format!(
            "{MAIN:?} is the main build itself; take another name"
        ));
    }
    Ok(())
}

/// The names on the way from a variant back to itself, where it came from itself in a circle.
pub fn circle(named: &IndexMap<String, Variant>, name: &str) -> Option<Vec<String>> {
    let mut way = vec![name.to_owned()];
    let mut here = named.get(name);
    while let Some(variant) = here {
        way.push(variant.from.clone());
        if variant.from == name {
            return Some(way);
        }
        // A circle further up is that of another one.
        if way.len() > named.len() + 1 {
            return None;
        }
        here = named.get(&variant.from);
    }
    None
}

impl Build {
    /// The variant that is open; [`MAIN`] where that is the main build.
    pub fn variant(&self) -> &str {
        let open = self.variants.open.as_ref();
        open.map_or(MAIN, |open| open.name.as_str())
    }

    /// Every variant by name, the main build first.
    pub fn variant_names(&self) -> Vec<&str> {
        let named = self.variants.named.keys().map(String::as_str);
        std::iter::once(MAIN).chain(named).collect()
    }

    /// The title, with the variant where another one than the main build is open.
    pub fn heading(&self) -> String {
        match self.variant() {
            MAIN => self.title.clone(),
            name => format!("{} ({name})", self.title),
        }
    }

    /// What a variant is for: of the main build, the note of the build.
    pub fn note_of(&self, name: &str) -> &str {
        let variant = self.variants.named.get(name);
        variant.map_or(&self.note, |variant| &variant.note)
    }

    /// The variant that one came from; none for the main build.
    pub fn came_from(&self, name: &str) -> Option<&str> {
        let variant = self.variants.named.get(name)?;
        Some(&variant.from)
    }

    /// What a variant sets other than the one it came from; nothing for the main build. What was
    /// set by name stays listed while it holds, even where the other one says the same by now.
    pub fn changes_of(&self, name: &str) -> Vec<Edit> {
        let Some(variant) = self.variants.named.get(name) else {
            return Vec::new();
        };
        let Some(open) = self.variants.open.as_ref().filter(|open| open.name == name) else {
            return variant.set.clone();
        };
        let mut parent = self.clone();
        (*open.main).clone().put(&mut parent);
        parent.lead_to(&variant.from);
        let mut changes: Vec<Edit> = variant.set.clone();
        changes.retain(|edit| (edit.choice.get)(self) == edit.value);
        for edit in difference(&parent, self) {
            if !changes.contains(&edit) {
                changes.push(edit);
            }
        }
        sort(&mut changes);
        changes
    }

    /// The build with the main build open.
    pub fn main(&self) -> Build {
        let mut build = self.clone();
        if let Some(open) = build.variants.open.take() {
            let changes = self.changes_of(&open.name);
            if let Some(variant) = build.variants.named_mut().get_mut(&open.name) {
                variant.set = changes;
            }
            (*open.main).clone().put(&mut build);
        }
        build
    }

    /// The build with a variant open.
    ///
    /// # Errors
    /// Names the nearest variant where there is none of this name.
    pub fn switched(&self, name: &str) -> Result<Build, String> {
        if !self.variants.holds(name) {
            return Err(self.unknown(name));
        }
        if name == self.variant() {
            return Ok(self.clone());
        }
        let mut build = self.main();
        if name != MAIN {
            let main = Arc::new(Steps::of(&build));
            build.lead_to(name);
            build.variants.open = Some(Open {
                name: name.to_owned(),
                main,
            });
        }
        Ok(build)
    }

    /// Makes the choices of a variant out of those of the main build.
    fn lead_to(&mut self, name: &str) {
        let mut way: Vec<String> = Vec::new();
        let mut here = name.to_owned();
        while let Some(variant) = self.variants.named.get(&here) {
            // A circle is refused where variants are read or made.
            if way.contains(&here) {
                break;
            }
            let from = variant.from.clone();
            way.push(std::mem::replace(&mut here, from));
        }
        for step in way.iter().rev() {
            let set = self.variants.named.get(step);
            for edit in set.map_or_else(Vec::new, |variant| variant.set.clone()) {
                edit.apply(self);
            }
        }
    }
}

/// Puts edits into the order of the table of choices, in which they are compared and written.
fn sort(edits: &mut [Edit]) {
    let rank = |edit: &Edit| all().iter().position(|choice| choice.id == edit.choice.id);
    edits.order_by_key(rank);
}

/// The name among others that means the same to a reader.
pub fn clash<'n>(name: &str, others: impl IntoIterator<Item = &'n str>) -> Option<&'n str> {
    let lower = name.to_lowercase();
    others
        .into_iter()
        .find(|other| other.to_lowercase() == lower)
}

#[cfg(test)]
mod tests;
