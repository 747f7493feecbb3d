//! The dossier: everything about a machine in one page for a browser. In front what it costs,
//! does and wants, then the pictures, then every sheet, and the safety notes last.
//!
//! The page is made of the same pieces as single sheets, needs no script, loads nothing, and
//! says so to the browser, which then refuses what anybody might smuggle in.

use askama::Template;

use super::format::html::{POLICY, Part, STYLE};
use super::pictures::{self, Picture};
use super::spelled::{finished, pictured};
use super::{FormatError, Paper, SheetKind, sheet};
use crate::rules::safety_notes::SafetyNote;
use crate::store::visible;
use crate::units::respell::Speller;
use crate::words::Words as _;

/// What pictures and contents look like, beside what every page has.
const MORE_STYLE: &str = include_str!("dossier/style.css");

#[derive(Template)]
#[template(path = "dossier.html", config = "src/sheets/format/askama.toml")]
struct Page<'p> {
    title: String,
    note: String,
    date: String,
    policy: &'p str,
    style: &'p str,
    more_style: &'p str,
    first: Part,
    pictures: Vec<Picture>,
    parts: Vec<Part>,
    safety: &'p [&'static SafetyNote],
}

/// Writes the dossier of a build as one self-contained page.
///
/// # Errors
/// [`FormatError`] where the page cannot be made.
pub fn html(paper: &Paper, speller: &Speller) -> Result<String, FormatError> {
    let kinds = SheetKind::ALL.iter();
    let kinds = kinds.filter(|kind| **kind != SheetKind::Dossier);
    let page = Page {
        title: visible(&paper.build.heading()).into_owned(),
        note: visible(&paper.build.note).into_owned(),
        date: paper.today.to_string(),
        policy: POLICY,
        style: STYLE,
        more_style: MORE_STYLE,
        first: Part {
            title: "In short",
            ..part(SheetKind::Dossier, paper, speller)
        },
        pictures: (pictures::all(paper).into_iter())
            .map(|picture| pictured(picture, speller))
            .collect(),
        parts: kinds.map(|kind| part(*kind, paper, speller)).collect(),
        safety: &paper.assessment.safety,
    };
    let page = page.render();
    page.map_err(|error| FormatError::Page(error.to_string()))
}

/// A sheet of the page. One that bears every caution leaves them to the page's end, where they
/// stand once.
fn part(kind: SheetKind, paper: &Paper, speller: &Speller) -> Part {
    let mut sheet = finished(sheet(kind, paper), speller);
    if sheet.safety.len() == paper.assessment.safety.len() {
        sheet.safety.clear();
    }
    Part::of(&sheet)
}
