//! The dialogue as plain data: a line goes in, text comes out, and what is to be done outside
//! is named as a [`Task`]. No terminal and no file is touched in here.

use std::path::{Path, PathBuf};
use std::rc::Rc;

use jiff::civil::Date;

use super::offering::Offers;
use super::page::Page;
use super::paying::Paying;
use crate::assessment::moved::Moved;
use crate::assessment::{AssessError, Assessment};
use crate::build::Build;
use crate::build::choices::Choice;
use crate::build::history::History;
use crate::catalogue::{Catalogue, Step};
use crate::commands::color::Paint;
use crate::explore::find::Target;
use crate::explore::trial::Bench;
use crate::rules::{Finding, RuleId};
use crate::screen::about::About;
use crate::screen::ledger::Entry;
use crate::screen::text::capital;
use crate::screen::theirs::Theirs;
use crate::screen::{Session, Start};
use crate::sheets::{Format, SheetKind};
use crate::store::build_file;
use crate::store::bundle::Bundle;
use crate::store::kept::Others;
use crate::units::respell::Speller;
use crate::words::Words as _;

/// How the talk is led.
#[derive(Clone, Debug)]
pub(super) struct Way {
    /// Whether somebody sits at a terminal: long lists come in parts, leaving asks.
    pub(super) live: bool,
    /// Whether headings are painted.
    pub(super) paint: Paint,
    /// In whose units and marks numbers are said and typed.
    pub(super) speller: Speller,
    /// In whose units and marks they are written to files, whatever language the terminal speaks.
    pub(super) files: Speller,
}

impl Way {
    /// Nobody listens, and all is as the program writes it.
    #[cfg(test)]
    pub(super) fn plain() -> Self {
        Self {
            live: false,
            paint: Paint::PLAIN,
            speller: Speller::default(),
            files: Speller::default(),
        }
    }
}

/// Where one is. Below the first there is always the list of steps.
#[derive(Clone, Debug)]
pub(super) enum Place {
    /// The five steps.
    Steps,
    /// The choices of a step.
    Step(Step),
    /// One choice.
    Choice(&'static Choice),
    /// The warnings, as they were listed last.
    Warnings(Vec<Finding>),
    /// One of them.
    Warning(Box<Finding>),
    /// The choices that were found, and what was looked for.
    Found(Vec<&'static Choice>, String),
    /// What builders ask most.
    Questions,
    /// Builds that are offered.
    Offers(Rc<Offers>),
    /// The variants.
    Variants,
    /// The sheets.
    Sheets,
    /// Lines of the bill, to write down what was paid.
    Paid(Vec<Entry>),
    /// A question, whose answer is no word and no number of a list.
    Ask(Ask),
}

/// What is asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Ask {
    /// The reason for which a warning is accepted, by its rule.
    Note(RuleId),
    /// The file to save to.
    Name { leave: bool },
    /// Whether a file that is there is replaced.
    Replace { path: PathBuf, leave: bool },
    /// What is kept of a file that somebody else changed.
    Changed { theirs: Box<Theirs>, leave: bool },
    /// Another name, since somebody works on the file; who, in words.
    Held { told: String, leave: bool },
    /// Whether to leave though something is unsaved.
    Leave,
    /// What the cheapest build must do.
    Wanted,
    /// The name of a new variant.
    Clone,
    /// The file of a sheet.
    Sheet(SheetKind),
    /// Whether a file that is there is replaced by a sheet.
    ReplaceSheet {
        sheet: (SheetKind, Format),
        path: PathBuf,
    },
    /// What was paid.
    Pay(Box<Paying>),
}

/// Something to be done outside, or that takes long.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Task {
    /// Write the build to a file.
    Write {
        path: PathBuf,
        /// Whether whatever is there may be replaced unseen.
        replace: bool,
        /// Whether to leave once it is written.
        leave: bool,
    },
    /// Write a sheet to a file, in the format that its ending means.
    Sheet {
        sheet: (SheetKind, Format),
        path: PathBuf,
        /// Whether whatever is there may be replaced.
        replace: bool,
    },
    /// Look for the cheapest build that does this.
    Search(Vec<Target>),
    /// Take this text of the file for what is worked on.
    TakeOver(String),
    /// Leave.
    Leave,
}

/// What a line leads to.
#[derive(Debug, Default)]
pub(super) struct Reply {
    pub(super) page: Page,
    pub(super) task: Option<Task>,
}

/// What is said first of a build that nobody chose yet.
const NEW: &str = "This is a new build, with what is usual. gantrywright interview, run by itself, \
                   asks what you cut, how large and for how much, and finds three builds.";

impl From<Page> for Reply {
    fn from(page: Page) -> Self {
        Self { page, task: None }
    }
}

/// Everything that the talk knows.
pub(super) struct Talk {
    pub(super) catalogue: Catalogue,
    pub(super) today: Date,
    pub(super) history: History,
    /// The build as it was read or last saved.
    pub(super) saved: Build,
    /// The build with which the talk began.
    pub(super) first: Build,
    pub(super) path: Option<PathBuf>,
    /// The text of the build as it was read or last saved, so that its comments are kept.
    pub(super) original: Option<String>,
    pub(super) bundle: Option<Bundle>,
    pub(super) now: Rc<Assessment>,
    pub(super) about: About,
    pub(super) way: Way,
    pub(super) places: Vec<Place>,
    /// The choice that was looked at last, and the step.
    pub(super) last: Option<&'static Choice>,
    pub(super) last_step: Option<Step>,
    /// What of a long list was not said yet.
    pub(super) rest: Page,
    /// Whether something was not understood, or could not be done.
    pub(super) stumbled: bool,
    /// Whether saving was asked for, and the file was left as it is.
    pub(super) refused: bool,
    /// Files of sheets that were asked for and left as they are.
    pub(super) unwritten: Vec<PathBuf>,
    /// What is to be said once at the beginning.
    told: Vec<String>,
}

impl Talk {
    /// Whether a line meant nothing, or what it asked for was not done.
    pub(super) fn missed(&self) -> bool {
        self.stumbled || self.refused || !self.unwritten.is_empty()
    }

    /// Begins a talk.
    ///
    /// # Errors
    /// As [`Session::start`].
    pub(super) fn new(session: Session, way: Way) -> Result<Self, AssessError> {
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
        let mut told: Vec<String> = bundle
            .as_ref()
            .and_then(Bundle::differs)
            .into_iter()
            .collect();
        told.extend(moved.as_ref().and_then(Moved::short));
        let mut talk = Self {
            saved,
            first: build.clone(),
            history: History::new(build),
            about: About::default(),
            catalogue,
            today,
            path,
            original,
            bundle,
            now,
            way,
            places: vec![Place::Steps],
            last: None,
            last_step: None,
            rest: Page::default(),
            stumbled: false,
            refused: false,
            unwritten: Vec::new(),
            told,
        };
        talk.follow();
        Ok(talk)
    }

    /// Takes note of who else works on the file.
    pub(super) fn beside(&mut self, others: &Others) {
        match others {
            Others::Nobody => {}
            Others::One(who) => self.told.push(format!(
                "this file is open elsewhere: {}. Until it is closed there, nothing can be saved under its name; you can look, and save FILE saves under another one",
                who.told()
            )),
            Others::Unknown(why) => self.told.push(format!(
                "whoever opens this file too is not told of you, nor you of them: no lock can be kept beside it ({why})"
            )),
        }
    }

    /// What is said first.
    pub(super) fn opening(&self) -> Page {
        let mut page = self.summary();
        if self.path.is_none() && self.original.is_none() {
            page.text(NEW);
        }
        for told in &self.told {
            page.text(capital(&format!("{told}.")));
        }
        page.then(self.steps());
        page.text("A number goes into a step. help says which words are known everywhere.");
        page
    }

    /// The build as it stands.
    pub(super) fn build(&self) -> &Build {
        self.history.now()
    }

    /// What changed builds are compared with.
    pub(super) fn bench(&self) -> Bench<'_> {
        Bench {
            catalogue: &self.catalogue,
            build: self.history.now(),
            before: &self.now,
            today: self.today,
        }
    }

    /// Brings what hangs on the assessment up to date.
    pub(super) fn follow(&mut self) {
        let build = self.history.now();
        self.about
            .follow(&self.catalogue, build, &self.now, self.today);
    }

    /// Where one is.
    pub(super) fn place(&self) -> &Place {
        self.places.last().unwrap_or(&Place::Steps)
    }

    /// Where one is, for the log: without anything that was typed.
    pub(super) fn place_name(&self) -> &'static str {
        match self.place() {
            Place::Steps => "steps",
            Place::Step(step) => step.id(),
            Place::Choice(choice) => choice.id,
            Place::Warnings(_) | Place::Warning(_) => "warnings",
            Place::Found(..) => "what was found",
            Place::Questions => "questions",
            Place::Offers(_) => "builds that are offered",
            Place::Variants => "variants",
            Place::Sheets => "sheets",
            Place::Paid(_) => "lines of the bill",
            Place::Ask(_) => "a question",
        }
    }

    /// Goes to a place. One of its kind that was open is closed with all that was opened from
    /// it, so that back always leads out.
    pub(super) fn go(&mut self, place: Place) {
        let kind = std::mem::discriminant(&place);
        let same = |other: &Place| std::mem::discriminant(other) == kind;
        if let Some(at) = self.places.iter().position(same) {
            self.places.truncate(at);
        }
        self.places.push(place);
    }

    /// The file, where there is one.
    pub(super) fn path(&self) -> Option<&Path> {
        self.path.as_deref()
    }

    /// The text of the build as it is saved, and what the file then holds.
    pub(super) fn texts(&self) -> (String, String) {
        let original = self.original.as_deref();
        let text = build_file::saved(original, self.build(), &self.catalogue, self.today);
        let bundle = self.bundle.as_ref();
        let whole = bundle.map_or_else(|| text.clone(), |bundle| bundle.with_build(&text));
        (text, whole)
    }
}
