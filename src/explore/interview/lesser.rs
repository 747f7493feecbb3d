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

use super::answers::{Answers, Reply};
use super::descent::Scout;
use super::listed::ownable;
use super::plan::{InterviewError, Plan, budget};
use super::prompts::{self, MONEY, OWNED, Prompt};
use crate::build::choices::Kind;
use crate::build::choices::working_area::{PrintsFrom, SecondCircuit, TubeSupply};
use crate::build::{Build, Choice, Edit, Value};
use crate::catalogue::{Catalogue, Id};
use crate::explore::find::Answer;
use crate::order::Order as _;
use crate::units;
use crate::words::Words as _;

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

/// How much of a length a milder answer leaves, in percent.
const SHARES: [f64; 14] = [
    95.0, 90.0, 85.0, 80.0, 75.0, 70.0, 65.0, 60.0, 55.0, 50.0, 45.0, 40.0, 35.0, 30.0,
];

/// The least of these that leaves what was asked for: flatter pieces are none, and a smaller
/// machine is told of only where it stays within the money.
const HALF: f64 = 50.0;

/// To what lengths are rounded down, in millimetres.
const ROUND: f64 = 10.0;

/// How far milder answers come.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// The build stays within the money.
    Money,
    /// One answer gives way, and the money does not do: this is what it saves.
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
                found.push(self.told(answers, milder, answer));
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
        Ok((!self.scout.stopped).then(|| self.told(answers, milder, answer)))
    }

    /// Where nothing stays within the money: what each answer saves alone, the most first, then
    /// the least that all of them together leave. Lengths are halved at most.
    fn dear(&mut self, answers: &Answers) -> Result<Vec<Lesser>, InterviewError> {
        let mut found = Vec::new();
        let mut all = answers.clone();
        for prompt in giving() {
            if let Some(milder) = self.believable(prompt, answers)?
                && let Some(answer) = self.build(&milder)?
            {
                found.push(self.told(answers, milder, answer));
            }
            if let Some(milder) = self.believable(prompt, &all)? {
                all = milder;
            }
        }
        found.order_by_key(|one| one.answer.reading.cost.likely);
        let least = self.build(&all)?;
        let least = least.map(|answer| self.told(answers, all, answer));
        // What gives way alone is not told twice.
        found.extend(least.filter(|one| one.gives.len() > 1));
        Ok(found)
    }

    /// The mildest answer to a question that leaves the machine that was asked for.
    fn believable(
        &self,
        prompt: &'static Prompt,
        answers: &Answers,
    ) -> Result<Option<Answers>, InterviewError> {
        Ok(match prompt.id {
            "size" => smaller(answers, prompt, HALF).pop(),
            _ => self.chain(prompt, answers)?.pop(),
        })
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

    fn told(&self, asked: &Answers, milder: Answers, answer: Answer) -> Lesser {
        let gives = prompts::all().iter();
        let gives = gives.filter(|prompt| milder.typed(prompt) != asked.typed(prompt));
        let gives: Vec<&'static Prompt> = gives.collect();
        Lesser {
            reach: match (self.fits(&answer), gives.len()) {
                (true, _) => Reach::Money,
                (false, 1) => Reach::Saves,
                (false, _) => Reach::Least,
            },
            gives,
            answers: milder,
            answer,
        }
    }

    /// The milder answers to a question, the one that gives up least first.
    fn chain(
        &self,
        prompt: &'static Prompt,
        answers: &Answers,
    ) -> Result<Vec<Answers>, InterviewError> {
        let build = answers.build();
        let word = |is: bool, id: &'static str| match is {
            true => with(answers, prompt, &[Value::Word(id)])
                .into_iter()
                .collect(),
            false => Vec::new(),
        };
        let area = &build.area;
        Ok(match prompt.id {
            "circuits" => word(
                area.second_circuit == SecondCircuit::Missing,
                SecondCircuit::Laid.id(),
            ),
            "saw" => word(
                area.tube_supply == TubeSupply::CutToLength,
                TubeSupply::WholeBars.id(),
            ),
            "printer" => word(
                area.prints_from == PrintsFrom::PrinterToBuy,
                PrintsFrom::Service.id(),
            ),
            "quiet" if answers.is_quiet() => {
                let mut loud = answers.clone();
                loud.put(prompt, Reply::Quiet(false));
                vec![loud]
            }
            "height" => smaller(answers, prompt, HALF),
            "size" => smaller(answers, prompt, 0.0),
            OWNED if answers.given(prompt.id).is_none() => {
                let plan = self.scout.plan(answers)?;
                let mut owner = answers.clone();
                let owned = ownable(&plan.build, &plan.assessment.bill);
                owner.put(prompt, Reply::Tools(owned));
                vec![owner]
            }
            "materials" => self.softer(answers, prompt)?,
            _ => Vec::new(),
        })
    }

    /// Without the material that is cut most slowly, without the next one too, and so on down to
    /// one.
    fn softer(
        &self,
        answers: &Answers,
        prompt: &'static Prompt,
    ) -> Result<Vec<Answers>, InterviewError> {
        let plan = self.scout.plan(answers)?;
        let cutting = &plan.assessment.machine.cutting;
        let removal = |id: &Id| {
            let best = cutting.best(id);
            best.map_or(0.0, |best| units::cm3_per_min::from(best.removal))
        };
        let asked = &plan.build.area.materials;
        let mut hard_first = asked.clone();
        hard_first.order_by(|a, b| removal(a).total_cmp(&removal(b)));
        let each = (1..asked.len()).filter_map(|many| {
            let (gone, _) = hard_first.split_at_checked(many)?;
            let left = asked.iter().filter(|one| !gone.contains(one));
            with(answers, prompt, &[Value::Parts(left.cloned().collect())])
        });
        Ok(each.collect())
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

/// The answers with other values for one question, in the order of its choices.
fn with(answers: &Answers, prompt: &'static Prompt, values: &[Value]) -> Option<Answers> {
    let edits = prompt.choices().zip(values);
    let edits = edits.map(|(choice, value)| Edit {
        choice,
        value: value.clone(),
    });
    let edits: Vec<Edit> = edits.collect();
    let mut other = answers.clone();
    other.put(prompt, Reply::Edits(edits));
    (other.typed(prompt) != answers.typed(prompt)).then_some(other)
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

/// Shorter lengths, all of a question by the same share, down to a least one in percent.
fn smaller(answers: &Answers, prompt: &'static Prompt, least: f64) -> Vec<Answers> {
    let build = answers.build();
    let shares = SHARES.iter().filter(|percent| **percent >= least);
    let each = shares.filter_map(|percent| {
        let shorter = prompt
            .choices()
            .map(|choice| shorter(choice, (choice.get)(&build), *percent));
        let values: Option<Vec<Value>> = shorter.collect();
        with(answers, prompt, &values?)
    });
    each.collect()
}

/// A share of a length, rounded down; none where the choice takes none so short.
fn shorter(choice: &Choice, value: Value, percent: f64) -> Option<Value> {
    let (Kind::Number(kind), Value::Number(Some(now))) = (choice.kind, value) else {
        return None;
    };
    let less = (now * percent / 100.0 / ROUND).floor() * ROUND;
    (less >= kind.least).then_some(Value::Number(Some(less)))
}
