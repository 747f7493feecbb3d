//! How each figure of a cut came about, told to those who listen.

use super::means::{Means, Stock, Tool};
use super::ways::Way;
use super::{Cut, chip};
use crate::explain::{Derivation, Origin, Recorder};
use crate::machine::stiffness::tool::{carbide_modulus, edges};
use crate::machine::stiffness::{MachineStiffness, tool_bending};
use crate::units::{self, Amount, Length};
use crate::words::Words;

mod depth;
mod loads;

/// Where the model of cutting ends.
pub(super) const LIMITS: &str = "Steady cutting with a sharp tool: chatter, runout, wear and the tool's helix are not modelled. Forces are ± 20 % at best, ± 30 % where chips are thinner than 0.04 mm. In wood, plastics and foam k_c, and the force with it, is held at its value for chips of 0.1 mm where the mean chip is thicker.";

/// Where feeds, speeds and depths come from.
const TABLES: &str = "Cutter makers' tables for solid carbide end mills; depths by common practice";

/// The feed of a cut, as its figure shows it.
fn feed(cut: &Cut) -> Amount {
    Amount::of(units::m_per_min::from(cut.feed) * 1000.0, "mm/min")
}

fn flutes(tool: &Tool) -> Amount {
    Amount::plain(tool.flutes)
}

/// The slot by which a tool is judged in a material.
pub(super) struct Judged {
    /// How deep it goes.
    pub(super) depth: Length,
    /// Its feed a tooth.
    pub(super) tooth_feed: Length,
}

/// Tells every figure of a cut that goes.
pub(super) fn tell(
    means: &Means,
    stock: &Stock,
    tool: &Tool,
    way: &Way,
    judged: &Judged,
    cut: &Cut,
    notes: &mut impl Recorder,
) {
    notes.note(|| diameter(tool, cut));
    notes.note(|| width(cut));
    notes.note(|| turning(means, stock, cut));
    notes.note(|| tooth_feed(means, stock, tool, cut));
    notes.note(|| feed_of(tool, cut));
    notes.note(|| tooth_passing(tool, cut));
    notes.note(|| depth::depth(means, stock, tool, way, cut));
    notes.note(|| depth::reached(means, stock, judged, cut));
    notes.note(|| loads::mean_chip(stock, cut));
    notes.note(|| loads::removal(cut));
    notes.note(|| loads::power(stock, cut));
    notes.note(|| loads::force(stock, tool, cut));
    notes.note(|| loads::deflection(tool, cut));
}

/// Tells the figures of a cut that does not go at all.
pub(super) fn tell_nothing(
    means: &Means,
    stock: &Stock,
    tool: &Tool,
    cut: &Cut,
    notes: &mut impl Recorder,
) {
    notes.note(|| diameter(tool, cut));
    notes.note(|| width(cut));
    let failed = cut.limited_by.word().plain;
    let found = |key, title: &'static str, amount, formula| {
        Derivation::of(cut.path(key), title, amount)
            .by(format!("How near it came. {failed}"), formula)
            .from(TABLES, LIMITS)
    };
    let (turning, amount) = (units::rpm::amount(cut.turning), feed(cut));
    let at = |told: Derivation| {
        let speed = Origin::figure(cut.path("rpm"));
        told.with("n", "speed at which it fails", turning, speed)
            .with("z", "cutting edges", flutes(tool), Origin::part(tool.mill))
    };
    notes.note(|| {
        found(
            "rpm",
            "Speed of the spindle where no cut goes",
            turning,
            "n = n_min",
        )
        .with(
            "n_min",
            "slowest lasting speed of the spindle",
            turning,
            Origin::part(means.spindle),
        )
    });
    notes.note(|| {
        let title = "fastest feed of the axes; 0 where the speed alone is too much";
        found(
            "feed_mm_per_min",
            "Feed where no cut goes",
            amount,
            "v_f = v",
        )
        .with("v", title, amount, Origin::Here)
    });
    notes.note(|| {
        let tooth = units::mm::amount(cut.tooth_feed);
        let told = found(
            "tooth_feed_mm",
            "Feed a tooth where no cut goes",
            tooth,
            "f_z = v_f/(n z)",
        );
        at(told.with(
            "v_f",
            "feed",
            amount,
            Origin::figure(cut.path("feed_mm_per_min")),
        ))
    });
    notes.note(|| {
        let often = units::hz::amount(cut.tooth_passing);
        at(found(
            "tooth_passing_hz",
            "How often a tooth would strike",
            often,
            "f = n z",
        ))
    });
    notes.note(|| loads::mean_chip(stock, cut));
    let nothing = |key, unit| found(key, "No cut is possible", Amount::of(0.0, unit), "0");
    for (key, unit) in [
        ("depth_mm", "mm"),
        ("reached", ""),
        ("removal_cm3_per_min", "cm³/min"),
        ("power_w", "W"),
        ("force_n", "N"),
        ("deflection_um", "µm"),
    ] {
        notes.note(|| nothing(key, unit));
    }
}

/// Tells how stiff the tip of a tool is, the machine at its worst place.
pub(super) fn tip(tool: &Tool, stiffness: &MachineStiffness, notes: &mut impl Recorder) {
    notes.note(|| {
        let whole = stiffness.tip_with(tool.mill);
        let axis = if whole.y < whole.x { "Y" } else { "X" };
        let own = tool_bending(tool.mill);
        let machine = 1.0 / (1.0 / units::n_per_um::from(super::means::softer((whole.x, whole.y))) - 1.0 / units::n_per_um::from(own));
        let n_per_um = |number| Amount::of(number, "N/µm");
        let mill = || Origin::part(tool.mill);
        let title = format!("Stiffness at the tip of {}, in {axis}, the softer direction", tool.mill.title);
        Derivation::of(tip_path(tool), title, n_per_um(tool.tip))
            .by(
                "the machine at its worst place, pushed at the tool's tip, in series with the tool's own bending",
                "1/k = 1/k_m + 1/k_t, 1/k_t = 64/(3 π E) (l³/(0.8 D)⁴ + (r³ - l³)/d⁴)",
            )
            .with("k_m", "the machine at the tip, the tool taken as stiff", n_per_um(machine), Origin::Here)
            .with("k_t", "the tool alone", units::n_per_um::amount(own), Origin::Here)
            .with("r", "what the tool stands out of the collet", units::mm::amount(tool.mill.reach), mill())
            .with("D", "cutting diameter", units::mm::amount(tool.mill.diameter), mill())
            .with("l", "length of its edges out of the collet", units::mm::amount(edges(tool.mill)), mill())
            .with("d", "its shank", units::mm::amount(tool.mill.shank), mill())
            .with("E", "elastic modulus of carbide", units::gpa::amount(carbide_modulus()), Origin::Constant("handbook value of cemented carbide"))
            .from(
                "springs in series; cantilever in two pieces, any handbook of mechanics; core of 0.8 D: common practice",
                "Holder and collet are taken as stiff.",
            )
    });
}

/// The path of the stiffness at a tool's tip.
fn tip_path(tool: &Tool) -> String {
    format!("stiffness.tools_n_per_um.{}", tool.mill.id)
}

fn diameter(tool: &Tool, cut: &Cut) -> Derivation {
    let amount = units::mm::amount(cut.diameter);
    Derivation::of(cut.path("tool_mm"), "Cutting diameter of the tool", amount)
        .by("As the tool's data say", "D")
        .with("D", "cutting diameter", amount, Origin::part(tool.mill))
        .from("The tool's data", "")
}

fn width(cut: &Cut) -> Derivation {
    let share = units::share::from(cut.engagement.share());
    Derivation::of(
        cut.path("width_mm"),
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
        Origin::figure(cut.path("tool_mm")),
    )
    .from("Common practice", "")
}

fn turning(means: &Means, stock: &Stock, cut: &Cut) -> Derivation {
    let (material, spindle) = (stock.material, means.spindle);
    let edge = chip::edge_speed(cut.diameter, cut.turning);
    Derivation::of(
        cut.path("rpm"),
        "Speed of the spindle",
        units::rpm::amount(cut.turning),
    )
    .by(
        "The speed of the edge over the tool's circumference: as fast as material and spindle bear; slower where the axes could not follow with a thick chip, or where they push or the spindle pulls harder; below the slowest usual edge only where the tooth would rub otherwise",
        "n = v/(π D), v between v_min and v_max, n between n_min and n_max",
    )
    .with("v", "speed of the edge that came out best", units::m_per_min::amount(edge), Origin::Here)
    .with("D", "cutting diameter", units::mm::amount(cut.diameter), Origin::figure(cut.path("tool_mm")))
    .with("v_min", "slowest usual edge in the material", units::m_per_min::amount(material.least_speed), Origin::part(material))
    .with("v_max", "fastest usual edge in the material", units::m_per_min::amount(material.greatest_speed), Origin::part(material))
    .with("n_min", "slowest lasting speed of the spindle", units::rpm::amount(spindle.least_speed), Origin::part(spindle))
    .with("n_max", "fastest speed of the spindle", units::rpm::amount(spindle.greatest_speed), Origin::part(spindle))
    .from(TABLES, "A handful of feeds between the slowest and the fastest are tried, not every one.")
}

fn tooth_feed(means: &Means, stock: &Stock, tool: &Tool, cut: &Cut) -> Derivation {
    let material = stock.material;
    let thickest = stock.bites[cut.engagement.index()].greatest_share();
    let (least, greatest) = (
        material.least_chip.at(cut.diameter) / thickest,
        material.greatest_chip.at(cut.diameter) / thickest,
    );
    Derivation::of(
        cut.path("tooth_feed_mm"),
        "Feed a tooth",
        units::mm::amount(cut.tooth_feed),
    )
    .by(
        "The greatest that the material's table allows for this diameter; less where the axes could not follow otherwise, but never so little that the edge rubs. In a cut narrower than half the tool f_min and f_max are the table's by t",
        "f_z = v/(n z), f_min ≤ f_z ≤ f_max, v ≤ v_top",
    )
    .with("v", "feed that came out best of those that the axes can follow", feed(cut), Origin::Here)
    .with("n", "speed of the spindle", units::rpm::amount(cut.turning), Origin::figure(cut.path("rpm")))
    .with("z", "cutting edges", flutes(tool), Origin::part(tool.mill))
    .with("t", "thickest chip by feed per tooth, 2 √(x - x²) at a width of x diameters below a half", Amount::plain(thickest), Origin::Here)
    .with("f_min", "least feed per tooth at this diameter", units::mm::amount(least), Origin::part(material))
    .with("f_max", "greatest feed per tooth at this diameter", units::mm::amount(greatest), Origin::part(material))
    .with("v_top", "fastest feed of X and Y together", Amount::of(means.top.feed, "mm/min"), Origin::figure(means.slower_axis()))
    .from(TABLES, "Tables state 3, 6 and 8 mm; between them the feed is taken on a line, beyond them in proportion. Foam has no least.")
}

fn feed_of(tool: &Tool, cut: &Cut) -> Derivation {
    Derivation::of(cut.path("feed_mm_per_min"), "Feed", feed(cut))
        .by(
            "Turns a minute, times edges, times feed per tooth",
            "v_f = n z f_z",
        )
        .with(
            "n",
            "speed of the spindle",
            units::rpm::amount(cut.turning),
            Origin::figure(cut.path("rpm")),
        )
        .with("z", "cutting edges", flutes(tool), Origin::part(tool.mill))
        .with(
            "f_z",
            "feed per tooth",
            units::mm::amount(cut.tooth_feed),
            Origin::figure(cut.path("tooth_feed_mm")),
        )
        .from("Any handbook of machining", "")
}

fn tooth_passing(tool: &Tool, cut: &Cut) -> Derivation {
    Derivation::of(
        cut.path("tooth_passing_hz"),
        "How often a tooth strikes",
        units::hz::amount(cut.tooth_passing),
    )
    .by("Turns a second, times edges", "f = n z")
    .with(
        "n",
        "speed of the spindle",
        units::rpm::amount(cut.turning),
        Origin::figure(cut.path("rpm")),
    )
    .with("z", "cutting edges", flutes(tool), Origin::part(tool.mill))
    .from("Any handbook of machining", "")
}
