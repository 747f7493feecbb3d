//! How the lives came about, for those who ask.

use super::Life;
use super::carriage::{RATED_KM, Stand, load_factor};
use super::nut::{NutLoads, PRELOAD};
use super::usage::{CUTTING, RAMPS, RAPIDS, Usage};
use crate::build::{Axis, Picked};
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::axis::AxisFigures;
use crate::machine::axis_path;
use crate::units::{self, Amount, Length, Ratio};
use crate::words::Words as _;

/// Where the model of nuts ends.
const NUT_LIMITS: &str = "Nine of ten alike reach it, at 90 % reliability, clean and \
    lubricated, with the screw straight: chips, dry balls and a nut out of line shorten it by \
    far more than load does. The travel error's class is not counted against the rating.";

/// Where the model of carriages ends.
const CARRIAGE_LIMITS: &str = "Plain statics of a stiff body, drive and mass at the middle of \
    the carriages where nothing else is said, all loads added by size: on the safe side. Rails \
    out of parallel, their preload, and dust are not counted, and shorten it.";

pub(super) fn nut(
    picked: &Picked,
    figures: &AxisFigures,
    axis: Axis,
    usage: &Usage,
    nut: &NutLoads,
    notes: &mut impl Recorder,
) {
    let travel = nut.travel();
    notes.note(|| {
        let told = Derivation::of(
            axis_path(axis, "nut_life_km"),
            format!("life of the {axis} nut, travel", axis = axis.title()),
            units::km::amount(travel),
        )
        .by(
            "Each side of the thread lasts (dynamic load rating / its mean load)³ million turns; \
             both together follow from the formula, and each turn travels one lead. Half of the \
             travel goes either way: the nut bears W ± (k F + R) while cutting, W ± R at rapids, \
             W ± (R + m a) on the ramps, and the mean is cubic over the travel of each. A pair \
             with the preload Fp bears Fp (1 + T/(2^1.5 Fp))^1.5 of each such force T on one \
             side and T less on the other; Fp is zero for a single nut.",
            "L = (Ca/Fm)³ · 10⁶ · Ph, Fm = (F1^(10/3) + F2^(10/3))^(3/10); the cubic means over shares of travel: q1 v : q2 vr : q3 vr/2",
        )
        .with(
            "Ca",
            "dynamic load rating",
            units::n::amount(nut.screw.dynamic_load),
            Origin::part(nut.screw),
        )
        .with(
            "Ph",
            "lead",
            units::mm::amount(nut.screw.lead),
            Origin::part(nut.screw),
        );
        use_of(forces(told, picked, axis, figures, nut), usage, axis)
            .with("F1", "mean load on one side of the thread", units::n::amount(nut.sides[0]), Origin::Here)
            .with("F2", "mean load on the other side", units::n::amount(nut.sides[1]), Origin::Here)
            .with("Fm", "the one load of the same life", units::n::amount(nut.load()), Origin::Here)
            .from(
                "ISO 3408-5 for life, both directions and preloaded pairs; shares of the use: common practice",
                NUT_LIMITS,
            )
    });
    hours(
        axis,
        "nut",
        usage,
        travel,
        nut.travel() / usage.mean_speed(),
        notes,
    );
}

/// The forces along the screw.
fn forces(
    told: Derivation,
    picked: &Picked,
    axis: Axis,
    figures: &AxisFigures,
    nut: &NutLoads,
) -> Derivation {
    let of_axis = |figure: &str| Origin::figure(axis_path(axis, figure));
    let area = &picked.build.area;
    let told = told
        .with(
            "F",
            "cutting force",
            units::n::amount(area.cutting_force),
            Origin::choice("cutting_force_n"),
        )
        .with(
            "k",
            "share of it on this drive",
            share(figures.tool_share),
            Origin::Here,
        )
        .with(
            "R",
            "friction of rails and seals",
            units::n::amount(figures.friction),
            of_axis("friction_n"),
        )
        .with(
            "m",
            "mass on this drive",
            units::kg::amount(figures.carried_mass),
            of_axis(match figures.motors {
                0 | 1 => "moving_mass_kg",
                _ => "carried_mass_kg",
            }),
        )
        .with(
            "a",
            "acceleration",
            units::m_per_s2::amount(area.acceleration),
            Origin::choice("acceleration_m_per_s2"),
        )
        .with(
            "W",
            "weight that pulls one way; none on a level axis",
            units::n::amount(figures.weight),
            match axis {
                Axis::Z => of_axis("weight_n"),
                Axis::X | Axis::Y => Origin::Here,
            },
        );
    if nut.forces.preload == 0.0 {
        return told;
    }
    told.with(
        "p",
        "preload as a share of the rating",
        Amount::plain(PRELOAD),
        Origin::Constant("light preload, common practice"),
    )
    .with(
        "Fp",
        "preload of the pair",
        units::n::amount(units::n::of(nut.forces.preload)),
        Origin::Here,
    )
}

pub(super) fn carriage(
    picked: &Picked,
    axis: Axis,
    usage: &Usage,
    stand: &Stand,
    life: &Life,
    notes: &mut impl Recorder,
) {
    notes.note(|| {
        let carriage = picked.axes[axis].carriage;
        let load = |newtons: f64| units::n::amount(units::n::of(newtons));
        let told = Derivation::of(
            axis_path(axis, "carriage_life_km"),
            format!("life of the most burdened {} carriage, travel", axis.title()),
            units::km::amount(life.carriage),
        )
        .by(
            "(Dynamic load rating / (load factor · mean load))³ times the 50 km for which the \
             rating stands; the mean load is the cubic mean of weight with cut, weight alone, \
             and weight with acceleration over the travel.",
            "L = (C/(fw P))³ · L50, P = ((P0 + Pc)³ s1 + P0³ s2 + (P0 + Pa)³ s3)^(1/3), s1 : s2 : s3 = q1 v : q2 vr : q3 vr/2; Pc from F at dt, dq, dr on n, s, g: direct F/n, moments over s and g; Pa from a likewise",
        )
        .with(
            "C",
            "dynamic load rating",
            units::n::amount(carriage.dynamic_load),
            Origin::part(carriage),
        )
        .with(
            "L50",
            "travel of the rating",
            units::km::amount(units::km::of(RATED_KM)),
            Origin::Constant("published rail catalogue"),
        )
        .with(
            "fw",
            "load factor for jolts",
            share(load_factor()),
            Origin::Constant("published rail catalogue: 1.2 to 1.5 at 15 to 60 m/min"),
        );
        let told = places(told, picked, stand);
        use_of(told, usage, axis)
            .with("s1", "share of the travel spent cutting", Amount::plain(usage.travel[0]), Origin::Here)
            .with("s2", "share of the travel at rapids", Amount::plain(usage.travel[1]), Origin::Here)
            .with("s3", "share of the travel on ramps", Amount::plain(usage.travel[2]), Origin::Here)
            .with("P0", "load of the weight", load(stand.resting), Origin::Here)
            .with("Pc", "load that the cut adds", load(stand.cutting), Origin::Here)
            .with("Pa", "load that acceleration adds", load(stand.speeding), Origin::Here)
            .with("P", "mean load on the worst carriage", units::n::amount(life.carriage_load), Origin::Here)
            .from(
                "ISO 14728-1 and published rail catalogue (C at 50 km, 90 % reliability); shares of the use: common practice",
                CARRIAGE_LIMITS,
            )
    });
    hours(
        axis,
        "carriage",
        usage,
        life.carriage,
        life.carriage_hours,
        notes,
    );
}

/// Where the carriages stand, and the tool.
fn places(told: Derivation, picked: &Picked, stand: &Stand) -> Derivation {
    let plan = || Origin::Plan(picked.frame.id.to_string());
    let metres = |value: f64| units::mm::amount(units::m::of(value));
    told.with("n", "carriages", Amount::plain(stand.carriages), plan())
        .with(
            "s",
            "distance that resists pitch and yaw, times the carriages that share it",
            metres(stand.along),
            plan(),
        )
        .with(
            "g",
            "distance that resists roll, times the carriages that share it",
            metres(stand.across),
            plan(),
        )
        .with(
            "dt",
            "tool from the carriages, along the travel",
            metres(stand.tool[0]),
            Origin::Here,
        )
        .with(
            "dq",
            "tool from the carriages, across the travel",
            metres(stand.tool[1]),
            Origin::Here,
        )
        .with(
            "dr",
            "tool from the carriages, away from the rails",
            metres(stand.tool[2]),
            Origin::Here,
        )
        .with(
            "F",
            "cutting force, in its worst direction",
            units::n::amount(picked.build.area.cutting_force),
            Origin::choice("cutting_force_n"),
        )
        .with(
            "a",
            "acceleration",
            units::m_per_s2::amount(picked.build.area.acceleration),
            Origin::choice("acceleration_m_per_s2"),
        )
}

/// The stated use: speeds, and shares of the hours.
fn use_of(told: Derivation, usage: &Usage, axis: Axis) -> Derivation {
    const SHARES: Origin = Origin::Constant("common practice");
    told.with(
        "v",
        match axis {
            Axis::Z => "cutting feed, a third of the wanted one on Z",
            Axis::X | Axis::Y => "cutting feed",
        },
        units::m_per_min::amount(usage.feed),
        Origin::choice("cutting_feed_m_per_min"),
    )
    .with(
        "vr",
        "rapids",
        units::m_per_min::amount(usage.rapid),
        Origin::figure(axis_path(axis, "rapid_m_per_min")),
    )
    .with(
        "q1",
        "share of the hours spent cutting",
        Amount::plain(CUTTING),
        SHARES,
    )
    .with(
        "q2",
        "share of the hours at rapids",
        Amount::plain(RAPIDS),
        SHARES,
    )
    .with(
        "q3",
        "share of the hours speeding up or slowing down, at half the rapids",
        Amount::plain(RAMPS),
        SHARES,
    )
}

fn hours(
    axis: Axis,
    what: &'static str,
    usage: &Usage,
    travel: Length,
    hours: crate::units::Time,
    notes: &mut impl Recorder,
) {
    notes.note(|| {
        let told = Derivation::of(
            axis_path(axis, &format!("{what}_life_h")),
            format!("life of the {} {what}, hours of use", axis.title()),
            units::hour::amount(hours),
        )
        .by(
            "Travel of its life over the mean speed of the use.",
            "h = L/vm, vm = q1 v + q2 vr + q3 vr/2",
        )
        .with(
            "L",
            "life in travel",
            units::km::amount(travel),
            Origin::figure(axis_path(axis, &format!("{what}_life_km"))),
        );
        use_of(told, usage, axis)
            .with(
                "vm",
                "mean speed",
                units::m_per_min::amount(usage.mean_speed()),
                Origin::Here,
            )
            .from(
                "plain kinematics; shares of the use: common practice",
                "The axis is taken to move all the time that the machine runs: a pause makes it last longer.",
            )
    });
}

fn share(ratio: Ratio) -> Amount {
    Amount::plain(units::times::from(ratio))
}
