//! Sawing: bars and pieces of whole builds, what either way of buying steel costs, and the
//! sheet that hangs beside the saw.

use crate::common;
use crate::paper::{cell, made, table, text, with_build};
use gantrywright::assessment::{Assessment, assess, json};
use gantrywright::build::Build;
use gantrywright::build::purchases::{Purchase, Status};
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::sheets::{Cell, SheetKind, sheet};
use gantrywright::units;
use rust_decimal::Decimal;

fn id(text: &str) -> Id {
    Id::new(text).expect("an id")
}

fn assessed(catalogue: &Catalogue, build: &Build) -> Assessment {
    assess(catalogue, build, common::today()).expect("an assessment")
}

const WHOLE: (&str, &str) = ("tube_supply", "whole-bars");

/// Every member is sawn as often as the frame takes it, for all machines, from whatever build.
#[test]
fn every_piece_is_sawn_once() {
    let catalogue = common::catalogue();
    for build in common::random_builds(&catalogue, 21, 200) {
        let Ok(assessment) = assess(&catalogue, &build, common::today()) else {
            continue;
        };
        let cuts = &assessment.bill.cuts;
        let members = assessment.machine.geometry.members.iter();
        let wanted: u32 = members
            .map(|member| member.pieces * build.area.machines)
            .sum();
        let mut sawn = 0;
        for section in &cuts.sections {
            if !catalogue.tubes.contains_key(&section.part) {
                continue;
            }
            for bar in &section.nesting.bars {
                let pieces: u32 = bar.pieces.iter().map(|(_, count)| count).sum();
                sawn += pieces * bar.times;
            }
            let long = section.nesting.too_long.iter();
            sawn += long.map(|(_, count)| count).sum::<u32>();
        }
        assert_eq!(sawn, wanted);
    }
}

/// Either way of buying the tube of the default machine: cut by the seller, or in whole bars with a
/// saw. Both totals are told whichever is chosen, and each is the sum of its lines.
#[test]
fn whole_bars_take_the_place_of_metres() {
    let catalogue = common::catalogue();
    let cut = assessed(&catalogue, &Build::default());
    let whole = assessed(&catalogue, &common::build(&catalogue, &[WHOLE]));
    let line = |of: &Assessment, part: &str| of.bill.line(part).map(|line| line.quantity);
    let tube = "tube-80x80x4";
    assert!(line(&cut, "service-tube-cut").is_some());
    assert_eq!(line(&whole, "service-tube-cut"), None);
    assert_eq!(line(&cut, "tube-saw"), None);
    assert_eq!(line(&whole, "tube-saw"), Some(Decimal::ONE));
    let (metres, bars) = (line(&cut, tube), line(&whole, tube));
    let (metres, bars) = (metres.expect("a line"), bars.expect("a line"));
    assert!(bars > metres, "{bars} {metres}");
    // Bars of 3, 6 and 6.5 m come in halves of a metre.
    assert!((bars * Decimal::TWO).is_integer(), "{bars}");
    // The totals are those of the lines, whichever way is chosen.
    let both = |of: &Assessment| {
        let totals = &of.bill.cuts.totals;
        (totals.cut_to_length(), totals.whole_bars())
    };
    assert_eq!(both(&cut), both(&whole));
    let sum = |of: &Assessment, parts: [&str; 2]| -> Decimal {
        let lines = parts.map(|part| of.bill.line(part).map(|line| line.total.likely));
        lines.into_iter().flatten().sum()
    };
    assert_eq!(both(&cut).0, sum(&cut, [tube, "service-tube-cut"]));
    assert_eq!(both(&whole).1, sum(&whole, [tube, "tube-saw"]));
}

/// A saw in hand costs nothing, and an offcut in hand takes the place of bought metres.
#[test]
fn what_is_in_hand_is_not_bought() {
    let catalogue = common::catalogue();
    let mut build = common::build(&catalogue, &[WHOLE]);
    let before = assessed(&catalogue, &build);
    let saw = Purchase {
        status: Some(Status::HaveIt),
        ..Purchase::default()
    };
    build.purchases.parts.insert(id("tube-saw"), saw);
    let with_saw = assessed(&catalogue, &build);
    let saw = before.bill.line("tube-saw").expect("a line").total.likely;
    let total = |of: &Assessment| of.bill.cuts.totals.whole_bars();
    assert_eq!(total(&with_saw), total(&before) - saw);
    let lengths = vec![units::mm::of(6000.0); 4];
    build.purchases.offcuts.insert(id("tube-80x80x4"), lengths);
    let with_offcuts = assessed(&catalogue, &build);
    assert_eq!(total(&with_offcuts), Decimal::ZERO);
    let json = json::json(&build, &with_offcuts, &[]);
    assert_eq!(json["cuts"]["stock"][0]["from"], "offcut");
    assert!(with_offcuts.bill.line("tube-80x80x4").is_none());
}

#[test]
fn a_piece_longer_than_any_bar_is_told_and_bought() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[WHOLE, ("travel_y_mm", "8000")]);
    let assessment = assessed(&catalogue, &build);
    let json = json::json(&build, &assessment, &[]);
    let long = &json["cuts"]["too_long"][0];
    assert_eq!(long["name"], "S1");
    let length = long["length_mm"].as_f64().expect("a length");
    assert!(length > 6500.0, "{length}");
    let line = assessment.bill.line("tube-80x80x4").expect("a line");
    assert!(line.why.contains("longer than any bar"), "{}", line.why);
    let told = said(&catalogue, &build);
    assert!(told.contains("Longer than any bar on offer: S1"), "{told}");
}

/// Everything that the sheet says, line by line.
fn said(catalogue: &Catalogue, build: &Build) -> String {
    let sheet = with_build(catalogue, build, |paper, _| sheet(SheetKind::Cuts, paper));
    let mut text = format!("{}\n", sheet.about);
    for table in &sheet.tables {
        let titles: Vec<&str> = table.columns.iter().map(|column| column.title).collect();
        text.push_str(&format!("{}\n{}\n", table.title, titles.join(" | ")));
        for row in &table.rows {
            assert_eq!(row.cells.len(), table.columns.len(), "{}", table.title);
            let cells: Vec<String> = row.cells.iter().map(Cell::shown).collect();
            text.push_str(&format!("{}\n", cells.join(" | ")));
        }
    }
    text.push_str(&sheet.remarks.join("\n"));
    text
}

#[test]
fn the_sheet_names_every_piece_and_bar() {
    let catalogue = common::catalogue();
    let edits = [WHOLE, ("thread_strips", "yes"), ("machines", "2")];
    let build = common::build(&catalogue, &edits);
    let told = said(&catalogue, &build);
    for member in &assessed(&catalogue, &build).machine.geometry.members {
        assert!(told.contains(member.mark.as_str()), "{}", member.mark);
    }
    for word in [
        "TX",
        "TY",
        "new",
        "rail of X",
        "screw of Z",
        "chosen",
        "For all 2 machines",
    ] {
        assert!(told.contains(word), "{word} is missing in {told}");
    }
    let sound = said(&catalogue, &Build::default());
    assert!(sound.contains("The seller saws"), "{sound}");
}

#[test]
fn less_kerf_and_trim_never_cost_more() {
    let catalogue = common::catalogue();
    let total = |edits: &[(&str, &str)]| {
        let mut edits = edits.to_vec();
        edits.push(WHOLE);
        let assessment = assessed(&catalogue, &common::build(&catalogue, &edits));
        assert!(assessment.bill.cuts.is_proven());
        assessment.bill.cuts.totals.whole_bars()
    };
    let usual = total(&[]);
    let fine = total(&[("saw_kerf_mm", "0"), ("end_trim_mm", "0")]);
    let coarse = total(&[("saw_kerf_mm", "10"), ("end_trim_mm", "200")]);
    assert!(fine <= usual && usual <= coarse, "{fine} {usual} {coarse}");
    assert!(fine > Decimal::ZERO);
}

/// The plates of the sheet, worked out by hand with the density of its alloy, weigh what is
/// bought.
#[test]
fn the_plates_of_the_sheet_weigh_what_is_bought() {
    let catalogue = common::catalogue();
    let build = common::build(&catalogue, &[("plate", "plate-20"), ("machines", "2")]);
    let assessment = assessed(&catalogue, &build);
    let told = said(&catalogue, &build);
    let line = assessment.bill.lines.iter();
    let line = line.clone().find(|line| line.part.as_str() == "plate-20");
    let bought: f64 = line
        .expect("a plate")
        .quantity
        .to_string()
        .parse()
        .expect("a number");
    let plates = &assessment.machine.geometry.plates;
    let mut cubic = 0.0;
    for plate in plates {
        let [long, wide] = [plate.length, plate.width].map(units::mm::from);
        cubic += long * wide * 20.0 * 1e-9 * f64::from(plate.pieces * 2);
        let row = format!("{}|{}|{long:.0}|{wide:.0}|20|", plate.mark, plate.title);
        assert!(
            told.replace(' ', "").contains(&row.replace(' ', "")),
            "{row} in {told}"
        );
    }
    // EN AW-5083: 2660 kg a cubic metre (EN 573, from memory).
    assert!(
        (cubic * 2660.0 / bought - 1.0).abs() < 0.005,
        "{cubic} {bought}"
    );
}

/// A rail is ordered and drilled by one length, whatever pitch was measured on it.
#[test]
fn a_rail_has_one_length_on_all_sheets() {
    let edits = [("measured_rail_pitch_x_mm", "59.98")];
    let (cuts, drill) = (
        made(SheetKind::Cuts, &edits),
        made(SheetKind::Drill, &edits),
    );
    let ordered = table(&cuts, "to-order").rows.iter();
    let mut ordered = ordered.filter(|row| text(&row.cells[0]).starts_with("rail of X"));
    let ordered = ordered.next().expect("the rails of X");
    let (length, pieces) = (&ordered.cells[2], &ordered.cells[3]);
    let rails = table(&drill, "rails");
    assert!(
        matches!(length, Cell::Exact(mm) if !mm.fract().is_zero()),
        "{length:?}"
    );
    assert_eq!(cell(rails, "X", "length_mm"), length);
    assert_eq!(cell(rails, "X", "rails"), pieces);
}
