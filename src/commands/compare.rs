//! `gantrywright compare`: builds, or variants of one, side by side.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, ValueHint};
use unicode_width::UnicodeWidthStr as _;

use super::color::Paint;
use super::{BuildArgs, Failure, input, layout, output};
use crate::assessment::{Assessment, assess};
use crate::build::Build;
use crate::catalogue::Catalogue;
use crate::explore::compare::{Comparison, Contender, LEAST, MOST, compare, json};
use crate::screen::side_by_side::{LineKind, lines};
use crate::store::{FileError, visible};
use crate::units::respell::Speller;

const AFTER: &str = "\
Two to four files, or one file whose variants are compared: all of them, or those named \
with --variants. Warnings are new or gone against the first one, or against the pinned \
baseline. Everything is computed anew; nothing is saved.";

/// Puts two to four builds, or variants of one, side by side.
#[derive(Args, Debug)]
#[command(after_help = AFTER)]
pub(super) struct Compare {
    /// The builds; one alone is compared with its own variants. One of them may be - for
    /// standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath, required = true, num_args = 1..=MOST)]
    files: Vec<PathBuf>,
    /// The variants of the one file, with commas between them; main is the main build.
    #[arg(long, value_name = "NAME,NAME", value_delimiter = ',')]
    variants: Vec<String>,
    /// Show what is equal too.
    #[arg(long)]
    all: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

/// A build that is compared, with all that belongs to it.
struct Entry {
    name: String,
    catalogue: Catalogue,
    build: Build,
    assessment: Assessment,
}

pub(super) fn run(args: &Compare) -> Result<ExitCode, Failure> {
    let (entries, against, left_out) = match args.files.as_slice() {
        [file] => variants(args, file)?,
        files => (of_files(args, files)?, 0, Vec::new()),
    };
    let contenders: Vec<Contender> = entries.iter().map(Entry::contender).collect();
    let comparison = compare(&contenders, against);
    if args.json {
        return output::answer_json(&json(&comparison, args.all));
    }
    let catalogue = entries.first().map(|entry| &entry.catalogue);
    let look = args.common.color.look();
    let speller = catalogue.map_or_else(Speller::default, |one| look.speller(one));
    let ink = (look.paint(), &speller);
    let page = text(args, &entries, &comparison, &left_out, ink);
    output::answer_page(&page, &speller)
}

impl Entry {
    fn contender(&self) -> Contender<'_> {
        Contender {
            name: &self.name,
            catalogue: &self.catalogue,
            build: &self.build,
            assessment: &self.assessment,
        }
    }
}

fn of_files(args: &Compare, files: &[PathBuf]) -> Result<Vec<Entry>, Failure> {
    if !args.variants.is_empty() {
        let message = "--variants: name one file; of several files, each is taken as it opens";
        return Err(Failure::new(message));
    }
    let pipes = files.iter().filter(|file| input::is_standard_input(file));
    if pipes.count() > 1 {
        return Err(Failure::new("only one build can come from standard input"));
    }
    let short = short_names(files);
    let each = files.iter().zip(short).map(|(file, name)| {
        let opened = input::open(file, &args.common.overlays)?;
        let mut build = opened.loaded.build;
        input::apply(&args.common.edits, &mut build, &opened.catalogue)?;
        entry(file, name, opened.catalogue, build)
    });
    each.collect()
}

/// Names that tell files apart: without folders and endings where that suffices.
fn short_names(files: &[PathBuf]) -> Vec<String> {
    let stem = |file: &PathBuf| match file.file_stem() {
        Some(stem) if !input::is_standard_input(file) => stem.to_string_lossy().into_owned(),
        _ => input::name_of(file),
    };
    let stems: Vec<String> = files.iter().map(stem).collect();
    let is_one = |name: &String| stems.iter().filter(|other| *other == name).count() == 1;
    match stems.iter().all(is_one) {
        true => stems,
        false => files.iter().map(|file| input::name_of(file)).collect(),
    }
}

/// The variants of a file, the place of the one that they are compared with, and those that
/// there is no room for.
fn variants(args: &Compare, file: &Path) -> Result<(Vec<Entry>, usize, Vec<String>), Failure> {
    let edits = &args.common.edits;
    if edits.variant.is_some() {
        let message =
            "--variant: one file is compared variant by variant; name them with --variants";
        return Err(Failure::new(message));
    }
    let opened = input::open(file, &args.common.overlays)?;
    let build = opened.loaded.build;
    let fail = |text: String| Failure::new(format!("{}: {text}", input::name_of(file)));
    let known: Vec<String> = build
        .variant_names()
        .iter()
        .map(|&name| name.to_owned())
        .collect();
    let mut named: Vec<String> = Vec::new();
    for name in args.variants.iter().map(|name| name.trim().to_owned()) {
        if !named.contains(&name) {
            named.push(name);
        }
    }
    if named.is_empty() {
        named = known;
    } else if named.len() > MOST {
        let message = format!("--variants: at most {MOST} stand side by side");
        return Err(Failure::new(message));
    }
    if named.len() < LEAST {
        let text = match build.variants.is_empty() {
            true => "there are no variants in it to compare; name two files".to_owned(),
            false => format!("--variants: name at least {LEAST} to compare"),
        };
        return Err(fail(text));
    }
    let left_out = named.split_off(named.len().min(MOST));
    let pinned = build.variants.baseline();
    let against = pinned.and_then(|pinned| named.iter().position(|name| name == pinned));
    let each = named.into_iter().map(|name| {
        let switched = build.switched(&name);
        let mut build = switched.map_err(|text| Failure::new(format!("--variants: {text}")))?;
        input::apply(edits, &mut build, &opened.catalogue)?;
        entry(file, name, opened.catalogue.clone(), build)
    });
    let entries: Vec<Entry> = each.collect::<Result<_, Failure>>()?;
    Ok((entries, against.unwrap_or(0), left_out))
}

fn entry(file: &Path, name: String, catalogue: Catalogue, build: Build) -> Result<Entry, Failure> {
    let assessment = assess(&catalogue, &build, input::today()?)
        .map_err(|error| FileError::new(input::name_of(file), error.to_string()))?;
    Ok(Entry {
        name,
        catalogue,
        build,
        assessment,
    })
}

fn text(
    args: &Compare,
    entries: &[Entry],
    comparison: &Comparison,
    left_out: &[String],
    (paint, speller): (Paint, &Speller),
) -> String {
    let mut page = match args.files.as_slice() {
        [_] => entries.first().map_or(String::new(), |entry| {
            layout::hanging("", 0, &entry.build.title)
        }),
        _ => {
            let each = entries.iter();
            each.map(|entry| {
                let label = format!("{}:", visible(&entry.name));
                layout::hanging(&label, label.width() + 1, &entry.build.heading())
            })
            .collect()
        }
    };
    let says = match args.all {
        true => "Everything that is compared, side by side.",
        false => "Only what differs; --all shows the rest.",
    };
    page.push_str(&layout::hanging("", 0, says));
    page.push('\n');
    for line in lines(comparison, layout::WIDTH, args.all, speller) {
        let text = visible(&line.text);
        page.push_str(&match line.kind {
            LineKind::Names | LineKind::Group => paint.heading(&text),
            _ => text.into_owned(),
        });
        page.push('\n');
    }
    if !left_out.is_empty() {
        let text = format!(
            "No room for {}: name up to {MOST} with --variants.",
            left_out.join(", ")
        );
        page.push('\n');
        page.push_str(&layout::hanging("", 0, &text));
    }
    page
}
