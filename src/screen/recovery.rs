//! Unsaved changes that an earlier session left behind: what they are, in words, and how they are
//! taken up.
//!
//! A file that is as it was gets exactly what was lost. In one that was changed since, everything
//! that still fits goes over what it says now; what was changed in both keeps what the file says,
//! and is named.

use std::path::Path;

use jiff::Timestamp;
use jiff::civil::Date;

use super::differences::differences;
use super::{ColorWish, Open, Session};
use crate::build::Build;
use crate::build::merge::{Clash, Three};
use crate::catalogue::Catalogue;
use crate::store::build_file::read;
use crate::store::journal::{self, Claim, Journal};
use crate::store::{clock, text, visible};

/// How many changes are told by name.
const TOLD: usize = 4;

/// Changes that are offered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Offer {
    /// The journal.
    pub journal: Journal,
    /// What is said of it, a paragraph each.
    pub told: Vec<String>,
}

/// Everything that was left behind, the oldest first.
pub fn offers(catalogue: &Catalogue) -> Vec<Offer> {
    let all = journal::left_behind().into_iter();
    all.map(|journal| Offer {
        told: told(&journal, catalogue),
        journal,
    })
    .collect()
}

/// What is said of a journal.
pub fn told(journal: &Journal, catalogue: &Catalogue) -> Vec<String> {
    let header = &journal.header;
    let when = moment(journal.last);
    let title = visible(&header.title);
    let from = match &header.file {
        Some(file) => format!("file {}", visible(&file.display().to_string())),
        None => "without a file yet".to_owned(),
    };
    let begun = match journal.alive {
        true => "Not saved yet, in a session that still runs",
        false => "Left without saving",
    };
    let mut told = vec![format!("{begun}, {when}: {title}, {from}.")];
    told.push(match changes(journal, catalogue) {
        Ok(changes) => counted(&changes),
        Err(why) => format!("What they are cannot be told here: {why}."),
    });
    told.extend(since(journal));
    told
}

/// What became of the file meanwhile, where that matters.
fn since(journal: &Journal) -> Option<String> {
    let header = &journal.header;
    let file = header.file.as_deref()?;
    if text::is_missing(file) {
        return Some(
            "The file is not there any more: taken up, they are a build without one.".into(),
        );
    }
    // The text of a bundle is more than that of the build; whoever takes it up looks closer.
    let now = text::read(file).ok().filter(|_| !header.bundle)?;
    (journal::hash(&now) != header.hash).then(|| {
        "The file was changed since. Taken up, they go over what it says now where they still fit."
            .to_owned()
    })
}

/// A moment as the clock on the wall says it.
pub fn moment(at: Timestamp) -> String {
    clock::local(at).strftime("%Y-%m-%d at %H:%M").to_string()
}

/// What was changed, by name.
///
/// # Errors
/// Where the texts cannot be read with this catalogue.
pub fn changes(journal: &Journal, catalogue: &Catalogue) -> Result<Vec<String>, String> {
    let (base, build) = builds(journal, catalogue)?;
    Ok(differences(catalogue, &base, &build))
}

fn builds(journal: &Journal, catalogue: &Catalogue) -> Result<(Build, Build), String> {
    let build = |text: &str| {
        let build = read(text, "the build", catalogue);
        build.map_err(|error| error.message)
    };
    Ok((build(&journal.header.text)?, build(&journal.text)?))
}

fn counted(changes: &[String]) -> String {
    let first: Vec<_> = changes
        .iter()
        .take(TOLD)
        .map(|name| visible(name))
        .collect();
    let first = first.join(", ");
    match (changes.len(), changes.len().saturating_sub(TOLD)) {
        (0, _) => "Nothing that has a name differs.".to_owned(),
        (1, _) => format!("1 change: {first}."),
        (all, 0) => format!("{all} changes: {first}."),
        (all, more) => format!("{all} changes: {first}, and {more} more."),
    }
}

/// What a session that takes changes up has around it.
pub struct Around<'a> {
    /// How a file is opened, without changes of the command line.
    pub open: Open<'a>,
    /// What exists, for a build without a file.
    pub catalogue: &'a Catalogue,
    /// The day for which prices are judged.
    pub today: Date,
    /// Which colours the user wishes.
    pub color: ColorWish,
}

/// Changes that are taken up: the session that has them, unsaved.
#[derive(Debug)]
pub struct Taken {
    /// The session.
    pub session: Session,
    /// What is to be said of it.
    pub said: String,
    claim: Claim,
}

impl Taken {
    /// Parts the session from what is to be done once its own journal is on the disk: the old one
    /// is needed no longer.
    pub fn apart(self) -> (Session, String, Claim) {
        (self.session, self.said, self.claim)
    }
}

/// Takes changes up.
///
/// # Errors
/// Says why that cannot be; the journal is then as it was.
pub fn take_up(path: &Path, around: &Around) -> Result<Taken, String> {
    let claim = Claim::on(path).map_err(|error| error.to_string())?;
    let header = &claim.journal().header;
    let file = header.file.as_deref();
    let (session, said) = match file.filter(|file| !text::is_missing(file)) {
        Some(file) => over_file(claim.journal(), file, around.open)?,
        None => alone(claim.journal(), around)?,
    };
    Ok(Taken {
        session,
        said,
        claim,
    })
}

/// A build without a file, or whose file is gone: saving asks for a name.
fn alone(journal: &Journal, around: &Around) -> Result<(Session, String), String> {
    let (_, build) = builds(journal, around.catalogue)?;
    let said = match &journal.header.file {
        Some(file) => format!(
            "taken up without a file, since {} is gone: save it under a name",
            file.display()
        ),
        None => "taken up; not saved yet".to_owned(),
    };
    let session = Session {
        original: Some(journal.header.text.clone()),
        ..Session::new(around.catalogue.clone(), build, around.today, around.color)
    };
    Ok((session, said))
}

fn over_file(journal: &Journal, file: &Path, open: Open) -> Result<(Session, String), String> {
    let mut session = open(file)?;
    let (base, mine) = builds(journal, &session.catalogue)?;
    let text = session.original.as_deref().unwrap_or_default();
    if journal::hash(text) == journal.header.hash {
        session.build = mine;
        return Ok((session, "taken up; not saved yet".to_owned()));
    }
    let three = Three {
        base: &base,
        mine: &mine,
        theirs: &session.build,
    };
    let merged = three.merged(Clash::Theirs);
    let wanted = three.merged(Clash::Mine);
    let left = differences(&session.catalogue, &merged, &wanted);
    let said = match left.is_empty() {
        true => "taken up over the file as it is now; not saved yet".to_owned(),
        false => format!(
            "taken up, except what the file says otherwise by now: {}; not saved yet",
            left.join(", ")
        ),
    };
    session.build = merged;
    Ok((session, said))
}
