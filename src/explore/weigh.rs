//! What matters most: for every free choice what its other options do to cost, rapids,
//! stiffness, removal and mains current, each by a full assessment of the build with that one
//! choice changed.
//!
//! Only one choice changes at a time. What would have to go along with it (a coupling, a
//! driver) does not, so an option that brings a danger or a fault is shown with it, and counts
//! neither among the best nor among the extremes.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

pub(super) mod loss;
mod ranking;

pub use ranking::Weighing;

use super::effect::is_sound;
use super::reading::{Measure, Reading};
use super::trial::{Bench, Trial, is_bought};
use crate::build::choices::tidy;
use crate::build::value::NumberKind;
use crate::build::{Build, Choice, Edit, Kind, Value, choices};
use crate::catalogue::{Catalogue, Step};
use crate::order::Order as _;
use crate::rules::Finding;

/// The choices of the frame that are free; the others of its step are wishes.
const FRAME: &[&str] = &[
    "clearance_mm",
    "frame_plan",
    "beam_tube",
    "base_tube",
    "plate",
    "filament",
    "rail_seat",
    "thread_strips",
];

/// What protects people: no saving, and nothing that a search may drop unless somebody frees it.
pub(super) const PROTECTS: &[&str] = &[
    "protection_sets",
    "fire_watch",
    "emergency_stop",
    "no_volt_release",
    "residual_type",
    "second_earth",
    "earthed_hose",
    "separate_bins",
    "extractor",
];

/// What is an assumption of the model, and no choice of the builder.
const ASSUMED: &[&str] = &["carriage_joint_percent", "base_frequency_hz"];

/// The share by which a figure must move to count as moved.
const NOTICEABLE: f64 = 0.005;

/// One other option of a choice.
#[derive(Clone, Debug)]
pub struct Outcome {
    /// The option.
    pub value: Value,
    /// What the machine is with it.
    pub reading: Reading,
    /// Change of the likely total.
    pub price: Decimal,
    /// Findings that it brings.
    pub added: Vec<Finding>,
    /// Findings that it lifts.
    pub lifted: Vec<Finding>,
}

impl Outcome {
    /// What an option comes to, as it was tried.
    pub(super) fn of(value: Value, trial: Trial) -> Self {
        Self {
            value,
            reading: Reading::of(&trial.after),
            price: trial.price,
            added: trial.added,
            lifted: trial.lifted,
        }
    }

    /// Whether it brings no danger and no fault.
    pub fn is_sound(&self) -> bool {
        is_sound(&self.added)
    }

    /// What one unit of money buys of a measure, in its unit: the gain over what the change
    /// costs; without end where it costs nothing. None where nothing is gained to speak of. Of
    /// the cost itself, what is saved.
    pub fn worth(&self, before: &Reading, measure: Measure) -> Option<f64> {
        let gain = self.gain(before, measure)?;
        if measure == Measure::Cost {
            return Some(gain);
        }
        Some(worth(gain, self.price))
    }

    /// What is saved for each share of the machine that is lost; none where nothing to speak of
    /// is saved.
    pub fn thrift(&self, before: &Reading) -> Option<f64> {
        let saved = self.gain(before, Measure::Cost)?;
        Some(saved / loss::loss(before, &self.reading, &self.added))
    }

    /// By how much it betters a measure; none where nothing to speak of.
    pub fn gain(&self, before: &Reading, measure: Measure) -> Option<f64> {
        let gain = self.reading.gain_over(before, measure)?;
        let was = before.value(measure)?.number.abs();
        (gain > was * NOTICEABLE).then_some(gain)
    }
}

/// What one unit of money buys of a gain, in the unit of the gain; without end where it costs
/// nothing.
pub(super) fn worth(gain: f64, price: Decimal) -> f64 {
    match price > Decimal::ZERO {
        // What no number can hold is worth nothing.
        true => gain / price.to_f64().unwrap_or(f64::INFINITY),
        false => f64::INFINITY,
    }
}

/// A free choice with all that was tried.
#[derive(Clone, Debug)]
pub struct Weighed {
    /// The choice.
    pub choice: &'static Choice,
    /// What is chosen now.
    pub now: Value,
    /// Its other options, in their order; of a number, half of it, one step less, one step
    /// more, and twice as much, as far as it may go.
    pub outcomes: Vec<Outcome>,
}

/// On which side of what is chosen an option stands next to it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The cheaper, or smaller, or earlier one.
    Less,
    /// The dearer, or larger, or later one.
    More,
}

impl Weighed {
    /// On which side one of its outcomes is a neighbour of what is chosen; none where it is none.
    pub fn side_of(&self, outcome: &Outcome, catalogue: &Catalogue) -> Option<Side> {
        let (less, more) = self.neighbours(catalogue);
        let is = |other: Option<&Outcome>| other.is_some_and(|other| std::ptr::eq(other, outcome));
        match (is(less), is(more)) {
            (true, _) => Some(Side::Less),
            (_, true) => Some(Side::More),
            _ => None,
        }
    }

    /// The neighbours of what is chosen: of a part the next cheaper and the next dearer, else
    /// the one before and the one after it.
    pub fn neighbours(&self, catalogue: &Catalogue) -> (Option<&Outcome>, Option<&Outcome>) {
        if let Kind::Part { .. } = self.choice.kind {
            let each = || self.outcomes.iter();
            let less = each().filter(|one| one.price < Decimal::ZERO);
            let more = each().filter(|one| one.price > Decimal::ZERO);
            return (
                less.max_by_key(|one| one.price),
                more.min_by_key(|one| one.price),
            );
        }
        if let (Kind::Number(_), Value::Number(Some(now))) = (self.choice.kind, &self.now) {
            let number = |one: &Outcome| match one.value {
                Value::Number(Some(number)) => number,
                _ => f64::NAN,
            };
            let less = self.outcomes.iter().filter(|one| number(one) < *now);
            let more = self.outcomes.iter().filter(|one| number(one) > *now);
            let by = |a: &&Outcome, b: &&Outcome| number(a).total_cmp(&number(b));
            return (less.max_by(by), more.min_by(by));
        }
        let all = self.choice.options(catalogue);
        let Some(here) = all.iter().position(|value| *value == self.now) else {
            return (None, self.outcomes.first());
        };
        let at = |place: Option<usize>| {
            let value = all.get(place?)?;
            self.outcomes.iter().find(|one| one.value == *value)
        };
        (at(here.checked_sub(1)), at(Some(here + 1)))
    }

    /// The option that betters a measure most for its money; the best of those that cost
    /// nothing first.
    pub fn best(&self, before: &Reading, measure: Measure) -> Option<&Outcome> {
        let worth = |one: &Outcome| one.worth(before, measure).unwrap_or(f64::NEG_INFINITY);
        let gain = |one: &Outcome| one.gain(before, measure).unwrap_or_default();
        self.outcomes
            .iter()
            .filter(|one| one.is_sound() && one.worth(before, measure).is_some())
            .max_by(|a, b| {
                let by_worth = worth(a).total_cmp(&worth(b));
                by_worth.then(gain(a).total_cmp(&gain(b)))
            })
    }

    /// The option that saves most for what the machine loses by it; none where nothing sound
    /// saves anything to speak of. What protects people is no way to save, and what the work
    /// needs anyway is left out only where there is nothing else.
    pub fn thriftiest(&self, before: &Reading) -> Option<Thrifty<'_>> {
        if loss::is_no_saving(self.choice) {
            return None;
        }
        let saving = self.outcomes.iter().filter(|one| one.is_sound());
        let rated = saving.filter_map(|one| {
            let thrift = one.thrift(before)?;
            let only_if_owned = loss::only_if_owned(self.choice, &one.value);
            Some(Thrifty {
                one,
                thrift,
                only_if_owned,
            })
        });
        rated.max_by(Thrifty::cmp)
    }

    /// The least and the greatest that a measure can become by this choice alone, without a
    /// danger or a fault, and the options that make it so; what is chosen now counts too.
    pub fn span<'a>(&'a self, before: &Reading, measure: Measure) -> Option<Span<'a>> {
        let now = before.value(measure)?.number;
        let mut span = Span {
            least: (now, &self.now),
            most: (now, &self.now),
        };
        for one in self.outcomes.iter().filter(|one| one.is_sound()) {
            let Some(value) = one.reading.value(measure) else {
                continue;
            };
            if value.number < span.least.0 {
                span.least = (value.number, &one.value);
            }
            if value.number > span.most.0 {
                span.most = (value.number, &one.value);
            }
        }
        Some(span)
    }

    /// How many of its options bring a danger or a fault.
    pub fn unsound(&self) -> usize {
        self.outcomes.iter().filter(|one| !one.is_sound()).count()
    }
}

/// An option that saves money.
#[derive(Clone, Copy, Debug)]
pub struct Thrifty<'a> {
    /// The option.
    pub one: &'a Outcome,
    /// What it saves for each share of the machine that is lost.
    pub thrift: f64,
    /// Whether it saves only where one is there already: the work needs it.
    pub only_if_owned: bool,
}

impl Thrifty<'_> {
    /// What is a true saving is greater; then what saves more for what is lost.
    fn cmp(&self, other: &Self) -> std::cmp::Ordering {
        let owned = other.only_if_owned.cmp(&self.only_if_owned);
        owned.then(self.thrift.total_cmp(&other.thrift))
    }
}

/// How far a choice moves a measure.
#[derive(Clone, Copy, Debug)]
pub struct Span<'a> {
    /// The least it can become, in its unit, and by which option.
    pub least: (f64, &'a Value),
    /// The greatest.
    pub most: (f64, &'a Value),
}

impl Span<'_> {
    /// From the least to the greatest.
    pub fn width(&self) -> f64 {
        self.most.0 - self.least.0
    }
}

/// Whether a choice is free by default: what drive, spindle, control and frame are made of.
/// What was measured or lies in the drawer is none, nor is what the model assumes.
pub fn is_free(choice: &Choice) -> bool {
    let step = match choice.step {
        Step::Drive | Step::Spindle | Step::Control => true,
        Step::WorkingArea => FRAME.contains(&choice.id),
        Step::Extras => false,
    };
    let in_hand = matches!(choice.kind, Kind::Number(kind) if kind.unset.is_some());
    let measured = choice.is_measured();
    step && !in_hand && !measured && !ASSUMED.contains(&choice.id)
}

/// The free choices of all.
pub fn free() -> impl Iterator<Item = &'static Choice> {
    choices::all().iter().filter(|choice| is_free(choice))
}

/// Weighs choices of a build. Bought parts are fixed and only named.
pub fn weigh(bench: &Bench, of: &[&'static Choice]) -> Weighing {
    let (bought, open): (Vec<_>, Vec<_>) = of
        .iter()
        .copied()
        .partition(|choice| is_bought(bench.build, choice));
    let rows = open.into_iter().map(|choice| weighed(bench, choice));
    Weighing {
        before: Reading::of(bench.before),
        rows: rows.filter(|row| !row.outcomes.is_empty()).collect(),
        bought,
    }
}

/// Every other option of a choice, tried.
pub fn weighed(bench: &Bench, choice: &'static Choice) -> Weighed {
    let outcomes = options(choice, bench.catalogue, bench.build)
        .into_iter()
        .filter_map(|value| {
            let edit = Edit { choice, value };
            let trial = bench.trial(edit.applied(bench.build)).ok()?;
            Some(Outcome::of(edit.value, trial))
        });
    Weighed {
        choice,
        now: (choice.get)(bench.build),
        outcomes: outcomes.collect(),
    }
}

/// The options of a choice besides what is chosen.
pub(super) fn options(choice: &Choice, catalogue: &Catalogue, build: &Build) -> Vec<Value> {
    let now = (choice.get)(build);
    let mut options = match (choice.kind, &now) {
        (Kind::Number(kind), Value::Number(Some(number))) => around(&kind, *number),
        _ => choice.options(catalogue),
    };
    options.retain(|value| *value != now);
    options
}

/// Numbers around one: half of it, a step less, a step more, twice as much, within what the
/// choice takes; of a number from a list, every one on it.
fn around(kind: &NumberKind, now: f64) -> Vec<Value> {
    let numbers: Vec<f64> = match kind.among.is_empty() {
        false => kind.among.to_vec(),
        true => vec![now / 2.0, now - kind.step, now + kind.step, now * 2.0],
    };
    let mut numbers: Vec<f64> = numbers
        .into_iter()
        .map(|number| match kind.whole {
            true => number.round(),
            false => tidy(number),
        })
        .filter(|number| (kind.least..=kind.most).contains(number))
        .collect();
    numbers.order_by(f64::total_cmp);
    numbers.dedup();
    let values = numbers
        .into_iter()
        .map(|number| Value::Number(Some(number)));
    values.collect()
}
