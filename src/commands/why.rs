//! `gantrywright why FILE FIGURE`: how a figure came about, or the list of all figures.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::{BuildArgs, Failure, input, output};
use crate::assessment::figures::{self, FigureAt, Meets};
use crate::assessment::{self, json};
use crate::build::nearest;
use crate::explain::Notes;
use crate::store::FileError;
use family::Family;

mod as_json;
mod family;
pub(super) mod text;

/// Prints why a figure is what it is: the formula in words and in symbols, what went in and
/// where that comes from, the source, and where the model ends.
#[derive(Args, Debug)]
pub(super) struct Why {
    /// The build; - reads it from standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// The figure by its path in the JSON of assess, such as axes.X.rapid_m_per_min; a group
    /// such as axes.X lists the figures in it. Without one, lists every figure.
    #[arg(value_name = "FIGURE")]
    figure: Option<String>,
    /// Explain all figures behind the figure as well, however many.
    #[arg(long)]
    deep: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Why) -> Result<ExitCode, Failure> {
    let input::Opened {
        catalogue, loaded, ..
    } = input::open(&args.file, &args.common.overlays)?;
    let mut build = loaded.build;
    input::apply(&args.common.edits, &mut build, &catalogue)?;
    let (assessment, notes) = assessment::explain(&catalogue, &build, input::today()?)
        .map_err(|error| FileError::new(input::name_of(&args.file), error.to_string()))?;
    let known = known(&json::json(&build, &assessment, &[]), &notes);
    let asked = args.figure.as_deref().unwrap_or_default();
    // Formulas and their figures stay metric.
    let look = args.common.color.look();
    let speller = || look.speller(&catalogue).metric();
    match find(&known, asked)? {
        Found::One(figure) => {
            let path = figure.path();
            let Some(family) = Family::of(&notes, &path, args.deep) else {
                return Err(Failure::new(format!(
                    "{path}: nothing is noted on how this figure comes about"
                )));
            };
            if args.json {
                return output::answer_json(&as_json::family(&family, &catalogue));
            }
            let page = text::family(&family, &catalogue, look.paint());
            output::answer_page(&page, &speller())
        }
        Found::Group(figures) if args.json => output::answer_json(&as_json::list(&figures, &notes)),
        Found::Group(figures) => {
            output::answer_page(&text::list(asked, &figures, &notes), &speller())
        }
    }
}

/// What a path leads to.
pub(super) enum Found<'f> {
    One(&'f FigureAt),
    Group(Vec<&'f FigureAt>),
}

/// Every figure of the JSON, and behind them those that only other derivations name.
pub(super) fn known(json: &serde_json::Value, notes: &Notes) -> Vec<FigureAt> {
    let mut known = figures::all(json);
    let shown: std::collections::HashSet<String> = known.iter().map(FigureAt::path).collect();
    let beside = notes.all().filter(|note| !shown.contains(&note.path));
    known.extend(beside.map(|note| FigureAt::beside(&note.path)));
    known
}

/// The figure at a path, or the group of figures below it.
pub(super) fn find<'f>(known: &'f [FigureAt], asked: &str) -> Result<Found<'f>, Failure> {
    let met = |wanted: Meets| {
        known
            .iter()
            .filter(move |figure| figure.meets(asked) == wanted)
    };
    if let Some(figure) = met(Meets::Whole).next() {
        return Ok(Found::One(figure));
    }
    let group: Vec<&FigureAt> = met(Meets::Group).collect();
    if !group.is_empty() {
        return Ok(Found::Group(group));
    }
    let paths: Vec<String> = known
        .iter()
        .flat_map(|figure| [figure.path(), figure.numbered()])
        .collect();
    let hint = nearest::hint(asked, paths.iter().map(String::as_str));
    let list = match hint.is_empty() {
        true => "; `gantrywright why FILE` lists them all",
        false => "",
    };
    Err(Failure::new(format!(
        "there is no figure {asked:?}{hint}{list}"
    )))
}

#[cfg(test)]
mod tests;
