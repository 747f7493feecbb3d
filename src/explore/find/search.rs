//! The walk through all combinations: one choice after the other, in the order in which masses
//! and forces flow, the cheapest option first. What the floor or a lesson excludes is counted
//! and passed over; what is left at the end of a way is assessed.

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::floor::{Floor, Partial};
use super::lessons::{self, Lesson, Lessons};
use super::spares::Spares;
use super::target::{more_is_better, steps};
use super::{Answer, Because, Found, Progress, Request, Space, Target, usual};
use crate::assessment::{AssessError, Assessment, assess};
use crate::bill::floor::{Hundredths, Shop};
use crate::build::{Axis, Build, PerAxis, Picked, edit};
use crate::explore::reading::{Measure, Reading};
use crate::explore::trial::Bench;
use crate::rules::{Finding, Severity};
use crate::units;

/// Derived lessons of more choices than this are not kept: they seldom hold again.
const FEW: u32 = 9;

/// Lessons of so many choices at most are small.
const SMALL: usize = 8;

/// Rules whose finding on an axis stays when its load grows heavier.
const WEAK: &[&str] = &["thrust-too-low", "feed-out-of-reach", "z-drops"];

/// The same of what is known of costs.
const MANY: u32 = 14;

/// The choices of an axis, in the order in which they are made.
const OF_AXIS: &[&str] = &["guide", "drive", "ends", "motor", "coupling", "driver"];

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
    spares: Spares,
    /// For each axis ways to make its load lighter: all that it carries, and of that what
    /// weighs least.
    light: PerAxis<Vec<Vec<(usize, usize)>>>,
    /// The choices that share a named need with one from a turn on, a bit for each.
    context: Vec<u128>,
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
        let mut context = vec![0; space.free.len()];
        for turn in (0..space.free.len()).rev() {
            let beside = floor.beside(turn).fold(0, |bits, one| bits | bit(one));
            context[turn] = beside | context.get(turn + 1).unwrap_or(&0);
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
            spares: Spares::new(space),
            light: PerAxis::from_fn(|axis| lightest(floor, space, axis)),
            context,
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
        let mut way = Way::new(Partial::new(self.floor, self.space), turns);
        let mut aside = Partial::new(self.floor, self.space);
        if turns == 0 {
            self.leaves += 1;
            self.covered += 1;
            return self.judge(self.bench.build).map(|_| ());
        }
        let mut steps = 0_u64;
        loop {
            steps += 1;
            if steps.is_multiple_of(REPORT) && self.report() {
                return Ok(());
            }
            let turn = way.turn;
            let Some(&option) = self.tried[turn].get(way.places[turn]) else {
                if !self.back(&mut way, &mut aside) {
                    return Ok(());
                }
                continue;
            };
            way.make(option);
            let mut exit = self.exit(&way);
            if exit.is_none() {
                if turn + 1 < turns {
                    way.turn += 1;
                    continue;
                }
                exit = Some(self.leaf(&way)?);
            } else if let Some(exit) = &exit {
                self.exclude(exit.because.clone(), self.behind[turn + 1]);
            }
            let Some(exit) = exit else { continue };
            way.partial.open();
            way.places[turn] += 1;
            if self.cancelled {
                return Ok(());
            }
            way.take(&exit);
            if exit.spare.is_none() && exit.blame & bit(turn) == 0 {
                // No other option here helps, and what was tried before is beside the point.
                self.skip(&way, turn, &exit.because);
                way.places[turn] = self.tried[turn].len();
                way.blame[turn] = exit.blame;
                way.spare[turn] = None;
            }
        }
    }

    /// Goes back to the last choice that is to blame for that no option is left: the others
    /// between would change nothing. Whether there is any.
    fn back(&mut self, way: &mut Way<'_, '_, '_>, aside: &mut Partial) -> bool {
        let from = way.turn;
        let (mut blame, spare) = (way.blame[from], way.spare[from]);
        way.clear();
        if spare.is_some() {
            blame |= self.context[from] & before(from);
        }
        self.keep(from, blame, spare, &way.options);
        let reach = match spare {
            None => blame,
            Some(spare) => self.reach(way, aside, from, blame, spare),
        };
        loop {
            if way.turn == 0 {
                return false;
            }
            way.turn -= 1;
            let gained = way.gained();
            way.partial.open();
            way.places[way.turn] += 1;
            if reach & bit(way.turn) != 0 {
                if spare.is_some() && way.turn + 1 < from {
                    self.keep(way.turn + 1, blame, spare, &way.options);
                }
                // The choices between are open: what they could add is left out.
                way.take(&Exit {
                    because: Because::Follows,
                    blame,
                    spare: spare.map(|spare| gained + spare),
                });
                return true;
            }
            self.skip(way, way.turn, &Because::Follows);
            way.clear();
        }
    }

    /// Keeps what was found out about all that comes from a turn on.
    fn keep(&mut self, turn: usize, blame: u128, spare: Option<Hundredths>, options: &[usize]) {
        let scope = (0..turn).filter(|&one| blame & bit(one) != 0);
        match spare {
            None if blame.count_ones() <= FEW => {
                let lesson = Lesson {
                    because: Because::Follows,
                    scope: scope.collect(),
                    value: None,
                    weak: None,
                };
                self.lessons.learn(lesson, options);
            }
            Some(spare) if blame.count_ones() <= MANY => {
                self.spares.learn(turn, scope.collect(), spare, options);
            }
            _ => {}
        }
    }

    /// The choices before a turn that are to blame for that nothing from it on is cheap
    /// enough: those that raised the floor, where they alone, all others open, leave too
    /// little; else all.
    fn reach(
        &self,
        way: &Way<'_, '_, '_>,
        aside: &mut Partial,
        turn: usize,
        blame: u128,
        spare: Hundredths,
    ) -> u128 {
        let blamed = blame | (way.raised & before(turn));
        let helps = turn > 0 && blamed & bit(turn - 1) == 0;
        let Some((cap, _)) = self.cap().filter(|_| helps) else {
            return before(turn);
        };
        let mut made = 0;
        for one in (0..turn).filter(|&one| blamed & bit(one) != 0) {
            aside.make(one, way.options[one]);
            made += 1;
        }
        let enough = aside.least() + spare >= cap;
        (0..made).for_each(|_| aside.open());
        if enough { blamed } else { before(turn) }
    }

    /// Counts the options that are left at a turn as excluded.
    fn skip(&mut self, way: &Way<'_, '_, '_>, turn: usize, because: &Because) {
        let left = self.tried[turn].len() - way.places[turn];
        self.exclude(because.clone(), left as u128 * self.behind[turn + 1]);
    }

    /// Why every build with the options that are made is out, where it is.
    fn exit(&self, way: &Way<'_, '_, '_>) -> Option<Exit> {
        let (turn, options) = (way.turn, &way.options);
        if (self.floor.unpriced)
            .binary_search(&(turn, options[turn]))
            .is_ok()
        {
            return Some(Exit {
                because: Because::Rule("price-missing"),
                blame: bit(turn),
                spare: None,
            });
        }
        let holds = |because: &Because, value| self.holds(because, value);
        if let Some((because, blame)) = self.lessons.exclude(turn, options, holds) {
            return Some(Exit {
                because: because.clone(),
                blame,
                spare: None,
            });
        }
        let (cap, because) = self.cap()?;
        let (least, gained) = (way.partial.least(), way.gained());
        if least >= cap {
            return Some(Exit {
                because,
                blame: 0,
                spare: Some(gained),
            });
        }
        let (spare, blame) = self.spares.least(turn + 1, options, cap - least)?;
        Some(Exit {
            because,
            blame,
            spare: Some(gained + spare),
        })
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
            Because::Dearer | Because::Follows | Because::Rule(_) => false,
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

    /// Assesses a whole combination. Where it is out, of several reasons the one that reaches
    /// back farthest; where it is sound, whatever comes now must be cheaper.
    fn leaf(&mut self, way: &Way<'_, '_, '_>) -> Result<Exit, AssessError> {
        let build = self.build(&way.options);
        self.leaves += 1;
        self.covered += 1;
        let mut lessons = self.judge(&build)?;
        // A lesson of few choices is worth more than all others together.
        if lessons.iter().any(|one| one.scope.len() <= SMALL) {
            lessons.retain(|one| one.scope.len() <= SMALL);
        } else {
            for lesson in &mut lessons {
                self.narrow(lesson, &way.options)?;
            }
        }
        if self.assessed.is_multiple_of(64) {
            self.report();
        }
        let first = lessons
            .iter()
            .min_by_key(|one| one.scope.last().map(|last| last + 1));
        let exit = match first {
            Some(one) => Exit {
                because: one.because.clone(),
                blame: one.scope.iter().fold(0, |blame, &turn| blame | bit(turn)),
                spare: None,
            },
            None => Exit {
                because: Because::Dearer,
                blame: 0,
                spare: Some(way.gained()),
            },
        };
        for lesson in lessons {
            self.lessons.learn(lesson, &way.options);
        }
        Ok(exit)
    }

    /// Takes choices off a lesson that it hangs on no more than by their mass: where an axis is
    /// too weak with the lightest load that its axes can be, it is so with every other.
    fn narrow(&mut self, lesson: &mut Lesson, options: &[usize]) -> Result<(), AssessError> {
        let Some(axis) = lesson.weak else {
            return Ok(());
        };
        for light in self.light[axis].clone() {
            let mut lighter = options.to_vec();
            for &(turn, option) in &light {
                lighter[turn] = option;
            }
            let build = self.build(&lighter);
            let assessment = assess(self.bench.catalogue, &build, self.bench.today)?;
            self.assessed += 1;
            let reading = Reading::of(&assessment);
            let found = self.faults(&build, &assessment, &reading);
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

    /// Looks at a build that is not on the way, so that there is something to beat.
    fn probe(&mut self, build: &Build) -> Result<(), AssessError> {
        self.judge(build).map(|_| ())
    }

    /// Assesses a build, keeps it where it is the best so far, and tells why it is out.
    fn judge(&mut self, build: &Build) -> Result<Vec<Lesson>, AssessError> {
        let assessment = assess(self.bench.catalogue, build, self.bench.today)?;
        self.assessed += 1;
        let reading = Reading::of(&assessment);
        let lessons = self.faults(build, &assessment, &reading);
        let cheaper = self
            .cap()
            .is_none_or(|(cap, _)| up(reading.cost.likely) < cap);
        if lessons.is_empty() && cheaper {
            self.best = Some(Answer {
                edits: edit::difference(self.bench.build, build),
                build: build.clone(),
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
                weak: finding.axis.filter(|_| WEAK.contains(&finding.rule)),
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
                    weak: None,
                }),
                Target::Width(_) | Target::Depth(_) => found.push(Lesson {
                    because,
                    scope: lessons::of_footprint(space),
                    value: None,
                    weak: None,
                }),
                Target::Has(_) | Target::Without(_) => found.push(Lesson {
                    because,
                    scope: lessons::turns(space, |_| true),
                    value: None,
                    weak: None,
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
                weak: None,
            });
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
            let number = units::m_per_min::from(reading.rapids[axis].0);
            let kept = as_kept(number, &value);
            if !self.holds(&because, kept) {
                found.push(Lesson {
                    because: because.clone(),
                    scope: lessons::of_rapids(self.space, axis),
                    value: Some(kept),
                    weak: Some(axis),
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

/// Why nothing is to be looked for behind some options.
struct Exit {
    because: Because,
    /// The choices that are to blame, a bit for each.
    blame: u128,
    /// Where it is because of the cost: what the option, and all that comes after it, adds at
    /// least.
    spare: Option<Hundredths>,
}

/// The way to where the walk stands.
struct Way<'w, 'a, 'c> {
    partial: Partial<'w, 'a, 'c>,
    /// The choice that is to be made next.
    turn: usize,
    /// Its option and those of all before it.
    options: Vec<usize>,
    /// How many options of each were tried.
    places: Vec<usize>,
    /// Which earlier choices are to blame that those tried do not help, a bit for each.
    blame: Vec<u128>,
    /// What those tried that are too dear add at least, with all that comes after them; none
    /// where none is.
    spare: Vec<Option<Hundredths>>,
    /// What was added before each choice.
    added: Vec<Hundredths>,
    /// The choices that raised the floor when they were made.
    raised: u128,
}

impl<'w, 'a, 'c> Way<'w, 'a, 'c> {
    fn new(partial: Partial<'w, 'a, 'c>, turns: usize) -> Self {
        Self {
            partial,
            turn: 0,
            options: vec![0; turns],
            places: vec![0; turns],
            blame: vec![0; turns],
            spare: vec![None; turns],
            added: vec![0; turns],
            raised: 0,
        }
    }

    /// Makes the choice whose turn it is.
    fn make(&mut self, option: usize) {
        let (turn, least) = (self.turn, self.partial.least());
        self.options[turn] = option;
        self.added[turn] = self.partial.added();
        self.partial.make(turn, option);
        self.raised &= !bit(turn);
        if self.partial.least() > least {
            self.raised |= bit(turn);
        }
    }

    /// What the option adds that was made.
    fn gained(&self) -> Hundredths {
        self.partial.added() - self.added[self.turn]
    }

    /// Takes note of why an option does not help.
    fn take(&mut self, exit: &Exit) {
        let turn = self.turn;
        self.blame[turn] |= exit.blame & before(turn);
        self.spare[turn] = match (self.spare[turn], exit.spare) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
    }

    /// Forgets what was tried at the turn.
    fn clear(&mut self) {
        self.places[self.turn] = 0;
        self.blame[self.turn] = 0;
        self.spare[self.turn] = None;
    }
}

/// Ways to make the load of an axis lighter, the boldest first: all choices of the axes that it
/// carries, and those that weigh next to nothing.
fn lightest(floor: &Floor, space: &Space, axis: Axis) -> Vec<Vec<(usize, usize)>> {
    let carried: &[Axis] = match axis {
        Axis::Z => &[],
        Axis::X => &[Axis::Z],
        Axis::Y => &[Axis::X, Axis::Z],
    };
    let ways: [&[&str]; 2] = [OF_AXIS, &["ends", "coupling", "driver"]];
    let way = |names: &[&str]| {
        let ids = carried
            .iter()
            .flat_map(|axis| names.iter().map(|name| axis.choice(name)));
        let turns = ids.filter_map(|id| space.free.iter().position(|one| one.choice.id == id));
        turns
            .map(|turn| (turn, floor.lightest(turn, axis)))
            .collect()
    };
    let found: Vec<Vec<(usize, usize)>> = ways.into_iter().map(way).collect();
    found.into_iter().filter(|some| !some.is_empty()).collect()
}

pub(super) fn bit(turn: usize) -> u128 {
    1 << turn
}

/// The bits of all choices before a turn.
fn before(turn: usize) -> u128 {
    bit(turn) - 1
}

/// An amount in hundredths, rounded up.
fn up(amount: Decimal) -> Hundredths {
    let hundredths = amount.checked_mul(Decimal::ONE_HUNDRED);
    let whole = hundredths.and_then(|amount| amount.ceil().to_i64());
    whole.unwrap_or(Hundredths::MAX)
}
