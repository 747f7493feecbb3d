//! `gantrywright interview`: fifteen plain questions for a first build, and three builds that
//! answer them.

use std::io::{self, IsTerminal as _};
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::options::words;
use super::{Failure, Overlays, color, input, open, output, watch};
use crate::build::{Build, Choice, choices};
use crate::catalogue::Catalogue;
use crate::explore::find;
use crate::explore::interview::{self, Answers, Level, Prompt, Proposal};
use crate::screen::Session;
use crate::store::kept::save_alone;
use crate::store::{build_file, text as files, visible};
use crate::units::respell::Speller;
use crate::words::Words as _;

mod as_json;
mod dialogue;
mod text;

const AFTER: &str = "\
On a terminal every question is asked with what is usual in brackets: Enter skips it, back goes \
back, ? says more. With --answer nothing is asked: what is not answered stays as usual. The \
questions: gantrywright interview --list.

Thrifty, balanced and stiff are each the cheapest of all that the search goes over, under your \
limits: --free names what that is, else it is drive, spindle and control.

Exit codes: 0 found; 1 nothing fits; 2 the input cannot be used.";

/// Asks what you want to cut, how large, where and for how much, and finds three builds for it:
/// thrifty, balanced and stiff.
#[derive(Args, Debug)]
#[command(after_help = AFTER)]
pub(super) struct Interview {
    /// Answer a question, such as size=600x400, instead of being asked; may be repeated.
    #[arg(long = "answer", value_name = "ID=VALUE")]
    answer: Vec<String>,
    /// List the questions and what may be answered.
    #[arg(long, conflicts_with_all = ["answer", "take", "save"])]
    list: bool,
    /// Let the search change these choices and no others, by their ids with commas between.
    #[arg(long, value_name = "CHOICES", value_delimiter = ',')]
    free: Vec<String>,
    /// Take this one of the three: it opens on the screen, or goes to the file of --save.
    #[arg(long, value_name = "BUILD", value_parser = words::<Level>())]
    take: Option<Level>,
    /// Write the build that --take names to this file, the other two in it as variants.
    #[arg(long, value_name = "OUT", requires = "take", value_hint = ValueHint::FilePath)]
    save: Option<PathBuf>,
    /// Replace a file that is there.
    #[arg(long, requires = "save")]
    force: bool,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    pub(super) overlays: Overlays,
    #[command(flatten)]
    pub(super) color: color::ColorArgs,
}

/// What the interview is led with.
pub(super) struct Desk {
    pub(super) catalogue: Catalogue,
    pub(super) today: jiff::civil::Date,
    /// What the searches may change; empty for the usual choices.
    pub(super) free: Vec<&'static Choice>,
    /// How numbers are printed, and typed in the dialogue.
    pub(super) speller: Speller,
}

pub(super) fn run(args: &Interview) -> Result<ExitCode, Failure> {
    let catalogue = input::catalogue(&args.overlays)?;
    let look = args.color.look();
    let desk = Desk {
        speller: look.speller(&catalogue),
        free: free(args, &catalogue)?,
        catalogue,
        today: input::today()?,
    };
    if args.list {
        return match args.json {
            true => output::answer_json(&as_json::list(&desk)?),
            false => output::answer(&text::list(&desk, look.paint())?),
        };
    }
    if let Some(path) = &args.save {
        output::not_over(path, args.force)?;
    }
    let mut answers = Answers::default();
    // In which money a lone amount is hangs on where it is built, wherever that stands in the line.
    let given = args.answer.iter().map(|pair| asked(pair));
    let given: Vec<_> = given.collect::<Result<_, _>>()?;
    let (first, others): (Vec<_>, Vec<_>) = given
        .into_iter()
        .partition(|(prompt, _)| Answers::decides_money(prompt));
    for (prompt, value) in first.into_iter().chain(others) {
        let listed = desk.listed(prompt, &answers)?;
        let kept = answers.give(prompt, value, &desk.catalogue, &listed);
        kept.map_err(|error| Failure::new(format!("--answer: {}: {error}", prompt.id)))?;
    }
    let asks = args.answer.is_empty() && io::stdin().is_terminal() && io::stderr().is_terminal();
    if asks {
        let (mut input, mut out) = (io::stdin().lock(), io::stderr());
        if !dialogue::ask(&mut answers, &desk, &mut input, &mut out)? {
            return Ok(ExitCode::SUCCESS);
        }
    }
    let proposal = proposal(&answers, &desk)?;
    match args.json {
        true => output::answer_json(&as_json::proposal(&proposal, &answers, &desk.catalogue))?,
        false => {
            let page = text::Page {
                proposal: &proposal,
                answers: &answers,
                catalogue: &desk.catalogue,
                paint: look.paint(),
            };
            output::answer_page(&page.text(), &desk.speller)?
        }
    };
    let fits = proposal
        .offers
        .iter()
        .any(|one| one.searched.answer().is_some());
    let level = match (args.take, asks && !args.json) {
        (Some(level), _) => Some(level),
        (None, true) => dialogue::pick(&proposal, &mut io::stdin().lock(), &mut io::stderr())?,
        (None, false) => None,
    };
    if let Some(level) = level {
        return take(args, level, &proposal, desk);
    }
    Ok(ExitCode::from(u8::from(!fits)))
}

/// The question and the answer of `ID=VALUE`.
fn asked(pair: &str) -> Result<(&'static Prompt, &str), Failure> {
    let fail = |message: String| Failure::new(format!("--answer: {message}"));
    let Some((id, value)) = pair.split_once('=') else {
        return Err(fail(format!(
            "{pair:?}: expected ID=VALUE, such as size=600x400; see interview --list"
        )));
    };
    let prompt = interview::find(id.trim()).map_err(fail)?;
    Ok((prompt, value))
}

impl Desk {
    /// What a question offers to pick.
    fn listed(
        &self,
        prompt: &Prompt,
        answers: &Answers,
    ) -> Result<Vec<interview::Listed>, Failure> {
        interview::listed(prompt, answers, &self.catalogue, self.today)
            .map_err(|error| Failure::new(error.to_string()))
    }
}

/// The choices that the search may change; none for the usual ones.
fn free(args: &Interview, catalogue: &Catalogue) -> Result<Vec<&'static Choice>, Failure> {
    let each = args.free.iter().map(|id| {
        let choice =
            choices::find(id.trim()).map_err(|error| Failure::new(format!("--free: {error}")))?;
        match choice.options(catalogue).is_empty() {
            true => Err(Failure::new(format!(
                "--free: {} has no list of options to go through",
                choice.id
            ))),
            false => Ok(choice),
        }
    });
    each.collect()
}

/// What is said behind an answer that nobody gave.
fn skipped(prompt: &Prompt, answers: &Answers, given: bool) -> &'static str {
    match (given, answers.follows(prompt)) {
        (true, _) => "",
        (false, true) => " (skipped: assumed from where the parts go)",
        (false, false) => " (skipped: assumed as usual)",
    }
}

/// Looks for the three builds.
fn proposal(answers: &Answers, desk: &Desk) -> Result<Proposal, Failure> {
    let fail = |error: interview::InterviewError| Failure::new(error.to_string());
    let plan = interview::plan(&desk.catalogue, answers, &desk.free, desk.today).map_err(fail)?;
    let currency = plan.assessment.bill.currency;
    watch::watched(currency, |watch| {
        let mut watch = |_: Level, progress: &find::Progress| watch(progress);
        interview::propose(&desk.catalogue, plan, desk.today, &mut watch)
    })?
    .map_err(fail)
}

/// Opens one of the builds, or writes it to a file.
fn take(
    args: &Interview,
    level: Level,
    proposal: &Proposal,
    desk: Desk,
) -> Result<ExitCode, Failure> {
    let Some(build) = proposal.taken(level) else {
        output::tell(format!("--take {}: there is no such build", level.id()));
        return Ok(ExitCode::from(1));
    };
    if let Some(path) = &args.save {
        return keep(path, &build, level, proposal, &desk);
    }
    let session = Session::new(desk.catalogue, build, desk.today, args.color.wish());
    watch::leave_it();
    open::show(session, args.color, &args.overlays)
}

/// Writes a build to a file, and says where it misses a limit.
fn keep(
    path: &Path,
    build: &Build,
    level: Level,
    proposal: &Proposal,
    desk: &Desk,
) -> Result<ExitCode, Failure> {
    let name = files::name_of(path);
    let text = build_file::saved(None, build, &desk.catalogue, desk.today);
    save_alone(path, &text)?;
    let offer = proposal.offer(level);
    let fits = offer.is_some_and(|offer| offer.searched.answer().is_some());
    let but = match (fits, proposal.stopped) {
        (false, _) => "; it misses one of your limits",
        (true, true) => "; the search was stopped: there may be a cheaper one",
        (true, false) => "",
    };
    let (name, title) = (visible(&name), level.title());
    output::tell(format!("{name}: the {title} build saved{but}"));
    Ok(ExitCode::from(u8::from(!fits)))
}
