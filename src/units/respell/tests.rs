use super::*;
use crate::units::Marks;

fn speller(system: System, decimal: char, thousands: Option<char>) -> Speller {
    let marks = Marks::new(decimal, thousands).expect("marks");
    let names = ["20 mm profile rail", "Coupling, 12.7 to 14 mm, 17 N·m"];
    Speller::new(Shown { system, marks }, names.into_iter())
}

fn inches(text: &str) -> String {
    speller(System::Inch, '.', Some(' ')).text(text)
}

fn german(text: &str) -> String {
    speller(System::Metric, ',', Some('.')).text(text)
}

#[test]
fn figures_in_a_sentence_are_turned_into_inches() {
    for (text, wanted) in [
        ("600 mm of travel", "23.62 in of travel"),
        ("1 200 x 900 mm", "47.24 x 35.43 in"),
        ("from 400 to 1 200 mm", "from 15.75 to 47.24 in"),
        ("rapids 8.0 m/min", "rapids 315 in/min"),
        ("-5 mm", "-0.20 in"),
        ("(12.3 N/µm)", "(70.2 lbf/mil)"),
        ("holds 250 N, 1.26 N·m.", "holds 56.2 lbf, 11.15 lbf·in."),
        ("warms by 30 K", "warms by 30 K"),
        ("12 A at 120 V", "12 A at 120 V"),
        ("6 057 EUR", "6 057 EUR"),
        ("mm of travel: 2, of 3", "mm of travel: 2, of 3"),
    ] {
        assert_eq!(inches(text), wanted);
    }
}

#[test]
fn a_turned_figure_is_as_fine_as_it_was_written() {
    // 0.05 mm is 0.001 97 in; half its last digit is 0.000 2 in.
    assert_eq!(inches("0.05 mm"), "0.0020 in");
    assert_eq!(inches("0.3 µm"), "0.012 mil");
    assert_eq!(inches("1000 kg"), "2 205 lb");
}

/// A page is wrapped before it is respelled: what belongs together may stand on two lines.
#[test]
fn names_and_pairs_go_on_in_the_next_line() {
    for (text, wanted) in [
        (
            "  takes  a 20 mm\n         profile rail of 600 mm",
            "  takes  a 20 mm\n         profile rail of 23.62 in",
        ),
        ("from 254 ->\n  508 mm", "from 10.00 ->\n  20.00 in"),
        ("a stroke of 254\n  mm", "a stroke of 254\n  mm"),
        ("  1\n  254 mm", "  1\n  10.00 in"),
        ("A lead of 5 or of 10 mm?", "A lead of 5 or of 10 mm?"),
        ("A 16 or a 20 mm screw?", "A 16 or a 20 mm screw?"),
    ] {
        assert_eq!(inches(text), wanted);
    }
}

#[test]
fn what_is_sold_by_its_size_keeps_its_name() {
    for text in [
        "a 20 mm profile rail",
        "Coupling, 12.7 to 14 mm, 17 N·m",
        "ball-screw-16x10",
        "14x8 mm ball screw",
        "wire of 2.5 mm²",
        "15 or 20 mm rails",
        "feeds for 3, 6 and 8 mm",
    ] {
        assert_eq!(inches(text), text);
    }
    assert_eq!(
        inches("20 mm profile rail of 600 mm"),
        "20 mm profile rail of 23.62 in"
    );
}

#[test]
fn marks_are_those_that_were_asked_for() {
    for (text, wanted) in [
        ("1 234.5 mm", "1.234,5 mm"),
        ("12 345 678 EUR", "12.345.678 EUR"),
        ("0.5 to 1.5", "0,5 to 1,5"),
        ("2026-11-30, step 2, v1.2", "2026-11-30, step 2, v1.2"),
        ("IEC 60364-5-52, 523.1", "IEC 60364-5-52, 523.1"),
        (
            "plate, EN AW-5083: 131.48 EUR",
            "plate, EN AW-5083: 131,48 EUR",
        ),
        ("section 7.3.1", "section 7.3.1"),
        ("step 2. Then 3.", "step 2. Then 3."),
        ("at 12:30", "at 12:30"),
    ] {
        assert_eq!(german(text), wanted);
    }
    let together = speller(System::Metric, '.', None);
    assert_eq!(together.text("1 234.5"), "1234.5");
}

#[test]
fn respelling_twice_is_respelling_once() {
    let texts = [
        "1 234.5 mm",
        "20 mm profile rail",
        "600 mm",
        "1 200 x 900 mm",
        "2.5 m",
    ];
    for system in [System::Metric, System::Inch] {
        for (decimal, thousands) in [(',', Some('.')), ('.', Some(',')), ('.', None)] {
            let speller = speller(system, decimal, thousands);
            for text in texts {
                let once = speller.spell(text).into_owned();
                assert_eq!(speller.spell(&once), once, "{text}");
            }
        }
    }
}

#[test]
fn columns_stay_where_they_are() {
    let row = "  travel     600 mm   yes";
    let turned = inches(row);
    assert_eq!(turned, "  travel   23.62 in   yes");
    let left = "600 mm      wide";
    assert_eq!(inches(left), "23.62 in    wide");
}

#[test]
fn the_usual_changes_nothing() {
    let text = "1 234.5 mm, 20 mm profile rail";
    assert!(matches!(Speller::default().spell(text), Cow::Borrowed(_)));
}
