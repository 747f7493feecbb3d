//! `gantrywright picture`: the screen as an SVG picture.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Args;

use super::{BuildArgs, Failure, input, output};
use crate::screen::{Session, key::Key, picture};
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
    #[arg(long, value_name = "KEY,KEY", value_delimiter = ',', value_parser = key)]
    keys: Vec<Key>,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Picture) -> Result<ExitCode, Failure> {
    let name = args.build.to_string_lossy();
    let (catalogue, mut build, original, bundle) = match examples::find(&name) {
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
    input::apply(&args.common.edits, &mut build, &catalogue)?;
    let session = Session {
        catalogue,
        build,
        path: None,
        original: Some(original),
        bundle,
        today: input::today()?,
        color: args.common.color.wish(),
    };
    let (width, height) = args.size;
    output::answer(&picture::svg(session, width, height, &args.keys).map_err(Failure::new)?)
}

fn size(text: &str) -> Result<(u16, u16), String> {
    let wrong = || format!("{text:?} is not a size: expected COLUMNSxROWS, such as 80x24");
    let (width, height) = text.split_once('x').ok_or_else(wrong)?;
    match (width.parse(), height.parse()) {
        (Ok(width @ 20..=400), Ok(height @ 5..=200)) => Ok((width, height)),
        _ => Err(wrong()),
    }
}

fn key(text: &str) -> Result<Key, String> {
    let mut letters = text.chars();
    match (text, letters.next(), letters.next()) {
        ("up", ..) => Ok(Key::Up),
        ("down", ..) => Ok(Key::Down),
        ("left", ..) => Ok(Key::Left),
        ("right", ..) => Ok(Key::Right),
        ("enter", ..) => Ok(Key::Enter),
        ("esc", ..) => Ok(Key::Esc),
        ("tab", ..) => Ok(Key::Tab),
        (_, Some(letter), None) => Ok(Key::Char(letter)),
        _ => Err(format!(
            "{text:?} is not a key: expected a character or up, down, left, right, enter, esc, tab"
        )),
    }
}
