//! What the screen knows: plain data, changed by [`update`](super::update::update) alone
//! and drawn by [`view`](super::view::view).

use std::rc::Rc;

use jiff::civil::Date;
use ratatui::layout::Size;

use super::about::About;
use super::figures::Figures;
use super::glossary::WordPage;
use super::glyphs::Glyphs;
use super::interview::Interview;
use super::keymap::Keymap;
use super::layout::{Layout, layout};
use super::ledger::Ledger;
use super::options::OptionRow;
use super::papers::Papers;
use super::pictures::Pictures;
use super::preview::Previews;
use super::recovery::Offer;
use super::seek::Seek;
use super::stiffer::StifferChanges;
use super::typed::Typed;
use super::variants::Variants;
use super::what_if::WhatIf;
use super::wishes::Wishes;
use super::{Session, Start};
use crate::assessment::moved::Moved;
use crate::assessment::{AssessError, Assessment};
use crate::build::choices::Choice;
use crate::build::history::History;
use crate::build::{Build, Value};
use crate::catalogue::task::Task;
use crate::catalogue::{Catalogue, Step};
use crate::explore::effect::Effect;
use crate::money::Money;
use crate::rules::Finding;
use crate::rules::topics::Topic;
use crate::store::bundle::Bundle;
use crate::units::Shown;
use crate::units::respell::Speller;

/// Everything that the screen knows.
pub struct State {
    /// What exists.
    pub catalogue: Catalogue,
    /// The day for which prices are judged.
    pub today: Date,
    /// The build, its past and its future.
    pub history: History,
    /// The file that the build is of, and what is known of it.
    pub file: OpenFile,
    /// The assessment of the build as it stands.
    pub now: Rc<Assessment>,
    /// Size of the terminal.
    pub size: Size,
    /// The step in view.
    pub step: Step,
    /// Where keys go on the main screen.
    pub focus: Focus,
    /// The choices listed: those of the step, or those found.
    pub choices: List<&'static Choice>,
    /// Which choices the findings are about, and the marks that follow from it.
    pub about: About,
    /// The options of the choice under the cursor.
    pub options: List<OptionRow>,
    /// The field of a choice that takes a number or an amount.
    pub number_field: Option<NumberField>,
    /// The row under the cursor in the side pane, among [`pane_rows`](Self::pane_rows).
    pub pane_cursor: usize,
    /// What is looked for, while something is.
    pub find: Option<Typed>,
    /// The choice that was under the cursor when finding began.
    pub found_from: Option<&'static Choice>,
    /// The characters that the terminal shows: how far a page scrolls hangs on them.
    pub glyphs: Glyphs,
    /// How numbers are shown and typed.
    pub shown: Shown,
    /// The same, for texts on their way to the grid.
    pub speller: Speller,
    /// The keys in use.
    pub keymap: Keymap,
    /// What the user wants of the screen: settings, and what is remembered.
    pub wishes: Wishes,
    /// Every figure and how it came about, once somebody asked.
    pub figures: Figures,
    /// The page of words: what it lists, its cursor.
    pub glossary: WordPage,
    /// The page of the bill: its order, what it lists, its cursor.
    pub ledger: Ledger,
    /// The page of sheets: what the sheet that is open says.
    pub papers: Papers,
    /// Where the machine's pieces stand in its pictures.
    pub pictures: Pictures,
    /// The page of variants, and what the pinned one comes to.
    pub variants: Variants,
    /// The pages of what if: the answer, weighing or sweep that is open.
    pub what_if: WhatIf,
    /// The page that finds the cheapest build.
    pub seek: Seek,
    /// The pages of the interview: the answers, the searches, what they came to.
    pub interview: Interview,
    /// Which changes stiffen an axis most for their money, once its page was open.
    pub stiffer: StifferChanges,
    /// What lies over the main screen, the topmost last.
    pub layers: Vec<Layer>,
    /// Effects that were worked out since the build last changed.
    pub previews: Previews,
    /// What the thing under the cursor would change.
    pub preview: Option<Rc<Effect>>,
    /// What would lift the warning under the cursor.
    pub remedy: Remedy,
    /// A message that stands until the next key that does something.
    pub notice: Option<Notice>,
    /// What earlier sessions left unsaved and is still to be asked about, the first of them now.
    pub recovery: Vec<Offer>,
}

/// A list with a cursor and the row at its top.
#[derive(Clone, Debug)]
pub struct List<T> {
    /// Its rows.
    pub rows: Vec<T>,
    /// The row under the cursor.
    pub cursor: usize,
    /// The first row in view.
    pub top: usize,
}

impl<T> Default for List<T> {
    fn default() -> Self {
        Self {
            rows: Vec::new(),
            cursor: 0,
            top: 0,
        }
    }
}

impl<T> List<T> {
    /// The row under the cursor.
    pub fn current(&self) -> Option<&T> {
        self.rows.get(self.cursor)
    }

    /// Keeps the cursor on a row and the row in view.
    pub fn settle(&mut self, height: usize) {
        self.cursor = self.cursor.min(self.rows.len().saturating_sub(1));
        self.top = scrolled(self.top, self.cursor, self.rows.len(), height);
    }
}

/// The first row in view so that the cursor's row is, and no room is left empty.
pub fn scrolled(top: usize, cursor: usize, rows: usize, height: usize) -> usize {
    let height = height.max(1);
    let least = (cursor + 1).saturating_sub(height);
    top.clamp(least, cursor.max(least))
        .min(rows.saturating_sub(height))
}

/// Where keys go on the main screen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Focus {
    /// The choices of the step.
    Choices,
    /// The options of the choice.
    Options,
    /// The side pane.
    Pane,
}

/// A field in which a number or an amount is typed.
#[derive(Clone, Debug)]
pub struct NumberField {
    /// The text.
    pub typed: Typed,
    /// The value that the text means, or what is wrong with it.
    pub value: Result<Value, String>,
}

impl State {
    /// The state at the start.
    ///
    /// # Errors
    /// As [`Session::start`].
    pub fn new(session: Session, size: Size) -> Result<Self, AssessError> {
        let Start { now, saved, moved } = session.start()?;
        let Session {
            catalogue,
            build,
            path,
            original,
            bundle,
            today,
            ..
        } = session;
        let mut told = Vec::new();
        told.extend(bundle.as_ref().and_then(Bundle::differs));
        let short = moved.as_ref().and_then(Moved::short);
        told.extend(short.map(|short| format!("{short}; b, then ? tells all of it")));
        let mut state = Self {
            catalogue,
            today,
            history: History::new(build),
            file: OpenFile {
                path,
                original,
                bundle,
                held: None,
                theirs: None,
                moved,
                saved,
                folder: None,
            },
            now,
            size,
            step: Step::WorkingArea,
            focus: Focus::Choices,
            choices: List::default(),
            about: About::default(),
            options: List::default(),
            number_field: None,
            pane_cursor: 0,
            find: None,
            found_from: None,
            glyphs: Glyphs::Unicode,
            shown: Shown::PLAIN,
            speller: Speller::default(),
            keymap: Keymap::default(),
            wishes: Wishes::default(),
            figures: Figures::default(),
            glossary: WordPage::default(),
            ledger: Ledger::default(),
            papers: Papers::default(),
            pictures: Pictures::default(),
            variants: Variants::default(),
            what_if: WhatIf::default(),
            seek: Seek::default(),
            interview: Interview::default(),
            stiffer: StifferChanges::default(),
            layers: Vec::new(),
            previews: Previews::default(),
            preview: None,
            remedy: Remedy::default(),
            notice: (!told.is_empty()).then(|| Notice::Done(told.join("; "))),
            recovery: Vec::new(),
        };
        super::update::refresh(&mut state);
        Ok(state)
    }

    /// The build as it stands.
    pub fn build(&self) -> &Build {
        self.history.now()
    }

    /// Whether the build differs from what the file holds.
    pub fn is_unsaved(&self) -> bool {
        *self.build() != self.file.saved
    }

    /// Whether it is a new build in which nothing was chosen yet.
    pub fn is_untouched(&self) -> bool {
        let is_new = self.file.path.is_none() && self.file.original.is_none();
        is_new && !self.history.can_undo() && *self.build() == Build::default()
    }

    /// The row among the choices above which the heading of the measured ones stands; none
    /// where there are none, or where names are looked for.
    pub fn measured_from(&self) -> Option<usize> {
        if self.find.is_some() && self.focus == Focus::Choices {
            return None;
        }
        let mut rows = self.choices.rows.iter();
        rows.position(|choice| choice.is_measured())
    }

    /// The choice under the cursor.
    pub fn choice(&self) -> Option<&'static Choice> {
        self.choices.current().copied()
    }

    /// The topmost layer, or the one that the help over it is about.
    pub fn below_help(&self) -> Option<&Layer> {
        let mut layers = self.layers.iter().rev();
        layers.find(|layer| !matches!(layer, Layer::Help(..)))
    }

    /// What that layer points at among the warnings.
    pub fn topic(&self) -> Option<&Topic> {
        let place = match self.below_help() {
            Some(Layer::Warnings(place) | Layer::Warning(place, _)) => *place,
            _ => return None,
        };
        self.about.topics().get(place)
    }

    /// The first finding of that.
    pub fn finding(&self) -> Option<&Finding> {
        self.now.findings.get(self.topic()?.first())
    }

    /// The task under the cursor, while the checklist is ticked or its help is read.
    pub fn task(&self) -> Option<&Task> {
        match self.below_help()? {
            Layer::Tasks(cursor) => self.papers.tasks.get(*cursor),
            _ => None,
        }
    }

    /// Where things stand; none on too small a screen.
    pub fn layout(&self) -> Option<Layout> {
        let layout = layout(self.size)?;
        // While names are looked for, the cursor goes through all steps: the lists stay put.
        Some(match self.find {
            None => layout.beside_picture(self.step),
            Some(_) => layout,
        })
    }

    /// What figures are shown against, and what they become: what is previewed against the
    /// build as it stands, else that against the pinned baseline.
    pub fn before_after(&self) -> (&Assessment, Option<&Assessment>) {
        let now = self.now.as_ref();
        match (&self.preview, self.variants.baseline()) {
            (Some(effect), _) => (now, Some(&effect.after)),
            (None, Some(pinned)) => (pinned.as_ref(), Some(now)),
            (None, None) => (now, None),
        }
    }

    /// Whether figures are shown against the pinned baseline.
    pub fn shows_pinned(&self) -> bool {
        self.preview.is_none() && self.variants.baseline().is_some()
    }

    /// What everything is likely to cost.
    pub fn cost(&self) -> Money {
        let bill = &self.now.bill;
        Money::new(bill.total.likely, bill.currency)
    }

    /// The choice that the finding under the cursor is about: the first that its tried remedy
    /// changes, or where there is none, the first that may lift it.
    pub fn choice_of_finding(&self) -> Option<&'static Choice> {
        let remedied = self.remedy.edits.first().map(|edit| edit.choice);
        remedied.or_else(|| self.choices_of_finding().first().copied())
    }

    /// Every choice that may lift the finding under the cursor.
    pub fn choices_of_finding(&self) -> &[&'static Choice] {
        let topic = self.topic();
        topic.map_or(&[], |topic| self.about.choices(topic.first()))
    }
}

mod file;
mod layer;
mod places;
mod remedy;
mod rows;

pub use file::OpenFile;
pub use layer::{Layer, Notice, PickOf, Purpose, Question};
pub use remedy::Remedy;
pub use rows::PaneRow;

#[cfg(test)]
mod tests {
    use super::scrolled;

    #[test]
    fn the_cursor_stays_in_view_and_no_room_is_left_empty() {
        assert_eq!(scrolled(0, 9, 20, 5), 5);
        assert_eq!(scrolled(12, 9, 20, 5), 9);
        assert_eq!(scrolled(18, 19, 20, 5), 15);
        assert_eq!(scrolled(3, 0, 2, 5), 0);
        assert_eq!(scrolled(0, 0, 0, 0), 0);
    }
}
