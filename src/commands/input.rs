//! What the commands that read a build have in common: catalogue, build, edits and the day.

use std::io::{self, BufRead};
use std::path::Path;

use jiff::civil::Date;

use super::{BuildArgs, Edits, Failure, Overlays, output};
use crate::assessment::{Assessment, assess};
use crate::build::{Build, Edit};
use crate::catalogue::Catalogue;
use crate::explore::trial::Bench;
use crate::store::FileError;
use crate::store::build_file::{self, Loaded};
use crate::store::bundle::{self, Bundle};
use crate::store::{clock, library, text};

/// The day to reckon with, where it is not today.
const TODAY: &str = "GANTRYWRIGHT_TODAY";

/// How to go on where a file of one's own parts is wrong.
const STOPPED: &str =
    "Every command reads this file, so none runs now: put it right, or move it out of that folder.";

/// The catalogue with the user's layers.
pub(super) fn catalogue(overlays: &Overlays) -> Result<Catalogue, Failure> {
    let loaded = library::load(&library::folders(&overlays.configs));
    loaded.map_err(|error| match library::user_folder() {
        // It is read by every command, so none runs until it is mended.
        Some(home) if Path::new(&error.file).starts_with(&home) => {
            Failure::from(error).and(STOPPED)
        }
        _ => error.into(),
    })
}

/// Whether a file name means standard input.
pub(super) fn is_standard_input(file: &Path) -> bool {
    file.as_os_str() == "-"
}

/// A build with what it is reckoned with.
pub(super) struct Opened {
    /// What exists.
    pub(super) catalogue: Catalogue,
    /// The build, and the text that it was read from.
    pub(super) loaded: Loaded,
    /// The bundle that it is in, where it is in one.
    pub(super) bundle: Option<Bundle>,
}

/// Opens a build file or a bundle, or either from standard input, and says so where a bundle was
/// made with other data.
pub(super) fn open(file: &Path, overlays: &Overlays) -> Result<Opened, Failure> {
    let opened = open_quietly(file, overlays)?;
    if let Some(told) = opened.bundle.as_ref().and_then(Bundle::differs) {
        output::tell(format!("{}: {told}", name_of(file)));
    }
    Ok(opened)
}

/// The same without a word. A bundle brings its own parts and prices: those of the user's folder
/// stay out, and folders named on the command line come on top.
pub(super) fn open_quietly(file: &Path, overlays: &Overlays) -> Result<Opened, Failure> {
    let text = read(file)?;
    let name = name_of(file);
    let Some(bundle) = bundle::read(&text, &name)? else {
        let catalogue = catalogue(overlays)?;
        let build = build_file::read(&text, &name, &catalogue)?;
        return Ok(Opened {
            catalogue,
            loaded: Loaded { build, text },
            bundle: None,
        });
    };
    let mut layers = bundle.layers.clone();
    layers.extend(library::layers(&overlays.configs)?);
    let catalogue = library::over_built_in(layers)?;
    let text = bundle.build.clone();
    let build = build_file::read(&text, &format!("{name}: build"), &catalogue)?;
    Ok(Opened {
        catalogue,
        loaded: Loaded { build, text },
        bundle: Some(bundle),
    })
}

/// A build as a command reckons with it: its variant opened, the changes of the command line
/// made, and what follows from it.
pub(super) struct Assessed {
    /// What exists.
    pub(super) catalogue: Catalogue,
    /// The build.
    pub(super) build: Build,
    /// The text that it was read from.
    pub(super) text: String,
    /// The bundle that it is in, where it is in one.
    pub(super) bundle: Option<Bundle>,
    /// What follows from it.
    pub(super) assessment: Assessment,
    /// The day for which it was computed.
    pub(super) today: Date,
}

impl Assessed {
    /// What changed builds are compared with.
    pub(super) fn bench(&self) -> Bench<'_> {
        Bench {
            catalogue: &self.catalogue,
            build: &self.build,
            before: &self.assessment,
            today: self.today,
        }
    }
}

/// Opens, changes and assesses a build.
pub(super) fn assessed(file: &Path, args: &BuildArgs) -> Result<Assessed, Failure> {
    let Opened {
        catalogue,
        loaded,
        bundle,
    } = open(file, &args.overlays)?;
    let Loaded { mut build, text } = loaded;
    apply(&args.edits, &mut build, &catalogue)?;
    let today = today()?;
    let assessment = assess(&catalogue, &build, today)
        .map_err(|error| FileError::new(name_of(file), error.to_string()))?;
    Ok(Assessed {
        catalogue,
        build,
        text,
        bundle,
        assessment,
        today,
    })
}

/// The text of a file or of standard input.
pub(super) fn read(file: &Path) -> Result<String, Failure> {
    Ok(match is_standard_input(file) {
        true => text::read_standard_input()?,
        false => text::read(file)?,
    })
}

/// The longest line that somebody types: what is longer is cut.
const LONGEST: u64 = 4096;

/// The next line that somebody typed, or a script wrote; none at the end of the input.
pub(super) fn line(input: &mut dyn BufRead) -> Result<Option<String>, Failure> {
    let fail = |error: io::Error| Failure::new(format!("standard input: {error}"));
    let mut bytes = Vec::new();
    let mut limited = io::Read::take(&mut *input, LONGEST);
    limited.read_until(b'\n', &mut bytes).map_err(fail)?;
    if bytes.is_empty() {
        return Ok(None);
    }
    // What is cut off is no line of its own.
    if bytes.len() as u64 == LONGEST && !bytes.ends_with(b"\n") {
        input.skip_until(b'\n').map_err(fail)?;
    }
    Ok(Some(String::from_utf8_lossy(&bytes).into_owned()))
}

/// How messages call a file.
pub(super) fn name_of(file: &Path) -> String {
    if is_standard_input(file) {
        text::STANDARD_INPUT.to_owned()
    } else {
        text::name_of(file)
    }
}

/// Opens a variant of a build, where one is named.
pub(super) fn take_variant(name: Option<&str>, build: &mut Build) -> Result<(), Failure> {
    if let Some(name) = name {
        let switched = build.switched(name);
        *build = switched.map_err(|error| Failure::new(format!("--variant: {error}")))?;
    }
    Ok(())
}

/// Opens the variant and makes the changes that the command line asks for.
pub(super) fn apply(
    edits: &Edits,
    build: &mut Build,
    catalogue: &Catalogue,
) -> Result<(), Failure> {
    take_variant(edits.variant.as_deref(), build)?;
    for pair in &edits.set {
        Edit::parse_pair(pair, catalogue, build)
            .map_err(|error| Failure::new(format!("--set: {error}")))?
            .apply(build);
    }
    if let Some(machines) = edits.machines {
        Edit::parse("machines", &machines.to_string(), catalogue)
            .map_err(|error| Failure::new(format!("--machines: {error}")))?
            .apply(build);
    }
    // A change of site may leave the budget's currency without a rate.
    build_file::check_money(build, catalogue)
        .map_err(|message| Failure::new(format!("--set: {message}")))
}

/// The day: today where the user is, unless the environment names another.
pub(super) fn today() -> Result<Date, Failure> {
    match std::env::var(TODAY) {
        Ok(day) if !day.is_empty() => day.parse().map_err(|_| {
            Failure::new(format!(
                "{TODAY}: {day:?} is not a day; expected one such as 2026-11-30"
            ))
        }),
        _ => Ok(clock::now().date()),
    }
}
