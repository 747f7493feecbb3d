//! `gantrywright demo`: the example builds.

use std::path::Path;
use std::process::ExitCode;

use clap::Args;

use super::{BuildArgs, Failure, input, layout, open, output, plain};
use crate::screen::Session;
use crate::store::examples::{self, Example};

/// Opens an example build on the screen; nothing is written unless saved elsewhere.
#[derive(Args, Debug)]
pub(super) struct Demo {
    /// The example; without one, the first of the list.
    #[arg(value_name = "NAME")]
    name: Option<String>,
    /// List the examples.
    #[arg(long, conflicts_with_all = ["name", "print"])]
    list: bool,
    /// Print the example's build file instead of opening it.
    #[arg(long)]
    print: bool,
    /// Talk line by line instead of opening the screen.
    #[arg(long, conflicts_with_all = ["list", "print"])]
    pub(super) plain: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Demo) -> Result<ExitCode, Failure> {
    if args.list {
        return list(args);
    }
    let example = match &args.name {
        Some(name) => examples::find(name).map_err(Failure::new)?,
        None => examples::all()
            .into_iter()
            .next()
            .ok_or_else(|| Failure::new("this program was built without examples"))?,
    };
    if args.print {
        return output::answer(example.text());
    }
    show(example, args)
}

fn show(example: Example, args: &Demo) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.common.overlays)?;
    let build = example.build(&catalogue)?;
    let mut session = Session::new(
        catalogue,
        build.clone(),
        input::today()?,
        args.common.color.wish(),
    )
    .read_from(example.text().to_owned(), build, None);
    input::apply(&args.common.edits, &mut session.build, &session.catalogue)?;
    match args.plain {
        true => {
            let common = &args.common;
            let recover = |path: &Path| open::unchanged(path, &common.overlays, common.color);
            plain::run(session, common.color, &recover)
        }
        false => open::show(session, args.common.color, &args.common.overlays),
    }
}

fn list(args: &Demo) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.common.overlays)?;
    let mut text = String::new();
    for example in examples::all() {
        let build = example.build(&catalogue)?;
        text.push_str(&layout::hanging(example.name, 20, &build.title));
        text.push_str(&layout::hanging("", 20, &build.note));
    }
    output::answer(&text)
}
