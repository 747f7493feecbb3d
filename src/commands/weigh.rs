//! `gantrywright weigh FILE`: what every free choice does for its money, or one over a range.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::options::{AnswerFormat, words};
use super::{BuildArgs, Failure, input, output};
use crate::build::{Choice, choices};
use crate::explore::reading::Measure;
use crate::explore::weigh::{Weighed, Weighing};
use crate::explore::{sweep, weigh};

mod as_csv;
mod as_json;
mod swept;
mod text;

const AFTER: &str = "\
Without --choices, all of drive, spindle, control and frame is weighed; with it, every option of \
those is told. Bought parts are fixed. A range: --sweep travel_x_mm=400..1200/16. A choice alone \
goes through its options, or from half of what is chosen to twice as much: --sweep supply.";

/// Shows what matters most: what every free choice does for its money, one at a time, to cost,
/// rapids, stiffness, removal and mains current; or what one choice does over a range.
#[derive(Args, Debug)]
#[command(after_help = AFTER)]
pub(super) struct Weigh {
    /// The build; - reads it from standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// By what the choices are sorted.
    #[arg(long, value_name = "FIGURE", value_parser = words::<Measure>(), default_value = "stiffness")]
    by: Measure,
    /// Only these choices, by their ids with commas between.
    #[arg(long, value_name = "CHOICES", value_delimiter = ',')]
    choices: Vec<String>,
    /// Take one choice over a range instead, in even steps, or through its options.
    #[arg(long, value_name = "CHOICE[=FROM..TO[/STEPS]]", conflicts_with_all = ["choices", "by"])]
    sweep: Option<String>,
    /// How it is written.
    #[arg(long, value_name = "FORMAT", value_parser = words::<AnswerFormat>(), default_value = "text")]
    format: AnswerFormat,
    /// Print JSON, as --format json.
    #[arg(long, conflicts_with = "format")]
    json: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Weigh) -> Result<ExitCode, Failure> {
    let read = input::assessed(&args.file, &args.common)?;
    let bench = read.bench();
    let look = args.common.color.look();
    let paint = look.paint();
    let print = |page: &str| output::answer_page(page, &look.speller(&read.catalogue));
    let format = if args.json {
        AnswerFormat::Json
    } else {
        args.format
    };
    if let Some(range) = &args.sweep {
        let (choice, values) = sweep::parse(range, &bench)
            .map_err(|error| Failure::new(format!("--sweep: {error}")))?;
        let swept = sweep::sweep(&bench, choice, values);
        return match format {
            AnswerFormat::Text => print(&swept::text(&swept, &bench, paint)),
            AnswerFormat::Csv => output::answer_bytes(&as_csv::swept(&swept)?),
            AnswerFormat::Json => output::answer_json(&as_json::swept(&swept)),
        };
    }
    let asked = asked(&args.choices)?;
    let narrowed = !args.choices.is_empty();
    let weighing = weigh::weigh(&bench, &asked);
    match format {
        AnswerFormat::Text if narrowed => print(&text::options(&weighing, bench.catalogue, paint)),
        AnswerFormat::Text => print(&text::ranked(&weighing, bench.catalogue, args.by, paint)),
        AnswerFormat::Csv => {
            output::answer_bytes(&as_csv::weighed(&weighing, bench.catalogue, args.by)?)
        }
        AnswerFormat::Json => {
            output::answer_json(&as_json::weighed(&weighing, bench.catalogue, args.by))
        }
    }
}

/// The choices to weigh: those named, else all free ones.
fn asked(ids: &[String]) -> Result<Vec<&'static Choice>, Failure> {
    if ids.is_empty() {
        return Ok(weigh::free().collect());
    }
    let each = ids.iter().map(|id| {
        choices::find(id.trim()).map_err(|error| Failure::new(format!("--choices: {error}")))
    });
    each.collect()
}

/// The choices that move a measure as they are ranked by it, then all others.
fn order(weighing: &Weighing, by: Measure) -> Vec<&Weighed> {
    let mut rows = weighing.ranked(by);
    let rest = weighing
        .rows
        .iter()
        .filter(|row| !rows.iter().any(|known| std::ptr::eq(*known, *row)));
    let rest: Vec<&Weighed> = rest.collect();
    rows.extend(rest);
    rows
}
