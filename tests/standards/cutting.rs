//! Cutting: Kienzle's law against a published table and worked figures, the geometry of
//! milling against numerical integration and a cutter turned step by step, tools against the
//! energy method, spindles against P = T ω; and what must hold of every cut.

use gantrywright::assessment::{Assessment, explain, json::json};
use gantrywright::build::{PerAxis, Picked};
use gantrywright::catalogue::material::Material;
use gantrywright::catalogue::spindle::EndMill;
use gantrywright::explain::Silent;
use gantrywright::machine::Machine;
use gantrywright::machine::cutting::chip::{Bite, edge_speed};
use gantrywright::machine::cutting::force::Resistance;
use gantrywright::machine::cutting::tool::bears;
use gantrywright::machine::cutting::{Cut, CutLimit, Cutting, Engagement, Verdict};
use gantrywright::machine::stiffness::tool_bending;
use gantrywright::units;
use gantrywright::words::Words;

use crate::common;

fn material(id: &str) -> Material {
    common::catalogue().materials[id].clone()
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

/// k_c1.1 and m of a published cutting-tool user guide, material groups of VDI 3323: group 22
/// (hardened wrought aluminium) 800, 0.25; group 26 to 28 (brass) 700, 0.27; group 1
/// (non-alloy steel below 0.25 % carbon) 1350, 0.21.
#[test]
fn metals_follow_the_published_table() {
    for (id, at_one, exponent) in [
        ("aluminium-6082", 800.0, 0.25),
        ("brass", 700.0, 0.27),
        ("mild-steel", 1350.0, 0.21),
    ] {
        let law = Resistance::of(&material(id));
        // By definition k_c1.1 is the force on a chip of 1 mm by 1 mm.
        let one = units::mm::of(1.0);
        assert!(
            (units::n::from(law.tooth(one, one)) / at_one - 1.0).abs() < 1e-9,
            "{id}"
        );
        for chip in [0.005_f64, 0.02, 0.1, 0.4] {
            let expected = at_one / chip.powf(exponent);
            let at = units::n_per_mm2::from(law.at(units::mm::of(chip)));
            assert!((at / expected - 1.0).abs() < 1e-9, "{id} {chip}: {at}");
        }
    }
}

/// Worked by hand with Kienzle's formula and the milling formulas of any handbook, a slot with
/// D = 6, one tooth, 18 000 rpm, 0.06 mm a tooth, 1 mm deep: h_m = 2 · 0.06/π = 0.038 197 mm.
/// Aluminium 800/0.25: 0.038 197^-0.25 = 1/√√0.038 197 = 2.2620, k_c = 1809.6; 6.48 cm³/min is
/// 108 mm³/s, P = 195.4 W; one tooth is in the cut half of the time and its edge runs
/// 5.6549 m/s, so its mean force is 195.4/(0.5 · 5.6549) = 69.1 N.
#[test]
fn a_slot_in_aluminium_by_hand() {
    let law = Resistance::of(&material("aluminium-6082"));
    let (slot, tooth_feed) = (Bite::of(units::share::of(1.0)), units::mm::of(0.06));
    let chip = slot.mean_chip(tooth_feed);
    assert!((units::mm::from(chip) - 0.038_197).abs() < 1e-6);
    let specific = units::n_per_mm2::from(law.at(chip));
    assert!((specific - 1809.6).abs() < 0.1, "{specific}");
    let power = specific * 108.0 / 1000.0;
    assert!((power - 195.44).abs() < 0.01, "{power}");
    let mean = units::n::from(law.tooth(units::mm::of(1.0), chip));
    let edge = units::m_per_min::from(edge_speed(units::mm::of(6.0), units::rpm::of(18_000.0)));
    let teeth = units::share::from(slot.teeth(1));
    assert!((teeth * mean * edge / 60.0 / power - 1.0).abs() < 1e-9);
    assert!((mean - 69.12).abs() < 0.01, "{mean}");
    // At the thickest chip: 800 · 0.06^0.75 = 96.99 N.
    let peak = units::n::from(law.tooth(units::mm::of(1.0), slot.greatest_chip(tooth_feed)));
    assert!((peak - 96.99).abs() < 0.01, "{peak}");
}

/// Mean chip, teeth in the cut and greatest resultant against a cutter turned step by step
/// (`cutting.py`). The work by the mean chip is a little more than the integral of Kienzle's
/// law over the arc, as it must be for a law that grows slower than the chip: at most 7 %.
#[test]
fn a_cutter_turned_step_by_step() {
    let mut rows = 0;
    for line in include_str!("cutting.csv").lines().skip(2) {
        let row: Vec<f64> = line
            .split(',')
            .map(|n| n.parse().expect("a number"))
            .collect();
        let [width, flutes, exponent, mean, work, teeth, peak] = row[..] else {
            panic!("{line}");
        };
        let bite = Bite::of(units::share::of(width));
        let (one, flutes) = (units::mm::of(1.0), flutes as u32);
        assert!(
            (units::mm::from(bite.mean_chip(one)) / mean - 1.0).abs() < 1e-5,
            "{line}"
        );
        assert!(
            (units::share::from(bite.teeth(flutes)) / teeth - 1.0).abs() < 0.002,
            "{line}"
        );
        let by_mean = mean.powf(-exponent);
        assert!(
            (0.999..1.07).contains(&(by_mean / work)),
            "{line}: {}",
            by_mean / work
        );
        let ours = units::share::from(bite.peak(flutes, units::share::of(exponent)));
        assert!((ours / peak - 1.0).abs() < 1e-3, "{line}: {ours}");
        rows += 1;
    }
    assert_eq!(rows, 84);
}

/// For thin side cuts the approximation of published cutting guides, h_m = f_z √(a_e/D), is
/// within 2 % of the mean over the arc up to a tenth of the diameter.
#[test]
fn thin_side_cuts_agree_with_the_published_approximation() {
    for width in [0.02_f64, 0.05, 0.1] {
        let chip = units::mm::from(Bite::of(units::share::of(width)).mean_chip(units::mm::of(1.0)));
        assert!((chip / width.sqrt() - 1.0).abs() < 0.02, "{width}: {chip}");
    }
}

/// F L³/(3 E I) for a round bar of 0.8 D in carbide of 600 GPa, worked by hand where the edges
/// are as long as the reach: D 6, L 24: I = π 4.8⁴/64 = 26.058 mm⁴, k = 3 · 600 000 · 26.058/
/// 13 824 = 3392.9 N/mm. It goes with D⁴/L³.
#[test]
fn a_tool_bends_like_a_bar() {
    for (d, l, n_per_mm) in [
        (6.0, 24.0, 3392.92),
        (6.0, 18.0, 8042.48),
        (3.0, 9.0, 4021.24),
    ] {
        let k = units::n_per_um::from(tool_bending(&mill(d, 2, l, l))) * 1000.0;
        assert!((k / n_per_mm - 1.0).abs() < 1e-5, "{d} x {l}: {k}");
    }
}

/// A tool in two pieces against the energy method, δ = ∫ F x²/(E I) dx, integrated step by
/// step; the bending stress of what it bears is nowhere above 1000 N/mm².
#[test]
fn a_stepped_tool_by_the_energy_method() {
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
        assert!((k * give - 1.0).abs() < 1e-3, "{}: {k}", tool.id);
        assert!(
            (990.0..=1000.1).contains(&stress),
            "{}: {stress} N/mm²",
            tool.id
        );
    }
}

/// Constant torque below the rated speed, T = P/(2 π n/60): 0.8, 1.5 and 2.2 kW at 24 000 rpm
/// give 0.3183, 0.5968 and 0.8754 N·m; 400, 750 and 1100 W at 12 000 rpm; 266.7, 500 and
/// 733.3 W at 8000 rpm.
#[test]
fn spindles_keep_their_torque() {
    let catalogue = common::catalogue();
    let mut seen = 0;
    for spindle in catalogue.spindles.values() {
        let rated = units::rpm::from(spindle.rated_speed);
        let kw = units::kw::from(spindle.power);
        let torque = 1000.0 * kw / (rated * std::f64::consts::TAU / 60.0);
        for share in [0.25, 0.5, 1.0] {
            let watts = units::w::from(spindle.power_at(units::rpm::of(rated * share)));
            let omega = rated * share * std::f64::consts::TAU / 60.0;
            assert!(
                (watts / (torque * omega) - 1.0).abs() < 1e-9,
                "{}",
                spindle.id
            );
        }
        assert_eq!(spindle.power_at(spindle.rated_speed * 1.1), spindle.power);
        for (size, newton_mm, at_8000) in [
            (0.8, 318.310, 266.7),
            (1.5, 596.831, 500.0),
            (2.2, 875.352, 733.3),
        ] {
            if (kw - size).abs() < 1e-9 && rated.round() == 24_000.0 {
                assert!((torque * 1e3 - newton_mm).abs() < 0.01, "{torque}");
                let watts = units::w::from(spindle.power_at(units::rpm::of(8000.0)));
                assert!((watts - at_8000).abs() < 0.1, "{watts}");
                seen += 1;
            }
        }
    }
    assert!(seen >= 3, "{seen}");
}

const PLANS: &[&[(&str, &str)]] = &[
    &[],
    &[
        ("spindle", "spindle-2.2kw-water"),
        ("materials", "aluminium-6082,mdf"),
    ],
    &[("spindle", "router-710w-230"), ("vfd", "none")],
    &[
        ("drive_x", "rack-m1"),
        ("drive_y", "rack-m1"),
        ("power_cap_percent", "30"),
    ],
];

fn cutting(edits: &[(&str, &str)]) -> Assessment {
    common::assessed(&common::catalogue(), edits)
}

fn of_each(cutting: &Cutting) -> impl Iterator<Item = &Cut> {
    cutting.cuts.iter()
}

/// The identity of milling: teeth in the cut · mean force of one · edge speed = power; feed =
/// n z f_z; and no cut goes beyond a limit that stands.
#[test]
fn every_cut_keeps_to_the_formulas_and_the_limits() {
    let catalogue = common::catalogue();
    for edits in PLANS {
        let machine = cutting(edits).machine;
        let build = common::build(&catalogue, edits);
        let spindle = &catalogue.spindles[&build.spindle.spindle];
        assert!(!machine.cutting.cuts.is_empty());
        for cut in of_each(&machine.cutting) {
            let (tool, stock) = (
                &catalogue.end_mills[&cut.tool],
                &catalogue.materials[&cut.material],
            );
            let name = format!("{} {} {}", cut.material, cut.tool, cut.engagement.id());
            let flutes = f64::from(tool.flutes);
            let feed = units::rpm::from(cut.turning) * flutes * units::m::from(cut.tooth_feed);
            assert!(
                (feed - units::m_per_min::from(cut.feed)).abs() < 1e-9,
                "{name}"
            );
            assert!(cut.depth <= tool.flute_length * 1.000_001, "{name}");
            assert!(cut.feed <= machine.axes.x.rapid * 1.000_001, "{name}");
            assert!(cut.feed <= machine.axes.y.rapid * 1.000_001, "{name}");
            let slow = cut.turning >= spindle.least_speed * 0.999_999;
            assert!(
                slow && cut.turning <= spindle.greatest_speed * 1.000_001,
                "{name}"
            );
            if units::mm::from(cut.depth) == 0.0 {
                assert_eq!(units::w::from(cut.power), 0.0, "{name}");
                continue;
            }
            let bite = Bite::of(cut.engagement.share());
            let mean = Resistance::of(stock).tooth(cut.depth, cut.mean_chip);
            let edge = units::m_per_min::from(edge_speed(cut.diameter, cut.turning)) / 60.0;
            let power = units::share::from(bite.teeth(tool.flutes)) * units::n::from(mean) * edge;
            assert!(
                (power / units::w::from(cut.power) - 1.0).abs() < 1e-9,
                "{name}"
            );
            let there = units::w::from(spindle.power_at(cut.turning))
                .min(units::w::from(spindle.power * build.spindle.power_cap));
            assert!(power <= there * 1.000_001, "{name}: {power} of {there} W");
            let thrust = machine.axes.x.thrust_at(cut.feed);
            assert!(cut.force <= thrust * 1.000_001, "{name}");
            assert!(cut.force <= bears(tool) * 1.000_001, "{name}");
            let gives = if cut.engagement == Engagement::Tenth {
                stock.finishing_give
            } else {
                stock.roughing_give
            };
            assert!(cut.deflection <= gives * 1.000_001, "{name}");
            assert!(edge * 60.0 <= units::m_per_min::from(stock.greatest_speed) * 1.000_001);
        }
    }
}

/// The wanted feed's thrust is that of the axis.
#[test]
fn thrust_at_the_wanted_feed_is_the_figure() {
    let catalogue = common::catalogue();
    for edits in PLANS {
        let axes = cutting(edits).machine.axes;
        let area = common::build(&catalogue, edits).area;
        for (axis, figures) in axes.iter() {
            let at = units::n::from(figures.thrust_at(area.wanted_feed(axis)));
            assert!(
                (at - units::n::from(figures.thrust)).abs() < 1e-6,
                "{axis:?}"
            );
        }
    }
}

/// Lifting a limit never removes less at a given speed, and never worsens a verdict.
#[test]
fn more_of_anything_never_harms() {
    let steps: [(&str, &[&str]); 3] = [
        ("power_cap_percent", &["10", "15", "25", "50", "100"]),
        ("working_share_percent", &["15", "25", "40", "60"]),
        ("current_percent", &["30", "50", "70", "90"]),
    ];
    for edits in PLANS {
        for (choice, values) in steps {
            let ladder: Vec<Assessment> = values
                .iter()
                .map(|value| {
                    let mut edits = edits.to_vec();
                    edits.extend([("acceleration_m_per_s2", "0.1"), (choice, value)]);
                    cutting(&edits)
                })
                .collect();
            for pair in ladder.windows(2) {
                let cuts = of_each(&pair[0].machine.cutting).zip(of_each(&pair[1].machine.cutting));
                for (less, more) in cuts {
                    let name = format!(
                        "{choice} {} {} {}",
                        less.material,
                        less.tool,
                        less.engagement.id()
                    );
                    assert!(
                        more.verdict >= less.verdict,
                        "{name}: {:?} {:?}",
                        less.verdict,
                        more.verdict
                    );
                    if more.turning == less.turning && more.feed == less.feed {
                        assert!(more.removal >= less.removal * 0.999_999, "{name}");
                    }
                }
            }
        }
    }
}

/// A stiffer frame never removes less at a given speed, and never worsens a verdict.
#[test]
fn a_stiffer_frame_never_harms() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[]);
    let picked = Picked::new(&catalogue, &build).expect("parts");
    let machine = Machine::of(&picked, &mut Silent);
    let at = |n_per_um: f64| {
        let mut stiffness = machine.stiffness.clone();
        stiffness.collet_worst = PerAxis::from_fn(|_| units::n_per_um::of(n_per_um));
        Cutting::of(&picked, &machine.axes, &stiffness, &mut Silent)
    };
    let levels = [0.01, 0.3, 0.9, 1.1, 2.5, 4.0, 8.0, 15.0, 25.0, 60.0];
    let ladder = levels.map(at);
    for pair in ladder.windows(2) {
        for (soft, stiff) in of_each(&pair[0]).zip(of_each(&pair[1])) {
            let name = format!("{} {} {}", soft.material, soft.tool, soft.engagement.id());
            assert!(stiff.verdict >= soft.verdict, "{name}");
            if stiff.feed == soft.feed {
                assert!(stiff.removal >= soft.removal * 0.999_999, "{name}");
            }
        }
    }
    let best = |cutting: &Cutting, id: &str| {
        cutting
            .outlook(&catalogue.materials[id].id)
            .map(|cut| cut.verdict)
    };
    // What is wanted at the collet: wood 2, aluminium 5 (1 at the least), steel 20.
    assert_eq!(best(&ladder[2], "aluminium-6082"), Some(Verdict::No));
    assert_eq!(best(&ladder[3], "softwood"), Some(Verdict::WithCare));
    assert_eq!(best(&ladder[4], "softwood"), Some(Verdict::Easily));
    assert_eq!(best(&ladder[5], "aluminium-6082"), Some(Verdict::WithCare));
    assert!(best(&ladder[7], "mild-steel") <= Some(Verdict::Hardly));
}

/// Every number of a cut has a derivation whose result is that number.
#[test]
fn every_number_of_a_cut_is_explained() {
    let catalogue = common::catalogue();
    for edits in PLANS {
        let build = common::build(&catalogue, edits);
        let (assessment, notes) = explain(&catalogue, &build, common::today()).expect("notes");
        let all = json(&build, &assessment, &[]);
        for cut in all["cutting"].as_array().expect("cuts") {
            let word = |key: &str| cut[key].as_str().expect("a word");
            let place = ["material", "tool", "engagement"].map(word).join(".");
            for (key, number) in cut.as_object().expect("a cut") {
                let Some(number) = number.as_f64() else {
                    continue;
                };
                let path = format!("cutting.{place}.{key}");
                let note = notes.get(&path).unwrap_or_else(|| panic!("{path}"));
                let told = note.result.number();
                assert!(
                    (told - number).abs() <= 1e-5 * number.abs(),
                    "{path}: {told} {number}"
                );
                assert!(!note.words.is_empty() && !note.formula.is_empty(), "{path}");
                assert!(!note.source.is_empty() && !note.inputs.is_empty(), "{path}");
            }
        }
    }
}

/// An edge that is too fast at the spindle's slowest says so; foam never rubs; the collets
/// decide which tools there are.
#[test]
fn what_does_not_go_says_why() {
    let assessment = cutting(&[("spindle", "spindle-2.2kw-water")]);
    let machine = assessment.machine;
    let steel = |tool: &str| {
        let mut cuts = of_each(&machine.cutting);
        cuts.find(|cut| cut.material.as_str() == "mild-steel" && cut.tool.as_str() == tool)
            .expect("a cut")
            .clone()
    };
    // 8000 rpm at 12 mm run 302 m/min, steel bears 300.
    let thick = steel("mill-12mm-2f");
    assert_eq!(
        (thick.verdict, thick.limited_by),
        (Verdict::No, CutLimit::Speed)
    );
    assert_ne!(steel("mill-10mm-2f").limited_by, CutLimit::Speed);
    let foam = of_each(&machine.cutting).filter(|cut| cut.material.as_str() == "rigid-foam");
    for cut in foam {
        assert_ne!(cut.limited_by, CutLimit::Feed);
    }
    let metric_only = cutting(&[("spindle", "router-710w-230"), ("vfd", "none")]);
    let inch =
        of_each(&metric_only.machine.cutting).filter(|cut| cut.tool.as_str().contains("3.175"));
    assert_eq!(inch.count(), 0);
}

/// The best cut of the hardest wish; none without wishes.
#[test]
fn the_hardest_wish_is_taken() {
    let both = cutting(&[("materials", "softwood,aluminium-6082")])
        .machine
        .cutting;
    let taken = both.wished().expect("a cut");
    assert_eq!(taken.material.as_str(), "aluminium-6082");
    for cut in of_each(&both).filter(|cut| cut.material == taken.material) {
        assert!(cut.verdict == Verdict::No || cut.removal <= taken.removal);
    }
    assert!(
        cutting(&[("materials", "none")])
            .machine
            .cutting
            .wished()
            .is_none()
    );
}
