//! The catalogue as this program run sees it: the data built in, and over them the layers of
//! the user, of which a later one replaces what an earlier one says of the same id.

use std::collections::HashMap;
use std::ops::Range;
use std::path::PathBuf;
use std::sync::Arc;

use etcetera::BaseStrategy as _;
use toml::de::DeTable;

use super::embedded::Embedded;
use super::file_error::{FileError, line_and_column};
use super::folder::toml_files;
use super::in_two::in_two;
use super::plain_words::{file_error, toml_error};
use super::{embedded, limits, missing_keys, text};
use crate::build::mark::mark;
use crate::catalogue::check::{self, Record};
use crate::catalogue::own_rule::MOST;
use crate::catalogue::reader::{Parsed, ReadError};
use crate::catalogue::said::{self, Fields};
use crate::catalogue::{Catalogue, CatalogueFile, Id, OwnFile};
use crate::rules::own;
use crate::words::Words as _;

/// The flaws that are told at once.
const TOLD: usize = 5;

/// The most text that is laid over what is built in, from all folders together, in bytes: what is
/// built in has less than a tenth of that.
const MOST_TEXT: usize = 16 * 1024 * 1024;

/// The most entries of one's own, prices apart: each part is an option that is looked at whenever
/// its choice is, and each rule is counted in every assessment.
const MOST_ENTRIES: usize = 4000;

/// The name of the user's folder below their configuration folder.
pub(super) const FOLDER: &str = "gantrywright";

/// A file that is laid over what is built in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Overlay {
    /// How messages call it.
    pub name: String,
    /// Its path inside its folder.
    pub inside: String,
    /// What it says.
    pub text: String,
}

/// The catalogue: what is built in, then the folders in their order.
///
/// # Errors
/// Where a file cannot be read, says the same id twice in one layer, or leaves an entry that
/// makes no sense.
pub fn load(folders: &[PathBuf]) -> Result<Catalogue, FileError> {
    over_built_in(layers(folders)?)
}

/// The files of folders, a layer each.
///
/// # Errors
/// Where one cannot be read, or all together are absurdly large.
pub fn layers(folders: &[PathBuf]) -> Result<Vec<Vec<Overlay>>, FileError> {
    // The settings lie among the parts and are none, and so may what is remembered.
    let others = [super::settings::path(), super::state::path()];
    let mut room = MOST_TEXT;
    let layer = |folder: &PathBuf| {
        let files = toml_files(folder)?.into_iter();
        let parts = files.filter(|path| !others.iter().flatten().any(|other| other == path));
        let each = parts.map(|path| {
            let inside = path.strip_prefix(folder).unwrap_or(&path);
            let steps = inside.iter().map(|step| step.to_string_lossy());
            let text = text::read(&path)?;
            room = room.checked_sub(text.len()).ok_or_else(|| {
                let most = MOST_TEXT / (1024 * 1024);
                let message = format!(
                    "with this file the folders of parts hold more than {most} MiB; give folders of parts alone"
                );
                FileError::new(text::name_of(&path), message)
            })?;
            Ok(Overlay {
                name: text::name_of(&path),
                inside: steps.collect::<Vec<_>>().join("/"),
                text,
            })
        });
        each.collect()
    };
    folders.iter().map(layer).collect()
}

/// The catalogue: what is built in, then layers in their order.
///
/// # Errors
/// Where a file says the same id twice in one layer, or leaves an entry that makes no sense.
pub fn over_built_in(layers: Vec<Vec<Overlay>>) -> Result<Catalogue, FileError> {
    let own = layers.iter().flatten().map(|file| file.text.as_str());
    let mark = mark([embedded::mark()].into_iter().chain(own));
    let mut library = Library::default();
    let built_in = built_in();
    if layers.iter().all(Vec::is_empty) {
        let mut catalogue = alone(&built_in)?;
        catalogue.mark = mark;
        return Ok(catalogue);
    }
    library.layer(built_in)?;
    for layer in layers {
        let sources = layer.into_iter().map(|file| Source {
            name: file.name,
            says: Says::Own(file.text),
        });
        library.layer(sources.collect())?;
    }
    let mut catalogue = library.checked()?;
    catalogue.mark = mark;
    Ok(catalogue)
}

/// The folders to load: the user's own where there is one, then those named.
pub fn folders(named: &[PathBuf]) -> Vec<PathBuf> {
    user_folder()
        .into_iter()
        .chain(named.iter().cloned())
        .collect()
}

/// The user's own folder of parts and prices, where it exists: `gantrywright` in the
/// configuration folder (XDG base directories).
pub fn user_folder() -> Option<PathBuf> {
    home_folder().filter(|folder| folder.is_dir())
}

/// Where that folder is or would be; none where there is no home folder.
pub fn home_folder() -> Option<PathBuf> {
    let base = etcetera::choose_base_strategy().ok()?;
    Some(base.config_dir().join(FOLDER))
}

/// The catalogue of what is built in, with nothing laid over it. What can be wrong only once
/// something is, nobody looks for: that nothing is wrong with what is built in, tests hold.
fn alone(built_in: &[Source]) -> Result<Catalogue, FileError> {
    let mut catalogue = Catalogue::default();
    // In two threads, since reading takes a good part of the time to the first frame.
    for (source, file) in built_in.iter().zip(in_two(built_in, Source::read)) {
        let file = file.map_err(|error| source.refused(error, &catalogue))?;
        catalogue.absorb(file);
    }
    Ok(catalogue)
}

fn built_in() -> Vec<Source> {
    embedded::parsed_catalogue()
        .map(|(file, parsed)| Source {
            name: format!("built-in {}", file.name),
            says: Says::BuiltIn(file, parsed),
        })
        .collect()
}

/// A file of the catalogue.
struct Source {
    name: String,
    says: Says,
}

/// What a file says.
enum Says {
    /// What is built in, and what it was parsed to.
    BuiltIn(Embedded, Parsed<'static>),
    /// What somebody wrote.
    Own(String),
}

impl Source {
    fn text(&self) -> &str {
        match &self.says {
            Says::BuiltIn(file, _) => file.text(),
            Says::Own(text) => text,
        }
    }

    /// Its entries.
    fn read(&self) -> Result<CatalogueFile, ReadError> {
        let mut file: CatalogueFile = match &self.says {
            Says::BuiltIn(_, parsed) => parsed.read(),
            Says::Own(text) => CatalogueFile::read(text),
        }?;
        file.stands_in(&self.name);
        Ok(file)
    }

    /// What is said where they cannot be read; what was read before tells what parts need.
    fn refused(&self, error: ReadError, before: &Catalogue) -> FileError {
        let lacking = missing_keys::told(before, self.text(), &error);
        let told = file_error(&self.name, self.text(), error);
        match lacking {
            Some(message) => FileError { message, ..told },
            None => told,
        }
    }

    /// Its parts with the fields of these keys, as they stand there.
    fn said(&self, keys: &[&str]) -> Result<Vec<(Id, Fields)>, FileError> {
        let said = match &self.says {
            Says::BuiltIn(_, parsed) => said::in_parsed(*parsed, keys),
            Says::Own(text) => said::in_text(text, keys),
        };
        said.map_err(|error| toml_error(&self.name, self.text(), error))
    }

    /// The file as the catalogue keeps it; none where it is built in.
    fn own(&self) -> Option<Arc<OwnFile>> {
        let Says::Own(text) = &self.says else {
            return None;
        };
        Some(Arc::new(OwnFile {
            name: self.name.clone(),
            text: text.clone(),
        }))
    }
}

/// Whether what somebody wrote can be shown: it has no endless text.
fn within_limits(source: &Source) -> Result<(), FileError> {
    let (name, text) = (&source.name, source.text());
    let table = DeTable::parse(text).map_err(|error| toml_error(name, text, error))?;
    limits::texts(table.get_ref()).map_err(|bad| bad.in_file(name, text))
}

/// Where an entry stands: which source, and where in it.
#[derive(Clone)]
struct Place {
    source: usize,
    span: Range<usize>,
}

/// The catalogue while it grows, with the place of each entry.
#[derive(Default)]
struct Library {
    catalogue: Catalogue,
    sources: Vec<Source>,
    places: HashMap<Record, Place>,
    /// How many entries of one's own there are, prices apart.
    own: usize,
    /// How many of them are rules.
    rules: usize,
}

impl Library {
    /// Adds a layer, in which no id may come twice.
    fn layer(&mut self, sources: Vec<Source>) -> Result<(), FileError> {
        let mut seen: HashMap<Record, Place> = HashMap::new();
        for source in sources {
            let read = source.read();
            let file = read.map_err(|error| source.refused(error, &self.catalogue))?;
            let number = self.sources.len();
            let own = source.own();
            if own.is_some() {
                within_limits(&source)?;
            }
            self.sources.push(source);
            for (record, span) in file.entries() {
                if let (Record::Part(id), Some(own)) = (&record, &own) {
                    self.catalogue.own.insert(*id, Arc::clone(own));
                }
                let place = Place {
                    source: number,
                    span,
                };
                self.own += usize::from(own.is_some() && !matches!(record, Record::Price(..)));
                if self.own > MOST_ENTRIES {
                    let message = format!(
                        "this is one more than {MOST_ENTRIES} entries of your own; leave some out"
                    );
                    return Err(self.error(&place, message));
                }
                self.rules += usize::from(matches!(record, Record::OwnRule(_)));
                if self.rules > MOST {
                    let message =
                        format!("this is one more than {MOST} rules of your own; leave some out");
                    return Err(self.error(&place, message));
                }
                if let Some(first) = seen.insert(record.clone(), place.clone()) {
                    return Err(self.twice(&title(&record), &place, &first));
                }
                self.places.insert(record, place);
            }
            self.catalogue.absorb(file);
        }
        Ok(())
    }

    fn twice(&self, title: &str, place: &Place, first: &Place) -> FileError {
        let origin = self.error(first, String::new()).origin();
        self.error(
            place,
            format!("{title} is at {origin} already; keep one of the two"),
        )
    }

    fn error(&self, place: &Place, message: String) -> FileError {
        let source = &self.sources[place.source];
        let at = line_and_column(source.text(), place.span.start);
        FileError {
            place: Some(at),
            ..FileError::new(&source.name, message)
        }
    }

    /// Notes what files say of the fields that rules of one's own name.
    fn note_said(&mut self) -> Result<(), FileError> {
        let keys = own::fields_named(&self.catalogue);
        if keys.is_empty() {
            return Ok(());
        }
        let mut all = HashMap::default();
        for source in &self.sources {
            all.extend(source.said(&keys)?);
        }
        self.catalogue.said = all;
        Ok(())
    }

    /// The finished catalogue, if all of it makes sense.
    fn checked(mut self) -> Result<Catalogue, FileError> {
        self.note_said()?;
        let mut flaws = check::flaws(&self.catalogue);
        flaws.extend(own::settle(&mut self.catalogue));
        let mut told = flaws.iter().take(TOLD).map(|flaw| {
            let message = format!("{}: {}", flaw.record, flaw.message);
            match self.places.get(&flaw.record) {
                Some(place) => {
                    let text = self.sources[place.source].text();
                    let named = || key_named(text, place.span.start, &flaw.message);
                    let span = flaw.place.clone().or_else(named);
                    let span = span.unwrap_or_else(|| place.span.clone());
                    self.error(&Place { span, ..*place }, message)
                }
                None => FileError::new("catalogue", message),
            }
        });
        let Some(mut first) = told.next() else {
            return Ok(self.catalogue);
        };
        first.more = told.collect();
        if flaws.len() > TOLD {
            let message = format!("and {} more such faults", flaws.len() - TOLD);
            first.more.push(FileError::new("catalogue", message));
        }
        Err(first)
    }
}

/// The key that a message about an entry begins with, where the entry's file has a line for it.
fn key_named(text: &str, entry: usize, message: &str) -> Option<Range<usize>> {
    let key = message.split_whitespace().next()?;
    let mut start = entry;
    for (number, line) in text.get(entry..)?.split_inclusive('\n').enumerate() {
        let said = line.trim_start();
        if number > 0 && said.starts_with('[') {
            return None;
        }
        let behind = said.strip_prefix(key).map(str::trim_start);
        if behind.is_some_and(|rest| rest.starts_with('=')) {
            let begins = start + (line.len() - said.len());
            return Some(begins..begins + key.len());
        }
        start += line.len();
    }
    None
}

/// An entry as the message about its second coming calls it.
fn title(record: &Record) -> String {
    match record {
        Record::Part(id) | Record::Book(id) => format!("the id {:?}", id.as_str()),
        Record::Stage(id) => format!("the order stage {:?}", id.as_str()),
        Record::Task(id) => format!("the task {:?}", id.as_str()),
        Record::Word(id) => format!("the word {:?}", id.as_str()),
        Record::OwnRule(id) => format!("the rule {:?}", id.as_str()),
        Record::Price(_, part) => format!("the price of {:?}", part.as_str()),
        Record::Rule(id, per) => {
            format!("the quantity of {:?} for each {:?}", id.as_str(), per.id())
        }
        Record::Yearly(what) => format!("the yearly use of {:?}", what.id()),
    }
}

#[cfg(test)]
mod tests;
