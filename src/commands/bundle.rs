//! `gantrywright bundle`: a build with its parts and prices in one file, for another machine.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::{Failure, Overlays, input, output};
use crate::store::kept::save_alone;
use crate::store::{build_file, bundle, library, text, visible};

const AFTER: &str = "\
A bundle holds the build and every file of parts and prices from your configuration folder and \
from --configs, and opens like a build file. There your own folder is left out, so that totals are \
the same to the cent wherever it is opened; folders named with --configs still come on top. \
Look at what you give away: offers, payments and remarks are in it.";

/// Puts a build and the parts and prices that its figures rest on into one file.
#[derive(Args, Debug)]
#[command(after_help = AFTER)]
pub(super) struct Bundle {
    /// The build; - reads it from standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// The bundle to write.
    #[arg(long, short, value_name = "PATH", value_hint = ValueHint::FilePath)]
    output: PathBuf,
    /// Replace a file that is there.
    #[arg(long)]
    force: bool,
    /// The variant that opens there, instead of the one that the build's file opens; all of
    /// them are in the bundle.
    #[arg(long, value_name = "NAME")]
    pub(super) variant: Option<String>,
    #[command(flatten)]
    pub(super) overlays: Overlays,
}

pub(super) fn run(args: &Bundle) -> Result<ExitCode, Failure> {
    let path = &args.output;
    output::not_over(path, args.force)?;
    let name = input::name_of(&args.file);
    let mut text = input::read(&args.file)?;
    let layers = library::layers(&library::folders(&args.overlays.configs))?;
    let mut written = bundle::write(&text, &name, &layers)?;
    // What cannot be opened here cannot be opened elsewhere.
    let catalogue = library::over_built_in(layers.clone())?;
    let mut build = build_file::read(&text, &name, &catalogue)?;
    if args.variant.is_some() {
        input::take_variant(args.variant.as_deref(), &mut build)?;
        text = build_file::write(Some(&text), &build);
        written = bundle::write(&text, &name, &layers)?;
    }
    save_alone(path, &written)?;
    let mut said = format!("{} holds the build and ", visible(&text::name_of(path)));
    let files: Vec<&library::Overlay> = layers.iter().flatten().collect();
    match files.len() {
        0 => said.push_str("no parts or prices of your own.\n"),
        1 => said.push_str("1 file of your own parts and prices:\n"),
        many => {
            let _ = writeln!(said, "{many} files of your own parts and prices:");
        }
    }
    for file in files {
        let _ = writeln!(said, "  {}", visible(&file.inside));
    }
    output::answer(&said)
}
