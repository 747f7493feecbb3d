//! The page of variants: what each costs and how its worst warning is, which are marked to be
//! compared, and the comparison. Nothing of it is saved; the variants themselves are in the
//! build.

use std::rc::Rc;

use jiff::civil::Date;

use super::typed::Typed;
use crate::assessment::{Assessment, assess};
use crate::build::{Build, MAIN};
use crate::catalogue::Catalogue;
use crate::explore::compare::{Comparison, Contender, MOST, compare};

/// What the page of variants shows.
#[derive(Debug, Default)]
pub struct Variants {
    /// The variants, the main build first.
    pub rows: Vec<Row>,
    /// The row under the cursor.
    pub cursor: usize,
    /// The names of those that are marked to be compared.
    pub marked: Vec<String>,
    /// Whether a comparison shows what is equal too.
    pub all: bool,
    /// What is compared, while that page is open.
    pub comparison: Option<Comparison>,
    /// The names of those that are compared.
    compared: Vec<String>,
    /// What the pinned baseline comes to, where another variant is open.
    baseline: Option<Rc<Assessment>>,
    /// What the rows and the comparison were made from.
    listed_of: Option<Rc<Assessment>>,
    /// What the baseline was made from.
    pinned_of: Option<Rc<Assessment>>,
}

/// One variant.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its name.
    pub name: String,
    /// What it comes to, or why that cannot be said.
    pub assessment: Result<Rc<Assessment>, String>,
    /// How many choices it sets.
    pub changes: usize,
}

impl Variants {
    /// Assesses the pinned baseline anew where the build changed.
    pub fn follow_baseline(
        &mut self,
        catalogue: &Catalogue,
        build: &Build,
        now: &Rc<Assessment>,
        today: Date,
    ) {
        if is_of(self.pinned_of.as_ref(), now) {
            return;
        }
        self.pinned_of = Some(Rc::clone(now));
        let pinned = build.variants.baseline();
        let other = pinned.filter(|pinned| *pinned != build.variant());
        self.baseline = other.and_then(|name| {
            let build = build.switched(name).ok()?;
            assess(catalogue, &build, today).ok().map(Rc::new)
        });
    }

    /// What the pinned baseline comes to; none where none is pinned, or that one is open.
    pub fn baseline(&self) -> Option<&Rc<Assessment>> {
        self.baseline.as_ref()
    }

    /// Lists the variants anew, and compares anew, where the build changed.
    pub fn follow(
        &mut self,
        catalogue: &Catalogue,
        build: &Build,
        now: &Rc<Assessment>,
        today: Date,
    ) {
        if is_of(self.listed_of.as_ref(), now) {
            return;
        }
        self.listed_of = Some(Rc::clone(now));
        let here = build.variant();
        let each = build.variant_names().into_iter().map(|name| Row {
            name: name.to_owned(),
            assessment: match name == here {
                true => Ok(Rc::clone(now)),
                false => assessed(catalogue, build, name, today),
            },
            changes: build.changes_of(name).len(),
        });
        self.rows = each.collect();
        self.cursor = self.cursor.min(self.rows.len().saturating_sub(1));
        let rows = &self.rows;
        let known = |name: &String| rows.iter().any(|row| row.name == *name);
        self.marked.retain(known);
        self.compared.retain(known);
        self.line_up(catalogue, build);
    }

    /// Forgets what was listed: the page is opened anew.
    pub fn forget(&mut self, build: &Build) {
        self.listed_of = None;
        self.comparison = None;
        self.marked.clear();
        self.compared.clear();
        self.point_at(build, build.variant());
    }

    /// Puts the cursor on a variant.
    pub fn point_at(&mut self, build: &Build, name: &str) {
        let names = build.variant_names();
        let place = names.iter().position(|known| *known == name);
        self.cursor = place.unwrap_or(0);
    }

    /// The row under the cursor.
    pub fn current(&self) -> Option<&Row> {
        self.rows.get(self.cursor)
    }

    /// Marks the row under the cursor, or takes the mark back; false where no more can be marked.
    pub fn mark(&mut self) -> bool {
        let Some(name) = self.current().map(|row| row.name.clone()) else {
            return true;
        };
        if let Some(place) = self.marked.iter().position(|known| *known == name) {
            self.marked.remove(place);
            return true;
        }
        let room = self.marked.len() < MOST;
        if room {
            self.marked.push(name);
        }
        room
    }

    /// Compares the marked variants; where none is marked, as many as stand side by side.
    pub fn compare(&mut self, catalogue: &Catalogue, build: &Build) {
        let is_asked = |row: &&Row| self.marked.is_empty() || self.marked.contains(&row.name);
        let asked = self.rows.iter().filter(is_asked).take(MOST);
        self.compared = asked.map(|row| row.name.clone()).collect();
        self.line_up(catalogue, build);
    }

    fn line_up(&mut self, catalogue: &Catalogue, build: &Build) {
        let builds: Vec<(&Row, Build)> = self
            .rows
            .iter()
            .filter(|row| self.compared.contains(&row.name))
            .filter_map(|row| Some((row, build.switched(&row.name).ok()?)))
            .collect();
        let contenders: Vec<Contender> = builds
            .iter()
            .filter_map(|(row, build)| {
                Some(Contender {
                    name: &row.name,
                    catalogue,
                    build,
                    assessment: row.assessment.as_ref().ok()?,
                })
            })
            .collect();
        let pinned = build.variants.baseline();
        let mut places = contenders.iter();
        let against = places.position(|one| Some(one.name) == pinned);
        self.comparison =
            (!contenders.is_empty()).then(|| compare(&contenders, against.unwrap_or(0)));
    }
}

/// Whether something was made from the assessment that holds now.
fn is_of(made_from: Option<&Rc<Assessment>>, now: &Rc<Assessment>) -> bool {
    made_from.is_some_and(|of| Rc::ptr_eq(of, now))
}

fn assessed(
    catalogue: &Catalogue,
    build: &Build,
    name: &str,
    today: Date,
) -> Result<Rc<Assessment>, String> {
    let build = build.switched(name)?;
    let assessment = assess(catalogue, &build, today);
    assessment.map(Rc::new).map_err(|error| error.to_string())
}

/// The fields in which a variant is named.
#[derive(Clone, Debug)]
pub struct Naming {
    /// What is named.
    pub of: Named,
    /// The name.
    pub name: Typed,
    /// What it is for.
    pub note: Typed,
    /// Whether the cursor is in the note.
    pub in_note: bool,
}

/// What is named.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Named {
    /// A new variant that comes from this one.
    From(String),
    /// This one, by another name.
    Known(String),
}

impl Naming {
    /// The fields for a new variant.
    pub fn new(from: &str) -> Self {
        Self {
            of: Named::From(from.to_owned()),
            name: Typed::default(),
            note: Typed::default(),
            in_note: false,
        }
    }

    /// The fields of a variant that is there.
    pub fn known(build: &Build, name: &str) -> Self {
        Self {
            of: Named::Known(name.to_owned()),
            name: Typed::proposed(name),
            // A note is rather added to than replaced.
            note: build.note_of(name).into(),
            in_note: name == MAIN,
        }
    }

    /// Whether the name can be changed: that of the main build cannot.
    pub fn has_name(&self) -> bool {
        self.of != Named::Known(MAIN.to_owned())
    }

    /// The field under the cursor.
    pub fn field(&self) -> &Typed {
        match self.in_note {
            true => &self.note,
            false => &self.name,
        }
    }

    /// The same, to be changed.
    pub fn field_mut(&mut self) -> &mut Typed {
        match self.in_note {
            true => &mut self.note,
            false => &mut self.name,
        }
    }

    /// Goes to the other field.
    pub fn turn(&mut self) {
        self.in_note = !self.in_note || !self.has_name();
    }
}
