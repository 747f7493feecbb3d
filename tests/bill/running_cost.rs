//! What running a machine costs a year: quantities and costs by hand, what multiplies, what
//! counts nothing, and rules that make no sense.

use crate::common;
use gantrywright::assessment::Assessment;
use gantrywright::bill::yearly::YearlyLine;
use gantrywright::catalogue::CatalogueFile;
use gantrywright::catalogue::reader::ReadError;
use gantrywright::catalogue::yearly::{Of, Per, Picked, UsedUp};
use gantrywright::units;
use gantrywright::words::Words as _;
use rust_decimal::Decimal;

fn decimal(text: &str) -> Decimal {
    Decimal::from_str_exact(text).expect("a decimal")
}

fn line<'a>(assessment: &'a Assessment, part: &str) -> Option<&'a YearlyLine> {
    let mut lines = assessment.bill.yearly.lines.iter();
    lines.find(|line| line.part.as_str() == part)
}

/// Quantities by hand, from the hours and what the shipped rules say.
#[test]
fn quantities_follow_from_hours_and_rules() {
    let catalogue = common::catalogue();
    let edits = [
        ("hours_a_day", "2"),
        ("days_a_year", "50"),
        ("tool", "mill-6mm-2f"),
    ];
    let found = common::assessed(&catalogue, &edits);
    let quantity = |part: &str| line(&found, part).map(|line| line.quantity);
    // 100 hours, of which 70 in the cut: ten hours a mill; twenty a bag; forty a pair of filters.
    assert_eq!(quantity("mill-6mm-2f"), Some(decimal("7")));
    assert_eq!(quantity("dust-bag"), Some(decimal("5")));
    assert_eq!(quantity("half-mask-filters"), Some(decimal("2.5")));
    // 0.6 m x 0.6 m of board, 400 hours a board.
    assert_eq!(quantity("wasteboard"), Some(decimal("0.09")));
    // No such thing is used up where there is none.
    assert_eq!(quantity("cutting-fluid"), None);
    let without = common::assessed(&catalogue, &[("extractor", "none"), ("wasteboard", "no")]);
    assert!(line(&without, "dust-bag").is_none() && line(&without, "wasteboard").is_none());
}

/// Costs by hand: quantity times likely price, tax where the price lacks it.
#[test]
fn costs_are_quantities_times_prices_and_add_up() {
    let catalogue = common::catalogue();
    let found = common::assessed(&catalogue, &[("tool", "mill-6mm-2f")]);
    let yearly = &found.bill.yearly;
    // Seven mills at 12.00, tax included.
    let mills = line(&found, "mill-6mm-2f").and_then(|line| line.total);
    assert_eq!(mills, Some(decimal("84.00")));
    let wear: Decimal = yearly.lines.iter().filter_map(|line| line.total).sum();
    assert_eq!(wear, yearly.wear);
    assert_eq!(yearly.licences, Some(decimal("65.00")));
    let kwh = units::kwh::from(yearly.energy);
    let metered = Decimal::try_from(kwh).expect("a decimal").round_dp(3);
    let power = (metered * decimal("0.31")).round_dp(2);
    assert_eq!(yearly.power, Some(power));
    assert_eq!(yearly.total, wear + power + decimal("65.00"));
    // It is no part of the bill's total.
    let idle = common::assessed(&catalogue, &[("tool", "mill-6mm-2f"), ("days_a_year", "0")]);
    assert_eq!(idle.bill.total, found.bill.total);
}

/// A machine that never works takes no power and wears nothing by the hour.
#[test]
fn a_machine_at_rest_costs_its_yearly_care_alone() {
    let found = common::assessed(
        &common::catalogue(),
        &[("days_a_year", "0"), ("cam_licence", "none")],
    );
    let yearly = &found.bill.yearly;
    assert_eq!(units::kwh::from(yearly.energy), 0.0);
    assert_eq!((yearly.power, yearly.licences), (Some(Decimal::ZERO), None));
    let left: Vec<&str> = yearly.lines.iter().map(|line| line.part.as_str()).collect();
    for part in &left {
        assert!(["spindle-coolant", "antifreeze"].contains(part), "{left:?}");
    }
}

/// Twice the days, twice the power; two machines take twice as much, but one licence.
#[test]
fn use_and_machines_multiply() {
    let catalogue = common::catalogue();
    let once = common::assessed(&catalogue, &[]);
    let near = |one: f64, other: f64| assert!((one / other - 1.0).abs() < 1e-4, "{one} {other}");
    for edits in [("days_a_year", "100"), ("machines", "2")] {
        let twice = common::assessed(&catalogue, &[edits]);
        let kwh = |found: &Assessment| units::kwh::from(found.bill.yearly.energy);
        near(kwh(&twice), 2.0 * kwh(&once));
        assert_eq!(twice.bill.yearly.licences, once.bill.yearly.licences);
        let [mills, before] = [&twice, &once].map(|found| {
            let id = found.bill.yearly.lines[0].part.as_str();
            line(found, id).map(|line| line.quantity)
        });
        assert_eq!(mills, before.map(|quantity| quantity * Decimal::TWO));
    }
}

/// The day has 24 hours: who cuts for 20 of them sets up in the other 4, and not for 10.
#[test]
fn setting_up_fits_into_the_day() {
    let catalogue = common::catalogue();
    let kwh = |hours: &str| {
        let found = common::assessed(&catalogue, &[("hours_a_day", hours), ("days_a_year", "1")]);
        units::kwh::from(found.bill.yearly.energy)
    };
    // With w at work and r at rest: 8 w + 4 r, 20 w + 4 r, 24 w.
    let (eight, twenty, all_day) = (kwh("8"), kwh("20"), kwh("24"));
    let w = (twenty - eight) / 12.0;
    assert!((all_day - 24.0 * w).abs() < 0.01, "{all_day} {w}");
    assert!(eight > 8.0 * w);
}

/// Carriages are replaced as often as their life ends in the hours, once it ends at all while
/// the machine is kept.
#[test]
fn what_outlives_the_machine_counts_nothing() {
    let catalogue = common::catalogue();
    let gentle = common::assessed(&catalogue, &[("hours_a_day", "0.5"), ("days_a_year", "10")]);
    let carriage = |found: &Assessment| {
        let mut lines = found.bill.yearly.lines.iter();
        let line = lines.find(|line| line.part.as_str().starts_with("carriage"));
        line.map(|line| line.quantity)
    };
    let shortest = |found: &Assessment| {
        let lives = &found.machine.life;
        let hours = [lives.x, lives.y, lives.z].map(|life| units::hour::from(life.carriage_hours));
        hours.into_iter().fold(f64::INFINITY, f64::min)
    };
    assert!(shortest(&gentle) > 50.0);
    assert_eq!(carriage(&gentle), None);
    let hard = [
        ("hours_a_day", "24"),
        ("days_a_year", "366"),
        ("cutting_force_n", "3000"),
    ];
    let hard = common::assessed(&catalogue, &hard);
    assert!(shortest(&hard) < 87_840.0);
    assert!(carriage(&hard).is_some_and(|pieces| pieces > Decimal::ZERO));
}

/// Without a price there is no sum to show; the rest still counts.
#[test]
fn without_prices_nothing_is_made_up() {
    let mut catalogue = common::catalogue();
    catalogue.retain_books(|_| false);
    let found = common::assessed(&catalogue, &[]);
    let yearly = &found.bill.yearly;
    assert_eq!((yearly.power, yearly.licences), (None, None));
    assert!(yearly.lines.iter().all(|line| line.total.is_none()));
    assert!(!yearly.lines.is_empty() && units::kwh::from(yearly.energy) > 0.0);
    assert_eq!(yearly.total, Decimal::ZERO);
}

const RULE: &str = "[[yearly]]\npart = \"PART\"\nper = \"PER\"\neach = \"0.5\"\nwhy = \"worn\"\nsource = \"measured here\"\n";

fn rule(part: &str, per: &str, more: &str) -> Result<CatalogueFile, ReadError> {
    let text = RULE.replace("PART", part).replace("PER", per);
    CatalogueFile::read(&format!("{text}{more}\n"))
}

/// A rule of one's own takes the place of the shipped one for the same part.
#[test]
fn an_own_rule_replaces_the_shipped_one() {
    let mut catalogue = common::catalogue();
    let shipped = catalogue.yearly.len();
    catalogue.absorb(rule("dust-bag", "hour", "of = \"extractor\"").expect("a rule"));
    assert_eq!(catalogue.yearly.len(), shipped);
    let found = common::assessed(&catalogue, &[]);
    let bags = line(&found, "dust-bag").map(|line| line.quantity);
    assert_eq!(bags, Some(decimal("50")));
}

#[test]
fn rules_that_make_no_sense_are_refused() {
    for (part, per, more, said) in [
        ("grease", "life", "kept_years = \"10\"", "have a life"),
        ("carriages", "hour", "", "per = \"life\""),
        ("carriages", "life", "", "kept_years goes with"),
        (
            "grease",
            "hour",
            "kept_years = \"10\"",
            "kept_years goes with",
        ),
        (
            "ball-screws",
            "life",
            "kept_years = \"10\"\nof = \"bed-m2\"",
            "no `of`",
        ),
    ] {
        let mut catalogue = common::catalogue();
        catalogue.absorb(rule(part, per, more).expect("a rule"));
        let flaws = gantrywright::catalogue::check::flaws(&catalogue);
        let told: Vec<&str> = flaws.iter().map(|flaw| flaw.message.as_str()).collect();
        assert!(
            told.len() == 1 && told[0].contains(said),
            "{part} {per} {more}: {told:?}"
        );
    }
    for (part, per, more, said) in [
        ("grease", "month", "", "month"),
        ("Grease", "hour", "", "is not an id"),
        ("grease", "hour", "often = 1", "often"),
    ] {
        let error = rule(part, per, more).expect_err("refused").to_string();
        assert!(error.contains(said), "{part} {per} {more}: {error}");
    }
    let mut catalogue = common::catalogue();
    catalogue.absorb(rule("dust-bog", "hour", "").expect("a rule"));
    let flaws = gantrywright::catalogue::check::flaws(&catalogue);
    let said: Vec<&str> = flaws.iter().map(|flaw| flaw.message.as_str()).collect();
    assert!(
        said.len() == 1 && said[0].contains("does not exist"),
        "{said:?}"
    );
    assert!(said[0].contains("dust-bag"), "{said:?}");
}

/// No word of a rule is there in vain.
#[test]
fn every_word_of_a_rule_is_used_by_one() {
    let rules = common::catalogue().yearly;
    for &per in Per::ALL {
        assert!(rules.iter().any(|rule| rule.per == per), "{}", per.id());
    }
    for &of in Of::ALL {
        assert!(rules.iter().any(|rule| rule.of == of), "{}", of.id());
    }
    for &picked in Picked::ALL {
        let used = UsedUp::Picked(picked);
        assert!(
            rules.iter().any(|rule| rule.part == used),
            "{}",
            picked.id()
        );
    }
}
