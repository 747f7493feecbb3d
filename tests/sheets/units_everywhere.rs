//! Units and marks are followed by everything that a person reads, and by nothing that a
//! program reads.

use assert_cmd::Command;
use gantrywright::sheets::{Format, SheetKind};
use gantrywright::words::Words as _;
use unicode_width::UnicodeWidthStr as _;

const BUILD: &str = "demo/builds/pier-allrounder.toml";
const OTHER: &str = "demo/builds/bell-foundry.toml";
const INCHES: [&str; 4] = ["--units", "inch", "--marks", "1.234,5"];

fn run(args: &[&str], more: &[&str], said: &str) -> String {
    let mut command = Command::cargo_bin("gantrywright").expect("the program");
    command.env("GANTRYWRIGHT_TODAY", "2026-11-25");
    command.env("XDG_CONFIG_HOME", "/nonexistent");
    command.args(args).args(more).write_stdin(said);
    let done = command.output().expect("run");
    let error = String::from_utf8_lossy(&done.stderr).into_owned();
    assert_ne!(done.status.code(), Some(2), "{args:?}: {error}");
    String::from_utf8(done.stdout).expect("text")
}

fn inches(args: &[&str]) -> String {
    run(args, &INCHES, "")
}

/// A row of a table on a sheet, by how it begins, as its words.
fn row(page: &str, begin: &str) -> Vec<String> {
    let line = page.lines().find(|line| line.starts_with(begin));
    let line = line.unwrap_or_else(|| panic!("no {begin} in {page}"));
    line.split("  ")
        .map(str::trim)
        .filter(|cell| !cell.is_empty())
        .map(str::to_owned)
        .collect()
}

#[test]
fn formats_for_programs_are_the_same_whatever_is_set() {
    for kind in SheetKind::WORDS {
        for format in ["csv", "json"] {
            let args = ["sheet", BUILD, kind.id, "--format", format];
            assert_eq!(run(&args, &[], ""), inches(&args), "{} {format}", kind.id);
        }
    }
    for args in [["assess", BUILD, "--json"], ["parts", "tube", "--json"]] {
        assert_eq!(run(&args, &[], ""), inches(&args), "{args:?}");
    }
}

#[test]
fn every_sheet_for_people_follows_and_keeps_to_its_width() {
    for kind in SheetKind::WORDS {
        for format in [Format::Text, Format::Markdown, Format::Html] {
            let args = ["sheet", BUILD, kind.id, "--format", format.id()];
            let (plain, page) = (run(&args, &[], ""), inches(&args));
            assert_ne!(plain, page, "{} {}", kind.id, format.id());
            let wide = page
                .lines()
                .map(|line| line.trim_matches('\u{c}').width())
                .max();
            assert!(format != Format::Text || wide <= Some(80), "{}", kind.id);
            let hidden = |c: char| ('\u{e000}'..='\u{f8ff}').contains(&c);
            assert!(!page.contains(hidden), "{} {}", kind.id, format.id());
        }
    }
}

/// Thousands stand in groups whatever the marks, the usual ones too; programs get plain digits.
#[test]
fn sheets_for_people_have_marks_between_thousands() {
    let page = |marks: &[&str]| run(&["sheet", BUILD, "parts"], marks, "");
    let likely = |page: &str| row(page, "Likely cost").pop().expect("an amount");
    let comma = likely(&page(&["--marks", "1 234,5"]));
    assert!(comma.contains(' '), "{comma}");
    for marks in [&[][..], &["--marks", "1 234.5"]] {
        assert_eq!(likely(&page(marks)), comma.replace(',', "."));
    }
    let table = run(&["sheet", BUILD, "parts", "--format", "csv"], &[], "");
    let digits = comma.replace(' ', "").replace(',', ".");
    assert!(table.contains(&format!("Likely cost,{digits}")), "{table}");
}

/// What is sawn from a bar names lengths in its words: they are read as those in columns of their
/// own, and programs get the plain digits there too.
#[test]
fn lengths_in_the_words_of_cuts_have_marks_between_thousands() {
    let build = "demo/builds/sail-loft-sheet.toml";
    let page = |more: &[&str]| run(&["sheet", build, "cuts"], more, "");
    let beam = |page: &str| row(page, "B1 ").remove(3);
    for marks in [&[][..], &["--marks", "1.234,5"]] {
        let page = page(marks);
        let long = beam(&page);
        assert!(long.len() > 4, "{long}");
        assert!(page.contains(&format!("1 x B1 ({long})")), "{page}");
        let sawn = page.split("Bars, ").nth(1).expect("the bars");
        for line in sawn.lines().take_while(|line| !line.is_empty()) {
            let [open, closed] = ['(', ')'].map(|sign| line.matches(sign).count());
            assert_eq!(open, closed, "no length is broken: {line:?}");
        }
    }
    let long = beam(&page(&[])).replace(' ', "");
    let table = page(&["--format", "json"]);
    assert!(table.contains(&format!("1 x B1 ({long})")), "{table}");
}

/// The nearest 64th of an inch is never further off than half of one, and the millimetres stay.
#[test]
fn cuts_stay_exact_in_millimetres_with_inches_beside() {
    let plain = run(&["sheet", BUILD, "cuts"], &[], "");
    let page = run(
        &[
            "sheet", BUILD, "cuts", "--units", "inch", "--marks", "1234.5",
        ],
        &[],
        "",
    );
    assert!(page.contains("Lengths in mm."), "{page}");
    let mut seen = 0;
    for begin in ["B1 ", "S1 ", "C1 ", "P1 ", "rail of X", "screw of Z"] {
        let (was, is) = (row(&plain, begin), row(&page, begin));
        let mm = was
            .iter()
            .filter_map(|cell| cell.replace(' ', "").parse::<f64>().ok());
        let mm = mm.into_iter().next().expect("a length");
        let at = is.iter().position(|cell| cell.parse() == Ok(mm));
        let inches = &is[at.unwrap_or_else(|| panic!("{mm} stays: {is:?}")) + 1];
        let of = |part: &str| match part.split_once('/') {
            Some((above, below)) => {
                let (above, below): (f64, f64) =
                    (above.parse().expect("above"), below.parse().expect("below"));
                assert!([2.0, 4.0, 8.0, 16.0, 32.0, 64.0].contains(&below), "{part}");
                above / below
            }
            None => part.parse().expect("whole inches"),
        };
        let value: f64 = inches.split(' ').map(of).sum();
        assert!((value - mm / 25.4).abs() <= 1.0 / 128.0 + 1e-9, "{is:?}");
        seen += 1;
    }
    assert_eq!(seen, 6);
}

/// A hole 30 mm from the end is at 1.181 in; a 4.2 mm drill stays one.
#[test]
fn holes_are_in_thousandths_and_drills_keep_their_size() {
    let page = inches(&["sheet", BUILD, "drill"]);
    assert!(page.contains("Distances in inches from one end"), "{page}");
    assert_eq!(row(&page, "   1 "), ["1", "1,181", "1,181", "1,181"]);
    assert!(row(&page, "M5 ").contains(&"4,2".to_owned()), "{page}");
}

#[test]
fn what_a_controller_is_told_stays_metric() {
    let page = inches(&["sheet", BUILD, "motion"]);
    assert!(page.contains("Values stay metric"), "{page}");
    assert!(page.contains("pulses a turn / 10 mm a turn"), "{page}");
    assert!(page.contains("160,000  per mm"), "{page}");
}

/// A price is of one metre or kilogram: feet and pounds beside it would be read as what it is of.
#[test]
fn what_is_bought_keeps_the_unit_of_its_price() {
    let page = inches(&["sheet", BUILD, "parts"]);
    let said = page.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("priced by it, not by feet or pounds"),
        "{page}"
    );
    let tube = row(&page, "100 x 100 x 4 mm square tube");
    assert_eq!(tube[1..4], ["1,22", "m", "25,20"], "{page}");
    let page = run(&["demo", "pier-allrounder", "--plain"], &INCHES, "bill\n");
    assert!(page.contains("square tube: 1,22 m, 30,74 EUR."), "{page}");
    assert!(page.contains("EN AW-5083: 12,89 kg, 131,48 EUR."), "{page}");
}

#[test]
fn pages_of_commands_are_in_inches_with_their_headings() {
    let page = inches(&["compare", BUILD, OTHER, "--all"]);
    assert!(page.contains("Rapids, in/min, and what holds"), "{page}");
    assert!(page.contains("Stiffness, lbf/mil"), "{page}");
    assert!(page.contains("  mass, lb"), "{page}");
    for unit in ["m/min,", "N/µm", "cm³/min", " 800 mm"] {
        assert!(!page.contains(unit), "{unit}: {page}");
    }
    // What stands left in its column does so in inches too.
    let column = |page: &str, name: &str| {
        let line = page.lines().find(|line| line.trim().starts_with(name));
        let line = line.unwrap_or_else(|| panic!("{name} in {page}"));
        let rest = &line[line.find(name).expect("it") + name.len()..];
        line.len() - rest.trim_start().len()
    };
    assert_eq!(column(&page, "Travel X"), column(&page, "Frame plan"));
    let page = inches(&["ask", BUILD, "larger-area"]);
    assert_eq!(column(&page, "removal  "), column(&page, "stiffness"));
    let page = inches(&["choices", "travel_x"]);
    assert!(page.contains("from 1,97 to 393,70 in"), "{page}");
    let page = inches(&["parts", "tube"]);
    assert!(page.contains("40 x 40 x 2 mm square tube"), "{page}");
    assert!(page.contains("6,00 to 8,80 EUR for 1 m"), "{page}");
    let page = inches(&["quantities", "grease"]);
    assert!(page.contains("0,05 kg for each"), "{page}");
}

/// The talk line by line says and takes what was asked for.
#[test]
fn the_talk_is_in_inches_both_ways() {
    let said = "travel_x_mm\n31,5\nfigures\nwhy axes.X.rapid_m_per_min\n";
    let page = run(&["demo", "pier-allrounder", "--plain"], &INCHES, said);
    for words in [
        "Now: 31,50 in.",
        "It takes 1,97 to 393,70 in.",
        "Travel X: now 31,500 in; it was 31,50 in.",
        "Rapids X: 783 in/min (motor torque).",
        "Stiffness: 8,57 lbf/mil (Y).",
        // Formulas stay metric.
        "X: rapids: 19,9 m/min",
    ] {
        assert!(page.contains(words), "{words}: {page}");
    }
    assert!(page.lines().all(|line| line.width() <= 78), "{page}");
}
