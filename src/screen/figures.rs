//! Every figure with its derivation, in groups that open and close: what the page of
//! figures lists. Worked out when somebody asks, never at a keypress that only looks.

use std::collections::BTreeSet;
use std::rc::Rc;

use jiff::civil::Date;

use super::typed::Typed;
use crate::assessment::{AssessError, Assessment, note};
use crate::build::Build;
use crate::catalogue::Catalogue;
use crate::explain::{Derivation, Head, Heads, Notes};
use crate::order::Order as _;
use crate::screen::text::fits;

mod groups;

use groups::{Name, groups_of, is_first};

/// The groups in the order in which they are listed; others follow.
const ORDER: &[&str] = &[
    "cost",
    "axes.X",
    "axes.Y",
    "axes.Z",
    "stiffness",
    "cutting",
    "job",
    "power",
    "machine",
    "cables",
    "bill",
];

/// Every figure, and which groups are open.
#[derive(Default)]
pub struct Figures {
    /// The assessment that these belong to.
    of: Option<Rc<Assessment>>,
    /// What each of them is and comes to.
    heads: Heads,
    /// How those came about that were opened.
    opened: Vec<Notes>,
    groups: Vec<Group>,
    open: BTreeSet<String>,
    /// What is looked for.
    pub field: Typed,
    rows: Vec<Row>,
    cursor: usize,
}

/// One row of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Row {
    /// The head of a group.
    Group {
        /// What tells it from all others.
        key: String,
        /// Its name.
        title: String,
        /// In how many groups it is.
        depth: usize,
        /// Whether its rows follow.
        open: bool,
        /// How many figures are in it.
        count: usize,
    },
    /// A figure.
    Figure {
        /// Its path.
        path: String,
        /// In how many groups it is.
        depth: usize,
        /// The groups that tell it from others of its name, where none stand above it.
        within: String,
    },
}

impl Row {
    /// In how many groups it is.
    pub fn depth(&self) -> usize {
        match self {
            Self::Group { depth, .. } | Self::Figure { depth, .. } => *depth,
        }
    }
}

/// A group of figures and of further groups.
struct Group {
    key: String,
    title: String,
    groups: Vec<Group>,
    /// The places of its figures among all.
    figures: Vec<usize>,
}

impl Group {
    fn count(&self) -> usize {
        self.figures.len() + self.groups.iter().map(Group::count).sum::<usize>()
    }
}

impl Figures {
    /// Takes the derivations that belong to an assessment; open groups stay open.
    pub fn take(&mut self, of: Rc<Assessment>, notes: Notes, catalogue: &Catalogue) {
        self.groups.clear();
        self.opened.clear();
        if notes.are_whole() {
            self.opened.push(notes.clone());
        }
        self.heads = notes.into_heads();
        for (place, path) in self.heads.keys().enumerate() {
            let names = groups_of(path, catalogue, &of);
            insert(&mut self.groups, &names, place, is_first(path));
        }
        let rank = |group: &Group| ORDER.iter().position(|known| *known == group.key);
        self.groups
            .order_by_key(|group| rank(group).unwrap_or(ORDER.len()));
        self.of = Some(of);
        self.list();
    }

    /// Forgets what was worked out; which groups are open, and where the cursor is, is kept for the
    /// next time.
    pub fn let_go(&mut self) {
        if self.of.take().is_some() {
            self.heads = Heads::default();
            self.opened = Vec::new();
            self.groups = Vec::new();
            self.rows = Vec::new();
        }
    }

    /// Whether they belong to this assessment.
    pub fn is_of(&self, now: &Rc<Assessment>) -> bool {
        self.of.as_ref().is_some_and(|of| Rc::ptr_eq(of, now))
    }

    /// Works everything out where the assessment is another one than before.
    ///
    /// # Errors
    /// As [`note`].
    pub fn follow(
        &mut self,
        catalogue: &Catalogue,
        build: &Build,
        now: &Rc<Assessment>,
        today: Date,
    ) -> Result<(), AssessError> {
        if self.is_of(now) {
            return Ok(());
        }
        let mut notes = Notes::heads();
        note(catalogue, build, today, &mut notes)?;
        self.take(Rc::clone(now), notes, catalogue);
        Ok(())
    }

    /// Works out how one of the figures came about, which is not kept of all: it is much.
    ///
    /// # Errors
    /// As [`note`].
    pub fn unfold(
        &mut self,
        path: &str,
        catalogue: &Catalogue,
        build: &Build,
        today: Date,
    ) -> Result<(), AssessError> {
        let known = |notes: &Notes| notes.get(path).is_some();
        if self.opened.iter().any(known) {
            return Ok(());
        }
        let mut notes = Notes::of_one(path);
        note(catalogue, build, today, &mut notes)?;
        self.opened.push(notes);
        Ok(())
    }

    /// What a figure is and comes to.
    pub fn head(&self, path: &str) -> Option<&Head> {
        self.heads.get(path)
    }

    /// How a figure came about, where that was [worked out](Self::unfold).
    pub fn get(&self, path: &str) -> Option<&Derivation> {
        let mut opened = self.opened.iter().rev();
        opened.find_map(|notes| notes.get(path))
    }

    /// The rows, as the groups are open.
    pub fn rows(&self) -> &[Row] {
        &self.rows
    }

    /// The place of the cursor among the rows.
    pub fn cursor(&self) -> usize {
        self.cursor
    }

    /// The row under the cursor.
    pub fn current(&self) -> Option<&Row> {
        self.rows.get(self.cursor)
    }

    /// Puts the cursor on a row.
    pub fn point(&mut self, row: usize) {
        self.cursor = row.min(self.rows.len().saturating_sub(1));
    }

    /// Opens the group under the cursor, or closes it.
    pub fn toggle(&mut self) {
        if let Some(Row::Group { key, open, .. }) = self.current().cloned() {
            if open {
                self.open.remove(&key);
            } else {
                self.open.insert(key);
            }
            self.list();
        }
    }

    /// Closes the group under the cursor, or the one that the row is in.
    pub fn fold(&mut self) {
        let Some(here) = self.current() else { return };
        let depth = here.depth();
        let is_open = matches!(here, Row::Group { open: true, .. });
        if !is_open {
            let above = self.rows[..self.cursor].iter();
            let Some(head) = above.rev().position(|row| row.depth() < depth) else {
                return;
            };
            self.cursor -= head + 1;
        }
        self.toggle();
    }

    /// Lists what is looked for, or all, from the top.
    pub fn look(&mut self) {
        self.cursor = 0;
        self.list();
    }

    fn list(&mut self) {
        let mut rows = Vec::new();
        let wanted = self.field.value().trim().to_lowercase();
        for group in &self.groups {
            match wanted.is_empty() {
                true => self.opened_of(group, 0, &mut rows),
                false => self.found(group, &[], &wanted, &mut rows),
            }
        }
        self.rows = rows;
        self.point(self.cursor);
    }
}

impl Figures {
    /// The head of a group and, where it is open, all that is in it.
    fn opened_of(&self, group: &Group, depth: usize, rows: &mut Vec<Row>) {
        let open = self.open.contains(&group.key);
        rows.push(Row::Group {
            key: group.key.clone(),
            title: group.title.clone(),
            depth,
            open,
            count: group.count(),
        });
        if !open {
            return;
        }
        let figures = self.figures_of(group);
        rows.extend(figures.map(|(path, _)| Row::Figure {
            path: path.to_owned(),
            depth: depth + 1,
            within: String::new(),
        }));
        for inner in &group.groups {
            self.opened_of(inner, depth + 1, rows);
        }
    }

    /// The figures of a group and of those in it that bear all words that are looked for; `within`
    /// are the names of the groups between the outermost one and them.
    fn found(&self, group: &Group, within: &[&str], wanted: &str, rows: &mut Vec<Row>) {
        let bears = |(path, head): &(&str, &Head)| {
            fits(&format!("{} {} {path}", group.title, head.title), wanted)
        };
        let figures = self.figures_of(group).filter(bears);
        rows.extend(figures.map(|(path, head)| {
            let unsaid = within.iter().copied();
            let unsaid = unsaid.filter(|name| !head.title.contains(*name));
            Row::Figure {
                path: path.to_owned(),
                depth: 0,
                within: unsaid.collect::<Vec<_>>().join(", "),
            }
        }));
        for inner in &group.groups {
            let within: Vec<&str> = within.iter().copied().chain([&*inner.title]).collect();
            self.found(inner, &within, wanted, rows);
        }
    }

    /// The figures of a group, by path.
    fn figures_of(&self, group: &Group) -> impl Iterator<Item = (&str, &Head)> {
        let places = group.figures.iter();
        let figures = places.filter_map(|place| self.heads.get_index(*place));
        figures.map(|(path, head)| (path.as_ref(), head))
    }
}

/// Puts a figure into the groups of these names, making those that are missing.
fn insert(groups: &mut Vec<Group>, names: &[Name], figure: usize, first: bool) {
    let Some(((key, title), inner)) = names.split_first() else {
        return;
    };
    let place = groups.iter().position(|group| group.key == *key);
    let place = place.unwrap_or_else(|| {
        groups.push(Group {
            key: key.clone(),
            title: title.clone(),
            groups: Vec::new(),
            figures: Vec::new(),
        });
        groups.len() - 1
    });
    match inner {
        [] if first => groups[place].figures.insert(0, figure),
        [] => groups[place].figures.push(figure),
        _ => insert(&mut groups[place].groups, inner, figure, first),
    }
}

#[cfg(test)]
mod tests;
