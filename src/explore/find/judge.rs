//! What is wrong with a build, and what a search learns from that.

use super::floor::Floor;
use super::lessons::{self, Lesson};
use super::tally::Tally;
use super::target::steps;
use super::walk::Walk;
use super::{Because, FoundBuild, Request, Space, Target};
use crate::assessment::{AssessError, Assessment, FigureValue, assess_beside};
use crate::bill::floor::{Coins, up};
use crate::build::{Axis, Build, Picked, Value, edit};
use crate::explore::reading::{Measure, Reading};
use crate::rules::{self, RuleId, narrower};

/// Rules whose finding on an axis stays when its load grows heavier.
const WEAK: &[&str] = &[
    "thrust-too-low",
    "feed-out-of-reach",
    "z-drops",
    "rack-or-belt-overloaded",
];

impl Walk<'_, '_, '_> {
    /// Takes choices off a lesson that it hangs on no more than by their mass: where an axis is
    /// too weak with the lightest load that its axes can be, it is so with every other.
    pub(super) fn narrow(
        &mut self,
        lesson: &mut Lesson,
        options: &[usize],
        tally: &mut Tally,
    ) -> Result<(), AssessError> {
        let Some(axis) = lesson.weak else {
            return Ok(());
        };
        // How an end is held decides whether this rule or one on speed speaks.
        let kept = match &lesson.because {
            Because::Rule(rule) if *rule == "feed-out-of-reach" => Some(axis.choice("ends")),
            _ => None,
        };
        for mut light in self.light[axis].clone() {
            light.retain(|(turn, _)| kept.as_deref() != Some(self.space.free[*turn].choice.id));
            let mut lighter = options.to_vec();
            for &(turn, option) in &light {
                lighter[turn] = option;
            }
            let build = self.build(&lighter);
            let assessment = self.assess(&build, tally)?;
            tally.look();
            let reading = Reading::of(&assessment);
            let found = self.faults(&build, &assessment, &reading, tally);
            let same = |one: &&Lesson| one.because == lesson.because && one.weak == lesson.weak;
            if let Some(same) = found.iter().find(same) {
                let gone = |turn: &usize| light.iter().any(|(one, _)| one == turn);
                lesson.scope.retain(|turn| !gone(turn));
                lesson.value = same.value;
                return Ok(());
            }
        }
        Ok(())
    }

    /// Assesses a build, keeps it where it is the best so far, and tells why it is out, cost
    /// apart, and what it costs.
    pub(super) fn judge(
        &mut self,
        build: &Build,
        tally: &mut Tally,
    ) -> Result<(Vec<Lesson>, Coins), AssessError> {
        let assessment = self.assess(build, tally)?;
        tally.look();
        let reading = Reading::of(&assessment);
        let lessons = self.faults(build, &assessment, &reading, tally);
        let cost = up(reading.cost.likely, reading.cost.currency);
        let cheaper = tally.cap(self.request).is_none_or(|(cap, _)| cost < cap);
        if lessons.is_empty() && cheaper {
            tally.best = Some(FoundBuild {
                edits: edit::difference(self.bench.build, build),
                build: build.clone(),
                reading,
                assessment,
            });
        }
        Ok((lessons, cost))
    }

    /// The assessment of a build, beside the best so far, which it differs least from.
    fn assess(&self, build: &Build, tally: &Tally) -> Result<Assessment, AssessError> {
        let bench = self.bench;
        let best = tally.best.as_ref();
        let known = best.map_or((bench.build, bench.before), |best| {
            (&best.build, &best.assessment)
        });
        assess_beside(bench.catalogue, build, bench.today, known)
    }

    /// Why a build is out, cost apart.
    fn faults(
        &mut self,
        build: &Build,
        assessment: &Assessment,
        reading: &Reading,
        tally: &Tally,
    ) -> Vec<Lesson> {
        let space = self.space;
        let mut found = Vec::new();
        let picked = Picked::new(self.bench.catalogue, build).ok();
        for finding in assessment.grave() {
            let scope = lessons::of_rule(space, &finding.rule, finding.axis, build);
            let mut scope = scope.unwrap_or_else(|| lessons::turns(space, |_| true));
            if let Some(picked) = &picked {
                for list in narrower(&finding.rule, picked, &assessment.machine) {
                    let turns = lessons::turns(space, |choice| {
                        lessons::is_elsewhere(choice) || list.iter().any(|id| id == choice.id)
                    });
                    if turns.len() < scope.len() {
                        scope = turns;
                    }
                }
            }
            if scope.is_empty() && !self.fixed.contains(finding) {
                self.fixed.push(finding.clone());
            }
            found.push(Lesson {
                because: Because::Rule(finding.rule.clone()),
                scope,
                value: None,
                weak: finding
                    .axis
                    .filter(|_| WEAK.contains(&finding.rule.as_str())),
            });
        }
        for (place, target) in self.request.targets.iter().enumerate() {
            if target.is_met(assessment, reading) {
                continue;
            }
            let because = Because::Target(place);
            match target {
                Target::Figure(Measure::Cost, _) => {}
                Target::Figure(measure, _) => {
                    self.poor(&mut found, because, *measure, reading, tally)
                }
                Target::Rapids(axis, _) => {
                    let number = reading.rapid(*axis).number;
                    found.push(Lesson::of_rapids(self.space, because, *axis, number));
                }
                Target::Cuts(..) => found.push(Lesson::plain(because, lessons::of_cuts(space))),
                Target::Width(_) | Target::Depth(_) => {
                    found.push(Lesson::plain(because, lessons::of_footprint(space)))
                }
                Target::Has(part) => {
                    found.push(Lesson::plain(because, lessons::naming(space, part)))
                }
                // A caution may go when something else brings what it follows from, so that no
                // list of choices decides their number. Options that name an unwanted part are
                // out by themselves.
                Target::Cautions(_) | Target::Without(_) => {
                    found.push(Lesson::plain(because, lessons::turns(space, |_| true)))
                }
            }
        }
        if let (Some(above), Some(measure)) = (tally.above, self.request.against) {
            let value = reading.value(measure);
            if value.is_none_or(|value| steps(&value) <= above) {
                self.poor(&mut found, Because::NoBetter, measure, reading, tally);
            }
        }
        found
    }

    /// Why a figure is too poor: of rapids each axis that is too slow by itself.
    fn poor(
        &self,
        found: &mut Vec<Lesson>,
        because: Because,
        measure: Measure,
        reading: &Reading,
        tally: &Tally,
    ) {
        let as_kept = |number: f64, value: &FigureValue| match because {
            Because::NoBetter => {
                let value = FigureValue { number, ..*value };
                steps(&value) as f64
            }
            _ => number,
        };
        let Some(value) = reading.value(measure) else {
            found.push(Lesson::plain(
                because,
                lessons::of_measure(self.space, measure),
            ));
            return;
        };
        if measure != Measure::Rapids {
            found.push(Lesson {
                scope: lessons::of_measure(self.space, measure),
                value: Some(as_kept(value.number, &value)),
                weak: None,
                because,
            });
            return;
        }
        for axis in [Axis::X, Axis::Y] {
            let number = reading.rapid(axis).number;
            let kept = as_kept(number, &value);
            if !holds(self.request, tally.above, &because, kept) {
                let because = because.clone();
                found.push(Lesson::of_rapids(self.space, because, axis, kept));
            }
        }
    }
}

/// Options that are out by themselves: parts without a price, and parts that must not be.
pub(super) fn barred(
    request: &Request,
    space: &Space,
    floor: &Floor,
) -> Vec<((usize, usize), Because)> {
    let unpriced = floor.unpriced.iter();
    let rule = rules::find("price-missing").map(RuleId::BuiltIn);
    let because = rule.map_or(Because::Follows, Because::Rule);
    let mut found: Vec<_> = unpriced.map(|&one| (one, because.clone())).collect();
    for (place, target) in request.targets.iter().enumerate() {
        let Target::Without(part) = target else {
            continue;
        };
        for (turn, free) in space.free.iter().enumerate() {
            let named = Value::Part(Some(*part));
            if let Some(option) = free.options.iter().position(|one| *one == named) {
                found.push(((turn, option), Because::Target(place)));
            }
        }
    }
    found
}

/// Whether a figure of a lesson is good enough by now.
pub(super) fn holds(request: &Request, above: Option<i64>, because: &Because, value: f64) -> bool {
    match because {
        Because::Target(place) => match request.targets.get(*place) {
            Some(Target::Figure(measure, bound)) => measure.is_met(value, *bound),
            Some(Target::Rapids(_, bound)) => Measure::Rapids.is_met(value, *bound),
            _ => false,
        },
        Because::NoBetter => above.is_none_or(|above| value as i64 > above),
        Because::Dearer | Because::Follows | Because::Rule(_) => false,
    }
}
