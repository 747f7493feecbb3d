//! How what the controller and the driver of an axis are set to comes about.

use super::Told;
use crate::build::Axis;
use crate::catalogue::Motor;
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis::settings::Settings;
use crate::machine::motion::ramp::Ramp;
use crate::machine::stepper::STEPS_A_TURN;
use crate::units::{self, Acceleration, Amount, ElectricCurrent, Velocity};
use std::f64::consts::SQRT_2;

/// Tells of every setting.
pub(super) fn note(told: &Told, notes: &mut impl Recorder) {
    let Settings {
        acceleration,
        current_rms,
        ..
    } = told.figures.settings;
    notes.note(|| pulses_a_turn(told));
    notes.note(|| pulses_per_mm(told));
    notes.note(|| speed(told));
    if let (Some(set), Some(ramp)) = (acceleration, told.figures.ramp) {
        notes.note(|| self::acceleration(told, set, &ramp));
    }
    notes.note(|| current(told));
    if let Some(rms) = current_rms {
        notes.note(|| self::current_rms(told, rms));
    }
}

/// A speed as controllers are told it.
fn mm_per_min(speed: Velocity) -> Amount {
    Amount::of(units::m_per_min::from(speed) * 1000.0, "mm/min")
}

/// An acceleration as controllers are told it.
fn mm_per_s2(acceleration: Acceleration) -> Amount {
    Amount::of(units::m_per_s2::from(acceleration) * 1000.0, "mm/s²")
}

fn pulses_a_turn(told: &Told) -> Derivation {
    let pulses = Amount::plain(told.figures.settings.pulses_a_turn);
    let figure = told.of(
        "settings.pulses_a_turn",
        "pulses for one turn of the motor",
        pulses,
    );
    match told.picked.axes[told.axis].motor {
        Motor::Stepper(_) => figure
            .by("full steps a turn, each in microsteps", "N = 200 m")
            .with(
                "200",
                "full steps a turn",
                Amount::plain(STEPS_A_TURN),
                Origin::Constant("hybrid steppers of 1.8° a step"),
            )
            .with(
                "m",
                "microsteps of a full step",
                Amount::plain(f64::from(told.picked.build.drive.microsteps)),
                Origin::choice("microsteps"),
            )
            .from("calculation", "The driver's switches must say the same."),
        Motor::Servo(motor) => figure
            .by("pulses a turn that the servo's drive is set to accept", "N")
            .with("N", "pulses a turn", pulses, Origin::part(motor))
            .from(
                "data of the part",
                "The servo's drive must be set to the same.",
            ),
    }
}

fn pulses_per_mm(told: &Told) -> Derivation {
    let settings = told.figures.settings;
    told.of(
        "settings.pulses_per_mm",
        "steps: pulses for one millimetre",
        Amount::of(settings.pulses_per_mm, "per mm"),
    )
    .by(
        "pulses a turn over travel for one turn of the motor",
        "S = N/P",
    )
    .with_each(told.turn())
    .from(
        "calculation",
        "A lead as printed may be off by some tenths of a percent: measure and correct.",
    )
}

fn speed(told: &Told) -> Derivation {
    let wish = match told.axis {
        Axis::Z => "rapid_wish_z_m_per_min",
        Axis::X | Axis::Y => "rapid_wish_m_per_min",
    };
    let wanted = told.picked.build.area.wanted_rapids(told.axis);
    told.of(
        "settings.speed_mm_per_min",
        "speed to set",
        mm_per_min(told.figures.settings.speed),
    )
    .by(
        "the wanted rapids, as far as the axis reaches them",
        "v = min(v_w, v_m)",
    )
    .with(
        "v_w",
        "wanted rapids",
        mm_per_min(wanted),
        Origin::choice(wish),
    )
    .with(
        "v_m",
        "the most that the axis reaches",
        mm_per_min(told.figures.rapid),
        told.figure("rapid_m_per_min"),
    )
    .from(
        "calculation",
        "Begin with a tenth of it; keep 70 % of what the axis proves to do.",
    )
}

fn acceleration(told: &Told, set: Acceleration, ramp: &Ramp) -> Derivation {
    let (_, wish) = told.wanted();
    told.of(
        "settings.acceleration_mm_per_s2",
        "acceleration to set",
        mm_per_s2(set),
    )
    .by(
        "the wanted acceleration, as far as the motors leave it",
        "a = min(a_w, a_m)",
    )
    .with(
        "a_w",
        "wanted acceleration",
        mm_per_s2(told.picked.build.area.acceleration),
        wish,
    )
    .with(
        "a_m",
        "lesser of the acceleration left at rapids and at half of them",
        mm_per_s2(ramp.acceleration()),
        told.left_for(ramp),
    )
    .from(
        "calculation",
        "Begin with a tenth of it; keep 70 % of what the axis proves to do.",
    )
}

fn current(told: &Told) -> Derivation {
    let picked = told.picked;
    let chosen = &picked.axes[told.axis];
    let current = units::a::amount(told.figures.settings.current);
    let of = |title| told.of("settings.current_a", title, current);
    match chosen.motor {
        Motor::Stepper(motor) => of("current of a phase to set, peak")
            .by(
                "the wished share of the motor's rated current, as far as the driver gives it",
                "I = min(c I_r, I_d)",
            )
            .with(
                "c",
                "share of the rated current that is set",
                units::percent::amount(picked.build.drive.current_share),
                Origin::choice("current_percent"),
            )
            .with(
                "I_r",
                "rated current of the motor",
                units::a::amount(motor.current),
                Origin::part(motor),
            )
            .with(
                "I_d",
                "greatest current of the driver",
                units::a::amount(chosen.driver.greatest_current),
                Origin::part(chosen.driver),
            )
            .from(
                "data of motor and driver",
                "Some drivers are told the effective current instead: see that.",
            ),
        Motor::Servo(motor) => of("rated current to set")
            .by("the motor's rated current", "I")
            .with("I", "rated current", current, Origin::part(motor))
            .from("data of the part", "It is set in the servo's drive."),
    }
}

fn current_rms(told: &Told, rms: ElectricCurrent) -> Derivation {
    told.of(
        "settings.current_rms_a",
        "current of a phase to set, RMS",
        units::a::amount(rms),
    )
    .by("the peak of the same sine over √2", "I_eff = I/√2")
    .with(
        "I",
        "peak current of a phase",
        units::a::amount(told.figures.settings.current),
        told.figure("settings.current_a"),
    )
    .with(
        "√2",
        "peak of a sine over its effective value",
        Amount::plain(SQRT_2),
        Origin::Constant("mathematics"),
    )
    .from(
        "calculation",
        "Which of the two a driver means, its manual says.",
    )
}
