//! What is printed and hung on the workshop's wall: parts, cuts, prints, drilling, wiring,
//! settings, the checklist, and the dossier of all of them with pictures.
//!
//! A sheet is plain data ([`Sheet`]): tables of typed cells under a title, with what to mind
//! beside them. It says nothing that the assessment does not know. What a cell looks like is
//! the business of the formats, each a file below `format`; a new sheet is a file below
//! `kinds` and its line in [`SheetKind`].

use jiff::civil::Date;

use crate::assessment::Assessment;
use crate::build::pick::Unresolved;
use crate::build::{Build, Picked};
use crate::catalogue::Catalogue;
use crate::explore::trial::Bench;
use crate::rules::safety_notes::SafetyNote;
use crate::units::respell::Speller;
use crate::words::Words as _;

pub mod cell;
pub mod dossier;
pub mod format;
mod kinds;
pub mod pictures;
pub mod spelled;

pub use cell::{Cell, Column, Formula, Narrow, Row, RowKind, Shape, Table};
pub use format::{Format, FormatError, lines, render};
pub use kinds::checklist::tasks;
pub use spelled::spelled;

crate::words! {
    /// The kinds of sheet.
    SheetKind {
        Parts = "parts", "Parts", "What to buy, from whom, how much of it and at what price.";
        Cuts = "cuts", "Cuts", "What to saw from which bar, with kerf and offcuts.";
        Prints = "prints", "Prints", "What to print, how often, and what it takes in hours and grams.";
        Drill = "drill", "Drilling", "Where the holes of each rail go, and with which tap and drill.";
        Wiring = "wiring", "Wiring", "Each cable from end to end: cores, section, length, shield, gland, fuse.";
        Terminals = "terminals", "Terminals", "The strips in the cabinet, terminal by terminal.";
        Motion = "motion", "Motion settings", "What the controller is told about each axis, with room for what you measured.";
        Vfd = "vfd", "Spindle settings", "What the spindle's inverter is told, or a hand router's wheel.";
        Checklist = "checklist", "Checklist", "Assembly and commissioning in order, with the ticks that your build keeps.";
        Dossier = "dossier", "Dossier", "All of it in one file, with pictures.";
    }
}

/// What sheets are made from.
#[derive(Clone, Copy, Debug)]
pub struct Paper<'a> {
    /// What exists.
    pub catalogue: &'a Catalogue,
    /// What was chosen.
    pub build: &'a Build,
    /// The same with its parts.
    pub picked: &'a Picked<'a>,
    /// What follows from it.
    pub assessment: &'a Assessment,
    /// The day that stands on the sheet.
    pub today: Date,
}

/// What somebody makes from the paper of the build on a bench, whose parts are picked for that.
///
/// # Errors
/// Where they cannot be, as of a build that cannot be assessed either.
pub fn on_paper<T>(bench: &Bench, make: impl FnOnce(&Paper) -> T) -> Result<T, Unresolved> {
    let picked = Picked::new(bench.catalogue, bench.build)?;
    Ok(make(&Paper {
        catalogue: bench.catalogue,
        build: bench.build,
        picked: &picked,
        assessment: bench.before,
        today: bench.today,
    }))
}

/// One sheet.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Which.
    pub kind: SheetKind,
    /// The title of the build that it belongs to.
    pub machine: String,
    /// The day it was made.
    pub date: Date,
    /// How to read it, in a sentence or two.
    pub about: String,
    /// Its tables.
    pub tables: Vec<Table>,
    /// What to mind.
    pub remarks: Vec<String>,
    /// Where the work on it can hurt.
    pub safety: Vec<&'static SafetyNote>,
}

/// A sheet in a format; the dossier is all of them, its first page in front, and has pictures
/// where it is a page for a browser. Formats for people are in the units and marks of the
/// speller, those for programs metric and with a point.
///
/// # Errors
/// [`FormatError`] where the format has no room for it.
pub fn written(
    kind: SheetKind,
    format: Format,
    paper: &Paper,
    speller: &Speller,
) -> Result<Vec<u8>, FormatError> {
    if (kind, format) == (SheetKind::Dossier, Format::Html) {
        return dossier::html(paper, speller).map(String::into_bytes);
    }
    let sheets = all(kind, paper);
    if !format.is_for_people() {
        return render(format, &sheets);
    }
    let sheets = sheets.into_iter();
    match format {
        // Its lines are broken here: a number whose marks are still to come is one word.
        Format::Text => {
            let sheets: Vec<Sheet> = sheets.map(|one| spelled(one, speller)).collect();
            let pages = format::pages(&sheets);
            Ok(speller.finish(&pages).into_owned().into_bytes())
        }
        _ => {
            let sheets: Vec<Sheet> = sheets.map(|one| spelled::finished(one, speller)).collect();
            render(format, &sheets)
        }
    }
}

/// The sheets that a kind stands for: itself; of the dossier, its first page and all others.
pub fn all(kind: SheetKind, paper: &Paper) -> Vec<Sheet> {
    let rest = SheetKind::ALL
        .iter()
        .filter(|other| kind == SheetKind::Dossier && **other != kind);
    let kinds = std::iter::once(&kind).chain(rest);
    kinds.map(|kind| sheet(*kind, paper)).collect()
}

/// The sheet of a kind; of the dossier, its first page.
pub fn sheet(kind: SheetKind, paper: &Paper) -> Sheet {
    let content = content(kind, paper);
    Sheet {
        kind,
        machine: paper.build.heading(),
        date: paper.today,
        about: format!("{}{}", of_several(kind, paper), content.about),
        tables: content.tables,
        remarks: content.remarks,
        safety: kinds::safety(kind, paper),
    }
}

/// For how many machines a sheet stands, where several are built together: what is bought and
/// made in one go is counted for all of them and says so itself or here.
fn of_several(kind: SheetKind, paper: &Paper) -> String {
    let machines = paper.build.area.machines;
    match kind {
        _ if machines < 2 => String::new(),
        SheetKind::Drill => format!("Counted for all {machines} machines. "),
        SheetKind::Wiring | SheetKind::Terminals | SheetKind::Motion | SheetKind::Vfd => {
            format!("For one of {machines} machines that are alike: hang a copy at each. ")
        }
        SheetKind::Checklist => {
            format!("A task is done when it is done on each of the {machines} machines. ")
        }
        SheetKind::Parts | SheetKind::Cuts | SheetKind::Prints | SheetKind::Dossier => {
            String::new()
        }
    }
}

/// What a kind of sheet says for itself.
#[derive(Clone, Debug, Default)]
pub struct Content {
    /// How to read it, in a sentence or two.
    pub about: String,
    /// Its tables.
    pub tables: Vec<Table>,
    /// What to mind.
    pub remarks: Vec<String>,
}

fn content(kind: SheetKind, paper: &Paper) -> Content {
    match kind {
        SheetKind::Parts => kinds::parts::content(paper),
        SheetKind::Cuts => kinds::cuts::content(paper),
        SheetKind::Prints => kinds::prints::content(paper),
        SheetKind::Drill => kinds::drill::content(paper),
        SheetKind::Wiring => kinds::wiring::content(paper),
        SheetKind::Terminals => kinds::terminals::content(paper),
        SheetKind::Motion => kinds::motion::content(paper),
        SheetKind::Vfd => kinds::vfd::content(paper),
        SheetKind::Checklist => kinds::checklist::content(paper),
        SheetKind::Dossier => kinds::summary::content(paper),
    }
}
