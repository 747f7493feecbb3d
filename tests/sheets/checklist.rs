//! The checklist: its order, which tasks a machine has, and the ticks that a build keeps.

use crate::common;
use crate::paper::{cell, entries, made, table, text, with_build};
use gantrywright::catalogue::CatalogueFile;
use gantrywright::catalogue::task::Stage;
use gantrywright::sheets::{Cell, SheetKind, sheet};
use gantrywright::words::Words as _;

/// The order in which a machine is put to work (common practice): what protects first, what moves
/// fast last.
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
    assert!(has(&[("no_volt_release", "yes")], "outage"));
    assert!(!has(&[("no_volt_release", "no")], "outage"));
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
    catalogue.absorb(CatalogueFile::read(own).expect("a file"));
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
    catalogue.absorb(CatalogueFile::read(&bad).expect("a file"));
    let flaws = gantrywright::catalogue::check::flaws(&catalogue);
    let told: Vec<&str> = flaws.iter().map(|flaw| flaw.message.as_str()).collect();
    let expected = [
        "title takes 1 to 60 columns",
        "how is empty",
        "source must say where the task comes from",
    ];
    assert_eq!(told, expected);
    let word = "[[task]]\nid = \"a\"\nstage = \"party\"\ntitle = \"t\"\nhow = \"h\"\nwhy = \"w\"\nsource = \"s\"\n";
    let refused = CatalogueFile::read(word);
    let message = refused.expect_err("no such stage").to_string();
    assert!(message.contains("first-cuts"), "{message}");
}
