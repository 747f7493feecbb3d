//! `gantrywright picture`: the screen as an SVG picture.

use std::ops::RangeInclusive;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::{BuildArgs, Failure, input, output};
use crate::screen::{Session, key::Key, screenshot};
use crate::store::examples;

/// Prints a picture of the screen, as SVG.
#[derive(Args, Debug)]
pub(super) struct Picture {
    /// The build file, or the name of an example.
    #[arg(value_name = "FILE")]
    build: PathBuf,
    /// Columns and rows.
    #[arg(long, value_name = "COLUMNSxROWS", default_value = "120x40", value_parser = size)]
    size: (u16, u16),
    /// Keys pressed before the picture is taken, between commas: characters, and the names
    /// up, down, left, right, enter, esc, tab.
    #[arg(long, value_name = "KEY,KEY", value_delimiter = ',', value_parser = Key::named)]
    keys: Vec<Key>,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Picture) -> Result<ExitCode, Failure> {
    let name = args.build.to_string_lossy();
    let (catalogue, build, text, bundle) = match examples::find(&name) {
        Ok(example) => {
            let catalogue = input::catalogue(&args.common.overlays)?;
            let build = example.build(&catalogue)?;
            (catalogue, build, example.text().to_owned(), None)
        }
        Err(_) => {
            let opened = input::open(&args.build, &args.common.overlays)?;
            let loaded = opened.loaded;
            (opened.catalogue, loaded.build, loaded.text, opened.bundle)
        }
    };
    let (today, color) = (input::today()?, args.common.color.wish());
    let session = Session::new(catalogue, build.clone(), today, color);
    let mut session = session.read_from(text, build, bundle);
    input::apply(&args.common.edits, &mut session.build, &session.catalogue)?;
    let (width, height) = args.size;
    output::answer(&screenshot::svg(session, width, height, &args.keys).map_err(Failure::new)?)
}

/// The sizes that a picture may have, in columns and rows.
const SIZES: (RangeInclusive<u16>, RangeInclusive<u16>) = (20..=400, 5..=200);

fn size(text: &str) -> Result<(u16, u16), String> {
    let (columns, rows) = SIZES;
    let wrong = || {
        format!(
            "{text:?} is not a size: expected COLUMNSxROWS from {}x{} to {}x{}, such as 80x24",
            columns.start(),
            rows.start(),
            columns.end(),
            rows.end()
        )
    };
    let (width, height) = text.split_once('x').ok_or_else(wrong)?;
    match (width.parse::<u16>(), height.parse::<u16>()) {
        (Ok(width), Ok(height)) if columns.contains(&width) && rows.contains(&height) => {
            Ok((width, height))
        }
        _ => Err(wrong()),
    }
}
