//! How the figures of the cabinet's heat came about.

use super::{AIR_PER_WATT, CabinetHeat, Losses, allowed_rise};
use crate::build::choices::control::Mounting;
use crate::build::{Axis, Picked};
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::loads::SpindleDraw;
use crate::machine::motor_draw::{MotorDraw, TOGETHER};
use crate::units::{self, Amount, Power};
use crate::words::Words;

/// The path of what one kind of device loses.
fn path(key: &str) -> String {
    format!("power.cabinet_losses_w.{key}")
}

/// Notes what each kind of device loses.
pub(super) fn losses(
    picked: &Picked,
    motors: &MotorDraw,
    spindle: &SpindleDraw,
    losses: &Losses,
    notes: &mut impl Recorder,
) {
    notes.note(|| {
        let axes = Axis::EACH.map(|axis| {
            let title = format!("{}: what passes its drivers, times their loss", axis.title());
            let heat = units::w::amount(motors.axes[axis].driver_heat);
            Input::new("P_i", title, heat, Origin::part(picked.axes[axis].driver))
        });
        Derivation::of(path("drivers"), "heat of the motor drivers", units::w::amount(losses.drivers))
            .by("power that passes each driver in usual work times the share that it loses", "P = Σ P_i")
            .with_each(axes)
            .from("data of the drivers, 3 to 6 % of what passes", "steppers: two thirds of the set current at the supply's voltage; servos: half of the rated power")
    });
    notes.note(|| {
        Derivation::of(
            path("supplies"),
            "heat of the motors' supplies",
            units::w::amount(losses.supplies),
        )
        .by(
            "half of the greatest power times what the efficiency leaves over",
            "P = ½ · V · I · (1/η - 1)",
        )
        .with(
            "V",
            "voltage of the supply",
            units::v::amount(picked.supply.volts),
            Origin::part(picked.supply),
        )
        .with(
            "I",
            "current that the motors need at most",
            units::a::amount(motors.needed),
            Origin::figure("power.supplies.motors.needed_a"),
        )
        .with(
            "½",
            "share in usual work",
            Amount::plain(TOGETHER),
            Origin::Constant("common practice"),
        )
        .with(
            "η",
            "efficiency",
            Amount::plain(units::share::from(picked.supply.efficiency)),
            Origin::part(picked.supply),
        )
        .from(
            "data sheet of the supply",
            "its efficiency falls at part load",
        )
    });
    inverter(picked, spindle, losses, notes);
    others(picked, losses, notes);
    total(losses, notes);
}

fn inverter(picked: &Picked, spindle: &SpindleDraw, losses: &Losses, notes: &mut impl Recorder) {
    notes.note(|| {
        let figure = Derivation::of(
            path("inverter"),
            "heat of the inverter",
            units::w::amount(losses.inverter),
        );
        let Some(vfd) = picked.inverter() else {
            return figure
                .by("no inverter is in use", "P = 0")
                .from("a hand router takes its power from the mains itself", "");
        };
        figure
            .by(
                "what the inverter takes in usual work less what it passes on",
                "P = P₁ · (1 - η)",
            )
            .with(
                "P₁",
                "power at its input in usual work",
                units::w::amount(spindle.power.typical),
                Origin::Here,
            )
            .with(
                "η",
                "efficiency",
                Amount::plain(units::share::from(vfd.efficiency)),
                Origin::part(vfd),
            )
            .from("data sheet of the inverter, 3 to 5 % of what passes", "")
    });
}

fn others(picked: &Picked, losses: &Losses, notes: &mut impl Recorder) {
    notes.note(|| {
        Derivation::of(
            path("controller"),
            "heat of the controller",
            units::w::amount(losses.controller),
        )
        .by("all that it draws becomes heat", "P")
        .with(
            "P",
            "power of the controller",
            units::w::amount(picked.controller.power),
            Origin::part(picked.controller),
        )
        .from("data sheet of the controller", "")
    });
    notes.note(|| {
        let figure = Derivation::of(
            path("fan"),
            "heat of the cabinet's fan",
            units::w::amount(losses.fan),
        )
        .by("all that it draws becomes heat", "P")
        .from("data sheet of the fan", "");
        match picked.fan {
            Some(fan) => figure.with(
                "P",
                "power of the fan",
                units::w::amount(fan.power),
                Origin::part(fan),
            ),
            None => figure.with(
                "P",
                "no fan",
                units::w::amount(Power::default()),
                Origin::choice("fan"),
            ),
        }
    });
}

fn total(losses: &Losses, notes: &mut impl Recorder) {
    notes.note(|| {
        let each = [
            ("drivers", losses.drivers),
            ("supplies", losses.supplies),
            ("inverter", losses.inverter),
            ("controller", losses.controller),
            ("fan", losses.fan),
        ];
        let each = each.map(|(key, value)| {
            Input::new(
                "P_i",
                key,
                units::w::amount(value),
                Origin::figure(path(key)),
            )
        });
        Derivation::of(
            "power.cabinet_heat_w",
            "heat in the cabinet",
            units::w::amount(losses.total()),
        )
        .by(
            "the losses of all devices in usual work, added up",
            "P = Σ P_i",
        )
        .with_each(each)
        .from(
            "energy balance",
            "a summer's sun on the cabinet comes on top",
        )
    });
}

/// Notes surface, rise and air.
pub(super) fn rise(picked: &Picked, found: &CabinetHeat, k: f64, notes: &mut impl Recorder) {
    let cabinet = picked.cabinet;
    let heat = found.losses.total();
    let conducts = || Origin::Constant("enclosure makers' tables; wood: ISO 6946");
    let surface = found.surface.unwrap_or_default();
    if let (Some(area), Some(rise)) = (found.surface, found.rise) {
        notes.note(|| {
            let mounting = picked.build.control.mounting;
            Derivation::of("power.cabinet_surface_m2", "surface that sheds heat", units::m2::amount(area))
                .by(
                    "sides, top and front weighed by how freely air rises along them, as the cabinet stands",
                    match mounting {
                        Mounting::Wall => "A = 1.4 · W · (H + D) + 1.8 · D · H",
                        Mounting::Free => "A = 1.8 · H · (W + D) + 1.4 · W · D",
                    },
                )
                .with("H", "height", units::mm::amount(cabinet.height), Origin::part(cabinet))
                .with("W", "width", units::mm::amount(cabinet.width), Origin::part(cabinet))
                .with("D", "depth", units::mm::amount(cabinet.depth), Origin::part(cabinet))
                .with("1.4", format!("weight of faces that carry off less, {}", mounting.title()), Amount::plain(1.4), Origin::choice("cabinet_mounting"))
                .with("1.8", "weight of open faces", Amount::plain(1.8), Origin::Constant("IEC 60890, from memory"))
                .from("IEC 60890, a single enclosure, from memory", "for a cabinet that stands alone")
        });
        notes.note(|| {
            let figure = Derivation::of("power.cabinet_rise_k", "how much warmer the cabinet gets than the room", units::kelvin::amount(rise))
                .by("heat over what walls and fan carry off for each kelvin", "ΔT = P / (k · A + Q / 3.1)")
                .with("P", "heat", units::w::amount(heat), Origin::figure("power.cabinet_heat_w"))
                .with("k", format!("heat through {}", cabinet.material.title()), Amount::of(k, "W/m²K"), conducts())
                .with("A", "surface", units::m2::amount(area), Origin::figure("power.cabinet_surface_m2"))
                .from("enclosure makers' form", "the mean of the air inside: at the top it is warmer; a clogged filter halves the air");
            let air = picked.fan.map_or(0.0, |fan| fan.air.as_m3_per_h());
            figure
                .with("Q", "air of the fan", Amount::of(air, "m³/h"), Origin::choice("fan"))
                .with("3.1", "air for a watt and a kelvin, up to 100 m above the sea", Amount::of(AIR_PER_WATT, "m³K/Wh"), Origin::Constant("enclosure makers' form"))
        });
    }
    notes.note(|| {
        Derivation::of("power.cabinet_air_m3_per_h", "air that would keep the cabinet cool", Amount::of(found.air_needed.as_m3_per_h(), "m³/h"))
            .by("air that carries off what the walls do not at the allowed rise; none where the walls do", "Q = 3.1 · max(0, P / ΔT - k · A)")
            .with("P", "heat", units::w::amount(heat), Origin::figure("power.cabinet_heat_w"))
            .with("ΔT", "allowed rise", units::kelvin::amount(allowed_rise()), Origin::Constant("40 °C around the devices in a room of 25 °C, common practice"))
            .with("k", format!("heat through {}", cabinet.material.title()), Amount::of(k, "W/m²K"), conducts())
            .with("A", "surface", units::m2::amount(surface), Origin::Here)
            .with("3.1", "air for a watt and a kelvin, up to 100 m above the sea", Amount::of(AIR_PER_WATT, "m³K/Wh"), Origin::Constant("enclosure makers' form; 3600 s / (1.204 kg/m³ · 1005 J/kgK) = 2.98 exactly"))
            .from("enclosure makers' form", "at 750 to 1000 m above the sea take 3.5 in place of 3.1")
    });
}
