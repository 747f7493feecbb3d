//! `gantrywright sheet`: what is ordered by, sawn by, wired by and hung on the wall.

use std::io::IsTerminal as _;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::options::words;
use super::{BuildArgs, Failure, input, output};
use crate::sheets::{self, Format, SheetKind};
use crate::store::{save, text};
use crate::words::Words as _;

const AFTER: &str = "\
The dossier is all sheets in one; as HTML it has pictures besides. Without --format the ending \
of --output decides, else it is text. A file that is there already is only replaced with --force.";

/// Writes a sheet for the workshop: parts, cuts, wiring and so on.
#[derive(Args, Debug)]
#[command(after_help = AFTER)]
pub(super) struct Sheet {
    /// The build file; - for standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// Which sheet.
    #[arg(value_name = "KIND", value_parser = words::<SheetKind>())]
    kind: SheetKind,
    /// How it is written.
    #[arg(long, value_name = "FORMAT", value_parser = words::<Format>())]
    format: Option<Format>,
    /// The file to write to, instead of standard output.
    #[arg(long, short, value_name = "PATH", value_hint = ValueHint::FilePath)]
    output: Option<PathBuf>,
    /// Replace a file that is there.
    #[arg(long)]
    force: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Sheet) -> Result<ExitCode, Failure> {
    let format = format(args)?;
    let assessed = input::assessed(&args.file, &args.common)?;
    let fail = |error: String| Failure::new(format!("{}: {error}", input::name_of(&args.file)));
    let look = args.common.color.look();
    let speller = match args.output {
        // What goes into a file is the same whatever language the terminal speaks.
        Some(_) => look.speller_of_files(&assessed.catalogue),
        None => look.speller(&assessed.catalogue),
    };
    let written = sheets::on_paper(&assessed.bench(), |paper| {
        sheets::written(args.kind, format, paper, &speller)
    });
    let bytes = written
        .map_err(|error| fail(error.to_string()))?
        .map_err(|error| fail(error.to_string()))?;
    let Some(path) = &args.output else {
        return to_standard_output(format, bytes);
    };
    output::not_over(path, args.force)?;
    save::bytes(path, &bytes)?;
    Ok(ExitCode::SUCCESS)
}

/// The format that was named, or that the file's ending means.
fn format(args: &Sheet) -> Result<Format, Failure> {
    if let Some(format) = args.format {
        return Ok(format);
    }
    let Some(path) = &args.output else {
        return Ok(Format::Text);
    };
    Format::of_path(path).ok_or_else(|| {
        let known: Vec<&str> = Format::WORDS.iter().map(|word| word.id).collect();
        let message = format!(
            "its ending names no format; add --format with one of {}",
            known.join(", ")
        );
        Failure::new(format!("{}: {message}", text::name_of(path)))
    })
}

fn to_standard_output(format: Format, bytes: Vec<u8>) -> Result<ExitCode, Failure> {
    let terminal = std::io::stdout().is_terminal();
    if format == Format::Xlsx && terminal {
        let message = "a workbook is no text for a terminal; add --output parts.xlsx";
        return Err(Failure::new(message));
    }
    if format == Format::Text && terminal {
        // A terminal has no pages.
        let text = String::from_utf8_lossy(&bytes).replace('\u{c}', "\n");
        return output::answer(&text);
    }
    output::answer_bytes(&bytes)
}
