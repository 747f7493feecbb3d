//! `gantrywright find FILE`: the cheapest build that does what is wanted, or the front of best
//! trades of money against one figure.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::options::{AnswerFormat, words};
use super::{BuildArgs, Failure, input, output, watch};
use crate::build::{Choice, choices};
use crate::catalogue::{Catalogue, Step};
use crate::explore::find::{self, Found, FoundBuild, Request, Target};
use crate::explore::reading::Measure;
use crate::store::kept::save_alone;
use crate::store::{FileError, build_file, text as files, visible};
use crate::words::Words as _;

mod as_csv;
mod as_json;
mod text;

const AFTER: &str = "\
Targets: rapids>=8 (m/min, of the slower of X and Y), rapids:Y>=8 (of one axis), \
stiffness>=5 (N/µm), removal>=20 (cm³/min), current<=12 (A), cost<=5000, width<=1200 and \
depth<=1300 (mm), cautions<=3 (warnings of that severity that nobody accepted and that follow from \
no other), cuts:aluminium-6082>=with-care, has:PART and without:PART. Put them in quotes: for a \
shell, > alone leads to a file. = says the same as >= or <=.

Every answer also has no danger and no fault that is not accepted. Without --free, all of drive, \
spindle and control is free that has a list of options, but for what protects people, wiring and \
settings; --also step:control frees the rest of a step too. Bought parts stay.

Exit codes: 0 found; 1 nothing fits; 2 the input cannot be used; 130 stopped by Ctrl-C, which \
prints the best so far and saves nothing.";

/// Finds the cheapest build that does what you want, among all that the free choices allow;
/// with --against, every build that no other one beats in both cost and that figure.
#[derive(Args, Debug)]
#[command(after_help = AFTER)]
pub(super) struct Find {
    /// The build; - reads it from standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// What the build must do, such as 'rapids>=8'; may be repeated, all must hold.
    #[arg(long, value_name = "TARGET", value_delimiter = ',')]
    want: Vec<String>,
    /// Trade cost against this figure.
    #[arg(long, value_name = "FIGURE", value_parser = words::<Measure>())]
    against: Option<Measure>,
    /// Free these choices and no others, by their ids with commas between; step:drive is all of a
    /// step.
    #[arg(long, value_name = "CHOICES", value_delimiter = ',', conflicts_with_all = ["also", "keep"])]
    free: Vec<String>,
    /// Free these choices as well.
    #[arg(long, value_name = "CHOICES", value_delimiter = ',')]
    also: Vec<String>,
    /// Keep these choices as they are.
    #[arg(long, value_name = "CHOICES", value_delimiter = ',')]
    keep: Vec<String>,
    /// Write the found build to this file; of several the one that --take names.
    #[arg(long, value_name = "OUT", value_hint = ValueHint::FilePath)]
    save: Option<PathBuf>,
    /// Which of the found builds is saved; 1 is the cheapest.
    #[arg(long, value_name = "N", requires = "save", default_value = "1", value_parser = clap::value_parser!(u32).range(1..))]
    take: u32,
    /// Replace a file that is there.
    #[arg(long, requires = "save")]
    force: bool,
    /// How it is written.
    #[arg(long, value_name = "FORMAT", value_parser = words::<AnswerFormat>(), default_value = "text")]
    format: AnswerFormat,
    /// Give up after so many million steps, and tell the best so far: a build that is assessed
    /// counts as 500. Without, it goes on until it is proven that nothing is better.
    #[arg(long, value_name = "MILLIONS", value_parser = clap::value_parser!(u64).range(1..))]
    effort: Option<u64>,
    /// Print JSON, as --format json.
    #[arg(long, conflicts_with = "format")]
    json: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Find) -> Result<ExitCode, Failure> {
    if let Some(path) = &args.save {
        output::not_over(path, args.force)?;
    }
    let read = input::assessed(&args.file, &args.common)?;
    let request = request(args, &read.catalogue)?;
    let bench = read.bench();
    let currency = read.assessment.bill.currency;
    let found = watch::watched(currency, |watch| find::find(&bench, &request, watch))?
        .map_err(|error| FileError::new(input::name_of(&args.file), error.to_string()))?;
    match (args.json, args.format) {
        (true, _) | (_, AnswerFormat::Json) => {
            output::answer_json(&as_json::found(&bench, &request, &found))?
        }
        (_, AnswerFormat::Csv) => output::answer_bytes(&as_csv::found(&bench, &found)?)?,
        (_, AnswerFormat::Text) => {
            let look = args.common.color.look();
            let page = text::Page {
                bench: &bench,
                request: &request,
                found: &found,
                paint: look.paint(),
            };
            output::answer_page(&page.text(), &look.speller(&read.catalogue))?
        }
    };
    if let Some(path) = &args.save {
        keep(args, path, &read, &found)?;
    }
    Ok(match (found.was_stopped(), found.answers.is_empty()) {
        (true, _) => ExitCode::from(watch::STOPPED),
        (false, true) => ExitCode::from(1),
        (false, false) => ExitCode::SUCCESS,
    })
}

/// What is looked for, as the command line says it.
fn request(args: &Find, catalogue: &Catalogue) -> Result<Request, Failure> {
    let targets = args.want.iter().map(|text| {
        Target::parse(text, catalogue).map_err(|error| Failure::new(format!("--want: {error}")))
    });
    let targets = targets.collect::<Result<Vec<_>, _>>()?;
    if args.against == Some(Measure::Cost) {
        let others = Measure::ALL.iter().filter(|one| **one != Measure::Cost);
        let others: Vec<&str> = others.map(|one| one.id()).collect();
        return Err(Failure::new(format!(
            "--against: cost is what the figure is traded for; expected one of {}",
            others.join(", ")
        )));
    }
    let mut free = match args.free.is_empty() {
        true => find::usual(catalogue),
        false => Vec::new(),
    };
    let named = [("--free", &args.free), ("--also", &args.also)];
    for (option, ids) in named {
        for choice in named_choices(option, ids, catalogue)? {
            if choice.options(catalogue).is_empty() {
                return Err(Failure::new(format!(
                    "{option}: {} has no list of options to go through; change it with --set, or \
                     take it over a range with weigh --sweep",
                    choice.id
                )));
            }
            if !free.iter().any(|known| known.id == choice.id) {
                free.push(choice);
            }
        }
    }
    for choice in named_choices("--keep", &args.keep, catalogue)? {
        free.retain(|known| known.id != choice.id);
    }
    if free.is_empty() {
        return Err(Failure::new("--keep: no choice is left that is free"));
    }
    Ok(Request {
        targets,
        against: args.against,
        free,
        effort: args
            .effort
            .map(|millions| millions.saturating_mul(1_000_000)),
    })
}

/// The choices of some ids; `step:drive` stands for all of a step that have a list of options.
fn named_choices(
    option: &str,
    ids: &[String],
    catalogue: &Catalogue,
) -> Result<Vec<&'static Choice>, Failure> {
    let failure = |error: &dyn std::fmt::Display| Failure::new(format!("{option}: {error}"));
    let mut named = Vec::new();
    for id in ids {
        match id.trim().strip_prefix("step:") {
            Some(step) => {
                let known = || {
                    Step::ALL
                        .iter()
                        .map(|one| one.id())
                        .collect::<Vec<_>>()
                        .join(", ")
                };
                let step = Step::from_id(step).ok_or_else(|| {
                    failure(&format!(
                        "there is no step {step}; expected one of {}",
                        known()
                    ))
                })?;
                let own = choices::all().iter().filter(|choice| choice.step == step);
                named.extend(own.filter(|choice| !choice.options(catalogue).is_empty()));
            }
            None => named.push(choices::find(id.trim()).map_err(|error| failure(&error))?),
        }
    }
    Ok(named)
}

/// Writes the found build that was named.
fn keep(args: &Find, path: &Path, read: &input::Assessed, found: &Found) -> Result<(), Failure> {
    let name = files::name_of(path);
    if found.cancelled {
        output::tell(format!("{name}: not saved, since it was stopped"));
        return Ok(());
    }
    let place = usize::try_from(args.take - 1).unwrap_or(usize::MAX);
    let Some(FoundBuild { build, .. }) = found.answers.get(place) else {
        if found.answers.is_empty() {
            output::tell(format!("{name}: not saved, since nothing fits"));
            return Ok(());
        }
        let many = match found.answers.len() {
            1 => "1 build was found".to_owned(),
            many => format!("{many} builds were found"),
        };
        return Err(Failure::new(format!("--take {}: {many}", args.take)));
    };
    let text = build_file::saved(Some(&read.text), build, &read.catalogue, read.today);
    let bundle = read.bundle.as_ref();
    save_alone(
        path,
        &bundle.map_or(text.clone(), |bundle| bundle.with_build(&text)),
    )?;
    output::tell(format!("{}: build {} saved", visible(&name), args.take));
    Ok(())
}
