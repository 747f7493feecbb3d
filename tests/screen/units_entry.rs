//! What may be typed where a number is wanted, held against the factors that NIST SP 811 (Guide
//! for the Use of the SI, 2008, appendix B.8) prints, typed in by hand: from memory.

use crate::common;
use gantrywright::build::{Build, Edit, Value, choices};
use gantrywright::explore::find::Target;
use gantrywright::explore::interview::{self, Answers};
use gantrywright::units::entry::{self, Unread};
use gantrywright::units::{Marks, Shown, System};

const INCHES: Shown = Shown {
    system: System::Inch,
    marks: Marks::PLAIN,
};

fn read(text: &str, wanted: &str) -> f64 {
    let read = entry::read(text, wanted, Shown::PLAIN);
    read.unwrap_or_else(|error| panic!("{text} as {wanted}: {error}"))
}

#[test]
fn factors_are_those_that_the_guide_prints() {
    // What it prints, in the unit wanted here; it prints seven digits, fewer where exact.
    for (text, wanted, printed) in [
        ("1 in", "m", 2.54e-2),
        ("1 ft", "m", 3.048e-1),
        ("1 mil", "m", 2.54e-5),
        ("1 ft/min", "m/s", 5.08e-3),
        ("1 in/s", "m/s", 2.54e-2),
        ("1 in/s²", "m/s²", 2.54e-2),
        ("1 g", "m/s²", 9.80665),
        ("1 lbf", "N", 4.448_222),
        ("1 ozf", "N", 2.780_139e-1),
        ("1 lb", "kg", 4.535_924e-1),
        ("1 oz", "kg", 2.834_952e-2),
        ("1 lbf·in", "N·m", 1.129_848e-1),
        ("1 lbf·ft", "N·m", 1.355_818),
        ("1 ozf·in", "N·m", 7.061_552e-3),
        ("1 hp", "W", 7.456_999e2),
        ("1 in³", "cm³", 16.387_06),
        // Printed for a second and in cubic metres: 2.731 177 E-07.
        ("1 in³/min", "cm³/min", 2.731_177e-7 * 60.0 * 1e6),
        // Printed in newtons per metre: 1.751 268 E+02.
        ("1 lbf/in", "N/µm", 1.751_268e2 / 1e6),
        ("1 lbf/mil", "N/µm", 1.751_268e2 / 1e3),
        ("1 h", "s", 3600.0),
    ] {
        let read = read(text, wanted);
        let off = (read / printed - 1.0).abs();
        assert!(off < 5e-7, "{text} is {read} {wanted}, printed {printed}");
    }
}

#[test]
fn an_inch_is_25_4_mm_exactly() {
    for (text, mm) in [
        ("600", 600.0),
        ("600 mm", 600.0),
        ("600mm", 600.0),
        ("23.6in", 599.44),
        ("23.6 in", 599.44),
        ("23 5/8\"", 600.075),
        ("23-5/8 in", 600.075),
        ("5/8 in", 15.875),
        ("0,6 m", 600.0),
        ("0.6m", 600.0),
        ("2 ft", 609.6),
        ("2'", 609.6),
        ("1 200 mm", 1200.0),
        ("60 cm", 600.0),
        ("500 µm", 0.5),
        ("20 thou", 0.508),
        ("1e3", 1000.0),
    ] {
        assert_eq!(read(text, "mm"), mm, "{text}");
    }
    assert_eq!(read("100 ipm", "m/min"), 2.54);
    assert_eq!(read("100 mm/s", "m/min"), 6.0);
    assert_eq!(read("1.5 kW", "W"), 1500.0);
    assert_eq!(read("20 min", "h").to_string(), (1.0_f64 / 3.0).to_string());
}

#[test]
fn a_lone_number_means_inches_where_those_are_set() {
    assert_eq!(entry::read("23.6", "mm", INCHES), Ok(599.44));
    assert_eq!(entry::read("600 mm", "mm", INCHES), Ok(600.0));
    assert_eq!(entry::read("12", "A", INCHES), Ok(12.0));
    assert_eq!(entry::unit_of("mm", INCHES), "in");
    assert_eq!(entry::unit_of("A", INCHES), "A");
    assert_eq!(entry::typed(599.44, "mm", INCHES), "23.6");
    assert_eq!(entry::typed(600.0, "mm", INCHES), "23.622");
}

#[test]
fn a_wrong_unit_is_named_with_those_that_would_do() {
    let wrong = |text, wanted| {
        let error = entry::read(text, wanted, Shown::PLAIN).expect_err(text);
        error.to_string()
    };
    assert_eq!(
        wrong("600 kg", "mm"),
        "kg is a unit of mass; this takes a length, in mm, cm, m, µm, in, ft or mil"
    );
    assert_eq!(
        wrong("20 lb", "N"),
        "lb is a unit of mass; this takes a force, in N, kN, lbf or ozf"
    );
    assert!(wrong("600 furlongs", "mm").starts_with("\"furlongs\" is no unit that is known here"));
    assert!(matches!(
        entry::read("1,250 mm", "mm", Shown::PLAIN),
        Err(Unread::TwoMeanings { .. })
    ));
    for text in ["", "mm", "--5", "1/0 in", "1 / in", "5 6 7 in"] {
        let read = entry::read(text, "mm", Shown::PLAIN);
        assert_eq!(read, Err(Unread::NoNumber), "{text}");
    }
}

#[test]
fn commands_answers_targets_and_ranges_take_units() {
    let catalogue = common::catalogue();
    let mut build = Build::default();
    let edit = Edit::parse_pair("travel_x_mm=23 5/8\"", &catalogue, &build);
    edit.expect("inches").apply(&mut build);
    let travel = choices::find("travel_x_mm").expect("a choice");
    assert_eq!((travel.get)(&build), Value::Number(Some(600.075)));
    let target = |text| Target::parse(text, &catalogue).expect(text).text();
    assert_eq!(target("rapids>=400 in/min"), "rapids>=10.16");
    assert_eq!(target("width<=4 ft"), "width<=1219.2");
    let wrong = Target::parse("width<=4 kg", &catalogue).expect_err("a mass");
    assert!(wrong.starts_with("width: kg is a unit of mass"), "{wrong}");
    assert_eq!(entry::sharing("16", "48 in"), "16 in");
    assert_eq!(entry::sharing("400 mm", "48 in"), "400 mm");
}

#[test]
fn answers_are_typed_and_told_in_inches_where_those_are_set() {
    let catalogue = common::catalogue();
    let size = interview::find("size").expect("a question");
    let mut answers = Answers::default();
    for typed in ["24 x 16", "24 x 16 in", "609.6 x 406.4 mm"] {
        let given = answers.give_as(size, typed, (&catalogue, &[]), INCHES);
        given.unwrap_or_else(|error| panic!("{typed}: {error}"));
        assert_eq!(answers.typed(size), "609.6x406.4", "{typed}");
        assert_eq!(answers.typed_as(size, INCHES), "24x16");
    }
    answers
        .give(size, "24 x 16 in", &catalogue, &[])
        .expect("inches");
    assert_eq!(answers.typed(size), "609.6x406.4");
}

#[test]
fn every_unit_of_a_choice_is_known() {
    for choice in choices::all() {
        if let choices::Kind::Number(kind) = choice.kind {
            let unit = kind.unit;
            let known = unit.is_empty() || entry::is_unit(unit);
            assert!(known, "{}: {unit}", choice.id);
        }
    }
}

#[test]
fn what_a_field_shows_is_read_as_the_same_number() {
    let marks = [Marks::PLAIN, Marks::new(',', Some('.')).expect("marks")];
    for system in [System::Metric, System::Inch] {
        for marks in marks {
            let shown = Shown { system, marks };
            for number in [0.005, 0.6, 25.4, 600.0, 1234.5, 12_000.0] {
                for unit in ["mm", "m/min", "N", "m/s²", "cm³", "A", ""] {
                    let text = entry::typed(number, unit, shown);
                    let read = entry::read(&text, unit, shown).expect(&text);
                    let off = (read - number).abs();
                    assert!(
                        off <= number * 5e-6,
                        "{number} {unit} shown as {text}, read as {read}"
                    );
                }
            }
        }
    }
}
