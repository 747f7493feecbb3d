//! `gantrywright ask FILE [QUESTION]`: what builders ask most, answered for one build.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::{BuildArgs, Failure, input, output};
use crate::explore::question;

pub(super) mod as_json;
mod text;

/// Answers what builders ask most: each way to go with its cost, rapids, stiffness, removal
/// and mains current before and after, and the warnings that it brings and lifts.
#[derive(Args, Debug)]
pub(super) struct Ask {
    /// The build; - reads it from standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// The question by its id. Without one, lists every question.
    #[arg(value_name = "QUESTION")]
    question: Option<String>,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Ask) -> Result<ExitCode, Failure> {
    let read = input::assessed(&args.file, &args.common)?;
    let look = args.common.color.look();
    let Some(id) = &args.question else {
        return match args.json {
            true => output::answer_json(&as_json::list()),
            false => output::answer(&text::list(look.paint())),
        };
    };
    let asked = question::find(id).map_err(Failure::new)?;
    let bench = read.bench();
    let answer = asked.answer(&bench);
    match args.json {
        true => output::answer_json(&as_json::answer(asked, &bench, &answer)),
        false => {
            let page = text::answer(asked, &bench, &answer, look.paint());
            output::answer_page(&page, &look.speller(&read.catalogue))
        }
    }
}
