//! What the examples of the rules do not show: severities by case, rules that prices
//! and dates decide, remedies and the length of messages.

use crate::common;
use gantrywright::assessment::assess;
use gantrywright::build::Build;
use gantrywright::build::purchases::{Payment, Purchase};
use gantrywright::catalogue::CatalogueFile;
use gantrywright::catalogue::prices::{Basis, PriceBook};
use gantrywright::catalogue::reader;
use gantrywright::catalogue::{Catalogue, Id};
use gantrywright::explore::remedy::remedy;
use gantrywright::money::Money;
use gantrywright::rules::{self, Finding, Severity};
use jiff::civil::{Date, date};

/// Longest message: two lines of a narrow screen.
const LONGEST: usize = 140;

/// The severity with which a rule fires on the default build with edits made.
fn severity(edits: &[(&str, &str)], rule: &str) -> Option<Severity> {
    let found = common::assessed(&common::catalogue(), edits).findings;
    found
        .iter()
        .find(|finding| finding.rule == rule)
        .map(|finding| finding.severity)
}

fn message(catalogue: &Catalogue, rule: &str, today: Date) -> Option<String> {
    let assessment = assess(catalogue, &Build::default(), today).expect("an assessment");
    let mut found = assessment.findings.into_iter();
    found
        .find(|finding| finding.rule == rule)
        .map(|finding| finding.message)
}

/// A price book that wins over the shipped one, with one price for one part.
fn with_quote(basis: &str, day: &str) -> Catalogue {
    let mut catalogue = common::catalogue();
    let book = format!(
        r#"
        [[price-book]]
        id = "quotes"
        title = "Quotes"
        basis = "{basis}"
        currency = "EUR"
        date = "{day}"
        [price-book.prices]
        "spindle-1.5kw-air" = {{ low = "150.00", likely = "150.00", high = "150.00" }}
        "#
    );
    catalogue.absorb(CatalogueFile::read(&book).expect("a price book"));
    catalogue
}

/// Rules that ask for money, thought, a gauge or smaller packs: no choice lifts them.
const WITHOUT_REMEDY: [&str; 7] = [
    "rapids-never-reached",
    "wall-thinner-than-named",
    "range-straddles-budget",
    "budget-without-reserve",
    "budget-in-other-money",
    "pack-larger-than-need",
    "model-far-off",
];

#[test]
fn examples_have_remedies_and_short_messages() {
    let catalogue = common::catalogue();
    let mut wrong = Vec::new();
    for rule in rules::all().filter(|rule| !rule.example.is_by_data()) {
        let mut edits = rule.example.given.to_vec();
        edits.push((rule.example.choice, rule.example.fires));
        let build = common::build(&catalogue, &edits);
        let before = assess(&catalogue, &build, common::today()).expect("an assessment");
        let bench = common::bench(&catalogue, &build, &before);
        let of_rule = |found: &&Finding| found.rule == rule.id;
        let found: Vec<&Finding> = before.findings.iter().filter(of_rule).collect();
        if found.is_empty() {
            wrong.push(format!("{} does not fire", rule.id));
        }
        for finding in found {
            let message = &finding.message;
            let length = message.chars().count();
            if length > LONGEST {
                wrong.push(format!("{}: {length} characters: {message}", rule.id));
            }
            let edits = remedy(&bench, finding);
            if edits.is_empty() != WITHOUT_REMEDY.contains(&rule.id) {
                wrong.push(format!("{}: {message}: remedy {edits:?}", rule.id));
            }
        }
        if !rule.instead.ends_with('.') {
            wrong.push(format!("{}: {}", rule.id, rule.instead));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_base_frequency_is_worse_too_low_than_too_high() {
    let at = |hertz| severity(&[("base_frequency_hz", hertz)], "base-frequency");
    assert_eq!(at("350"), Some(Severity::Danger));
    assert_eq!(at("400"), None);
    assert_eq!(at("450"), Some(Severity::Caution));
}

#[test]
fn a_shank_must_fit_in_size_and_in_system() {
    let rule = "shank-collet";
    let metric_only = [("spindle", "router-710w-230"), ("tool", "mill-3.175mm-2f")];
    assert_eq!(severity(&metric_only, rule), Some(Severity::Danger));
    let inch_too = [("spindle", "router-1050w-230"), ("tool", "mill-3.175mm-2f")];
    assert_eq!(severity(&inch_too, rule), None);
    let inch_only = [("spindle", "router-1250w-120"), ("tool", "mill-6mm-2f")];
    assert_eq!(severity(&inch_only, rule), Some(Severity::Danger));
}

#[test]
fn the_type_of_residual_device_follows_the_inverter() {
    let rule = "rcd-type";
    assert_eq!(
        severity(&[("residual_type", "type-ac")], rule),
        Some(Severity::Danger)
    );
    assert_eq!(
        severity(&[("residual_type", "type-a")], rule),
        Some(Severity::Caution)
    );
    let three_phases = ("vfd", "vfd-3kw-230-3ph");
    assert_eq!(
        severity(&[three_phases, ("residual_type", "type-f")], rule),
        Some(Severity::Danger)
    );
    assert_eq!(
        severity(&[three_phases, ("residual_type", "type-b")], rule),
        None
    );
    let router = [
        ("spindle", "router-1050w-230"),
        ("vfd", "none"),
        ("residual_type", "type-ac"),
    ];
    // The motors' supply rectifies the mains (IEC 60364-5-53:2019, 531.3.3, from memory).
    assert_eq!(severity(&router, rule), Some(Severity::Caution));
    let behind_a = [router[0], router[1], ("residual_type", "type-a")];
    assert_eq!(severity(&behind_a, rule), None);
}

/// In North America an interrupter of class A stands in the place of any type (UL 943, from memory):
/// it is on the bill, one for each circuit, and is made for alternating current.
#[test]
fn a_ground_fault_interrupter_takes_the_place_of_all_types() {
    let rule = "rcd-type";
    let there = ("site", "site-120v-15a");
    for kind in ["type-ac", "type-a", "type-f", "type-b"] {
        let kind = ("residual_type", kind);
        assert_eq!(severity(&[there, kind], rule), Some(Severity::Hint));
        // Three phases rectified leave a smooth fault current, to which it is blind.
        let three_phases = [there, kind, ("vfd", "vfd-3kw-230-3ph")];
        assert_eq!(severity(&three_phases, rule), Some(Severity::Danger));
    }
    let built = |edits: &[(&str, &str)]| {
        let found = common::assessed(&common::catalogue(), edits);
        let needed = |part: &str| found.bill.line(part).map(|line| line.needed);
        let circuits = found.machine.electrics.circuits.len();
        let [gfci, rcd] = ["ground-fault-interrupter", "rcd-type-f"].map(needed);
        (gfci, rcd, Some(circuits.into()))
    };
    let (gfci, rcd, circuits) = built(&[there]);
    assert_eq!((gfci, rcd), (circuits, None));
    let (gfci, rcd, circuits) = built(&[]);
    assert_eq!((gfci, rcd), (None, circuits));
}

#[test]
fn live_parts_in_the_open_are_a_danger_and_a_wooden_box_a_caution() {
    let rule = "cabinet-open-or-wood";
    for (cabinet, worst) in [
        ("cabinet-open-board", Severity::Danger),
        ("cabinet-wood", Severity::Caution),
    ] {
        assert_eq!(severity(&[("cabinet", cabinet)], rule), Some(worst));
    }
}

/// 10 lg(10^8.7 + 10^7.6) = 87.3 dB(A), over 8 hours: above the upper action value; over one
/// hour 9 dB less (LEX,8h of Directive 2003/10/EC).
#[test]
fn noise_is_judged_by_level_and_hours() {
    let rule = "noise-dose";
    let loud = [("spindle", "router-710w-230"), ("protection_sets", "0")];
    let for_hours = |hours| severity(&[loud[0], loud[1], ("hours_a_day", hours)], rule);
    assert_eq!(for_hours("8"), Some(Severity::Caution));
    assert_eq!(for_hours("2"), Some(Severity::Hint));
    assert_eq!(for_hours("1"), None);
    let damped = [
        loud[0],
        loud[1],
        ("hours_a_day", "8"),
        ("enclosure", "enclosure-foam-lined"),
    ];
    assert_eq!(severity(&damped, rule), None);
}

#[test]
fn prices_are_taken_for_what_they_are() {
    assert!(
        message(&common::catalogue(), "prices-invented", common::today())
            .expect("a finding")
            .starts_with("100 %")
    );
    let mut quoted = with_quote("quote", "2026-11-20");
    assert!(
        !message(&quoted, "prices-invented", common::today())
            .expect("a finding")
            .starts_with("100 %")
    );
    quoted.retain_books(|book| book.basis != Basis::Invented);
    assert_eq!(message(&quoted, "prices-invented", common::today()), None);
    let missing = message(&quoted, "price-missing", common::today()).expect("a finding");
    assert!(missing.contains("more"), "{missing}");
    assert_eq!(
        message(&common::catalogue(), "price-missing", common::today()),
        None
    );
}

#[test]
fn an_offer_is_old_after_sixty_days() {
    let stale =
        |basis, day| message(&with_quote(basis, day), "price-stale", common::today()).is_some();
    assert!(stale("quote", "2026-09-25"));
    assert!(!stale("quote", "2026-09-26"));
    assert!(!stale("paid", "2025-01-01"));
    assert!(!stale("quote", "2027-01-01"));
    assert_eq!(
        message(&common::catalogue(), "price-stale", date(2028, 1, 1)),
        None
    );
}

/// Landed cost = price + freight + duty + tax: a book that does not say so leaves them open.
#[test]
fn a_price_must_say_what_comes_on_top() {
    let rule = "landed-incomplete";
    assert_eq!(message(&common::catalogue(), rule, common::today()), None);
    let includes = |words: &str| {
        let mut catalogue = with_quote("quote", "2026-11-20");
        let book = format!(
            "id = \"all\"\ntitle = \"All\"\nbasis = \"quote\"\ncurrency = \"EUR\"\ndate = \"2026-11-20\"\n{words}\n[prices]\n"
        );
        let book: PriceBook = reader::read(&book).expect("a book");
        let quotes = catalogue.price_books.values_mut().next_back();
        quotes.expect("a book").includes = book.includes;
        message(&catalogue, rule, common::today())
    };
    let open = includes("").expect("a finding");
    assert!(
        open.contains("150 EUR") && open.ends_with("freight, duty and tax"),
        "{open}"
    );
    let open = includes("includes = [\"freight\", \"tax\"]").expect("a finding");
    assert!(open.ends_with("on top: duty"), "{open}");
    assert_eq!(
        includes("includes = [\"tax\", \"duty\", \"freight\"]"),
        None
    );
}

#[test]
fn what_was_paid_for_should_be_used() {
    let catalogue = common::catalogue();
    let after = |bought: &[&str]| {
        let mut build = Build::default();
        for part in bought {
            let paid = Payment {
                amount: Money::new(320.into(), "EUR".parse().expect("a currency")),
                date: common::today(),
                rate: None,
                what: None,
                by: None,
                part_payment: false,
            };
            let purchase = Purchase {
                payments: vec![paid],
                ..Purchase::default()
            };
            let part = Id::new(part).expect("an id");
            build.purchases.parts.insert(part, purchase);
        }
        let found = assess(&catalogue, &build, common::today()).expect("an assessment");
        let mut found = found.findings.into_iter();
        found
            .find(|finding| finding.rule == "bought-but-unchosen")
            .map(|finding| finding.message)
    };
    assert_eq!(after(&[]), None);
    assert_eq!(after(&["spindle-1.5kw-air", "rail-15"]), None);
    let one = after(&["spindle-2.2kw-air", "rail-15"]).expect("a finding");
    assert!(one.ends_with("(320 EUR)"), "{one}");
    let two = after(&["spindle-2.2kw-air", "rail-25"]).expect("a finding");
    assert!(two.ends_with("and 1 other part"), "{two}");
}

#[test]
fn a_budget_in_other_money_is_converted() {
    let over = |budget| severity(&[("budget", budget)], "over-budget");
    assert_eq!(over("5800 EUR"), Some(Severity::Caution));
    // 6 500 USD are 5 909 EUR at the demonstration's 1.10.
    assert_eq!(over("6500 USD"), Some(Severity::Caution));
    assert_eq!(over("7500 USD"), None);
    assert_eq!(over("1 CHF"), None);
}

#[test]
fn a_reserve_follows_experience() {
    let short = |experience, percent| {
        let edits = [("experience", experience), ("reserve_percent", percent)];
        severity(&edits, "reserve-too-small").is_some()
    };
    assert!(short("first-build", "24") && !short("first-build", "25"));
    assert!(short("many", "14") && !short("many", "15"));
}
