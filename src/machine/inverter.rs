//! What the spindle's inverter is told: the numbers that a person copies from the nameplate, or
//! works out of it.

use super::cable_load::{SPINDLE_POWER_FACTOR, spindle_current};
use crate::build::Picked;
use crate::catalogue::spindle::Spindle;
use crate::explain::{Derivation, Origin, Recorder};
use crate::units::{self, Amount, AngularVelocity, ElectricCurrent, Frequency};

/// Frequencies nearer than this are the same.
const SLACK_HZ: f64 = 0.05;

/// A share of the power from here on is all of it: whole percents are shown.
const ALL_PERCENT: f64 = 99.95;

/// The settings of the inverter, chosen or still to choose, of a spindle that needs one.
#[derive(Clone, Copy, Debug)]
pub struct InverterSettings {
    /// The frequency of the rated speed, at which the voltage is full.
    pub base: Frequency,
    /// The frequency of the least speed.
    pub least: Frequency,
    /// The fastest frequency that spindle and inverter both bear.
    pub greatest: Frequency,
    /// Whether the inverter goes no further, though the spindle would.
    pub held_by_inverter: bool,
    /// The current that keeps the spindle within the share of its power by which socket, breaker
    /// and cable are worked out; none where all of it is used, or where the inverter gives less.
    pub limit: Option<ElectricCurrent>,
}

impl InverterSettings {
    /// Of the spindle that is picked; none where it needs no inverter, or where nobody knows how
    /// many poles it has.
    pub(super) fn of(picked: &Picked, notes: &mut impl Recorder) -> Option<Self> {
        let spindle = picked.spindle;
        let base = spindle.rated_frequency().filter(|_| spindle.needs_vfd())?;
        let wanted = frequency(spindle, base, spindle.greatest_speed);
        let bound = picked.vfd.map(|vfd| vfd.greatest_frequency);
        let bound = bound.filter(|most| *most + units::hz::of(SLACK_HZ) < wanted);
        let settings = Self {
            base,
            least: frequency(spindle, base, spindle.least_speed),
            greatest: bound.unwrap_or(wanted),
            held_by_inverter: bound.is_some(),
            limit: limit(picked),
        };
        notes.note(|| settings.base_note(spindle));
        notes.note(|| settings.least_note(spindle));
        notes.note(|| settings.greatest_note(picked));
        if let Some(current) = settings.limit {
            notes.note(|| {
                let title = "current limit of the inverter";
                let figure =
                    Derivation::of("power.inverter.limit_a", title, units::a::amount(current));
                spindle_current_note(picked, figure)
            });
        }
        Some(settings)
    }

    /// The frequency at which a spindle turns so fast.
    pub fn at(&self, spindle: &Spindle, speed: AngularVelocity) -> Frequency {
        frequency(spindle, self.base, speed)
    }

    fn base_note(&self, spindle: &Spindle) -> Derivation {
        let poles = Amount::plain(spindle.poles.map_or(0.0, f64::from));
        Derivation::of(
            "power.inverter.base_hz",
            "base frequency of the inverter",
            units::hz::amount(self.base),
        )
        .by(
            "poles times turns a minute of the rated speed, over 120",
            "f = p n/120",
        )
        .with("p", "poles", poles, Origin::part(spindle))
        .with(
            "n",
            "rated speed",
            units::rpm::amount(spindle.rated_speed),
            Origin::part(spindle),
        )
        .from(
            "synchronous speed by poles; spindle makers' manuals",
            "The nameplate of the spindle that arrived counts.",
        )
    }

    fn least_note(&self, spindle: &Spindle) -> Derivation {
        let figure = Derivation::of(
            "power.inverter.least_hz",
            "least frequency of the inverter",
            units::hz::amount(self.least),
        );
        self.in_proportion(figure, spindle, ("least speed", spindle.least_speed))
            .by(
                "the base frequency in proportion to the spindle's least speed",
                "f = f_b n/n_r",
            )
            .from("synchronous speed; data of the spindle", "")
    }

    fn greatest_note(&self, picked: &Picked) -> Derivation {
        let spindle = picked.spindle;
        let figure = Derivation::of(
            "power.inverter.greatest_hz",
            "greatest frequency of the inverter",
            units::hz::amount(self.greatest),
        );
        let fastest = ("greatest speed", spindle.greatest_speed);
        let figure = self.in_proportion(figure, spindle, fastest);
        let figure = match picked.vfd {
            Some(vfd) => figure
                .by(
                    "the base frequency in proportion to the spindle's greatest speed, as far as the inverter goes",
                    "f = min(f_b n/n_r, f_i)",
                )
                .with("f_i", "greatest frequency of the inverter", units::hz::amount(vfd.greatest_frequency), Origin::part(vfd)),
            None => figure.by(
                "the base frequency in proportion to the spindle's greatest speed",
                "f = f_b n/n_r",
            ),
        };
        figure.from(
            "synchronous speed; data of spindle and inverter",
            "Beyond the base frequency the torque falls.",
        )
    }

    /// What the frequency of a speed follows from.
    fn in_proportion(
        &self,
        figure: Derivation,
        spindle: &Spindle,
        (title, speed): (&str, AngularVelocity),
    ) -> Derivation {
        let base = Origin::figure("power.inverter.base_hz");
        let rated = units::rpm::amount(spindle.rated_speed);
        figure
            .with("f_b", "base frequency", units::hz::amount(self.base), base)
            .with("n", title, units::rpm::amount(speed), Origin::part(spindle))
            .with("n_r", "rated speed", rated, Origin::part(spindle))
    }
}

/// The frequency of a speed: in proportion to the rated one.
fn frequency(spindle: &Spindle, base: Frequency, speed: AngularVelocity) -> Frequency {
    base * (speed / spindle.rated_speed)
}

fn limit(picked: &Picked) -> Option<ElectricCurrent> {
    let share = units::percent::from(picked.build.spindle.power_cap);
    let current = spindle_current(picked);
    let given = picked.vfd.is_none_or(|vfd| current <= vfd.output);
    (share < ALL_PERCENT && given).then_some(current)
}

/// How a figure that is the spindle's current at the power cap comes about.
pub(super) fn spindle_current_note(picked: &Picked, figure: Derivation) -> Derivation {
    let cap = Amount::plain(units::share::from(picked.build.spindle.power_cap));
    figure
        .by(
            "the rated current of the spindle, its working part cut to the power that you allow",
            "I = I_N · √((0.8 · s)² + 1 - 0.8²)",
        )
        .with(
            "I_N",
            "rated current of the spindle",
            units::a::amount(picked.spindle.current),
            Origin::part(picked.spindle),
        )
        .with("s", "power cap", cap, Origin::choice("power_cap_percent"))
        .with(
            "0.8",
            "power factor of the spindle at full load",
            Amount::plain(SPINDLE_POWER_FACTOR),
            Origin::Constant("typical of published data sheets"),
        )
        .from(
            "vector sum of working and magnetising current",
            "harmonics of the inverter are left out",
        )
}
