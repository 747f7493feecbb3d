//! What a found build is cured of: a search minds money and faults, and leaves cautions that a
//! small change lifts. A newcomer would find them one key away, and wonder why nobody pressed it.
//!
//! A remedy is made where it leaves every answer and every limit as it is, brings no caution in
//! place of the one that it lifts, and costs little. A caution that is there only because of an
//! answer, such as cooling water in a room that freezes, is worth more.

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::answers::Answers;
use super::plan::{Limit, Plan, is_cure};
use super::prompts::{
    self, CIRCUITS, DOOR, FROST, HEIGHT, MATERIALS, PLACE, Prompt, QUIET, SOCKET,
};
use crate::assessment::{Assessment, assess};
use crate::build::{Build, Edit, edit};
use crate::catalogue::Catalogue;
use crate::explore::effect::same;
use crate::explore::find::FoundBuild;
use crate::explore::find::target::cautions;
use crate::explore::reading::Reading;
use crate::explore::remedy::{candidates, is_lifted};
use crate::explore::told;
use crate::explore::trial::{Bench, is_bought};
use crate::rules::{Finding, Severity, topics};

mod calm;

/// The part of the cost, in thousandths, that one remedy may take for each caution that it lifts.
const CHEAP: u32 = 20;

/// The part that one may take of those that are made first: what costs next to nothing is not to
/// be left out for something dear.
const SMALL: u32 = 5;

/// The part that all of them may take together, but for those against what an answer brings.
const TOGETHER: u32 = 80;

/// The part that each one may take against a caution that an answer brings, beside all others,
/// once that is made which costs next to nothing.
const ANSWERED: u32 = 100;

/// How often all cautions are gone through: one remedy may open the way for another.
const PASSES: usize = 5;

/// How many remedies of one caution are tried: the best come first.
const TRIED: usize = 40;

/// Numbers that are parts, and no settings: a reduction is pulleys and a belt on the bill.
const PARTS: &[&str] = &["reduction"];

/// Settings that are the remedy of a rule: a spindle that turns too slowly to cool itself is turned
/// faster.
const MEANT: &[(&str, &str)] = &[("below-minimum-speed", "spindle_speed_rpm")];

/// The answers that a caution can go against. Others, such as the size, are met by the build as
/// such, or are no fact that anything could suit.
const FACTS: &[&str] = &[
    MATERIALS, HEIGHT, PLACE, DOOR, QUIET, FROST, SOCKET, CIRCUITS,
];

/// One remedy that was made.
#[derive(Clone, Debug)]
pub struct Cure {
    /// What was changed.
    pub edits: Vec<Edit>,
    /// What it lifts; never empty.
    pub lifts: Vec<Finding>,
    /// What it costs; below zero where it saves.
    pub price: Decimal,
    /// What is left out by it, as the choices say it.
    pub lost: Vec<String>,
}

/// A build with the remedies that it got.
#[derive(Clone, Debug)]
pub struct Cured {
    /// The build.
    pub answer: FoundBuild,
    /// The remedies, in the order in which they were made.
    pub cures: Vec<Cure>,
}

/// What remedies are judged by.
pub(super) struct Ward<'a> {
    pub(super) catalogue: &'a Catalogue,
    pub(super) today: Date,
    pub(super) plan: &'a Plan,
    /// The limits, those of the level among them.
    pub(super) wanted: &'a [Limit],
}

/// The cautions that count against a build, worst first, the axes of one rule together.
pub fn counted(findings: &[Finding]) -> Vec<&Finding> {
    let heads = topics::heads(findings).into_iter();
    let open = heads.filter(|one| one.severity == Severity::Caution && one.counts());
    open.collect()
}

/// The answer without which a caution would not stand, with everything else as it is; none where
/// it has nothing to do with an answer.
pub fn against(
    build: &Build,
    finding: &Finding,
    answers: &Answers,
    catalogue: &Catalogue,
    today: Date,
) -> Option<&'static Prompt> {
    let usual = Build::default();
    let stands = |prompt: &&'static Prompt| {
        let mut without = build.clone();
        for edit in answers.edits_of_prompt(prompt) {
            edit.choice.put(&mut without, &(edit.choice.get)(&usual));
        }
        let after = assess(catalogue, &without, today);
        after.is_ok_and(|after| after.findings.iter().any(|one| same(one, finding)))
    };
    let facts = prompts::all().iter();
    let mut facts = facts.filter(|one| {
        FACTS.contains(&one.id)
            && answers
                .edits_of_prompt(one)
                .iter()
                .any(|edit| edit.value != (edit.choice.get)(&usual))
    });
    facts.find(|prompt| !stands(prompt))
}

/// A build with the remedies that are worth it; none where there are none.
pub(super) fn cured(ward: &Ward, found: &FoundBuild) -> Option<Cured> {
    let mut course = Course {
        answer: found.clone(),
        cures: Vec::new(),
        cost: found.reading.cost.likely,
        spent: Decimal::ZERO,
    };
    for pass in 0..PASSES {
        let is_first = pass == 0;
        let before = course.cures.len();
        let open = counted(&course.answer.assessment.findings);
        let open: Vec<Finding> = open.into_iter().cloned().collect();
        for finding in open {
            let findings = &course.answer.assessment.findings;
            if findings.iter().any(|one| same(one, &finding)) {
                ward.cure(&mut course, &finding, is_first);
            }
        }
        if !is_first {
            ward.calm(&mut course);
            if course.cures.len() == before {
                break;
            }
        }
    }
    let cures = joined(course.cures);
    let answer = course.answer;
    (!cures.is_empty()).then_some(Cured { answer, cures })
}

/// How far the remedies of a build have come.
struct Course {
    answer: FoundBuild,
    cures: Vec<Cure>,
    /// What the build cost without any.
    cost: Decimal,
    /// What those cost that share one part of it.
    spent: Decimal,
}

impl Course {
    /// What further remedies may cost.
    fn left(&self) -> Decimal {
        share(self.cost, TOGETHER) - self.spent
    }
}

/// Remedies of which none takes back what one before it chose: such are one, with what came of
/// both.
fn joined(cures: Vec<Cure>) -> Vec<Cure> {
    cures.into_iter().fold(Vec::new(), |all, cure| {
        let again = |one: &Edit| {
            cure.edits
                .iter()
                .any(|edit| edit.choice.id == one.choice.id)
        };
        let (earlier, mut rest): (Vec<Cure>, Vec<Cure>) =
            all.into_iter().partition(|one| one.edits.iter().any(again));
        let earlier = earlier.into_iter().map(|mut one| {
            one.edits.retain(|edit| !again(edit));
            one
        });
        let earlier: Vec<Cure> = earlier.collect();
        let both = earlier.into_iter().chain([cure]).reduce(|mut one, next| {
            one.edits.extend(next.edits);
            one.lifts.extend(next.lifts);
            one.price += next.price;
            one.lost.extend(next.lost);
            one
        });
        rest.extend(both);
        rest
    })
}

/// Thousandths of a cost.
fn share(cost: Decimal, thousandths: u32) -> Decimal {
    cost * Decimal::from(thousandths) / Decimal::ONE_THOUSAND
}

/// The cautions that count, those of each axis by themselves.
fn of_each_axis(findings: &[Finding]) -> impl Iterator<Item = &Finding> {
    let counts = |one: &&Finding| one.severity == Severity::Caution && one.counts();
    findings.iter().filter(counts)
}

/// Whether a changed build has fewer cautions, those of each axis counted by themselves: what is
/// wrong on two axes is mended one after the other.
fn is_calmer(now: &FoundBuild, (after, reading): (&Assessment, &Reading)) -> bool {
    let many = |of: &Assessment| of_each_axis(&of.findings).count();
    many(after) < many(&now.assessment) && cautions(reading) <= cautions(&now.reading)
}

impl Ward<'_> {
    /// Makes the first remedy of a caution that is worth it.
    fn cure(&self, course: &mut Course, finding: &Finding, is_first: bool) {
        let now = course.answer.clone();
        let bench = Bench {
            catalogue: self.catalogue,
            build: &now.build,
            before: &now.assessment,
            today: self.today,
        };
        let mut tried = candidates(&bench, finding)
            .into_iter()
            .filter(|edits| self.may(&now.build, edits, Some(finding)))
            .take(TRIED)
            .peekable();
        if tried.peek().is_none() {
            return;
        }
        let answers = &self.plan.answers;
        let of_answer = against(&now.build, finding, answers, self.catalogue, self.today);
        let is_apart = of_answer.is_some() && !is_first;
        let most = match (is_apart, is_first) {
            (true, _) => share(course.cost, ANSWERED),
            (false, true) => share(course.cost, SMALL).min(course.left()),
            (false, false) => share(course.cost, CHEAP).min(course.left()),
        };
        let good = tried.find_map(|edits| {
            let mut build = now.build.clone();
            edits.iter().for_each(|edit| edit.apply(&mut build));
            let assessment = bench.assess(&build).ok()?;
            let reading = Reading::of(&assessment);
            let price = reading.cost.likely - now.reading.cost.likely;
            let good = price <= most
                && is_lifted(&now.assessment, &assessment, finding)
                && is_calmer(&now, (&assessment, &reading))
                && self.keeps(&now, (&assessment, &reading));
            let answer = FoundBuild {
                edits: edit::difference(&self.plan.build, &build),
                build,
                assessment,
                reading,
            };
            good.then_some((edits, price, answer))
        });
        if let Some((edits, price, answer)) = good {
            if !is_apart {
                course.spent += price;
            }
            course.cures.push(Cure {
                lost: told::lost(&now.build, &edits),
                edits,
                lifts: vec![finding.clone()],
                price,
            });
            course.answer = answer;
        }
    }

    /// The cautions of a build that an answer alone brings.
    pub(super) fn against(&self, answer: &FoundBuild) -> Vec<(Finding, &'static Prompt)> {
        let open = counted(&answer.assessment.findings).into_iter();
        let each = open.filter_map(|finding| {
            let (answers, today) = (&self.plan.answers, self.today);
            let prompt = against(&answer.build, finding, answers, self.catalogue, today)?;
            Some((finding.clone(), prompt))
        });
        each.collect()
    }

    /// Whether a changed build meets every limit that a build meets.
    pub(super) fn keeps(
        &self,
        now: &FoundBuild,
        (after, reading): (&Assessment, &Reading),
    ) -> bool {
        let mut limits = self.wanted.iter().map(|one| &one.target);
        limits.all(|one| one.is_met(after, reading) || !one.is_met(&now.assessment, &now.reading))
    }

    /// Whether a remedy of a finding, where it is one's, leaves answers, wishes and settings as
    /// they are, and what is bought.
    pub(super) fn may(&self, build: &Build, edits: &[Edit], of: Option<&Finding>) -> bool {
        let is_meant =
            |edit: &Edit| of.is_some_and(|of| MEANT.contains(&(of.rule.as_str(), edit.choice.id)));
        !edits.is_empty()
            && edits.iter().all(|edit| {
                (is_cure(edit.choice) || PARTS.contains(&edit.choice.id) || is_meant(edit))
                    && !self.plan.answered.contains(&edit.choice.id)
                    && self.plan.may_change(edit.choice, self.catalogue)
                    && !is_bought(build, edit.choice)
            })
    }
}
