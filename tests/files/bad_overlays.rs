//! Overlay files that cannot be used: one message with file and place, exit code 2, and the
//! file left as it was.

use crate::bench::Bench;
use crate::common;
use gantrywright::assessment::assess;
use gantrywright::build::Build;
use gantrywright::catalogue::{Catalogue, CatalogueFile};
use gantrywright::explore::remedy::remedy;
use gantrywright::store::embedded;
use rust_decimal::Decimal;

#[test]
fn overlays_that_cannot_be_used() {
    const TUBE: &str = "[[tube]]\nid = \"tube-own\"\ntitle = \"own\"\nsource = \"measured here\"\nwidth_mm = 80.0\nheight_mm = 80.0\nwall_mm = 4.0\n";
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    let told = |overlay: &str| {
        bench.write("own/parts.toml", overlay);
        let message = refused(&bench);
        assert_eq!(
            std::fs::read_to_string(bench.path("own/parts.toml")).expect("there"),
            overlay
        );
        message
    };
    for (from, to, place, want) in [
        ("[[tube]]", "[[tub]]", "1:3", "did you mean \"tube\"?"),
        ("wall_mm", "wal_mm", "7:1", "did you mean \"wall_mm\"?"),
        ("wall_mm = 4.0", "wall_mm = nan", "7:11", "not NaN"),
        ("wall_mm = 4.0", "wall_mm = -4.0", "7:11", "more than 0"),
        ("wall_mm = 4.0", "wall_mm = 0", "7:11", "found 0 mm"),
        (
            "wall_mm = 4.0",
            "wall_mm = \"4 mm\"",
            "7:11",
            "a number in mm without quotes",
        ),
        ("tube-own", "Tube Own", "2:6", "is not an id"),
        (
            "width_mm = 80.0",
            "width_mm = 5000",
            "5:12",
            "expected 0.001 to 1000 mm, found 5000 mm",
        ),
    ] {
        let message = told(&TUBE.replace(from, to));
        assert!(
            message.starts_with(&format!("own/parts.toml:{place}: ")),
            "{message}"
        );
        assert!(message.contains(want), "{want:?} is not in {message}");
    }
    let book = "[[price-book]]\nid = \"own\"\ntitle = \"own\"\nbasis = \"estimate\"\ncurrency = \"EUR\"\ndate = \"2026-11-20\"\n[price-book.prices]\ntube-own = 42\n";
    let message = told(&format!("{TUBE}{book}"));
    assert!(
        message.contains("{ low = \"38\", likely = \"42\""),
        "{message}"
    );
    let message = told(&format!("{TUBE}{book}").replace("\"estimate\"", "\"rumour\""));
    let listed = "it takes invented, estimate, quote, paid";
    assert!(message.to_lowercase().contains(listed), "{message}");
    let message = told(&format!("{TUBE}\n{TUBE}"));
    assert!(
        message.starts_with(
            "own/parts.toml:9:1: the id \"tube-own\" is at own/parts.toml:1:1 already"
        ),
        "{message}"
    );
    let message = told(&shipped("demo-steel", "\"demo-steel\"", "\"own-steel\""));
    assert!(message.contains("is that of the supplier"), "{message}");
    let message = told(&"a.".repeat(900_000));
    assert!(message.lines().count() == 1, "{message}");

    let output = bench
        .program()
        .args(["assess", "b.toml", "--configs", "nowhere"])
        .output()
        .expect("a run");
    let message = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(
        output.status.code() == Some(2) && message == "nowhere: there is no such folder\n",
        "{message}"
    );
}

/// What the program says of the folder `own`, which it refuses.
fn refused(bench: &Bench) -> String {
    let output = bench
        .program()
        .args(["assess", "b.toml", "--configs", "own"])
        .output()
        .expect("a run");
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    String::from_utf8(output.stderr).expect("text")
}

/// The shipped entry of an id, as text, with a piece of it replaced.
fn shipped(id: &str, from: &str, to: &str) -> String {
    let files = embedded::catalogue();
    let line = format!("\nid = \"{id}\"\n");
    let file = files.iter().find(|file| file.text().contains(&line));
    let text = file.expect("a file").text();
    let found = text.find(&line).expect("an entry");
    let start = text[..found].rfind("[[").expect("a header");
    // Entries of one kind follow each other; tables inside an entry have a point.
    let kind = text[start..found].trim();
    let rest = &text[start + kind.len()..];
    let entry = &text[start..start + kind.len() + rest.find(kind).unwrap_or(rest.len())];
    assert!(entry.contains(from), "{from:?} is not in {entry}");
    entry.replacen(from, to, 1)
}

#[test]
fn figures_that_no_part_has_are_refused_where_they_stand() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    for (id, from, to, want) in [
        ("raised-sides", "rails = 2", "rails = 0", "from 1 to 4"),
        (
            "ball-screw-16x10",
            "efficiency = 0.9",
            "efficiency = 5",
            "expected 0.001 to 1, found 5",
        ),
        (
            "site-230v-16a",
            "volts_v = 230.0",
            "volts_v = 0",
            "expected more than 0, found 0 V",
        ),
        (
            "raised-sides",
            "one_more_each_mm = 500.0",
            "one_more_each_mm = 0",
            "found 0 mm",
        ),
        (
            "raised-sides",
            "pieces = 2",
            "pieces = 4294967295",
            "from 0 to 200",
        ),
        (
            "rail-20",
            "hole_pitch_mm = 60",
            "hole_pitch_mm = 1e-9",
            "found 1e-9 mm",
        ),
        (
            "rail-20",
            "hole_pitch_mm = 60",
            "hole_pitch_mm = 0.5",
            "must not be below 5",
        ),
        (
            "rail-20",
            "longest_mm = ",
            "longest_mm = 12000 # ",
            "expected 0.001 to 10000 mm, found 12000 mm",
        ),
        (
            "washer-m8",
            "pack = ",
            "pack = \"0.0000000000000000000000000001\" # ",
            "expected 0.001 to 100000",
        ),
    ] {
        bench.write("own/parts.toml", shipped(id, from, to));
        let message = refused(&bench);
        assert!(message.starts_with("own/parts.toml:"), "{message}");
        assert!(message.contains(want), "{want:?} is not in {message}");
    }
}

/// The shipped catalogue with an overlay.
fn with(overlay: &str) -> Catalogue {
    let mut catalogue = common::catalogue();
    catalogue.absorb(CatalogueFile::read(overlay).expect("an overlay"));
    catalogue
}

#[test]
fn a_member_without_length_is_told_and_bought_by_nobody() {
    let catalogue = with(&shipped(
        "raised-sides",
        "plus_mm = 60.0",
        "plus_mm = -5000.0",
    ));
    let before = common::assessed(&common::catalogue(), &[]);
    let after = assess(&catalogue, &Build::default(), common::today()).expect("an assessment");
    let told: Vec<&str> = after
        .findings
        .iter()
        .filter(|finding| finding.rule == "frame-plan-impossible")
        .map(|finding| finding.message.as_str())
        .collect();
    assert!(
        matches!(told[..], [one] if one.starts_with("S1 side beam: ") && one.contains('-')),
        "{told:?}"
    );
    assert!(after.is_unsound());
    let members = &after.machine.geometry.members;
    assert!(members.iter().all(|member| member.mark != "S1"));
    assert_eq!(
        members.len() + 1,
        before.machine.geometry.members.len(),
        "the others stay"
    );
    assert!(after.machine.masses.total < before.machine.masses.total);
    assert!(
        after
            .bill
            .lines
            .iter()
            .all(|line| line.total.low >= Decimal::ZERO)
    );
}

#[test]
fn rails_too_short_for_the_plan_are_cut_to_need_instead() {
    let catalogue = common::catalogue();
    let told = |edits: &[(&str, &str)]| {
        let assessment = common::assessed(&catalogue, edits);
        let mut findings = assessment.findings.clone().into_iter();
        let found = findings.find(|finding| finding.rule == "frame-plan-impossible");
        found.map(|finding| {
            let build = common::build(&catalogue, edits);
            let bench = common::bench(&catalogue, &build, &assessment);
            let edits = remedy(&bench, &finding);
            let names = edits.iter().map(|edit| edit.choice.id);
            names.collect::<Vec<_>>()
        })
    };
    // A cross member is the rail, 60 mm more, less the 120 mm of the sides it stands between.
    let wide = ("base_tube", "tube-120x120x4");
    assert_eq!(told(&[wide, ("rail_length_x_mm", "70")]), None);
    let lifted = told(&[wide, ("rail_length_x_mm", "60")]);
    assert_eq!(lifted, Some(vec!["rail_length_x_mm"]));
}

#[test]
fn a_quantity_rule_may_name_any_part_that_is_bought() {
    let rule = |part: &str| {
        format!(
            "[[quantity]]\npart = \"{part}\"\nstep = \"extras\"\nper = \"motor\"\neach = \"0.3\"\nwhy = \"spares\"\nsource = \"counted\"\n"
        )
    };
    let bought = |part: &str| {
        let catalogue = with(&rule(part));
        let bill = assess(&catalogue, &Build::default(), common::today())
            .expect("an assessment")
            .bill;
        let mut lines = bill.lines.into_iter();
        let line = lines.find(|line| line.part.as_str() == part && line.why == "spares");
        line.expect("a line").quantity
    };
    // Four motors: 1.2 of each, in whole pieces or to the centimetre.
    assert_eq!(bought("fan-100"), Decimal::TWO);
    assert_eq!(bought("tube-40x40x2"), Decimal::new(12, 1));
    let bench = Bench::new();
    bench.write("own/parts.toml", rule("softwood"));
    bench.write("b.toml", "format = 1\n");
    assert_eq!(
        refused(&bench),
        "own/parts.toml:1:1: the quantity of softwood for each motor: nobody buys a material to cut\n"
    );
}

/// A price book in dollars for one part of the default build.
fn dollars(rates: &str, likely: &str) -> String {
    format!(
        "[[price-book]]\nid = \"over-there\"\ntitle = \"prices over there\"\nbasis = \"quote\"\ncurrency = \"USD\"\ndate = \"2026-11-01\"\n{rates}\n[price-book.prices]\n\"washer-m8\" = {{ low = \"0.01\", likely = \"{likely}\", high = \"0.09\" }}\n"
    )
}

#[test]
fn a_price_book_is_refused_at_the_line_of_its_slip() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    // The entry is line 9 of the book, its day line 6.
    for (from, to, place, want) in [
        (
            "washer-m8",
            "tube-40x40x22",
            "9:1",
            "did you mean \"tube-40x40x2\"?",
        ),
        ("washer-m8", "softwood", "9:1", "nobody buys that"),
        ("0.09", "0.02", "9:1", "out of order"),
        ("2026-11-01", "2026-13-01", "6:8", "\"2026-13-01\" is not"),
        (
            "\"2026-11-01\"",
            "2026-11-01",
            "6:8",
            "expected a date such as \"2026-11-30\"",
        ),
        ("USD", "dollars", "5:12", "three capital letters"),
    ] {
        bench.write("own/prices.toml", dollars("", "0.03").replace(from, to));
        let message = refused(&bench);
        let start = format!("own/prices.toml:{place}: ");
        assert!(message.starts_with(&start), "{message}");
        assert!(message.contains(want), "{want:?} is not in {message}");
    }
}

#[test]
fn a_day_that_no_calendar_has_is_refused_in_a_site() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    let site = shipped("site-230v-16a", "as_of = \"", "as_of = \"2026-13-01\" # ");
    bench.write("own/sites.toml", site);
    let message = refused(&bench);
    let want = "expected a date such as \"2026-11-30\"";
    assert!(message.contains(want), "{message}");
}

#[test]
fn a_file_that_is_no_text_or_too_large_is_not_read() {
    let bench = Bench::new();
    bench.write("b.toml", "format = 1\n");
    for (text, want) in [
        ("# a line\n".repeat(1_200_000), "larger than 2 MiB"),
        ("\u{7f}ELF\0\u{1}".to_owned(), "zero byte at byte 4"),
    ] {
        bench.write("own/parts.toml", text);
        let message = refused(&bench);
        assert!(message.starts_with("own/parts.toml: "), "{message}");
        assert!(message.contains(want) && message.lines().count() == 1);
    }
}

#[test]
fn a_price_without_a_rate_says_which_and_what_to_add() {
    let error = assess(
        &with(&dollars("", "0.03").replace("USD", "SEK")),
        &Build::default(),
        common::today(),
    )
    .expect_err("no rate")
    .to_string();
    for want in ["\"washer-m8\"", "SEK", "a rate EUR", "\"over-there\""] {
        assert!(error.contains(want), "{want} is not in {error}");
    }
    let nothing = dollars("[price-book.rates]\nEUR = \"0\"", "0.03");
    let zero = CatalogueFile::read(&nothing);
    assert!(zero.is_err(), "a rate of nothing");
}

#[test]
fn prices_abroad_are_rounded_by_the_line_alone() {
    let catalogue = with(&dollars("[price-book.rates]\nEUR = \"0.9\"", "0.03"));
    let bill = assess(&catalogue, &Build::default(), common::today())
        .expect("an assessment")
        .bill;
    let line = bill.line("washer-m8").expect("a line");
    let price = line.price.as_ref().expect("a price").range.likely;
    assert_eq!(price, Decimal::new(27, 3));
    assert_eq!(
        line.total.likely,
        (price * line.quantity)
            .round_dp_with_strategy(2, rust_decimal::RoundingStrategy::MidpointAwayFromZero)
    );
}
