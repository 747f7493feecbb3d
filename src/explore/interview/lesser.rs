//! What one could have for the money, where it does not buy all that was asked: which single
//! answer has to give way, and how little; where none does alone, which of them together; where
//! not even that does, what each saves alone, and the least that all of them leave.
//!
//! Each answer that can give way has a chain of milder ones, the one that gives up least first:
//! a smaller piece, one material less, and so on. Of a chain the first one is looked for whose
//! build stays within the money, by halving: milder is taken to cost less. Builds are found by
//! the quick way down ([`descent`](super::descent)), so that each exists, is sound and does what
//! the milder answers say; that nothing better exists is not proven.

use std::ops::ControlFlow;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::answers::Answers;
use super::descent::Scout;
use super::plan::{InterviewError, Plan, budget};
use super::prompts::{self, MONEY, OWNED, Prompt};
use crate::build::{Build, Choice};
use crate::catalogue::Catalogue;
use crate::explore::find::Answer;
use crate::order::Order as _;

mod milder;

/// The answers that can give way, the one that is missed least first; last what somebody would
/// have to own. The others say what is there: the place, the socket, the door.
const GIVING: &[&str] = &[
    "circuits",
    "saw",
    "printer",
    "quiet",
    "height",
    "materials",
    "size",
    OWNED,
];

/// Of how many answers it is told what each saves, where the money does not do.
const TOLD: usize = 3;

/// How far milder answers come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// The build stays within the money.
    Money,
    /// One answer gives way, besides what must for anything to be found at all, and the money
    /// does not do: this is what it saves.
    Saves,
    /// All that can give way does, and the money does not do: the least that was tried.
    Least,
}

/// A build for milder answers.
#[derive(Clone, Debug)]
pub struct Lesser {
    /// The questions whose answers give way, in the order of the questions.
    pub gives: Vec<&'static Prompt>,
    /// All answers, the milder ones among them.
    pub answers: Answers,
    /// The build.
    pub answer: Answer,
    /// How far it comes.
    pub reach: Reach,
}

impl Lesser {
    /// Whether it stays within the money.
    pub fn fits(&self) -> bool {
        self.reach == Reach::Money
    }
}

/// What is looked with.
struct Look<'a, 'w> {
    scout: Scout<'a, 'w>,
    money: Decimal,
    /// A build that does all that was asked, however dear: where the usual one leads nowhere,
    /// the way down goes out from this one.
    known: Option<&'a Build>,
}

/// Looks what the money of the answers buys, for each answer that can give way alone; where none
/// does, for several together. `known` is a build that does all that was asked, where there is
/// one. Nothing where no money was named. None where somebody stopped it.
///
/// # Errors
/// As [`plan`](super::plan()).
pub fn lesser(
    catalogue: &Catalogue,
    answers: &Answers,
    free: &[&'static Choice],
    today: Date,
    known: Option<&Build>,
    watch: &mut dyn FnMut() -> ControlFlow<()>,
) -> Result<Option<Vec<Lesser>>, InterviewError> {
    let Some(money) = budget(catalogue, &answers.build())? else {
        return Ok(Some(Vec::new()));
    };
    let mut look = Look {
        scout: Scout {
            catalogue,
            free,
            today,
            watch,
            stopped: false,
        },
        money,
        known,
    };
    // Whether the money does is seen by the cost: as a limit it could be traded for a fault.
    let mut unlimited = answers.clone();
    unlimited.skip_id(MONEY);
    let mut found = look.alone(&unlimited)?;
    let is_given = |one: &Lesser| one.gives.iter().any(|prompt| prompt.id != OWNED);
    if !found.iter().any(is_given) {
        let together = look.together(&unlimited, &|prompt| prompt.id != OWNED)?;
        found.extend(together.filter(Lesser::fits));
    }
    if found.is_empty() {
        let together = look.together(&unlimited, &|_| true)?;
        match together.filter(Lesser::fits) {
            Some(fits) => found.push(fits),
            None => found = look.dear(&unlimited)?,
        }
    }
    Ok((!look.scout.stopped).then_some(found))
}

impl Look<'_, '_> {
    /// Each answer that does it alone.
    fn alone(&mut self, answers: &Answers) -> Result<Vec<Lesser>, InterviewError> {
        let mut found = Vec::new();
        for prompt in giving() {
            let chain = self.chain(prompt, answers)?;
            if let Some((milder, answer)) = self.first(&chain)? {
                found.push(self.told(answers, milder, answer, Reach::Money));
            }
        }
        found.order_by_key(|one| place(one.gives.first().copied()));
        Ok(found)
    }

    /// Several answers together: one after the other gives way wholly until the money does; then
    /// each takes back what it need not give.
    fn together(
        &mut self,
        answers: &Answers,
        may: &dyn Fn(&Prompt) -> bool,
    ) -> Result<Option<Lesser>, InterviewError> {
        let mut milder = answers.clone();
        let mut least: Option<(Answers, Answer)> = None;
        let mut gave: Vec<&'static Prompt> = Vec::new();
        for prompt in giving().filter(|prompt| may(prompt)) {
            let Some(last) = self.chain(prompt, &milder)?.pop() else {
                continue;
            };
            milder = last;
            gave.push(prompt);
            let Some(answer) = self.build(&milder)? else {
                continue;
            };
            let fits = self.fits(&answer);
            least = Some((milder.clone(), answer));
            if fits {
                break;
            }
        }
        let Some((mut milder, mut answer)) = least else {
            return Ok(None);
        };
        if self.fits(&answer) {
            for prompt in gave.into_iter().rev() {
                let mut taken_back = milder.clone();
                restore(&mut taken_back, answers, prompt);
                let mut chain = vec![taken_back.clone()];
                chain.extend(self.chain(prompt, &taken_back)?);
                if let Some(better) = self.first(&chain)? {
                    (milder, answer) = better;
                }
            }
        }
        let told = || self.told(answers, milder, answer, Reach::Least);
        Ok((!self.scout.stopped).then(told))
    }

    /// Where nothing stays within the money: what each answer saves, the most first, then the
    /// least that all of them together leave. Lengths are halved at most.
    fn dear(&mut self, asked: &Answers) -> Result<Vec<Lesser>, InterviewError> {
        let mut found = Vec::new();
        let mut base = asked.clone();
        if self.build(&base)?.is_none() {
            // One answer is in the way of everything: the others are tried without it.
            for prompt in giving() {
                if let Some(milder) = self.believable(prompt, asked)?
                    && let Some(answer) = self.build(&milder)?
                {
                    found.push(self.told(asked, milder.clone(), answer, Reach::Saves));
                    base = milder;
                    break;
                }
            }
        }
        let mut all = base.clone();
        for prompt in giving() {
            if let Some(milder) = self.believable(prompt, &base)?
                && let Some(answer) = self.build(&milder)?
            {
                found.push(self.told(asked, milder, answer, Reach::Saves));
            }
            if let Some(milder) = self.believable(prompt, &all)? {
                all = milder;
            }
        }
        found.order_by_key(|one| one.answer.reading.cost.likely);
        found.truncate(TOLD);
        let least = self.build(&all)?;
        found.extend(least.map(|answer| self.told(asked, all, answer, Reach::Least)));
        Ok(found)
    }

    /// The first of a chain whose build the money buys; none where not even the last one's.
    fn first(&mut self, chain: &[Answers]) -> Result<Option<(Answers, Answer)>, InterviewError> {
        let (mut from, mut to) = (0, chain.len());
        let mut found = None;
        // The last one first: where that does not do, none does.
        let mut at = chain.len().saturating_sub(1);
        while let Some(answers) = chain.get(at).filter(|_| from < to) {
            match self.build(answers)?.filter(|build| self.fits(build)) {
                Some(build) => {
                    found = Some((answers.clone(), build));
                    to = at;
                }
                None => from = at + 1,
            }
            at = usize::midpoint(from, to);
        }
        Ok(found.filter(|_| !self.scout.stopped))
    }

    /// The cheapest build for some answers that a quick way down leads to.
    fn build(&mut self, answers: &Answers) -> Result<Option<Answer>, InterviewError> {
        if self.scout.go_on().is_break() {
            return Ok(None);
        }
        let plan = self.scout.plan(answers)?;
        let found = self.scout.down(&plan, &plan.build)?;
        Ok(match (found, self.known) {
            (None, Some(known)) => {
                let changed = changed(known, answers, &plan);
                self.scout.down(&plan, &changed)?
            }
            (found, _) => found,
        })
    }

    fn fits(&self, answer: &Answer) -> bool {
        answer.reading.cost.likely <= self.money
    }

    /// A build for milder answers, which of them are milder than what was asked, and how far it
    /// comes where it does not stay within the money.
    fn told(&self, asked: &Answers, milder: Answers, answer: Answer, dear: Reach) -> Lesser {
        let gives = prompts::all().iter();
        let gives = gives.filter(|prompt| milder.typed(prompt) != asked.typed(prompt));
        Lesser {
            gives: gives.collect(),
            reach: match self.fits(&answer) {
                true => Reach::Money,
                false => dear,
            },
            answers: milder,
            answer,
        }
    }
}

/// The questions whose answers can give way, the one that is missed least first.
fn giving() -> impl Iterator<Item = &'static Prompt> {
    GIVING.iter().filter_map(|id| prompts::find(id).ok())
}

/// Which of the questions it is.
fn place(prompt: Option<&Prompt>) -> usize {
    let here = |one: &Prompt| prompt.is_some_and(|prompt| prompt.id == one.id);
    prompts::all().iter().position(here).unwrap_or_default()
}

/// A build that does what was asked, with other answers.
fn changed(known: &Build, answers: &Answers, plan: &Plan) -> Build {
    let mut build = known.clone();
    answers.edits().for_each(|edit| edit.apply(&mut build));
    build.purchases = answers.build().purchases;
    build
        .extras
        .enclosure
        .clone_from(&plan.build.extras.enclosure);
    build
}

/// Takes the answer to a question from other answers.
fn restore(answers: &mut Answers, from: &Answers, prompt: &'static Prompt) {
    match from.given(prompt.id) {
        Some(reply) => answers.put(prompt, reply.clone()),
        None => answers.skip(prompt),
    }
}
