//! What one could have for the money, where it does not buy all that was asked: which single
//! answer has to give way, and how little; where none does alone, which of them together; where
//! not even that does, what each saves alone, and the least that all of them leave.
//!
//! Each answer that can give way has a chain of milder ones, the one that gives up least first:
//! a smaller piece, one material less, and so on. Of a chain the first one is looked for whose
//! build stays within the money, by halving: milder is taken to cost less. Builds are found by
//! the quick way down ([`descent`](super::descent)), so that each exists, is sound and does what
//! the milder answers say; that nothing better exists is not proven. Those that are told have the
//! remedies that all builds of the interview get, so that what they cost can be compared.

use std::ops::ControlFlow;
use std::rc::Rc;

use jiff::civil::Date;
use rust_decimal::Decimal;

use super::answers::Answers;
use super::plan::{InterviewError, Plan, budget, limit_of_money};
use super::prompts::{
    self, CIRCUITS, HEIGHT, MATERIALS, MONEY, OWNED, PRINTER, Prompt, QUIET, SAW, SIZE,
};
use super::scout::Scout;
use crate::build::{Build, Choice};
use crate::catalogue::Catalogue;
use crate::explore::find::FoundBuild;
use crate::order::Order as _;

mod milder;

/// The answers that can give way, the one that is missed least first; last what somebody would
/// have to own. The others say what is there: the place, the socket, the door.
const GIVING: &[&str] = &[
    CIRCUITS, SAW, PRINTER, QUIET, HEIGHT, MATERIALS, SIZE, OWNED,
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
    pub answer: FoundBuild,
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
    /// All that was asked, but for the money.
    asked: Answers,
    /// A build that does what was asked, or nearly, however dear: the way down is shorter from it
    /// than from the usual one.
    known: Option<Build>,
    /// What answers mean: each are planned once.
    planned: Vec<(Answers, Rc<Plan>)>,
    /// What was found for which answers: each is looked for once.
    tried: Vec<(Answers, Option<FoundBuild>)>,
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
    // Whether the money does is seen by the cost: as a limit it could be traded for a fault.
    let mut asked = answers.clone();
    asked.skip_id(MONEY);
    let mut look = Look {
        scout: Scout {
            catalogue,
            free,
            today,
            watch,
            stopped: false,
        },
        money,
        asked,
        known: known.cloned(),
        planned: Vec::new(),
        tried: Vec::new(),
    };
    let base = look.base()?;
    let mut found = look.alone(&base)?;
    let is_given = |one: &Lesser| one.gives.iter().any(|prompt| prompt.id != OWNED);
    if !found.iter().any(is_given) {
        found.extend(look.together(&base, &|prompt| prompt.id != OWNED)?);
    }
    if found.is_empty() {
        found.extend(look.together(&base, &|_| true)?);
    }
    if found.is_empty() {
        found = look.dear(&base)?;
    }
    Ok((!look.scout.stopped).then_some(found))
}

impl Look<'_, '_> {
    /// What was asked, if anything does it; else with the one answer milder without which
    /// nothing was found, such as that there is no second circuit.
    fn base(&mut self) -> Result<Answers, InterviewError> {
        let asked = self.asked.clone();
        if self.build(&asked)?.is_some() {
            return Ok(asked);
        }
        for prompt in giving() {
            if let Some(milder) = self.believable(prompt, &asked)?
                && self.build(&milder)?.is_some()
            {
                return Ok(milder);
            }
        }
        Ok(asked)
    }

    /// Each answer that does it alone, besides what the base gives already.
    fn alone(&mut self, base: &Answers) -> Result<Vec<Lesser>, InterviewError> {
        let mut found = Vec::new();
        if *base != self.asked
            && let Some(answer) = self.build(base)?.filter(|one| self.fits(one))
        {
            found.push(self.told(base.clone(), &answer, Reach::Money)?);
            return Ok(found);
        }
        for prompt in giving() {
            let chain = self.chain(prompt, base)?;
            if let Some((milder, answer)) = self.first(&chain)? {
                found.push(self.told(milder, &answer, Reach::Money)?);
            }
        }
        found.order_by_key(|one| place(one.gives.first().copied()));
        Ok(found)
    }

    /// Several answers together that stay within the money: one after the other gives way wholly
    /// until the money does; then each takes back what it need not give.
    fn together(
        &mut self,
        base: &Answers,
        may: &dyn Fn(&Prompt) -> bool,
    ) -> Result<Option<Lesser>, InterviewError> {
        let mut steps: Vec<(&'static Prompt, Answers)> = Vec::new();
        for prompt in giving().filter(|prompt| may(prompt)) {
            let before = steps.last().map_or(base, |(_, answers)| answers);
            if let Some(milder) = self.chain(prompt, before)?.pop() {
                steps.push((prompt, milder));
            }
        }
        // All of them first: where that does not do, fewer do not either.
        let milder: Vec<Answers> = steps.iter().map(|(_, answers)| answers.clone()).collect();
        let all = milder.len().saturating_sub(1);
        let Some(mut found) = self.first(milder.get(all..).unwrap_or_default())? else {
            return Ok(None);
        };
        let mut gave = all;
        for (place, answers) in milder.iter().enumerate() {
            if let Some(answer) = self.build(answers)?.filter(|one| self.fits(one)) {
                (found, gave) = ((answers.clone(), answer), place);
                break;
            }
        }
        for (prompt, _) in steps.into_iter().take(gave + 1).rev() {
            let mut taken_back = found.0.clone();
            restore(&mut taken_back, base, prompt);
            let mut chain = vec![taken_back.clone()];
            chain.extend(self.chain(prompt, &taken_back)?);
            if let Some(better) = self.first(&chain)? {
                found = better;
            }
        }
        if self.scout.stopped {
            return Ok(None);
        }
        let (milder, answer) = found;
        self.told(milder, &answer, Reach::Money).map(Some)
    }

    /// Where nothing stays within the money: what each answer saves, the most first, then the
    /// least that all of them together leave. Lengths are halved at most. What saves nothing is no
    /// way out.
    fn dear(&mut self, base: &Answers) -> Result<Vec<Lesser>, InterviewError> {
        let mut found = Vec::new();
        let plain = self.build(base)?;
        let cost = plain.as_ref().map(|one| one.reading.cost.likely);
        found.extend(
            plain
                .filter(|_| *base != self.asked)
                .map(|one| (base.clone(), one)),
        );
        let saves = |one: &FoundBuild| cost.is_none_or(|cost| one.reading.cost.likely < cost);
        let mut all = base.clone();
        for prompt in giving() {
            if let Some(milder) = self.believable(prompt, base)?
                && let Some(answer) = self.build(&milder)?.filter(&saves)
            {
                found.push((milder, answer));
            }
            if let Some(milder) = self.believable(prompt, &all)? {
                all = milder;
            }
        }
        found.order_by_key(|(_, answer)| answer.reading.cost.likely);
        found.truncate(TOLD);
        let told = found.into_iter();
        let told = told.map(|(milder, answer)| self.told(milder, &answer, Reach::Saves));
        let mut told: Vec<Lesser> = told.collect::<Result<_, _>>()?;
        let cost = |one: &Lesser| one.answer.reading.cost.likely;
        told.order_by_key(cost);
        // Whoever has a saw may have to buy it: more that gives way can cost more.
        if let Some(answer) = self.build(&all)? {
            let least = self.told(all, &answer, Reach::Least)?;
            let is_cheaper = told.iter().all(|other| cost(&least) < cost(other));
            told.extend(is_cheaper.then_some(least));
        }
        Ok(told)
    }

    /// The first of a chain whose build the money buys; none where not even the last one's.
    fn first(
        &mut self,
        chain: &[Answers],
    ) -> Result<Option<(Answers, FoundBuild)>, InterviewError> {
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

    /// What some answers mean.
    fn plan(&mut self, answers: &Answers) -> Result<Rc<Plan>, InterviewError> {
        let mut planned = self.planned.iter();
        if let Some((_, plan)) = planned.find(|(known, _)| known == answers) {
            return Ok(Rc::clone(plan));
        }
        let plan = Rc::new(self.scout.plan(answers)?);
        self.planned.push((answers.clone(), Rc::clone(&plan)));
        Ok(plan)
    }

    /// The cheapest build for some answers that a quick way down leads to.
    fn build(&mut self, answers: &Answers) -> Result<Option<FoundBuild>, InterviewError> {
        if let Some((_, found)) = self.tried.iter().find(|(known, _)| known == answers) {
            return Ok(found.clone());
        }
        if self.scout.go_on().is_break() {
            return Ok(None);
        }
        let plan = self.plan(answers)?;
        let mut found = None;
        if let Some(known) = &self.known {
            let changed = changed(known, answers, &plan);
            found = self.scout.down(&plan, &changed)?;
        }
        if found.is_none() {
            found = self.scout.down(&plan, &plan.build)?;
        }
        if self.known.is_none() {
            self.known = found.as_ref().map(|found| found.build.clone());
        }
        if !self.scout.stopped {
            self.tried.push((answers.clone(), found.clone()));
        }
        Ok(found)
    }

    fn fits(&self, answer: &FoundBuild) -> bool {
        answer.reading.cost.likely <= self.money
    }

    /// A build for milder answers with its remedies, which of them are milder than what was asked,
    /// and how far it comes; `else_reach` where it does not stay within the money.
    fn told(
        &mut self,
        milder: Answers,
        found: &FoundBuild,
        else_reach: Reach,
    ) -> Result<Lesser, InterviewError> {
        let gives = prompts::all().iter();
        let gives = gives.filter(|prompt| milder.typed(prompt) != self.asked.typed(prompt));
        let gives = gives.collect();
        let plan = self.plan(&milder)?;
        let limit = limit_of_money(Some(self.money));
        Ok(Lesser {
            gives,
            reach: match self.fits(found) {
                true => Reach::Money,
                false => else_reach,
            },
            answers: milder,
            answer: self.scout.mended(&plan, &limit, found),
        })
    }
}

/// Whether an answer can give way: the others say what is there.
pub(super) fn can_give_way(id: &str) -> bool {
    GIVING.contains(&id)
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
    // Money that is not asked for is no limit: the known build may have one.
    build.area.budget = plan.build.area.budget;
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
