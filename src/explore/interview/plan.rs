//! What answers mean: the build that the search starts from, and the limits that it keeps.

use jiff::civil::Date;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::answers::Answers;
use super::frame;
use super::prompts::{MATERIALS, MONEY, PLACE, QUIET};
use crate::assessment::{AssessError, Assessment, assess};
use crate::build::choices::control::OnCircuit;
use crate::build::{Build, Choice, Edit, Kind, Picked, choices, edit};
use crate::catalogue::material::Family;
use crate::catalogue::{Catalogue, Id, Part as _, Step};
use crate::explore::find::{self, Target};
use crate::explore::question::control::all_on;
use crate::explore::reading::Measure;
use crate::explore::trial::Bench;
use crate::explore::weigh;
use crate::machine::cutting::Verdict;
use crate::rules::{self, Finding, Severity};

/// How often remedies are asked for in turn.
const ROUNDS: usize = 12;

/// Lengths that follow from the answers and are no wishes of their own.
const FOLLOWING: &[&str] = &["travel_z_mm"];

/// Rules whose remedies are left to the search: it minds the money itself.
const OF_THE_SEARCH: &[&str] = &["over-budget"];

/// Rules whose remedies may change all that was not answered.
const FOR_THE_SOCKET: &[&str] = &["supply-voltage-wrong-for-spindle"];

/// A limit that builds must keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// What must be so.
    pub target: Target,
    /// The id of the question whose answer sets it; none where no answer does, but the level.
    pub prompt: Option<&'static str>,
}

impl Limit {
    /// One that the answer to a question sets.
    fn of(prompt: &'static str, target: Target) -> Self {
        Self {
            target,
            prompt: Some(prompt),
        }
    }

    /// One that no answer sets.
    pub(super) fn own(target: Target) -> Self {
        Self {
            target,
            prompt: None,
        }
    }
}

/// What the answers come to.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The build that the search starts from.
    pub build: Build,
    /// Its assessment.
    pub assessment: Assessment,
    /// The limits of the answers.
    pub wanted: Vec<Limit>,
    /// The choices that the search goes over.
    pub free: Vec<&'static Choice>,
    /// Those of them that somebody named; empty where they are the usual ones, which follow from
    /// the answers: a plan of other answers takes these.
    pub named: Vec<&'static Choice>,
    /// What was changed besides the answers, so that things fit.
    pub along: Vec<Edit>,
    /// What was answered.
    pub answers: Answers,
    /// The choices that the answers settle.
    pub answered: Vec<&'static str>,
}

/// Why answers lead nowhere.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum InterviewError {
    /// An answer cannot be used beside the others.
    #[error("{prompt}: {message}")]
    Answer {
        /// The question.
        prompt: &'static str,
        /// What is wrong, and what would be right.
        message: String,
    },
    /// The build cannot be assessed.
    #[error(transparent)]
    Assess(#[from] AssessError),
}

/// Puts answers into a build and its limits. `free` are the choices that the search may change,
/// and that are left to it; where there are none, those that it usually goes over.
///
/// # Errors
/// Where the money of the budget has no rate, or the build cannot be assessed.
pub fn plan(
    catalogue: &Catalogue,
    answers: &Answers,
    free: &[&'static Choice],
    today: Date,
) -> Result<Plan, InterviewError> {
    let mut answered = answers.build();
    let mut fixed: Vec<&'static str> = answers.edits().map(|edit| edit.choice.id).collect();
    if answers.is_quiet()
        && let Some(box_around) = best_enclosure(catalogue)
    {
        answered.extras.enclosure = Some(box_around);
        fixed.push("enclosure");
    }
    let mut hung = answered.clone();
    hang_on_what_is_there(catalogue, &mut hung);
    let wanted = wanted(catalogue, answers, &answered)?;
    let world = frame::World {
        catalogue,
        today,
        wanted: &wanted,
    };
    let named = free.to_vec();
    let free = usual(catalogue, &answered, free);
    let settled = settled(catalogue, hung, &fixed, &free, today)?;
    let build = frame::ready(&world, settled)?;
    Ok(Plan {
        along: edit::difference(&answered, &build),
        assessment: assess(catalogue, &build, today)?,
        free,
        named,
        build,
        wanted,
        answers: answers.clone(),
        answered: fixed,
    })
}

/// The enclosure that damps most; among equals the first.
fn best_enclosure(catalogue: &Catalogue) -> Option<Id> {
    let all = catalogue.enclosures.values().rev();
    let best = all.max_by(|a, b| a.damping.as_dba().total_cmp(&b.damping.as_dba()));
    best.map(|best| best.id)
}

/// The limits that answers set. What is cut is always one: a machine that does not cut what it
/// is for is none.
fn wanted(
    catalogue: &Catalogue,
    answers: &Answers,
    build: &Build,
) -> Result<Vec<Limit>, InterviewError> {
    let area = &build.area;
    let cut = area.materials.iter();
    let cut = cut.map(|material| Target::Cuts(*material, Verdict::WithCare));
    let mut wanted: Vec<Limit> = cut.map(|target| Limit::of(MATERIALS, target)).collect();
    if answers.given(PLACE).is_some() {
        let lengths = [Target::Width(area.room_x), Target::Depth(area.room_y)];
        wanted.extend(lengths.map(|target| Limit::of(PLACE, target)));
    }
    if answers.is_quiet() {
        let loud = catalogue.spindles.values();
        let most = rules::lower_action().as_dba();
        let loud = loud.filter(|spindle| spindle.noise_dba.as_dba() > most);
        wanted.extend(loud.map(|spindle| Limit::of(QUIET, Target::Without(*spindle.id()))));
    }
    let limit = limit_of_money(budget(catalogue, build)?);
    wanted.extend(limit.map(|target| Limit::of(MONEY, target)));
    Ok(wanted)
}

/// That money sets a limit to the cost; none where there is no limit.
pub(super) fn limit_of_money(money: Option<Decimal>) -> Option<Target> {
    let most = money.and_then(|most| most.to_f64());
    most.map(|most| Target::Figure(Measure::Cost, most))
}

/// The money of a build, in the currency in which its cost is counted; none where it has no
/// limit.
///
/// # Errors
/// Where no price book has a rate for it.
pub(super) fn budget(
    catalogue: &Catalogue,
    build: &Build,
) -> Result<Option<Decimal>, InterviewError> {
    let area = &build.area;
    let Some(budget) = area.budget else {
        return Ok(None);
    };
    let currency = (catalogue.sites.get(&area.site)).map_or(budget.currency, |s| s.currency);
    let amount = catalogue.converted(budget, currency);
    let most = amount.ok_or_else(|| InterviewError::Answer {
        prompt: MONEY,
        message: format!(
            "no price book says what {} is worth in {currency}, the money at your socket; name \
             the budget in {currency}",
            budget.currency
        ),
    })?;
    Ok(Some(most))
}

/// The build with what must go along with the answers: a taller beam for taller stock, an
/// antifreeze for frost. Remedies of its findings are made, worst first, unless they touch an
/// answer, a wish, or what the search is free to change.
fn settled(
    catalogue: &Catalogue,
    build: Build,
    answered: &[&str],
    free: &[&'static Choice],
    today: Date,
) -> Result<Build, InterviewError> {
    let may_follow = |edit: &Edit| {
        let choice = edit.choice;
        is_cure(choice)
            && !answered.contains(&choice.id)
            && !free.iter().any(|one| one.id == choice.id)
    };
    let bench = Bench {
        catalogue,
        build: &build,
        before: &assess(catalogue, &build, today)?,
        today,
    };
    let bad = |now: &Assessment| {
        let findings = now.findings.iter().filter(|one| {
            one.severity <= Severity::Caution
                && one.counts()
                && !OF_THE_SEARCH.contains(&one.rule.as_str())
        });
        findings.cloned().collect()
    };
    // Another mains voltage takes another spindle, and with it tool and speed, which no search
    // changes.
    let may = |finding: &Finding, edit: &Edit| match FOR_THE_SOCKET.contains(&finding.rule.as_str())
    {
        true => !answered.contains(&edit.choice.id),
        false => may_follow(edit),
    };
    Ok(bench.mended(build.clone(), ROUNDS, &bad, &may))
}

/// Whether a choice may be changed unasked so that things fit: what the machine is made of and
/// stands beside it. A number of drive, spindle or control is a setting: less speed or power
/// would lift many a warning, but is no answer to anything.
pub(super) fn is_cure(choice: &Choice) -> bool {
    let setting = matches!(choice.kind, Kind::Number(_)) && choice.step != Step::WorkingArea;
    weigh::is_free(choice) && !setting
        || choice.step == Step::Extras && !choice.id.contains("job")
        || FOLLOWING.contains(&choice.id)
}

impl Plan {
    /// Whether remedies may change a choice: whoever names what the search may change means
    /// nothing else of what it usually goes over.
    pub(super) fn may_change(&self, choice: &Choice, catalogue: &Catalogue) -> bool {
        let is_free = self.free.iter().any(|one| one.id == choice.id);
        is_free || find::usual(catalogue).iter().all(|one| one.id != choice.id)
    }

    /// The limits alone.
    pub fn targets(&self) -> Vec<Target> {
        let each = self.wanted.iter().map(|one| one.target.clone());
        each.collect()
    }
}

/// Whether a second circuit is there, as answered, else as is usual at the socket.
pub(super) fn second_circuit(catalogue: &Catalogue, build: &Build) -> bool {
    Picked::new(catalogue, build).is_ok_and(|picked| picked.has_second_circuit())
}

/// Hangs every load on the one circuit, where there is no second one.
pub(super) fn hang_on_what_is_there(catalogue: &Catalogue, build: &mut Build) {
    if !second_circuit(catalogue, build) {
        all_on(build, OnCircuit::First);
    }
}

/// On which circuit the motors hang: a small socket carries them only beside the spindle's.
pub(super) fn motors_hang_on() -> Option<&'static Choice> {
    choices::find("motor_circuit").ok()
}

/// The choices that the search goes over: those that were named, else the usual ones, and where
/// there is a second circuit, whether the motors hang on it.
fn usual(catalogue: &Catalogue, build: &Build, named: &[&'static Choice]) -> Vec<&'static Choice> {
    if !named.is_empty() {
        return named.to_vec();
    }
    let second = second_circuit(catalogue, build);
    let motors = motors_hang_on().filter(|_| second);
    // On one circuit the extractor shares it with the spindle: then which one it is, is looked
    // for as well. Where wood is cut, none at all is a danger, and so never found.
    let wood = build.area.materials.iter();
    let wood = wood.filter_map(|id| catalogue.materials.get(id));
    let is_wood = wood.into_iter().any(|one| one.family == Family::Wood);
    let extractor = choices::find("extractor")
        .ok()
        .filter(|_| !second && is_wood);
    let usual = find::usual(catalogue).into_iter();
    usual.chain(motors).chain(extractor).collect()
}
