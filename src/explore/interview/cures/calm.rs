//! Cautions that no remedy of their own rule lifts for little money, but another part does: a screw
//! in place of a rack, another driver. Of builds that cost as good as the same, the one with
//! fewer cautions is the better first machine.

use rust_decimal::Decimal;

use super::{CHEAP, Course, Cure, Ward, is_calmer, of_each_axis, share};
use crate::build::{Build, Choice, Edit, edit};
use crate::explore::effect::same;
use crate::explore::find::FoundBuild;
use crate::explore::reading::Reading;
use crate::explore::told;
use crate::explore::trial::{Bench, is_bought};
use crate::rules::Finding;

/// How many changes are made in turn at most.
const ROUNDS: usize = 6;

/// A change that leaves fewer cautions.
struct Calmer {
    cure: Cure,
    answer: FoundBuild,
}

impl Calmer {
    /// What it costs for each caution that it lifts.
    fn each(&self) -> Decimal {
        self.cure.price / Decimal::from(self.cure.lifts.len())
    }
}

impl Ward<'_> {
    /// Makes single changes of free choices, with what must go along, that lift cautions for
    /// little money and bring none; the one that costs least for each caution first.
    pub(super) fn calm(&self, course: &mut Course) {
        for _ in 0..ROUNDS {
            let now = course.answer.clone();
            if of_each_axis(&now.assessment.findings).next().is_none() {
                return;
            }
            let (cost, most) = (course.cost, course.left());
            let free = self.plan.free.iter().copied();
            let each = free.filter_map(|choice| self.calmer(choice, &now, cost, most));
            let Some(best) = each.min_by_key(Calmer::each) else {
                return;
            };
            course.spent += best.cure.price;
            course.cures.push(best.cure);
            course.answer = best.answer;
        }
    }

    /// The option of a choice that lifts cautions for the least money; none where none does.
    fn calmer(
        &self,
        choice: &'static Choice,
        now: &FoundBuild,
        cost: Decimal,
        most: Decimal,
    ) -> Option<Calmer> {
        if is_bought(&now.build, choice) {
            return None;
        }
        let bench = Bench {
            catalogue: self.catalogue,
            build: &now.build,
            before: &now.assessment,
            today: self.today,
        };
        let is = (choice.get)(&now.build);
        let options = choice.options(self.catalogue).into_iter();
        let changed = options
            .filter(|value| *value != is)
            .map(|value| Edit { choice, value }.applied(&now.build));
        let each = changed.filter_map(|build| {
            let calmer = self.tried(&bench, now, build, most)?;
            let dear = calmer.each() > share(cost, CHEAP);
            (!dear).then_some(calmer)
        });
        each.min_by_key(Calmer::each)
    }

    /// A changed build with what must go along, where it has fewer cautions, all of them known.
    fn tried(
        &self,
        bench: &Bench,
        now: &FoundBuild,
        build: Build,
        most: Decimal,
    ) -> Option<Calmer> {
        let mut build = build;
        let mut assessment = bench.assess(&build).ok()?;
        let is_dear = |reading: &Reading| reading.cost.likely - now.reading.cost.likely > most;
        if is_dear(&Reading::of(&assessment)) {
            return None;
        }
        if assessment.is_unsound() {
            build = bench.settled(build);
            assessment = bench.assess(&build).ok()?;
        }
        let reading = Reading::of(&assessment);
        let (before, after) = (&now.assessment.findings, &assessment.findings);
        let brings = of_each_axis(after).any(|one| !before.iter().any(|known| same(known, one)));
        let edits = edit::difference(&now.build, &build);
        let good = !assessment.is_unsound()
            && !brings
            && is_calmer(now, (&assessment, &reading))
            && !is_dear(&reading)
            && self.keeps(now, (&assessment, &reading))
            && self.may(&now.build, &edits, None);
        if !good {
            return None;
        }
        let gone = of_each_axis(before).filter(|one| !after.iter().any(|left| same(left, one)));
        let lifts: Vec<Finding> = gone.cloned().collect();
        (!lifts.is_empty()).then(|| Calmer {
            cure: Cure {
                lost: told::lost(&now.build, &edits),
                edits,
                lifts,
                price: reading.cost.likely - now.reading.cost.likely,
            },
            answer: FoundBuild {
                edits: edit::difference(&self.plan.build, &build),
                build,
                assessment,
                reading,
            },
        })
    }
}
