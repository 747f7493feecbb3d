//! What was chosen so that things fit, and nothing needs any more: a computer with a printer port,
//! where the controller behind it was changed for one on another link.

use super::{Cured, Ward};
use crate::build::{Edit, edit};
use crate::explore::effect::same;
use crate::explore::find::Answer;
use crate::explore::reading::Reading;
use crate::explore::trial::{Bench, is_bought};
use crate::rules::{Finding, Severity};

impl Ward<'_> {
    /// Takes back what neither an answer nor the search chose, as far as that saves money, brings
    /// nothing worse than a hint and leaves every limit met. Whether anything was taken back.
    pub(super) fn take_back(&self, cured: &mut Cured) -> bool {
        let mut some = false;
        for made in edit::difference(&cured.answer.build, &self.plan.answers.build()) {
            if let Some(answer) = self.without(&cured.answer, &made) {
                cured.answer = answer;
                for cure in &mut cured.cures {
                    cure.edits.retain(|edit| edit.choice.id != made.choice.id);
                }
                cured.cures.retain(|cure| !cure.edits.is_empty());
                some = true;
            }
        }
        some
    }

    /// A build with one choice as it was before anything was made to fit; none where that does not
    /// do.
    fn without(&self, now: &Answer, back: &Edit) -> Option<Answer> {
        let is_chosen = self.plan.free.iter().any(|free| free.id == back.choice.id);
        let edits = std::slice::from_ref(back);
        if is_chosen || is_bought(&now.build, back.choice) || !self.may(&now.build, edits, None) {
            return None;
        }
        let build = back.applied(&now.build);
        let bench = Bench {
            catalogue: self.catalogue,
            build: &now.build,
            before: &now.assessment,
            today: self.today,
        };
        let assessment = bench.assess(&build).ok()?;
        let reading = Reading::of(&assessment);
        let before = &now.assessment.findings;
        let is_new = |one: &Finding| {
            let counts = one.severity <= Severity::Caution && one.counts();
            counts && !before.iter().any(|known| same(known, one))
        };
        let good = reading.cost.likely < now.reading.cost.likely
            && !assessment.findings.iter().any(is_new)
            && self.keeps(now, (&assessment, &reading));
        good.then(|| Answer {
            edits: edit::difference(&self.plan.build, &build),
            build,
            assessment,
            reading,
        })
    }
}
