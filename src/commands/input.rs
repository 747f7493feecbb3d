//! What the commands that read a build have in common: catalogue, build, edits and the day.

use std::path::Path;

use jiff::civil::Date;

use super::{Edits, Failure, Overlays};
use crate::build::{Build, Edit};
use crate::catalogue::Catalogue;
use crate::store::build_file::{self, Loaded};
use crate::store::{library, text};

/// The day to reckon with, where it is not today.
const TODAY: &str = "GANTRYWRIGHT_TODAY";

/// The catalogue with the user's layers.
pub(super) fn catalogue(overlays: &Overlays) -> Result<Catalogue, Failure> {
    Ok(library::load(&library::folders(&overlays.configs))?)
}

/// Whether a file name means standard input.
pub(super) fn is_standard_input(file: &Path) -> bool {
    file.as_os_str() == "-"
}

/// The build of a file or of standard input.
pub(super) fn load(file: &Path, catalogue: &Catalogue) -> Result<Loaded, Failure> {
    Ok(if is_standard_input(file) {
        build_file::load_standard_input(catalogue)?
    } else {
        build_file::load(file, catalogue)?
    })
}

/// How messages call a file.
pub(super) fn name_of(file: &Path) -> String {
    if is_standard_input(file) {
        text::STANDARD_INPUT.to_owned()
    } else {
        text::name_of(file)
    }
}

/// Makes the changes that the command line asks for.
pub(super) fn apply(
    edits: &Edits,
    build: &mut Build,
    catalogue: &Catalogue,
) -> Result<(), Failure> {
    for pair in &edits.set {
        Edit::parse_pair(pair, catalogue, build)
            .map_err(|error| Failure::new(format!("--set: {error}")))?
            .apply(build);
    }
    if let Some(machines) = edits.machines {
        Edit::parse("machines", &machines.to_string(), catalogue)
            .map_err(|error| Failure::new(format!("--machines: {error}")))?
            .apply(build);
    }
    // A change of site may leave the budget's currency without a rate.
    build_file::check_money(build, catalogue)
        .map_err(|message| Failure::new(format!("--set: {message}")))
}

/// The day: today where the user is, unless the environment names another.
pub(super) fn today() -> Result<Date, Failure> {
    match std::env::var(TODAY) {
        Ok(day) if !day.is_empty() => day.parse().map_err(|_| {
            Failure::new(format!(
                "{TODAY}: {day:?} is not a day; expected one such as 2026-11-30"
            ))
        }),
        _ => Ok(jiff::ZonedDateTime::now().date()),
    }
}
