//! The page of sheets: what the sheet that is open says, ready to be drawn.

use std::rc::Rc;

use jiff::civil::Date;

use super::state::Layer;
use crate::assessment::Assessment;
use crate::build::Build;
use crate::catalogue::Catalogue;
use crate::catalogue::task::Task;
use crate::explore::trial::Bench;
use crate::sheets::{self, Paper, SheetKind};
use crate::units::Shown;
use crate::units::respell::Speller;

/// The fewest and the most columns of a sheet on the screen: below, tables break; above, lines
/// are too long to read.
const COLUMNS: [usize; 2] = [58, 100];

/// What the sheets say on the screen.
#[derive(Debug, Default)]
pub struct Papers {
    /// The lines of the sheet that is open.
    pub lines: Vec<String>,
    /// The tasks of the checklist, in their order.
    pub tasks: Vec<Task>,
    /// What the lines were made from; none before the first.
    made_from: Option<Made>,
    /// What the tasks were made from.
    asked_of: Option<Rc<Assessment>>,
}

/// What sheets are made from, as the screen has it.
#[derive(Clone, Copy, Debug)]
pub struct Source<'a> {
    /// What exists.
    pub catalogue: &'a Catalogue,
    /// What was chosen.
    pub build: &'a Build,
    /// What follows from it.
    pub now: &'a Rc<Assessment>,
    /// The day that stands on a sheet.
    pub today: Date,
}

/// What a page of a sheet is made from, for as long as it stands.
#[derive(Debug)]
struct Made {
    kind: SheetKind,
    columns: usize,
    shown: Shown,
    now: Rc<Assessment>,
}

impl Papers {
    /// Makes what the topmost of these layers shows, unless it stands ready.
    pub fn follow(&mut self, source: Source, layers: &[Layer], width: usize, speller: &Speller) {
        let same = |one: &Rc<Assessment>| Rc::ptr_eq(one, source.now);
        for layer in layers {
            match *layer {
                Layer::Sheet(kind, _) => {
                    let columns = width.saturating_sub(2).clamp(COLUMNS[0], COLUMNS[1]);
                    let shown = speller.shown();
                    let ready = self.made_from.as_ref().is_some_and(|made| {
                        (made.kind, made.columns, made.shown) == (kind, columns, shown)
                            && same(&made.now)
                    });
                    if !ready {
                        let made = source.paper(|paper| lines(kind, paper, columns, speller));
                        self.lines = made.unwrap_or_default();
                        self.made_from = Some(Made {
                            kind,
                            columns,
                            shown,
                            now: Rc::clone(source.now),
                        });
                    }
                }
                Layer::Tasks(_) | Layer::Sheets(_) if !self.asked_of.as_ref().is_some_and(same) => {
                    let made = source.paper(|paper| {
                        let tasks = sheets::tasks(paper);
                        tasks.into_iter().cloned().collect()
                    });
                    self.tasks = made.unwrap_or_default();
                    self.asked_of = Some(Rc::clone(source.now));
                }
                _ => {}
            }
        }
    }
}

impl<'a> Source<'a> {
    /// What changed builds are compared with.
    pub fn bench(&self) -> Bench<'a> {
        Bench {
            catalogue: self.catalogue,
            build: self.build,
            before: self.now,
            today: self.today,
        }
    }

    /// What is made from the paper; none for a build whose parts cannot be picked, which
    /// cannot be assessed either and never comes as far.
    pub fn paper<T>(&self, make: impl FnOnce(&Paper) -> T) -> Option<T> {
        self.beside(self.build, self.now, make)
    }

    /// The same of another build, such as one that is previewed, and what follows from it.
    pub fn beside<T>(
        &self,
        build: &Build,
        assessment: &Assessment,
        make: impl FnOnce(&Paper) -> T,
    ) -> Option<T> {
        let bench = Bench {
            build,
            before: assessment,
            ..self.bench()
        };
        sheets::on_paper(&bench, make).ok()
    }
}

/// A kind of sheet as plain text, a blank line between two.
fn lines(kind: SheetKind, paper: &Paper, columns: usize, speller: &Speller) -> Vec<String> {
    let mut all = Vec::new();
    for sheet in sheets::all(kind, paper) {
        if !all.is_empty() {
            all.extend([String::new(), String::new()]);
        }
        all.extend(sheets::lines(&sheets::spelled(sheet, speller), columns));
    }
    all
}
