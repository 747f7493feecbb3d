//! The depth of a cut and what it earns: how they came about.

use super::super::means::{Means, Stock, Tool};
use super::super::pair::{self, depths};
use super::super::ways::Way;
use super::super::{Cut, CutLimit};
use super::{Judged, LIMITS};
use crate::explain::{Derivation, Input, Origin};
use crate::units::{self, Amount};
use crate::words::Words;

/// What a limit of the depth is called in the derivation.
fn limit_title(limit: CutLimit, own: bool) -> &'static str {
    match limit {
        CutLimit::Flutes => "as deep as the edges are long",
        CutLimit::Habit => "as deep as is usual",
        CutLimit::Stiffness => "as deep as the tip may be pushed aside",
        CutLimit::ToolBending if own => {
            "as deep as the tip may be pushed aside, mostly by the tool's own bending"
        }
        CutLimit::ToolBending => "as deep as the tool bears without breaking",
        CutLimit::Thrust => "as deep as X and Y push",
        _ => "as deep as the spindle's power goes",
    }
}

pub(super) fn depth(means: &Means, stock: &Stock, tool: &Tool, way: &Way, cut: &Cut) -> Derivation {
    let place = cut.engagement.index();
    let limits = depths(stock, tool, way, place);
    let mut derivation = Derivation::of(
        cut.path("depth_mm"),
        "Depth along the tool",
        units::mm::amount(cut.depth),
    )
    .by(
        "The least of what every limit allows; the force grows in step with the depth",
        "a_p = min(l, c D, δ k/F₁, F_b/F₁, F_a/F₁, P/(k_c a_e v_f)), F₁ = k_1 f_z (f_z/mm)^-m s √(1 + r²), k_c = k_1 (h_m/mm)^-m, held above 0.1 mm in what is no metal, P ≤ P_cap",
    );
    const SYMBOLS: [&str; 6] = ["l", "c D", "δ k/F₁", "F_b/F₁", "F_a/F₁", "P/(k_c a_e v_f)"];
    for (index, (symbol, (limit, most))) in SYMBOLS.into_iter().zip(limits).enumerate() {
        if most.is_finite() {
            let title = limit_title(limit, index == 2);
            derivation = derivation.with(symbol, title, Amount::of(most, "mm"), Origin::Here);
        }
    }
    let force = pair::force_a_depth(stock, tool, way, place);
    derivation
        .with(
            "F₁",
            "peak force for each millimetre of depth",
            Amount::of(force, "N/mm"),
            Origin::Here,
        )
        .with(
            "δ",
            "how far the tip may be pushed aside",
            Amount::of(stock.gives[place], "µm"),
            Origin::part(stock.material),
        )
        .with(
            "k",
            "stiffness at this tool's tip, worst place, softer of X and Y",
            Amount::of(tool.tip, "N/µm"),
            Origin::figure(super::tip_path(tool)),
        )
        .with(
            "F_b",
            "force that the tool bears",
            Amount::of(tool.bears, "N"),
            Origin::part(tool.mill),
        )
        .with(
            "F_a",
            "thrust of the weaker of X and Y at this feed",
            Amount::of(way.thrust, "N"),
            Origin::Here,
        )
        .with(
            "P",
            "power at the shaft at this speed, within your cap",
            Amount::of(way.power, "W"),
            Origin::part(means.spindle),
        )
        .with(
            "P_cap",
            "your cap on the spindle's power",
            units::w::amount(means.cap),
            Origin::choice("power_cap_percent"),
        )
        .with_each(super::loads::law(stock, tool, cut))
        .with_each([
            Input::new(
                "h_m",
                "mean chip",
                units::mm::amount(cut.mean_chip),
                Origin::figure(cut.path("mean_chip_mm")),
            ),
            Input::new(
                "k_c",
                "specific force at the mean chip",
                units::n_per_mm2::amount(cut.specific_force),
                Origin::Here,
            ),
            Input::new(
                "a_e",
                "width",
                units::mm::amount(cut.width),
                Origin::figure(cut.path("width_mm")),
            ),
            Input::new(
                "v_f",
                "feed",
                super::feed(cut),
                Origin::figure(cut.path("feed_mm_per_min")),
            ),
        ])
        .from(
            "Closed forms from Kienzle's law and beam theory; depths by common practice",
            LIMITS,
        )
}

pub(super) fn reached(means: &Means, stock: &Stock, slot: &Judged, cut: &Cut) -> Derivation {
    let material = stock.material;
    let greatest = material.greatest_chip.at(cut.diameter);
    let level = |symbol, title, level| (symbol, title, units::n_per_um::amount(level));
    let levels = [
        level(
            "k_easily",
            "stiffness from which it may be easy",
            material.easily_from,
        ),
        level(
            "k_care",
            "stiffness from which it may go with care",
            material.with_care_from,
        ),
        level(
            "k_hardly",
            "stiffness from which it goes at all",
            material.hardly_from,
        ),
    ];
    let derivation = Derivation::of(
        cut.path("reached"),
        "Depth of the slot against the trade's usual one",
        Amount::plain(units::times::from(cut.reached)),
    )
    .by(
        format!(
            "Depth of this tool's slot over the usual depth of slots, at the feed that goes best, which may be a slower one than that which removes most; a thin chip counting for less since it needs less force: easily from 1, with care from 0.4, hardly from 0.1; never better than the stiffness k at the collet allows: easily from k_easily, with care from k_care, at all from k_hardly. Verdict: {}",
            cut.verdict.title()
        ),
        "q = a_p/(u D) (f_z/f_max)^(1-m), f_z at most f_max",
    )
    .with("a_p", "depth of the slot", units::mm::amount(slot.depth), Origin::Here)
    .with("u", "usual depth of a slot, in diameters", Amount::plain(units::times::from(material.usual_slot)), Origin::part(material))
    .with("f_z", "feed per tooth of the slot", units::mm::amount(slot.tooth_feed), Origin::Here)
    .with("f_max", "greatest feed per tooth at this diameter", units::mm::amount(greatest), Origin::part(material))
    .with("m", "exponent of thin chips", Amount::plain(stock.law.exponent), Origin::part(material))
    .with("D", "cutting diameter", units::mm::amount(cut.diameter), Origin::figure(cut.path("tool_mm")))
    .with("k", "stiffness at the collet, worst place, softer of X and Y", units::n_per_um::amount(means.collet), Origin::figure(means.collet_path));
    levels
        .into_iter()
        .fold(derivation, |so_far, (symbol, title, amount)| {
            so_far.with(symbol, title, amount, Origin::part(material))
        })
        .from("Common practice, from memory: there is no standard", LIMITS)
}
