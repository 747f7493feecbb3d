//! A space of builds as a linear program: what each option costs and adds to the figures, which
//! options do not go together, all read off assessments of single changes, and held against
//! builds of chance before anybody relies on it.

use std::collections::BTreeMap;

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Build, Choice, Kind, Picked, Value, choices};
use gantrywright::catalogue::motor::FeedKind;
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::explore::reading::Reading;
use gantrywright::rules::Severity;
use gantrywright::units;
use microlp::{ComparisonOp, Error, OptimizationDirection, Problem, Variable};
use rand::SeedableRng as _;
use rand::seq::IndexedRandom as _;
use rand_chacha::ChaCha8Rng;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use crate::common::today;

/// Figures that add up, choice by choice: current, how much the tip gives along X, Y and Z,
/// and the width.
pub(crate) const FIGURES: usize = 5;
pub(crate) const CURRENT: usize = 0;
pub(crate) const GIVES: [usize; 3] = [1, 2, 3];
pub(crate) const WIDTH: usize = 4;

/// What is read off one build.
pub(crate) struct Point {
    /// In cents.
    pub(crate) cost: i64,
    pub(crate) figures: [f64; FIGURES],
    pub(crate) is_sound: bool,
}

impl Point {
    pub(crate) fn of(assessment: &Assessment) -> Self {
        let reading = Reading::of(assessment);
        let footprint = &assessment.machine.geometry.footprint;
        let gives = |stiffness| 1.0 / units::n_per_um::from(stiffness);
        let cents = reading.cost.likely * Decimal::ONE_HUNDRED;
        assert!(cents.is_integer(), "{cents} hundredths");
        Self {
            cost: cents.to_i64().expect("cents"),
            figures: [
                units::a::from(reading.current),
                gives(reading.tip.x),
                gives(reading.tip.y),
                gives(reading.tip.z),
                units::mm::from(footprint.x),
            ],
            is_sound: !assessment.is_unsound(),
        }
    }
}

/// Options of the choices of one group, and what they add to the build at hand.
pub(crate) struct Column {
    pub(crate) values: Vec<Value>,
    cost: i64,
    figures: [f64; FIGURES],
    is_sound: bool,
}

/// A limit that is linear: the sum of what the columns add, no more than so much.
pub(crate) enum Limit {
    /// A figure no more than this.
    Most(usize, f64),
    /// At least one of the columns that name it.
    Has(Value),
    /// None of them.
    Without(Value),
}

/// The space.
pub(crate) struct Linear<'a> {
    catalogue: &'a Catalogue,
    build: &'a Build,
    base: Point,
    groups: Vec<(Vec<&'static Choice>, Vec<Column>)>,
    /// Pairs of columns that do not go together, each by group and place.
    apart: Vec<[(usize, usize); 2]>,
}

impl<'a> Linear<'a> {
    /// Measures groups of choices. Choices whose options hang on one another are one group, and
    /// all their combinations are looked at; of two groups every pair of options.
    pub(crate) fn measured(
        catalogue: &'a Catalogue,
        build: &'a Build,
        groups: &[&[&str]],
        by_pairs: bool,
    ) -> Self {
        let mut space = Self {
            catalogue,
            build,
            base: point(catalogue, build),
            groups: Vec::new(),
            apart: Vec::new(),
        };
        assert!(space.base.is_sound, "the build at hand is sound");
        for ids in groups {
            let known = ids.iter().map(|id| choices::find(id).expect("a choice"));
            let known: Vec<&Choice> = known.collect();
            let columns = space.columns(&known);
            space.groups.push((known, columns));
        }
        if by_pairs {
            space.find_apart();
        }
        space
    }

    fn columns(&self, choices: &[&'static Choice]) -> Vec<Column> {
        let mut all: Vec<Vec<Value>> = vec![Vec::new()];
        for choice in choices {
            let longer = all.iter().flat_map(|some| {
                let options = choice.options(self.catalogue).into_iter();
                options.map(|option| some.iter().cloned().chain([option]).collect())
            });
            all = longer.collect();
        }
        let column = |values: Vec<Value>| {
            let mut other = self.build.clone();
            put(&mut other, choices, &values);
            let point = point(self.catalogue, &other);
            Column {
                cost: point.cost - self.base.cost,
                figures: std::array::from_fn(|one| point.figures[one] - self.base.figures[one]),
                is_sound: point.is_sound,
                values,
            }
        };
        all.into_iter().map(column).collect()
    }

    /// Looks at every pair of sound columns of different groups.
    fn find_apart(&mut self) {
        let sound = self
            .groups
            .iter()
            .enumerate()
            .flat_map(|(group, (_, columns))| {
                let sound = columns.iter().enumerate().filter(|(_, one)| one.is_sound);
                sound.map(move |(place, _)| (group, place))
            });
        let sound: Vec<(usize, usize)> = sound.collect();
        for (number, &one) in sound.iter().enumerate() {
            for &other in &sound[number + 1..] {
                if one.0 != other.0 && !point(self.catalogue, &self.with(&[one, other])).is_sound {
                    self.apart.push([one, other]);
                }
            }
        }
    }

    /// The build at hand with some columns.
    fn with(&self, columns: &[(usize, usize)]) -> Build {
        let mut build = self.build.clone();
        for &(group, place) in columns {
            let (choices, columns) = &self.groups[group];
            put(&mut build, choices, &columns[place].values);
        }
        build
    }

    /// What the sums make of some columns, one of each group.
    fn sum(&self, columns: &[(usize, usize)]) -> Point {
        let each = || {
            columns
                .iter()
                .map(|&(group, place)| &self.groups[group].1[place])
        };
        let apart = |pair: &[(usize, usize); 2]| pair.iter().all(|one| columns.contains(one));
        Point {
            cost: self.base.cost + each().map(|one| one.cost).sum::<i64>(),
            figures: std::array::from_fn(|figure| {
                self.base.figures[figure] + each().map(|one| one.figures[figure]).sum::<f64>()
            }),
            is_sound: each().all(|one| one.is_sound) && !self.apart.iter().any(apart),
        }
    }

    /// How many pairs of options do not go together.
    pub(crate) fn apart(&self) -> usize {
        self.apart.len()
    }

    /// How many builds there are.
    pub(crate) fn combinations(&self) -> u128 {
        let each = self.groups.iter().map(|(_, columns)| columns.len() as u128);
        each.product()
    }

    /// All choices.
    pub(crate) fn choices(&self) -> Vec<&'static Choice> {
        let each = self.groups.iter();
        each.flat_map(|(choices, _)| choices.iter().copied())
            .collect()
    }

    /// A build of chance, of columns that are sound by themselves or of any.
    fn some(&self, sound: bool, rng: &mut ChaCha8Rng) -> Vec<(usize, usize)> {
        let each = self.groups.iter().enumerate().map(|(group, (_, columns))| {
            let places: Vec<usize> = (0..columns.len())
                .filter(|&place| !sound || columns[place].is_sound)
                .collect();
            (group, *places.choose(rng).expect("a column"))
        });
        each.collect()
    }

    /// What the sums make of a sound build of chance.
    pub(crate) fn chance(&self, rng: &mut ChaCha8Rng) -> Point {
        self.sum(&self.some(true, rng))
    }

    /// A part that some column names and that hangs on these choices alone: no other names it,
    /// and none that names it may go without.
    pub(crate) fn part_of_chance(&self, rng: &mut ChaCha8Rng) -> Id {
        let known = self.groups.iter().flat_map(|(choices, columns)| {
            columns.iter().flat_map(move |column| {
                let each = choices.iter().zip(&column.values);
                each.filter(|(choice, _)| matches!(choice.kind, Kind::Part { unset: None, .. }))
            })
        });
        let parts = known.filter_map(|(_, value)| match value {
            Value::Part(Some(part)) => Some(part),
            _ => None,
        });
        let mut parts: Vec<&Id> = parts.collect();
        let free = self.choices();
        let others = choices::all()
            .iter()
            .filter(|one| free.iter().all(|free| free.id != one.id));
        let others: Vec<Value> = others.map(|one| (one.get)(self.build)).collect();
        parts.retain(|part| !others.contains(&Value::Part(Some(*(*part)))));
        parts.sort();
        parts.dedup();
        *(*parts.choose(rng).expect("a part"))
    }

    /// Holds the sums against builds of chance: they give cost, figures and soundness.
    pub(crate) fn check(&self, many: usize, figures: &[usize], seed: u64) {
        let mut rng = ChaCha8Rng::seed_from_u64(seed);
        for number in 0..many {
            let columns = self.some(number % 4 != 0, &mut rng);
            let build = self.with(&columns);
            if no_supply_feeds(self.catalogue, &build) {
                continue;
            }
            let (sum, real) = (self.sum(&columns), point(self.catalogue, &build));
            let told = || gantrywright::build::edit::difference(self.build, &build);
            if sum.cost != real.cost {
                panic!("does not add up: {:?}: {:?}", told(), self.astray(&columns));
            }
            for &figure in figures {
                let (sum, real) = (sum.figures[figure], real.figures[figure]);
                assert!(
                    (sum - real).abs() < 1e-9 * real.abs().max(1.0),
                    "figure {figure}: {sum} is no {real}: {:?}",
                    told()
                );
            }
            if sum.is_sound != real.is_sound {
                let one = assess(self.catalogue, &build, today()).expect("an assessment");
                let bad = one
                    .findings
                    .iter()
                    .filter(|one| one.severity <= Severity::Fault);
                let bad: Vec<_> = bad.map(|one| one.rule.as_str()).collect();
                panic!("does not tell faults: {:?}: {bad:?}", told());
            }
        }
    }

    /// The parts whose lines do not add up, and by how much.
    fn astray(&self, columns: &[(usize, usize)]) -> BTreeMap<String, Decimal> {
        let mut astray: BTreeMap<String, Decimal> = BTreeMap::new();
        let mut put = |build: &Build, sign: i64| {
            let one = assess(self.catalogue, build, today()).expect("an assessment");
            for line in &one.bill.lines {
                let sum = astray.entry(line.part.to_string()).or_default();
                *sum += line.total.likely * Decimal::from(sign);
            }
        };
        put(&self.with(columns), 1);
        put(self.build, columns.len() as i64 - 1);
        columns.iter().for_each(|one| put(&self.with(&[*one]), -1));
        astray.retain(|_, sum| !sum.is_zero());
        astray
    }

    /// The least cost within limits, in cents, and its build, by a general solver: a variable of
    /// 0 or 1 for each column, one column of each group. None where nothing is within them.
    pub(crate) fn least(&self, limits: &[Limit]) -> Option<(i64, Build)> {
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let mut variables: Vec<Vec<Variable>> = Vec::new();
        for (_, columns) in &self.groups {
            let each = columns.iter();
            variables.push(
                each.map(|one| problem.add_binary_var(one.cost as f64))
                    .collect(),
            );
        }
        let all = || {
            let each = self.groups.iter().zip(&variables);
            each.flat_map(|((_, columns), own)| columns.iter().zip(own.iter().copied()))
        };
        for own in &variables {
            let one: Vec<_> = own.iter().map(|&variable| (variable, 1.0)).collect();
            problem.add_constraint(&one[..], ComparisonOp::Eq, 1.0);
        }
        for (_, variable) in all().filter(|(column, _)| !column.is_sound) {
            problem.add_constraint([(variable, 1.0)], ComparisonOp::Le, 0.0);
        }
        for pair in &self.apart {
            let both = pair.map(|(group, place)| (variables[group][place], 1.0));
            problem.add_constraint(&both[..], ComparisonOp::Le, 1.0);
        }
        for limit in limits {
            let naming = |value: &Value| {
                let naming = all().filter(|(column, _)| column.values.contains(value));
                naming
                    .map(|(_, variable)| (variable, 1.0))
                    .collect::<Vec<_>>()
            };
            match limit {
                Limit::Most(figure, most) => {
                    let adds = all().map(|(column, variable)| (variable, column.figures[*figure]));
                    // Rounding leaves traces where nothing is added.
                    let adds: Vec<_> = adds.filter(|(_, adds)| adds.abs() > 1e-9).collect();
                    let left = most - self.base.figures[*figure];
                    problem.add_constraint(&adds[..], ComparisonOp::Le, left);
                }
                Limit::Has(value) => {
                    problem.add_constraint(&naming(value)[..], ComparisonOp::Ge, 1.0)
                }
                Limit::Without(value) => {
                    problem.add_constraint(&naming(value)[..], ComparisonOp::Le, 0.0)
                }
            }
        }
        let outcome = match problem.solve() {
            Err(Error::Infeasible) => return None,
            outcome => outcome.expect("an outcome"),
        };
        assert!(outcome.is_optimal());
        let solution = outcome.into_solution().expect("a solution");
        let taken = variables.iter().enumerate().map(|(group, own)| {
            let taken = own.iter().position(|&one| solution.var_value(one) > 0.5);
            (group, taken.expect("one column"))
        });
        let taken: Vec<_> = taken.collect();
        Some((self.sum(&taken).cost, self.with(&taken)))
    }
}

fn put(build: &mut Build, choices: &[&'static Choice], values: &[Value]) {
    for (choice, value) in choices.iter().zip(values) {
        choice.put(build, value);
    }
}

pub(crate) fn point(catalogue: &Catalogue, build: &Build) -> Point {
    Point::of(&assess(catalogue, build, today()).expect("an assessment"))
}

/// Whether every driver is fed from the mains: then the wires of the motors' supply are gone too,
/// which hangs on all axes together, and no sum of columns tells it.
fn no_supply_feeds(catalogue: &Catalogue, build: &Build) -> bool {
    let picked = Picked::new(catalogue, build).expect("all parts are there");
    let mut axes = picked.axes.iter();
    axes.all(|(_, axis)| axis.driver.feed == FeedKind::Mains)
}
