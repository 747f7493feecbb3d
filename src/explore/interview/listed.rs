//! What questions offer to pick: options of a choice, and what a workshop may have already.

use jiff::civil::Date;

use super::answers::Answers;
use super::prompts::{Prompt, Takes};
use crate::assessment::{AssessError, assess};
use crate::bill::Bill;
use crate::build::choices::Kind;
use crate::build::{Build, Choice, Edit, Value, choices};
use crate::catalogue::{Catalogue, Id};
use crate::money::show as amounts;
use crate::rules::Severity;

/// The large things that a workshop may have already: the choices that name them.
const LARGE: &[&str] = &["computer", "table", "extractor"];

/// One thing that a question offers to pick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// How it is typed.
    pub id: String,
    /// How people call it.
    pub title: String,
    /// A plain sentence on it; empty where there is none.
    pub plain: String,
}

/// What a question offers to pick, with the answers so far; nothing where it takes a number,
/// money, or yes and no. What may be owned already is what the bill would buy once for the
/// workshop, the large things first, each with what it saves.
///
/// # Errors
/// Where the usual build with the answers cannot be assessed.
pub fn listed(
    prompt: &Prompt,
    answers: &Answers,
    catalogue: &Catalogue,
    today: Date,
) -> Result<Vec<Listed>, AssessError> {
    let id = match prompt.takes {
        Takes::Tools => {
            return owned(answers, catalogue, today);
        }
        Takes::Choices(&[id]) => id,
        _ => return Ok(Vec::new()),
    };
    let Ok(choice) = choices::find(id) else {
        return Ok(Vec::new());
    };
    Ok(options(choice, catalogue))
}

/// What may be owned already.
fn owned(
    answers: &Answers,
    catalogue: &Catalogue,
    today: Date,
) -> Result<Vec<Listed>, AssessError> {
    // What something costs is told whether or not it was said to be there.
    let mut build = answers.build();
    build.purchases.parts.clear();
    suit(&mut build, catalogue, today)?;
    let bill = assess(catalogue, &build, today)?.bill;
    let parts = ownable(&build, &bill).into_iter();
    let lines = parts.filter_map(|part| bill.line(part.as_str()));
    let each = lines.map(|line| Listed {
        id: line.part.to_string(),
        title: line.title.to_string(),
        plain: format!(
            "Have it, and about {} less is spent.",
            amounts::money(line.total.likely, bill.currency)
        ),
    });
    Ok(each.collect())
}

/// Takes large things that suit the answers: an extractor for the voltage at the socket.
fn suit(build: &mut Build, catalogue: &Catalogue, today: Date) -> Result<(), AssessError> {
    let wrong = |build: &Build| {
        let findings = assess(catalogue, build, today)?.findings;
        let wrong = findings
            .iter()
            .filter(|one| one.severity <= Severity::Fault);
        Ok::<_, AssessError>(wrong.count())
    };
    for choice in LARGE.iter().filter_map(|id| choices::find(id).ok()) {
        let mut least = wrong(build)?;
        let options = choice.options(catalogue).into_iter();
        for value in options.filter(|value| *value != Value::Part(None)) {
            let other = Edit { choice, value }.applied(build);
            let its = wrong(&other)?;
            if its < least {
                (*build, least) = (other, its);
            }
        }
    }
    Ok(())
}

/// The parts of a bill that a workshop may have already: the large things first, then what is
/// bought once for it.
pub(super) fn ownable(build: &Build, bill: &Bill) -> Vec<Id> {
    let large = LARGE.iter().filter_map(|id| {
        let choice = choices::find(id).ok()?;
        match (choice.get)(build) {
            Value::Part(part) => part,
            _ => None,
        }
    });
    let mut parts: Vec<Id> = large
        .filter(|part| bill.line(part.as_str()).is_some())
        .collect();
    for line in bill.lines.iter().filter(|line| line.shared) {
        if !parts.contains(&line.part) {
            parts.push(line.part);
        }
    }
    parts
}

fn options(choice: &Choice, catalogue: &Catalogue) -> Vec<Listed> {
    match choice.kind {
        Kind::Flag => Vec::new(),
        Kind::Parts(kind) => {
            let each = catalogue.of_kind(kind).into_iter().map(|part| Listed {
                id: part.id().to_string(),
                title: part.title().to_owned(),
                plain: String::new(),
            });
            each.collect()
        }
        _ => {
            let each = choice.options(catalogue).into_iter().map(|value| Listed {
                id: value.to_string(),
                title: choice.show(&value, catalogue),
                plain: choice.plain(&value, catalogue).unwrap_or_default(),
            });
            each.collect()
        }
    }
}
