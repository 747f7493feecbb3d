//! What makes an axis faster: every free choice is tried, with what must go along, and those that
//! help are offered, the cheapest first. Nothing is known beforehand of what may help: a lighter
//! rail, a nut that drags less, more volts and a longer pitch are all found by trial.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::{Bench, Offer, Question};
use crate::build::{Axis, Build, Choice, Edit, choices};
use crate::catalogue::Step;
use crate::explore::trial::{Trial, is_bought};
use crate::explore::weigh::{self, Weighed};
use crate::units::{self, Velocity};
use crate::words::Words as _;

pub(super) const QUESTIONS: &[Question] = &[
    Question {
        id: "faster-x",
        step: Step::Drive,
        title: "What makes X faster?",
        why: WHY,
        ask: |bench| cures(bench, Axis::X),
    },
    Question {
        id: "faster-y",
        step: Step::Drive,
        title: "What makes Y faster?",
        why: WHY,
        ask: |bench| cures(bench, Axis::Y),
    },
    Question {
        id: "faster-z",
        step: Step::Drive,
        title: "What makes Z faster?",
        why: WHY,
        ask: |bench| cures(bench, Axis::Z),
    },
];

const WHY: &str = "The lowest of several limits holds an axis. Whatever single change lifts it is offered with what must go along, the cheapest first.";

/// A wish that holds an axis too: what starts gently leaves torque for speed.
const WISH: &str = "acceleration_m_per_s2";

/// What makes the figure better and not the machine: how much of the torque is counted on.
const MARGINS: &[&str] = &["working_share_percent", "closed_loop_share_percent"];

/// The share by which the axis must become faster to be worth naming.
const NOTICEABLE: f64 = 0.05;

/// The most ways that are offered.
const MOST: usize = 8;

/// Of the options of a choice that do not fit as they are, how many are tried with what must go
/// along.
const SETTLED: usize = 3;

/// A change that makes the axis faster.
struct Cure {
    title: String,
    build: Build,
    price: Decimal,
    gain: f64,
}

impl Cure {
    /// What a unit of money gains; without end where it costs nothing.
    fn worth(&self) -> f64 {
        match self.price.to_f64() {
            Some(price) if price > 0.0 => self.gain / price,
            _ => f64::INFINITY,
        }
    }

    fn better(&self, other: &Self) -> std::cmp::Ordering {
        let by_worth = self.worth().total_cmp(&other.worth());
        by_worth.then(self.gain.total_cmp(&other.gain))
    }
}

fn cures(bench: &Bench, axis: Axis) -> Result<Vec<Offer>, String> {
    let tried = weigh::free().chain(choices::find(WISH).ok());
    let open =
        tried.filter(|choice| !MARGINS.contains(&choice.id) && !is_bought(bench.build, choice));
    let best = open.filter_map(|choice| best(bench, axis, choice));
    let mut found: Vec<Cure> = best.collect();
    found.sort_by(|a, b| a.price.cmp(&b.price).then(b.gain.total_cmp(&a.gain)));
    found.truncate(MOST);
    if found.is_empty() {
        let held = bench.before.machine.axes[axis].limited_by;
        return Err(format!(
            "{} is held by {}, and no single change lifts that without a danger or a fault.",
            axis.title(),
            held.title()
        ));
    }
    let offers = found.into_iter();
    Ok(offers
        .map(|cure| Offer::new(cure.title, vec![cure.build]).meant_so())
        .collect())
}

/// The option of a choice that gains most for its money, with what must go along.
fn best(bench: &Bench, axis: Axis, choice: &'static Choice) -> Option<Cure> {
    let Weighed { outcomes, .. } = weigh::weighed(bench, choice);
    let (fit, unfit): (Vec<_>, Vec<_>) = outcomes
        .into_iter()
        .filter_map(|one| Some((gain(bench, axis, one.reading.rapids[axis].0)?, one)))
        .partition(|(_, one)| one.is_sound());
    let cure = |gain, trial: Trial, value| Cure {
        title: format!(
            "{}: {}",
            choice.title,
            choice.show_short(value, bench.catalogue)
        ),
        price: trial.price,
        build: trial.build,
        gain,
    };
    let applied = |value: &crate::build::Value| {
        let value = value.clone();
        Edit { choice, value }.applied(bench.build)
    };
    let as_it_is = fit.iter().filter_map(|(gain, one)| {
        let trial = bench.trial(applied(&one.value)).ok()?;
        Some(cure(*gain, trial, &one.value))
    });
    if let Some(best) = as_it_is.max_by(Cure::better) {
        return Some(best);
    }
    let mut unfit = unfit;
    unfit.sort_by(|(a, one), (b, other)| one.price.cmp(&other.price).then(b.total_cmp(a)));
    unfit.truncate(SETTLED);
    let settled = unfit.iter().filter_map(|(_, one)| {
        let trial = bench.trial(bench.settled(applied(&one.value))).ok()?;
        let gain = gain(bench, axis, trial.after.machine.axes[axis].rapid)?;
        trial.is_sound().then(|| cure(gain, trial, &one.value))
    });
    settled.max_by(Cure::better)
}

/// By how much the axis is faster, in metres a minute; none where it is not worth naming.
fn gain(bench: &Bench, axis: Axis, after: Velocity) -> Option<f64> {
    let was = units::m_per_min::from(bench.before.machine.axes[axis].rapid);
    let gain = units::m_per_min::from(after) - was;
    (gain > was * NOTICEABLE && gain > 0.0).then_some(gain)
}

/// The question about an axis.
pub(in crate::explore) fn of(axis: Axis) -> &'static Question {
    match axis {
        Axis::X => &QUESTIONS[0],
        Axis::Y => &QUESTIONS[1],
        Axis::Z => &QUESTIONS[2],
    }
}
