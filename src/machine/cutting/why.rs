//! How each figure of a cut came about, told to those who listen.

use super::means::{Means, Stock, Tool};
use super::pair::{self, depths};
use super::ways::Way;
use super::{Cut, CutLimit, Engagement, chip};
use crate::explain::{Derivation, Origin, Recorder};
use crate::units::{self, Amount};
use crate::words::Words;
use uom::si::ratio::ratio;

mod loads;

/// Where the model of cutting ends.
pub(super) const LIMITS: &str = "Steady cutting with a sharp tool: chatter, run-out, wear and the tool's helix are not modelled. Forces are ± 20 % at best, ± 30 % where chips are thinner than 0.04 mm.";

/// Where feeds, speeds and depths come from.
const TABLES: &str = "Cutter makers' tables for solid carbide end mills; depths by common practice";

/// The path of a figure of a cut.
pub(super) fn path(cut: &Cut, key: &str) -> String {
    format!(
        "cutting.{}.{}.{}.{key}",
        cut.material,
        cut.tool,
        cut.engagement.id()
    )
}

/// The amounts of a cut, as its figures show them.
pub(super) fn feed(cut: &Cut) -> Amount {
    Amount::of(units::m_per_min::from(cut.feed) * 1000.0, "mm/min")
}

fn flutes(tool: &Tool) -> Amount {
    Amount::plain(tool.flutes)
}

/// Tells every figure of a cut that goes.
pub(super) fn tell(
    means: &Means,
    stock: &Stock,
    tool: &Tool,
    way: &Way,
    cut: &Cut,
    notes: &mut impl Recorder,
) {
    notes.note(|| diameter(tool, cut));
    notes.note(|| width(cut));
    notes.note(|| turning(means, stock, tool, cut));
    notes.note(|| tooth_feed(means, stock, tool, cut));
    notes.note(|| feed_of(tool, cut));
    notes.note(|| tooth_passing(tool, cut));
    notes.note(|| depth(means, stock, tool, way, cut));
    notes.note(|| reached(means, stock, cut));
    notes.note(|| loads::mean_chip(stock, cut));
    notes.note(|| loads::removal(cut));
    notes.note(|| loads::power(stock, cut));
    notes.note(|| loads::force(stock, tool, cut));
    notes.note(|| loads::deflection(tool, cut));
}

/// Tells the figures of a cut that does not go at all.
pub(super) fn tell_nothing(tool: &Tool, cut: &Cut, notes: &mut impl Recorder) {
    notes.note(|| diameter(tool, cut));
    notes.note(|| width(cut));
    let (turning, amount) = (units::rpm::amount(cut.turning), feed(cut));
    let nothing = |key, amount| {
        Derivation::of(path(cut, key), "No cut is possible", amount)
            .by(cut.limited_by.word().plain, "0")
            .with("n", "speed at which it fails", turning, Origin::Here)
            .from(TABLES, LIMITS)
    };
    notes.note(|| nothing("rpm", turning));
    notes.note(|| nothing("feed_mm_per_min", amount));
    notes.note(|| nothing("tooth_feed_mm", units::mm::amount(cut.tooth_feed)));
    notes.note(|| nothing("tooth_passing_hz", units::hz::amount(cut.tooth_passing)));
    notes.note(|| nothing("mean_chip_mm", units::mm::amount(cut.mean_chip)));
    for (key, unit) in [
        ("depth_mm", "mm"),
        ("reached", ""),
        ("removal_cm3_per_min", "cm³/min"),
        ("power_w", "W"),
        ("force_n", "N"),
        ("deflection_um", "µm"),
    ] {
        notes.note(|| nothing(key, Amount::of(0.0, unit)));
    }
}

fn diameter(tool: &Tool, cut: &Cut) -> Derivation {
    let amount = units::mm::amount(cut.diameter);
    Derivation::of(path(cut, "tool_mm"), "Cutting diameter of the tool", amount)
        .by("As the tool's data say", "D")
        .with("D", "cutting diameter", amount, Origin::part(tool.mill))
        .from("The tool's data", "")
}

fn width(cut: &Cut) -> Derivation {
    let share = cut.engagement.share().get::<ratio>();
    Derivation::of(
        path(cut, "width_mm"),
        "Width of the cut across the tool",
        units::mm::amount(cut.width),
    )
    .by("A share of the tool's diameter", "a_e = s D")
    .with(
        "s",
        cut.engagement.title(),
        Amount::plain(share),
        Origin::Constant("common practice"),
    )
    .with(
        "D",
        "cutting diameter",
        units::mm::amount(cut.diameter),
        Origin::figure(path(cut, "tool_mm")),
    )
    .from("Common practice", "")
}

fn turning(means: &Means, stock: &Stock, tool: &Tool, cut: &Cut) -> Derivation {
    let (material, spindle) = (stock.material, means.spindle);
    let edge = chip::edge_speed(cut.diameter, cut.turning);
    Derivation::of(
        path(cut, "rpm"),
        "Speed of the spindle",
        units::rpm::amount(cut.turning),
    )
    .by(
        "The speed of the edge over the tool's circumference: as fast as material and spindle bear, slower where the axes could not follow with a thick chip, or where they push or the spindle pulls harder",
        "n = v/(π D)",
    )
    .with("v", "speed of the edge that came out best", units::m_per_min::amount(edge), Origin::Here)
    .with("D", "cutting diameter", units::mm::amount(cut.diameter), Origin::part(tool.mill))
    .with("v_min", "slowest usual edge in the material", units::m_per_min::amount(material.least_speed), Origin::part(material))
    .with("v_max", "fastest usual edge in the material", units::m_per_min::amount(material.greatest_speed), Origin::part(material))
    .with("n_min", "slowest lasting speed of the spindle", units::rpm::amount(spindle.least_speed), Origin::part(spindle))
    .with("n_max", "fastest speed of the spindle", units::rpm::amount(spindle.greatest_speed), Origin::part(spindle))
    .from(TABLES, "Up to six speeds between the slowest and the fastest are tried, not every one.")
}

fn tooth_feed(means: &Means, stock: &Stock, tool: &Tool, cut: &Cut) -> Derivation {
    let material = stock.material;
    let (least, greatest) = (
        material.least_chip.at(cut.diameter),
        material.greatest_chip.at(cut.diameter),
    );
    Derivation::of(
        path(cut, "tooth_feed_mm"),
        "Feed a tooth",
        units::mm::amount(cut.tooth_feed),
    )
    .by(
        "The greatest that the material's table allows for this diameter; less where the axes could not follow otherwise, but never so little that the edge rubs",
        "f_z = v_f/(n z), f_min ≤ f_z ≤ f_max",
    )
    .with("v_f", "feed", feed(cut), Origin::figure(path(cut, "feed_mm_per_min")))
    .with("n", "speed of the spindle", units::rpm::amount(cut.turning), Origin::figure(path(cut, "rpm")))
    .with("z", "cutting edges", flutes(tool), Origin::part(tool.mill))
    .with("f_min", "least feed a tooth at this diameter", units::mm::amount(least), Origin::part(material))
    .with("f_max", "greatest feed a tooth at this diameter", units::mm::amount(greatest), Origin::part(material))
    .with("v_top", "fastest feed of X and Y together", Amount::of(means.top.feed, "mm/min"), Origin::figure("axes.X.rapid_m_per_min"))
    .from(TABLES, "Tables state 3, 6 and 8 mm; between them the feed is taken on a line, beyond them in proportion. Foam has no least.")
}

fn feed_of(tool: &Tool, cut: &Cut) -> Derivation {
    Derivation::of(path(cut, "feed_mm_per_min"), "Feed", feed(cut))
        .by(
            "Turns a minute, times edges, times feed a tooth",
            "v_f = n z f_z",
        )
        .with(
            "n",
            "speed of the spindle",
            units::rpm::amount(cut.turning),
            Origin::figure(path(cut, "rpm")),
        )
        .with("z", "cutting edges", flutes(tool), Origin::part(tool.mill))
        .with(
            "f_z",
            "feed a tooth",
            units::mm::amount(cut.tooth_feed),
            Origin::figure(path(cut, "tooth_feed_mm")),
        )
        .from("Any handbook of machining", "")
}

fn tooth_passing(tool: &Tool, cut: &Cut) -> Derivation {
    Derivation::of(
        path(cut, "tooth_passing_hz"),
        "How often a tooth strikes",
        units::hz::amount(cut.tooth_passing),
    )
    .by("Turns a second, times edges", "f = n z/60")
    .with(
        "n",
        "speed of the spindle",
        units::rpm::amount(cut.turning),
        Origin::figure(path(cut, "rpm")),
    )
    .with("z", "cutting edges", flutes(tool), Origin::part(tool.mill))
    .from("Any handbook of machining", "")
}

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

fn depth(means: &Means, stock: &Stock, tool: &Tool, way: &Way, cut: &Cut) -> Derivation {
    let place = cut.engagement.index();
    let limits = depths(stock, tool, way, place);
    let mut derivation = Derivation::of(
        path(cut, "depth_mm"),
        "Depth along the tool",
        units::mm::amount(cut.depth),
    )
    .by(
        "The least of what every limit allows; the force grows in step with the depth",
        "a_p = min(l, c D, δ k/F₁, F_b/F₁, F_a/F₁, P/(k_c a_e v_f))",
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
            Origin::Here,
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
        .from(
            "Closed forms from Kienzle's law and beam theory; depths by common practice",
            LIMITS,
        )
}

fn reached(means: &Means, stock: &Stock, cut: &Cut) -> Derivation {
    let material = stock.material;
    let usual = cut.diameter * material.usual_slot;
    let slot = cut.diameter * material.usual_slot * cut.reached;
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
        path(cut, "reached"),
        "Depth of the slot against the trade's usual one",
        Amount::plain(cut.reached.get::<ratio>()),
    )
    .by(
        format!(
            "Depth of this tool's slot over the usual depth of slots: easily from 1, with care from 0.4, hardly from 0.1; never better than the stiffness at the collet allows. Verdict: {}",
            cut.verdict.title()
        ),
        "a_p/(u D)",
    )
    .with(
        "a_p",
        "depth of the slot",
        units::mm::amount(slot),
        Origin::figure(path(
            &Cut { engagement: Engagement::Slot, ..cut.clone() },
            "depth_mm",
        )),
    )
    .with("u D", "usual depth of a slot", units::mm::amount(usual), Origin::part(material))
    .with("k", "stiffness at the collet, worst place, softer of X and Y", units::n_per_um::amount(means.collet), Origin::Here);
    levels
        .into_iter()
        .fold(derivation, |so_far, (symbol, title, amount)| {
            so_far.with(symbol, title, amount, Origin::part(material))
        })
        .from("Common practice, from memory: there is no standard", LIMITS)
}
