//! Which choices the findings are about: the choices that may lift them. From this follow
//! the marks of the rows and those of the steps, so that a step is never marked without a
//! row of it saying why.

use std::collections::HashMap;
use std::rc::Rc;

use jiff::civil::Date;

use crate::assessment::Assessment;
use crate::build::choices::{self, Choice};
use crate::build::{Axis, Build, Picked};
use crate::catalogue::{Catalogue, Step};
use crate::order::Order as _;
use crate::rules::topics::{Topic, topics};
use crate::rules::{self, Facts, Finding, RuleId, Severity, own};

/// What the findings of one assessment are about.
#[derive(Default)]
pub struct About {
    /// The assessment that this was derived from.
    of: Option<Rc<Assessment>>,
    /// The findings as people read them.
    topics: Vec<Topic>,
    /// For each finding the choices that may lift it, the one to mark first.
    choices: Vec<Vec<&'static Choice>>,
    /// The worst finding that counts, by the id of the choice that it marks.
    rows: HashMap<&'static str, Severity>,
    /// The worst finding that counts, step by step.
    steps: Vec<(Step, Severity)>,
}

impl About {
    /// Derives everything anew where the assessment is another one.
    pub fn follow(
        &mut self,
        catalogue: &Catalogue,
        build: &Build,
        now: &Rc<Assessment>,
        today: Date,
    ) {
        if self.of.as_ref().is_some_and(|of| Rc::ptr_eq(of, now)) {
            return;
        }
        *self = Self {
            of: Some(Rc::clone(now)),
            topics: topics(&now.findings),
            ..Self::default()
        };
        let picked = Picked::new(catalogue, build).ok();
        let facts = picked.as_ref().map(|picked| Facts {
            picked,
            machine: &now.machine,
            bill: &now.bill,
            today,
        });
        for finding in &now.findings {
            let choices = about(finding, facts.as_ref());
            if finding.counts() {
                self.count(finding, choices.first().copied());
            }
            self.choices.push(choices);
        }
    }

    fn count(&mut self, finding: &Finding, choice: Option<&'static Choice>) {
        if let Some(choice) = choice {
            let worst = self.rows.entry(choice.id).or_insert(finding.severity);
            *worst = (*worst).min(finding.severity);
        }
        // One that no choice moves counts where its rule belongs.
        let step = choice.map_or(finding.step, |choice| choice.step);
        self.steps.push((step, finding.severity));
    }

    /// The findings as people read them, the head of each entry before what follows from it.
    pub fn topics(&self) -> &[Topic] {
        &self.topics
    }

    /// The rule that a topic is of, by the place of the topic.
    pub fn rule(&self, topic: usize) -> Option<&RuleId> {
        let findings = &self.of.as_ref()?.findings;
        let first = findings.get(self.topics.get(topic)?.first())?;
        Some(&first.rule)
    }

    /// The choices that may lift a finding, by its place among the findings.
    pub fn choices(&self, finding: usize) -> &[&'static Choice] {
        self.choices.get(finding).map_or(&[], Vec::as_slice)
    }

    /// The worst finding that marks a choice.
    pub fn mark(&self, choice: &Choice) -> Option<Severity> {
        self.rows.get(choice.id).copied()
    }

    /// The worst severity among the findings about choices of a step that nobody accepted; dangers
    /// count even when accepted.
    pub fn worst_of(&self, step: Step) -> Option<Severity> {
        let of_step = self.steps.iter().filter(|(other, _)| *other == step);
        of_step.map(|(_, severity)| *severity).min()
    }
}

/// The choices that may lift a finding: those that its rule would change, best first, then
/// the one that its example turns on. The rule's own step comes before the others. One's own rule
/// is about the choices of its conditions.
fn about(finding: &Finding, facts: Option<&Facts>) -> Vec<&'static Choice> {
    let rule = match &finding.rule {
        RuleId::BuiltIn(rule) => rule,
        // It names its choices itself, and the first one is the one to mark.
        RuleId::Own(rule) => return own::choices_of(rule),
    };
    let candidates = facts.map_or_else(Vec::new, |facts| rules::candidates(facts, finding));
    let mut choices: Vec<&'static Choice> = Vec::new();
    let mut add = |choice: &'static Choice| {
        if choices.iter().all(|known| known.id != choice.id) {
            choices.push(choice);
        }
    };
    candidates
        .iter()
        .flatten()
        .for_each(|edit| add(edit.choice));
    let example = of_axis(rule.example.choice, finding.axis);
    if let Some(choice) = choices::of_id(&example) {
        add(choice);
    }
    choices.order_by_key(|choice| choice.step != finding.step);
    choices
}

/// The id of a choice, turned to an axis where it exists once for each.
fn of_axis(id: &str, axis: Option<Axis>) -> String {
    let Some(axis) = axis else {
        return id.to_owned();
    };
    let words = id.split('_').map(|word| match word {
        "x" | "y" | "z" => axis.letter().to_string(),
        other => other.to_owned(),
    });
    words.collect::<Vec<_>>().join("_")
}
