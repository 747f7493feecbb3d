//! The walk through all combinations: one choice after the other, in the order in which masses
//! and forces flow, the cheapest option first. What the floor or a lesson excludes is counted
//! and passed over; what is left at the end of a way is assessed.

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::floor::{Floor, Partial};
use super::lessons::{self, Lesson, Lessons};
use super::target::{more_is_better, steps};
use super::{Answer, Because, Found, Progress, Request, Space, Target, usual};
use crate::assessment::{AssessError, Assessment, assess};
use crate::bill::floor::{Hundredths, Shop};
use crate::build::{Axis, Build, Picked, edit};
use crate::explore::reading::{Measure, Reading};
use crate::explore::trial::Bench;
use crate::rules::{Finding, Severity};
use crate::units;

/// How many steps of the walk go by between two reports.
const REPORT: u64 = 4096;

/// See [`super::find`].
pub(super) fn run(
    bench: &Bench,
    request: &Request,
    watch: &mut dyn FnMut(&Progress) -> ControlFlow<()>,
) -> Result<Found, AssessError> {
    let choices = match request.free.is_empty() {
        true => usual(bench.catalogue),
        false => request.free.clone(),
    };
    let mut space = Space::new(bench.catalogue, bench.build, &choices);
    space.free.sort_by_key(|one| turn_of(one.choice.id));
    let picked = Picked::new(bench.catalogue, bench.build)?;
    let shop = Shop::new(&picked, bench.today)?;
    let floor = Floor::new(&picked, shop, bench.build, &space)?;
    let mut walk = Walk::new(bench, request, &space, &floor, watch);
    walk.probe(bench.build)?;
    let mut answers: Vec<Answer> = Vec::new();
    loop {
        walk.go()?;
        let Some(answer) = walk.best.take() else {
            break;
        };
        let against = request.against;
        let figure = against.and_then(|measure| answer.reading.value(measure));
        // One that costs as much and is better takes the place of the one before.
        let same = |last: &Answer| last.reading.cost.likely == answer.reading.cost.likely;
        if answers.last().is_some_and(same) {
            answers.pop();
        }
        answers.push(answer);
        walk.above = figure.map(|value| steps(&value));
        if walk.above.is_none() || walk.cancelled {
            break;
        }
    }
    let (assessed, excluded) = (walk.assessed, std::mem::take(&mut walk.excluded));
    let (fixed, cancelled, searches) = (
        std::mem::take(&mut walk.fixed),
        walk.cancelled,
        walk.searches,
    );
    let leaves = walk.leaves;
    let excluded = excluded.into_iter().collect();
    Ok(Found {
        assessed,
        leaves,
        searches,
        excluded,
        answers,
        relaxed: Vec::new(),
        fixed,
        cancelled,
        space,
    })
}

/// Where a choice stands in the order: what is carried comes before what carries it, so that
/// lessons about an axis are known before the next one is looked at.
fn turn_of(id: &str) -> usize {
    const FIRST: &[&str] = &[
        "spindle",
        "vfd",
        "spindle_clamp",
        "cooler",
        "tool",
        "controller",
        "supply",
        "gantry_drive",
        "preloaded_nuts",
    ];
    const OF_AXIS: &[&str] = &["guide", "drive", "ends", "motor", "coupling", "driver"];
    if let Some(place) = FIRST.iter().position(|one| *one == id) {
        return place;
    }
    let axes = [Axis::Z, Axis::X, Axis::Y];
    let own = axes.iter().enumerate().find_map(|(round, axis)| {
        let named = |name: &&str| axis.choice(name) == id;
        let place = OF_AXIS.iter().position(named)?;
        Some(100 + round * 10 + place)
    });
    match id {
        "drive_y2" => 121,
        _ => own.unwrap_or(1000),
    }
}

/// The walk with all that it knows.
struct Walk<'w, 'a, 'c> {
    bench: &'w Bench<'w>,
    request: &'w Request,
    space: &'w Space,
    floor: &'w Floor<'a, 'c>,
    watch: &'w mut dyn FnMut(&Progress) -> ControlFlow<()>,
    lessons: Lessons,
    /// The options of each choice in the order in which they are tried.
    tried: Vec<Vec<usize>>,
    /// Combinations of all choices from a turn on.
    behind: Vec<u128>,
    /// The figure that money is traded for must be above this, in steps.
    above: Option<i64>,
    best: Option<Answer>,
    assessed: u64,
    leaves: u128,
    searches: u32,
    excluded: BTreeMap<Because, u128>,
    covered: u128,
    fixed: Vec<Finding>,
    cancelled: bool,
}

impl<'w, 'a, 'c> Walk<'w, 'a, 'c> {
    fn new(
        bench: &'w Bench<'w>,
        request: &'w Request,
        space: &'w Space,
        floor: &'w Floor<'a, 'c>,
        watch: &'w mut dyn FnMut(&Progress) -> ControlFlow<()>,
    ) -> Self {
        let mut behind = vec![1; space.free.len() + 1];
        for (turn, one) in space.free.iter().enumerate().rev() {
            behind[turn] = u128::saturating_mul(behind[turn + 1], one.options.len() as u128);
        }
        let mut partial = Partial::new(floor, space);
        let tried = (space.free.iter().enumerate()).map(|(turn, one)| {
            let mut priced: Vec<(Hundredths, usize)> = Vec::new();
            for option in 0..one.options.len() {
                partial.make(turn, option);
                priced.push((partial.least(), option));
                partial.open();
            }
            priced.sort_unstable();
            priced.into_iter().map(|(_, option)| option).collect()
        });
        Self {
            tried: tried.collect(),
            lessons: Lessons::new(space),
            bench,
            request,
            space,
            floor,
            watch,
            behind,
            above: None,
            best: None,
            assessed: 0,
            leaves: 0,
            searches: 0,
            excluded: BTreeMap::new(),
            covered: 0,
            fixed: Vec::new(),
            cancelled: false,
        }
    }

    /// Looks for the cheapest build; what earlier walks learned is kept.
    fn go(&mut self) -> Result<(), AssessError> {
        self.searches += 1;
        self.covered = 0;
        let turns = self.space.free.len();
        let mut partial = Partial::new(self.floor, self.space);
        let mut options = vec![0; turns];
        let mut places = vec![0; turns];
        let (mut turn, mut steps) = (0, 0_u64);
        if turns == 0 {
            return self.leaf(&options).map(|_| ());
        }
        loop {
            steps += 1;
            if steps.is_multiple_of(REPORT) && self.report() {
                return Ok(());
            }
            if places[turn] == self.tried[turn].len() {
                places[turn] = 0;
                if turn == 0 {
                    return Ok(());
                }
                turn -= 1;
                partial.open();
                places[turn] += 1;
                continue;
            }
            let option = self.tried[turn][places[turn]];
            options[turn] = option;
            partial.make(turn, option);
            if let Some(because) = self.out(turn, &options, partial.least()) {
                self.exclude(because, self.behind[turn + 1]);
            } else if turn + 1 < turns {
                turn += 1;
                continue;
            } else {
                let back = self.leaf(&options)?;
                partial.open();
                if self.cancelled {
                    return Ok(());
                }
                if let Some((because, to)) = back {
                    let Some(to) = to else {
                        return Ok(());
                    };
                    while turn > to {
                        let left = self.tried[turn].len() - places[turn] - 1;
                        self.exclude(because.clone(), left as u128 * self.behind[turn + 1]);
                        places[turn] = 0;
                        turn -= 1;
                        partial.open();
                    }
                }
                places[turn] += 1;
                continue;
            }
            partial.open();
            places[turn] += 1;
        }
    }

    /// Why every build with these options up to a turn is out, where it is.
    fn out(&self, turn: usize, options: &[usize], least: Hundredths) -> Option<Because> {
        if (self.floor.unpriced)
            .binary_search(&(turn, options[turn]))
            .is_ok()
        {
            return Some(Because::Rule("price-missing"));
        }
        if self.cap().is_some_and(|(cap, _)| least >= cap) {
            return self.cap().map(|(_, because)| because);
        }
        let holds = |because: &Because, value| self.holds(because, value);
        self.lessons.exclude(turn, options, holds).cloned()
    }

    /// What a build must cost less than, in hundredths, and why.
    fn cap(&self) -> Option<(Hundredths, Because)> {
        let best = self.best.as_ref().map(|best| {
            let likely = best.reading.cost.likely;
            (up(likely), Because::Dearer)
        });
        let targets = self.request.targets.iter().enumerate();
        let budget = targets.filter_map(|(place, target)| match target {
            Target::Figure(Measure::Cost, most) => {
                let cap = (most * 100.0).floor() as Hundredths + 1;
                Some((cap, Because::Target(place)))
            }
            _ => None,
        });
        best.into_iter().chain(budget).min()
    }

    /// Whether a figure of a lesson is good enough by now.
    fn holds(&self, because: &Because, value: f64) -> bool {
        match because {
            Because::Target(place) => match self.request.targets.get(*place) {
                Some(Target::Figure(measure, bound)) if more_is_better(*measure) => value >= *bound,
                Some(Target::Figure(_, bound)) => value <= *bound,
                _ => false,
            },
            Because::NoBetter => self.above.is_none_or(|above| value as i64 > above),
            Because::Dearer | Because::Rule(_) => false,
        }
    }

    fn exclude(&mut self, because: Because, combinations: u128) {
        if combinations > 0 {
            *self.excluded.entry(because).or_default() += combinations;
            self.covered += combinations;
        }
    }

    fn build(&self, options: &[usize]) -> Build {
        let mut build = self.bench.build.clone();
        for (free, &option) in self.space.free.iter().zip(options) {
            free.choice.put(&mut build, &free.options[option]);
        }
        build
    }

    /// Assesses a whole combination; where it is out, why, and the turn that must change
    /// before anything can be better, if any can.
    fn leaf(&mut self, options: &[usize]) -> Result<Option<(Because, Option<usize>)>, AssessError> {
        let build = self.build(options);
        self.leaves += 1;
        self.covered += 1;
        let lessons = self.judge(build)?;
        if self.assessed.is_multiple_of(64) && self.report() {
            return Ok(None);
        }
        let back = lessons
            .iter()
            .min_by_key(|one| one.scope.last().map(|last| last + 1));
        let back = back.map(|one| (one.because.clone(), one.scope.last().copied()));
        for lesson in lessons {
            self.lessons.learn(lesson, options);
        }
        Ok(back)
    }

    /// Looks at a build that is not on the way, so that there is something to beat.
    fn probe(&mut self, build: &Build) -> Result<(), AssessError> {
        self.judge(build.clone()).map(|_| ())
    }

    /// Assesses a build, keeps it where it is the best so far, and tells why it is out.
    fn judge(&mut self, build: Build) -> Result<Vec<Lesson>, AssessError> {
        let assessment = assess(self.bench.catalogue, &build, self.bench.today)?;
        self.assessed += 1;
        let reading = Reading::of(&assessment);
        let lessons = self.faults(&build, &assessment, &reading);
        let cheaper = self
            .cap()
            .is_none_or(|(cap, _)| up(reading.cost.likely) < cap);
        if lessons.is_empty() && cheaper {
            self.best = Some(Answer {
                edits: edit::difference(self.bench.build, &build),
                build,
                reading,
                assessment,
            });
        }
        Ok(lessons)
    }

    /// Why a build is out, cost apart.
    fn faults(&mut self, build: &Build, assessment: &Assessment, reading: &Reading) -> Vec<Lesson> {
        let space = self.space;
        let mut found = Vec::new();
        let bad = |one: &&Finding| one.severity <= Severity::Fault && one.counts();
        for finding in assessment.findings.iter().filter(bad) {
            let scope = lessons::of_rule(space, finding.rule, finding.axis, build);
            let scope = scope.unwrap_or_else(|| lessons::turns(space, |_| true));
            if scope.is_empty() && !self.fixed.contains(finding) {
                self.fixed.push(finding.clone());
            }
            found.push(Lesson {
                because: Because::Rule(finding.rule),
                scope,
                value: None,
            });
        }
        for (place, target) in self.request.targets.iter().enumerate() {
            if target.is_met(assessment, reading) {
                continue;
            }
            let because = Because::Target(place);
            match target {
                Target::Figure(Measure::Cost, _) => {}
                Target::Figure(measure, _) => self.poor(&mut found, because, *measure, reading),
                Target::Cuts(..) => found.push(Lesson {
                    because,
                    scope: lessons::of_cuts(space),
                    value: None,
                }),
                Target::Width(_) | Target::Depth(_) => found.push(Lesson {
                    because,
                    scope: lessons::of_footprint(space),
                    value: None,
                }),
                Target::Has(_) | Target::Without(_) => found.push(Lesson {
                    because,
                    scope: lessons::turns(space, |_| true),
                    value: None,
                }),
            }
        }
        if let (Some(above), Some(measure)) = (self.above, self.request.against) {
            let value = reading.value(measure);
            if value.is_none_or(|value| steps(&value) <= above) {
                self.poor(&mut found, Because::NoBetter, measure, reading);
            }
        }
        found
    }

    /// Why a figure is too poor: of rapids each axis that is too slow by itself.
    fn poor(&self, found: &mut Vec<Lesson>, because: Because, measure: Measure, reading: &Reading) {
        let as_kept = |number: f64, value: &crate::assessment::FigureValue| match because {
            Because::NoBetter => {
                let value = crate::assessment::FigureValue { number, ..*value };
                steps(&value) as f64
            }
            _ => number,
        };
        let Some(value) = reading.value(measure) else {
            found.push(Lesson {
                because,
                scope: lessons::of_measure(self.space, measure),
                value: None,
            });
            return;
        };
        if measure != Measure::Rapids {
            found.push(Lesson {
                scope: lessons::of_measure(self.space, measure),
                value: Some(as_kept(value.number, &value)),
                because,
            });
            return;
        }
        for axis in [Axis::X, Axis::Y] {
            let number = units::m_per_min::from(reading.rapids[axis].0);
            let kept = as_kept(number, &value);
            if !self.holds(&because, kept) {
                found.push(Lesson {
                    because: because.clone(),
                    scope: lessons::of_rapids(self.space, axis),
                    value: Some(kept),
                });
            }
        }
    }

    /// Tells how far it has come; whether it is to stop.
    fn report(&mut self) -> bool {
        let progress = Progress {
            combinations: self.behind[0],
            covered: self.covered,
            assessed: self.assessed,
            best: self.best.as_ref(),
        };
        self.cancelled |= (self.watch)(&progress).is_break();
        self.cancelled
    }
}

/// An amount in hundredths, rounded up.
fn up(amount: Decimal) -> Hundredths {
    let hundredths = amount.checked_mul(Decimal::ONE_HUNDRED);
    let whole = hundredths.and_then(|amount| amount.ceil().to_i64());
    whole.unwrap_or(Hundredths::MAX)
}
