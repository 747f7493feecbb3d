//! Tools and spindles: bending of end mills against the energy method, edges against π D n,
//! spindles against P = T ω.

use gantrywright::catalogue::spindle::EndMill;
use gantrywright::machine::cutting::chip::edge_speed;
use gantrywright::machine::cutting::tool::bears;
use gantrywright::machine::stiffness::tool_bending;
use gantrywright::units;

use crate::checks::{Check, hold};
use crate::common;

/// Where the model of a tool ends.
const TOOL_ENDS: &str =
    "a bar of 0.8 D along the edges, stiffly held; collets and runout add to it";

pub(crate) fn checks() -> Vec<Check> {
    vec![edges(), short_tools(), stepped_tools(), spindles()]
}

#[test]
fn tools_hold() {
    hold(checks());
}

fn mill(diameter: f64, flutes: u32, edges: f64, reach: f64) -> EndMill {
    EndMill {
        diameter: units::mm::of(diameter),
        shank: units::mm::of(diameter),
        flutes,
        flute_length: units::mm::of(edges),
        reach: units::mm::of(reach),
        ..common::catalogue().end_mills["mill-6mm-2f"].clone()
    }
}

/// v_c = π D n: 6 mm at 24 000 rpm run 452.39 m/min, at 18 000 339.29, 3 mm at 10 000 94.248.
fn edges() -> Check {
    let mut check = Check::within("speed of the edge", 0.001)
        .source("worked by hand from π D n")
        .limits("at the outer edge; a ball's or a drill's middle stands still");
    for (mm, rpm, expected) in [
        (6.0, 24_000.0, 452.389),
        (6.0, 18_000.0, 339.292),
        (3.0, 10_000.0, 94.248),
    ] {
        let speed = edge_speed(units::mm::of(mm), units::rpm::of(rpm));
        let name = format!("{mm} mm, {rpm} rpm");
        check.case(name, units::m_per_min::from(speed), expected);
    }
    check
}

/// F L³/(3 E I) for a round bar of 0.8 D in carbide of 600 GPa, worked by hand where the edges
/// are as long as the reach: D 6, L 24: I = π 4.8⁴/64 = 26.058 mm⁴,
/// k = 3 · 600 000 · 26.058/13 824 = 3392.9 N/mm. It goes with D⁴/L³.
fn short_tools() -> Check {
    let mut check = Check::within("stiffness of end mills of 3 to 6 mm", 0.001)
        .source("worked by hand: cantilever of any handbook, 0.8 D, 600 GPa")
        .limits(TOOL_ENDS);
    for (d, l, n_per_mm) in [
        (3.0, 9.0, 4021.24),
        (3.0, 12.0, 1696.46),
        (4.0, 12.0, 5361.65),
        (6.0, 18.0, 8042.48),
        (6.0, 24.0, 3392.92),
        (6.0, 30.0, 1737.18),
    ] {
        let k = units::n_per_um::from(tool_bending(&mill(d, 2, l, l))) * 1000.0;
        check.case(format_args!("{d} x {l}"), k, n_per_mm);
    }
    check
}

/// Tools in two pieces against the energy method, δ = ∫ F x²/(E I) dx, integrated step by
/// step; the bending stress of what each bears is nowhere above 1000 N/mm².
fn stepped_tools() -> Check {
    let mut check = Check::within("stiffness of every end mill on the shelf", 0.1)
        .source("energy method, ∫ F x²/(E I) dx, summed step by step")
        .limits(TOOL_ENDS);
    for tool in common::catalogue().end_mills.values() {
        let [d, shank, edges, reach] =
            [tool.diameter, tool.shank, tool.flute_length, tool.reach].map(units::mm::from);
        let at = |x: f64| if x < edges { 0.8 * d } else { shank };
        let steps = 20_000;
        let dx = reach / f64::from(steps);
        let (mut give, mut stress) = (0.0, 0.0_f64);
        let force = units::n::from(bears(tool));
        for step in 0..steps {
            let x = (f64::from(step) + 0.5) * dx;
            let bar = at(x);
            give += x * x * dx / (600_000.0 * std::f64::consts::PI * bar.powi(4) / 64.0);
            stress = stress.max(force * x * 32.0 / (std::f64::consts::PI * bar.powi(3)));
        }
        let k = units::n_per_um::from(tool_bending(tool)) * 1000.0;
        check.case(tool.id, k, 1.0 / give);
        let bears_well = (990.0..=1000.1).contains(&stress);
        assert!(bears_well, "{}: {stress} N/mm²", tool.id);
    }
    check
}

/// Constant torque below the rated speed, T = P/(2 π n/60): 0.8, 1.5 and 2.2 kW at 24 000 rpm
/// leave 400, 750 and 1100 W at 12 000 rpm; 266.67, 500 and 733.33 W at 8000 rpm.
fn spindles() -> Check {
    let mut check = Check::within("power of a spindle below its rated speed", 0.01)
        .source("worked by hand: constant torque, P = T ω")
        .limits("below about 8000 rpm it also cools badly, and efficiency falls");
    let catalogue = common::catalogue();
    for spindle in catalogue.spindles.values() {
        let kw = units::kw::from(spindle.power);
        let rated = units::rpm::from(spindle.rated_speed);
        for (size, at_12000, at_8000) in [
            (0.8, 400.0, 266.667),
            (1.5, 750.0, 500.0),
            (2.2, 1100.0, 733.333),
        ] {
            if (kw - size).abs() < 1e-9 && rated.round() == 24_000.0 {
                for (rpm, expected) in [(12_000.0, at_12000), (8000.0, at_8000)] {
                    let watts = units::w::from(spindle.power_at(units::rpm::of(rpm)));
                    check.case(format_args!("{}, {rpm} rpm", spindle.id), watts, expected);
                }
            }
        }
    }
    check
}

/// Every spindle keeps its torque below its rated speed, and its power above it.
#[test]
fn spindles_keep_their_torque() {
    for spindle in common::catalogue().spindles.values() {
        let rated = spindle.rated_speed;
        for share in [0.25, 0.5, 1.0] {
            let there = spindle.power_at(rated * share) / spindle.power;
            assert!((there.value / share - 1.0).abs() < 1e-9, "{}", spindle.id);
        }
        assert_eq!(spindle.power_at(rated * 1.1), spindle.power);
    }
}
