//! Whether the entries of a catalogue make sense together: figures of one part that fit each
//! other, references that lead somewhere, ids that no two kinds share, prices in order.
//!
//! What a single number may be is refused where it is read; here stands only what takes two.

use std::collections::HashMap;
use std::fmt;

use unicode_width::UnicodeWidthStr as _;

use super::part::{SHORT_COLUMNS, TITLE_COLUMNS};
use super::quantity::Count;
use super::yearly::UsedUp;
use super::{Catalogue, Id, PartKind};
use crate::words::Words as _;

mod drives;
mod electrics;
mod frames;
mod money;
mod references;
mod tasks;
mod words;

/// An entry of a file.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Record {
    /// A part, plan, material or site: they share one space of ids.
    Part(Id),
    /// A price book.
    Book(Id),
    /// A price, by its book and part.
    Price(Id, Id),
    /// A stage of buying.
    Stage(Id),
    /// A quantity rule, by its part and what it counts.
    Rule(Id, Count),
    /// A yearly rule, by what is used up.
    Yearly(UsedUp),
    /// A task of the checklist.
    Task(Id),
    /// A word of the glossary.
    Word(Id),
    /// A rule of one's own.
    OwnRule(Id),
}

impl fmt::Display for Record {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Part(id) => write!(f, "{id}"),
            Self::Book(id) | Self::Price(id, _) => write!(f, "price book {id}"),
            Self::Stage(id) => write!(f, "the order stage {id}"),
            Self::Task(id) => write!(f, "the task {id}"),
            Self::Word(id) => write!(f, "the word {id}"),
            Self::OwnRule(id) => write!(f, "the rule {id}"),
            Self::Rule(id, per) => write!(f, "the quantity of {id} for each {}", per.id()),
            Self::Yearly(what) => write!(f, "the yearly use of {}", what.id()),
        }
    }
}

/// One thing that is wrong with an entry.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Flaw {
    /// The entry.
    pub record: Record,
    /// What is wrong, and what would be right.
    pub message: String,
    /// Where in the entry's file, in bytes, where that is closer than where the entry begins.
    pub place: Option<std::ops::Range<usize>>,
}

/// The flaws found so far.
#[derive(Default)]
struct Flaws(Vec<Flaw>);

impl Flaws {
    fn add(&mut self, record: Record, message: impl Into<String>) {
        self.0.push(Flaw {
            record,
            message: message.into(),
            place: None,
        });
    }

    /// A flaw of a part, unless it is as it must be.
    fn part(&mut self, id: &Id, fits: bool, message: &str) {
        if !fits {
            self.add(Record::Part(*id), message);
        }
    }

    /// A flaw of a part whose first figure is above its second.
    fn ordered<T: PartialOrd>(
        &mut self,
        id: &Id,
        (low, least): (&str, T),
        (high, most): (&str, T),
    ) {
        let message = format!("{low} must not be above {high}");
        self.part(id, least <= most, &message);
    }
}

/// Every flaw of a catalogue, in its order.
pub fn flaws(catalogue: &Catalogue) -> Vec<Flaw> {
    let mut found = Flaws::default();
    shared_ids(catalogue, &mut found);
    frames::structure(catalogue, &mut found);
    frames::plans(catalogue, &mut found);
    drives::guides(catalogue, &mut found);
    drives::drives(catalogue, &mut found);
    drives::cutting(catalogue, &mut found);
    electrics::motors(catalogue, &mut found);
    electrics::spindles(catalogue, &mut found);
    electrics::control(catalogue, &mut found);
    references::parts(catalogue, &mut found);
    references::prices(catalogue, &mut found);
    references::quantities(catalogue, &mut found);
    references::yearly(catalogue, &mut found);
    references::stages(catalogue, &mut found);
    references::suppliers(catalogue, &mut found);
    money::ranges(catalogue, &mut found);
    tasks::tasks(catalogue, &mut found);
    words::words(catalogue, &mut found);
    texts(catalogue, &mut found);
    found.0
}

fn shared_ids(catalogue: &Catalogue, found: &mut Flaws) {
    let mut seen: HashMap<&Id, PartKind> = HashMap::new();
    for &kind in PartKind::ALL {
        for part in catalogue.of_kind(kind) {
            if let Some(other) = seen.insert(part.id(), kind) {
                let message = format!("the id is taken already ({})", other.title());
                found.part(part.id(), false, &message);
            }
        }
    }
}

fn texts(catalogue: &Catalogue, found: &mut Flaws) {
    let too_long = format!("title takes 1 to {TITLE_COLUMNS} columns");
    let too_wide = format!("short takes 1 to {SHORT_COLUMNS} columns");
    for &kind in PartKind::ALL {
        for part in catalogue.of_kind(kind) {
            let (id, title) = (part.id(), part.title());
            let fits = !title.trim().is_empty() && title.width() <= TITLE_COLUMNS;
            found.part(id, fits, &too_long);
            // A record without a short name is listed by its title, however long.
            let fits = part
                .own_short()
                .is_none_or(|short| !short.trim().is_empty() && short.width() <= SHORT_COLUMNS);
            found.part(id, fits, &too_wide);
            let told = !part.source().trim().is_empty();
            found.part(id, told, "source must say where the data come from");
        }
    }
}
