//! Sheets for the workshop: prints, drilling, motion, inverter. What stands on them follows the
//! machine, and agrees with the trade's own arithmetic.

use crate::common;
use crate::paper::{cell, entries, made, number, table, text, with_build};
use gantrywright::build::{Axis, Build};
use gantrywright::catalogue::Catalogue;
use gantrywright::sheets::{Cell, SheetKind, sheet};
use gantrywright::units;
use gantrywright::words::Words as _;

/// The sheets of this file: every row whole, every number one that can be written.
fn sound(catalogue: &Catalogue, build: &Build, named: &str) {
    use SheetKind::{Checklist, Drill, Motion, Prints, Vfd};
    with_build(catalogue, build, |paper, _| {
        for kind in [Prints, Drill, Motion, Vfd, Checklist] {
            let sheet = sheet(kind, paper);
            assert!(!sheet.about.is_empty());
            for table in &sheet.tables {
                let place = format!("{named}: {}", table.id);
                assert!(!table.rows.is_empty(), "{place} is empty");
                for row in &table.rows {
                    assert_eq!(row.cells.len(), table.columns.len(), "{place}");
                    for cell in &row.cells {
                        if let Cell::Number(value, _) = cell.value() {
                            assert!(value.is_finite(), "{place}: {}", row.id);
                        }
                    }
                }
            }
        }
    });
}

#[test]
fn the_sheets_of_every_example_are_whole() {
    let catalogue = common::catalogue();
    for example in gantrywright::store::examples::all() {
        let build = example.build(&catalogue).expect("a build");
        sound(&catalogue, &build, example.name);
    }
}

#[test]
fn the_sheets_of_any_build_are_whole() {
    let catalogue = common::catalogue();
    let builds = common::random_builds(&catalogue, 414, 150);
    for (place, build) in builds.iter().enumerate() {
        sound(&catalogue, build, &format!("build {place}"));
    }
    let short = [("rail_length_x_mm", "50"), ("rail_length_z_mm", "50")];
    let build = common::build(&catalogue, &short);
    sound(&catalogue, &build, "rails of 50 mm");
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

/// Stock lengths of catalogues, 60 mm from hole to hole and 20 mm at either end (from memory).
#[test]
fn stock_lengths_have_the_holes_of_catalogues() {
    for (length, holes) in [
        ("160", 3),
        ("220", 4),
        ("460", 8),
        ("640", 11),
        ("1240", 21),
    ] {
        let sheet = made(SheetKind::Drill, &[("rail_length_x_mm", length)]);
        let rails = table(&sheet, "rails");
        assert_eq!(
            number(cell(rails, "X", "holes")),
            f64::from(holes),
            "{length}"
        );
        let margin = number(cell(rails, "X", "margin_mm"));
        assert!((margin - 20.0).abs() < 1e-6, "{length}: {margin}");
    }
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

/// What is bolted with M8 and M3 is drilled for as well: ISO 273, medium, and ISO 2306.
#[test]
fn every_screw_that_is_bought_has_its_drill() {
    let sheet = made(SheetKind::Drill, &[]);
    let threads = table(&sheet, "threads");
    for (thread, tap, passes) in [("M3", 2.5, 3.4), ("M5", 4.2, 5.5), ("M8", 6.8, 9.0)] {
        let of = |column| number(cell(threads, thread, column));
        assert!((of("tap_drill_mm") - tap).abs() < 1e-9, "{thread}");
        assert!((of("passes_mm") - passes).abs() < 1e-9, "{thread}");
    }
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

/// Nobody types a figure that the axis could reach into the controller when less is wanted, nor
/// a wish that it cannot reach.
#[test]
fn feed_and_acceleration_to_set_are_the_wanted_ones_within_reach() {
    let of = |sheet: &gantrywright::sheets::Sheet, id: &str| {
        number(cell(table(sheet, "motion"), id, "value"))
    };
    let wanted = [
        ("rapid_wish_m_per_min", "4"),
        ("acceleration_m_per_s2", "0.3"),
    ];
    let sheet = made(SheetKind::Motion, &wanted);
    assert_eq!(of(&sheet, "X.feed-to-set"), 4000.0);
    assert!(of(&sheet, "X.feed") > 4000.0);
    assert!((of(&sheet, "X.acceleration") - 300.0).abs() < 0.5);
    let sheet = made(SheetKind::Motion, &[("rapid_wish_m_per_min", "200")]);
    assert_eq!(of(&sheet, "X.feed-to-set"), of(&sheet, "X.feed"));
    assert!(text(cell(table(&sheet, "motion"), "X.feed-to-set", "from")).contains("200000"));
}

/// Two screws of different lead on one gantry cannot take the same steps.
#[test]
fn sides_of_y_that_differ_are_told_on_the_motion_sheet() {
    let told = |edits: &[(&str, &str)]| {
        let remarks = made(SheetKind::Motion, edits).remarks;
        let of = |word: &str| remarks.iter().any(|remark| remark.contains(word));
        (of("differ in travel per turn"), of("take the same numbers"))
    };
    let base = [
        ("gantry_drive", "each-side"),
        ("drive_y", "ball-screw-16x10"),
        ("drive_y2", "ball-screw-16x10"),
    ];
    assert_eq!(told(&base), (false, true));
    let mixed = [base[0], base[1], ("drive_y2", "ball-screw-16x5")];
    assert_eq!(told(&mixed), (true, false));
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
    // What the circuit is computed for is what the inverter is limited to: at a power factor of
    // 0.8 half the power still takes 72 % of the current.
    let half = |share: &str| {
        made(
            SheetKind::Vfd,
            &[edits[0], edits[1], ("power_cap_percent", share)],
        )
    };
    let sheet = half("50");
    let settings = table(&sheet, "vfd");
    let of = |id: &str| number(cell(settings, id, "value"));
    let expected = (0.4_f64.powi(2) + 0.6_f64.powi(2)).sqrt();
    assert!((of("limit") / of("current") - expected).abs() < 1e-9);
    assert!(
        table(&half("100"), "vfd")
            .rows
            .iter()
            .all(|row| row.id != "limit")
    );
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
    assert_eq!(
        text(cell(table(&sheet, "vfd"), "inverter", "value")),
        "none"
    );
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

/// What the sheet says of who prints is what a build that takes it has on its bill.
#[test]
fn who_prints_costs_what_the_bill_says() {
    let catalogue = common::catalogue();
    for chosen in ["own-printer", "printer-to-buy", "printing-service"] {
        let build = common::build(&catalogue, &[("prints_from", chosen)]);
        with_build(&catalogue, &build, |paper, assessment| {
            let sheet = sheet(SheetKind::Prints, paper);
            let who = table(&sheet, "printed-by");
            for from in ["own-printer", "printer-to-buy", "printing-service"] {
                let other = common::assessed(&catalogue, &[("prints_from", from)]);
                let amount = |column| match cell(who, from, column) {
                    Cell::Money(money) => money.amount,
                    other => panic!("{other:?}"),
                };
                assert_eq!(amount("whole_build"), other.bill.total.likely, "{from}");
                let parts: &[&str] = match from {
                    "own-printer" => &["filament-asa", "print-power-wear"],
                    "printer-to-buy" => &["filament-asa", "print-power-wear", "tool-3d-printer"],
                    _ => &["service-print"],
                };
                let line = |part: &&str| other.bill.line(part).expect("a line").total.likely;
                assert_eq!(amount("total"), parts.iter().map(line).sum(), "{from}");
            }
            // Quantities and units are spelled as on the parts list.
            let parts = gantrywright::sheets::sheet(SheetKind::Parts, paper);
            for line in &assessment.bill.lines {
                let (id, part) = (format!("{chosen}-{}", line.part), line.part.as_str());
                if who.rows.iter().any(|row| row.id == id) {
                    let listed = |column| cell(table(&parts, "parts"), part, column);
                    assert_eq!(cell(who, &id, "quantity"), listed("buy"), "{id}");
                    assert_eq!(cell(who, &id, "unit"), listed("unit"), "{id}");
                }
            }
            let paid_by_mass = assessment.bill.line("service-print");
            assert_eq!(paid_by_mass.is_some(), chosen == "printing-service");
            if let Some(line) = paid_by_mass {
                // By the gram: nothing is rounded up to whole kilograms.
                let grams = number(cell(table(&sheet, "prints"), "all", "grams"));
                let bought: f64 = line.buy.to_string().parse().expect("a number");
                assert!((bought * 1000.0 - grams).abs() < 1.0, "{bought} of {grams}");
            }
            let spare = |remark: &String| remark.contains("a fifth more");
            assert_eq!(
                sheet.remarks.iter().any(spare),
                chosen != "printing-service"
            );
        });
    }
}

/// A seller at home whose prices hold the tax has none on top, and the sheet says why.
#[test]
fn tax_that_the_prices_hold_is_said_to_be_in_them() {
    let sheet = made(SheetKind::Parts, &[]);
    let suppliers = table(&sheet, "suppliers");
    assert_eq!(
        text(cell(suppliers, "demo-hardware", "tax_percent")),
        "in the prices"
    );
    assert!(matches!(
        cell(suppliers, "demo-guides", "tax_percent").value(),
        Cell::Rate(_)
    ));
    assert!(
        sheet
            .remarks
            .iter()
            .any(|one| one.contains("hold it already"))
    );
}

/// The minutes of a job are told with the piece and what it is of.
#[test]
fn the_job_names_its_piece_and_material() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[("job_material", "mdf")]);
    let piece = with_build(&catalogue, &build, |paper, _| {
        gantrywright::machine::job::piece(paper.picked)
    });
    let mdf = &catalogue.materials["mdf"].title;
    assert!(
        piece.starts_with("name plate") && piece.ends_with(mdf.as_str()),
        "{piece}"
    );
}
