//! Questions and answers as JSON.

use serde_json::{Value, json};

use crate::build::choices::section;
use crate::commands::json::{edits, findings, reading};
use crate::explore::question::{self, Answer, Question};
use crate::explore::reading::Reading;
use crate::explore::trial::Bench;

/// Every question.
pub(super) fn list() -> Value {
    question::all().map(question_json).collect()
}

fn question_json(question: &Question) -> Value {
    json!({
        "id": question.id,
        "step": section(question.step),
        "title": question.title,
        "why": question.why,
    })
}

/// One answer.
pub(super) fn answer(question: &Question, bench: &Bench, answer: &Answer) -> Value {
    let each = answer.alternatives.iter().map(|one| {
        let after = &one.trial.after;
        json!({
            "title": one.title,
            "changes": edits(&one.trial.edits),
            "price": one.trial.price.to_string(),
            "after": reading(&Reading::of(after)),
            "on_top": one.on_top,
            "reaches_wish": question::brings_to_wish(question, bench.build, bench.before, after),
            "new": findings(&one.trial.added),
            "gone": findings(&one.trial.lifted),
            "note": one.note,
            "alone": one.alone.as_ref().map(|alone| alone.price.to_string()),
        })
    });
    json!({
        "question": question_json(question),
        "does_not_arise": (!answer.apart.is_empty()).then_some(&answer.apart),
        "headline": (!answer.headline.is_empty()).then_some(&answer.headline),
        "now": reading(&Reading::of(bench.before)),
        "alternatives": each.collect::<Value>(),
    })
}
