//! Cutting: Kienzle's law against a published table and worked figures, the geometry of
//! milling against numerical integration and a cutter turned step by step. What must hold of
//! every cut is in `tests/machine/laws_of_cutting.rs`.

use gantrywright::catalogue::material::Material;
use gantrywright::machine::cutting::chip::{Bite, edge_speed};
use gantrywright::machine::cutting::force::Resistance;
use gantrywright::units::{self, Force, Length};

use crate::checks::{Check, hold, lines, numbers};
use crate::common;

/// Where Kienzle's law ends.
const KIENZLE_ENDS: &str = "sharp edges, rake 0°, k_c1.1 ± 20 %; below chips of 0.04 mm, where small tools work, ± 30 %; chatter is not modelled";

/// Where the specific energies of wood and plastics end.
const WOOD_ENDS: &str =
    "the weakest numbers of all: grain, moisture and glue move them by half and more";

pub(crate) fn checks() -> Vec<Check> {
    let mut checks = vec![metals(), worked_slots(), wood(), particleboard()];
    checks.extend(turned_cutters());
    checks.push(thin_side_cuts());
    checks
}

#[test]
fn cutting_holds() {
    hold(checks());
}

fn material(id: &str) -> Material {
    common::catalogue().materials[id].clone()
}

fn specific(law: &Resistance, chip: f64) -> f64 {
    units::n_per_mm2::from(law.at(units::mm::of(chip)))
}

/// Force along the path of one tooth, F = k_c1.1 · b · h^(1-m): depth b, chip h.
fn tooth(law: &Resistance, depth: Length, chip: Length) -> Force {
    law.at(chip) * depth * chip
}

/// k_c1.1 and m of a published cutting-tool user guide, material groups of VDI 3323: group 22
/// (hardened wrought aluminium) 800, 0.25; group 26 to 28 (brass) 700, 0.27; group 1
/// (non-alloy steel below 0.25 % carbon) 1350, 0.21. By definition k_c1.1 is the force on a
/// chip of 1 mm by 1 mm, and m the slope over the chip's thickness in a log-log plot.
fn metals() -> Check {
    let mut check = Check::within("k_c1.1 and exponent of metals", 0.0001)
        .source("a published cutting-tool user guide, material groups of VDI 3323")
        .limits("another handbook has 780 to 830 for aluminium, 1780 for the steel: ± 20 to 30 %");
    for (id, at_one, exponent) in [
        ("aluminium-6082", 800.0, 0.25),
        ("brass", 700.0, 0.27),
        ("mild-steel", 1350.0, 0.21),
    ] {
        let law = Resistance::of(&material(id));
        let one = units::mm::of(1.0);
        check.case(id, units::n::from(tooth(&law, one, one)), at_one);
        for chip in [0.005_f64, 0.02, 0.1, 0.4] {
            let slope = (specific(&law, chip) / specific(&law, 1.0)).log(1.0 / chip);
            check.case(format_args!("{id}, slope at {chip} mm"), slope, exponent);
        }
    }
    check
}

/// Worked by hand with Kienzle's formula and the milling formulas of any handbook, slots with
/// D = 6, 18 000 rpm, 1 mm deep. One tooth, 0.06 mm each: h_m = 2 · 0.06/π = 0.038 197 mm.
/// Aluminium 800/0.25: 0.038 197^-0.25 = 1/√√0.038 197 = 2.2620, k_c = 1809.6; 6.48 cm³/min is
/// 108 mm³/s, P = 195.44 W; one tooth is in the cut half of the time and its edge runs
/// 5.6549 m/s, so its mean force is 195.44/(0.5 · 5.6549) = 69.12 N, and 800 · 0.06^0.75 =
/// 96.99 N at the thickest chip. Two teeth of 0.03 mm, and one in mild steel, likewise.
fn worked_slots() -> Check {
    let mut check = Check::within("a slot's chip, k_c, power, mean and peak force", 0.02)
        .source("worked by hand from Kienzle's formula and a handbook's milling formulas")
        .limits(KIENZLE_ENDS);
    for (id, flutes, feed, expected) in [
        (
            "aluminium-6082",
            1,
            0.06,
            [0.038_197, 1809.60, 195.44, 69.12, 96.99],
        ),
        (
            "aluminium-6082",
            2,
            0.03,
            [0.019_099, 2151.99, 232.42, 41.10, 57.67],
        ),
        (
            "mild-steel",
            1,
            0.06,
            [0.038_197, 2679.83, 289.42, 102.36, 146.24],
        ),
    ] {
        let law = Resistance::of(&material(id));
        let slot = Bite::of(units::share::of(1.0));
        let (depth, tooth_feed) = (units::mm::of(1.0), units::mm::of(feed));
        let chip = slot.mean_chip(tooth_feed);
        let mean = units::n::from(tooth(&law, depth, chip));
        // In a slot the thickest chip is the feed of a tooth.
        let peak = units::n::from(tooth(&law, depth, tooth_feed));
        let edge = edge_speed(units::mm::of(6.0), units::rpm::of(18_000.0));
        let teeth = units::share::from(slot.turn_share()) * f64::from(flutes);
        let power = teeth * mean * units::m_per_min::from(edge) / 60.0;
        let k_c = units::n_per_mm2::from(law.at(chip));
        let found = [units::mm::from(chip), k_c, power, mean, peak];
        let names = ["chip", "k_c", "power", "mean force", "peak force"];
        for ((name, computed), expected) in names.into_iter().zip(found).zip(expected) {
            let name = format!("{id}, {flutes} teeth, {name}");
            check.case(name, computed, expected);
        }
    }
    check
}

/// By the definition of a specific energy, P = u Q at chips of 0.1 mm: 103.68 cm³/min of
/// softwood at 20 N/mm² take 34.56 W, of MDF at 40 69.12 W; 69.12 cm³/min of POM at 120
/// 138.24 W. The energies themselves are from memory.
fn wood() -> Check {
    let mut check = Check::within("power in softwood, MDF and POM at chips of 0.1 mm", 0.001)
        .source("worked by hand from the specific energy, P = u Q")
        .limits(WOOD_ENDS);
    for (id, cm3_per_min, watts) in [
        ("softwood", 103.68, 34.56),
        ("mdf", 103.68, 69.12),
        ("pom", 69.12, 138.24),
    ] {
        let law = Resistance::of(&material(id));
        let power = specific(&law, 0.1) * cm3_per_min / 60.0;
        check.case(id, power, watts);
    }
    check
}

/// Measured in peripheral milling of particleboard, Materials 14 (2021) 2208: mean specific
/// principal cutting force 32.0 (slow) to 37.6 N/mm² (fast).
fn particleboard() -> Check {
    let mut check = Check::within("specific force of particleboard at chips of 0.1 mm", 10.0)
        .source("measured in peripheral milling: Materials 14 (2021) 2208")
        .limits(WOOD_ENDS);
    let ours = specific(&Resistance::of(&material("particleboard")), 0.1);
    check.case("slow", ours, 32.0);
    check.case("fast", ours, 37.6);
    check
}

/// Mean chip, teeth in the cut and greatest resultant against a cutter turned step by step
/// (`cutting.py`). The work by the mean chip is a little more than the integral of Kienzle's
/// law over the arc, as it must be for a law that grows slower than the chip: at most 7 %.
fn turned_cutters() -> [Check; 4] {
    let turned = "a cutter turned step by step, numpy 2.4.6 (cutting.py)";
    let integral = "numerical integration, scipy 1.17.1 (cutting.py)";
    let mut chips = Check::within("mean chip over the arc", 0.001)
        .source(integral)
        .limits("edges run true; runout gives one tooth more than its share");
    let mut teeth = Check::within("teeth in the cut at a time", 0.2)
        .source(turned)
        .limits("a mean over the turn");
    let mut peaks = Check::within("greatest force of all teeth, with the radial part", 0.1)
        .source(turned)
        .limits(
            "straight edges, radial force 0.4 of the cutting force; a helix evens the peaks out",
        );
    let mut work = Check::band(
        "work by integration over work by the mean chip",
        0.93,
        1.001,
    )
    .source(integral)
    .limits("the usual formula by the mean chip is up to 7 % on the safe side");
    for line in lines(include_str!("cutting.csv")) {
        let [width, flutes, exponent, mean, energy, inside, peak] = numbers(line)[..] else {
            panic!("{line}");
        };
        let bite = Bite::of(units::share::of(width));
        let (one, flutes) = (units::mm::of(1.0), flutes as u32);
        chips.case(line, units::mm::from(bite.mean_chip(one)), mean);
        teeth.case(
            line,
            units::share::from(bite.turn_share()) * f64::from(flutes),
            inside,
        );
        let ours = units::share::from(bite.peak(flutes, units::share::of(exponent)));
        peaks.case(line, ours, peak);
        work.case(line, mean.powf(-exponent), energy);
    }
    [chips, teeth, peaks, work]
}

/// For thin side cuts published cutting guides take h_m = f_z √(a_e/D).
fn thin_side_cuts() -> Check {
    let mut check = Check::within("mean chip of thin side cuts", 2.0)
        .source("approximation of published cutting guides, f_z √(a_e/D)")
        .limits("theirs is made for cuts up to a tenth of the diameter");
    for width in [0.02_f64, 0.05, 0.1] {
        let chip = Bite::of(units::share::of(width)).mean_chip(units::mm::of(1.0));
        check.case(width, units::mm::from(chip), width.sqrt());
    }
    check
}
