//! What somebody else wrote to the file that is open: the build that it holds now, and what
//! differs from what is on the screen. Plain data, for the screen and for the talk line by line.

use std::path::{Path, PathBuf};

use super::differences::besides_choices;
use crate::build::Build;
use crate::build::edit::difference;
use crate::catalogue::Catalogue;
use crate::store::kept::Found;
use crate::store::lock::Who;
use crate::store::{build_file, bundle, text};

/// What a file holds that somebody else changed.
#[derive(Clone, Debug)]
pub struct Theirs {
    /// The file.
    pub path: PathBuf,
    /// All that it holds; empty where that cannot be read.
    pub whole: String,
    /// The build in it with the text of that, or why there is none.
    pub build: Result<(Build, String), String>,
    /// Whether it brings parts of its own along, so that it has to be opened anew.
    pub bundle: bool,
    /// Who works on it, so that nothing can be saved under its name.
    pub held: Option<String>,
}

/// Two are the same where the same text was found in the same file: builds have fractions, which
/// not everything can be asked about.
impl PartialEq for Theirs {
    fn eq(&self, other: &Self) -> bool {
        (&self.path, &self.whole, &self.held) == (&other.path, &other.whole, &other.held)
    }
}

impl Eq for Theirs {}

impl Theirs {
    /// Reads what was found.
    pub fn of(path: &Path, found: Found, held: Option<&Who>, catalogue: &Catalogue) -> Self {
        let name = text::name_of(path);
        let read = |whole: &str| -> Result<(Build, String, bool), String> {
            let inside = bundle::read(whole, &name).map_err(|error| error.to_string())?;
            let text = inside
                .as_ref()
                .map_or_else(|| whole.to_owned(), |bundle| bundle.build.clone());
            let build = build_file::read(&text, &name, catalogue);
            let build = build.map_err(|error| error.to_string())?;
            Ok((build, text, inside.is_some()))
        };
        let known = found
            .as_ref()
            .map_err(ToString::to_string)
            .and_then(|whole| read(whole));
        Self {
            path: path.to_owned(),
            bundle: known.as_ref().is_ok_and(|(_, _, bundle)| *bundle),
            build: known.map(|(build, text, _)| (build, text)),
            whole: found.unwrap_or_default(),
            held: held.map(Who::told),
        }
    }

    /// What differs, in sentences under headings; the first lines say all where there is nothing
    /// to list.
    pub fn told(&self, catalogue: &Catalogue, base: &Build, mine: &Build) -> Vec<Told> {
        let theirs = match &self.build {
            Ok((theirs, _)) => theirs,
            Err(why) => {
                return vec![Told::Heading(format!(
                    "What it holds now cannot be opened: {why}"
                ))];
            }
        };
        let all = rows(catalogue, base, mine, theirs);
        let mut told = Vec::new();
        for (by, heading) in [
            (By::Both, "Changed in the file and here:"),
            (By::There, "Changed in the file:"),
            (By::Here, "Changed here, and not saved:"),
        ] {
            let own: Vec<&Difference> = all.iter().filter(|one| one.by == by).collect();
            if !own.is_empty() {
                told.push(Told::Heading(heading.to_owned()));
                told.extend(own.into_iter().map(|one| Told::Row(one.told())));
            }
        }
        if told.is_empty() {
            let none = "It is the same build: only remarks or the order of lines differ.";
            told.push(Told::Heading(none.to_owned()));
        }
        told
    }
}

/// A line of what differs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Told {
    /// What the lines below have in common.
    Heading(String),
    /// One difference.
    Row(String),
}

/// Who changed something since the file was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum By {
    /// Whoever wrote the file.
    There,
    /// Whoever works here.
    Here,
    /// Both, to different things.
    Both,
}

/// One thing in which the two builds differ.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Difference {
    /// What it is.
    pub title: String,
    /// What the file has and what is here, where that can be said in short.
    pub values: Option<(String, String)>,
    /// Who changed it.
    pub by: By,
}

impl Difference {
    fn told(&self) -> String {
        match &self.values {
            Some((there, here)) => format!("{}: {there} in the file, {here} here", self.title),
            None => self.title.clone(),
        }
    }
}

/// Everything in which the build here and the one in the file differ, against the one that was
/// read.
pub fn rows(catalogue: &Catalogue, base: &Build, mine: &Build, theirs: &Build) -> Vec<Difference> {
    let mut rows = Vec::new();
    let one = |same_here: bool, same_there: bool| match (same_here, same_there) {
        (true, _) => By::There,
        (false, true) => By::Here,
        (false, false) => By::Both,
    };
    if mine.title != theirs.title {
        rows.push(Difference {
            title: "Name".to_owned(),
            values: Some((theirs.title.clone(), mine.title.clone())),
            by: one(mine.title == base.title, theirs.title == base.title),
        });
    }
    if mine.variant() == theirs.variant() {
        rows.extend(difference(mine, theirs).into_iter().map(|edit| {
            let [was, here, there] = [base, mine, theirs].map(|build| (edit.choice.get)(build));
            let said = |value| edit.choice.show_short(value, catalogue);
            Difference {
                title: edit.choice.title.to_owned(),
                values: Some((said(&there), said(&here))),
                by: one(here == was, there == was),
            }
        }));
    }
    let [here, there, between] = [(base, mine), (base, theirs), (mine, theirs)]
        .map(|(from, to)| besides_choices(catalogue, from, to));
    let of = |title: &String, by| Difference {
        title: title.clone(),
        values: None,
        by,
    };
    let in_both = |title: &&String| here.contains(title) && there.contains(title);
    // What both did alike is no difference.
    let both = there
        .iter()
        .filter(|title| in_both(title) && between.contains(title));
    rows.extend(both.map(|title| of(title, By::Both)));
    let alone = there.iter().filter(|title| !in_both(title));
    rows.extend(alone.map(|title| of(title, By::There)));
    let alone = here.iter().filter(|title| !in_both(title));
    rows.extend(alone.map(|title| of(title, By::Here)));
    rows
}

#[cfg(test)]
mod tests;
