//! What makes an axis faster only together: a nut that turns faster and a motor with the torque
//! for it, say. What holds the axis is a list of limits; a part that lifts some of them, and
//! another that lifts the rest, are tried together. Nothing else is: so the pairs stay few.

use std::collections::BTreeSet;

use rust_decimal::Decimal;

use super::{Cure, MARGINS, NOTICEABLE, SHORT, gain, is_pair, with};
use crate::assessment::Assessment;
use crate::build::{Axis, Choice, Edit, Value};
use crate::explore::question::BOTH_SIDES;
use crate::explore::trial::{Bench, is_bought};
use crate::explore::weigh;
use crate::machine::limits::LimitName;
use crate::order::Order as _;
use crate::units::{self, Velocity};

/// What all axes share and a limit of speed hangs on, besides the choices of the axis itself.
const SHARED: &[&str] = &["supply", "controller", "microsteps", "reduction"];

/// How many pairs are tried at most for one speed that is to be passed, the cheapest first.
const TRIED: usize = 32;

/// How many pairs of the same two choices are tried at most.
const ALIKE: usize = 4;

/// How many pairs are offered at most.
const OFFERED: usize = 3;

/// One option that lifts something, but not all.
struct Half {
    edit: Edit,
    price: Decimal,
    /// The speed of each limit with it.
    limits: Vec<(LimitName, Velocity)>,
}

impl Half {
    /// What still holds the axis below a speed.
    fn holds(&self, speed: Velocity) -> BTreeSet<LimitName> {
        holding(&self.limits, speed)
    }
}

/// The pairs that make an axis faster than any cure that costs as little, the cheapest first.
pub(super) fn pairs(bench: &Bench, axis: Axis, singles: &[Cure]) -> Vec<Cure> {
    let halves = halves(bench, axis);
    let now = bench.before.machine.axes[axis].rapid;
    let most = singles.iter().map(|cure| cure.gain).fold(0.0, f64::max);
    let fastest = now + units::m_per_min::of(most);
    let mut found: Vec<Cure> = Vec::new();
    let noticeable = |speed| speed * (1.0 + NOTICEABLE);
    let wanted = bench.build.area.wanted_rapids(axis) * (1.0 - SHORT);
    // What is wanted may lie between: then neither of the others asks for it.
    let wanted = (now < wanted && wanted <= fastest).then_some(wanted);
    let fastest = (most > 0.0).then(|| noticeable(fastest));
    let targets = [Some(noticeable(now)), wanted, fastest];
    for target in targets.into_iter().flatten() {
        let before = holding(&limits(bench.before, axis), target);
        for pair in promising(&halves, &before, target) {
            if let Some(cure) = together(bench, axis, pair)
                && !found.iter().any(|known| known.build == cure.build)
            {
                found.push(cure);
            }
        }
    }
    found.order_by(|a, b| a.price.cmp(&b.price).then(b.gain.total_cmp(&a.gain)));
    let mut kept: Vec<Cure> = Vec::new();
    for cure in found {
        let cheaper = singles.iter().chain(&kept);
        let cheaper = cheaper.filter(|other| other.price <= cure.price);
        let known = cheaper.map(|other| other.gain).fold(0.0, f64::max);
        let reached = units::m_per_min::from(now) + known;
        if cure.gain > known + reached * NOTICEABLE {
            kept.push(cure);
        }
    }
    kept.truncate(OFFERED);
    kept
}

/// Every option that a limit of the axis hangs on, tried by itself.
fn halves(bench: &Bench, axis: Axis) -> Vec<Half> {
    let own = format!("_{}", axis.letter());
    let about = |choice: &&Choice| choice.id.ends_with(&own) || SHARED.contains(&choice.id);
    let open = |choice: &&Choice| !MARGINS.contains(&choice.id) && !is_bought(bench.build, choice);
    let before = limits(bench.before, axis);
    let mut halves = Vec::new();
    for choice in weigh::free().filter(about).filter(open) {
        for value in weigh::options(choice, bench.catalogue, bench.build) {
            let Ok(after) = bench.assess(&with(bench, choice, &value)) else {
                continue;
            };
            let limits = limits(&after, axis);
            if limits == before {
                continue;
            }
            let price = after.bill.total.likely - bench.before.bill.total.likely;
            halves.push(Half {
                edit: Edit { choice, value },
                price,
                limits,
            });
        }
    }
    halves.order_by_key(|half| half.price);
    halves
}

/// Pairs of which each lifts something and both together all that holds the axis below a speed,
/// as far as one can tell from each alone; the cheapest first.
fn promising<'a>(
    halves: &'a [Half],
    before: &BTreeSet<LimitName>,
    speed: Velocity,
) -> Vec<[&'a Half; 2]> {
    // Whoever lifts all of it is a cure by itself.
    let some = |half: &&Half| {
        let holds = half.holds(speed);
        !holds.is_empty() && before.difference(&holds).next().is_some()
    };
    let some: Vec<&Half> = halves.iter().filter(some).collect();
    let mut pairs = Vec::new();
    for (place, one) in some.iter().enumerate() {
        for other in &some[place + 1..] {
            let apart = one.holds(speed).is_disjoint(&other.holds(speed));
            if apart && one.edit.choice.id != other.edit.choice.id {
                pairs.push([*one, *other]);
            }
        }
    }
    pairs.order_by_key(|[one, other]| one.price + other.price);
    let mut alike: Vec<([&str; 2], usize)> = Vec::new();
    pairs.retain(|[one, other]| {
        let mut ids = [one.edit.choice.id, other.edit.choice.id];
        ids.sort_unstable();
        match alike.iter_mut().find(|(known, _)| *known == ids) {
            Some((_, count)) => {
                *count += 1;
                *count <= ALIKE
            }
            None => {
                alike.push((ids, 1));
                true
            }
        }
    });
    pairs.truncate(TRIED);
    pairs
}

/// Two changes at once, with what must go along.
fn together(bench: &Bench, axis: Axis, [one, other]: [&Half; 2]) -> Option<Cure> {
    let mut build = with(bench, one.edit.choice, &one.edit.value);
    other.edit.apply(&mut build);
    if is_pair(bench, other.edit.choice) {
        build.drive.second_drive = None;
    }
    let mut trial = bench.trial(build).ok()?;
    gain(bench, axis, trial.after.machine.axes[axis].rapid)?;
    if !trial.is_sound() {
        trial = bench.trial(bench.settled(trial.build)).ok()?;
    }
    let gain = gain(bench, axis, trial.after.machine.axes[axis].rapid)?;
    let said = |half: &Half| said(bench, half.edit.choice, &half.edit.value);
    trial.is_sound().then(|| Cure {
        title: format!("{}, and {}", said(one), said(other)),
        warnings: trial.added.len(),
        note: String::new(),
        price: trial.price,
        build: trial.build,
        gain,
    })
}

/// A choice and what it would become.
pub(super) fn said(bench: &Bench, choice: &Choice, value: &Value) -> String {
    let value = choice.show_short(value, bench.catalogue);
    match is_pair(bench, choice) {
        true => format!("{}{BOTH_SIDES}: {value}", choice.title),
        false => format!("{}: {value}", choice.title),
    }
}

fn limits(of: &Assessment, axis: Axis) -> Vec<(LimitName, Velocity)> {
    let limits = of.machine.axes[axis].limits.iter();
    limits.map(|limit| (limit.name, limit.speed)).collect()
}

fn holding(limits: &[(LimitName, Velocity)], speed: Velocity) -> BTreeSet<LimitName> {
    let below = limits.iter().filter(|(_, limit)| *limit <= speed);
    below.map(|(name, _)| *name).collect()
}
