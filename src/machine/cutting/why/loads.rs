//! Chip, removal, power, force and deflection of a cut: how they came about.

use super::super::Cut;
use super::super::means::{Stock, Tool};
use super::{LIMITS, feed};
use crate::catalogue::material::Family;
use crate::explain::{Derivation, Input, Origin};
use crate::units::{self, Amount};
use crate::words::Words;

/// Where the law of the material's resistance comes from.
fn law_source(stock: &Stock) -> &'static str {
    match stock.material.family {
        Family::Metal => {
            "Kienzle's law with values of a published cutting-tool user guide (groups of VDI 3323)"
        }
        _ => "Specific energy at chips of 0.1 mm, growing with thinner ones; typical values",
    }
}

pub(super) fn mean_chip(stock: &Stock, cut: &Cut) -> Derivation {
    let arc = units::share::from(stock.bites[cut.engagement.index()].turn_share())
        * std::f64::consts::TAU;
    Derivation::of(
        cut.path("mean_chip_mm"),
        "Mean thickness of the chip",
        units::mm::amount(cut.mean_chip),
    )
    .by(
        "The mean over the arc on which a tooth is in the material",
        "h_m = 2 a_e f_z/(D φ), cos φ = 1 - 2 a_e/D",
    )
    .with(
        "a_e",
        "width",
        units::mm::amount(cut.width),
        Origin::figure(cut.path("width_mm")),
    )
    .with(
        "f_z",
        "feed per tooth",
        units::mm::amount(cut.tooth_feed),
        Origin::figure(cut.path("tooth_feed_mm")),
    )
    .with(
        "D",
        "cutting diameter",
        units::mm::amount(cut.diameter),
        Origin::figure(cut.path("tool_mm")),
    )
    .with(
        "φ",
        "arc of a tooth in the material",
        Amount::of(arc, "rad"),
        Origin::Here,
    )
    .from(
        "Any handbook of machining",
        "The tooth's path is taken as a circle.",
    )
}

pub(super) fn removal(cut: &Cut) -> Derivation {
    Derivation::of(
        cut.path("removal_cm3_per_min"),
        "Material removed in a minute",
        units::cm3_per_min::amount(cut.removal),
    )
    .by("Depth, times width, times feed", "Q = a_p a_e v_f")
    .with(
        "a_p",
        "depth",
        units::mm::amount(cut.depth),
        Origin::figure(cut.path("depth_mm")),
    )
    .with(
        "a_e",
        "width",
        units::mm::amount(cut.width),
        Origin::figure(cut.path("width_mm")),
    )
    .with(
        "v_f",
        "feed",
        feed(cut),
        Origin::figure(cut.path("feed_mm_per_min")),
    )
    .from(
        "Any handbook of machining",
        "While the tool is in the material: moves between cuts are not counted.",
    )
}

pub(super) fn power(stock: &Stock, cut: &Cut) -> Derivation {
    Derivation::of(
        cut.path("power_w"),
        "Power of the cut at the shaft",
        units::w::amount(cut.power),
    )
    .by(
        "Material removed, times the specific force at the mean chip",
        "P = k_c Q, k_c = k_1 (h_m/mm)^-m, held above 0.1 mm in what is no metal",
    )
    .with(
        "Q",
        "material removed",
        units::cm3_per_min::amount(cut.removal),
        Origin::figure(cut.path("removal_cm3_per_min")),
    )
    .with(
        "k_c",
        "specific force at the mean chip",
        units::n_per_mm2::amount(cut.specific_force),
        Origin::Here,
    )
    .with(
        "k_1",
        "specific force at chips of 1 mm",
        Amount::of(stock.law.at_one, "N/mm²"),
        Origin::part(stock.material),
    )
    .with(
        "h_m",
        "mean chip",
        units::mm::amount(cut.mean_chip),
        Origin::figure(cut.path("mean_chip_mm")),
    )
    .with(
        "m",
        "exponent of thin chips",
        Amount::plain(stock.law.exponent),
        Origin::part(stock.material),
    )
    .from(law_source(stock), LIMITS)
}

pub(super) fn force(stock: &Stock, tool: &Tool, cut: &Cut) -> Derivation {
    Derivation::of(
        cut.path("force_n"),
        "Greatest force in the plane on the tool",
        units::n::amount(cut.force),
    )
    .by(
        "The resultant of all teeth in the material where it is greatest, the force across the cut counted in",
        "F = k_1 f_z (f_z/mm)^-m s √(1 + r²) a_p, held in proportion to k_c",
    )
    .with_each(law(stock, tool, cut))
    .with("a_p", "depth", units::mm::amount(cut.depth), Origin::figure(cut.path("depth_mm")))
    .from(law_source(stock), LIMITS)
}

/// What the peak force for each millimetre of depth rests on.
pub(super) fn law(stock: &Stock, tool: &Tool, cut: &Cut) -> [Input; 5] {
    let peak = stock.peak(tool, cut.engagement.index());
    let material = || Origin::part(stock.material);
    let tooth = Origin::figure(cut.path("tooth_feed_mm"));
    let radial = units::share::from(stock.material.radial_force);
    [
        Input::new(
            "k_1",
            "specific force at chips of 1 mm",
            Amount::of(stock.law.at_one, "N/mm²"),
            material(),
        ),
        Input::new(
            "f_z",
            "feed per tooth",
            units::mm::amount(cut.tooth_feed),
            tooth,
        ),
        Input::new(
            "m",
            "exponent of thin chips",
            Amount::plain(stock.law.exponent),
            material(),
        ),
        Input::new(
            "s",
            "greatest sum of the teeth, from their positions",
            Amount::plain(peak),
            Origin::Here,
        ),
        Input::new(
            "r",
            "force across the cut against that along it",
            Amount::plain(radial),
            material(),
        ),
    ]
}

pub(super) fn deflection(tool: &Tool, cut: &Cut) -> Derivation {
    Derivation::of(
        cut.path("deflection_um"),
        "How far the tip is pushed aside",
        units::um::amount(cut.deflection),
    )
    .by("Force over the stiffness at this tool's tip", "δ = F/k")
    .with(
        "F",
        "greatest force in the plane",
        units::n::amount(cut.force),
        Origin::figure(cut.path("force_n")),
    )
    .with(
        "k",
        "stiffness at this tool's tip, worst place, softer of X and Y",
        Amount::of(tool.tip, "N/µm"),
        Origin::figure(super::tip_path(tool)),
    )
    .from(
        "Springs in series; beam theory for the tool",
        "A steady force: at the first mode it is more.",
    )
}
