//! The variants of a build file: a section each, with what differs in its `set`.
//!
//! ```toml
//! active = "stiffer"     # the one that opens; left out: the main build
//! baseline = "main"      # the one that is pinned; left out: none
//!
//! [variants.stiffer]
//! note = "thicker wall"
//! from = "main"          # left out: the main build
//!
//! [variants.stiffer.set]
//! beam_tube = "tube-100x100x5"
//! ```

use std::ops::Range;

use indexmap::IndexMap;
use toml_edit::{Item, Table};

use super::VARIANTS;
use super::books::{own_table, set_text};
use super::read::check_money;
use super::value::value;
use super::write::{section_of, set_top, set_value};
use crate::build::choices;
use crate::build::variants::{MAIN, MOST, Variant, Variants, check_name, circle, clash};
use crate::build::{Build, Edit, nearest};
use crate::catalogue::Catalogue;
use crate::store::toml_value::{Bad, Raw, section, text};

/// The keys of a variant in their order.
const KEYS: [&str; 3] = ["note", "from", "set"];

/// The key at the top that names the variant which opens.
pub(super) const ACTIVE: &str = "active";

/// The key at the top that names the variant which is pinned.
pub(super) const BASELINE: &str = "baseline";

/// What a file says of variants, with the places where it says so.
#[derive(Default)]
pub(super) struct Read {
    named: IndexMap<String, Variant>,
    places: IndexMap<String, Places>,
    active: Option<(String, Range<usize>)>,
    baseline: Option<(String, Range<usize>)>,
}

struct Places {
    name: Range<usize>,
    from: Range<usize>,
}

impl Read {
    /// Takes the name of the variant that opens, or of the pinned one.
    pub(super) fn top(&mut self, key: &str, raw: &Raw) -> Result<(), Bad> {
        let named = (text(key, raw)?.to_owned(), raw.span());
        match key {
            ACTIVE => self.active = Some(named),
            _ => self.baseline = Some(named),
        }
        Ok(())
    }

    /// Takes the section.
    pub(super) fn section(&mut self, raw: &Raw, catalogue: Option<&Catalogue>) -> Result<(), Bad> {
        for (key, raw) in section(VARIANTS, raw)? {
            let name = key.get_ref().as_ref();
            check_name(name).map_err(|message| Bad::new(key.span(), message))?;
            if let Some(other) = clash(name, self.named.keys().map(String::as_str)) {
                let message = format!(
                    "the variants {other:?} and {name:?} differ in capitals alone; give one of them another name"
                );
                return Err(Bad::new(key.span(), message));
            }
            if self.named.len() >= MOST {
                let message = format!("a build has at most {MOST} variants; leave some out");
                return Err(Bad::new(key.span(), message));
            }
            let (variant, from) = variant(name, raw, catalogue)?;
            let places = Places {
                name: key.span(),
                from: from.unwrap_or_else(|| key.span()),
            };
            self.named.insert(name.to_owned(), variant);
            self.places.insert(name.to_owned(), places);
        }
        Ok(())
    }

    /// Puts the variants into the build that was read, and opens the one that is to be open.
    pub(super) fn finish(
        self,
        mut build: Build,
        catalogue: Option<&Catalogue>,
    ) -> Result<Build, Bad> {
        for (name, places) in &self.places {
            let from = &self.named[name].from;
            if from != MAIN && !self.named.contains_key(from) {
                let message = format!("from: {}", self.unknown(from));
                return Err(Bad::new(places.from.clone(), message));
            }
            if let Some(way) = circle(&self.named, name) {
                let way = way.join(" from ");
                let message = format!(
                    "from: this goes in a circle: {way}; one of them must come from {MAIN:?}"
                );
                return Err(Bad::new(places.from.clone(), message));
            }
        }
        for (key, named) in [(ACTIVE, &self.active), (BASELINE, &self.baseline)] {
            if let Some((name, span)) = named
                && name != MAIN
                && !self.named.contains_key(name)
            {
                let message = format!("{key}: {}", self.unknown(name));
                return Err(Bad::new(span.clone(), message));
            }
        }
        let baseline = self.baseline.map(|(name, _)| name);
        build.variants = Variants::stored(self.named, baseline);
        if let Some(catalogue) = catalogue {
            // Another site may leave an amount without a rate.
            for (name, places) in &self.places {
                let switched = build.switched(name);
                let money = switched.and_then(|build| check_money(&build, catalogue));
                money.map_err(|message| Bad::new(places.name.clone(), message))?;
            }
        }
        match self.active {
            None => Ok(build),
            Some((name, span)) => {
                let open = build.switched(&name);
                open.map_err(|message| Bad::new(span, message))
            }
        }
    }

    fn unknown(&self, name: &str) -> String {
        let known = || std::iter::once(MAIN).chain(self.named.keys().map(String::as_str));
        match nearest::nearest(name, known()) {
            Some(near) => format!("there is no variant {name:?}; did you mean {near:?}?"),
            None => {
                let known: Vec<&str> = known().collect();
                format!(
                    "there is no variant {name:?}; this file has {}",
                    known.join(", ")
                )
            }
        }
    }
}

/// One variant, and where it says from which it came.
fn variant(
    name: &str,
    raw: &Raw,
    catalogue: Option<&Catalogue>,
) -> Result<(Variant, Option<Range<usize>>), Bad> {
    let mut variant = Variant {
        note: String::new(),
        from: MAIN.to_owned(),
        set: Vec::new(),
    };
    let mut from = None;
    let here = format!("{VARIANTS}.{name}");
    for (key, raw) in section(&here, raw)? {
        match key.get_ref().as_ref() {
            "note" => variant.note = text("note", raw)?.to_owned(),
            "from" => {
                variant.from = text("from", raw)?.to_owned();
                from = Some(raw.span());
            }
            "set" => variant.set = set(&here, raw, catalogue)?,
            other => return Err(Bad::new(key.span(), unknown_key(&here, other))),
        }
    }
    Ok((variant, from))
}

fn unknown_key(here: &str, key: &str) -> String {
    if choices::find(key).is_ok() {
        return format!("{key:?} belongs in [{here}.set]");
    }
    let hint = nearest::or_all(key, KEYS);
    format!("there is no {key:?} in a variant{hint}")
}

fn set(here: &str, raw: &Raw, catalogue: Option<&Catalogue>) -> Result<Vec<Edit>, Bad> {
    let mut edits = Vec::new();
    for (key, raw) in section(&format!("{here}.set"), raw)? {
        let id = key.get_ref().as_ref();
        let choice = choices::find(id).map_err(|error| Bad::new(key.span(), error.to_string()))?;
        if choice.is_measured() {
            let message = format!(
                "{id:?} was measured on the machine that is built: it belongs in [{}], and holds for all variants",
                choices::section(choice.step)
            );
            return Err(Bad::new(key.span(), message));
        }
        let value = value(choice, raw, catalogue)?;
        edits.push(Edit { choice, value });
    }
    Ok(edits)
}

/// Brings all that a text says of variants up to date.
pub(super) fn write(root: &mut Table, old: &Build, new: &Build) {
    let active = |build: &Build| Some(build.variant().to_owned()).filter(|name| name != MAIN);
    let pinned = |build: &Build| build.variants.baseline().map(str::to_owned);
    for (key, was, is) in [
        (ACTIVE, active(old), active(new)),
        (BASELINE, pinned(old), pinned(new)),
    ] {
        match is {
            _ if was == is => {}
            // A pin on nothing is left out, and so is the main build as the one to open.
            None => drop(root.remove(key)),
            Some(name) => set_top(root, key, &name),
        }
    }
    let (old, new) = (old.main(), new.main());
    if old.variants == new.variants && order(&old) == order(&new) {
        return;
    }
    let Some(section) = own_table(section_of(root, VARIANTS)) else {
        return;
    };
    section.set_implicit(section.is_empty() || section.is_implicit());
    let moved = renamed(&old, &new);
    for (was, is) in &moved {
        // The section moves with its remarks.
        if let Some(own) = section.remove(was) {
            section.insert(is, own);
        }
    }
    let gone: Vec<String> = section.iter().map(|(name, _)| name.to_owned()).collect();
    for name in gone.iter().filter(|name| new.came_from(name).is_none()) {
        section.remove(name);
    }
    let mut was: IndexMap<&str, &Variant> = old.variants.named().collect();
    for (before, after) in &moved {
        if let Some(variant) = was.shift_remove(before.as_str()) {
            was.insert(after, variant);
        }
    }
    for (name, variant) in new.variants.named() {
        let before = was.get(name).copied();
        if before == Some(variant) {
            continue;
        }
        let entry = section.entry(name).or_insert_with(fresh);
        if let Some(table) = own_table(entry) {
            write_one(table, before, variant);
        }
    }
    let order = order(&new);
    let rank = |name: &str| order.iter().position(|known| known == name);
    section.sort_values_by(|a, _, b, _| rank(a).cmp(&rank(b)));
    if new.variants.is_empty() {
        root.remove(VARIANTS);
    }
}

/// The variants that have another name now: what stands in the place of one that is gone, is new
/// and sets the same.
fn renamed(old: &Build, new: &Build) -> Vec<(String, String)> {
    let pairs = old.variants.named().zip(new.variants.named());
    let pairs = pairs.filter(|((was, one), (is, other))| {
        was != is
            && new.came_from(was).is_none()
            && old.came_from(is).is_none()
            && one.set == other.set
    });
    let names = pairs.map(|((was, _), (is, _))| (was.to_owned(), is.to_owned()));
    names.collect()
}

fn order(build: &Build) -> Vec<String> {
    let names = build.variants.named();
    names.map(|(name, _)| name.to_owned()).collect()
}

fn fresh() -> Item {
    let mut table = Table::new();
    table.decor_mut().set_prefix("\n");
    Item::Table(table)
}

fn write_one(table: &mut Table, old: Option<&Variant>, new: &Variant) {
    let note = |one: &Variant| Some(one.note.clone()).filter(|note| !note.is_empty());
    set_text(table, "note", &old.and_then(note), &note(new), &KEYS);
    let from = old.map(|old| old.from.clone());
    set_text(table, "from", &from, &Some(new.from.clone()), &KEYS);
    let before: &[Edit] = old.map_or(&[], |old| &old.set);
    if before == new.set {
        return;
    }
    let set = table.entry("set").or_insert_with(fresh);
    let stays = |edit: &&Edit| new.set.iter().any(|one| one.choice.id == edit.choice.id);
    for edit in before.iter().filter(|edit| !stays(edit)) {
        if let Some(table) = set.as_table_like_mut() {
            table.remove(edit.choice.id);
        }
    }
    let all: Vec<&str> = choices::all().iter().map(|choice| choice.id).collect();
    for edit in new.set.iter().filter(|edit| !before.contains(edit)) {
        set_value(set, edit, &all);
    }
    if new.set.is_empty() {
        table.remove("set");
    }
}
