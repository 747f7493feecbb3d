//! The command line: what a terminal, a script or a pipe asks of the program.
//!
//! One file for each subcommand. Data go to standard output, messages to standard error; what
//! the exit codes mean stands at the end of the help (`AFTER`).

use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand, ValueHint};

mod alone;
mod ask;
mod assess;
mod bundle;
mod choices;
mod color;
mod compare;
mod completions;
mod csv;
mod demo;
mod find;
mod input;
mod interview;
mod json;
mod keys;
mod layout;
mod log;
mod look;
mod manual;
mod open;
mod options;
mod output;
mod parts;
mod picture;
mod plain;
mod quantities;
mod quotes;
mod recover;
mod rules;
mod sheet;
mod shown;
mod take_up;
mod watch;
mod weigh;
mod why;
mod words;

pub use output::Failure;

const AFTER: &str = "\
Every command that reads a build takes - for standard input.

Environment:
  NO_COLOR
          where set to anything, no colours
  GANTRYWRIGHT_TODAY
          the day to reckon with, as 2026-11-30, instead of today
  XDG_CONFIG_HOME
          where gantrywright/ with your own parts, prices and settings is looked for
  XDG_STATE_HOME
          where gantrywright/ keeps which file was open last, and what is not saved

Exit codes: 0 all is well; 1 a danger stands, or a fault that nobody accepted (assess), nothing \
fits (find, interview), or a row was not taken (quotes); 2 the input cannot be used, or a line of \
it (--plain, through a pipe), or the settings of keys are wrong (keys); 130 stopped by Ctrl-C \
(find).";

/// Plan a self-built CNC router: what it costs, what it will do, whether the wall socket
/// carries it, and what does not go together.
#[derive(Debug, Parser)]
#[command(name = "gantrywright", version, max_term_width = 90, after_help = AFTER)]
#[command(
    override_usage = "gantrywright [OPTIONS] [FILE]\n       gantrywright [OPTIONS] <COMMAND>"
)]
pub struct Cli {
    /// The build to open on the screen; without one, a new build.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: Option<PathBuf>,
    /// Talk line by line instead of opening the screen: numbered questions, for screen readers,
    /// braille lines and scripts.
    #[arg(long)]
    plain: bool,
    #[command(flatten)]
    log: log::LogArgs,
    #[command(flatten)]
    common: BuildArgs,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Open an example build on the screen; nothing is written unless saved elsewhere.
    Demo(demo::Demo),
    /// Print what a build costs and does, and what is wrong with it.
    Assess(assess::Assess),
    /// Print why a figure is what it is: formula, inputs and where they come from, source.
    Why(why::Why),
    /// Put two to four builds, or variants of one, side by side: what differs.
    Compare(compare::Compare),
    /// Answer what builders ask most: a larger area, another motor, a fifth less, and so on.
    Ask(ask::Ask),
    /// Answer fifteen plain questions, and see three builds for them: for a first machine.
    Interview(interview::Interview),
    /// Show what matters most: what every free choice does for its money, or one over a range.
    Weigh(weigh::Weigh),
    /// Find the cheapest build that does what you want, or the best trades against one figure.
    Find(find::Find),
    /// Write a sheet for the workshop: parts, cuts, wiring and so on.
    Sheet(sheet::Sheet),
    /// Take suppliers' offers from a CSV file into a build.
    Quotes(quotes::Quotes),
    /// Put a build and its own parts and prices into one file, for another machine.
    Bundle(bundle::Bundle),
    /// List what an earlier session left unsaved, print it, or throw it away.
    Recover(recover::Recover),
    /// List everything that can be chosen, step by step.
    Choices(choices::Choices),
    /// List the parts of the catalogue with their prices.
    Parts(parts::Parts),
    /// List how many small parts a machine takes, and why.
    Quantities(quantities::Quantities),
    /// List the rules behind the warnings, with their reasons and sources.
    Rules(rules::Rules),
    /// Say what the words of the trade mean.
    Words(words::Words),
    /// List the keys of the screen, with the names by which settings change them.
    Keys(keys::Keys),
    /// Print a picture of the screen, as SVG.
    Picture(picture::Picture),
    /// Print the completion script for a shell.
    Completions(completions::Completions),
    /// Print the manual page.
    Manual,
}

/// Where data come from besides the program itself.
#[derive(Args, Clone, Debug, Default)]
struct Overlays {
    /// Add or replace parts, plans, sites and prices by the *.toml files below this folder;
    /// may be repeated, later ones win.
    #[arg(long = "configs", value_name = "DIR", value_hint = ValueHint::DirPath)]
    configs: Vec<PathBuf>,
}

/// Changes made to a build before it is used.
#[derive(Args, Clone, Debug, Default)]
struct Edits {
    /// Take this variant of the build, instead of the one that its file opens; main is the
    /// main build.
    #[arg(long, value_name = "NAME")]
    variant: Option<String>,
    /// Change a choice before anything else, such as travel_x_mm=800; may be repeated.
    #[arg(long = "set", value_name = "CHOICE=VALUE")]
    set: Vec<String>,
    /// Build so many machines together, as --set machines=N.
    #[arg(long, value_name = "N")]
    machines: Option<u32>,
}

/// What every command takes that reads a build.
#[derive(Args, Clone, Debug, Default)]
struct BuildArgs {
    #[command(flatten)]
    edits: Edits,
    #[command(flatten)]
    overlays: Overlays,
    #[command(flatten)]
    color: color::ColorArgs,
}

/// Runs the program with its arguments, the first of which is its name.
pub fn run(args: impl IntoIterator<Item = OsString>) -> ExitCode {
    let args: Vec<OsString> = args.into_iter().collect();
    let cli = match alone::alone(&args).map_or_else(|| Cli::try_parse_from(args), Ok) {
        Ok(cli) => cli,
        Err(answer) => {
            output::help(&answer);
            return ExitCode::from(u8::try_from(answer.exit_code()).unwrap_or(2));
        }
    };
    let log = cli.log.clone();
    let begun = log.begin(cli.command.as_ref());
    let done = begun.and_then(|()| dispatch(cli));
    log::end(&done);
    done.unwrap_or_else(|failure| {
        output::complain(&failure);
        ExitCode::from(2)
    })
}

fn dispatch(cli: Cli) -> Result<ExitCode, Failure> {
    let Some(mut command) = cli.command else {
        return open::run(cli.file.as_deref(), &cli.common, cli.plain);
    };
    if let Some(file) = cli.file {
        let file = file.display();
        return Err(Failure::new(format!(
            "{file}: a file goes behind the command, not before it"
        )));
    }
    match &mut command {
        Command::Demo(args) => args.plain |= cli.plain,
        _ if cli.plain => {
            return Err(Failure::new(
                "--plain: this command opens no screen; what it prints is plain text",
            ));
        }
        _ => {}
    }
    command.come_after(cli.common)?;
    command.run()
}

impl Command {
    /// Takes the options that stood before the command: they may stand there as well as behind it.
    ///
    /// # Errors
    /// Names one that the command has no use for.
    fn come_after(&mut self, mut before: BuildArgs) -> Result<(), Failure> {
        match self {
            Self::Demo(demo::Demo { common, .. })
            | Self::Assess(assess::Assess { common, .. })
            | Self::Why(why::Why { common, .. })
            | Self::Ask(ask::Ask { common, .. })
            | Self::Weigh(weigh::Weigh { common, .. })
            | Self::Find(find::Find { common, .. })
            | Self::Picture(picture::Picture { common, .. })
            | Self::Sheet(sheet::Sheet { common, .. })
            | Self::Compare(compare::Compare { common, .. }) => common.come_after(before),
            Self::Quotes(quotes::Quotes {
                variant, overlays, ..
            })
            | Self::Bundle(bundle::Bundle {
                variant, overlays, ..
            }) => {
                *variant = variant.take().or(before.edits.variant.take());
                overlays.come_after(before.overlays_alone()?);
            }
            Self::Interview(interview::Interview {
                color, overlays, ..
            })
            | Self::Choices(choices::Choices {
                color, overlays, ..
            })
            | Self::Parts(parts::Parts {
                color, overlays, ..
            })
            | Self::Quantities(quantities::Quantities {
                color, overlays, ..
            }) => {
                color.come_after(std::mem::take(&mut before.color));
                overlays.come_after(before.overlays_alone()?);
            }
            Self::Recover(recover::Recover { overlays, .. })
            | Self::Rules(rules::Rules { overlays, .. })
            | Self::Words(words::Words { overlays, .. }) => {
                overlays.come_after(before.overlays_alone()?);
            }
            Self::Keys(_) | Self::Completions(_) | Self::Manual => {
                before.nothing()?;
            }
        }
        Ok(())
    }

    fn run(&self) -> Result<ExitCode, Failure> {
        match self {
            Self::Demo(args) => demo::run(args),
            Self::Assess(args) => assess::run(args),
            Self::Why(args) => why::run(args),
            Self::Compare(args) => compare::run(args),
            Self::Ask(args) => ask::run(args),
            Self::Interview(args) => interview::run(args),
            Self::Weigh(args) => weigh::run(args),
            Self::Find(args) => find::run(args),
            Self::Sheet(args) => sheet::run(args),
            Self::Quotes(args) => quotes::run(args),
            Self::Bundle(args) => bundle::run(args),
            Self::Recover(args) => recover::run(args),
            Self::Choices(args) => choices::run(args),
            Self::Parts(args) => parts::run(args),
            Self::Quantities(args) => quantities::run(args),
            Self::Rules(args) => rules::run(args),
            Self::Words(args) => words::run(args),
            Self::Keys(args) => keys::run(args),
            Self::Picture(args) => picture::run(args),
            Self::Completions(args) => completions::run(args),
            Self::Manual => manual::run(),
        }
    }
}

impl Overlays {
    /// Puts what stood before the command in front of what stands behind it.
    fn come_after(&mut self, before: Overlays) {
        self.configs.splice(0..0, before.configs);
    }
}

impl BuildArgs {
    /// As [`Overlays::come_after`].
    fn come_after(&mut self, before: BuildArgs) {
        self.overlays.come_after(before.overlays);
        self.edits.set.splice(0..0, before.edits.set);
        self.edits.machines = self.edits.machines.or(before.edits.machines);
        self.edits.variant = self.edits.variant.take().or(before.edits.variant);
        self.color.come_after(before.color);
    }

    /// The folders, for a command that changes no build before it begins and shows no figures.
    fn overlays_alone(self) -> Result<Overlays, Failure> {
        let edits = &self.edits;
        let named = [
            ("--variant", edits.variant.is_some()),
            ("--set", !edits.set.is_empty()),
            ("--machines", edits.machines.is_some()),
        ];
        if let Some((option, _)) = named.into_iter().find(|(_, is_there)| *is_there) {
            return Err(Failure::new(format!(
                "{option}: this command takes a build as it stands, or none at all"
            )));
        }
        match self.color.said() {
            None => Ok(self.overlays),
            Some(option) => Err(Failure::new(format!(
                "{option}: this command has no colours, units or marks to choose"
            ))),
        }
    }

    /// For a command that reads no data at all.
    fn nothing(self) -> Result<(), Failure> {
        if self.overlays_alone()?.configs.is_empty() {
            return Ok(());
        }
        Err(Failure::new("--configs: this command reads no parts"))
    }
}
