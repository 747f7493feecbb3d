//! `gantrywright [FILE]`: the screen, or with `--plain` the talk line by line.

use std::io::IsTerminal as _;
use std::path::Path;
use std::process::ExitCode;

use super::color::ColorArgs;
use super::{BuildArgs, Edits, Failure, Overlays, color, input, plain};
use crate::build::Build;
use crate::screen::{self, Open, Session, Ways, Wishes};
use crate::store::{FileError, text};

/// Opens a file, or a new build.
pub(super) fn run(
    file: Option<&Path>,
    args: &BuildArgs,
    is_plain: bool,
) -> Result<ExitCode, Failure> {
    if is_plain {
        let recover = |path: &Path| unchanged(path, &args.overlays, args.color);
        return plain::run(opened(file, args)?, args.color, &recover);
    }
    let open = |path: &Path| opened(Some(path), args).map_err(|error| error.to_string());
    show_and(opened(file, args)?, args.color, &args.overlays, &open)
}

/// What a file begins with, without changes of the command line.
pub(super) fn unchanged(
    file: &Path,
    overlays: &Overlays,
    color: ColorArgs,
) -> Result<Session, String> {
    let args = BuildArgs {
        edits: Edits::default(),
        overlays: overlays.clone(),
        color,
    };
    opened(Some(file), &args).map_err(|error| error.to_string())
}

/// What a file, or a new build, begins with.
fn opened(file: Option<&Path>, args: &BuildArgs) -> Result<Session, Failure> {
    let (today, color) = (input::today()?, args.color.wish());
    let mut session = match file {
        None => {
            let catalogue = input::catalogue(&args.overlays)?;
            Session::new(catalogue, Build::default(), today, color)
        }
        Some(file) if input::is_standard_input(file) => {
            let message = "standard input is needed for keys and answers; `gantrywright assess -` reads a build from it";
            return Err(Failure::new(message));
        }
        Some(file) if text::is_missing(file) => return Err(missing(file)),
        Some(file) => {
            let opened = input::open_quietly(file, &args.overlays)?;
            let loaded = opened.loaded;
            let session = Session::new(opened.catalogue, loaded.build.clone(), today, color);
            Session {
                path: Some(file.to_owned()),
                ..session.read_from(loaded.text, loaded.build, opened.bundle)
            }
        }
    };
    input::apply(&args.edits, &mut session.build, &session.catalogue)?;
    Ok(session)
}

/// Shows a session on the terminal, if there is one; its build is no file of last time.
pub(super) fn show(
    session: Session,
    color: ColorArgs,
    overlays: &Overlays,
) -> Result<ExitCode, Failure> {
    let elsewhere = "leave this build first, and begin gantrywright without a file";
    show_and(session, color, overlays, &|_| Err(elsewhere.to_owned()))
}

fn show_and(
    session: Session,
    color: ColorArgs,
    overlays: &Overlays,
    open: Open,
) -> Result<ExitCode, Failure> {
    let why = if !std::io::stdin().is_terminal() || !std::io::stdout().is_terminal() {
        "standard input and output are not a terminal"
    } else if color::is_dumb() {
        "this terminal can only print (TERM=dumb)"
    } else {
        let wishes = Wishes {
            folders: overlays.configs.clone(),
            ..color.shown.wishes()
        };
        let recover = |path: &Path| unchanged(path, overlays, color);
        let ways = Ways {
            open,
            recover: &recover,
        };
        return Ok(screen::run(session, wishes, ways));
    };
    Err(Failure::new(format!(
        "the screen cannot open: {why}; `gantrywright --plain FILE` talks line by line, and `gantrywright assess FILE` prints the same figures"
    )))
}

fn missing(file: &Path) -> Failure {
    let message = "there is no such file; to begin a new build, run `gantrywright` alone and save it under this name";
    FileError::new(input::name_of(file), message).into()
}
