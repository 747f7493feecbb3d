//! Two to four builds side by side: what was chosen, what it costs and does, and which warnings
//! that brings and lifts against one of them. Data alone: the command, its JSON and the screen
//! show the same table.

use crate::assessment::Assessment;
use crate::build::choices::section;
use crate::build::{Build, Value, choices};
use crate::catalogue::Catalogue;
use crate::explain::Worth;
use crate::explore::effect::missing_in;
use crate::rules::Finding;

mod figures;
mod json;

pub use json::json;

/// The fewest builds that are compared.
pub const LEAST: usize = 2;

/// The most builds that are compared: more columns could not be read.
pub const MOST: usize = 4;

/// A build that takes part.
#[derive(Clone, Copy, Debug)]
pub struct Contender<'a> {
    /// What its column is called.
    pub name: &'a str,
    /// What exists for it.
    pub catalogue: &'a Catalogue,
    /// What was chosen.
    pub build: &'a Build,
    /// What follows from it.
    pub assessment: &'a Assessment,
}

/// Builds side by side.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// The columns by name.
    pub names: Vec<String>,
    /// The column that the others are compared with.
    pub against: usize,
    /// What is compared.
    pub groups: Vec<Group>,
    /// For each column the warnings that it has and the one it is compared with lacks.
    pub gained: Vec<Vec<Finding>>,
    /// The other way round.
    pub lost: Vec<Vec<Finding>>,
}

/// Rows that belong together.
#[derive(Clone, Debug)]
pub struct Group {
    /// What programs call it.
    pub id: &'static str,
    /// What people call it.
    pub title: &'static str,
    /// Its rows.
    pub rows: Vec<Row>,
}

/// One thing that is compared.
#[derive(Clone, Debug)]
pub struct Row {
    /// The choice's id, or the path that the figure has in the assessment's JSON.
    pub key: String,
    /// What people call it.
    pub title: String,
    /// What each column says.
    pub cells: Vec<Cell>,
    /// Whether people read it in another row already, and only programs want it by itself.
    pub told: bool,
}

/// What one build says of one thing.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// A figure, and how it is shown.
    Figure(Worth, String),
    /// A word of a closed list or a choice's value, and how it is shown.
    Word(String, String),
    /// It has none.
    Missing,
}

impl Cell {
    /// What people read.
    pub fn shown(&self) -> &str {
        match self {
            Self::Figure(_, shown) | Self::Word(_, shown) => shown,
            Self::Missing => "none",
        }
    }
}

impl Row {
    /// Whether the columns say different things, as far as people can see.
    pub fn differs(&self) -> bool {
        let same = |one: &Cell, other: &Cell| match (one, other) {
            (Cell::Word(one, _), Cell::Word(other, _)) => one == other,
            _ => one.shown() == other.shown(),
        };
        self.cells.windows(2).any(|two| !same(&two[0], &two[1]))
    }
}

impl Comparison {
    /// The groups with the rows that are shown: those that differ, or all; none empty.
    pub fn shown(&self, all: bool) -> impl Iterator<Item = (&Group, Vec<&Row>)> {
        let groups = self.groups.iter().map(move |group| {
            let rows = group.rows.iter().filter(|row| all || row.differs());
            (group, rows.collect::<Vec<&Row>>())
        });
        groups.filter(|(_, rows)| !rows.is_empty())
    }
}

/// Puts builds side by side; the column `against` is the one that warnings are compared with.
pub fn compare(contenders: &[Contender], against: usize) -> Comparison {
    let none: &[Finding] = &[];
    let before = contenders.get(against);
    let before = before.map_or(none, |one| &one.assessment.findings);
    let each = || {
        contenders
            .iter()
            .map(|one| one.assessment.findings.as_slice())
    };
    let mut groups = vec![chosen(contenders)];
    groups.extend(figures::groups(contenders));
    Comparison {
        names: contenders.iter().map(|one| one.name.to_owned()).collect(),
        against,
        groups,
        gained: each().map(|after| missing_in(after, before)).collect(),
        lost: each().map(|after| missing_in(before, after)).collect(),
    }
}

/// Every choice.
fn chosen(contenders: &[Contender]) -> Group {
    let rows = choices::all().iter().map(|choice| Row {
        key: format!("{}.{}", section(choice.step), choice.id),
        title: choice.title.to_owned(),
        cells: contenders
            .iter()
            .map(|one| {
                let value: Value = (choice.get)(one.build);
                let shown = choice.show_short(&value, one.catalogue);
                Cell::Word(value.to_string(), shown)
            })
            .collect(),
        told: false,
    });
    Group {
        id: "choices",
        title: "Choices",
        rows: rows.collect(),
    }
}
