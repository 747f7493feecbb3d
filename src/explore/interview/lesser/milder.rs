//! The milder answers to a question: a shorter piece, a material less, a service instead of a
//! machine of one's own.

use super::Look;
use crate::build::choices::Kind;
use crate::build::choices::working_area::{PrintsFrom, SecondCircuit, TubeSupply};
use crate::build::{Choice, Edit, Value};
use crate::catalogue::Id;
use crate::explore::interview::answers::{Answers, Reply};
use crate::explore::interview::listed::ownable;
use crate::explore::interview::plan::InterviewError;
use crate::explore::interview::prompts::{
    CIRCUITS, HEIGHT, MATERIALS, OWNED, PRINTER, Prompt, QUIET, SAW, SIZE,
};
use crate::order::Order as _;
use crate::units;
use crate::words::Words as _;

/// How much of a length a milder answer leaves, in percent.
const SHARES: [f64; 14] = [
    95.0, 90.0, 85.0, 80.0, 75.0, 70.0, 65.0, 60.0, 55.0, 50.0, 45.0, 40.0, 35.0, 30.0,
];

/// The least of these that leaves what was asked for: flatter pieces are none, and a smaller
/// machine is told of only where it stays within the money.
const HALF: f64 = 50.0;

/// To what lengths are rounded down, in millimetres.
const ROUND: f64 = 10.0;

impl Look<'_, '_> {
    /// The milder answers to a question, the one that gives up least first.
    pub(super) fn chain(
        &mut self,
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
            CIRCUITS => word(
                area.second_circuit == SecondCircuit::Missing,
                SecondCircuit::Laid.id(),
            ),
            SAW => word(
                area.tube_supply == TubeSupply::CutToLength,
                TubeSupply::WholeBars.id(),
            ),
            PRINTER => word(
                area.prints_from == PrintsFrom::PrinterToBuy,
                PrintsFrom::Service.id(),
            ),
            QUIET if answers.is_quiet() => {
                let mut loud = answers.clone();
                loud.put(prompt, Reply::Quiet(false));
                vec![loud]
            }
            HEIGHT => smaller(answers, prompt, HALF),
            SIZE => smaller(answers, prompt, 0.0),
            OWNED if answers.given(prompt.id).is_none() => {
                let plan = self.plan(answers)?;
                let mut owner = answers.clone();
                let owned = ownable(&plan.build, &plan.assessment.bill);
                owner.put(prompt, Reply::Tools(owned));
                vec![owner]
            }
            MATERIALS => self.softer(answers, prompt)?,
            _ => Vec::new(),
        })
    }

    /// Without the material that is cut most slowly, without the next one too, and so on down to
    /// one.
    fn softer(
        &mut self,
        answers: &Answers,
        prompt: &'static Prompt,
    ) -> Result<Vec<Answers>, InterviewError> {
        let plan = self.plan(answers)?;
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

    /// The mildest answer to a question that leaves the machine that was asked for.
    pub(super) fn believable(
        &mut self,
        prompt: &'static Prompt,
        answers: &Answers,
    ) -> Result<Option<Answers>, InterviewError> {
        Ok(match prompt.id {
            SIZE => smaller(answers, prompt, HALF).pop(),
            _ => self.chain(prompt, answers)?.pop(),
        })
    }
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
