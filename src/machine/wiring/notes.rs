//! How the figures of one cable run came about.

use super::{BENDS, CableRun, Way, in_cabinet};
use crate::build::Picked;
use crate::catalogue::Motor;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::axis_path;
use crate::machine::cable_load::{CableLoad, motor_at};
use crate::machine::circuit;
use crate::machine::conductor::{self, Laying};
use crate::machine::geometry::lengths::{ChainCut, chain_path};
use crate::machine::inverter::spindle_current_note;
use crate::machine::loads::{Consumer, circuit_of};
use crate::machine::sizing::Sizing;
use crate::units::{self, Amount, Area};
use crate::words::Words as _;

fn path(run: &CableRun, key: &str) -> String {
    format!("cables.{}.{key}", run.mark)
}

fn of_cable(run: &CableRun) -> Origin {
    Origin::Part(run.cable.to_string())
}

/// Notes the length of a run.
pub(super) fn length(
    picked: &Picked,
    chains: &[ChainCut],
    run: &CableRun,
    way: &Way,
    notes: &mut impl Recorder,
) {
    notes.note(|| {
        let plan = || Origin::Plan(picked.frame.id.to_string());
        let title = format!("length of the cable to {}", run.title());
        let passed = chains.iter().filter(|chain| run.chains.contains(&chain.axis));
        let in_chains = passed.map(|chain| {
            let title = format!("in the chain of {}", chain.axis.title());
            let length = units::m::amount(chain.length);
            Input::new("L_i", title, length, Origin::figure(chain_path(chain.axis)))
        });
        Derivation::of(path(run, "length_m"), title, units::m::amount(run.length))
            .by(
                "a metre in the cabinet, the fixed way, what it follows, the chains that it passes and the way from the last of them; a tenth more for bends",
                "L = 1.1 · (L_cab + L_fix + L_fol + Σ L_i + L_mov)",
            )
            .with("L_cab", "in the cabinet", units::m::amount(in_cabinet()), Origin::Constant("common practice"))
            .with("L_fix", "fixed way", units::m::amount(way.fixed), plan())
            .with("L_fol", "along rails or travel", units::m::amount(way.followed), plan())
            .with_each(in_chains)
            .with("L_mov", "from the last chain to its end", units::m::amount(way.moving), plan())
            .with("1.1", "a tenth for bends", Amount::plain(BENDS), Origin::Constant("common practice"))
            .from("geometry by the plan's routes", "measure the way before you cut")
    });
}

/// Notes what the copper of a run is and bears.
pub(super) fn copper(picked: &Picked, run: &CableRun, notes: &mut impl Recorder) {
    if !notes.listens() {
        return;
    }
    notes.note(|| {
        Derivation::of(
            path(run, "cores"),
            "cores of the cable",
            Amount::plain(f64::from(run.cores)),
        )
        .by("as its data say, the protective conductor counted", "n")
        .with(
            "n",
            "cores",
            Amount::plain(f64::from(run.cores)),
            of_cable(run),
        )
        .from("data of the cable", "")
    });
    notes.note(|| {
        Derivation::of(
            path(run, "area_mm2"),
            "area of a core",
            units::mm2::amount(run.area),
        )
        .by("as its data say", "A")
        .with(
            "A",
            "nominal area",
            units::mm2::amount(run.area),
            of_cable(run),
        )
        .from(
            "data of the cable; IEC 60228",
            "a nominal area: the standard sets the greatest resistance, not the copper",
        )
    });
    notes.note(|| super::lead_notes::ferrules(path(run, "ferrules"), run.cores, run.ferrules()));
    let (Some(load), Some(sizing)) = (run.load, run.sizing) else {
        return;
    };
    current(picked, run, &load, notes);
    carries(run, &sizing, notes);
    areas(run, &load, &sizing, notes);
}

fn current(picked: &Picked, run: &CableRun, load: &CableLoad, notes: &mut impl Recorder) {
    notes.note(|| {
        let figure = Derivation::of(
            path(run, "current_a"),
            format!("current to {}", run.title()),
            units::a::amount(load.current),
        );
        match motor_at(run) {
            Some(axis) => {
                let set = Origin::figure(axis_path(axis, "settings.current_a"));
                let limits = match picked.axes[axis].motor {
                    Motor::Stepper(_) => "The amplitude of a phase.",
                    Motor::Servo(_) => {
                        "The effective value; at peak torque more flows for a second or two."
                    }
                };
                figure
                    .by("what the driver of the motor is set to", "I = I_s")
                    .with(
                        "I_s",
                        "current that is set",
                        units::a::amount(load.current),
                        set,
                    )
                    .from("data sheets", limits)
            }
            None if !picked.spindle.needs_vfd() => {
                let full = format!("loads.{}.full_a", Consumer::Spindle.id());
                let circuit = circuit_of(picked, Consumer::Spindle);
                figure
                    .by(
                        "what the hand router draws at most at its outlet",
                        "I = I_r",
                    )
                    .with(
                        "I_r",
                        "current of the hand router at most",
                        units::a::amount(load.current),
                        Origin::figure(circuit::path(circuit, &full)),
                    )
                    .from("the hand router's power at the plug", "")
            }
            None => spindle_current_note(picked, figure),
        }
    });
    notes.note(|| {
        let metre = conductor::resistance(run.area, units::m::of(1.0), conductor::warm());
        let each = units::ohm::from(metre);
        let figure = Derivation::of(path(run, "drop_percent"), "voltage lost on the way", units::percent::amount(load.drop()));
        let figure = match load.three_phase {
            false => figure.by("resistance of the cores there and back, times the current, over the voltage that is sent", "d = 2 · L · I · r / V"),
            true => figure.by("resistance of the cores, times the current, between phases √3 of it, over the voltage that is sent", "d = √3 · L · I · r / V"),
        };
        figure
            .with("L", "length", units::m::amount(run.length), Origin::figure(path(run, "length_m")))
            .with("I", "current", units::a::amount(load.current), Origin::figure(path(run, "current_a")))
            .with("r", "resistance of a metre of one core at 70 °C", Amount::of(each, "ohm/m"), Origin::Constant("IEC 60228 class 5, times 1.1965 for 70 °C"))
            .with("V", "voltage that is sent", units::v::amount(load.sent), Origin::Here)
            .from("IEC 60228; Ohm's law", "cores at the greatest resistance and temperature that the standards allow: a real cable loses less")
    });
}

fn carries(run: &CableRun, sizing: &Sizing, notes: &mut impl Recorder) {
    notes.note(|| {
        Derivation::of(
            path(run, "grouped_with"),
            "loaded cables beside it in a chain",
            Amount::plain((run.touching - 1) as f64),
        )
        .by(
            "motor and spindle cables in the fullest chain that it passes, less itself",
            "n - 1",
        )
        .with(
            "n",
            "loaded cables in that chain",
            Amount::plain(run.touching as f64),
            Origin::Here,
        )
        .from("a count of the plan's routes", "")
    });
    notes.note(|| {
        let alone = conductor::ampacity(run.area, sizing.laying, 1);
        let method = match sizing.laying {
            Laying::Enclosed => "IEC 60204-1:2016, Table 6, method B2, PVC, 40 °C",
            Laying::OnSurface => "IEC 60204-1:2016, Table 6, method C, PVC, 40 °C",
        };
        Derivation::of(
            path(run, "ampacity_a"),
            "current that it carries for long",
            units::a::amount(sizing.ampacity),
        )
        .by(
            "the table's current for the area, times what is left of it with n loaded cables beside it",
            "I = I₁ · g(n)",
        )
        .with(
            "I₁",
            "current of the area, alone",
            units::a::amount(alone),
            Origin::Constant(method),
        )
        .with(
            "g",
            "left beside its neighbours",
            Amount::plain(units::share::from(conductor::grouping(run.touching))),
            Origin::Constant("IEC 60364-5-52, Table B.52.17"),
        )
        .with(
            "n",
            "loaded cables beside it",
            Amount::plain((run.touching - 1) as f64),
            Origin::figure(path(run, "grouped_with")),
        )
        .from(
            "IEC 60204-1:2016, Table 6, from memory; IEC 60364-5-52",
            "below 0.75 mm² in proportion to the area; better insulation bears more",
        )
    });
    guarded(run, sizing, notes);
}

fn guarded(run: &CableRun, sizing: &Sizing, notes: &mut impl Recorder) {
    if let Some(fuse) = sizing.fuse {
        notes.note(|| {
            Derivation::of(path(run, "fuse_a"), "largest fuse that guards it, before its driver or inverter", units::a::amount(fuse))
                .by("the largest standard fuse that is not above what the cable carries", "I_F = max {I of the row, I <= I_z}")
                .with("I_z", "current that it carries for long", units::a::amount(sizing.ampacity), Origin::figure(path(run, "ampacity_a")))
                .from("rows of IEC 60127 up to 10 A and IEC 60269 above", "The fuse sits on the supply side of the driver or inverter, never between it and the motor: opened there under load it destroys the drive. A smaller one may suit the driver better.")
        });
    }
}

fn areas(run: &CableRun, load: &CableLoad, sizing: &Sizing, notes: &mut impl Recorder) {
    if let Some(area) = sizing.by_current {
        notes.note(|| {
            Derivation::of(path(run, "area_by_current_mm2"), "least area by current", units::mm2::amount(area))
                .by("the thinnest standard area that carries the current beside its neighbours", "A = min {A of the row, I_z(A) g(n) >= I_b}, I_b = w I")
                .with("I", "current", units::a::amount(load.current), Origin::figure(path(run, "current_a")))
                .with("w", "heats three cores as the real current does: √(2/3) for a stepper's four", units::times::amount(load.heating / load.current), Origin::Here)
                .with("I_b", "current that heats it", units::a::amount(load.heating), Origin::Here)
                .with("g", "left beside its neighbours", Amount::plain(units::share::from(conductor::grouping(run.touching))), Origin::Constant("IEC 60364-5-52, Table B.52.17"))
                .with("n", "loaded cables beside it", Amount::plain((run.touching - 1) as f64), Origin::figure(path(run, "grouped_with")))
                .from("IEC 60204-1:2016, Table 6; IEC 60364-5-52. A stepper's four cores heat as three with √(2/3) of the amplitude", "mechanical strength may want more: IEC 60204-1, Table 5")
        });
    }
    if let Some(area) = sizing.by_drop {
        notes.note(|| by_drop(run, load, area));
    }
    let Some(needed) = sizing.needed() else {
        return;
    };
    if let (Some(current), Some(drop)) = (sizing.by_current, sizing.by_drop) {
        notes.note(|| larger_of(run, needed, (current, drop)));
    }
    if let Some(gauge) = conductor::gauge_for(needed) {
        notes.note(|| american(run, needed, gauge));
    }
}

fn by_drop(run: &CableRun, load: &CableLoad, area: Area) -> Derivation {
    Derivation::of(
        path(run, "area_by_drop_mm2"),
        "least area by voltage drop",
        units::mm2::amount(area),
    )
    .by(
        "the thinnest standard area that keeps the drop fair",
        "A = min {A of the row, d(A) <= d_fair}",
    )
    .with(
        "d_fair",
        "fair drop",
        units::percent::amount(load.fair_drop()),
        Origin::Constant("5 % of direct current, 3 % of mains voltage: common practice"),
    )
    .with(
        "d",
        "drop with the cable in use",
        units::percent::amount(load.drop()),
        Origin::figure(path(run, "drop_percent")),
    )
    .from("IEC 60228 class 5 at 70 °C", "")
}

fn larger_of(run: &CableRun, needed: Area, (current, drop): (Area, Area)) -> Derivation {
    Derivation::of(
        path(run, "needed_area_mm2"),
        "standard area that does",
        units::mm2::amount(needed),
    )
    .by(
        "the larger of the least areas by current and by drop",
        "A = max(A_I, A_d)",
    )
    .with(
        "A_I",
        "by current",
        units::mm2::amount(current),
        Origin::figure(path(run, "area_by_current_mm2")),
    )
    .with(
        "A_d",
        "by drop",
        units::mm2::amount(drop),
        Origin::figure(path(run, "area_by_drop_mm2")),
    )
    .from(
        "IEC 60204-1, IEC 60228",
        "for strength alone IEC 60204-1, Table 5, wants 0.75 mm² outside the cabinet (from memory)",
    )
}

fn american(run: &CableRun, needed: Area, gauge: u32) -> Derivation {
    let amount = Amount::plain(f64::from(gauge));
    Derivation::of(path(run, "needed_awg"), "American gauge that does", amount)
        .by(
            "the thinnest even gauge with at least as much copper",
            "n = max {n, π/4 · d² >= A},  d = 0.127 mm · 92^((36 - n)/39)",
        )
        .with(
            "A",
            "standard area that does",
            units::mm2::amount(needed),
            Origin::figure(path(run, "needed_area_mm2")),
        )
        .with(
            "π/4 · d²",
            "copper of that gauge, solid",
            units::mm2::amount(conductor::gauge_area(gauge)),
            Origin::Constant("ASTM B258"),
        )
        .from(
            "ASTM B258",
            "a stranded wire of a gauge has about as much copper as a solid one",
        )
}
