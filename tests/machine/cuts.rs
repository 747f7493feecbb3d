//! What must hold of every cut that the program plans: formulas and limits kept, more of
//! anything never harms.

use crate::common;
use gantrywright::assessment::Assessment;
use gantrywright::build::{Build, PerAxis, Picked};
use gantrywright::explain::Silent;
use gantrywright::machine::Machine;
use gantrywright::machine::axis::AxisFigures;
use gantrywright::machine::cutting::chip::{Bite, edge_speed};
use gantrywright::machine::cutting::force::Resistance;
use gantrywright::machine::cutting::tool::bears;
use gantrywright::machine::cutting::wanted::Wanted;
use gantrywright::machine::cutting::{Cut, CutLimit, Cutting, Engagement, Verdict};
use gantrywright::units::{self, Force, Velocity};
use gantrywright::words::Words;

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

/// What an axis pushes a tool with at a feed: the torque that lasts there, less what the drive, its
/// friction and the weight take, over what a newton at the tool asks of the motor.
fn thrust_at(figures: &AxisFigures, feed: Velocity) -> Force {
    let drive = &figures.drive;
    let a_radian = units::m::from(drive.travel_a_turn) / std::f64::consts::TAU;
    let a_newton = a_radian / units::share::from(drive.efficiency);
    let lasting = units::nm::from(figures.curve.lasting(figures.turns_at(feed)) - drive.drag);
    let left = lasting / a_newton - units::n::from(figures.friction + figures.weight);
    units::n::of(left.max(0.0) / units::share::from(figures.tool_share))
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
            let mean = Resistance::of(stock).at(cut.mean_chip) * cut.depth * cut.mean_chip;
            let edge = units::m_per_min::from(edge_speed(cut.diameter, cut.turning)) / 60.0;
            let teeth = units::share::from(bite.turn_share()) * flutes;
            let power = teeth * units::n::from(mean) * edge;
            assert!(
                (power / units::w::from(cut.power) - 1.0).abs() < 1e-9,
                "{name}"
            );
            let there = units::w::from(spindle.power_at(cut.turning))
                .min(units::w::from(spindle.power * build.spindle.power_cap));
            assert!(power <= there * 1.000_001, "{name}: {power} of {there} W");
            let thrust = thrust_at(&machine.axes.x, cut.feed);
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
            let at = units::n::from(thrust_at(figures, area.wanted_feed(axis)));
            assert!(
                (at - units::n::from(figures.thrust)).abs() < 1e-6,
                "{axis:?}"
            );
        }
    }
}

/// The wanted cut at the feed for less power asks just that power: in wood, whose chips are
/// thick at first, where four fifths of the power are four fifths of the feed, and in metal.
#[test]
fn the_feed_for_less_power_asks_that_power() {
    let catalogue = common::catalogue();
    let mut build = common::build(&catalogue, &[("spindle_speed_rpm", "12000")]);
    build.area.cutting_feed = units::m_per_min::of(8.0);
    for (stock, thick) in [("softwood", true), ("aluminium-6082", false)] {
        let stock = &catalogue.materials[stock];
        let wanted = |build: &Build| {
            let picked = Picked::new(&catalogue, build).expect("a build that fits");
            Wanted::of(&picked, stock)
        };
        let first = wanted(&build);
        assert_eq!(units::mm::from(first.chip) > 0.125, thick, "{}", stock.id);
        for share in [0.9, 0.8, 0.5, 0.2] {
            let feed = first.feed_for(stock, first.power * share);
            let mut slower = build.clone();
            slower.area.cutting_feed = feed;
            let asked = (wanted(&slower).power / first.power).value;
            assert!((asked - share).abs() < 1e-9, "{}: {asked}", stock.id);
            if thick && share >= 0.8 {
                assert!(((feed / first.feed).value - share).abs() < 1e-9);
            }
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

/// The best cut of the hardest wish, among materials that the softest machine cuts; none
/// without wishes.
#[test]
fn the_hardest_wish_is_taken() {
    let both = cutting(&[("materials", "rigid-foam,softwood")])
        .machine
        .cutting;
    let taken = both.wished().expect("a cut");
    assert_eq!(taken.material.as_str(), "softwood");
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
