//! Sheets for the workshop: prints, drilling, motion, inverter, checklist. What stands on them
//! follows the machine, and agrees with the trade's own arithmetic.

mod common;

use gantrywright::assessment::{Assessment, assess};
use gantrywright::build::{Axis, Build, Picked};
use gantrywright::catalogue::Catalogue;
use gantrywright::catalogue::task::Stage;
use gantrywright::sheets::{Cell, Paper, Row, RowKind, Sheet, SheetKind, Table, sheet};
use gantrywright::units;
use gantrywright::words::Words as _;

fn with_build<T>(
    catalogue: &Catalogue,
    build: &Build,
    look: impl FnOnce(&Paper, &Assessment) -> T,
) -> T {
    let picked = Picked::new(catalogue, build).expect("known parts");
    let assessment = assess(catalogue, build, common::today()).expect("assessed");
    let paper = Paper {
        catalogue,
        build,
        picked: &picked,
        assessment: &assessment,
        today: common::today(),
    };
    look(&paper, &assessment)
}

fn made(kind: SheetKind, edits: &[(&str, &str)]) -> Sheet {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, edits);
    with_build(&catalogue, &build, |paper, _| sheet(kind, paper))
}

fn table<'a>(sheet: &'a Sheet, id: &str) -> &'a Table {
    let found = sheet.tables.iter().find(|table| table.id == id);
    found.unwrap_or_else(|| panic!("no table {id}"))
}

fn row<'a>(table: &'a Table, id: &str) -> &'a Row {
    let found = table.rows.iter().find(|row| row.id == id);
    found.unwrap_or_else(|| panic!("no row {id}"))
}

fn cell<'a>(table: &'a Table, row_id: &str, column: &str) -> &'a Cell {
    let place = table.columns.iter().position(|one| one.id == column);
    &row(table, row_id).cells[place.expect("a column")]
}

fn number(cell: &Cell) -> f64 {
    match cell.value() {
        Cell::Number(value, _) => *value,
        Cell::Exact(value) => value.to_string().parse().expect("a number"),
        other => panic!("{other:?} is no number"),
    }
}

fn text(cell: &Cell) -> &str {
    match cell.value() {
        Cell::Text(text) => text,
        other => panic!("{other:?} is no text"),
    }
}

fn entries(table: &Table) -> impl Iterator<Item = &Row> {
    table.rows.iter().filter(|row| row.kind == RowKind::Entry)
}

#[test]
fn every_row_of_every_example_has_a_cell_for_each_column_and_no_figure_is_lost() {
    let catalogue = common::catalogue();
    for example in gantrywright::store::embedded::examples() {
        let build = gantrywright::store::build_file::read(example.text, example.name, &catalogue)
            .expect("a build");
        with_build(&catalogue, &build, |paper, _| {
            use SheetKind::{Checklist, Drill, Motion, Prints, Vfd};
            for kind in [Prints, Drill, Motion, Vfd, Checklist] {
                let sheet = sheet(kind, paper);
                assert!(!sheet.about.is_empty());
                for table in &sheet.tables {
                    assert!(!table.rows.is_empty(), "{} is empty", table.id);
                    for row in &table.rows {
                        assert_eq!(row.cells.len(), table.columns.len(), "{}", table.id);
                        for cell in &row.cells {
                            if let Cell::Number(value, _) = cell.value() {
                                assert!(value.is_finite(), "{}: {}", table.id, row.id);
                            }
                        }
                    }
                }
            }
        });
    }
}

#[test]
fn the_holes_of_a_rail_fill_it_from_end_to_end() {
    let in_hand = [
        ("rail_length_x_mm", "1000"),
        ("measured_rail_pitch_y_mm", "80"),
    ];
    for edits in [&[][..], &in_hand[..]] {
        let sheet = made(SheetKind::Drill, edits);
        let (rails, stations) = (table(&sheet, "rails"), table(&sheet, "stations"));
        for axis in ["X", "Y", "Z"] {
            let column = format!("{}_mm", axis.to_lowercase());
            let of = |column: &str| number(cell(rails, axis, column));
            let (length, pitch, holes) = (of("length_mm"), of("pitch_mm"), of("holes"));
            let place = stations.columns.iter().position(|one| one.id == column);
            let place = place.expect("a column");
            let each: Vec<f64> = (stations.rows.iter())
                .filter(|row| row.cells[place] != Cell::Empty)
                .map(|row| number(&row.cells[place]))
                .collect();
            assert_eq!(each.len() as f64, holes, "{axis}");
            assert!((each[0] - of("margin_mm")).abs() < 1e-6);
            // Both ends alike, one pitch from hole to hole, and no room for one hole more.
            assert!(
                (each[0] + each[each.len() - 1] - length).abs() < 1e-6,
                "{axis}"
            );
            for pair in each.windows(2) {
                assert!((pair[1] - pair[0] - pitch).abs() < 1e-6, "{axis}");
            }
            assert!(
                each[0] > 5.0 && each[0] < pitch / 2.0 + 10.0,
                "{axis}: {each:?}"
            );
        }
    }
    // A rail of 1000 mm as catalogues have it: 17 holes, 20 mm from either end.
    let sheet = made(SheetKind::Drill, &in_hand);
    let rails = table(&sheet, "rails");
    assert_eq!(number(cell(rails, "X", "holes")), 17.0);
    assert!((number(cell(rails, "X", "margin_mm")) - 20.0).abs() < 1e-6);
}

#[test]
fn a_thin_wall_is_told_on_the_drilling_sheet() {
    let told = |edits: &[(&str, &str)]| {
        let remarks = made(SheetKind::Drill, edits).remarks;
        remarks.iter().any(|remark| remark.contains("rivet nuts:"))
    };
    assert!(told(&[("beam_tube", "tube-80x80x3")]));
    assert!(!told(&[
        ("beam_tube", "tube-80x80x3"),
        ("thread_strips", "yes")
    ]));
}

#[test]
fn motion_settings_agree_with_each_other() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[]);
    with_build(&catalogue, &build, |paper, assessment| {
        let sheet = sheet(SheetKind::Motion, paper);
        let settings = table(&sheet, "motion");
        for axis in Axis::EACH {
            let of = |id: &str| {
                let id = format!("{}.{id}", axis.title());
                number(cell(settings, &id, "value"))
            };
            // Pulses a second = mm a second times pulses a mm; a turn of pulses is a lead.
            let pulses = of("feed") / 60.0 * of("steps") / 1000.0;
            assert!((pulses / of("pulses") - 1.0).abs() < 1e-9, "{axis:?}");
            let lead = units::mm::from(assessment.machine.axes[axis].drive.travel_a_turn);
            assert!((of("turn") / of("steps") - lead).abs() < 1e-9, "{axis:?}");
            assert!((of("current-rms") * 2.0_f64.sqrt() - of("current")).abs() < 1e-9);
        }
        // Z homes first.
        assert_eq!(number(cell(settings, "Z.homing", "value")), 1.0);
        // The worked line: what was commanded comes out at the corrected steps.
        let worked = table(&sheet, "correction");
        let of = |column: &str| number(cell(worked, "example", column));
        let moved = of("new") * of("measured_mm");
        assert!((moved - of("old") * of("commanded_mm")).abs() < 1e-6);
        assert_eq!(cell(worked, "Y", "new"), &Cell::ByHand);
    });
}

#[test]
fn the_inverter_is_set_by_the_nameplate() {
    let edits = [("spindle", "spindle-2.2kw-water"), ("vfd", "vfd-2.2kw-230")];
    let sheet = made(SheetKind::Vfd, &edits);
    let settings = table(&sheet, "vfd");
    // Two poles at 24 000 rpm: 400 Hz.
    assert!((number(cell(settings, "base", "value")) - 400.0).abs() < 1e-9);
    let least = number(cell(settings, "least", "value"));
    assert!((least - 8000.0 / 60.0).abs() < 1e-9, "{least}");
    assert_eq!(cell(settings, "base", "parameter"), &Cell::ByHand);
    let speeds = table(&sheet, "speeds");
    for row in entries(speeds) {
        let (rpm, hertz) = (number(&row.cells[0]), number(&row.cells[1]));
        assert!((rpm - hertz * 60.0).abs() < 1e-6, "{rpm} at {hertz}");
    }
    let wrong = made(
        SheetKind::Vfd,
        &[edits[0], edits[1], ("base_frequency_hz", "50")],
    );
    let said = wrong
        .remarks
        .iter()
        .any(|one| one.contains("Your build says 50 Hz"));
    assert!(said, "{:?}", wrong.remarks);
}

#[test]
fn a_hand_router_has_no_inverter_to_set() {
    let sheet = made(
        SheetKind::Vfd,
        &[("spindle", "router-710w-230"), ("vfd", "none")],
    );
    assert!(sheet.about.contains("has no inverter"), "{}", sheet.about);
    assert!(sheet.tables.is_empty());
}

#[test]
fn prints_add_up_to_what_the_machine_weighs_of_them() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[("machines", "3")]);
    with_build(&catalogue, &build, |paper, assessment| {
        let sheet = sheet(SheetKind::Prints, paper);
        let prints = table(&sheet, "prints");
        let column = prints.columns.iter().position(|one| one.id == "grams");
        let place = column.expect("grams");
        let all: f64 = entries(prints).map(|row| number(&row.cells[place])).sum();
        let volumes = assessment.machine.geometry.prints.iter();
        let cm3: f64 = volumes
            .map(|print| units::cm3::from(print.volume) * f64::from(print.pieces))
            .sum();
        // Three machines, ASA of 1.07 g/cm³ or whatever the default is.
        let density = units::kg_per_m3::from(paper.picked.filament.density) / 1000.0;
        assert!((all - 3.0 * cm3 * density).abs() < 1e-6, "{all}");
        assert!((number(cell(prints, "all", "grams")) - all).abs() < 1e-6);
        let hours = number(cell(prints, "all", "hours_most"));
        assert!((hours - all / 15.0).abs() < 1e-6, "{hours}");
    });
}

/// The order in which a machine is put to work: what protects first, what moves fast last.
const COMMISSIONING: [&str; 17] = [
    "protective-earth",
    "insulation",
    "no-load-dc",
    "emergency-stop",
    "sensors-toggle",
    "motors-uncoupled",
    "directions",
    "slow-travel",
    "home-ten-times",
    "limits",
    "square",
    "tram",
    "steps",
    "raise-speed",
    "spindle-direction",
    "spindle-warm-up",
    "rcd-all-on",
];

#[test]
fn commissioning_keeps_its_order() {
    let edits = [
        ("emergency_stop", "hard-wired"),
        ("spindle", "spindle-1.5kw-water"),
        ("vfd", "vfd-1.5kw-230"),
    ];
    let sheet = made(SheetKind::Checklist, &edits);
    let ids: Vec<&str> = entries(table(&sheet, "checklist"))
        .map(|row| row.id.as_str())
        .collect();
    let places: Vec<usize> = (COMMISSIONING.iter())
        .chain(&["first-wood", "first-aluminium"])
        .map(|id| {
            ids.iter()
                .position(|one| one == id)
                .unwrap_or_else(|| panic!("no {id}"))
        })
        .collect();
    assert!(places.is_sorted(), "{places:?}");
    let stages: Vec<Stage> = common::catalogue()
        .tasks
        .iter()
        .map(|task| task.stage)
        .collect();
    assert!(
        stages.is_sorted(),
        "the file is not in the order of its stages"
    );
    for stage in Stage::ALL {
        assert!(stages.contains(stage), "{} is empty", stage.title());
    }
}

#[test]
fn a_task_stands_only_where_the_machine_has_the_thing() {
    let ids = |edits: &[(&str, &str)]| -> Vec<String> {
        let sheet = made(SheetKind::Checklist, edits);
        entries(table(&sheet, "checklist"))
            .map(|row| row.id.clone())
            .collect()
    };
    let has = |edits: &[(&str, &str)], id: &str| ids(edits).iter().any(|one| one == id);
    let router = [("spindle", "router-710w-230"), ("vfd", "none")];
    assert!(has(&router, "router-speeds") && !has(&router, "spindle-direction"));
    assert!(!has(&router, "water-circuit"));
    let motor = [("spindle", "spindle-1.5kw-water"), ("vfd", "vfd-1.5kw-230")];
    assert!(has(&motor, "spindle-direction") && has(&motor, "water-circuit"));
    // However the stop is wired, exactly one task is about it.
    for stop in ["none", "software-input", "hard-wired"] {
        let edits = [("emergency_stop", stop)];
        let about = ["emergency-stop", "emergency-input", "power-in-reach"];
        let count = about.iter().filter(|id| has(&edits, id)).count();
        assert_eq!(count, 1, "{stop}");
    }
}

#[test]
fn ticks_are_the_days_that_the_build_keeps() {
    let catalogue = common::catalogue();
    let mut build = common::build(&catalogue, &[]);
    build
        .done
        .insert("check-rails".to_owned(), jiff::civil::date(2026, 11, 20));
    build
        .done
        .insert("polish-brass".to_owned(), common::today());
    with_build(&catalogue, &build, |paper, _| {
        let sheet = sheet(SheetKind::Checklist, paper);
        let list = table(&sheet, "checklist");
        assert_eq!(cell(list, "check-rails", "done"), &Cell::Tick(true));
        assert_eq!(text(cell(list, "check-rails", "date")), "2026-11-20");
        assert_eq!(cell(list, "check-tubes", "done"), &Cell::Tick(false));
        assert!(sheet.about.starts_with("1 of "), "{}", sheet.about);
        // What is no task of this machine is kept and told.
        assert!(sheet.remarks.iter().any(|one| one.contains("polish-brass")));
    });
}

#[test]
fn an_overlay_replaces_a_task_and_adds_one_at_the_end_of_its_stage() {
    let mut catalogue = common::catalogue();
    let own = "[[task]]\nid = \"check-rails\"\nstage = \"arrival\"\ntitle = \"Our own look at the rails\"\nhow = \"h\"\nwhy = \"w\"\nsource = \"s\"\n\
               [[task]]\nid = \"scrape\"\nstage = \"frame\"\ntitle = \"Scrape the seats\"\nhow = \"h\"\nwhy = \"w\"\nsource = \"s\"\n";
    catalogue.absorb(toml::from_str(own).expect("a file"));
    let build = common::build(&catalogue, &[]);
    with_build(&catalogue, &build, |paper, _| {
        let sheet = sheet(SheetKind::Checklist, paper);
        let list = table(&sheet, "checklist");
        assert_eq!(
            text(cell(list, "check-rails", "task")),
            "Our own look at the rails"
        );
        let ids: Vec<&str> = list.rows.iter().map(|row| row.id.as_str()).collect();
        let at = |id: &str| ids.iter().position(|one| *one == id).expect("there");
        assert_eq!(at("check-rails"), at("count-parcels") + 1);
        // Then comes the heading of the next stage.
        assert!(at("scrape") < at("first-rail") && ids[at("scrape") + 1].is_empty());
    });
}

#[test]
fn a_task_says_all_that_it_must() {
    let mut catalogue = common::catalogue();
    let bad = format!(
        "[[task]]\nid = \"bad\"\nstage = \"frame\"\ntitle = \"{}\"\nhow = \" \"\nwhy = \"w\"\nsource = \"\"\n",
        "x".repeat(61)
    );
    catalogue.absorb(toml::from_str(&bad).expect("a file"));
    let flaws = gantrywright::catalogue::check::flaws(&catalogue);
    let told: Vec<&str> = flaws.iter().map(|flaw| flaw.message.as_str()).collect();
    let expected = [
        "title takes 1 to 60 columns",
        "how is empty",
        "source must say where the task comes from",
    ];
    assert_eq!(told, expected);
    let word = "[[task]]\nid = \"a\"\nstage = \"party\"\ntitle = \"t\"\nhow = \"h\"\nwhy = \"w\"\nsource = \"s\"\n";
    let refused = toml::from_str::<gantrywright::catalogue::CatalogueFile>(word);
    let message = refused.expect_err("no such stage").to_string();
    assert!(message.contains("first-cuts"), "{message}");
}
