//! Where the next money goes: which single change of a choice stiffens the machine most for
//! what it costs, found by assessing every option.

use rust_decimal::Decimal;

use super::effect::{Effect, effect, is_sound};
use super::told::warned;
use super::trial::Bench;
use super::weigh;
use crate::assessment::Assessment;
use crate::build::choices::{self, Choice, Kind};
use crate::build::{Axis, Edit, Value};
use crate::order::Order as _;
use crate::rules::{Finding, Severity};
use crate::units::{self, Stiffness, Velocity, show};
use crate::words::Words as _;

/// How many changes are shown.
const BEST: usize = 3;

/// The share of the stiffness that a change must add at least: less is not worth the work, and
/// would lead the list wherever it saves money.
const NOTICEABLE: f64 = 0.05;

/// The choices of parts and words that a frame's stiffness hangs on.
const RELEVANT: &[&str] = &[
    "frame_plan",
    "beam_tube",
    "base_tube",
    "plate",
    "filament",
    "gantry_drive",
    "preloaded_nuts",
];

/// Those that exist for each axis.
const OF_EACH_AXIS: &[&str] = &["guide", "carriages", "drive", "ends", "motor", "coupling"];

/// One change that stiffens the machine.
#[derive(Clone, Debug)]
pub struct Stiffer {
    /// The change.
    pub edit: Edit,
    /// Stiffness at the collet that it adds, at mid-span.
    pub added: Stiffness,
    /// What it adds to the likely cost; below zero where it saves.
    pub cost: Decimal,
    /// Stiffness at the collet with it.
    pub after: Stiffness,
    /// Cautions and hints that it brings.
    pub brings: Vec<Finding>,
    /// The first axis that it slows noticeably: its rapids before and after.
    pub slows: Option<(Axis, Velocity, Velocity)>,
}

impl Stiffer {
    /// What stands against it; nothing where nothing does.
    pub fn drawback(&self) -> String {
        let speed = |speed| show::number(units::m_per_min::from(speed), 1);
        let slower = self.slows.map(|(axis, before, after)| {
            let (before, after) = (speed(before), speed(after));
            format!("rapids {} {before} -> {after} m/min", axis.title())
        });
        let cautions = self.brings.iter();
        let cautions = cautions.filter(|one| one.severity == Severity::Caution);
        let cautions: Vec<Finding> = cautions.cloned().collect();
        let worse = warned(&cautions).into_iter();
        let worse = worse.map(|warned| format!("brings {warned}"));
        slower
            .into_iter()
            .chain(worse)
            .collect::<Vec<_>>()
            .join("; ")
    }

    /// Newtons a micrometre for each unit of money; without end where it costs nothing.
    pub fn worth(&self) -> f64 {
        weigh::worth(units::n_per_um::from(self.added), self.cost)
    }
}

/// The changes that add most stiffness at the collet in a direction for their money, the best
/// first, at most three and one for each choice. Each adds at least a twentieth of it. What costs
/// nothing comes first. A change that brings a danger or a fault is none.
pub fn stiffer(bench: &Bench, axis: Axis) -> Vec<Stiffer> {
    let mut found: Vec<Stiffer> = Vec::new();
    for choice in relevant() {
        let tried = options(choice, bench).into_iter();
        let best = tried
            .filter_map(|value| gain(bench, Edit { choice, value }, axis))
            .max_by(better);
        found.extend(best);
    }
    found.order_by(|a, b| better(b, a));
    found.truncate(BEST);
    found
}

/// By worth, and among equals by what is added.
fn better(a: &Stiffer, b: &Stiffer) -> std::cmp::Ordering {
    let added = |one: &Stiffer| one.added.value;
    a.worth()
        .total_cmp(&b.worth())
        .then(added(a).total_cmp(&added(b)))
}

/// The choices that a frame's stiffness hangs on.
pub(super) fn relevant() -> Vec<&'static Choice> {
    let plain = RELEVANT.iter().map(|id| (*id).to_owned());
    let each = OF_EACH_AXIS
        .iter()
        .flat_map(|name| Axis::EACH.map(|axis| axis.choice(name)));
    plain
        .chain(each)
        .filter_map(|id| choices::find(&id).ok())
        .collect()
}

/// Every other option of a choice; of a count, the next one up.
fn options(choice: &Choice, bench: &Bench) -> Vec<Value> {
    let now = (choice.get)(bench.build);
    if let (Kind::Number(kind), Value::Number(Some(number))) = (choice.kind, &now) {
        let next = number + kind.step;
        let offered = (next <= kind.most).then_some(Value::Number(Some(next)));
        return offered.into_iter().collect();
    }
    let mut options = choice.options(bench.catalogue);
    options.retain(|value| *value != now);
    options
}

/// What a change gains; none where it stiffens nothing or brings a danger or a fault.
fn gain(bench: &Bench, edit: Edit, axis: Axis) -> Option<Stiffer> {
    let before = bench.before;
    let Effect {
        after,
        price,
        added,
        ..
    } = effect(bench, std::slice::from_ref(&edit)).ok()?;
    // Where the collet was measured, the model alone knows what another part would change.
    let of_model = |one: &Assessment| {
        let stiffness = &one.machine.stiffness;
        stiffness.modelled[axis].unwrap_or(stiffness.collet[axis])
    };
    let rapid = |one: &Assessment, axis| one.machine.axes[axis].rapid;
    let slows = Axis::EACH.into_iter().find_map(|axis| {
        let (then, now) = (rapid(&after, axis), rapid(before, axis));
        (then < now * (1.0 - NOTICEABLE)).then_some((axis, now, then))
    });
    let (after, now) = (of_model(&after), of_model(before));
    (is_sound(&added) && after > now * (1.0 + NOTICEABLE)).then(|| Stiffer {
        edit,
        added: after - now,
        cost: price,
        after,
        brings: added,
        slows,
    })
}
