//! What makes an axis faster: every free choice is tried, with what must go along, and those that
//! help are offered, the cheapest first. Nothing is known beforehand of what may help: a lighter
//! rail, a nut that drags less, more volts and a longer pitch are all found by trial. What only two
//! parts do together is found by [`pairs()`], what a free setting makes cheaper by
//! [`after_a_setting()`].

use rust_decimal::Decimal;

use super::{Bench, Offer, Question};
use crate::assessment::Assessment;
use crate::build::{Axis, Build, Choice, Edit, Value, choices};
use crate::catalogue::Step;
use crate::explore::remedy::LOWERS_WISH;
use crate::explore::trial::{Trial, is_bought};
use crate::explore::weigh::{self, Outcome, worth};
use crate::order::Order as _;
use crate::units::{self, Velocity, show};
use crate::words::Words as _;

mod mend;
mod pairs;
mod then;

use pairs::{pairs, said};
use then::after_a_setting;

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

const WHY: &str = "The lowest of several limits holds an axis. What lifts it is offered with what must go along, the cheapest first: single parts, pairs of which each lifts something, and the cheapest with what lifts the warning that it brings.";

/// A wish that holds an axis too: what starts gently leaves torque for speed.
const WISH: &str = "acceleration_m_per_s2";

/// What makes the figure better and not the machine: how much of the torque is counted on.
const MARGINS: &[&str] = &["working_share_percent", "closed_loop_share_percent"];

/// The share by which the axis must become faster to be worth naming.
const NOTICEABLE: f64 = 0.05;

/// What nobody calls short of a wish.
const SHORT: f64 = 1e-3;

/// The most ways that are offered.
const MOST: usize = 10;

/// From how many times the gain on an option is named besides the one that gains most for its
/// money.
const MUCH_MORE: f64 = 1.5;

/// Of the options of a choice that do not fit as they are, how many are tried with what must go
/// along, the cheapest first.
const SETTLED: usize = 8;

/// A change that makes the axis faster.
struct Cure {
    title: String,
    build: Build,
    price: Decimal,
    gain: f64,
    /// How many warnings it brings.
    warnings: usize,
    /// What is to be said of it besides what it is worth; empty where nothing is.
    note: String,
}

impl Cure {
    /// What a unit of money gains; without end where it costs nothing.
    fn worth(&self) -> f64 {
        worth(self.gain, self.price)
    }

    fn better(&self, other: &Self) -> std::cmp::Ordering {
        let by_worth = self.worth().total_cmp(&other.worth());
        by_worth.then(self.gain.total_cmp(&other.gain))
    }
}

fn cures(bench: &Bench, axis: Axis) -> Result<Vec<Offer>, String> {
    let open = weigh::free()
        .filter(|choice| !MARGINS.contains(&choice.id) && !is_bought(bench.build, choice));
    let best = open.flat_map(|choice| best(bench, axis, choice));
    let mut found: Vec<Cure> = best.collect();
    let mut pairs = pairs(bench, axis, &found);
    for further in after_a_setting(bench, axis, &found) {
        if pairs.iter().all(|pair| pair.build != further.build) {
            pairs.push(further);
        }
    }
    let by_price = |a: &Cure, b: &Cure| a.price.cmp(&b.price).then(b.gain.total_cmp(&a.gain));
    found.order_by(by_price);
    found.truncate(MOST.saturating_sub(pairs.len()));
    found.extend(pairs);
    found.order_by(by_price);
    let mended = found
        .first()
        .and_then(|first| mend::mended(bench, axis, first, &found));
    found.extend(mended);
    found.order_by(by_price);
    found.extend(gentler(bench, axis));
    if found.is_empty() {
        let figures = &bench.before.machine.axes[axis];
        let next = figures.held_next().map_or_else(String::new, |next| {
            let speed = show::number(units::m_per_min::from(next.speed), 1);
            format!(" (without it {} would, at {speed} m/min)", next.told())
        });
        return Err(format!(
            "{} is held by {}{next}, and no change of one part, nor of two together, lifts that without a danger or a fault.",
            axis.title(),
            figures.held_by()
        ));
    }
    let offers = found.into_iter().map(|cure| {
        let (offer, note) = (Offer::new(cure.title, vec![cure.build]), cure.note);
        offer.meant_so().with_note(move |bench, trial| {
            let wish = wish(bench, trial, axis);
            match note.is_empty() {
                true => wish,
                false => format!("{note} {wish}"),
            }
        })
    });
    Ok(offers.collect())
}

/// A gentler start, which leaves torque for speed; nothing where the way or the job takes longer
/// by it: then nothing gets faster but the figure. It makes no machine better, and so stands last.
fn gentler(bench: &Bench, axis: Axis) -> Vec<Cure> {
    let wish = choices::find(WISH).into_iter();
    let each = wish.flat_map(|choice| best(bench, axis, choice));
    let quicker = each.filter(|cure| {
        let Ok(after) = bench.assess(&cure.build) else {
            return false;
        };
        let travel = |of: &Assessment| of.machine.axes[axis].full_travel;
        let job = |of: &Assessment| of.machine.job.as_ref().map(|job| job.total);
        let is_longer = |was, is| matches!((was, is), (Some(was), Some(is)) if is > was);
        !is_longer(travel(bench.before), travel(&after))
            && !is_longer(job(bench.before), job(&after))
    });
    let told = quicker.map(|cure| Cure {
        note: LOWERS_WISH.to_owned(),
        ..cure
    });
    told.collect()
}

/// What a cure is worth to whoever wished for a speed.
fn wish(bench: &Bench, trial: &Trial, axis: Axis) -> String {
    let reaches = |of: &Assessment| reaches(bench.build, of, axis);
    let wanted = bench.build.area.wanted_rapids(axis);
    let wanted = show::number(units::m_per_min::from(wanted), 1);
    match (reaches(bench.before), reaches(&trial.after)) {
        (true, _) => format!(
            "You want {wanted} m/min, which it does already: want more as well, since that is what the controller is set to."
        ),
        (false, true) => format!("You want {wanted} m/min: this reaches it."),
        (false, false) => format!("You want {wanted} m/min: this falls short of it."),
    }
}

/// Whether an axis is as fast as is wished.
pub fn reaches(build: &Build, of: &Assessment, axis: Axis) -> bool {
    let has = units::m_per_min::from(of.machine.axes[axis].rapid);
    has >= units::m_per_min::from(build.area.wanted_rapids(axis)) * (1.0 - SHORT)
}

/// The option of a choice that gains most for its money, and where another gains much more, the
/// cheapest of those as well; where these bring warnings, the best that brings none besides; with
/// what must go along.
fn best(bench: &Bench, axis: Axis, choice: &'static Choice) -> Vec<Cure> {
    let outcomes = outcomes(bench, choice);
    let (fit, unfit): (Vec<_>, Vec<_>) = outcomes
        .into_iter()
        .filter_map(|one| Some((gain(bench, axis, one.reading.rapids[axis].0)?, one)))
        .partition(|(_, one)| one.is_sound());
    let cure = |gain, trial: Trial, value: &Value| Cure {
        title: said(bench, choice, value),
        warnings: trial.added.len(),
        note: String::new(),
        price: trial.price,
        build: trial.build,
        gain,
    };
    let applied = |value: &Value| with(bench, choice, value);
    let as_it_is = |(gain, one): &(f64, Outcome)| {
        let trial = bench.trial(applied(&one.value)).ok()?;
        Some(cure(*gain, trial, &one.value))
    };
    let worth = |(gain, one): &(f64, Outcome)| worth(*gain, one.price);
    let by_worth = |a: &&(f64, Outcome), b: &&(f64, Outcome)| {
        worth(a).total_cmp(&worth(b)).then(a.0.total_cmp(&b.0))
    };
    let mut offered: Vec<Cure> = Vec::new();
    if let Some(best) = fit.iter().max_by(by_worth) {
        let much_more = fit.iter().filter(|(gain, _)| *gain >= best.0 * MUCH_MORE);
        let more = much_more.min_by_key(|(_, one)| (one.added.len(), one.price));
        let harmless = fit.iter().filter(|(_, one)| one.added.is_empty());
        let harmless = harmless.max_by(by_worth);
        let both = [Some(best), more];
        let warned = |(_, one): &&(f64, Outcome)| !one.added.is_empty();
        let harmless = harmless.filter(|_| both.iter().flatten().all(warned));
        let all = [Some(best), more, harmless].into_iter().flatten();
        offered.extend(all.filter_map(as_it_is));
    }
    // What does not fit as it is may be the better way all the same: a faster screw that wants
    // another coupling.
    let mut unfit = unfit;
    let is_beaten = |gain: f64, price: Decimal, by: &[(f64, Outcome)]| {
        by.iter()
            .any(|(other, one)| one.price <= price && *other >= gain)
    };
    unfit.retain(|(gain, one)| !is_beaten(*gain, one.price, &fit));
    unfit.order_by(|(a, one), (b, other)| one.price.cmp(&other.price).then(b.total_cmp(a)));
    unfit.truncate(SETTLED);
    let settled = unfit.iter().filter_map(|(_, one)| {
        let trial = bench.trial(bench.settled(applied(&one.value))).ok()?;
        let gain = gain(bench, axis, trial.after.machine.axes[axis].rapid)?;
        trial.is_sound().then(|| {
            let along = trial
                .edits
                .iter()
                .filter(|edit| edit.choice.id != choice.id)
                .filter(|edit| edit.choice.id != SECOND || !is_pair(bench, choice));
            let along = along.map(|edit| said(bench, edit.choice, &edit.value));
            let along: Vec<String> = along.collect();
            let mut cure = cure(gain, trial, &one.value);
            if !along.is_empty() {
                cure.title = format!("{}, with {}", cure.title, along.join(", "));
            }
            cure
        })
    });
    let mut settled: Vec<Cure> = settled
        .filter(|cure| !is_beaten(cure.gain, cure.price, &fit))
        .collect();
    settled.order_by(|a, b| b.better(a));
    let mut settled = settled.into_iter();
    let best = settled.next();
    // What gains less for less money is another way.
    let cheaper = settled.min_by_key(|cure| cure.price);
    let cheaper = cheaper.filter(|one| best.as_ref().is_some_and(|best| one.price < best.price));
    offered.extend(best.into_iter().chain(cheaper));
    offered
}

/// The drive on the other side of the gantry.
const SECOND: &str = "drive_y2";

/// Whether a choice is a drive that another one stands opposite: both are changed together, since
/// the slower of them holds the axis and sides that differ tear the gantry askew.
fn is_pair(bench: &Bench, choice: &Choice) -> bool {
    let second = choices::find(SECOND);
    let is_free = second.is_ok_and(|second| !is_bought(bench.build, second));
    choice.id == Axis::Y.choice("drive") && bench.build.drive.second_drive.is_some() && is_free
}

/// The build with another value of a choice, and with the same drive on both sides.
fn with(bench: &Bench, choice: &'static Choice, value: &Value) -> Build {
    let value = value.clone();
    let mut build = Edit { choice, value }.applied(bench.build);
    if is_pair(bench, choice) {
        build.drive.second_drive = None;
    }
    build
}

/// What every other option of a choice comes to.
fn outcomes(bench: &Bench, choice: &'static Choice) -> Vec<Outcome> {
    if !is_pair(bench, choice) {
        return weigh::weighed(bench, choice).outcomes;
    }
    let options = weigh::options(choice, bench.catalogue, bench.build).into_iter();
    let each = options.filter_map(|value| {
        let trial = bench.trial(with(bench, choice, &value)).ok()?;
        Some(Outcome::of(value, trial))
    });
    each.collect()
}

/// By how much the axis is faster, in metres a minute; none where it is not worth naming.
fn gain(bench: &Bench, axis: Axis, after: Velocity) -> Option<f64> {
    let was = units::m_per_min::from(bench.before.machine.axes[axis].rapid);
    let is = units::m_per_min::from(after);
    let gain = is - was;
    // What reads as the same speed is no cure to whoever reads it.
    let reads = |speed| show::number(speed, 1);
    (gain > was * NOTICEABLE && reads(is) != reads(was)).then_some(gain)
}

/// The question what makes an axis faster.
pub fn of(axis: Axis) -> &'static Question {
    match axis {
        Axis::X => &QUESTIONS[0],
        Axis::Y => &QUESTIONS[1],
        Axis::Z => &QUESTIONS[2],
    }
}
