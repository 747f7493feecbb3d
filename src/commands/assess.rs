//! `gantrywright assess FILE`: figures and findings, for people or as JSON.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::{BuildArgs, Failure, input, output};
use crate::assessment;
use crate::explore::remedy;
use crate::store::FileError;

mod text;

/// Prints what a build costs and does, and what is wrong with it.
#[derive(Args, Debug)]
pub(super) struct Assess {
    /// The build; - reads it from standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Assess) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.common.overlays)?;
    let mut build = input::load(&args.file, &catalogue)?.build;
    input::apply(&args.common.edits, &mut build, &catalogue)?;
    let today = input::today()?;
    let assessment = assessment::assess(&catalogue, &build, today)
        .map_err(|error| FileError::new(input::name_of(&args.file), error.to_string()))?;
    let remedies = remedy::all(&catalogue, &build, &assessment, today);
    if args.json {
        output::answer_json(&assessment::json::json(&build, &assessment, &remedies))?;
    } else {
        output::answer(&text::text(
            &catalogue,
            &build,
            &assessment,
            &remedies,
            args.common.color.paint(),
        ))?;
    }
    Ok(if assessment.is_unsound() {
        ExitCode::from(1)
    } else {
        ExitCode::SUCCESS
    })
}
