//! Build files of older formats: how one becomes a file of today's, step by step, and how the old
//! one is kept.
//!
//! A format is the number at the top of a file. It grows by one where files change so that an
//! older program would misread them, or this one the older files; a new choice or section is no
//! reason. Whoever makes format 2 writes one function that turns a document of format 1 into one
//! of format 2 and puts it at the end of [`STEPS`]; the number follows by itself. Samples of each
//! format stand in `tests/formats/`, with what they must go on to say.
//!
//! So far there is one format, and no step.

use std::borrow::Cow;
use std::path::{Path, PathBuf};

use toml_edit::{DocumentMut, Item};

use super::FORMAT;
use crate::store::bundle;
use crate::store::text::{is_missing, name_of, read};
use crate::store::{FileError, save};

/// Turns a document of one format into one of the next, or says why it cannot.
pub(super) type Step = fn(&mut DocumentMut) -> Result<(), String>;

/// The first step leads from [`OLDEST`] to the next format, and so on.
const STEPS: &[Step] = &[];

/// The oldest format that is read.
pub(super) const OLDEST: u32 = 1;

/// The newest format: that of the last step.
pub(super) const fn newest() -> u32 {
    OLDEST + STEPS.len() as u32
}

/// The text of an older file as one of today's format; the text itself where it is no older one.
///
/// # Errors
/// Where a step cannot be made: says which.
pub(super) fn lifted(text: &str) -> Result<Cow<'_, str>, String> {
    lifted_by(text, STEPS)
}

/// Keeps the file that is about to be replaced by one of today's format, where it is older:
/// under its own name with its format in front of the ending.
///
/// # Errors
/// Where the copy cannot be written; the file must then not be replaced.
pub(super) fn keep(path: &Path) -> Result<Option<PathBuf>, FileError> {
    keep_before(path, FORMAT)
}

fn lifted_by<'t>(text: &'t str, steps: &[Step]) -> Result<Cow<'t, str>, String> {
    if steps.is_empty() {
        return Ok(Cow::Borrowed(text));
    }
    let Some((format, mut document)) = document(text) else {
        return Ok(Cow::Borrowed(text));
    };
    let made = usize::try_from(format.saturating_sub(OLDEST)).unwrap_or(usize::MAX);
    if format < OLDEST || made >= steps.len() {
        return Ok(Cow::Borrowed(text));
    }
    for (step, format) in steps.iter().skip(made).zip(format..) {
        let next = format + 1;
        step(&mut document).map_err(|why| {
            format!("this file of format {format} cannot become one of format {next}: {why}")
        })?;
        if let Some(Item::Value(old)) = document.get_mut("format") {
            let decor = old.decor().clone();
            *old = i64::from(next).into();
            *old.decor_mut() = decor;
        }
    }
    Ok(Cow::Owned(document.to_string()))
}

fn document(text: &str) -> Option<(u32, DocumentMut)> {
    let document: DocumentMut = text.parse().ok()?;
    let format = document.get("format")?.as_integer()?;
    Some((u32::try_from(format).ok()?, document))
}

fn keep_before(path: &Path, newest: u32) -> Result<Option<PathBuf>, FileError> {
    if is_missing(path) {
        return Ok(None);
    }
    // What cannot be read as a build is none of an older format.
    let Ok(text) = read(path) else {
        return Ok(None);
    };
    let name = name_of(path);
    let inner = bundle::read(&text, &name).ok().flatten();
    let build = inner.as_ref().map_or(text.as_str(), |bundle| &bundle.build);
    let Some((format, _)) = document(build).filter(|(format, _)| *format < newest) else {
        return Ok(None);
    };
    let kept = path.with_extension(format!("format{format}.toml"));
    if is_missing(&kept) {
        save(&kept, &text)?;
    } else if read(&kept).ok().as_ref() != Some(&text) {
        let message = format!(
            "not saved: this file of format {format} would be kept as {}, which is there already; save under another name",
            name_of(&kept)
        );
        return Err(FileError::new(name, message));
    }
    Ok(Some(kept))
}

#[cfg(test)]
mod tests;
