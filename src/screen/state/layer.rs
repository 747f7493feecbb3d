//! What lies over the main screen, and what is asked there.

use std::path::PathBuf;
use std::sync::Arc;

use super::PaneRow;
use crate::build::Choice;
use crate::catalogue::{Id, PartKind};
use crate::explore::interview::Prompt;
use crate::explore::question::Question as AskedQuestion;
use crate::explore::reading::Measure;
use crate::rules::RuleId;
use crate::screen::form::Form;
use crate::screen::help::HelpPage;
use crate::screen::interview::Picking;
use crate::screen::keymap::Place;
use crate::screen::ledger::Entry as BillEntry;
use crate::screen::own_part::OwnPart;
use crate::screen::pictures::PictureKind;
use crate::screen::seek::Wanting;
use crate::screen::theirs::Theirs;
use crate::screen::typed::Typed;
use crate::screen::variants::Naming;
use crate::screen::what_if::Order;
use crate::sheets::{Format, SheetKind};

/// What lies over the main screen.
#[derive(Clone, Debug)]
pub enum Layer {
    /// The menu.
    Menu(usize),
    /// The list of warnings, with its cursor among [`About::topics`].
    ///
    /// [`About::topics`]: crate::screen::about::About::topics
    Warnings(usize),
    /// What stands behind a row of the side pane, and how far it is scrolled.
    Figure(PaneRow, usize),
    /// The page of all figures; its cursor is in [`Figures`](crate::screen::figures::Figures).
    Figures,
    /// The page of all figures while one is looked for.
    FigureFind,
    /// How the figure of a path came about, and the stop of its cursor.
    Derivation(String, usize),
    /// One warning in full: its place among [`About::topics`], and how far it is scrolled.
    ///
    /// [`About::topics`]: crate::screen::about::About::topics
    Warning(usize, usize),
    /// The note with which a rule's findings are accepted.
    Note(RuleId, Typed),
    /// The bill; its rows and its cursor are in [`Ledger`](crate::screen::ledger::Ledger).
    Bill,
    /// The bill while a word is looked for in it.
    BillFind,
    /// One line of the bill, and the stop of its cursor: its fields, then the text below them.
    Entry(BillEntry, usize),
    /// A list from which something about a line is picked, with the cursor.
    Pick(BillEntry, PickOf, usize),
    /// Fields in which something about a line is typed.
    Form(Form),
    /// A picture.
    Picture {
        /// Which.
        kind: PictureKind,
        /// Whether as a table.
        table: bool,
        /// How far it is scrolled.
        top: usize,
    },
    /// The list of sheets, with its cursor.
    Sheets(usize),
    /// One sheet as it will be printed, and how far it is scrolled.
    Sheet(SheetKind, usize),
    /// The checklist to tick, with its cursor among the tasks in [`Papers`].
    ///
    /// [`Papers`]: crate::screen::papers::Papers
    Tasks(usize),
    /// The formats in which a sheet can be written, with the cursor.
    Export(SheetKind, usize),
    /// The variants; their rows and the cursor are in [`Variants`].
    ///
    /// [`Variants`]: crate::screen::variants::Variants
    Variants,
    /// The fields in which a variant is named.
    Naming(Naming),
    /// Variants side by side, and how far that is scrolled.
    Compare(usize),
    /// The questions, with the cursor.
    WhatIf(usize),
    /// The answer to a question, with the cursor among its alternatives.
    Answer(&'static AskedQuestion, usize),
    /// What matters most.
    Weigh {
        /// By which figure.
        measure: Measure,
        /// In which order.
        order: Order,
        /// The cursor.
        cursor: usize,
    },
    /// One choice over a range.
    Sweep {
        /// Which.
        choice: &'static Choice,
        /// The figure whose curve is drawn.
        measure: Measure,
        /// Whether as a table.
        table: bool,
        /// The cursor among the points.
        cursor: usize,
    },
    /// The field in which the range of a choice is typed.
    Range(&'static Choice, Typed),
    /// The ways to spend less, with the cursor.
    Savings(usize),
    /// What the cheapest build is to do, with the cursor.
    Seek(usize),
    /// The fields in which one target is put together.
    Target(Wanting),
    /// Which choices a search may change, with the cursor.
    Freed(usize),
    /// What a search came to, or how far it is, with the cursor among its builds.
    Found(usize),
    /// The questions of the interview, with the cursor.
    Interview(usize),
    /// A list from which one of them is answered.
    Picking(Picking),
    /// The field in which one of them is answered.
    Saying(&'static Prompt, Typed),
    /// The builds of the interview, or how far the searches are, with the cursor.
    Proposed(usize),
    /// The words; rows and cursor are in [`WordPage`](crate::screen::glossary::WordPage).
    Glossary,
    /// The words while a text is looked for in them.
    WordFind,
    /// One word, by its place in the glossary, and the cursor among the words to go on to.
    Word(usize, usize),
    /// The form of a part of one's own.
    OwnPart(Box<OwnPart>),
    /// The settings, with the cursor.
    Settings(usize),
    /// Where the work can hurt, and how far it is scrolled.
    Safety(usize),
    /// Help for a place, which page of it, and how far that is scrolled.
    Help(Place, HelpPage, usize),
    /// The name of a file, and what is written to it.
    Name(Typed, Purpose),
    /// Something to decide, with the cursor.
    Question(Question, usize),
}

/// What is picked for a line of the bill.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PickOf {
    /// How far its purchase has come.
    Status,
    /// From whom it is ordered.
    Supplier,
}

/// Something to decide before the program goes on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Question {
    /// Leave although something is unsaved?
    Leave,
    /// Replace this file, which holds something else, and by what?
    Replace(PathBuf, Purpose),
    /// Somebody else works on the file that was opened: look at it only?
    Held,
    /// Somebody else changed the file: which of the two is kept, and does the program leave
    /// once that is saved?
    Changed(Arc<Theirs>, bool),
    /// Take a part of one's own out of its file?
    RemoveOwn(PartKind, Id),
    /// Leave the form of a part of one's own although something was typed in it?
    DropOwn,
    /// What becomes of the changes that an earlier session left unsaved?
    Recover,
}

/// What is written to a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Purpose {
    /// The build.
    Save {
        /// Whether the program leaves afterwards.
        leave: bool,
    },
    /// A sheet of the build in a format.
    Export(SheetKind, Format),
}

/// A message to the user.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// Something was done.
    Done(String),
    /// Something could not be done.
    Failed(String),
    /// A key did nothing; any other message comes before this.
    Idle(String),
}
