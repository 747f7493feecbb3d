//! One choice swept over a range: what cost, rapids, stiffness and mains current do on the way,
//! and where warnings begin and end. A number goes in even steps; a part or a word goes through
//! its options in their order.

use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive as _;

use super::effect::same;
use super::reading::{Measure, Reading};
use super::trial::Bench;
use crate::build::choices::tidy;
use crate::build::{Choice, Edit, Kind, Value, choices};
use crate::money::Money;
use crate::rules::Finding;
use crate::units::entry;
use crate::words::Words as _;

/// How many steps a range is cut into where nobody says.
pub const STEPS: usize = 20;

/// The most steps.
pub const MOST_STEPS: usize = 1000;

/// One place on the way.
#[derive(Clone, Debug)]
pub struct Point {
    /// What is chosen there.
    pub value: Value,
    /// What the machine is with it.
    pub reading: Reading,
    /// What the rules say.
    pub findings: Vec<Finding>,
}

/// A warning that begins or ends at a point.
#[derive(Clone, Debug)]
pub struct Turn {
    /// The first point at which it is so.
    pub point: usize,
    /// Whether it begins there, or is gone.
    pub begins: bool,
    /// The warning.
    pub finding: Finding,
}

/// A choice swept over a range.
#[derive(Clone, Debug)]
pub struct Sweep {
    /// The choice.
    pub choice: &'static Choice,
    /// The points, in their order.
    pub points: Vec<Point>,
    /// Where warnings begin and end between them.
    pub turns: Vec<Turn>,
}

impl Sweep {
    /// The number of a point; its place where the choice is no number.
    pub fn at(&self, place: usize) -> f64 {
        match self.points.get(place).map(|point| &point.value) {
            Some(Value::Number(Some(number))) => *number,
            Some(Value::Amount(Some(money))) => money.amount.to_f64().unwrap_or_default(),
            _ => place as f64,
        }
    }

    /// The number that changes most on the way, as a share of itself; the cost where none does.
    pub fn most_moved(&self) -> Measure {
        let spread = |measure: &Measure| {
            let points = self.points.iter();
            let values = points.filter_map(|point| Some(point.reading.value(*measure)?.number));
            let (least, most) = values.fold((f64::INFINITY, 0.0_f64), |(least, most), one| {
                (least.min(one), most.max(one))
            });
            // Nothing at all, or nothing above zero: it does not change.
            if most > least {
                1.0 - least / most
            } else {
                0.0
            }
        };
        let rated = Measure::ALL
            .iter()
            .map(|measure| (*measure, spread(measure)));
        let first = (Measure::Cost, 0.0);
        let better = |best: (Measure, f64), one: (Measure, f64)| {
            if one.1 > best.1 { one } else { best }
        };
        rated.fold(first, better).0
    }
}

/// A range as people type it: `travel_x_mm=400..1200/16`, a choice alone for all its options.
///
/// # Errors
/// Says what is wrong and what would be right.
pub fn parse(text: &str, bench: &Bench) -> Result<(&'static Choice, Vec<Value>), String> {
    let (id, range) = match text.split_once('=') {
        Some((id, range)) => (id.trim(), Some(range)),
        None => (text.trim(), None),
    };
    let choice = choices::find(id).map_err(|error| error.to_string())?;
    let Some(range) = range else {
        return Ok((choice, usual(choice, bench)?));
    };
    let (range, steps) = match range.rsplit_once('/') {
        // The stroke may be that of a unit: 2..8 m/min.
        Some((range, steps)) if !entry::is_unit(&format!("{}/{steps}", entry::unit_in(range))) => {
            let count = steps.trim().parse().ok();
            let count = count.filter(|count| (1..=MOST_STEPS).contains(count));
            let wrong = || format!("{steps:?} is no number of steps from 1 to {MOST_STEPS}");
            (range, count.ok_or_else(wrong)?)
        }
        _ => (range, STEPS),
    };
    let Some((from, to)) = range.split_once("..") else {
        return Err(format!(
            "{range:?} is no range: expected one such as 400..1200 or 400..1200/16"
        ));
    };
    let site = bench.catalogue.sites.get(&bench.build.area.site);
    let usual = site.map(|site| site.currency);
    let end = |text: &str| {
        choice
            .parse(text, bench.catalogue, usual)
            .map_err(|error| format!("{id}: {error}"))
    };
    let from = entry::sharing(from, to);
    Ok((choice, between(choice, &end(&from)?, &end(to)?, steps)?))
}

/// What is swept where nobody names a range: of a number or an amount from half of what is chosen
/// to twice as much, as far as the choice goes; of another choice all its options.
///
/// # Errors
/// Where a number or an amount is not chosen, or is nothing, or the choice is a list of parts.
pub fn usual(choice: &'static Choice, bench: &Bench) -> Result<Vec<Value>, String> {
    let now = (choice.get)(bench.build);
    match (choice.kind, now) {
        (Kind::Number(kind), Value::Number(Some(now))) if now > 0.0 => {
            let from = Value::Number(Some((now / 2.0).max(kind.least)));
            let to = Value::Number(Some((now * 2.0).min(kind.most)));
            between(choice, &from, &to, STEPS)
        }
        (Kind::Amount, Value::Amount(Some(now))) if now.amount > Decimal::ZERO => {
            let half = Money::new(now.amount / Decimal::TWO, now.currency);
            let twice = Money::new(now.amount * Decimal::TWO, now.currency);
            between(
                choice,
                &Value::Amount(Some(half)),
                &Value::Amount(Some(twice)),
                STEPS,
            )
        }
        (Kind::Parts(_), _) => Err(format!(
            "{}: a list of parts has no range to go through",
            choice.id
        )),
        _ => match choice.options(bench.catalogue) {
            options if options.is_empty() => Err(format!(
                "Nothing is chosen that a range could be put around. Choose a value first, or name a range, such as {}=1000..5000",
                choice.id
            )),
            options => Ok(options),
        },
    }
}

/// The values from one to another, both among them.
fn between(choice: &Choice, from: &Value, to: &Value, steps: usize) -> Result<Vec<Value>, String> {
    let turned = || format!("{}: a range goes from the less to the more", choice.id);
    match (choice.kind, from, to) {
        (Kind::Number(kind), Value::Number(Some(from)), Value::Number(Some(to))) => {
            if from >= to {
                return Err(turned());
            }
            let even = (0..=steps).map(|step| {
                let share = step as f64 / steps as f64;
                let number = from + (to - from) * share;
                if kind.whole {
                    number.round()
                } else {
                    tidy(number)
                }
            });
            let mut numbers: Vec<f64> = match kind.among.is_empty() {
                true => even.collect(),
                false => {
                    let all = kind.among.iter().copied();
                    all.filter(|number| (from..=to).contains(&number)).collect()
                }
            };
            numbers.dedup();
            let values = numbers
                .into_iter()
                .map(|number| Value::Number(Some(number)));
            Ok(values.collect())
        }
        (Kind::Amount, Value::Amount(Some(from)), Value::Amount(Some(to))) => {
            if from.currency != to.currency {
                return Err(format!("{}: both ends in one currency, please", choice.id));
            }
            if from.amount >= to.amount {
                return Err(turned());
            }
            let values = (0..=steps).map(|step| {
                let share = Decimal::from(step) / Decimal::from(steps);
                let amount = from.amount + (to.amount - from.amount) * share;
                Value::Amount(Some(Money::new(amount, from.currency).rounded()))
            });
            Ok(values.collect())
        }
        _ => Err(format!(
            "{}: only numbers and amounts have ranges; name the choice alone to go through its options",
            choice.id
        )),
    }
}

/// Assesses a build at each value of a choice. Values with which it cannot be assessed are left
/// out.
pub fn sweep(bench: &Bench, choice: &'static Choice, values: Vec<Value>) -> Sweep {
    let mut points: Vec<Point> = Vec::new();
    for value in values {
        let edit = Edit { choice, value };
        let build = edit.applied(bench.build);
        if let Ok(after) = bench.assess(&build) {
            points.push(Point {
                value: edit.value,
                reading: Reading::of(&after),
                findings: after.findings,
            });
        }
    }
    let turns = turns(&points);
    Sweep {
        choice,
        points,
        turns,
    }
}

/// Where warnings begin and end from point to point, each of a kind once.
fn turns(points: &[Point]) -> Vec<Turn> {
    let mut found: Vec<Turn> = Vec::new();
    for (place, pair) in points.windows(2).enumerate() {
        let [before, after] = pair else { continue };
        let mut note = |these: &[Finding], those: &[Finding], begins: bool| {
            for finding in these {
                let known = found.iter().any(|turn| {
                    turn.point == place + 1 && turn.begins == begins && same(&turn.finding, finding)
                });
                if !known && !those.iter().any(|other| same(other, finding)) {
                    found.push(Turn {
                        point: place + 1,
                        begins,
                        finding: finding.clone(),
                    });
                }
            }
        };
        note(&before.findings, &after.findings, false);
        note(&after.findings, &before.findings, true);
    }
    found
}
