//! `gantrywright assess FILE`: figures and findings, for people or as JSON.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, ValueHint};

use super::{BuildArgs, Failure, input, output};
use crate::assessment;
use crate::build::{Axis, Edit};
use crate::explore::remedy::{self, Unfit};
use crate::explore::stiffer::{Stiffer, stiffer};
use crate::explore::trial::Bench;
use crate::rules::RuleId;
use crate::store::build_file::recorded::moved_since;

mod text;

/// Prints what a build costs and does, and what is wrong with it.
#[derive(Args, Debug)]
pub(super) struct Assess {
    /// The build; - reads it from standard input.
    #[arg(value_name = "FILE", value_hint = ValueHint::FilePath)]
    file: PathBuf,
    /// Print JSON.
    #[arg(long)]
    json: bool,
    /// Tell every safety note in full: where the work can hurt, and what to do about it.
    #[arg(long, conflicts_with = "json")]
    safety: bool,
    #[command(flatten)]
    pub(super) common: BuildArgs,
}

pub(super) fn run(args: &Assess) -> Result<ExitCode, Failure> {
    let assessed = input::assessed(&args.file, &args.common)?;
    let input::Assessed {
        catalogue,
        build,
        text,
        assessment,
        today,
        ..
    } = &assessed;
    let moved = moved_since(text, catalogue, build, assessment, *today);
    let remedies = remedy::all(&assessed.bench());
    if args.json {
        let mut json = assessment::json::json(build, assessment, &remedies);
        if let Some(moved) = &moved {
            json["moved"] = moved.json();
        }
        output::answer_json(&json)?;
    } else {
        let extras = text::Extras {
            remedies: &remedies,
            unfit: &unfit(&assessed.bench(), &remedies),
            moved: moved.as_ref(),
            stiffer: best_stiffer(&assessed.bench()),
            safety: args.safety,
        };
        let look = args.common.color.look();
        let page = text::text(catalogue, build, assessment, &extras, look.paint());
        output::answer_page(&page, &look.speller(catalogue))?;
    }
    Ok(if assessment.is_unsound() {
        ExitCode::from(1)
    } else {
        ExitCode::SUCCESS
    })
}

/// Of each finding of a rule of one's own that nothing lifts: why what the rule names does not.
fn unfit(bench: &Bench, remedies: &[Vec<Edit>]) -> Vec<Option<Unfit>> {
    let findings = bench.before.findings.iter().zip(remedies);
    let each = findings.map(|(finding, remedy)| {
        let is_own = matches!(finding.rule, RuleId::Own(_));
        let looks = is_own && remedy.is_empty();
        let mut all = looks.then(|| remedy::unfit(bench, finding))?.into_iter();
        all.next()
    });
    each.collect()
}

/// The change that stiffens the softest direction most for its money; none where no single
/// change does.
fn best_stiffer(bench: &Bench) -> Option<(Axis, Stiffer)> {
    let collet = &bench.before.machine.stiffness.collet;
    let softest = |a: &Axis, b: &Axis| collet[*a].value.total_cmp(&collet[*b].value);
    let axis = Axis::EACH.into_iter().min_by(softest)?;
    let best = stiffer(bench, axis).into_iter().next()?;
    Some((axis, best))
}
