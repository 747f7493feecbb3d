//! How the figures of a run that no plan routes came about.

mod load;

use super::copper::{
    cooler_way, frame_way, least_bond, mains_lead, plug_earth, strong_earth, tails,
};
use super::lead::{Lead, Made, Purpose};
use super::{BENDS, in_cabinet};
use crate::build::Picked;
use crate::explain::{Derivation, Input, Origin, Recorder};
use crate::machine::electrics::Electrics;
use crate::machine::geometry::Geometry;
use crate::units::{self, Amount, Length};
use crate::words::Words as _;

/// Notes every figure of one run.
pub(super) fn note(
    picked: &Picked,
    geometry: &Geometry,
    electrics: &Electrics,
    all: &[Lead],
    lead: &Lead,
    notes: &mut impl Recorder,
) {
    if !notes.listens() {
        return;
    }
    notes.note(|| length(picked, geometry, lead));
    notes.note(|| cores(picked, lead));
    notes.note(|| ferrules(path(lead.number, "ferrules"), lead.cores, lead.ferrules()));
    notes.note(|| match (lead.made, lead.load) {
        (Made::Earth, _) => bond(picked, all, lead),
        (_, Some(_)) => loaded_area(lead),
        _ => plain_area(picked, lead),
    });
    if lead.pieces > 1 {
        notes.note(|| pieces(picked, lead));
    }
    if let Some(area) = lead.earth_area {
        notes.note(|| earth_core(picked, electrics, lead, area));
    }
    load::bears(picked, electrics, all, lead, notes);
}

fn path(number: usize, key: &str) -> String {
    format!("cables.W{number}.{key}")
}

fn practice() -> Origin {
    Origin::Constant("common practice")
}

/// Notes how many ferrules a run takes.
pub(super) fn ferrules(path: String, cores: u32, ferrules: u32) -> Derivation {
    let ends = ferrules.checked_div(cores).unwrap_or(0);
    Derivation::of(path, "ferrules", Amount::plain(f64::from(ferrules)))
        .by("one on each core end that is clamped: two a core, one where a plug ends it, none on lugs", "k = e · n")
        .with("e", "clamped ends of a core", Amount::plain(f64::from(ends)), practice())
        .with("n", "cores", Amount::plain(f64::from(cores)), Origin::Here)
        .from("common practice: fine strands are never clamped bare", "screwless clamps that take bare strands need none")
}

fn length(picked: &Picked, geometry: &Geometry, lead: &Lead) -> Derivation {
    let metres = units::m::amount;
    let title = format!("length of {}", lead.title());
    let figure = Derivation::of(path(lead.number, "length_m"), title, metres(lead.length));
    let from = "common practice";
    let measure = "measure the way before you cut";
    let outside = |figure: Derivation, way: Length, title: &'static str| {
        figure
            .by(
                "a metre in the cabinet and the way, a tenth more for bends",
                "L = 1.1 · (L_cab + L_way)",
            )
            .with("L_cab", "in the cabinet", metres(in_cabinet()), practice())
            .with("L_way", title, metres(way), practice())
            .with("1.1", "a tenth for bends", Amount::plain(BENDS), practice())
            .from(from, measure)
    };
    match lead.purpose {
        Purpose::MainsFeed | Purpose::SecondEarth => figure
            .by("as it is sold", "L = L_0")
            .with("L_0", "usual length", metres(mains_lead()), practice())
            .from(from, "a longer way wants a longer lead, never a reel"),
        Purpose::EarthStrap | Purpose::BridgeEarth => figure
            .by("as it is sold for one part", "L = L_0")
            .with("L_0", "usual length", metres(lead.length), practice())
            .from(from, measure),
        Purpose::FlowSwitch => outside(figure, cooler_way(), "to a cooler beside it"),
        Purpose::FrameEarth => {
            outside(figure, frame_way(), "to the nearest bare spot of the frame")
        }
        Purpose::StopButton | Purpose::StopInput | Purpose::ToolSensor => {
            let floor = &geometry.footprint;
            let side = |axis: usize| Origin::figure(format!("machine.footprint_mm.{axis}"));
            figure
                .by("a metre in the cabinet and half the way around the machine, a tenth more for bends", "L = 1.1 · (L_cab + (x + y)/2)")
                .with("L_cab", "in the cabinet", metres(in_cabinet()), practice())
                .with("x", "footprint along X", metres(floor.x), side(0))
                .with("y", "footprint along Y", metres(floor.y), side(1))
                .with("1.1", "a tenth for bends", Amount::plain(BENDS), practice())
                .from(from, measure)
        }
        _ => {
            let cabinet = picked.cabinet;
            figure
                .by("half of the cabinet's width and height, a tenth more for bends, and its tails", "L = 1.1 · (w + h)/2 + L_t")
                .with("w", "width of the cabinet", metres(cabinet.width), Origin::part(cabinet))
                .with("h", "height of the cabinet", metres(cabinet.height), Origin::part(cabinet))
                .with("1.1", "a tenth for bends", Amount::plain(BENDS), practice())
                .with("L_t", "tails, in and out of the duct", metres(tails()), practice())
                .from(from, "the way between two devices in the middle of the plate; some are shorter, few are longer")
        }
    }
}

fn cores(picked: &Picked, lead: &Lead) -> Derivation {
    let count = Amount::plain(f64::from(lead.cores));
    let figure = Derivation::of(
        path(lead.number, "cores"),
        "cores, or wires side by side",
        count,
    );
    match lead.made {
        Made::SwitchCable => figure
            .by("as the data of the switch cable say", "n")
            .with("n", "cores", count, Origin::part(picked.switch_cable))
            .from("data of the cable", ""),
        _ => figure
            .by("a wire for each potential that it brings", "n")
            .with("n", lead.purpose.title(), count, Origin::Here)
            .from(
                "a count of what the devices connect",
                "your devices may want more: their manuals decide",
            ),
    }
}

fn pieces(picked: &Picked, lead: &Lead) -> Derivation {
    let count = Amount::plain(f64::from(lead.pieces));
    Derivation::of(
        path(lead.number, "pieces"),
        "straps, one to each steel member",
        count,
    )
    .by("as many as the plan has steel members", "n")
    .with(
        "n",
        "steel members",
        count,
        Origin::Plan(picked.frame.id.to_string()),
    )
    .from(
        "common practice: paint insulates",
        "members that are welded together need one between them",
    )
}

fn plain_area(picked: &Picked, lead: &Lead) -> Derivation {
    let area = units::mm2::amount(lead.area);
    let figure = Derivation::of(path(lead.number, "area_mm2"), "area of a core", area);
    match lead.made {
        Made::SwitchCable => figure
            .by("as the data of the switch cable say", "A")
            .with("A", "nominal area", area, Origin::part(picked.switch_cable))
            .from("data of the cable; IEC 60228", "a nominal area"),
        _ if lead.purpose == Purpose::DriverOut => figure
            .by("as that of the motor's cable", "A")
            .with(
                "A",
                "nominal area of the motor cable",
                area,
                Origin::part(picked.motor_cable),
            )
            .from("IEC 60228", "a nominal area"),
        _ if matches!(
            lead.purpose,
            Purpose::EarthBar | Purpose::PlateEarth | Purpose::DoorEarth
        ) =>
        {
            figure
                .by("as that of the mains lead's cores, up to 16 mm²", "A")
                .with("A", "area of the mains lead", area, Origin::Here)
                .from("IEC 60204-1, Table 1", "a nominal area")
        }
        _ => figure
            .by(
                "what wires of control circuits have in a cabinet, thick enough to be handled",
                "A",
            )
            .with("A", "usual area", area, practice())
            .from(
                "IEC 60204-1, Table 5, asks for 0.2 mm² at least (from memory); common practice",
                "their currents are far below what this area carries",
            ),
    }
}

fn loaded_area(lead: &Lead) -> Derivation {
    let figure = Derivation::of(
        path(lead.number, "area_mm2"),
        "area of a core",
        units::mm2::amount(lead.area),
    );
    let figure = match lead.guard {
        Some(guard) => figure
            .by("the thinnest standard area that carries what its breaker or fuse lets pass, and keeps the drop fair", "A = min {A of the row, I_z(A) >= I_F, d(A) <= d_fair}")
            .with("I_F", "breaker, plug or fuse before it", units::a::amount(guard), Origin::figure(path(lead.number, "fuse_a"))),
        None => figure
            .by("the thinnest standard area that carries the current, and keeps the drop fair", "A = min {A of the row, I_z(A) >= I, d(A) <= d_fair}")
            .with("I", "current", load::current(lead), Origin::figure(path(lead.number, "current_a"))),
    };
    figure
        .with("d_fair", "fair drop", units::percent::amount(lead.load.map(|load| load.fair_drop()).unwrap_or_default()), Origin::Constant("5 % of direct current, 3 % of mains voltage: common practice"))
        .with("I_z", "current that it carries for long", units::a::amount(lead.ampacity.unwrap_or_default()), Origin::Constant("IEC 60204-1:2016, Table 6"))
        .from("IEC 60204-1:2016, Table 6; IEC 60228. At least 0.75 mm² in the cabinet, 1.5 mm² outside (Table 5, from memory; common practice)", "16 mm² at most: above that the row ends")
}

fn bond(picked: &Picked, all: &[Lead], lead: &Lead) -> Derivation {
    let figure = Derivation::of(
        path(lead.number, "area_mm2"),
        "least area of the earth lead",
        units::mm2::amount(lead.area),
    );
    let feeds = all.iter().filter(|one| one.purpose == Purpose::MainsFeed);
    let thickest =
        feeds.max_by(|a, b| units::mm2::from(a.area).total_cmp(&units::mm2::from(b.area)));
    let thickest = thickest.map(|feed| {
        let from = Origin::figure(path(feed.number, "area_mm2"));
        Input::new(
            "A_L",
            "core of the thickest mains lead",
            units::mm2::amount(feed.area),
            from,
        )
    });
    let strong = lead.purpose == Purpose::SecondEarth;
    let figure = if strong {
        figure.by(
            "enough even where it is the only earth left, and as thick as the phases that it serves",
            "A = max(A_10, A_L, A_S, A_b)",
        )
        .with("A_10", "enough alone, whatever leaks", units::mm2::amount(strong_earth()), Origin::Constant("IEC 61800-5-1"))
    } else {
        figure.by(
            "as thick as the phases that it serves, and never below what bonding wants",
            "A = max(A_L, A_S, A_b)",
        )
    };
    figure
        .with_each(thickest)
        .with(
            "A_S",
            "core of the spindle's cable",
            units::mm2::amount(picked.spindle_cable.area),
            Origin::part(picked.spindle_cable),
        )
        .with(
            "A_b",
            "least bonding conductor",
            units::mm2::amount(least_bond()),
            Origin::Constant("IEC 60364-5-54, 544.1"),
        )
        .from(
            "IEC 60204-1, Table 1: as the phase up to 16 mm²; IEC 60364-5-54",
            "thicker is always fine; scrape the paint off at both ends",
        )
}

fn earth_core(
    picked: &Picked,
    electrics: &Electrics,
    lead: &Lead,
    area: units::Area,
) -> Derivation {
    let found = electrics
        .circuits
        .iter()
        .find(|one| one.which == lead.circuit);
    let leaks = found.map(|circuit| circuit.leakage()).unwrap_or_default();
    let led = picked.build.control.second_earth;
    Derivation::of(path(lead.number, "earth_area_mm2"), "area that its earth core must have", units::mm2::amount(area))
        .by("as the live core up to 16 mm²; 10 mm² where more than 3.5 mA leak and no second earth is led", "A_PE = A; 10 mm² where I_Δ > 3.5 mA without a second earth")
        .with("A", "area of its cores", units::mm2::amount(lead.area), Origin::figure(path(lead.number, "area_mm2")))
        .with("I_Δ", "standing leakage", units::ma::amount(leaks), Origin::figure(format!("power.circuits.{}.leakage_ma", lead.circuit.id())))
        .with("3.5 mA", "what a plug's earth may carry alone", units::ma::amount(plug_earth()), Origin::Constant("IEC 61800-5-1"))
        .with("10 mm²", "enough alone, whatever leaks", units::mm2::amount(strong_earth()), Origin::Constant("IEC 61800-5-1"))
        .with("second earth", "led: 1, not led: 0", Amount::plain(f64::from(u8::from(led))), Origin::choice("second_earth"))
        .from("IEC 60204-1, Table 1; IEC 61800-5-1", "local codes decide what may hang on a plug at all")
}
