//! A job's time by hand, on cuts made for the purpose.

use crate::common;
use gantrywright::build::{Axis, Build, PerAxis, Picked};
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::explain::{Notes, Silent};
use gantrywright::machine::Machine;
use gantrywright::machine::axis::AxisFigures;
use gantrywright::machine::cutting::{Cut, CutLimit, Cutting, Engagement, Verdict};
use gantrywright::machine::job::{ChangeTime, JobTime, Obstacle, Work, obstacle};
use gantrywright::machine::motion::ramp::Ramp;
use gantrywright::units::{self, Time};

fn id(text: &str) -> Id {
    Id::new(text).expect("an id")
}

fn cut(tool: &str, engagement: Engagement, removal: f64, feed: f64) -> Cut {
    Cut {
        material: id("softwood"),
        tool: id(tool),
        diameter: units::mm::of(6.0),
        engagement,
        verdict: Verdict::Easily,
        limited_by: CutLimit::Thrust,
        turning: units::rpm::of(18_000.0),
        feed: units::m_per_min::of(feed),
        depth: units::mm::of(6.0),
        width: units::mm::of(6.0),
        removal: units::cm3_per_min::of(removal),
        tooth_feed: units::mm::of(0.1),
        mean_chip: units::mm::of(0.06),
        specific_force: units::n_per_mm2::of(20.0),
        power: units::w::of(60.0),
        force: units::n::of(40.0),
        deflection: units::um::of(20.0),
        tooth_passing: units::hz::of(600.0),
        reached: units::times::of(1.0),
    }
}

/// A slot that removes 20 cm³/min, and two thin cuts of which the faster goes 2.5 m/min.
fn usual_cuts() -> Vec<Cut> {
    vec![
        cut("mill-3mm-2f", Engagement::Tenth, 1.0, 2.0),
        cut("mill-6mm-2f", Engagement::Slot, 20.0, 4.0),
        cut("mill-6mm-2f", Engagement::Tenth, 2.0, 2.5),
    ]
}

fn cutting(cuts: Vec<Cut>) -> Cutting {
    let mut cutting = Cutting::default();
    cutting.cuts = cuts;
    cutting
}

/// Axes at 6 m/min; X and Z with 1 m/s², Y with half of it.
fn axes(picked: &Picked) -> PerAxis<AxisFigures> {
    let mut axes = Machine::of(picked, &mut Silent).axes;
    for axis in Axis::EACH {
        let rapid = units::m_per_min::of(6.0);
        let acceleration = units::m_per_s2::of(if axis == Axis::Y { 0.5 } else { 1.0 });
        axes[axis].ramp = Ramp::trapezoid(rapid, acceleration);
    }
    axes
}

/// The time of the default build's job with edits made.
fn time(catalogue: &Catalogue, edits: &[(&str, &str)], cuts: Vec<Cut>) -> Option<JobTime> {
    let build = common::build(catalogue, edits);
    let picked = Picked::new(catalogue, &build).expect("a build");
    JobTime::of(&picked, &axes(&picked), &cutting(cuts), &mut Silent)
}

fn minutes(time: Time) -> f64 {
    units::minute::from(time)
}

fn close(found: f64, expected: f64) {
    assert!(
        (found - expected).abs() < 1e-9 * expected.abs(),
        "{found} against {expected}"
    );
}

/// A piece of 15 mm at 4 m/min (66.667 mm/s) with 0.5 m/s²: 0.225 s and 0.1333 s for the ramps,
/// 0.3583 s where a steady feed would take 0.225. The job is 4 mm deep, the cut 6. Roughing:
/// 60 cm³ at 20 · 4/6 · 0.225/0.3583 = 8.372 cm³/min, 70 % of the time in the cut, 10.238 min.
/// Finishing: 8 m in pieces of 15 mm at 2.5 m/min (41.667 mm/s), 0.36 s and 0.0833 s each,
/// 533.33 of them, 3.941 min. A move: 40 mm at 0.1 m/s on Y, 0.4 s and 0.2 s for the ramps, and
/// twice 10 mm on Z by a triangle of 0.2 s; 40 of 1 s, 0.667 min. One change of 2.5 min.
#[test]
fn a_small_job_by_hand() {
    let catalogue = common::catalogue();
    let job = time(&catalogue, &[], usual_cuts()).expect("a time");
    assert_eq!(job.tool, id("mill-6mm-2f"));
    let piece = 0.225 + 1.0 / 15.0 / 0.5;
    close(
        minutes(job.roughing),
        60.0 / (20.0 * 4.0 / 6.0 * 0.225 / piece) / 0.7,
    );
    assert!((minutes(job.roughing) - 10.238).abs() < 1e-3);
    let piece = 0.36 + 2.5 / 60.0 / 0.5;
    close(minutes(job.finishing), 8000.0 / 15.0 * piece / 60.0);
    assert!((minutes(job.finishing) - 3.941).abs() < 1e-3);
    close(minutes(job.moves), 40.0 / 60.0);
    close(minutes(job.changes), 2.5);
    let parts = [job.roughing, job.finishing, job.moves, job.changes];
    close(minutes(job.total), parts.map(minutes).iter().sum());
    assert_eq!(job.held_by, "roughing, by the depth of the job");
}

#[test]
fn what_holds_a_job_back_is_its_greatest_share() {
    let catalogue = common::catalogue();
    for (edits, expected) in [
        (&[("job_finish_m", "80")][..], "finishing, by its feed"),
        (
            &[("job_finish_m", "80"), ("job_piece_mm", "1")],
            "finishing, by acceleration at its corners",
        ),
        (&[("job_moves", "4000")], "moves between cuts"),
        (&[("tool_changes", "12")], "tool changes"),
        (&[("job_depth_mm", "20")], "roughing, by thrust"),
        (
            &[("job_piece_mm", "5")],
            "roughing, by acceleration at its corners",
        ),
    ] {
        let job = time(&catalogue, edits, usual_cuts()).expect("a time");
        assert_eq!(job.held_by, expected, "{edits:?}");
    }
}

/// Inner corners of 3 mm keep the 6 mm tool out: the thin tool roughs with its side cut.
#[test]
fn narrow_corners_ask_for_a_thin_tool() {
    let catalogue = common::catalogue();
    let mut cuts = usual_cuts();
    cuts[0].diameter = units::mm::of(3.0);
    let at = |widest| time(&catalogue, &[("job_tool_mm", widest)], cuts.clone());
    let narrow = at("3").expect("a time");
    assert_eq!(narrow.tool, id("mill-3mm-2f"));
    assert!(narrow.roughing > at("6").expect("a time").roughing);
    assert!(at("2").is_none());
}

/// A job without a file: 100 cm³ and 5 m of softwood, 30 moves of the usual 100 mm, pieces of
/// 200 mm: 3 s and 0.1333 s at 4 m/min, 4.8 s and 0.0833 s at 2.5 m/min.
#[test]
fn an_own_job_needs_no_file() {
    let catalogue = common::catalogue();
    let own = [
        ("job", "none"),
        ("job_material", "softwood"),
        ("job_volume_cm3", "100"),
        ("job_finish_m", "5"),
        ("job_moves", "30"),
        ("roughing_share_percent", "50"),
        ("job_piece_mm", "200"),
    ];
    let job = time(&catalogue, &own, usual_cuts()).expect("a time");
    close(minutes(job.roughing), 10.0 * (3.0 + 0.4 / 3.0) / 3.0);
    close(minutes(job.finishing), 25.0 * (4.8 + 0.25 / 3.0) / 60.0);
    // 100 mm on Y: 1 s and 0.2 s for the ramps; the lifts 0.4 s.
    close(minutes(job.moves), 30.0 * 1.6 / 60.0);
    assert_eq!(minutes(job.changes), 0.0);
    // Nothing to rough: the finishing tool is the tool.
    let finish = [&own[..2], &own[3..4]].concat();
    let thin = vec![cut("mill-3mm-2f", Engagement::Tenth, 1.0, 2.0)];
    let job = time(&catalogue, &finish, thin).expect("a time");
    assert_eq!(job.tool, id("mill-3mm-2f"));
    // The usual 50 mm at 2 m/min: 1.5 s and 0.0667 s.
    close(minutes(job.total), 100.0 * (1.5 + 0.2 / 3.0) / 60.0);
}

#[test]
fn without_material_or_work_there_is_no_job() {
    let catalogue = common::catalogue();
    let none = |edits: &[(&str, &str)]| {
        let build = common::build(&catalogue, edits);
        let picked = Picked::new(&catalogue, &build).expect("a build");
        Work::of(&picked).is_none()
    };
    assert!(none(&[("job", "none")]));
    assert!(none(&[("job", "none"), ("job_material", "mdf")]));
    assert!(none(&[("job_volume_cm3", "0"), ("job_finish_m", "0")]));
    assert!(!none(&[
        ("job", "none"),
        ("job_material", "mdf"),
        ("job_finish_m", "2")
    ]));
}

/// Two minutes by hand and half a minute by the sensor, or three by hand; a tool-changing
/// spindle takes a quarter of a minute (common practice).
#[test]
fn a_change_takes_its_minutes() {
    for (changer, sensor, expected) in [
        (false, true, 2.5),
        (false, false, 5.0),
        (true, true, 0.75),
        (true, false, 3.25),
    ] {
        close(minutes(ChangeTime::with(changer, sensor).each()), expected);
    }
    close(minutes(ChangeTime::saved()), 2.5);
    let catalogue = common::catalogue();
    let changes = |sensor| {
        let edits = [("tool_changes", "4"), ("tool_sensor", sensor)];
        let job = time(&catalogue, &edits, usual_cuts()).expect("a time");
        minutes(job.changes)
    };
    close(changes("none") - changes("tool-sensor-dry"), 4.0 * 2.5);
}

#[test]
fn what_cannot_be_cut_is_told_with_the_nearest_cut() {
    let catalogue = common::catalogue();
    let build = Build::default();
    let picked = Picked::new(&catalogue, &build).expect("a build");
    let mut refused = cut("mill-6mm-2f", Engagement::Slot, 20.0, 4.0);
    refused.verdict = Verdict::No;
    refused.limited_by = CutLimit::Chatter;
    let slot = cut("mill-6mm-2f", Engagement::Slot, 20.0, 4.0);
    for (cuts, limit) in [
        (vec![refused], Some(CutLimit::Chatter)),
        (Vec::new(), None),
        // A slot alone roughs, and nothing finishes.
        (vec![slot], Some(CutLimit::Thrust)),
    ] {
        let cutting = cutting(cuts);
        let axes = axes(&picked);
        assert!(JobTime::of(&picked, &axes, &cutting, &mut Silent).is_none());
        let Some(Obstacle::NoCut(nearest)) = obstacle(&picked, &axes, &cutting) else {
            panic!("it must not go")
        };
        assert_eq!(nearest.map(|cut| cut.limited_by), limit);
    }
}

#[test]
fn an_axis_that_does_not_move_stops_a_job_with_moves() {
    let catalogue = common::catalogue();
    let stuck = |moves| {
        let build = common::build(&catalogue, &[("job_moves", moves)]);
        let picked = Picked::new(&catalogue, &build).expect("a build");
        let mut axes = axes(&picked);
        axes.z.ramp = None;
        let cutting = cutting(usual_cuts());
        let time = JobTime::of(&picked, &axes, &cutting, &mut Silent);
        let stuck = match obstacle(&picked, &axes, &cutting) {
            Some(Obstacle::Stuck(axis)) => Some(axis),
            Some(Obstacle::NoCut(_)) => panic!("softwood can be cut"),
            None => None,
        };
        assert_eq!(time.is_none(), stuck.is_some());
        stuck
    };
    assert_eq!(stuck("3"), Some(Axis::Z));
    assert_eq!(stuck("0"), None);
}

/// Every share and the total explain themselves, with the number that is shown.
#[test]
fn each_figure_of_a_job_has_its_derivation() {
    let catalogue = common::catalogue();
    let build = Build::default();
    let picked = Picked::new(&catalogue, &build).expect("a build");
    let mut notes = Notes::default();
    let cutting = cutting(usual_cuts());
    let job = JobTime::of(&picked, &axes(&picked), &cutting, &mut notes).expect("a time");
    for (path, time) in [
        ("job.roughing_min", job.roughing),
        ("job.finishing_min", job.finishing),
        ("job.moves_min", job.moves),
        ("job.changes_min", job.changes),
        ("job.total_min", job.total),
    ] {
        let told = notes.get(path).unwrap_or_else(|| panic!("{path}"));
        assert_eq!(told.result, units::minute::amount(time).into(), "{path}");
        assert!(told.inputs.len() >= 2 && !told.words.is_empty() && !told.source.is_empty());
    }
}

/// Any number of one's own over the named job is told with its piece.
#[test]
fn the_piece_says_where_numbers_are_ones_own() {
    let catalogue = common::catalogue();
    let piece = |edits: &[(&str, &str)]| {
        let build = common::build(&catalogue, edits);
        let picked = Picked::new(&catalogue, &build).expect("a build");
        gantrywright::machine::job::piece(&picked)
    };
    assert!(!piece(&[]).contains("of your own"));
    for (choice, value) in [
        ("job_volume_cm3", "20"),
        ("job_finish_m", "2"),
        ("job_depth_mm", "3"),
        ("job_tool_mm", "4"),
        ("job_piece_mm", "30"),
        ("job_moves", "12"),
        ("tool_changes", "2"),
    ] {
        let piece = piece(&[(choice, value)]);
        assert!(
            piece.contains("with numbers of your own"),
            "{choice}: {piece}"
        );
    }
}
