//! How the figures of the motors' supply came about.

use super::{SupplyFigures, VOLTAGE_SHARE, VOLTS_PER_ROOT_MH, stepper};
use crate::build::{Axis, Picked};
use crate::catalogue::motor::FeedKind;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::motor_draw::MotorDraw;
use crate::units::{self, Amount};
use crate::words::Words;

/// The path of a figure of the motors' supply.
fn path(key: &str) -> String {
    format!("power.supplies.motors.{key}")
}

impl SupplyFigures {
    /// Tells what the supplies give, and what the motors need.
    pub(super) fn note_currents(
        &self,
        picked: &Picked,
        motors: &MotorDraw,
        notes: &mut impl Recorder,
    ) {
        notes.note(|| {
            Derivation::of(path("rated_a"), "current that the supplies give", units::a::amount(self.rated))
                .by("the rated current of one, times their number", "I = n · I₁")
                .with("n", "supplies", Amount::plain(f64::from(picked.build.drive.supply_count)), Origin::choice("supply_count"))
                .with("I₁", "rated current of one", units::a::amount(picked.supply.current), Origin::part(picked.supply))
                .from("data sheet of the supply", "supplies side by side share the load only where their data sheet says so, or where each feeds drivers of its own")
        });
        notes.note(|| {
            let each = Axis::EACH.map(|axis| {
                let of = match stepper(picked, axis) {
                    Some(_) => "two thirds",
                    None => "all",
                };
                let title = format!("{} motors: {of} of the set current of each", axis.title());
                let current = units::a::amount(motors.axes[axis].by_rule);
                Input::new("I_i", title, current, Origin::choice(axis.choice("motor")))
            });
            Derivation::of(path("two_thirds_a"), "current by the two-thirds rule", units::a::amount(self.by_rule))
                .by("two thirds of the current that each stepper's driver is set to, and the rated current of each DC servo, added up", "I = Σ I_i")
                .with_each(each)
                .from("driver makers' rule for chopping drivers", "an upper bound: 30 to 50 % of it flows on average")
        });
        self.note_real(picked, motors, notes);
        self.note_needed(notes);
    }

    fn note_real(&self, picked: &Picked, motors: &MotorDraw, notes: &mut impl Recorder) {
        notes.note(|| {
            let each = Axis::EACH.into_iter().flat_map(|axis| {
                let draw = &motors.axes[axis];
                let input = |symbol, what: &str, power| {
                    let title = format!("{}: {what}", axis.title());
                    Input::new(symbol, title, units::w::amount(power), Origin::Here)
                };
                [
                    input("C_i", "copper loss, I² · R at 80 °C for two phases, all motors", draw.copper),
                    input("S_i", "shaft power at rapids, needed torque times speed, all motors", draw.shaft),
                ]
            });
            Derivation::of(path("real_a"), "current by copper loss and shaft power", units::a::amount(self.by_power))
                .by("copper loss and shaft power of all motors, over the supply's voltage", "I = Σ (C_i + S_i) / V")
                .with_each(each)
                .with("V", "supply voltage", units::v::amount(self.volts), Origin::part(picked.supply))
                .from("two phases with sine currents, copper 0.393 %/K (IEC 60028); energy balance", "all axes at full acceleration and rapids at once; iron loss and the drivers' own loss are left out")
        });
    }

    fn note_needed(&self, notes: &mut impl Recorder) {
        notes.note(|| {
            Derivation::of(
                path("needed_a"),
                "current that the motors need",
                units::a::amount(self.needed),
            )
            .by(
                "the larger of the two-thirds rule and of copper loss with shaft power",
                "I = max(I_rule, I_real)",
            )
            .with(
                "I_rule",
                "by the two-thirds rule",
                units::a::amount(self.by_rule),
                Origin::figure(path("two_thirds_a")),
            )
            .with(
                "I_real",
                "by copper loss and shaft power",
                units::a::amount(self.by_power),
                Origin::figure(path("real_a")),
            )
            .from(
                "common practice",
                "on average less flows: this is what the supply must be able to give",
            )
        });
    }

    /// Tells its voltage, and what drivers and iron bear.
    pub(super) fn note_voltages(&self, picked: &Picked, notes: &mut impl Recorder) {
        notes.note(|| {
            Derivation::of(
                path("volts"),
                "voltage of the motors' supply",
                units::v::amount(self.volts),
            )
            .by("as its data sheet says", "V")
            .with(
                "V",
                "output voltage",
                units::v::amount(self.volts),
                Origin::part(picked.supply),
            )
            .from(
                "data sheet of the supply",
                "under load it sags by a few percent",
            )
        });
        if let Some(bear) = self.drivers_bear {
            notes.note(|| {
                let on_it = Axis::EACH
                    .into_iter()
                    .map(|axis| (axis, picked.axes[axis].driver));
                let each = on_it.filter(|(_, driver)| driver.feed == FeedKind::Dc).map(
                    |(axis, driver)| {
                        Input::new(
                            "V_i",
                            format!("greatest voltage of the driver of {}", axis.title()),
                            units::v::amount(driver.greatest_voltage),
                            Origin::part(driver),
                        )
                    },
                );
                Derivation::of(
                    path("drivers_bear_v"),
                    "voltage that the drivers bear",
                    units::v::amount(bear),
                )
                .by(
                    "the least of the drivers' greatest voltages, 15 % room kept for braking",
                    "V = s · min V_i",
                )
                .with_each(each)
                .with(
                    "s",
                    "share that may be used",
                    Amount::plain(VOLTAGE_SHARE),
                    Origin::Constant("common practice"),
                )
                .from(
                    "common practice",
                    "a heavy axis stopped hard lifts the voltage by more: see the braking energy",
                )
            });
        }
        self.note_iron(picked, notes);
    }

    fn note_iron(&self, picked: &Picked, notes: &mut impl Recorder) {
        if let Some(bear) = self.motors_bear {
            notes.note(|| {
                let steppers = Axis::EACH.into_iter();
                let steppers = steppers.filter_map(|axis| Some((axis, stepper(picked, axis)?)));
                let each = steppers.map(|(axis, motor)| {
                    let title = format!("inductance of the motor of {}", axis.title());
                    Input::new("L_i", title, units::mh::amount(motor.inductance), Origin::part(motor))
                });
                Derivation::of(path("motors_bear_v"), "voltage that the motors' iron bears", units::v::amount(bear))
                    .by("32 times the root of the least inductance in millihenries", "V = 32 · √(min L_i / mH)")
                    .with_each(each)
                    .with("32", "volts for the root of a millihenry", Amount::plain(VOLTS_PER_ROOT_MH), Origin::Constant("common practice of stepper makers"))
                    .from("common practice of stepper makers", "a limit of heat in the iron, none of torque; the drivers' voltage often binds first")
            });
        }
    }
}
