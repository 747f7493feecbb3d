//! What the machine is able to do, as text.

use super::*;
use crate::assessment::assess;
use crate::machine::cutting::{CutLimit, Engagement};
use crate::machine::job::JobTime;
use crate::machine::stiffness::{Spring, SpringName};
use crate::store::library;

fn id(text: &str) -> Id {
    Id::new(text).expect("an id")
}

fn machine() -> (Catalogue, Machine) {
    let catalogue = library::load(&[]).unwrap_or_else(|error| panic!("{error}"));
    let today = jiff::civil::date(2026, 11, 30);
    let machine = assess(&catalogue, &Build::default(), today)
        .unwrap_or_else(|error| panic!("{error}"))
        .machine;
    (catalogue, machine)
}

fn a_cut(material: &str, verdict: Verdict, removal: f64) -> Cut {
    Cut {
        material: id(material),
        tool: id("mill-6mm-2f"),
        diameter: units::mm::of(6.0),
        engagement: Engagement::Slot,
        verdict,
        limited_by: CutLimit::Speed,
        turning: units::rpm::of(18_000.0),
        feed: units::m_per_min::of(12.345),
        depth: units::mm::of(12.5),
        width: units::mm::of(12.7),
        removal: units::cm3_per_min::of(removal),
        tooth_feed: units::mm::of(0.05),
        mean_chip: units::mm::of(0.03),
        specific_force: units::n_per_mm2::of(900.0),
        power: units::w::of(300.0),
        force: units::n::of(60.0),
        deflection: units::um::of(20.0),
        tooth_passing: units::hz::of(600.0),
        reached: units::share::of(0.5),
    }
}

#[test]
fn each_material_has_one_row_with_its_best_cut() {
    let (catalogue, mut machine) = machine();
    std::sync::Arc::make_mut(&mut machine.cutting).cuts = vec![
        a_cut("softwood", Verdict::Hardly, 5000.0),
        a_cut("softwood", Verdict::WithCare, 100.0),
        a_cut("softwood", Verdict::WithCare, 1234.5),
        a_cut("acrylic", Verdict::No, 3.0),
    ];
    let mut build = Build::default();
    build.area.materials = vec![id("softwood")];
    let text = cutting(&catalogue, &build, &machine, Paint::PLAIN);
    assert!(text.lines().all(|line| line.width() <= WIDTH), "{text}");
    let row_of = |name: &str| {
        let mut rows = text.lines().filter(|line| line.contains(name));
        let row = rows.next().unwrap_or_else(|| panic!("no {name} in {text}"));
        assert!(rows.next().is_none(), "{text}");
        row.to_owned()
    };
    let soft = row_of("softwood");
    assert!(soft.starts_with("* softwood"), "{soft}");
    for part in ["with care", "12.50 x 12.7", "12.3", "1 234.5"] {
        assert!(soft.contains(part), "{part} is not in {soft}");
    }
    let acrylic = row_of("acrylic");
    assert!(
        acrylic.starts_with("  acrylic") && acrylic.contains(" no "),
        "{acrylic}"
    );
    assert!(acrylic.ends_with(CutLimit::Speed.title()), "{acrylic}");
}

#[test]
fn the_softest_parts_are_named_with_their_shares() {
    let (_, mut machine) = machine();
    let spring = |share| Spring {
        name: SpringName::Beam,
        stiffness: units::n_per_um::of(4.0),
        share: units::percent::of(share),
    };
    machine.stiffness.springs.x = [41.0, 30.0, 20.0, 9.0].map(spring).to_vec();
    machine.stiffness.springs.y = Vec::new();
    let text = stiffness(&machine, Paint::PLAIN);
    let beam = SpringName::Beam.title();
    let wanted = format!("Most give along X: {beam} 41 %, {beam} 30 %, {beam} 20 %.");
    assert!(text.contains(&wanted), "{text}");
    assert!(!text.contains("along Y"), "{text}");
    assert!(text.lines().all(|line| line.width() <= WIDTH), "{text}");
}

#[test]
fn axes_without_a_nut_show_none() {
    let (_, mut machine) = machine();
    machine.life.x.nut = Some(units::km::of(12_345.0));
    machine.life.x.nut_hours = Some(units::hour::of(678.0));
    machine.life.y.nut = None;
    machine.life.y.nut_hours = None;
    let text = life(&machine);
    let rows: Vec<&str> = text.lines().collect();
    assert!(
        rows[2].contains("12 345") && rows[2].contains("678") && rows[3].contains("over 100 000"),
        "{text}"
    );
    assert!(rows[3].contains(" -"), "{text}");
}

#[test]
fn a_job_tells_its_parts_and_none_tells_nothing() {
    let (catalogue, mut machine) = machine();
    machine.job = None;
    assert_eq!(job(&catalogue, &Build::default(), &machine), "");
    machine.job = Some(JobTime {
        tool: id("mill-6mm-2f"),
        roughing: units::minute::of(20.0),
        finishing: units::minute::of(5.5),
        changes: units::minute::of(3.0),
        lengths: units::minute::of(1.0),
        moves: units::minute::of(1.5),
        total: units::minute::of(30.0),
        held_by: "spindle power".to_owned(),
    });
    let text = job(&catalogue, &Build::default(), &machine);
    for part in ["roughing", "20.0", "in all", "30.0", "back: spindle power."] {
        assert!(text.contains(part), "{part} is not in {text}");
    }
}
